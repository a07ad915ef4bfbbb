package cutting

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// dealt draws a small job of several sheets, with its first layout, and the
// least price by trying every cut.
func dealt(t *rapid.T) (s *search, least int, ok bool) {
	job, o, sheets := drawSmall(t, 3)
	if rapid.Bool().Draw(t, "limited stages") {
		job, o, sheets = drawStaged(t, 3)
	}
	p, misfits := newProblem(job)
	if len(misfits) > 0 || len(p.types) == 0 || len(p.sheets) < 2 {
		return nil, 0, false
	}
	least = o.least(sheets, 1<<len(o.w)-1)
	s = newSearch(p, 1)
	s.dense = newDense(p)
	s.start()
	return s, least, s.bestOut == 0 && least < math.MaxInt32
}

// complete fails unless the best layout holds all parts within stock at the
// price it is said to have, not below the least.
func (s *search) complete(t *rapid.T, least int) {
	left, used, price := make([]int, len(s.p.types)), make([]int, len(s.p.sheets)), int64(0)
	for i, ty := range s.p.types {
		left[i] = ty.qty
	}
	for _, b := range s.best {
		used[b.sheet]++
		if n := s.p.takes(b); s.p.depth > 0 && n > s.p.depth {
			t.Fatalf("%d stages, %d at most", n, s.p.depth)
		}
		price += s.p.sheets[b.sheet].price
		for i := range b.n {
			if ty := b.n[i].typ; ty >= 0 {
				left[ty]--
			}
		}
	}
	for i, n := range left {
		if n != 0 {
			t.Fatalf("%d pieces of type %d are left over", n, i)
		}
	}
	for i, n := range used {
		if n > s.p.sheets[i].stock {
			t.Fatalf("%d of sheet %d are used, %d in stock", n, i, s.p.sheets[i].stock)
		}
	}
	if price != s.bestValue || price < int64(least) {
		t.Fatalf("sheets for %d, said to be %d, least %d", price, s.bestValue, least)
	}
}

// The mix of panels is never above what trying every cut finds, and its dives
// lay all parts out; mostly they find the least price.
func TestPanelMixAgainstTryingEverything(t *testing.T) {
	all, met := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s, least, ok := dealt(t)
		if !ok {
			return
		}
		b := bound{}
		l := s.newPanelMix(context.Background(), &b, 1000)
		if l == nil {
			return
		}
		if b.value > int64(least) || l.whole && l.low > float64(least)+1e-6 {
			t.Fatalf("bound %d, value of the mix %v, least price %d", b.value, l.low, least)
		}
		l.dive(b, 2000, func() {})
		s.complete(t, least)
		if all++; s.bestValue == int64(least) {
			met++
		}
	})
	t.Logf("the least price in %d of %d jobs", met, all)
	if met*10 < all*9 {
		t.Errorf("dives find the least price in %d of %d jobs only", met, all)
	}
}

// Contests of lots lay all parts out, and mostly at the least price.
func TestContestsAgainstTryingEverything(t *testing.T) {
	all, met := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s, least, ok := dealt(t)
		if !ok {
			return
		}
		s.contests(context.Background(), bound{}, 40_000, func() {})
		s.complete(t, least)
		if all++; s.bestValue == int64(least) {
			met++
		}
	})
	t.Logf("the least price in %d of %d jobs", met, all)
	if met*10 < all*9 {
		t.Errorf("contests find the least price in %d of %d jobs only", met, all)
	}
}
