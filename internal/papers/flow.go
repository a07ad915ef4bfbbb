package papers

import (
	"strings"

	"casewright/internal/drawing"
)

// flow sets things one under another and goes on to the next page of the same
// paper when there is no room left.
type flow struct {
	s      *set
	place  Place
	name   string
	across bool
	head   string // first line of every page
	page   *page
	r      drawing.Rect // what is left of the page
	fresh  bool         // nothing but the head stands on the page
}

// Sizes of type of the papers, besides those of drawings.
const (
	sizeNote = 2.6 // cautions, sources
	gap      = 3.5 // between things that stand one under another
)

// flow opens a paper whose pages begin with the head.
func (s *set) flow(place Place, name string, across bool, head string) *flow {
	f := &flow{s: s, place: place, name: name, across: across, head: head}
	f.next()
	return f
}

// next opens the next page.
func (f *flow) next() {
	again := f.page != nil
	f.page, f.r = f.s.add(f.place, f.name, f.across)
	head := f.head
	if again && !strings.HasSuffix(head, ", continued") {
		head += ", continued"
	}
	f.r = f.page.sheet.Head(f.r, head)
	f.fresh = true
}

// need goes to the next page unless so much height is left.
func (f *flow) need(h float64) {
	if f.r.H < h && !f.fresh {
		f.next()
	}
}

// took leaves what lies above rest, and a gap.
func (f *flow) took(rest drawing.Rect) {
	f.r = drawing.Rect{X: f.r.X, Y: rest.Y + gap, W: f.r.W, H: f.r.Bottom() - rest.Y - gap}
	f.fresh = false
}

// foot takes so much height off the bottom of the page.
func (f *flow) foot(h float64) drawing.Rect {
	foot := drawing.Rect{X: f.r.X, Y: f.r.Bottom() - h, W: f.r.W, H: h}
	f.r.H -= h + gap
	return foot
}

func (f *flow) text(t string, size float64, w drawing.Weight) {
	lines := drawing.Wrap(t, size, f.r.W, w)
	f.need(float64(len(lines)) * size * drawing.LineHeight)
	f.took(f.page.sheet.TextBlock(f.r, t, size, w))
}

// sub sets a heading within the paper, with room for what follows.
func (f *flow) sub(t string, follows float64) {
	f.need(8 + follows)
	if !f.fresh {
		f.r.Y += 1.5
		f.r.H -= 1.5
	}
	rest := f.page.sheet.TextBlock(f.r, t, 3.6, drawing.Bold)
	rest.Y -= gap - 1
	f.took(rest)
}

// table sets a table, on further pages where it needs them.
func (f *flow) table(columns []drawing.Column, rows [][]string, st drawing.TableStyle) {
	for len(rows) > 0 {
		f.need(drawing.TableHeight(f.r.W, columns, rows[:1], st))
		rest, below := f.page.sheet.Table(f.r, columns, rows, st)
		f.took(below)
		if rows = rest; len(rows) > 0 {
			f.next()
		}
	}
}

// tight sets a table in somewhat smaller type where that saves a page.
func (f *flow) tight(columns []drawing.Column, rows [][]string, st drawing.TableStyle) {
	full := room(f.page.paper).H - 12
	pages := func(size float64) int {
		n, left := 1, f.r.H
		head := drawing.TableHeight(f.r.W, columns, nil, drawing.TableStyle{Size: size})
		h := head
		for i := range rows {
			one := drawing.TableHeight(f.r.W, columns, rows[i:i+1], drawing.TableStyle{Size: size}) - head
			if h+one > left && h > head {
				n, left, h = n+1, full, head
			}
			h += one
		}
		return n
	}
	want := st
	for size := st.Size; size >= leastType; size -= 0.05 {
		if pages(size) < pages(st.Size) {
			want.Size = size
			break
		}
	}
	f.table(columns, rows, want)
}

// leastType is the smallest type of a table.
const leastType = 2.45

// blockHeight is the height of a text set by TextBlock.
func blockHeight(t string, size, width float64, w drawing.Weight) float64 {
	return float64(len(drawing.Wrap(t, size, width, w))) * size * drawing.LineHeight
}
