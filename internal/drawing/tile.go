package drawing

import (
	"fmt"
	"math"
)

// Overlap is how far neighbouring tiles show the same, in millimetres.
const Overlap = 10.0

// Tiling says how a drawing of full size is spread over sheets.
type Tiling struct {
	Paper Paper
	Title TitleBlock // Page and Of count the tiles
	Size  Rect       // what is drawn, in millimetres on paper
}

// window is the room for the drawing on a sheet: within the frame, above the
// check bars.
func (t Tiling) window() Rect {
	s := Sheet{W: t.Paper.W, H: t.Paper.H}
	r := Frame(&s, TitleBlock{})
	return Rect{r.X, r.Y, r.W - tileSide, r.H - tileFoot}
}

// tileFoot is the height kept for bars and page map under a tile.
const tileFoot = 22.0

// tileSide is the width kept for the standing bar beside a tile.
const tileSide = 7.0

// Windows gives, row by row, the part of the drawing that each tile shows.
// Together they cover it, each sharing Overlap with its neighbours.
func (t Tiling) Windows() (windows []Rect, columns, rows int) {
	w := t.window()
	stepX, stepY := w.W-Overlap, w.H-Overlap
	columns = max(1, int(math.Ceil((t.Size.W-Overlap)/stepX-1e-9)))
	rows = max(1, int(math.Ceil((t.Size.H-Overlap)/stepY-1e-9)))
	for r := range rows {
		for c := range columns {
			windows = append(windows, Rect{t.Size.X + float64(c)*stepX, t.Size.Y + float64(r)*stepY, w.W, w.H})
		}
	}
	return windows, columns, rows
}

// MostTiles is the most sheets that one drawing is spread over.
const MostTiles = 200

// Tile spreads items drawn at full size over as many sheets as they need. Each
// has the overlap marked, registration marks where the corners of its
// neighbours come, a map of the pages, and check bars both ways. The error
// says when the drawing is too large to print sensibly.
func Tile(items []Item, t Tiling) ([]Sheet, error) {
	windows, columns, rows := t.Windows()
	if len(windows) > MostTiles {
		return nil, fmt.Errorf("a drawing of %.0f by %.0f mm takes %d sheets of %s; print it on a plotter or draw less of it", t.Size.W, t.Size.H, len(windows), t.Paper.Name)
	}
	var sheets []Sheet
	for i, win := range windows {
		col, row := i%columns, i/columns
		s := NewSheet(t.Paper, t.Title.Paper)
		t.Title.Page, t.Title.Of = i+1, len(windows)
		t.Title.Scale = "1:1"
		room := Frame(s, t.Title)
		view := Rect{room.X, room.Y, win.W, win.H}
		s.Add(Clip{Window: view, Items: Shift(items, view.X-win.X, view.Y-win.Y)})
		s.overlapMarks(view, col, row, columns, rows)
		s.CheckBars(Pt{view.X, view.Bottom() + 5}, false)
		s.pageMap(Rect{view.X + 112, view.Bottom() + 4, view.W - 112 + tileSide, tileFoot - 4}, col, row, columns, rows)
		s.standingBars(view)
		sheets = append(sheets, *s)
	}
	return sheets, nil
}

// standingBars draws bars of 100 mm and 4 in along the right edge, one above
// the other, since a printer may stretch the two ways unlike.
func (s *Sheet) standingBars(view Rect) {
	x := view.Right() + 3
	bar := func(bottom, length float64, parts int, name string) {
		top := bottom - length
		s.Add(Segment(PenMedium, Pt{x, top}, Pt{x, bottom}))
		for j := 0; j <= parts; j++ {
			y := top + length*float64(j)/float64(parts)
			s.Add(Segment(PenThin, Pt{x - 0.6, y}, Pt{x + 0.6, y}))
		}
		s.Add(Text{At: Pt{x + 3.4, top + length/2}, S: name, Size: SizeSmall, Turn: 90, Anchor: Middle})
	}
	bar(view.Bottom(), 100, 10, "100 mm")
	bar(view.Bottom()-100-5, 4*25.4, 4, "4 in")
}

