package build

import (
	"math"
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/unit"
)

// A U of 22 in on casters of 3 in stands 25 in high: the bottom it rolls on is
// flush with the lower edges of the legs, and its tongues fill the grooves but
// for the room for glue (worked by hand: 15 thick, 6 left below the groove).
func TestBottomOnCasters(t *testing.T) {
	m := built(t, "clinic-cabinet")
	wantSize(t, "over all", m.Outside.Z, 25*25.4)
	bottom := find(t, m, "bottom")
	f := bottom.Places[0].Frame
	wantSize(t, "underside", f.At(0, 0, bottom.Thickness.Size).Z, 3*25.4)
	for _, h := range m.Hardware {
		if h.For == "caster" {
			wantSize(t, "casters under it", h.At[0].Z, 3*25.4)
		}
	}
	var tongue unit.Length
	for _, x := range bottom.Features {
		if x.Kind == Rebate {
			tongue = bottom.Thickness.Size - x.Depth
			r := x.Region.Bounds()
			wantSize(t, "tongue", r.Width(), 25.4*3/16-1) // grooves of 3/16, less 1 mm for glue
			if x.Face != FaceOther {
				t.Errorf("the bottom is rebated on its %s, not from below", x.Face)
			}
		}
	}
	grooves := 0
	for _, x := range find(t, m, "shell").Features {
		if x.For != "bottom" {
			continue
		}
		grooves++
		r := x.Region.Bounds()
		wantSize(t, "groove", r.Width(), tongue.MM())
		wantSize(t, "groove", x.Depth, 25.4*3/16)
		end := min(r.Min.X, find(t, m, "shell").Length.Size-r.Max.X)
		wantSize(t, "wood below the groove", end, 15-tongue.MM())
	}
	if grooves != 2 || tongue < 6*unit.Millimetre {
		t.Errorf("%d grooves for tongues of %s", grooves, tongue)
	}
	for _, f := range m.Findings {
		if f.ID == "base-height" || f.ID == "parts-collide" {
			t.Errorf("%s: %s", f.ID, f.Says)
		}
	}
}

// A bottom in grooves of two legs of one bent strip can only slide in from
// behind, and with the back in a groove of its own it could not: so the back
// runs down behind it, 10 set in and 6.4 thick, to the underside, and is
// screwed to its edge (worked by hand).
func TestBackComesUpBehindTheBottom(t *testing.T) {
	m := built(t, "clinic-cabinet")
	bottom, back, shell := find(t, m, "bottom"), find(t, m, "back"), find(t, m, "shell")
	wantSize(t, "bottom, front to back", bottom.Width.Size, 19.5*25.4-10-6.4)
	low, high := extentZ(back)
	wantSize(t, "lower edge of the back", low, 3*25.4+1)        // a hair above the underside
	wantSize(t, "upper edge of the back", high, 25*25.4-15+6-1) // in a groove of 6, less 1 to go in
	if front := back.Places[0].Frame; max(front.At(0, 0, 0).Y, front.At(0, 0, back.Thickness.Size).Y) < bottom.Width.Size {
		t.Error("the back stands in the bottom")
	}
	for _, x := range bottom.Features {
		if x.For == "back" {
			t.Errorf("the bottom has a %s for the back, which could then not come up behind it", x.Kind)
		}
	}
	for _, x := range shell.Features {
		if r := x.Region.Bounds(); x.For == "back" && r.Width() != shell.Length.Size {
			t.Errorf("the groove for the back is %s long, not open at the legs' ends", r.Width())
		}
		if r := x.Region.Bounds(); x.For == "bottom" && r.Height() != shell.Width.Size {
			t.Errorf("a groove for the bottom is %s long, not open behind", r.Height())
		}
	}
	screwed := false
	for _, j := range m.Joints {
		screwed = screwed || j.Kind == "screwed" && j.A == back.Letter && j.B == bottom.Letter
		if j.Kind == "grooved" && j.A == back.Letter && j.B == bottom.Letter {
			t.Error("the back is in a groove of the bottom")
		}
	}
	if !screwed {
		t.Error("nothing holds the back to the bottom")
	}
	for _, u := range m.Screws {
		if u.Where == "back to the edge of the bottom" && u.Count != 3 { // 384 over 175
			t.Errorf("%d screws", u.Count)
		}
	}

	p, s := demo(t, "clinic-cabinet")
	base := *p.Base
	base.InsetY = 10 * unit.Millimetre
	p.Base = &base
	f, ok := findingOf(make1(t, p, s), "plate-behind-bottom")
	if !ok || f.Fix == nil {
		t.Errorf("plates 10 mm from the back edge lie on a bottom that ends 16.4 mm from it: %+v", f)
	}
}

