package cutting

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A lot that holds all parts is never decided to be too little, needs that come
// of it are met by it, and what is laid out holds all parts: hundreds of small
// cases compared with trying every cut.
func TestDecideAgainstTryingEverything(t *testing.T) {
	for name, draw := range map[string]func(*rapid.T, int) (Job, *oracle, []oracleSheet){"any stages": drawSmall, "two or three stages": drawStaged} {
		t.Run(name, func(t *testing.T) { decideAgainstAll(t, draw) })
	}
}

func decideAgainstAll(t *testing.T, draw func(*rapid.T, int) (Job, *oracle, []oracleSheet)) {
	cases, resumed := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := draw(t, 3)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 {
			return
		}
		ctx := context.Background()
		f := newFitter(p)
		f.loss = math.MaxInt64
		for range 2 { // what one lot taught is of use for the next
			lot, holds := drawLot(t, p, o, sheets)
			c := f.newRuling(ctx, lot, nil)
			if c == nil {
				continue
			}
			moves := rapid.SampledFrom([]int{1, 30, 1 << 20}).Draw(t, "moves")
			var bins []*bin
			var too bool
			var n need
			for k := 0; k < 20 && !c.shut; k++ { // some go on where they were left
				bins, too, n = f.decide(ctx, c, moves<<k, &settler{p: p, ctx: ctx, known: newAlbum()})
				resumed += min(k, 1)
			}
			cases++
			if !c.shut || !too && bins == nil {
				t.Fatalf("%+v: sheets %v are not decided", job, lot)
			}
			if too && (holds || bins != nil) {
				t.Fatalf("%+v: sheets %v are said to be too little, but hold all parts", job, lot)
			}
			if n.gives != nil {
				neverTooMuch(t, p, o, sheets, n)
			}
			if bins != nil {
				holdsAll(t, p, job, bins, lot, holds)
			}
		}
	})
	if cases == 0 || resumed == 0 {
		t.Errorf("of %d lots %d were gone on with", cases, resumed)
	}
}

// neverTooMuch checks that no lot of up to two sheets of each kind that holds
// all parts falls short of a need.
func neverTooMuch(t *rapid.T, p *problem, o *oracle, sheets []oracleSheet, n need) {
	some := append([]oracleSheet(nil), sheets...)
	var try func(k int, gives float64)
	try = func(k int, gives float64) {
		if k == len(p.sheets) {
			if gives < n.least && o.least(some, 1<<len(o.w)-1) < math.MaxInt32 {
				t.Fatalf("%+v rules out %+v, which holds all parts", n, some)
			}
			return
		}
		for c := range min(2, p.sheets[k].stock) + 1 {
			some[p.sheets[k].job].stock = c
			try(k+1, gives+float64(c)*n.gives[k])
		}
	}
	for i := range some {
		some[i].stock = 0
	}
	try(0, 0)
}

// What a list says that the best pattern of a panel is worth, a pattern known to
// the program is worth, however late in the list it comes: else every price that
// follows is looked for where the last was, and nothing comes of it.
func TestBestOfListIsKnown(t *testing.T) {
	late := 0
	rapid.Check(t, func(t *rapid.T) {
		p, _ := newProblem(drawFurniture(t))
		f := newFitter(p)
		f.ctx, f.stop = context.Background(), math.MaxInt/fitMove
		k := f.kind(0)
		worth, lower, _ := drawWorths(t, p)
		for i, ty := range p.types {
			worth[i], lower[i] = worth[i]*int64(ty.area), lower[i]*int64(ty.area)
		}
		r := &k.g.sheets[0]
		k.g.fill(r, lower, f.most)
		high := r.val[len(r.val)-1]
		found, _ := f.list(k, lower, high-high/4, fitList)
		some := rapid.IntRange(0, 3).Draw(t, "some")
		low := k.take(found, some, worth, 0)
		if f.best(0, worth) != low {
			t.Fatalf("of %d patterns the best is worth %d, the best one known %d", len(found), low, f.best(0, worth))
		}
		for n, a := range found {
			if k.list.value(a, worth) == low {
				late += min(1, n/max(1, some))
				break
			}
		}
	})
	if late == 0 {
		t.Error("in no list the best pattern was late")
	}
}

