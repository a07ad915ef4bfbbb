package fit_test

import (
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/record"
)

// Front 19 thick, box front 12, tip clearance 3: 12 + 19 − 3 = 28, so 25
// (arithmetic and the metric stock lengths), with its head sunk by half a
// millimetre.
func TestScrewFromTheStack(t *testing.T) {
	p, s := drawer(t, sideRunner, 500*mm, 2*mm)
	oak := s.Panels["oak-18"]
	oak.Thickness = 19 * mm
	s.Panels["oak-18"] = oak
	s.Habits.TipClearance = 3 * mm
	_, all, _ := fits(t, p, s, record.Record{})
	got := all[0].Screws
	if len(got) != 1 || got[0].Stack != 31*mm || got[0].Length != 25*mm || got[0].Clear != 11*mm/2 {
		t.Errorf("%+v", got)
	}
}

// The card and the screw table say the same, in every demo.
func TestScrewsAgreeWithTheTable(t *testing.T) {
	rows := map[string]string{"front, from inside the box": "drawer fronts from inside the box", "pull, machine screw": "machine screws, pulls of "}
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p, s := demo(t, name)
		m, all, _ := fits(t, p, s, record.Record{})
		for _, o := range all {
			for _, k := range o.Screws {
				if !slices.ContainsFunc(m.Screws, func(u build.ScrewUse) bool {
					return strings.HasPrefix(u.Where, rows[k.For]) && u.Stack == k.Stack && u.Length == k.Length
				}) {
					t.Errorf("%s, %s: %s of %v in %v is not in the screw table", name, o.Name, k.For, k.Length, k.Stack)
				}
			}
		}
	}
}
