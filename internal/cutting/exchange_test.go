package cutting

import (
	"context"
	"math"
	"slices"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// Exchanges lay all parts out within stock at the price that is told, never below
// what trying every cut finds, and nearly always at that.
func TestExchangeAgainstTryingEverything(t *testing.T) {
	all, met := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			s, least, ok := dealt(t)
			if !ok {
				continue
			}
			b := bound{}
			l := s.newPanelMix(context.Background(), &b, 10_000)
			if l == nil {
				continue
			}
			first := s.bestValue
			l.exchange(context.Background(), bound{}, 3000, math.MaxInt, func() {})
			s.complete(t, least)
			if l.swap == nil || first == int64(least) {
				continue
			}
			if all++; s.bestValue == int64(least) {
				met++
			}
		}
	})
	t.Logf("the least price in %d of %d jobs whose first layout costs more", met, all)
	if all < 10 || met*10 < all*8 {
		t.Errorf("exchanges find the least price in %d of %d jobs only", met, all)
	}
}

// After every exchange the layout holds all parts, within stock, and price, loss
// and what is left in stock are as they are told: on jobs of 30 parts, three or
// four to a panel, with an offcut and little stock of one size.
func TestExchangesAddUp(t *testing.T) {
	better, anew, limited := 0, 0, 0
	for seed := range uint64(12) {
		l := drawMix(seed, 30)
		if l == nil {
			continue
		}
		p := l.s.p
		pats, _ := l.patterns(context.Background(), swapWork)
		l.check(t, pats)
		x := newExchange(p, newRNG(7), l.worth, l.scarce, pats)
		x.begin(l.s.best, l.s.bestValue)
		x.patience = 100
		first := x.price
		for range 400 {
			was := x.patience
			x.once()
			anew += b2i(x.patience > was)
			x.addsUp(t)
			limited += b2i(slices.Contains(x.spare, 0))
		}
		x.begin(l.s.best, l.s.bestValue)
		list := x.run(context.Background(), 100_000, math.MaxInt)
		if list == nil {
			continue
		}
		better++
		price := int64(0)
		for _, pat := range list {
			price += p.sheets[pat.sheet].price
		}
		if price >= first || price != x.price || l.s.p.costs(l.bins(list)) != price {
			t.Fatalf("price %d, said to be %d, was %d", price, x.price, first)
		}
	}
	if better < 4 || anew < 4 || limited < 100 {
		t.Errorf("%d cheaper layouts, %d begun anew, %d with a size used up: draw others", better, anew, limited)
	}
}

// drawMix draws a job cut from panels of three sizes and an offcut, with a first
// layout and the program.
func drawMix(seed uint64, pieces int) *panelMix {
	r := newRNG(seed)
	job := Job{Objective: LeastPrice, Kerf: 1, Sheets: []Sheet{
		{W: 100, H: 60, Price: 600, Stock: -1},
		{W: 80, H: 50, Price: 380, Stock: 2 + r.below(3)},
		{W: 70, H: 60, Price: 400, Stock: -1},
		{W: 75, H: 55, Price: 0, Stock: 1},
	}}
	for range pieces - 4 {
		job.Items = append(job.Items, Item{W: unit.Length(20 + r.below(45)), H: unit.Length(15 + r.below(35)), Qty: 1, Turn: r.below(2) > 0})
	}
	job.Items = append(job.Items, Item{W: unit.Length(5 + r.below(5)), H: 6, Qty: 2}, Item{W: 30, H: 20, Qty: 2, Turn: true})
	p, _ := newProblem(job)
	s := newSearch(p, 1)
	s.dense = newDense(p)
	s.start()
	b := bound{}
	l := s.newPanelMix(context.Background(), &b, 50_000)
	if s.bestOut > 0 || l == nil || l.bound < swapSolved*l.low {
		return nil
	}
	return l
}

