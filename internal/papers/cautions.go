package papers

import (
	"casewright/internal/drawing"
	"casewright/internal/route"
)

// cautionRoom is the height that the cautions of the operations take at the
// width.
func cautionRoom(width float64, ops ...route.Work) float64 {
	h := 0.0
	columns := cautionColumns(width)
	for _, c := range columns.split(ops) {
		h = max(h, columns.height(c))
	}
	return h + 9 + blockHeight(route.LastWord, sizeNote, width-4, drawing.Regular)
}

// caution sets the cautions of the operations in r, in columns.
func (s *set) cautions(sheet *drawing.Sheet, r drawing.Rect, ops ...route.Work) {
	sheet.Add(drawing.Box(drawing.PenMedium, r))
	in := r.Inset(2)
	sheet.Add(drawing.Text{At: drawing.Pt{X: in.X, Y: in.Y + 2.6}, S: "Mind", Size: sizeSub, Weight: drawing.Bold})
	columns := cautionColumns(r.W)
	x := in.X
	for _, col := range columns.split(ops) {
		y := in.Y + 4.2
		for _, c := range col {
			dot := drawing.Pt{X: x + 0.8, Y: y + sizeNote*0.62}
			sheet.Add(drawing.Disc(drawing.Black, dot, 0.5))
			box := drawing.Rect{X: x + 2.6, Y: y, W: columns.width - 2.6, H: 1}
			y = sheet.TextBlock(box, cautionText(c), sizeNote, drawing.Regular).Y + 0.7
		}
		x += columns.width + columns.gap
	}
	h := blockHeight(route.LastWord, sizeNote, in.W, drawing.Bold)
	sheet.TextBlock(drawing.Rect{X: in.X, Y: in.Bottom() - h, W: in.W, H: h}, route.LastWord, sizeNote, drawing.Bold)
}

const sizeSub = 3.2

func cautionText(c route.Caution) string {
	if c.Source == route.Common {
		return c.Says
	}
	return c.Says + " [" + c.Source + "]"
}

// columnSet is how cautions stand side by side.
type columnSet struct {
	n          int
	width, gap float64
}

func cautionColumns(width float64) columnSet {
	c := columnSet{n: 2, gap: 5}
	if width > 230 {
		c.n = 3
	}
	c.width = (width - 4 - c.gap*float64(c.n-1)) / float64(c.n)
	return c
}

func (c columnSet) height(list []route.Caution) float64 {
	h := 0.0
	for _, x := range list {
		h += blockHeight(cautionText(x), sizeNote, c.width-2.6, drawing.Regular) + 0.7
	}
	return h
}

// split spreads the cautions over the columns in order, so that the tallest
// column is as short as can be.
func (c columnSet) split(ops []route.Work) [][]route.Caution {
	var all []route.Caution
	total := 0.0
	for _, op := range ops {
		all = append(all, route.Cautions(op)...)
	}
	total = c.height(all)
	for limit := total / float64(c.n); ; limit += 1 {
		out := make([][]route.Caution, 1, c.n)
		h := 0.0
		for _, x := range all {
			one := c.height([]route.Caution{x})
			if h > 0 && h+one > limit {
				out, h = append(out, nil), 0
			}
			out[len(out)-1] = append(out[len(out)-1], x)
			h += one
		}
		if len(out) <= c.n {
			return out
		}
	}
}
