package build

import (
	"strings"
	"testing"

	"casewright/internal/unit"
)

// screwsAt is how many screws of a use there are, and the longest of them.
func screwsAt(m Model, where string) (n int, longest unit.Length) {
	for _, s := range m.Screws {
		if strings.HasPrefix(s.Where, where) {
			n, longest = n+s.Count, max(longest, s.Length)
		}
	}
	return n, longest
}

// A hinge that takes four screws has two beside its cup and two through its
// plate; their pilots lie between the holes for shelf pins, where there is wood.
// A hinge of which nothing is said keeps the screws of its own system.
func TestScrewsOfHingesAreCounted(t *testing.T) {
	p, s := demo(t, "clinic-cabinet")
	m := make1(t, p, s)
	if n, _ := screwsAt(m, "hinge"); n != 0 {
		t.Errorf("%d screws of hinges that bring their own", n)
	}
	hinges := 0
	for _, f := range m.Hardware {
		if f.Key == "cup-hinge" {
			hinges += f.Count
		}
	}
	h := s.Hardware["cup-hinge"]
	h.Screws, h.Gauge = 4, 6
	s.Hardware["cup-hinge"] = h
	m = make1(t, p, s)
	for _, where := range []string{"hinge cups", "hinge plates"} {
		if n, l := screwsAt(m, where); n != 2*hinges || l > 16*mm || l < 12*mm {
			t.Errorf("%s: %d screws of %s for %d hinges", where, n, l, hinges)
		}
	}
	pilots := 0
	for _, q := range m.Parts {
		for _, f := range q.Features {
			if f.For == "hinge plate" {
				t.Errorf("%s keeps a hole of the system for a wood screw", q.Name)
			}
			if f.For != "pilot for the hinge plate" {
				continue
			}
			pilots++
			for _, o := range q.Features {
				if o.Kind == Hole && o.For != f.For && o.Face == f.Face && o.Region.Bounds().Meets(f.Region.Bounds()) {
					t.Errorf("%s: the pilot for a plate breaks into a hole for %s", q.Name, o.For)
				}
			}
		}
	}
	if pilots != 2*hinges {
		t.Errorf("%d pilots for %d hinges", pilots, hinges)
	}
}

// A runner has two halves: as many screws hold the one to the box as hold the
// other to the case, and none comes through a side of 12 mm.
func TestScrewsOfRunnersIntoTheBoxesAreCounted(t *testing.T) {
	for _, demo := range []string{"chest", "record-cabinet"} {
		m := built(t, demo)
		drawers := 0
		for _, o := range m.Openings {
			if o.Fill == "drawer" {
				drawers++
			}
		}
		in, _ := screwsAt(m, "runners to the case")
		if in == 0 {
			continue
		}
		box, l := screwsAt(m, "runners to the boxes")
		catches, _ := screwsAt(m, "catches of runners")
		if box+catches == 0 || box > 0 && box != in || catches > 0 && catches != 4*drawers {
			t.Errorf("%s: %d into the case, %d into the boxes, %d of catches, %d drawers", demo, in, box, catches, drawers)
		}
		if side := find(t, m, "box side"); l > side.Thickness.Size+runnerMetal {
			t.Errorf("%s: a screw of %s through a runner and %s", demo, l, side.Thickness.Size)
		}
	}
}

// Each screw of a plinth goes through a block of its own, with one in each
// corner, none further from the next than 300 mm, and all are on the list of
// hardware with their size.
func TestBlocksOfPlinthsAreCounted(t *testing.T) {
	m := built(t, "chest")
	n, _ := screwsAt(m, "plinth")
	for _, f := range m.Hardware {
		if f.For != "plinth" {
			continue
		}
		front, side := find(t, m, "plinth front").Length.Size, find(t, m, "plinth side").Length.Size
		if f.Count != n || n < 4 || 300*mm*unit.Length(n) < 2*(front+side)-12*unit.Inch || !strings.Contains(f.Name, "3/4 in thick") {
			t.Errorf("%+v for %d screws round %s and %s", f, n, front, side)
		}
		return
	}
	t.Errorf("no blocks for %d screws", n)
}
