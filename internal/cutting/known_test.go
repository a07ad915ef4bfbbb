package cutting

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What is picked among the patterns known of a lot holds all its parts, and only
// on lots on which trying every cut lays them out; dives are given patterns that
// can be cut and hold no more of a type than is asked for.
func TestPickKnownAgainstTryingEverything(t *testing.T) {
	for name, draw := range map[string]func(*rapid.T, int) (Job, *oracle, []oracleSheet){"any stages": drawSmall, "two or three stages": drawStaged} {
		t.Run(name, func(t *testing.T) { pickAgainstAll(t, draw) })
	}
}

func pickAgainstAll(t *testing.T, draw func(*rapid.T, int) (Job, *oracle, []oracleSheet)) {
	roomy, found := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := draw(t, 3)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 || p.flat() {
			return
		}
		lot, holds := drawLot(t, p, o, sheets)
		ctx := context.Background()
		f := newFitter(p)
		f.stop = math.MaxInt
		c := f.newRuling(ctx, lot, nil)
		if c == nil {
			return
		}
		c.t.m.ctx = ctx
		c.t.tighten(fitFails)
		r := &proof{ledger: p.newLedger(), fit: f, lot: lot, ruling: c}
		given, list := r.known()
		if !c.roomy() {
			if given != nil {
				t.Fatalf("%+v: patterns of a lot without room are given", job)
			}
			return
		}
		roomy++
		for _, pat := range list {
			soundPattern(t, p, pat)
		}
		if bins := r.pick(ctx, 500); bins != nil {
			found++
			holdsAll(t, p, job, bins, lot, holds)
		}
	})
	if roomy == 0 || found < roomy/2 {
		t.Errorf("%d lots with room, a layout on %d of them: draw others", roomy, found)
	}
}

// soundPattern checks that a pattern is cut as it says.
func soundPattern(t *rapid.T, p *problem, pat pattern) {
	n := map[int]int{}
	for i := range pat.tree.n {
		if typ := int(pat.tree.n[i].typ); typ >= 0 {
			n[typ]++
		}
	}
	soundSheet(t, p, pat.tree)
	for _, u := range pat.use {
		if n[u.typ] != u.n || u.n > p.types[u.typ].qty {
			t.Fatalf("a pattern holds %d of type %d and says %d, asked for are %d", n[u.typ], u.typ, u.n, p.types[u.typ].qty)
		}
		delete(n, u.typ)
	}
	if len(n) > 0 || pat.tree.sheet != pat.sheet {
		t.Fatalf("a pattern of sheet %d is cut from %d and holds more than it says: %v", pat.sheet, pat.tree.sheet, n)
	}
}

// A furniture job whose cheapest lot cannot be ruled out, as patterns cut a
// share of a time would do with less, is laid out on it by picking.
func TestPickKnownLaysOut(t *testing.T) {
	laid, roomy := 0, 0
	r := newRNG(3)
	for range 20 {
		p, _ := newProblem(priced(furniture(&r, 20+r.below(30))))
		ctx := context.Background()
		f := newFitter(p)
		low := p.areaBound().value
		for range 12 {
			price, lot, _ := p.nextLot(low, nil, nil)
			if lot == nil {
				break
			}
			low = price + 1
			f.stop = f.moves + 20_000
			c := f.newRuling(ctx, lot, nil)
			if c == nil {
				break // tables are too large
			}
			c.t.m.ctx = ctx
			if c.t.tighten(fitFails); !c.roomy() {
				continue
			}
			roomy++
			q := &proof{ledger: p.newLedger(), fit: f, lot: lot, ruling: c}
			if q.pick(ctx, knownMoves) != nil {
				laid++
			}
			break
		}
	}
	if roomy == 0 || laid < roomy/2 {
		t.Errorf("%d of %d jobs are laid out on the first lot with room", laid, roomy)
	}
}
