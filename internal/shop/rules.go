package shop

import (
	"fmt"
	"maps"
	"slices"

	"casewright/internal/document"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// rules collects what the fields are wrong beside one another.
type rules struct {
	document.Rules
	units unit.System
}

func (v *Shop) rules() document.Problems {
	r := &rules{units: v.Units}
	for _, k := range sorted(v.Saws) {
		r.saw(v.Saws[k], "saws."+k)
	}
	for _, k := range sorted(v.Panels) {
		r.panel(v.Panels[k], "panels."+k)
	}
	for _, k := range sorted(v.Woods) {
		path := "woods." + k
		if _, both := v.Panels[k]; both {
			r.Say(path, "%s has the key of a panel, so a piece could not tell them apart. Give one of them another key.", path)
		}
		r.wood(v.Woods[k], path)
		for i, b := range v.Woods[k].Boards {
			r.board(b, v.Habits, fmt.Sprintf("%s.boards[%d]", path, i))
		}
	}
	for _, k := range sorted(v.Hardware) {
		r.hardware(v.Hardware[k], "hardware."+k)
	}
	r.working(v.Working)
	r.money(v)
	return r.Problems
}

func sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

func (r *rules) size(l unit.Length) string { return l.Exact(r.units) }

func (r *rules) saw(s Saw, path string) {
	if s.Kind == "hand-guide" {
		if s.Base == 0 {
			r.Say(path+".guide-offset", "%s.guide-offset is missing: a saw against a guide needs the distance from the edge of its base to the near side of the kerf. Cut along a guide and measure it.", path)
		}
	} else if s.Base > 0 {
		r.Say(path+".guide-offset", "%s.guide-offset does nothing here: only a hand-held saw runs against a guide. Leave it out.", path)
	}
	if s.Kind == "table" && s.Reach > 0 && s.Least >= s.Reach {
		r.Say(path+".least", "%s.least is %s, not less than the reach of %s. Write the nearest fence setting you work at.", path, r.size(s.Least), r.size(s.Reach))
	}
	if s.Depth > 0 && s.Kerf >= s.Depth {
		r.Say(path+".kerf", "%s.kerf is %s, not less than the depth of cut of %s. Measure the kerf again.", path, r.size(s.Kerf), r.size(s.Depth))
	}
}

func (r *rules) panel(p Panel, path string) {
	if _, ok := wood.FindPanel(p.Kind); !ok && p.Kind != "" {
		var known []string
		for _, k := range wood.AllPanels() {
			known = append(known, k.Key)
		}
		if near, ok := document.Nearest(p.Kind, known); ok {
			r.Say(path+".kind", "%s.kind is “%s”, which is not a panel that is known; did you mean %s? It can be %s.", path, p.Kind, near, document.Either(known))
		} else {
			r.Say(path+".kind", "%s.kind is “%s”, which is not a panel that is known. Write the nearest of %s.", path, p.Kind, document.Either(known))
		}
	}
	if p.Thickness > 0 && 2*p.FacePly >= p.Thickness {
		r.Say(path+".face-ply", "%s.face-ply is %s; two of them leave nothing of a panel %s thick. Write the thickness of one face ply.", path, r.size(p.FacePly), r.size(p.Thickness))
	}
	if p.Thickness > 0 && 2*p.Tolerance >= p.Thickness {
		r.Say(path+".tolerance", "%s.tolerance is %s on a panel %s thick. Write half of the spread you measure, such as 0.2 mm.", path, r.size(p.Tolerance), r.size(p.Thickness))
	}
	for i, s := range p.Sheets {
		at := fmt.Sprintf("%s.sheets[%d]", path, i)
		trim := p.TrimOf(s)
		if least := min(s.Length, s.Width); least > 0 && 2*trim >= least {
			r.Say(at, "A trim of %s on both edges leaves nothing of a sheet %s wide. Write a smaller trim.", r.size(trim), r.size(least))
		}
		if s.Offcut && s.OnHand == 0 {
			r.Say(at+".on-hand", "%s is an offcut, but none is on hand. Write on-hand: 1, or leave the sheet out.", at)
		}
		for j, o := range p.Sheets[:i] {
			if o.Length == s.Length && o.Width == s.Width && o.Offcut == s.Offcut {
				r.Say(at, "%s is the size of sheets[%d]. Keep one of them and count them in on-hand.", at, j)
				break
			}
		}
	}
}

func (r *rules) wood(w Wood, path string) {
	if _, ok := wood.FindSpecies(w.Species); ok || w.Species == "" {
		return
	}
	var known []string
	for _, s := range wood.AllSpecies() {
		known = append(known, s.Key)
	}
	if near, ok := document.Nearest(w.Species, known); ok {
		r.Say(path+".species", "%s.species is “%s”, which is not a species that is known; did you mean %s?", path, w.Species, near)
		return
	}
	r.Say(path+".species", "%s.species is “%s”, which is not a species that is known. Write one such as %s.", path, w.Species, document.Either(known[:min(4, len(known))]))
}

// board looks whether something is left of a board, and whether its defects
// lie on it, side by side.
func (r *rules) board(b Board, h Habits, path string) {
	edge := h.BoardEdge
	if b.Straight {
		edge = 0
	}
	switch {
	case b.Length > 0 && 2*h.BoardEnds >= b.Length:
		r.Say(path+".length", "%s.length is %s, and habits.board-ends cut %s off both ends: nothing is left. Write a smaller board-ends, or leave the board out.", path, r.size(b.Length), r.size(h.BoardEnds))
	case b.Width > 0 && edge >= b.Width:
		r.Say(path+".width", "%s.width is %s, and straightening an edge takes %s: nothing is left. Write straight-edge: true if it has one, or leave the board out.", path, r.size(b.Width), r.size(edge))
	}
	for i, d := range b.Defects {
		at := fmt.Sprintf("%s.defects[%d]", path, i)
		switch {
		case b.Length == 0 || b.Width == 0 || d.Length == 0 || d.Width == 0:
			continue // told as missing
		case d.FromEnd > b.Length-d.Length:
			r.Say(at, "%s is %s long and begins %s from the end, beyond the %s of the board. Measure it from the other end, or shorten it.", at, r.size(d.Length), r.size(d.FromEnd), r.size(b.Length))
		case d.FromEdge > b.Width-d.Width:
			r.Say(at, "%s is %s wide and begins %s from the edge, beyond the %s of the board. Measure it from the other edge, or make it narrower.", at, r.size(d.Width), r.size(d.FromEdge), r.size(b.Width))
		}
		for j, o := range b.Defects[:i] {
			if d.FromEnd < o.FromEnd+o.Length && o.FromEnd < d.FromEnd+d.Length && d.FromEdge < o.FromEdge+o.Width && o.FromEdge < d.FromEdge+d.Width {
				r.Say(at, "%s overlaps defects[%d]. Write one rectangle that holds both, or end one where the other begins.", at, j)
				break
			}
		}
	}
}
