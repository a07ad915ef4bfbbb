package cutting

import (
	"context"
	"math"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// fullestByTrying is the worth of the best set by trying every number of every
// type.
func fullestByTrying(p *problem, worth []int64, most []int, room int64) int64 {
	var try func(t int, room int64) int64
	try = func(t int, room int64) int64 {
		if t == len(worth) {
			return 0
		}
		best := int64(0)
		for n := 0; n <= most[t] && int64(n)*p.types[t].w <= room; n++ {
			best = max(best, int64(n)*worth[t]+try(t+1, room-int64(n)*p.types[t].w))
		}
		return best
	}
	return try(0, room)
}

// The filler finds what trying every set finds, with steps of the unit and
// with steps far larger.
func TestFullestBar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		room := n(10, 100, "room")
		if rapid.Bool().Draw(t, "fine") {
			room *= 20_011 // more than the table has cells
		}
		p := &problem{sheets: []psheet{{w: int64(room), h: 1}}}
		var worth []int64
		var most []int
		for range n(1, 6, "types") {
			p.types = append(p.types, ptype{w: int64(n(max(1, room/10), room, "w")), h: 1})
			worth = append(worth, int64(n(0, 50, "worth")))
			most = append(most, n(0, 4, "most"))
		}
		f := newFiller(p)
		f.load(worth, most)
		want := fullestByTrying(p, worth, most, int64(room))
		if f.limit(int64(room)) < want {
			t.Fatalf("the table says %d, but %d is to be had", f.limit(int64(room)), want)
		}
		floor := int64(n(0, 60, "floor"))
		got, set := f.fullest(int64(room), floor, mixTurns)
		if got != max(want, floor) {
			t.Fatalf("worth %d, want %d", got, max(want, floor))
		}
		check := func(worthy int64, set []run) {
			sum, long := int64(0), int64(0)
			seen := map[int]bool{}
			for _, u := range set {
				if seen[u.typ] || u.n < 1 || u.n > most[u.typ] {
					t.Fatalf("set %v with at most %v", set, most)
				}
				seen[u.typ] = true
				sum += int64(u.n) * worth[u.typ]
				long += int64(u.n) * p.types[u.typ].w
			}
			if sum != worthy || long > int64(room) {
				t.Fatalf("set %v is worth %d and %d long, said to be worth %d in %d", set, sum, long, worthy, room)
			}
		}
		if want > floor {
			check(got, set)
		}
		f.each(int64(room), floor, 200, check)
	})
}

// leastByDealing is the least price of bars for all pieces, by trying every
// set of pieces on every bar; MaxInt64 when stock is too little.
func leastByDealing(p *problem) int64 {
	var long []int64
	for _, t := range p.types {
		for range t.qty {
			long = append(long, t.w)
		}
	}
	all := 1<<len(long) - 1
	sum := make([]int64, all+1)
	for set := 1; set <= all; set++ {
		for i, w := range long {
			if set>>i&1 == 1 {
				sum[set] = sum[set&^(1<<i)] + w
				break
			}
		}
	}
	stock := make([]int, len(p.sheets))
	for i, s := range p.sheets {
		stock[i] = s.stock
	}
	var least func(set int) int64
	least = func(set int) int64 {
		if set == 0 {
			return 0
		}
		best := int64(math.MaxInt64)
		first := set & -set
		for sub := set; sub > 0; sub = (sub - 1) & set {
			if sub&first == 0 {
				continue
			}
			for i, s := range p.sheets {
				if stock[i] == 0 || sum[sub] > s.w {
					continue
				}
				stock[i]--
				if v := least(set &^ sub); v < math.MaxInt64 {
					best = min(best, v+s.price)
				}
				stock[i]++
			}
		}
		return best
	}
	return least(all)
}

