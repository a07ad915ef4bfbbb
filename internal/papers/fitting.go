package papers

import (
	"cmp"
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// writeIn sets a table whose columns from first to last are to be written in:
// they are ruled off, and the rows stand a page at a time.
func (s *set) writeIn(f *flow, columns []drawing.Column, rows [][]string, first, last int) {
	s.writeInSize(f, columns, rows, first, last, 2.9)
}

// writeInSize is writeIn in type of a size.
func (s *set) writeInSize(f *flow, columns []drawing.Column, rows [][]string, first, last int, size float64) {
	st := drawing.TableStyle{Size: size}
	total := 0.0
	for _, c := range columns {
		total += c.Share
	}
	for len(rows) > 0 {
		f.need(drawing.TableHeight(f.r.W, columns, rows[:1], st))
		top := f.r.Y + drawing.TableHeight(f.r.W, columns, nil, st)
		rest, below := f.page.sheet.Table(f.r, columns, rows, st)
		x := f.r.X
		for i, c := range columns {
			if i >= first && i <= last+1 {
				f.page.sheet.Add(drawing.Segment(drawing.PenThin, drawing.Pt{X: x, Y: top}, drawing.Pt{X: x, Y: below.Y}))
			}
			x += c.Share / total * f.r.W
		}
		f.took(below)
		if rows = rest; len(rows) > 0 {
			f.next()
		}
	}
}

// radii are the different radii of an outline's arcs, largest first.
func radii(o geom.Outline) []unit.Length {
	var out []unit.Length
	for i, v := range o {
		if v.Bulge == 0 {
			continue
		}
		next := o[(i+1)%len(o)].Point
		chord := math.Hypot((next.X - v.X).MM(), (next.Y - v.Y).MM())
		r := unit.MM(chord * (1 + v.Bulge*v.Bulge) / (4 * math.Abs(v.Bulge))).Round(10 * unit.Micrometre)
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b unit.Length) int { return cmp.Compare(b, a) })
	return out
}

func (s *set) rounded(op build.Opening) bool { return op.Corners != [4]unit.Length{} }
