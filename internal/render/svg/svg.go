// Package svg writes a sheet as a picture in SVG 1.1. Text stays text, and
// the same sheet gives the same bytes.
package svg

import (
	"encoding/base64"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"casewright/internal/drawing"
)

// Options chooses how a picture is written.
type Options struct {
	EmbedFont bool // carry the font within the file (0.5 MB); else a like one of the reader's is used
	Live      bool // part of a page: coloured and set in type by the page, with what can be picked
}

// Write writes the sheet. Sizes are in millimetres, as on paper.
func Write(w io.Writer, s drawing.Sheet, o Options) error {
	if o.Live {
		return writeLive(w, s)
	}
	p := &printer{}
	p.f(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="'%s', Arimo, Helvetica, Arial, sans-serif" fill="none" stroke-linejoin="round">`+"\n",
		num(s.W), num(s.H), num(s.W), num(s.H), drawing.FontName)
	if s.Title != "" {
		p.f("<title>%s</title>\n", Escape(s.Title))
	}
	if o.EmbedFont {
		p.f("<style>\n")
		for _, w := range []drawing.Weight{drawing.Regular, drawing.Bold} {
			p.f("@font-face{font-family:'%s';font-weight:%s;src:url(data:font/ttf;base64,%s)}\n", drawing.FontName,
				weight(w), base64.StdEncoding.EncodeToString(drawing.FontFile(w)))
		}
		p.f("</style>\n")
	}
	p.f(`<rect width="%s" height="%s" fill="#fff"/>`+"\n", num(s.W), num(s.H))
	p.items(s.Items)
	p.f("</svg>\n")
	_, err := io.WriteString(w, p.b.String())
	return err
}

type printer struct {
	b     strings.Builder
	clips int
}

func (p *printer) f(format string, args ...any) { fmt.Fprintf(&p.b, format, args...) }

func (p *printer) items(items []drawing.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Stroke:
			l := it.Pen.Line()
			p.f(`<path d="%s" stroke="%s" stroke-width="%s"`, data(it.Paths), grey(l.Grey), num(l.Width))
			if len(l.Dash) > 0 {
				var d []string
				for _, v := range l.Dash {
					d = append(d, num(v))
				}
				p.f(` stroke-dasharray="%s"`, strings.Join(d, " "))
			}
			p.f("/>\n")
		case drawing.Fill:
			if it.Tone == drawing.Clear {
				continue
			}
			p.f(`<path d="%s" fill="%s" fill-rule="evenodd"/>`+"\n", data(it.Paths), grey(it.Tone.Grey()))
		case drawing.Text:
			p.text(it)
		case drawing.Clip:
			p.clips++
			r := it.Window
			p.f(`<clipPath id="c%d"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath>`+"\n", p.clips, num(r.X), num(r.Y), num(r.W), num(r.H))
			p.f(`<g clip-path="url(#c%d)">`+"\n", p.clips)
			p.items(it.Items)
			p.f("</g>\n")
		case drawing.Group:
			p.items(it.Items)
		}
	}
}

func (p *printer) text(t drawing.Text) {
	spans, w := t.Spans()
	if len(spans) == 0 {
		return
	}
	x := t.At.X - w*map[drawing.Anchor]float64{drawing.Middle: 0.5, drawing.End: 1}[t.Anchor]
	p.f(`<text xml:space="preserve" fill="%s"`, grey(t.Grey))
	if t.Weight == drawing.Bold {
		p.f(` font-weight="bold"`)
	}
	if t.Turn != 0 {
		p.f(` transform="rotate(%s %s %s)"`, num(-t.Turn), num(t.At.X), num(t.At.Y))
	}
	if len(spans) == 1 {
		p.f(` x="%s" y="%s" font-size="%s">%s</text>`+"\n", num(x), num(t.At.Y), num(t.Size), Escape(spans[0].S))
		return
	}
	p.f(">")
	for _, s := range spans {
		p.f(`<tspan x="%s" y="%s" font-size="%s">%s</tspan>`, num(x+s.X), num(t.At.Y-s.Rise), num(s.Size), Escape(s.S))
	}
	p.f("</text>\n")
}

// data is the d attribute of a path.
func data(paths []drawing.Path) string {
	var b strings.Builder
	for _, p := range paths {
		n := len(p.Nodes)
		for i, a := range p.Nodes {
			if i == 0 {
				b.WriteString("M" + pair(a.Pt))
			}
			if i+1 == n && !p.Closed {
				break
			}
			to := p.Nodes[(i+1)%n].Pt
			switch {
			case a.Bulge != 0:
				r := num(math.Hypot(to.X-a.X, to.Y-a.Y) * (1 + a.Bulge*a.Bulge) / (4 * math.Abs(a.Bulge)))
				fmt.Fprintf(&b, "A%s %s 0 %d %d %s", r, r, flag(math.Abs(a.Bulge) > 1), flag(a.Bulge > 0), pair(to))
			case i+1 < n:
				b.WriteString("L" + pair(to))
			}
		}
		if p.Closed {
			b.WriteString("Z")
		}
	}
	return b.String()
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}

func pair(p drawing.Pt) string { return num(p.X) + " " + num(p.Y) }

// num prints a number of millimetres to a thousandth. What is no number is
// drawn at 0, so that the file stays valid.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	v = math.Round(v*1000) / 1000
	if v == 0 {
		v = 0 // no negative zero
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func grey(v float64) string {
	n := int(math.Round(255 * min(max(v, 0), 1)))
	return fmt.Sprintf("#%02x%02x%02x", n, n, n)
}

func weight(w drawing.Weight) string {
	if w == drawing.Bold {
		return "bold"
	}
	return "normal"
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// Escape makes s safe as text or attribute of XML 1.0.
func Escape(s string) string { return escaper.Replace(drawing.Clean(s)) }
