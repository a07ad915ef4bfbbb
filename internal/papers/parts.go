package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/unit"
)

// parts shows the parts pulled apart with their letters, and lists them with
// their finished sizes: on one sheet where there are few.
func (s *set) parts() {
	n := 0
	for _, p := range s.p.Model.Parts {
		n += p.Count
	}
	head := fmt.Sprintf("%s of %s to cut, finished sizes", document.Count(n, "part"), document.Count(len(s.p.Model.Parts), "kind"))
	if s.pieces() > 1 {
		head = fmt.Sprintf("%s of %s to cut for one piece, %d for all %d, finished sizes", document.Count(n, "part"), document.Count(len(s.p.Model.Parts), "kind"), n*s.pieces(), s.pieces())
	}
	columns, rows := s.partsTable()
	st := drawing.TableStyle{Size: 2.8}
	if len(rows) == 0 {
		s.flow(Desk, "parts list", true, "There is no part to cut yet; give the piece a case")
		return
	}
	o := s.draw
	o.Letters = true
	v := s.keep("exploded", drawing.Exploded(s.p.Model, o, 1))
	v.Title = ""
	wide := room(s.paper.Across())
	upright, _ := scaleIn(room(s.paper), v, o, freeScales)
	across, _ := scaleIn(wide, v, o, freeScales)
	small := drawing.TableHeight(wide.W, columns, rows, st) < 0.42*wide.H
	f := s.flow(Desk, "parts list", small || across.Ratio() > upright.Ratio(), head)
	f.page.scale = "none"
	box := f.r
	if small {
		box.H -= drawing.TableHeight(f.r.W, columns, rows, st) + gap
	}
	fit(f.page.sheet, v, box, o, freeScales)
	f.took(drawing.Rect{Y: box.Bottom()})
	if !small {
		f = s.flow(Desk, "parts list", true, head+", continued")
	}
	f.tight(columns, rows, st)
}

func (s *set) partsTable() ([]drawing.Column, [][]string) {
	columns := []drawing.Column{
		{Head: "", Share: 7, Bold: true},
		{Head: "Part", Share: 30},
		{Head: "Count", Share: 8, Right: true},
		{Head: "Thick", Share: 11, Right: true, Bold: true},
		{Head: "Wide", Share: 13, Right: true, Bold: true},
		{Head: "Long", Share: 14, Right: true, Bold: true},
		{Head: map[unit.System]string{unit.Metric: "Millimetres", unit.Imperial: "Inches"}[s.draw.Units.Other()], Share: 34, Light: true},
		{Head: "Material", Share: 32},
		{Head: "Grain", Share: 13},
		{Head: "Note", Share: 56},
	}
	if s.pieces() > 1 {
		columns[2].Head = "For 1"
		columns = slices.Insert(columns, 3, drawing.Column{Head: fmt.Sprintf("For %d", s.pieces()), Share: 11, Right: true, Bold: true})
	}
	var rows [][]string
	for _, p := range s.p.Model.Parts {
		_, other := s.sizes(p.Thickness.Size, p.Width.Size, p.Length.Size)
		row := []string{p.Letter, document.Capital(p.Name), fmt.Sprint(p.Count)}
		if s.pieces() > 1 {
			row = append(row, fmt.Sprint(p.Count*s.pieces()))
		}
		rows = append(rows, append(row,
			s.fig(p.Thickness.Size), s.fig(p.Width.Size), s.fig(p.Length.Size), other,
			s.material(p), grain(p), strings.Join(s.notes(p), " ")))
	}
	return columns, rows
}

// grain says how the face grain runs.
func grain(p build.Part) string {
	switch p.Grain {
	case build.GrainLength:
		return "long"
	case build.GrainWidth:
		return "across"
	}
	return "either"
}

