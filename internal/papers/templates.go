package papers

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/plan"
	"casewright/internal/unit"
)

// Templates gives the drawings at full size, each spread over as many sheets
// as it needs, behind a sheet that says how to print them. There is none for
// a piece without bends and rounded corners. The error is about the options,
// or names a template that is too large for paper.
func Templates(p plan.Plan, opt Options) ([]Paper, error) {
	s, err := newSet(p, opt)
	if err != nil {
		return nil, err
	}
	all := s.fullSize()
	if len(all) == 0 {
		return nil, nil
	}
	var out []Paper
	for _, t := range all {
		sheets, err := s.tile(t)
		if err != nil {
			return nil, fmt.Errorf("template %s: %w", t.name, err)
		}
		out = append(out, Paper{Place: Bench, Name: "template: " + t.name, Sheets: sheets})
	}
	return append([]Paper{s.howToPrint(all, out)}, out...), nil
}

// template is a drawing to be printed at full size.
type template struct {
	name, use string
	view      drawing.View
}

// tile spreads a template over sheets, upright or across, whichever takes
// fewer.
func (s *set) tile(t template) ([]drawing.Sheet, error) {
	o := s.draw
	o.Dims = true
	full := drawing.Scale{Num: 1, Den: 1}
	box := measure(t.view, o, full)
	sheet := &drawing.Sheet{}
	place(sheet, t.view, drawing.Pt{}, o, full)
	tiling := drawing.Tiling{
		Paper: s.paper, Size: drawing.Rect{W: box.W, H: box.H},
		Title: s.title("Template: "+t.name, full.String(), 0, 0),
	}
	across := tiling
	across.Paper = s.paper.Across()
	upright, _, _ := tiling.Windows()
	lying, _, _ := across.Windows()
	if len(lying) < len(upright) {
		tiling = across
	}
	return drawing.Tile(sheet.Items, tiling)
}

// fullSize lists the templates: each bend, each rounded corner of an opening
// and its front, and the kerfs of each bend of each part.
func (s *set) fullSize() []template {
	var out []template
	o := s.draw
	o.Dims = true
	add := func(name, use string, v drawing.View) {
		v.Title = ""
		out = append(out, template{name, use, v})
	}
	leg := 40 * unit.Millimetre
	for i, k := range s.bendKinds() {
		r := k.first.Design.Result
		add(fmt.Sprintf("bend %d", i+1), "the bent panel on edge: lay the bend on it; "+s.bendNames(k), drawing.BendSection(k.first, leg, o))
		if r.Turn.Deg() > 89.9 && r.Turn.Deg() < 90.1 && r.KerfedRadius > 0 && !r.Spec.Outside {
			add(fmt.Sprintf("form for bend %d", i+1), "the hollow side, for a form or a block that fills the corner", drawing.CornerTemplate(r.KerfedRadius, leg, "form", o))
		}
	}
	seen := map[string]bool{}
	corner := func(name, use string, radius unit.Length, what string) {
		name += " R " + s.size(radius)
		if radius <= 0 || seen[name] {
			return
		}
		seen[name] = true
		add(name, use, drawing.CornerTemplate(radius, leg, what, o))
	}
	for _, op := range s.p.Model.Openings {
		for _, c := range op.Corners {
			corner("opening corner", "inner corner of the opening", c, "opening")
		}
		if p, ok := s.part(op.Front); ok && s.rounded(op) {
			for _, r := range radii(p.Outline) {
				corner("front corner", "outer corner of "+p.Letter+", the "+p.Name+" of "+op.Name, r, "front")
			}
		}
	}

	out = append(out, s.fronts()...)
	for _, p := range s.p.Model.Parts {
		done := map[int]bool{}
		for _, g := range p.Kerfs {
			if done[g.Bend] {
				continue
			}
			done[g.Bend] = true
			b := s.p.Model.Bends[g.Bend]
			add(fmt.Sprintf("kerfs of %s, %s", p.Letter, b.Name), fmt.Sprintf("%s, numbered; the figure is the distance of the centre from the near end", document.Count(len(g.Positions), "kerf centre")), drawing.KerfStrip(p, g.Bend, o))
		}
	}
	return out
}

// howToPrint is the sheet before the templates.
func (s *set) howToPrint(all []template, papers []Paper) Paper {
	sheet := drawing.NewSheet(s.paper, "Templates: how to print")
	r := drawing.Frame(sheet, s.title("Templates: how to print", "1:1", 1, 1))
	r = sheet.Head(r, "Print at actual size, without fitting to the page; then measure the bars")
	r = sheet.TextBlock(r, "Measure a lying and a standing bar on every sheet. They must be 100 mm and 4 in long, both ways. "+
		"If the bar of 100 mm measures b, print at 100 × 100/b per cent. If the two ways differ, use another printer.", 3.4, drawing.Regular)
	r.Y, r.H = r.Y+5, r.H-5
	sheet.CheckBars(drawing.Pt{X: r.X, Y: r.Y}, false)
	sheet.CheckBars(drawing.Pt{X: r.X + 125, Y: r.Y}, true)
	r.Y, r.H = r.Y+112, r.H-112
	r = sheet.TextBlock(r, fmt.Sprintf("Neighbouring sheets show the same %s mm. Cut one along its dashed line, lay it on the other so that the crosses with the same name cover each other, and tape. The map on each sheet shows where it lies: letters are columns, figures rows.", decimals(drawing.Overlap, 0)), 3.4, drawing.Regular)
	r.Y, r.H = r.Y+4, r.H-4
	columns := []drawing.Column{{Head: "Template", Share: 60, Bold: true}, {Head: "Sheets", Share: 16, Right: true}, {Head: "For", Share: 110}}
	var rows [][]string
	for i, t := range all {
		rows = append(rows, []string{document.Capital(t.name), fmt.Sprint(len(papers[i].Sheets)), document.Capital(t.use)})
	}
	out := Paper{Place: Bench, Name: "templates"}
	for page := 1; ; page++ {
		rest, _ := sheet.Table(r, columns, rows, drawing.TableStyle{})
		out.Sheets = append(out.Sheets, *sheet)
		if len(rest) == 0 {
			break
		}
		rows = rest
		sheet = drawing.NewSheet(s.paper, "Templates: how to print")
		r = drawing.Frame(sheet, s.title("Templates: how to print", "", page+1, page+1))
	}
	return out
}
