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
// what trying every cut finds, and mostly at that.
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
			l.exchange(context.Background(), bound{}, 3000, func() {})
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
	if all < 10 || met*10 < all*7 {
		t.Errorf("exchanges find the least price in %d of %d jobs only", met, all)
	}
}

// The patterns picked hold what is needed within stock and lose as little as any
// that trying all choices finds.
func TestExchangePickerAgainstTryingAll(t *testing.T) {
	picked, none := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
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
			want := x.leastByTrying(slices.Clone(k.need), slices.Clone(k.stock), 0)
			need, stock := slices.Clone(k.need), slices.Clone(k.stock)
			if got := k.pick(nil, 0, limit); got != (want < limit-1e-9) {
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
	for range n(2, 9, "patterns") {
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
		pat.loss = x.lost(&pat, nil)
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
