package svg

import (
	"fmt"
	"io"
	"strings"

	"casewright/internal/drawing"
)

// A live picture is put into a page, as large in pixels as drawing.Pixel
// says. It has no colours and no typeface of its
// own: ink is currentColor, thinner where the printed line is grey; the page
// colours the classes paper (what lies under words), tone (areas), and those
// of the pens. Only groups that can be picked take the pointer: parts, as
// <g data-part>, and sizes that can be typed over, as
// <g class="dim" data-path data-value role="button" tabindex="0">.
func writeLive(w io.Writer, s drawing.Sheet) error {
	p := &live{}
	p.f(`<svg xmlns="http://www.w3.org/2000/svg" class="live" width="%s" height="%s" viewBox="0 0 %s %s" fill="none" stroke-linejoin="round" pointer-events="none"`,
		num(s.W/drawing.Pixel), num(s.H/drawing.Pixel), num(s.W), num(s.H))
	if s.Title != "" {
		p.f(` role="group" aria-label="%s"`, Escape(s.Title))
	}
	p.f(">\n")
	p.items(s.Items)
	p.f("</svg>\n")
	_, err := io.WriteString(w, p.b.String())
	return err
}

// live writes for a page; paths and numbers are those of the printer.
type live struct {
	b     strings.Builder
	clips int
}

func (p *live) f(format string, args ...any) { fmt.Fprintf(&p.b, format, args...) }

func (p *live) items(items []drawing.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Stroke:
			l := it.Pen.Line()
			p.f(`<path class="pen %s" d="%s" stroke="currentColor" stroke-width="%s"%s`, l.Name, data(it.Paths), num(l.Width), opacity("stroke", l.Grey))
			if len(l.Dash) > 0 {
				var d []string
				for _, v := range l.Dash {
					d = append(d, num(v))
				}
				p.f(` stroke-dasharray="%s"`, strings.Join(d, " "))
			}
			p.f("/>\n")
		case drawing.Fill:
			p.fill(it)
		case drawing.Text:
			p.text(it)
		case drawing.Clip:
			p.clips++
			r := it.Window
			p.f(`<svg x="%s" y="%s" width="%s" height="%s" viewBox="%[1]s %[2]s %[3]s %[4]s">`+"\n", num(r.X), num(r.Y), num(r.W), num(r.H))
			p.items(it.Items)
			p.f("</svg>\n")
		case drawing.Group:
			p.group(it)
		}
	}
}

func (p *live) group(g drawing.Group) {
	switch {
	case g.Field != "":
		p.f(`<g class="dim" data-path="%s" data-value="%s" role="button" tabindex="0" aria-label="%s" pointer-events="all">`+"\n", Escape(g.Field), Escape(g.Value), Escape(g.Says))
	case g.Part != "":
		p.f(`<g class="part" data-part="%s" pointer-events="all">`+"\n", Escape(g.Part))
	default:
		p.f("<g>\n")
	}
	p.items(g.Items)
	p.f("</g>\n")
}

func (p *live) fill(f drawing.Fill) {
	switch f.Tone {
	case drawing.White:
		p.f(`<path class="paper" d="%s" fill-rule="evenodd"/>`+"\n", data(f.Paths))
	case drawing.Clear:
		p.f(`<path class="pick" d="%s" fill="transparent" fill-rule="evenodd"/>`+"\n", data(f.Paths))
	default:
		p.f(`<path class="tone" d="%s" fill="currentColor"%s fill-rule="evenodd"/>`+"\n", data(f.Paths), opacity("fill", f.Tone.Grey()))
	}
}

// text is one run whose widths are the page's affair: its anchor stands where
// it stood on paper.
func (p *live) text(t drawing.Text) {
	spans, _ := t.Spans()
	if len(spans) == 0 {
		return
	}
	class := "type"
	if t.Grey > 0 {
		class += " pencil"
	}
	p.f(`<text class="%s" xml:space="preserve" fill="currentColor"%s x="%s" y="%s" font-size="%s"`, class, opacity("fill", t.Grey), num(t.At.X), num(t.At.Y), num(t.Size))
	if a := map[drawing.Anchor]string{drawing.Middle: "middle", drawing.End: "end"}[t.Anchor]; a != "" {
		p.f(` text-anchor="%s"`, a)
	}
	if t.Weight == drawing.Bold {
		p.f(` font-weight="bold"`)
	}
	if t.Turn != 0 {
		p.f(` transform="rotate(%s %s %s)"`, num(-t.Turn), num(t.At.X), num(t.At.Y))
	}
	p.f(">")
	rise := 0.0
	for _, s := range spans {
		if len(spans) == 1 {
			p.f("%s", Escape(s.S))
			continue
		}
		p.f(`<tspan font-size="%s"`, num(s.Size))
		if s.Rise != rise {
			p.f(` dy="%s"`, num(rise-s.Rise))
			rise = s.Rise
		}
		p.f(">%s</tspan>", Escape(s.S))
	}
	p.f("</text>\n")
}

// opacity stands for a grey: so it is right on dark paper too.
func opacity(of string, grey float64) string {
	if grey == 0 {
		return ""
	}
	return fmt.Sprintf(` %s-opacity="%s"`, of, num(1-grey))
}