// The mix of patterns, dives and lots never claim more than dealing the pieces
// out in every way shows, and lay all pieces out within stock.
func TestLengthsAgainstDealing(t *testing.T) {
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		job := BarJob{Kerf: unit.Length(n(0, 3, "kerf")), Objective: LeastPrice}
		for range n(1, 3, "bars") {
			job.Bars = append(job.Bars, Bar{Len: unit.Length(n(20, 60, "bar")), Price: unit.Money(n(0, 9, "price")), Stock: n(-1, 2, "stock")})
		}
		for left := n(2, 6, "pieces"); left > 0; {
			q := n(1, min(3, left), "qty")
			left -= q
			job.Items = append(job.Items, BarItem{Len: unit.Length(n(4, 40, "len")), Qty: q})
		}
		p, misfits := newProblem(flatJob(job))
		if len(misfits) > 0 || len(p.types) == 0 {
			return
		}
		want := leastByDealing(p)
		s := newSearch(p, 1)
		s.start()
		if s.bestOut > 0 {
			return // the search is short of stock: nothing is claimed
		}
		b := p.areaBound()
		s.newLengths(context.Background(), &b, 3_000)
		if s.bestOut > 0 || s.bestValue < want || b.value > want {
			t.Fatalf("%+v: value %d, bound %d, by dealing %d", job, s.bestValue, b.value, want)
		}
		if s.met(b) {
			met++
		}
		used := make([]int, len(p.sheets))
		made := make([]int, len(p.types))
		for _, c := range s.best {
			used[c.sheet]++
			room := p.sheets[c.sheet].w
			for _, u := range c.runs() {
				made[u.typ] += u.n
				room -= int64(u.n) * p.types[u.typ].w
			}
			if room < 0 || used[c.sheet] > p.sheets[c.sheet].stock {
				t.Fatalf("%+v: bar overfull by %d, or out of stock", job, -room)
			}
		}
		for i, ty := range p.types {
			if made[i] != ty.qty {
				t.Fatalf("%+v: %d of type %d, want %d", job, made[i], i, ty.qty)
			}
		}
	})
	if met == 0 {
		t.Error("nothing was proven in any case")
	}
}

// A bar as long as a piece is one cut less than any other: it is a bar all the
// same, and the dive that finds it ends.
func TestBarAsLongAsAPiece(t *testing.T) {
	job := BarJob{
		Objective: LeastPrice,
		Bars:      []Bar{{Len: 3, Price: 3, Stock: 2}, {Len: 1, Price: 1, Stock: 2}},
		Items:     []BarItem{{Len: 1, Qty: 2}},
	}
	p, _ := newProblem(flatJob(job))
	s := newSearch(p, 1)
	s.start()
	b := p.areaBound()
	s.newLengths(context.Background(), &b, 3_000)
	if s.bestValue != 2 || !s.met(b) {
		t.Errorf("value %d, bound %d, want 2", s.bestValue, b.value)
	}
}

// Dives take no more bars than are in stock, offcuts without a price least of
// all. (Before, the program was believed while a number of bars was still
// below nothing.)
func TestDivesKeepToStock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		job := BarJob{Kerf: 3, Objective: LeastPrice, Bars: []Bar{{Len: 2400, Price: 900, Stock: -1}, {Len: 3000, Price: 1100, Stock: -1}}}
		for range n(1, 3, "offcuts") {
			job.Bars = append(job.Bars, Bar{Len: unit.Length(n(300, 1500, "offcut")), Stock: n(1, 4, "stock")})
		}
		for range n(3, 10, "items") {
			job.Items = append(job.Items, BarItem{Len: unit.Length(n(100, 1200, "len")), Qty: n(1, 9, "qty")})
		}
		p, _ := newProblem(flatJob(job))
		s := newSearch(p, 1)
		s.start()
		l := s.newLengths(context.Background(), &bound{}, 3_000)
		stock := make([]int, len(p.sheets))
		for limit := s.bestValue; limit > s.bestValue/2; limit -= 100 {
			found := l.d.find(limit, *l.m.work+300*moveWork)
			clear(stock)
			for _, pat := range found {
				if stock[pat.sheet]++; stock[pat.sheet] > p.sheets[pat.sheet].stock {
					t.Fatalf("%+v: too many bars of kind %d", job, pat.sheet)
				}
			}
		}
	})
}
