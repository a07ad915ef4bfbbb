package cutting

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A lot that holds all parts is never settled as too little, and what is laid
// out on a lot holds all parts: hundreds of small cases with kerf, grain and up
// to three kinds of sheets, compared with trying every cut.
func TestSettleAgainstTryingEverything(t *testing.T) {
	for name, draw := range map[string]func(*rapid.T, int) (Job, *oracle, []oracleSheet){"any stages": drawSmall, "two or three stages": drawStaged} {
		t.Run(name, func(t *testing.T) { settleAgainstAll(t, draw) })
	}
}

func settleAgainstAll(t *testing.T, draw func(*rapid.T, int) (Job, *oracle, []oracleSheet)) {
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := draw(t, 3)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 {
			return
		}
		demand := make([]int, len(p.types))
		for i, ty := range p.types {
			demand[i] = ty.qty
		}
		lot, holds := drawLot(t, p, o, sheets)
		for _, turns := range []int{0, diveTurns} {
			d := &settler{p: p, ctx: context.Background(), rng: newRNG(1), known: newAlbum(), stop: 1 << 20, turns: turns}
			bins, too := d.settle(demand, lot, 0)
			if too && (holds || bins != nil) {
				t.Fatalf("%+v: sheets %v are said to be too little, but hold all parts", job, lot)
			}
			if bins != nil {
				holdsAll(t, p, job, bins, lot, holds)
			}
		}
	})
}

// drawLot is a lot of up to two sheets of each kind, and whether trying every
// cut lays all parts out on it.
func drawLot(t *rapid.T, p *problem, o *oracle, sheets []oracleSheet) (lot []int, holds bool) {
	lot = make([]int, len(p.sheets))
	some := append([]oracleSheet(nil), sheets...)
	for i := range some {
		some[i].stock = 0
	}
	for i, s := range p.sheets {
		lot[i] = rapid.IntRange(0, min(2, s.stock)).Draw(t, "lot")
		some[s.job].stock = lot[i]
	}
	return lot, o.least(some, 1<<len(o.w)-1) < math.MaxInt32
}

// holdsAll checks a layout of all parts on a lot.
func holdsAll(t *rapid.T, p *problem, job Job, bins []*bin, lot []int, holds bool) {
	if !holds {
		t.Fatalf("%+v: laid out on sheets %v, which cannot hold all parts", job, lot)
	}
	left, used := make([]int, len(p.types)), make([]int, len(lot))
	for i, ty := range p.types {
		left[i] = ty.qty
	}
	for _, b := range bins {
		used[b.sheet]++
		if n := p.takes(b); p.depth > 0 && n > p.depth {
			t.Fatalf("%+v: %d stages", job, n)
		}
		for i := range b.n {
			if n := &b.n[i]; n.typ >= 0 {
				left[n.typ]--
			}
		}
	}
	for i, n := range left {
		if n > 0 {
			t.Fatalf("%+v: %d of type %d have no place", job, n, i)
		}
	}
	for i, n := range used {
		if n > lot[i] {
			t.Fatalf("%+v: %d of sheet %d, the lot has %d", job, n, i, lot[i])
		}
	}
}
