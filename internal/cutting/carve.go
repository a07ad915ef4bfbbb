package cutting

import (
	"cmp"
	"slices"

	"casewright/internal/unit"
)

// A board in the search is its usable wood. As in a problem the kerf is taken
// out: board and parts are one kerf larger each way, and a defect begins one
// kerf later, since the blade may run through it. Lengths are not scaled.
type board struct {
	sheet   int // index into the problem's sheets
	w, h    unit.Length
	x, y    unit.Length // where the usable wood begins on the board as bought
	defects []cell
	order   CutOrder
	tone    int
	area    float64
}

// A cell is a rectangle of a board; a defect may have its ends the wrong way
// round when it is narrower than the kerf.
type cell struct{ x1, y1, x2, y2 unit.Length }

func (c cell) area() float64 { return float64(c.x2-c.x1) * float64(c.y2-c.y1) }

// over reports whether a part that fills p touches the defect c.
func (c cell) over(p cell) bool {
	return p.x1 < c.x2 && p.x2 > c.x1 && p.y1 < c.y2 && p.y2 > c.y1
}

// laid is a part on a board.
type laid struct {
	cell
	typ int32
	rot bool
}

// clear reports whether p is free of defects.
func (b *board) clear(p cell) bool {
	for _, d := range b.defects {
		if d.over(p) {
			return false
		}
	}
	return true
}

func newBoard(job *Job, p *problem, at int) board {
	s := job.Sheets[p.sheets[at].job]
	w, h := s.Usable()
	b := board{sheet: at, w: w + job.Kerf, h: h + job.Kerf, x: s.Trim.Left, y: s.Trim.Bottom, order: job.orderOf(s), tone: s.Tone}
	b.area = float64(b.w) * float64(b.h)
	for _, d := range s.Defects {
		c := cell{d.X - b.x + job.Kerf, d.Y - b.y + job.Kerf, d.X + d.W - b.x, d.Y + d.H - b.y}
		if c.x1 < b.w && c.y1 < b.h && c.x2 > 0 && c.y2 > 0 {
			b.defects = append(b.defects, c)
		}
	}
	return b
}

// orderOf is the order in which a sheet is cut up.
func (j *Job) orderOf(s Sheet) CutOrder {
	if s.Order == AnyOrder && j.Stages > 0 {
		if j.Run == Crosswise {
			return CrosscutFirst
		}
		return RipFirst
	}
	return s.Order
}

// cellOf is the cell that a part laid out on the board fills.
func (b *board) cellOf(q Placed, kerf unit.Length) cell {
	return cell{q.X - b.x, q.Y - b.y, q.X - b.x + q.W + kerf, q.Y - b.y + q.H + kerf}
}

func (b *board) whole() cell { return cell{0, 0, b.w, b.h} }

// ordered is the direction of the first cuts that the board's order asks for;
// any is taken where it asks for none.
func (b *board) first(anyhow bool) bool {
	switch b.order {
	case CrosscutFirst:
		return true
	case RipFirst:
		return false
	}
	return anyhow
}

// A carving is a cell cut up as far as cuts go: in one direction wherever a
// blade passes between parts, each piece then in the other, and so on. Cutting
// wherever it is possible never spoils a later cut.
type carving struct {
	cell
	part  int  // index of the part, or one of the words below
	vert  bool // of a split: its cuts run across the board; of a rest: those that freed it do
	stage int  // of those cuts, from 1; 0: the rest is a whole board
	kids  []carving
}

// What a carving is when it is no part.
const (
	isRest  = -1
	isSplit = -2
	isStuck = -3 // several parts that no cut parts
)

