package check_test

import (
	"slices"
	"strings"
	"testing"

	"casewright/internal/check"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// beside is the record cabinet with drawers at the left and a door in each of
// the other columns, so wide, hung as said, their pulls standing out so far.
// The stiles between are 24 wide and all gaps 2, so that 28 are between two
// fronts; pulls sit 40 from the free edge, and drawers come out by 400.
func beside(t *testing.T, middle, right string, wide, out unit.Length) check.Input {
	t.Helper()
	p, s := demo(t, "record-cabinet")
	g := &good{t: t, p: p, s: s}
	g.p.Materials["doors"] = "oak-18"
	g.s.Hardware["hinge"] = shop.Hardware{Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 12 * mm, Fixed: new(-4 * mm), Boring: 5 * mm, Plate: 3 * mm, Setback: 37 * mm}
	g.hardware("bar-pull", func(h *shop.Hardware) { h.Height = out })
	door := func(hung string) piece.Opening {
		return piece.Opening{Width: wide, Door: &piece.Door{Hinge: "hinge", Hung: hung, Front: "inset", Gap: 2 * mm, Pull: "bar-pull"}}
	}
	left := g.p.Inside.Columns[0]
	g.p.Inside.Columns = []piece.Opening{left, door(middle), door(right)}
	return g.build()
}

func told(in check.Input, id string) (out []finding.Finding) {
	for _, f := range check.All(in) {
		if f.ID == id {
			out = append(out, f)
		}
	}
	return out
}

// An open door turns its pull to the side on which it is hung: 32 mm of it reach
// past the 28 to the drawers there, 25 do not (arithmetic). The pull sits in the
// middle of the door's height, where the lower or the upper drawer passes. Of a
// door 464 wide it stands beyond the drawer that is open.
func TestDrawerBesideAnOpenDoor(t *testing.T) {
	got := told(beside(t, "left", "right", 300*mm, 32*mm), "drawer-meets-pull")
	if len(got) == 0 {
		t.Fatal("a drawer beside an open door's pull is not told")
	}
	for _, f := range got {
		if f.Figure != "32 mm" || f.Limit != "28 mm" || !strings.HasPrefix(f.Place, "column 1 row ") || !strings.Contains(f.Says, "the door of column 2") {
			t.Errorf("%+v", f)
		}
	}
	for name, in := range map[string]check.Input{
		"flatter":                beside(t, "left", "right", 300*mm, 25*mm),
		"hung on the other side": beside(t, "right", "right", 300*mm, 32*mm),
		"as wide as the drawer":  beside(t, "left", "right", 464*mm, 32*mm),
	} {
		if got := told(in, "drawer-meets-pull"); len(got) > 0 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// Two doors hung side by side turn their pulls to each other: 16 and 16 meet
// over 28, 12 and 12 do not.
func TestDoorsHungSideBySide(t *testing.T) {
	got := told(beside(t, "right", "left", 300*mm, 16*mm), "pulls-meet")
	if len(got) != 1 || got[0].Figure != "32 mm" || got[0].Limit != "28 mm" || got[0].Level != finding.Note {
		t.Errorf("%+v", got)
	}
	if got := told(beside(t, "right", "left", 300*mm, 12*mm), "pulls-meet"); len(got) > 0 {
		t.Errorf("%+v", got)
	}
	if got := told(beside(t, "left", "right", 300*mm, 32*mm), "pulls-meet"); len(got) > 0 {
		t.Errorf("hung far from each other: %+v", got)
	}
}

// No demo piece has a door beside something that it meets.
func TestDemosMeetNothing(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p, s := demo(t, name)
		all := planned(t, p, s, record.Record{}).Findings
		if slices.ContainsFunc(all, func(f finding.Finding) bool { return f.ID == "drawer-meets-pull" || f.ID == "pulls-meet" }) {
			t.Errorf("%s: a door is said to meet something", name)
		}
	}
}