// overlapMarks shows where the neighbours' edges come to lie.
func (s *Sheet) overlapMarks(v Rect, col, row, columns, rows int) {
	var xs, ys []float64
	if col > 0 {
		xs = append(xs, v.X+Overlap/2)
	}
	if col < columns-1 {
		xs = append(xs, v.Right()-Overlap/2)
	}
	if row > 0 {
		ys = append(ys, v.Y+Overlap/2)
	}
	if row < rows-1 {
		ys = append(ys, v.Bottom()-Overlap/2)
	}
	for _, x := range xs {
		s.Add(Segment(PenCut, Pt{x, v.Y}, Pt{x, v.Bottom()}))
	}
	for _, y := range ys {
		s.Add(Segment(PenCut, Pt{v.X, y}, Pt{v.Right(), y}))
	}
	// The marks stand on the join lines, so that each is printed on both sheets.
	mark := func(x, y float64, c, r int, way string) {
		s.Add(registration(Pt{x, y}, fmt.Sprintf("%s%s", pageName(c, r), way), x > v.X+v.W/2)...)
	}
	for _, at := range []float64{0.2, 0.8} {
		n := map[float64]string{0.2: "1", 0.8: "2"}[at]
		if col > 0 {
			mark(v.X+Overlap/2, v.Y+at*v.H, col-1, row, "→"+n)
		}
		if col < columns-1 {
			mark(v.Right()-Overlap/2, v.Y+at*v.H, col, row, "→"+n)
		}
		if row > 0 {
			mark(v.X+at*v.W, v.Y+Overlap/2, col, row-1, "↓"+n)
		}
		if row < rows-1 {
			mark(v.X+at*v.W, v.Bottom()-Overlap/2, col, row, "↓"+n)
		}
	}
}

// pageMap draws how the sheets lie together, with this one marked.
func (s *Sheet) pageMap(r Rect, col, row, columns, rows int) {
	cell := min(7, r.W/float64(columns), r.H/float64(rows))
	x0 := r.Right() - cell*float64(columns)
	for i := range rows {
		for j := range columns {
			c := Rect{x0 + cell*float64(j), r.Y + cell*float64(i), cell, cell}
			if i == row && j == col {
				s.Add(Area(Mid, c))
			}
			s.Add(Box(PenThin, c))
			if cell >= 5 {
				s.Add(Text{At: Pt{c.X + cell/2, c.Y + cell/2 + 0.85}, S: pageName(j, i), Size: SizeSmall, Anchor: Middle, Plain: true})
			}
		}
	}
	s.Add(Text{At: Pt{x0 - 2, r.Y + 3}, S: "Page " + pageName(col, row), Size: SizeText, Weight: Bold, Anchor: End, Plain: true})
}

// Shift moves items by (x, y).
func Shift(items []Item, x, y float64) []Item {
	return transform(items, mapping{k: 1, x: x, y: y})
}

// mapping takes a point p to (x + k·p.X, y + k·p.Y), y counted the other way
// when flip is set.
type mapping struct {
	k, x, y float64
	flip    bool
}

func (m mapping) pt(p Pt) Pt {
	if m.flip {
		return Pt{m.x + m.k*p.X, m.y - m.k*p.Y}
	}
	return Pt{m.x + m.k*p.X, m.y + m.k*p.Y}
}

func (m mapping) rect(r Rect) Rect {
	a, b := m.pt(Pt{r.X, r.Y}), m.pt(Pt{r.Right(), r.Bottom()})
	return Rect{min(a.X, b.X), min(a.Y, b.Y), m.k * r.W, m.k * r.H}
}

func (m mapping) paths(paths []Path) []Path {
	out := make([]Path, len(paths))
	for i, p := range paths {
		q := Path{Nodes: make([]Node, len(p.Nodes)), Closed: p.Closed}
		for j, n := range p.Nodes {
			b := n.Bulge
			if m.flip {
				b = -b
			}
			q.Nodes[j] = Node{m.pt(n.Pt), b}
		}
		out[i] = q
	}
	return out
}

// transform maps places; pens and type keep their size on paper.
func transform(items []Item, m mapping) []Item {
	out := make([]Item, 0, len(items))
	for _, it := range items {
		switch it := it.(type) {
		case Stroke:
			it.Paths = m.paths(it.Paths)
			out = append(out, it)
		case Fill:
			it.Paths = m.paths(it.Paths)
			out = append(out, it)
		case Text:
			it.At = m.pt(it.At)
			out = append(out, it)
		case Clip:
			out = append(out, Clip{m.rect(it.Window), transform(it.Items, m)})
		case Group:
			it.Items = transform(it.Items, m)
			out = append(out, it)
		}
	}
	return out
}