// carve cuts a cell up, first in the direction vert, at the stage given. With
// push, parts move towards the lower left corner as far as defects let them.
func (b *board) carve(c cell, parts []laid, at []int, vert bool, stage int, push bool) carving {
	if len(at) == 0 {
		return carving{cell: c, part: isRest, vert: vert, stage: stage - 1}
	}
	groups := grouped(parts, at, vert)
	start, end := c.along(vert)
	if lo, hi := span(parts, at, vert); len(groups) == 1 && lo == start && hi == end {
		low, high := c.along(!vert)
		switch lo, hi := span(parts, at, !vert); {
		case len(at) == 1 && lo == low && hi == high:
			return carving{cell: c, part: at[0]}
		case lo == low && hi == high && len(grouped(parts, at, !vert)) == 1:
			return carving{cell: c, part: isStuck}
		}
		return b.carve(c, parts, at, !vert, stage+1, push)
	}
	out := carving{cell: c, part: isSplit, vert: vert, stage: stage}
	rest := func(lo, hi unit.Length) {
		if lo < hi {
			out.kids = append(out.kids, carving{cell: c.slice(vert, lo, hi), part: isRest, vert: vert, stage: stage})
		}
	}
	for _, g := range groups {
		if push {
			b.push(parts, g, vert, start)
		}
		lo, hi := span(parts, g, vert)
		rest(start, lo)
		out.kids = append(out.kids, b.carve(c.slice(vert, lo, hi), parts, g, !vert, stage+1, push))
		start = hi
	}
	rest(start, end)
	return out
}

// carved is the whole board carved up.
func (b *board) carved(parts []laid, vert, push bool) carving {
	if len(parts) == 0 {
		return carving{cell: b.whole(), part: isRest, vert: b.first(vert), stage: b.startStage()}
	}
	at := make([]int, len(parts))
	for i := range at {
		at[i] = i
	}
	return b.carve(b.whole(), parts, at, b.first(vert), 1, push)
}

// startStage is that of the uncut board: one that is cut in a given order
// counts as freed by cuts of the first stage.
func (b *board) startStage() int {
	if b.order == AnyOrder {
		return 0
	}
	return 1
}

// along is the cell's extent in x when vert is set, else in y.
func (c cell) along(vert bool) (lo, hi unit.Length) {
	if vert {
		return c.x1, c.x2
	}
	return c.y1, c.y2
}

// slice is the part of the cell between two cuts.
func (c cell) slice(vert bool, lo, hi unit.Length) cell {
	if vert {
		return cell{lo, c.y1, hi, c.y2}
	}
	return cell{c.x1, lo, c.x2, hi}
}

func span(parts []laid, at []int, vert bool) (lo, hi unit.Length) {
	lo, hi = parts[at[0]].along(vert)
	for _, i := range at[1:] {
		a, b := parts[i].along(vert)
		lo, hi = min(lo, a), max(hi, b)
	}
	return lo, hi
}

// grouped sorts parts along a direction and parts them wherever a cut passes.
func grouped(parts []laid, at []int, vert bool) [][]int {
	sorted := slices.Clone(at)
	slices.SortFunc(sorted, func(i, j int) int {
		a, _ := parts[i].along(vert)
		b, _ := parts[j].along(vert)
		return cmp.Or(cmp.Compare(a, b), i-j)
	})
	var out [][]int
	start := 0
	var reach unit.Length
	for k, i := range sorted {
		lo, hi := parts[i].along(vert)
		if k > start && lo >= reach {
			out = append(out, sorted[start:k:k])
			start = k
		}
		if k == start {
			reach = hi
		}
		reach = max(reach, hi)
	}
	return append(out, sorted[start:])
}

// push moves a group of parts back to pos, or as near as defects let it.
func (b *board) push(parts []laid, group []int, vert bool, pos unit.Length) {
	lo, _ := span(parts, group, vert)
	by := lo - pos
	for again := by > 0; again && by > 0; {
		again = false
		for _, i := range group {
			p := parts[i].moved(vert, -by)
			for _, d := range b.defects {
				if d.over(p) {
					_, far := d.along(vert)
					near, _ := p.along(vert)
					by -= far - near
					again = true
					break
				}
			}
			if again {
				break
			}
		}
	}
	if by > 0 {
		for _, i := range group {
			parts[i].cell = parts[i].moved(vert, -by)
		}
	}
}

func (c cell) moved(vert bool, by unit.Length) cell {
	if vert {
		return cell{c.x1 + by, c.y1, c.x2 + by, c.y2}
	}
	return cell{c.x1, c.y1 + by, c.x2, c.y2 + by}
}