// check fails unless the patterns lose what is told, those that lose the least
// first, and are cut with what they hold.
func (l *panelMix) check(t *testing.T, pats []exchanged) {
	sets, small := 0, 0
	for i, x := range pats {
		if d := x.loss - loses(l.s.p, l.worth, l.scarce, x.pattern); math.Abs(d) > 1e-6 || i > 0 && x.loss < pats[i-1].loss {
			t.Fatalf("pattern %d is said to lose %v, %v off", i, x.loss, d)
		}
		held := l.s.p.pattern(x.tree)
		use := slices.Clone(x.use)
		slices.SortFunc(use, func(a, b run) int { return a.typ - b.typ })
		same := slices.EqualFunc(held.use, use, func(a, b run) bool { // what is too many is left out as it is cut
			return a.typ == b.typ && (a.n == b.n || x.set < 0 && a.n > b.n)
		})
		if held.sheet != x.sheet || !same {
			t.Fatalf("%v on sheet %d is cut as %v", use, x.sheet, held.use)
		}
		if x.set >= 0 {
			sets++
		}
		for _, u := range use {
			if u.n > l.s.p.types[u.typ].qty {
				t.Fatalf("%v: too many", use)
			}
			small += b2i(x.set >= 0 && l.s.p.types[u.typ].area < 100)
		}
	}
	if sets == 0 || sets == len(pats) || small == 0 {
		t.Fatalf("%d of %d patterns are sets, small parts in %d", sets, len(pats), small)
	}
}

// addsUp fails unless price, loss, stock and pieces are those of the layout.
func (x *exchange) addsUp(t *testing.T) {
	left, loss, price := make([]int, len(x.p.types)), 0.0, int64(0)
	for i, ty := range x.p.types {
		left[i] = ty.qty
	}
	spare := x.p.stocks()
	for _, s := range x.now {
		spare[s.pat.sheet]--
		price += x.p.sheets[s.pat.sheet].price
		for _, u := range s.use {
			left[u.typ] -= u.n
			if !slices.ContainsFunc(s.pat.use, func(v run) bool { return v.typ == u.typ && v.n >= u.n }) {
				t.Fatalf("%v are taken off %v", s.use, s.pat.use)
			}
		}
		loss += loses(x.p, x.worth, x.scarce, pattern{sheet: s.pat.sheet, use: s.use})
	}
	for s, n := range spare {
		if n < 0 {
			t.Fatalf("%d of sheet %d too many", -n, s)
		}
		loss += x.scarce[s] * float64(n)
	}
	if slices.ContainsFunc(left, func(n int) bool { return n != 0 }) || price != x.price || math.Abs(loss-x.loss) > 1e-6*float64(1+price) || !slices.Equal(spare, x.spare) {
		t.Fatalf("pieces left %v, price %d (%d), loss %v (%v), stock %v (%v)", left, price, x.price, loss, x.loss, spare, x.spare)
	}
}

// Jobs of few pieces on each panel are laid out with exchanges, before anything
// else is tried and again later.
func TestSolveExchanges(t *testing.T) {
	first, later := 0, 0
	for seed := range uint64(4) {
		l := drawMix(seed, 60)
		if l == nil || !l.whole {
			continue
		}
		c := l.s.p.newCourse(1, Budget{Iterations: 60_000})
		ctx := context.Background()
		c.quick(ctx)
		c.first(ctx)
		c.patterns(ctx)
		c.layouts(ctx)
		if c.mixed != nil && c.mixed.swap != nil {
			tries := c.mixed.swap.tries
			first += b2i(tries > 0)
			c.mixed.run(ctx, c.low, c.s.iter+60_000, 1, func() {})
			later += b2i(c.mixed.swap.tries > tries)
		}
		c.drop()
	}
	if first == 0 || later == 0 {
		t.Errorf("%d jobs begin with exchanges, %d go on with them", first, later)
	}
}