// notes are what else there is to say about a part.
func (s *set) notes(p build.Part) []string {
	var out []string
	if _, m := s.hands(p); m > 0 {
		out = append(out, s.handsText(p))
	}
	if p.Oversize.Length != 0 || p.Oversize.Width != 0 {
		m, _ := s.sizes(p.CutWidth(), p.CutLength())
		t := "Saw to " + m
		if p.Oversize.Why != "" {
			t += ": " + p.Oversize.Why
		}
		out = append(out, t+".")
	}
	if o := p.OffSaw; o != nil {
		m, _ := s.sizes(o.Width, o.Length)
		out = append(out, fmt.Sprintf("Off the saw: %s %s, %s; cut to the measured opening.", document.Count(o.Count, "blank"), o.Of, m))
	}
	if r := p.Rough; r != nil {
		m, _ := s.sizes(r.Thickness, r.Width, r.Length)
		t := "Rough " + m + ", " + r.Class
		if r.Strips > 1 {
			t += ", glued up from " + s.strips(p)
		}
		out = append(out, t+".")
	}
	if len(p.Bands) > 0 {
		out = append(out, s.bands(p)+".")
	}
	if p.Bent != nil && len(p.Kerfs) > 0 {
		out = append(out, fmt.Sprintf("Bent: flat length given, %s.", document.Count(len(p.Kerfs), "kerf group")))
	}
	if p.Note != "" {
		out = append(out, document.Capital(strings.TrimSuffix(p.Note, "."))+".")
	}
	return out
}

// bands says which edges are banded with what.
func (s *set) bands(p build.Part) string {
	var order []string
	edges := map[string][]string{}
	for _, b := range p.Bands {
		if edges[b.Key] == nil {
			order = append(order, b.Key)
		}
		edges[b.Key] = append(edges[b.Key], string(b.Edge))
	}
	var out []string
	for _, k := range order {
		name := s.p.Shop.BandCalled(k)
		if len(edges[k]) == 4 {
			out = append(out, document.Capital(name)+" on all edges")
			continue
		}
		out = append(out, document.Capital(name)+" on "+list(edges[k]))
	}
	return strings.Join(out, "; ")
}

// sums says where each size comes from. Sizes that are given as they stand
// share a line; openings that come out alike are named together.
func (s *set) sums() {
	f := s.flow(Desk, "where each size comes from", false, "Where each size comes from, in "+s.unitWord())
	columns := []drawing.Column{
		{Head: "", Share: 8, Bold: true},
		{Head: "Part", Share: 33},
		{Head: "", Share: 12},
		{Head: "Size", Share: 18, Right: true, Bold: true},
		{Head: "", Share: 20, Light: true},
		{Head: "Sum", Share: 97},
	}
	var rows [][]string
	for _, p := range s.p.Model.Parts {
		rows = append(rows, s.sumRows(p.Letter, document.Capital(p.Name), []string{"long", "wide", "thick"}, p.Length, p.Width, p.Thickness)...)
	}
	type sums struct{ w, h string }
	at := map[sums]int{}
	var kinds []build.Opening
	for _, o := range s.p.Model.Openings {
		k := sums{o.Width.Text(s.fig), o.Height.Text(s.fig)}
		if i, ok := at[k]; ok {
			kinds[i].Name += ", " + o.Name
			continue
		}
		at[k] = len(kinds)
		kinds = append(kinds, o)
	}
	for _, o := range kinds {
		rows = append(rows, s.sumRows("", document.Capital("opening "+strings.TrimPrefix(o.Name, "opening")), []string{"wide", "high"}, o.Width, o.Height)...)
	}
	if len(rows) == 0 {
		f.text("No sums are known for this piece.", drawing.SizeText, drawing.Regular)
	}
	f.tight(columns, rows, drawing.TableStyle{Size: 2.7})
}

// sumRows are the lines for one part or opening.
func (s *set) sumRows(letter, name string, what []string, dims ...build.Dim) [][]string {
	var rows [][]string
	var given []string
	for i, d := range dims {
		switch {
		case len(d.Why) > 1:
			master, other := s.draw.Size(d.Size)
			rows = append(rows, []string{letter, name, what[i], master, other, d.Text(s.fig)})
			letter, name = "", ""
		case len(d.Why) == 1:
			given = append(given, what[i]+" "+d.Text(s.fig))
		}
	}
	switch n := len(rows); {
	case len(given) > 0 && n > 0:
		rows[n-1][5] += "\n" + strings.Join(given, "; ")
	case len(given) > 0:
		rows = append(rows, []string{letter, name, "", "", "", strings.Join(given, "; ")})
	}
	return rows
}

// strips are those that a part is glued up from: how many, or how wide where
// the boards give unlike ones.
func (s *set) strips(p build.Part) string {
	for _, w := range s.p.Woods {
		list := w.Strips(p.Letter)
		if len(list) == 1 {
			return document.Count(w.MostStrips(p.Letter), "strip")
		}
		if len(list) > 1 {
			return fmt.Sprintf("strips %s to %s wide", s.size(list[len(list)-1].Width), s.size(list[0].Width))
		}
	}
	return document.Count(p.Rough.Strips, "strip")
}
