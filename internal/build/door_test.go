package build

import (
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"

	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Hinge arithmetic as hinge makers' sheets state it (as quoted elsewhere):
// fixed 13 and boring 5 give 18; a plate of 3 takes 3 off.
func TestOverlay(t *testing.T) {
	if got := Overlay(13*mm, 5*mm, 0); got != 18*mm {
		t.Errorf("got %v", got)
	}
	if got := Overlay(13*mm, 5*mm, 3*mm); got != 15*mm {
		t.Errorf("got %v", got)
	}
}

// Two to 40 in, three to 60, four to 80, five to 100, or one more for each
// 15 lb: custom, as quoted elsewhere.
func TestHingeCount(t *testing.T) {
	for _, x := range []struct {
		inches, pounds float64
		want           int
	}{{20, 5, 2}, {40, 15, 2}, {41, 10, 3}, {60, 10, 3}, {80, 10, 4}, {100, 10, 5}, {30, 16, 3}, {30, 31, 4}, {1e6, 1e9, mostHinges}} {
		if got := HingeCount(unit.In(x.inches), unit.Mass(x.pounds)*unit.Pound); got != x.want {
			t.Errorf("%v in, %v lb: %d hinges, want %d", x.inches, x.pounds, got, x.want)
		}
	}
}

// On a side of 15 an overlay of 13.5 leaves 1.5 free. A straight arm with
// boring 5 and no plate gives 18; no boring from 3 to 6 gives 13.5 (13 + b).
func TestOverlayThatCannotBeReached(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	h := s.Hardware["cup-hinge"]
	h.Plate, h.Boring, h.CupDepth = 0, 5*mm, unit.MM(11.5)
	s.Hardware["cup-hinge"] = h
	p.Units = unit.Metric
	p.Inside.Door.Overlay = 0
	f, ok := findingOf(make1(t, p, s), "hinge-overlay")
	if !ok || f.Level != finding.Stop || f.Figure != "18 mm" || f.Limit != "13.5 mm" {
		t.Fatalf("got %+v", f)
	}
	if !strings.Contains(f.Advice, "a plate of 4.5 mm") {
		t.Errorf("advice is %q", f.Advice)
	}
	h.Plate = unit.MM(4.5)
	s.Hardware["cup-hinge"] = h
	if f, ok := findingOf(make1(t, p, s), "hinge-overlay"); ok {
		t.Errorf("with the plate advised it is still a stop: %+v", f)
	}
	h.Plate = unit.MM(3.5)
	s.Hardware["cup-hinge"] = h
	if f, ok := findingOf(make1(t, p, s), "hinge-boring"); !ok || f.Figure != "4 mm" {
		t.Errorf("a boring of 4 does it and should be said: %+v", f)
	}
}

// A boring a seventh of a millimetre off the hinge's own is nothing to set a
// fence for: the side screw takes it.
func TestBoringNearTheHingesOwn(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	h := s.Hardware["cup-hinge"]
	h.Boring = unit.MM(4.14)
	s.Hardware["cup-hinge"] = h
	if f, ok := findingOf(make1(t, p, s), "hinge-boring"); ok {
		t.Errorf("told to bore %s where the hinge has %s", f.Figure, f.Limit)
	}
}

// Two leaves of solid wood swell into three gaps, so a pair has a gap and a half
// for each leaf where a single door has two (arithmetic): with a gap at which
// one leaf just goes, by the movement the finding itself names, a pair does not.
func TestPairOfSolidDoorsSharesThreeGaps(t *testing.T) {
	told := func(gap unit.Length, hung string) (finding.Finding, bool) {
		p, s := demo(t, "clinic-cabinet")
		p.Materials, s.Woods = maps.Clone(p.Materials), map[string]shop.Wood{"cherry": {Species: "black-cherry", Per: "board-foot", Moisture: 8, Widest: 150 * mm}}
		h := s.Hardware["cup-hinge"]
		h.Fixed = new(unit.MM(-9.5))
		s.Hardware["cup-hinge"] = h
		p.Materials["doors"] = "cherry"
		d := *p.Inside.Door
		d.Front, d.Thickness, d.Gap, d.Hung, d.Overlay = "inset", unit.In(0.75), gap, hung, 0
		p.Inside.Door = &d
		return findingOf(make1(t, p, s), "door-swells")
	}
	of := func(f finding.Finding) (moves, room float64) {
		fmt.Sscanf(f.Figure, "%f in", &moves)
		fmt.Sscanf(f.Limit, "%f in", &room)
		return moves, room
	}
	f, ok := told(unit.MM(0.5), "pair")
	moves, room := of(f)
	if !ok || math.Abs(room-1.5/25.4) > 1e-4 || !strings.Contains(f.Says, "three gaps") || !strings.Contains(f.Says, " door of opening: a pair") {
		t.Fatalf("a pair with gaps of 0.5 mm: %+v", f)
	}
	each := unit.In(moves / 2)
	if _, ok := told(each*11/20, "pair"); !ok { // two gaps of 0.55 hold one leaf, three do not hold two
		t.Errorf("three gaps of %v are said to hold twice %v", each*11/20, each)
	}
	if _, ok := told(each*7/10, "pair"); ok {
		t.Errorf("three gaps of %v hold twice %v", each*7/10, each)
	}
}

// The clinic cabinet's door, by plain geometry: 16 in wide outside less 1 mm
// each side, cups 35 wide with their edge 4 from the door's.
func TestClinicDoor(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	m := make1(t, p, s)
	d := find(t, m, "door")
	wantSize(t, "door", d.Width.Size, 16*25.4-2)
	cups := 0
	for _, f := range d.Features {
		if !strings.HasPrefix(f.For, "hinge cup") {
			continue
		}
		cups++
		// Hung left: the cup's centre is 4 + 17.5 from the left edge, and y
		// counts from the right one.
		wantSize(t, "cup", f.Region[0].Y, 16*25.4-2-21.5)
		wantSize(t, "cup", (f.Region[0].X - f.Region[1].X).Abs(), 35)
	}
	if cups != 2 {
		t.Errorf("%d cups, want 2", cups)
	}
	plates := 0
	for _, f := range find(t, m, "shell").Features {
		if f.For == "hinge plate" {
			plates++
			// Seen from the rear edge: 37 behind a front edge that has 1 mm
			// of band.
			wantSize(t, "plate", f.Region[0].Y, find(t, m, "shell").Width.Size.MM()-37)
		}
	}
	if plates != 4 {
		t.Errorf("%d holes for plates, want 4", plates)
	}
	for _, h := range m.Hardware {
		if h.Key == "cup-hinge" && h.Count != 2 {
			t.Errorf("%d hinges", h.Count)
		}
	}
}

// A half crank gives 8.5 where 16.5 is wanted: no plate is lower than none, so
// the arm must be straighter, by the 8 that such a crank takes.
func TestStraighterArm(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	p.Units = unit.Metric
	h := s.Hardware["cup-hinge"]
	h.Fixed, h.Boring, h.Plate = new(5*mm), unit.MM(3.5), 0
	s.Hardware["cup-hinge"] = h
	p.Inside.Door.Overlay = unit.MM(16.5)
	f, ok := findingOf(make1(t, p, s), "hinge-overlay")
	if !ok || !strings.Contains(f.Advice, "a fixed distance of 13 mm") {
		t.Errorf("got %+v", f)
	}
}

// A crank of 15 takes a fixed distance of 13 to -2; with a boring of 4 and a
// plate of 4 the door lies 2 inside the edge, as an inset door with a gap of 2
// must (geometry of hinge makers' sheets: overlay = fixed + boring - plate).
func TestInsetHinge(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	h := s.Hardware["cup-hinge"]
	h.Fixed, h.Boring, h.Plate = new(unit.MM(-2)), unit.MM(4), unit.MM(4)
	s.Hardware["cup-hinge"] = h
	p.Inside.Door.Front, p.Inside.Door.Gap, p.Inside.Door.Overlay = "inset", unit.MM(2), 0
	m := make1(t, p, s)
	for _, f := range m.Findings {
		if f.ID == "hinge-overlay" || f.ID == "hinge-boring" {
			t.Errorf("%s: %s", f.ID, f.Says)
		}
	}
}

// A cranked hinge on too thin a plate wants a thicker one, not another crank: a
// fixed distance of -2 with a boring of 4 lies 2 inside the edge on a plate of
// 4. A straight arm of 13 would want a plate of 19, so it wants the crank.
func TestInsetHingeOnTooThinAPlate(t *testing.T) {
	for fixed, want := range map[float64]string{-2: "Take a plate of 4 mm", 13: "with a crank"} {
		p, s := demo(t, "clinic-cabinet")
		p.Units = unit.Metric
		h := s.Hardware["cup-hinge"]
		h.Fixed, h.Boring, h.Plate = new(unit.MM(fixed)), unit.MM(4), 0
		s.Hardware["cup-hinge"] = h
		p.Inside.Door.Front, p.Inside.Door.Gap, p.Inside.Door.Overlay = "inset", unit.MM(2), 0
		if f, ok := findingOf(make1(t, p, s), "hinge-overlay"); !ok || !strings.Contains(f.Advice, want) {
			t.Errorf("fixed %v: %+v", fixed, f)
		}
	}
}

// A cup of 12.5 in a door of 15 leaves 2.5, under the 3 mm of custom.
func TestCupDepth(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	p.Units = unit.Metric
	h := s.Hardware["cup-hinge"]
	h.CupDepth = unit.MM(12.5)
	s.Hardware["cup-hinge"] = h
	if f, ok := findingOf(make1(t, p, s), "cup-depth"); !ok || f.Level != finding.Stop || f.Figure != "2.5 mm" || f.Limit != "3 mm" {
		t.Errorf("got %+v", f)
	}
	h.CupDepth = 12 * mm
	s.Hardware["cup-hinge"] = h
	if f, ok := findingOf(make1(t, p, s), "cup-depth"); ok {
		t.Errorf("12 in 15 leaves 3: %+v", f)
	}
}

// A pair and its gaps fill the opening: derived.
func TestPairOfDoors(t *testing.T) {
	p, s := plain(t)
	p.Inside = piece.Opening{Door: &piece.Door{Hinge: "inset-cup", Hung: "pair", Front: "inset", Gap: 2 * mm}}
	m := make1(t, p, s)
	d := find(t, m, "door")
	if d.Count != 2 {
		t.Fatalf("%d doors share a letter, want 2: turned half round, one is the other", d.Count)
	}
	wantSize(t, "door", d.Width.Size, (800-6)/2)
	wantSize(t, "door", d.Length.Size, 696)
	// Inset: the plates lie one door's thickness further back.
	for _, f := range find(t, m, "side").Features {
		if f.For == "hinge plate" {
			wantSize(t, "plate", f.Region[0].Y, 37+18)
		}
	}
}

// Edge bands put on after cutting are part of the door's size, not added.
func TestBandedDoorKeepsItsSize(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	with := find(t, make1(t, p, s), "door")
	p.Inside.Door.Edges = ""
	without := find(t, make1(t, p, s), "door")
	if with.Width.Size != without.Width.Size || with.Length.Size != without.Length.Size {
		t.Errorf("banded %v × %v, plain %v × %v", with.Length.Size, with.Width.Size, without.Length.Size, without.Width.Size)
	}
	wantSize(t, "core", with.CutWidth(), without.CutWidth().MM()-2)
}

func TestClearOf(t *testing.T) {
	blocked := []stretch{{80 * mm, 120 * mm}, {110 * mm, 200 * mm}}
	for _, x := range []struct{ z, want unit.Length }{{50 * mm, 50 * mm}, {90 * mm, 80 * mm}, {190 * mm, 200 * mm}, {115 * mm, 80 * mm}} {
		if got := clearOf(x.z, blocked, 300*mm); got != x.want {
			t.Errorf("%v: got %v, want %v", x.z, got, x.want)
		}
	}
}