// The patterns picked hold what is needed within stock and lose as little as any
// that trying all choices finds.
func TestExchangePickerAgainstTryingAll(t *testing.T) {
	picked, none := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 50 {
			x := drawExchange(t)
			k := &x.picker
			out := []int{0, 1}
			for i := range x.now {
				if i > 1 && rapid.Bool().Draw(t, "out") {
					out = append(out, i)
				}
			}
			if !k.set(out) {
				t.Fatal("too many types")
			}
			for s := range k.stock {
				k.stock[s] += x.spare[s]
			}
			limit := rapid.Float64Range(0, 60).Draw(t, "limit")
			need, stock := slices.Clone(k.need), slices.Clone(k.stock)
			var in *exchanged
			base, less, rest := 0.0, slices.Clone(need), slices.Clone(stock)
			if rapid.Bool().Draw(t, "one is in") {
				in = &x.pats[rapid.IntRange(0, len(x.pats)-1).Draw(t, "in")]
				if base = x.lost(in, need); rest[in.sheet] == 0 || base >= limit {
					continue
				}
				rest[in.sheet]--
				for _, u := range in.use {
					less[u.typ] = max(0, less[u.typ]-int32(u.n))
				}
			}
			want := x.leastByTrying(less, rest, base)
			if got := k.pick(in, base, limit); got != (want < limit-1e-9) {
				if math.Abs(want-limit) > 1e-6 {
					t.Fatalf("picked %v below %v, least %v", got, limit, want)
				}
				continue
			} else if !got {
				none++
				continue
			}
			picked++
			if math.Abs(k.limit-want) > 1e-6 {
				t.Fatalf("loses %v, least %v", k.limit, want)
			}
			sum := 0.0
			for _, p := range k.best {
				sum += p.loss
				if stock[p.pat.sheet]--; stock[p.pat.sheet] < 0 {
					t.Fatal("more sheets than there are")
				}
				for _, u := range p.use {
					need[u.typ] -= int32(u.n)
				}
			}
			for s, n := range stock {
				sum += x.scarce[s] * float64(n)
			}
			if slices.ContainsFunc(need, func(n int32) bool { return n != 0 }) || math.Abs(sum-k.limit) > 1e-6 {
				t.Fatalf("left %v, loses %v, said to be %v", need, sum, k.limit)
			}
		}
	})
	if picked < 20 || none < 20 {
		t.Errorf("%d picked, %d not: draw others", picked, none)
	}
}

// leastByTrying is what patterns lose at least that hold what is needed.
func (x *exchange) leastByTrying(need []int32, stock []int, loss float64) float64 {
	t := slices.IndexFunc(need, func(n int32) bool { return n > 0 })
	if t < 0 {
		for s, n := range stock {
			loss += x.scarce[s] * float64(n)
		}
		return loss
	}
	least := math.Inf(1)
	for i := range x.pats {
		p := &x.pats[i]
		if stock[p.sheet] == 0 || !slices.ContainsFunc(p.use, func(u run) bool { return u.typ == t }) {
			continue
		}
		less, rest := slices.Clone(need), slices.Clone(stock)
		for _, u := range p.use {
			less[u.typ] = max(0, less[u.typ]-int32(u.n))
		}
		rest[p.sheet]--
		least = min(least, x.leastByTrying(less, rest, loss+x.lost(p, need)))
	}
	return least
}

// drawExchange draws patterns of two kinds of sheet, at prices of the parts at
// which none gains, and a layout of some of them.
func drawExchange(t *rapid.T) *exchange {
	n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	job := Job{Objective: LeastPrice}
	for _, side := range []int{40, 30} {
		job.Sheets = append(job.Sheets, Sheet{W: unit.Length(side), H: unit.Length(side), Price: 30, Stock: n(1, 3, "stock")})
	}
	for k := range n(2, 5, "types") {
		job.Items = append(job.Items, Item{W: unit.Length(3 + k), H: 7, Qty: n(1, 3, "qty")})
	}
	p, _ := newProblem(job)
	worth := make([]float64, len(p.types))
	for i := range worth {
		worth[i] = float64(n(1, 8, "worth"))
	}
	scarce := []float64{float64(n(0, 5, "scarce")), 0}
	x := newExchange(p, newRNG(1), worth, scarce, nil)
	for range n(2, 14, "patterns") {
		pat := exchanged{pattern: pattern{sheet: n(0, 1, "sheet")}, set: -1}
		held := 0.0
		for ty, t0 := range p.types {
			if k := n(0, t0.qty, "n"); k > 0 {
				pat.use = append(pat.use, run{ty, k})
				held += worth[ty] * float64(k)
			}
		}
		if len(pat.use) == 0 || held > 30 {
			continue
		}
		pat.loss = loses(p, worth, scarce, pat.pattern)
		x.pats = append(x.pats, pat)
	}
	slices.SortStableFunc(x.pats, func(a, b exchanged) int { return int(a.loss - b.loss) })
	x.spare = []int{n(0, 1, "spare"), n(0, 1, "spare")}
	for range n(2, 3, "sheets") {
		if len(x.pats) == 0 {
			t.Skip("no patterns")
		}
		k := n(0, len(x.pats)-1, "now")
		x.now = append(x.now, placed{&x.pats[k], x.pats[k].use, x.pats[k].loss})
	}
	return x
}