// Of a sheet all sets of parts are listed that no other set holds and that are
// worth more than a floor: as many as trying every cut finds.
func TestListAgainstTryingEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 1)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 || len(p.sheets) == 0 {
			return
		}
		f := newFitter(p)
		f.ctx, f.stop = context.Background(), 1<<20
		k := f.kind(0)
		worth := make([]int64, len(f.most))
		for i := range worth {
			worth[i] = int64(rapid.IntRange(0, 9).Draw(t, "worth"))
		}
		k.list.room = rapid.SampledFrom([]int{1, 2, mostWaiting}).Draw(t, "room")
		floor := int64(rapid.IntRange(0, 20).Draw(t, "floor"))
		k.g.fill(&k.g.sheets[0], worth, f.most)
		found, whole := f.list(k, worth, floor, 1<<30)
		if !whole {
			t.Fatal("not whole")
		}
		listed := map[string]bool{}
		for _, a := range found {
			listed[patternKey(0, k.use(a))] = true
		}
		for _, use := range fullSets(p, o, job, sheets[p.sheets[0].job]) {
			if (pattern{use: use}).worth(worth) <= floor {
				continue
			}
			if !listed[patternKey(0, use)] {
				t.Fatalf("%+v: %v is not listed", job, use)
			}
			delete(listed, patternKey(0, use))
		}
		if len(listed) > 0 && !slices.Contains(worth, 0) { // else a set may be worth as much as one that holds it
			t.Fatalf("%+v: %d sets too many", job, len(listed))
		}
	})
}

// fullSets lists the sets of parts, told by how many of each type, that can be
// cut from a sheet and are part of no other.
func fullSets(p *problem, o *oracle, job Job, s oracleSheet) (out [][]run) {
	var first []int // piece of each item
	at := 0
	for _, it := range job.Items {
		first = append(first, at)
		at += it.Qty
	}
	of := make([]int, len(o.w)) // the type of each piece
	for ty := range p.types {
		for _, l := range p.types[ty].items {
			for k := range l.qty {
				of[first[l.item]+k] = ty
			}
		}
	}
	can := map[string][]int{}
	for set := 1; set < 1<<len(o.w); set++ {
		if !o.fits(s.w, s.h, set) {
			continue
		}
		n := make([]int, len(p.types))
		for i, ty := range of {
			n[ty] += set >> i & 1
		}
		can[fmt.Sprint(n)] = n
	}
	for name, n := range can {
		full := true
		for other, m := range can {
			within := true
			for ty := range n {
				within = within && n[ty] <= m[ty]
			}
			full = full && (name == other || !within)
		}
		if !full {
			continue
		}
		var use []run
		for ty, k := range n {
			if k > 0 {
				use = append(use, run{ty, k})
			}
		}
		out = append(out, use)
	}
	return out
}

// Where parts are worth next to nothing, pricing comes to an end all the same:
// what lists are to find above moves by a step at least.
func TestPriceOfNextToNothing(t *testing.T) {
	p, _ := newProblem(Job{Kerf: 2, Sheets: []Sheet{{W: 6, H: 11, Stock: 1}}, Items: []Item{
		{W: 3, H: 5, Qty: 1, Turn: true}, {W: 6, H: 4, Qty: 4, Turn: true}, {W: 1, H: 2, Qty: 2, Turn: true},
	}})
	f := newFitter(p)
	f.ctx, f.stop = context.Background(), 50_000
	worth := make([]int64, len(p.types))
	for i := range worth {
		worth[i] = 1
	}
	top := f.price(0, worth, 0, 1)
	if f.moves > 2_000 || top.worth != 3 {
		t.Errorf("took %d moves and says %d; a few hundred do, for 3", f.moves, top.worth)
	}
}
