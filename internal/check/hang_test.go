package check_test

import (
	"math"
	"strings"
	"testing"

	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// found is the finding of that name.
func found(all []finding.Finding, id string) (finding.Finding, bool) {
	for _, f := range all {
		if f.ID == id {
			return f, true
		}
	}
	return finding.Finding{}, false
}

// The chest without its plinth hung up, its drawers out, against bodies weighed
// apart from the check: the pull at the fixings, 50 mm below the top, turns about the
// lower back edge as much as all the weight does.
func TestHang(t *testing.T) {
	for _, load := range []float64{0.001, 60} {
		p, s := demo(t, "chest")
		g := &good{t: t, p: p, s: s}
		g.p.Use.Against, g.p.Use.LoadKg, g.p.Base = "hung", load, nil
		in := g.build()
		wall := 0.0
		for _, q := range in.Model.Parts {
			for _, at := range q.Places {
				wall = max(wall, at.Frame.At(0, 0, 0).Y.MM(), at.Frame.At(q.Length.Size, q.Width.Size, q.Thickness.Size).Y.MM())
			}
		}
		front := in.Model.Outside.Y.MM() // without a plinth bodies are measured from here
		var kg, moment float64
		for _, b := range bodies(in, 15*25.4, every) {
			kg, moment = kg+b.kg, moment+b.kg*(wall-front-b.y)
		}
		moment += load * (in.Piece.Case.Depth.MM()/2 + 15*25.4)
		kg += load
		h, ok := check.Hang(in)
		high := in.Model.Outside.Z.MM() - 50
		want := moment * 9.80665 / high
		if got := float64(h.Pull); !ok || math.Abs(got-want) > 0.005*want {
			t.Errorf("%v kg: pulled by %.1f N, want %.1f", load, got, want)
		}
		if got := float64(h.Shear); math.Abs(got-kg*9.80665) > 0.005*got {
			t.Errorf("%v kg: %.1f N down, want %.1f", load, got, kg*9.80665)
		}
		all := check.All(in)
		f, ok := found(all, "hung-fixings")
		if !ok || f.Level != finding.Care || !strings.HasPrefix(f.Advice, "Estimate only") || f.Figure != h.Pull.RoundedUp(in.Piece.Units).Led(in.Piece.Units) {
			t.Errorf("%+v", f)
		}
		for _, f := range all {
			if strings.HasPrefix(f.ID, "tips-") || f.ID == "in-use-anchor" || f.ID == "clothing-storage" {
				t.Errorf("%s of a piece that hangs: %s", f.ID, f.Says)
			}
		}
		if pull := check.Anchor(in); pull != 0 {
			t.Errorf("a piece that hangs has an anchor that holds %v", pull)
		}
	}
}

// Without a stated load the usual one lies on floors, shelves and top; a base
// on a piece that hangs is asked about.
func TestHungWithoutLoad(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	g := &good{t: t, p: p, s: s}
	g.p.Use.Against, g.p.Use.LoadKg = "hung", 0
	in := g.build()
	h, ok := check.Hang(in)
	least := 40 * 4.4482216152605 / (0.3048 * 0.3048) * in.Piece.Case.Depth.Metres() * in.Model.Outside.X.Metres() / 9.80665
	if !ok || float64(h.Load) < least || !strings.Contains(h.LoadBy, "floors, shelves and top") {
		t.Errorf("load %.1f kg by %q, the top alone takes %.1f", float64(h.Load), h.LoadBy, least)
	}
	if _, ok := found(check.All(in), "hung-with-base"); ok != (in.Piece.Base != nil) {
		t.Errorf("asked about its base: %v", ok)
	}
}

// Advice on tipping names what the piece has, and one that will be anchored is
// told what the anchor holds, not to be fixed.
func TestTippingNamesWhatThePieceStandsOn(t *testing.T) {
	for _, base := range []bool{true, false} {
		for _, anchored := range []bool{true, false} {
			p, s := demo(t, "chest")
			g := &good{t: t, p: p, s: s}
			g.shallow(8*unit.Inch, 6*unit.Inch)
			g.p.Use.Anchor = anchored
			if !base {
				g.p.Base = nil
			}
			n := 0
			for _, f := range check.All(g.build()) {
				if !strings.HasPrefix(f.ID, "tips-") {
					continue
				}
				n++
				if strings.Contains(f.Advice+f.Says+f.Source, "feet") {
					t.Errorf("%s speaks of feet: %s %s", f.ID, f.Says, f.Advice)
				}
				if !base && strings.Contains(f.Advice, "plinth") {
					t.Errorf("%s speaks of a plinth: %s", f.ID, f.Advice)
				}
				if anchored && !strings.Contains(f.Advice, "The anchor has to hold") || anchored && strings.Contains(strings.ToLower(f.Advice), "fix ") {
					t.Errorf("%s of a piece that is anchored: %s", f.ID, f.Advice)
				}
			}
			if n == 0 {
				t.Error("it stands")
			}
		}
	}
}