func extentZ(p Part) (low, high unit.Length) {
	f := p.Places[0].Frame
	a, b := f.At(0, 0, 0).Z, f.At(p.Length.Size, p.Width.Size, 0).Z
	return min(a, b), max(a, b)
}

// A plinth bears on the bottom as well as on the legs: nothing is left between.
func TestPlinthBearsOnTheBottom(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	p.Base = &piece.Base{Kind: "plinth", Height: 80 * unit.Millimetre, InsetX: 30 * unit.Millimetre, InsetY: 30 * unit.Millimetre}
	p.Materials["base"] = "birch-15"
	m := make1(t, p, s)
	bottom := find(t, m, "bottom")
	wantSize(t, "underside", bottom.Places[0].Frame.At(0, 0, bottom.Thickness.Size).Z, 80)
	_, top := extentZ(find(t, m, "plinth front"))
	wantSize(t, "upper edge of the plinth", top, 80)
}

// Nothing screwed under it, the bottom stands whole in its grooves.
func TestBottomWithoutBase(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	p.Base = nil
	m := make1(t, p, s)
	bottom := find(t, m, "bottom")
	wantSize(t, "underside", bottom.Places[0].Frame.At(0, 0, bottom.Thickness.Size).Z, 6)
	for _, x := range bottom.Features {
		if x.Kind == Rebate {
			t.Error("a bottom that carries nothing has a tongue")
		}
	}
}

// The size over all is what must pass the door: fronts over the edges, the top
// and splayed feet are in it (sums worked by hand).
func TestOutsideOverAll(t *testing.T) {
	mm := unit.Millimetre
	m := built(t, "clinic-cabinet") // its door of 15 lies over the front edges
	wantSize(t, "depth", m.Outside.Y, 19.5*25.4+15)

	p := box600("dowel")
	deep := p.Case.Depth
	p.Base = &piece.Base{Kind: "legs", Height: unit.MM(202.5), Splay: unit.Deg(15), Rake: new(unit.Deg(10)), Thick: 40 * mm, Foot: 40 * mm, Hardware: "plate", InsetX: 10 * mm, InsetY: 10 * mm}
	m = must(t, p)
	// Feet 200 tan a outside the middle of plates of 75; the edge of a foot of
	// 40 square to a leg that leans by a lies 20 / cos a from its middle.
	tan, cos := math.Tan(15*math.Pi/180), math.Cos(15*math.Pi/180)
	wantSize(t, "width over the feet", m.Outside.X, 600+2*(200*tan+20/cos-37.5-10))
	tan, cos = math.Tan(10*math.Pi/180), math.Cos(10*math.Pi/180)
	out := max(200*tan+20/cos-37.5-10, 0)
	wantSize(t, "depth over the feet", m.Outside.Y, deep.MM()+2*out)
	wantSize(t, "height", m.Outside.Z, p.Case.Height.MM()+202.5)
	leg := find(t, m, "leg")
	for _, at := range leg.Places {
		if foot := at.Frame.At(0, leg.Width.Size/2, leg.Thickness.Size/2); foot.Z.Abs() > unit.Micrometre {
			t.Errorf("a foot stands %s over the floor", foot.Z)
		}
	}
}

// Casters cannot be screwed to a case that has nothing below.
func TestNothingToScrewTo(t *testing.T) {
	for _, shape := range []string{"shape: l, corner: top-left", "shape: u"} {
		p := decoded(t, `
format: 1
name: open below
units: mm
materials: {case: ply-18, back: ply-6}
case: {kind: shell, `+shape+`, width: 500, height: 500, depth: 300, radius: 60, skin: 1.5 mm, form: yes}
back: {fit: overlaid`+map[bool]string{true: ", bottom: no", false: ""}[strings.HasSuffix(shape, "u")]+`}
base: {kind: casters, height: 75, hardware: caster}
`)
		_, err := quick(p)
		if err == nil || !strings.Contains(err.Error(), "open below") {
			t.Errorf("%s: %v", shape, err)
		}
	}
}
