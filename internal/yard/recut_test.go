package yard_test

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/record"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// recutPieces are the pieces that records are drawn for, and how many of each.
var recutPieces = []struct {
	name   string
	pieces int
}{{"record-cabinet", 1}, {"chest", 1}, {"clinic-cabinet", 3}}

// drawRecord is a record of parts cut, of some more than asked for, and of
// offcuts left.
func drawRecord(t *rapid.T, g yard.Goods) record.Record {
	n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	var r record.Record
	for _, p := range g.Model.Parts {
		if p.Solid {
			continue
		}
		for n(0, 2, "cut") == 0 { // now and then on two lines
			r.Cut = append(r.Cut, record.Cut{Part: p.Letter, Count: n(1, p.Count*g.Pieces+1, "count")})
		}
	}
	for _, p := range g.Panels {
		for range n(0, 2, "left") {
			r.Left = append(r.Left, record.Left{
				Panel: p.Key, Length: unit.Length(n(10, 2500, "length")) * unit.Millimetre, Width: unit.Length(n(10, 1300, "width")) * unit.Millimetre, Count: n(0, 2, "alike"),
			})
		}
	}
	return r
}

// Whatever the record says: what is cut and what is planned are together what
// is asked for, no more of an offcut is used than there is, and offcuts never
// make the rest dearer.
func TestCutAgain(t *testing.T) {
	all := map[string]yard.Goods{}
	for _, p := range recutPieces {
		all[p.name] = goods(t, p.name, p.pieces)
	}
	rapid.Check(t, func(t *rapid.T) {
		g := all[recutPieces[rapid.IntRange(0, len(recutPieces)-1).Draw(t, "piece")].name]
		r := drawRecord(t, g)
		panels := again(t, g, r)
		planned := plannedParts(t, panels)
		cut := map[string]int{}
		for _, c := range r.Cut {
			cut[c.Part] += c.Count
		}
		for _, p := range g.Model.Parts {
			asked := p.Count * g.Pieces
			if p.Solid {
				asked = 0
			}
			if want := max(0, asked-cut[p.Letter]); planned[p.Letter] != want {
				t.Fatalf("%s: %d asked for, %d cut, %d planned", p.Letter, asked, cut[p.Letter], planned[p.Letter])
			}
		}
		bare := r
		bare.Left = nil
		for i, was := range again(t, g, bare) {
			now := panels[i]
			if now.Key != was.Key {
				t.Fatalf("%s in place of %s", now.Key, was.Key)
			}
			if now.Result.Proven && now.Result.Value > was.Result.Value {
				t.Fatalf("%s: %d with offcuts, %d without", now.Key, now.Result.Value, was.Result.Value)
			}
		}
	})
}

// Offcuts as large as the panels that the rest would take: nothing is bought.
func TestOffcutsInPlaceOfPanels(t *testing.T) {
	all := map[string]yard.Goods{}
	for _, p := range recutPieces {
		all[p.name] = goods(t, p.name, p.pieces)
	}
	rapid.Check(t, func(t *rapid.T) {
		g := all[recutPieces[rapid.IntRange(0, len(recutPieces)-1).Draw(t, "piece")].name]
		r := drawRecord(t, g)
		r.Left = nil
		for _, p := range again(t, g, r) {
			for i, s := range p.Job.Sheets {
				if n := p.Used(i); n > 0 && s.Stock < 0 {
					r.Left = append(r.Left, record.Left{Panel: p.Key, Length: s.W, Width: s.H, Count: n})
				}
			}
		}
		for _, p := range again(t, g, r) {
			if p.Bought() > 0 || len(p.Result.Short) > 0 || !p.Result.Proven {
				t.Fatalf("%s: %d bought, %d short, value %d", p.Key, p.Bought(), len(p.Result.Short), p.Result.Value)
			}
		}
	})
}

// again lays out what a record leaves to be cut.
func again(t *rapid.T, g yard.Goods, r record.Record) []yard.Panel {
	panels, err := yard.Panels(context.Background(), g.Model, g.Piece, g.Pieces, g.Shop, r, cutting.Budget{Iterations: 300})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range panels {
		if err := verify.Result(p.Job, p.Result); err != nil {
			t.Fatalf("%s: %v", p.Key, err)
		}
	}
	return panels
}

// plannedParts counts the parts on layouts and those without a place, by
// letter.
func plannedParts(t *rapid.T, panels []yard.Panel) map[string]int {
	out := map[string]int{}
	for _, p := range panels {
		for _, l := range p.Result.Layouts {
			for _, q := range l.Parts {
				out[p.Letters[q.Item]] += l.Copies
			}
		}
		for _, s := range p.Result.Short {
			out[p.Letters[s.Item]] += s.Count
		}
	}
	return out
}
