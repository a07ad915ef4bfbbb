package cutting

import (
	"context"
	"math"
	"slices"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// The best proper pattern that counting finds is worth what trying every set of
// pieces, cut in every way, finds; with any lowered worths, from any goal on,
// one after the other.
func TestCounterAgainstTryingEverything(t *testing.T) {
	above := 0
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 1)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 {
			return
		}
		f := newFitter(p)
		f.ctx = context.Background()
		k := f.kind(0)
		if len(k.g.sheets) == 0 {
			return
		}
		of := pieceTypes(p, job)
		for range 3 {
			worth, lower, less := drawWorths(t, p)
			want := bestByTrying(o, sheets[0], of, worth)
			goal := rapid.Int64Range(-1, want+2).Draw(t, "goal")
			r := &k.g.sheets[0]
			k.g.fill(r, lower, f.most)
			high := r.val[len(r.val)-1] + less
			got, best := k.count.top(f.ctx, worth, lower, less, high, goal, math.MaxInt)
			if goal > high { // nothing to look for
				want, goal = high, high
			}
			if got != max(want, goal) {
				t.Fatalf("%+v: worth %v lowered to %v, from %d: %d, want %d", job, worth, lower, goal, got, max(want, goal))
			}
			if len(best.use) > 0 && best.worth(worth) != want {
				t.Fatalf("%+v: %v is worth %d, want %d", job, best.use, best.worth(worth), want)
			}
			if high > want && want > goal {
				above++
			}
		}
	})
	if above < 20 {
		t.Errorf("the table was above the best pattern %d times", above)
	}
}

// However soon a search for the best proper pattern gives up, what it says is no
// less than what trying every set finds, and that where it does not give up.
func TestProperAgainstTryingEverything(t *testing.T) {
	gaveUp, sharp := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 1)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 {
			return
		}
		f := newFitter(p)
		g := p.grid(0, fitGrid)
		q := newProper(g, f.most)
		of := pieceTypes(p, job)
		for range 3 {
			worth, _, _ := drawWorths(t, p)
			want := bestByTrying(o, sheets[0], of, worth)
			floor := rapid.Int64Range(0, want+1).Draw(t, "floor")
			q.limit = rapid.SampledFrom([]int{1, 4, 12, 40, maxSteps}).Draw(t, "limit")
			got, pat := q.best(0, worth, f.most, floor)
			if want > floor && got < want {
				t.Fatalf("%+v: with %d steps worth %v is said to be %d at most, but %d is", job, q.limit, worth, got, want)
			}
			if over := slices.ContainsFunc(pat.use, func(u run) bool { return u.n > f.most[u.typ] }); over && q.limit == maxSteps {
				t.Fatalf("%+v: %v of %v", job, pat.use, f.most)
			}
			if want <= floor {
				continue
			}
			if got > want {
				gaveUp++
			} else {
				sharp++
			}
			if got > want && q.limit == maxSteps && pat.worth(worth) < floor+(got-floor)/8 {
				t.Fatalf("%+v: worth %v is said to be %d at most, but %d is", job, worth, got, want)
			}
		}
	})
	if gaveUp < 5 || sharp < 20 {
		t.Errorf("%d gave up, %d did not", gaveUp, sharp)
	}
}

// pieceTypes is the type of each piece of a job, in the order of the oracle's.
func pieceTypes(p *problem, job Job) (of []int) {
	for i, it := range job.Items {
		at := slices.IndexFunc(p.types, func(t ptype) bool { return slices.ContainsFunc(t.items, func(l lot) bool { return l.item == i }) })
		of = append(of, slices.Repeat([]int{at}, it.Qty)...)
	}
	return of
}

// bestByTrying is what the best set of pieces on a sheet is worth.
func bestByTrying(o *oracle, s oracleSheet, of []int, worth []int64) (best int64) {
	for set := range 1 << len(of) {
		v := int64(0)
		for i, at := range of {
			v += worth[at] * int64(set>>i&1)
		}
		if v > best && o.fits(s.w, s.h, set) {
			best = v
		}
	}
	return best
}

// drawWorths draws worths, some of them lowered, by less for all parts.
func drawWorths(t *rapid.T, p *problem) (worth, lower []int64, less int64) {
	for _, ty := range p.types {
		w := rapid.Int64Range(1, 40).Draw(t, "worth")
		l := w
		if rapid.Bool().Draw(t, "lowered") {
			l = rapid.Int64Range(1, w).Draw(t, "lower")
		}
		worth, lower, less = append(worth, w), append(lower, l), less+(w-l)*int64(ty.qty)
	}
	return worth, lower, less
}

// On panels of furniture counting agrees with listing every full pattern.
func TestCounterAgreesWithLists(t *testing.T) {
	compared, long := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job := drawFurniture(t)
		p, _ := newProblem(job)
		f := newFitter(p)
		f.ctx, f.stop = context.Background(), math.MaxInt/fitMove
		k := f.kind(0)
		worth, lower, _ := drawWorths(t, p)
		less := int64(0)
		for i, ty := range p.types { // about by area, as they are for jobs
			worth[i], lower[i] = worth[i]*int64(ty.area)/20+int64(ty.area), lower[i]*int64(ty.area)/20+int64(ty.area)
			less += (worth[i] - lower[i]) * int64(ty.qty)
		}
		r := &k.g.sheets[0]
		k.g.fill(r, lower, f.most)
		high := r.val[len(r.val)-1] + less
		goal := high - high/30
		found, whole := f.list(k, lower, goal-less, fitList)
		if !whole {
			long++
			return
		}
		want := goal
		for _, a := range found {
			want = max(want, k.list.value(a, worth))
		}
		got, _ := k.count.top(f.ctx, worth, lower, less, high, goal, math.MaxInt)
		if got != want {
			t.Fatalf("%+v: counted %d, listed %d of %d", job, got, want, high)
		}
		if want > goal && want < high {
			compared++
		}
	})
	t.Logf("%d lists were too long, in %d cases the best pattern was below the table and above the goal", long, compared)
	if compared == 0 {
		t.Error("in no case the best pattern was below the table and above the goal")
	}
}

// drawFurniture draws parts for one size of panel.
func drawFurniture(t *rapid.T) Job {
	job := Job{Kerf: 4, Sheets: []Sheet{{W: 1196, H: 796, Price: 1, Stock: -1}}}
	long := func(least, most int, what string) unit.Length {
		return unit.Length(20*rapid.IntRange(least, most).Draw(t, what) - 4)
	}
	for range rapid.IntRange(3, 8).Draw(t, "types") {
		job.Items = append(job.Items, Item{
			W: long(5, 40, "w"), H: long(4, 30, "h"), Qty: rapid.IntRange(1, 3).Draw(t, "qty"), Turn: rapid.Bool().Draw(t, "turn"),
		})
	}
	return job
}
