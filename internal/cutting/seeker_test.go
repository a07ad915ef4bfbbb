package cutting

import (
	"context"
	"testing"

	"pgregory.net/rapid"
)

// What a seeker says of a panel bounds all that can be cut from it, what it
// offers can be cut, is not more than asked for, and pays; and where something
// pays it offers something: compared with all sets of parts by trying every
// cut.
func TestSeekerAgainstTryingEverything(t *testing.T) {
	exact, cases := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 1)
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.types) == 0 || len(p.sheets) == 0 {
			return
		}
		f := newPanelSeeker(p, nil)
		f.level = rapid.IntRange(0, seekLevels).Draw(t, "level")
		var worth []int64
		var most []int
		for _, ty := range p.types {
			worth = append(worth, int64(rapid.IntRange(0, 9).Draw(t, "worth"))<<20)
			most = append(most, ty.qty)
		}
		floor := int64(rapid.IntRange(0, 20).Draw(t, "floor")) << 20
		sets := fullSets(p, o, job, sheets[p.sheets[0].job])
		best := int64(0)
		for _, use := range sets {
			best = max(best, pattern{use: use}.worth(worth))
		}
		f.load(worth, most)
		offers := 0
		z := f.offer(0, floor, func(pat pattern) {
			offers++
			if v := pat.worth(worth); v <= floor || v > best {
				t.Fatalf("%+v: offers %v worth %d; the best is worth %d, the floor %d", job, pat.use, v, best, floor)
			}
			if !withinOne(pat.use, sets, len(p.types)) {
				t.Fatalf("%+v: offers %v, which cannot be cut", job, pat.use)
			}
			left := append([]int(nil), most...)
			if b := (&packer{}).needed(pat.tree, left); b.used > float64(p.sheets[0].w*p.sheets[0].h) {
				t.Fatalf("%+v: a panel holds %v", job, b.used)
			}
		})
		if best > z {
			t.Fatalf("%+v: says at most %d, but the best is worth %d", job, z, best)
		}
		if best > floor && offers == 0 {
			t.Fatalf("%+v: offers nothing above %d, but the best is worth %d", job, floor, best)
		}
		cases++
		if max(z, floor) == max(best, floor) {
			exact++
		}
	})
	t.Logf("exact in %d of %d", exact, cases)
	if exact < cases*6/10 {
		t.Errorf("exact in %d of %d", exact, cases)
	}
}

// Where all worths are lowered to nothing a search of the table finds no sets:
// what bounds patterns then is what all parts have lost.
func TestSeekerOfNoWorth(t *testing.T) {
	p, _ := newProblem(Job{Sheets: []Sheet{{W: 4, H: 7, Stock: -1}}, Items: []Item{{W: 2, H: 2, Qty: 3}}})
	f := newPanelSeeker(p, nil)
	f.load([]int64{1804}, []int{3})
	r := &f.g.sheets[0]
	none := []int64{0}
	f.g.fill(r, none, f.most)
	if z := f.list(0, r, none, 5412, 5412, 2955, func(pattern) {}); z < 5412 {
		t.Errorf("says at most %d, but three parts are worth 5412", z)
	}
}

// withinOne reports whether a set is part of one of others.
func withinOne(use []run, sets [][]run, types int) bool {
	for _, s := range sets {
		has := make([]int, types)
		for _, u := range s {
			has[u.typ] = u.n
		}
		within := true
		for _, u := range use {
			within = within && u.n <= has[u.typ]
		}
		if within {
			return true
		}
	}
	return false
}

// A cover never shows a lot to be too little that holds all parts, nor by what
// it says of other lots: hundreds of small cases, of any stages and of two or
// three, compared with trying every cut.
func TestCoverAgainstTryingEverything(t *testing.T) {
	for name, draw := range map[string]func(*rapid.T, int) (Job, *oracle, []oracleSheet){"any stages": drawSmall, "two or three stages": drawStaged} {
		t.Run(name, func(t *testing.T) {
			out, little := 0, 0
			rapid.Check(t, func(t *rapid.T) {
				job, o, sheets := draw(t, 3)
				p, misfits := newProblem(job)
				if len(misfits) > 0 || len(p.types) == 0 {
					return
				}
				s := newSearch(p, 1)
				d := sheetDive{p: p, stop: 1 << 20}
				for range 2 { // what one lot taught is of use for the next
					lot, holds := drawLot(t, p, o, sheets)
					m := d.begin(context.Background(), s, lot)
					n := m.tooLittle()
					if n != nil && holds {
						t.Fatalf("%+v: sheets %v are said to be too little, but hold all parts", job, lot)
					}
					if n != nil {
						neverTooMuch(t, p, o, sheets, *n)
						out++
					}
					if !holds {
						little++
					}
				}
			})
			t.Logf("%d of %d lots that are too little are shown to be", out, little)
			if out < little*2/3 {
				t.Errorf("%d of %d lots that are too little are shown to be", out, little)
			}
		})
	}
}
