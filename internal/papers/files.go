package papers

import (
	"bytes"
	"encoding/json"
	"fmt"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/plan"
	"casewright/internal/render/dxf"
	"casewright/internal/render/glb"
	"casewright/internal/render/pdf"
	"casewright/internal/render/svg"
	"casewright/internal/shop"
)

// File is one file of a set of papers, its name relative to the set's folder,
// with slashes.
type File struct {
	Name string
	Data []byte
}

// Files gives a full set in a fixed order: the papers and templates as PDF,
// every drawing as SVG, the piece in space as binary glTF, the outline of every part and every layout as DXF, the
// parts as CSV, the findings as text, and the plan as JSON. The same plan and
// options give the same bytes.
func Files(p plan.Plan, opt Options) ([]File, error) {
	s, err := newSet(p, opt)
	if err != nil {
		return nil, err
	}
	s.compose()
	var out []File
	add := func(name string, data []byte) { out = append(out, File{name, data}) }
	print := func(name, title string, papers []Paper) error {
		var sheets []drawing.Sheet
		for _, paper := range papers {
			sheets = append(sheets, paper.Sheets...)
		}
		if len(sheets) == 0 {
			return nil
		}
		var b bytes.Buffer
		if err := pdf.Write(&b, sheets, pdf.Info{Title: p.Piece.Name + ": " + title, Subject: "Revision " + p.Revision}); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		add(name, b.Bytes())
		return nil
	}
	if err := print("papers.pdf", "papers", s.papers()); err != nil {
		return nil, err
	}
	templates, err := Templates(p, opt)
	if err != nil {
		return nil, err
	}
	if err := print("templates.pdf", "templates at full size", templates); err != nil {
		return nil, err
	}
	if err := s.pictures(add); err != nil {
		return nil, err
	}
	if err := s.outlines(add); err != nil {
		return nil, err
	}
	var scene bytes.Buffer
	if err := glb.Write(&scene, p.Model, p.Piece.Name); err != nil {
		return nil, fmt.Errorf("model.glb: %w", err)
	}
	add("model.glb", scene.Bytes())
	add("parts.csv", PartsCSV(p))
	add("findings.txt", FindingsText(p))
	whole, err := json.MarshalIndent(p, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("plan.json: %w", err)
	}
	add("plan.json", append(whole, '\n'))
	return out, nil
}

// pictures writes every drawing on a sheet of its own size.
func (s *set) pictures(add func(string, []byte)) error {
	for _, n := range s.views {
		o := s.draw
		o.Dims = true
		sheet := drawing.NewSheet(s.paper.Across(), s.p.Piece.Name+": "+n.name)
		r := drawing.Rect{W: sheet.W, H: sheet.H}.Inset(drawing.Margin)
		if n.view.Title == "" {
			n.view.Title = document.Capital(shop.Words(n.name))
		}
		fit(sheet, n.view, r, o, s.fineScales())
		var b bytes.Buffer
		if err := svg.Write(&b, *sheet, svg.Options{}); err != nil {
			return fmt.Errorf("drawing %s: %w", n.name, err)
		}
		add("drawings/"+n.name+".svg", b.Bytes())
	}
	return nil
}

// outlines writes parts and layouts for machines and other programs.
func (s *set) outlines(add func(string, []byte)) error {
	write := func(name string, d *dxf.Drawing) error {
		var b bytes.Buffer
		if err := d.Write(&b); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		add(name, b.Bytes())
		return nil
	}
	for _, p := range s.p.Model.Parts {
		if err := write("outlines/part-"+slug(p.Letter)+".dxf", dxf.Part(p)); err != nil {
			return err
		}
	}
	for _, p := range s.p.Panels {
		for i, l := range p.Result.Layouts {
			if err := write("outlines/"+LayoutFile(p.Key, i+1)+".dxf", dxf.Layout(p.Job, l, p.Letters)); err != nil {
				return err
			}
		}
	}
	for _, w := range s.p.Woods {
		if w.Result == nil {
			continue
		}
		for i, l := range w.Result.Layouts {
			if err := write("outlines/"+BoardFile(w.Key, w.Class, i+1)+".dxf", dxf.Layout(*w.Job, l, w.Letters)); err != nil {
				return err
			}
		}
	}
	return nil
}
