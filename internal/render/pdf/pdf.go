// Package pdf writes sheets as one PDF file: vectors, the font embedded, a
// page to a sheet. The same sheets give the same bytes.
package pdf

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"casewright/internal/drawing"
)

// Info is what the file says about itself.
type Info struct {
	Title   string
	Subject string
	Made    time.Time // zero: a fixed day, so that the bytes depend on the drawing alone
}

// perMM is the number of points, the PDF unit of 1/72 in, in a millimetre.
const perMM = 72 / 25.4

var fixed = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Write writes the sheets in order.
func Write(w io.Writer, sheets []drawing.Sheet, info Info) error {
	if len(sheets) == 0 {
		return fmt.Errorf("pdf: there is no sheet to write")
	}
	made := info.Made
	if made.IsZero() {
		made = fixed
	}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm"})
	f.SetCatalogSort(true)
	f.SetCreationDate(made)
	f.SetModificationDate(made)
	f.SetProducer("casewright", true)
	f.SetTitle(drawing.Clean(info.Title), true)
	f.SetSubject(drawing.Clean(info.Subject), true)
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.AddUTF8FontFromBytes(family, "", drawing.FontFile(drawing.Regular))
	f.AddUTF8FontFromBytes(family, "B", drawing.FontFile(drawing.Bold))
	p := &printer{f: f}
	for _, s := range sheets {
		// "P" keeps the size as it is given; "L" would swap it.
		f.AddPageFormat("P", fpdf.SizeType{Wd: s.W, Ht: s.H})
		f.SetLineJoinStyle("round")
		p.pen, p.h = -1, s.H
		p.items(s.Items)
	}
	if err := f.Output(w); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}

const family = "liberation"

type printer struct {
	f   *fpdf.Fpdf
	h   float64
	pen drawing.Pen // the one in hand, -1: none
}

func (p *printer) items(items []drawing.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Stroke:
			p.take(it.Pen)
			p.paths(it.Paths)
			p.f.RawWriteStr("S\n")
		case drawing.Fill:
			if it.Tone == drawing.Clear {
				continue
			}
			p.f.RawWriteStr("q " + num(it.Tone.Grey()) + " g\n")
			p.paths(it.Paths)
			p.f.RawWriteStr("f* Q\n")
		case drawing.Text:
			p.text(it)
		case drawing.Group:
			p.items(it.Items)
		case drawing.Clip:
			r := it.Window
			p.f.RawWriteStr(fmt.Sprintf("q %s %s %s %s re W n\n", num(r.X*perMM), num((p.h-r.Bottom())*perMM), num(r.W*perMM), num(r.H*perMM)))
			p.pen = -1
			p.items(it.Items)
			p.f.RawWriteStr("Q\n")
			p.pen = -1
		}
	}
}

func (p *printer) take(pen drawing.Pen) {
	if p.pen == pen {
		return
	}
	p.pen = pen
	l := pen.Line()
	dash := make([]string, len(l.Dash))
	for i, v := range l.Dash {
		dash[i] = num(v * perMM)
	}
	p.f.RawWriteStr(fmt.Sprintf("%s G %s w [%s] 0 d\n", num(l.Grey), num(l.Width*perMM), strings.Join(dash, " ")))
}

// paths writes the operators that build a path. No other operator may come
// between them and the one that paints it (ISO 32000-1, 8.2).
func (p *printer) paths(paths []drawing.Path) {
	var b strings.Builder
	for _, path := range paths {
		n := len(path.Nodes)
		for i, a := range path.Nodes {
			if i == 0 {
				b.WriteString(p.pt(a.Pt) + " m ")
			}
			if i+1 == n && !path.Closed {
				break
			}
			to := path.Nodes[(i+1)%n].Pt
			switch {
			case a.Bulge != 0:
				for _, c := range drawing.ArcOf(a.Pt, to, a.Bulge).Curves() {
					b.WriteString(p.pt(c[0]) + " " + p.pt(c[1]) + " " + p.pt(c[2]) + " c ")
				}
			case i+1 < n:
				b.WriteString(p.pt(to) + " l ")
			}
		}
		if path.Closed {
			b.WriteString("h ")
		}
	}
	p.f.RawWriteStr(b.String())
}

func (p *printer) text(t drawing.Text) {
	spans, w := t.Spans()
	x := t.At.X - w*map[drawing.Anchor]float64{drawing.Middle: 0.5, drawing.End: 1}[t.Anchor]
	style := ""
	if t.Weight == drawing.Bold {
		style = "B"
	}
	g := int(math.Round(255 * min(max(t.Grey, 0), 1)))
	p.f.SetTextColor(g, g, g)
	if t.Turn != 0 {
		p.f.TransformBegin()
		p.f.TransformRotate(t.Turn, t.At.X, t.At.Y)
	}
	for _, s := range spans {
		p.f.SetFont(family, style, s.Size*perMM)
		p.f.Text(x+s.X, t.At.Y-s.Rise, known(s.S, t.Weight))
	}
	if t.Turn != 0 {
		p.f.TransformEnd()
		p.pen = -1
	}
}

// known puts "?" for what the font cannot draw.
func known(s string, w drawing.Weight) string {
	return strings.Map(func(c rune) rune {
		if !drawing.Has(c, w) {
			return '?'
		}
		return c
	}, s)
}

func (p *printer) pt(a drawing.Pt) string { return num(a.X*perMM) + " " + num((p.h-a.Y)*perMM) }

// num prints to a thousandth of a point, 0.35 µm. What is no number is 0.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	s := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.3f", v), "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
