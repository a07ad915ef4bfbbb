package cutting

import (
	"cmp"
	"context"
	"slices"
)

// A ripping is the program of panels cut in two stages: sheets are ripped into
// strips, strips crosscut into parts. Strips and the ways to rip a sheet have
// columns of their own, and a row for each kind of strip says that no more
// strips are crosscut than are ripped. So it knows how many strips of each width
// there are, which a program over whole sheets does not. Those are whole
// numbers, and a tree that branches on them says more than patterns of whole
// sheets do.
type ripping struct {
	p      *problem
	ctx    context.Context
	work   *int // in cells of tables and of the program's matrix
	rng    rng
	widths []ripWidth
	kinds  []ripKind
	ways   []ripWay
	cols   []ripCol
	known  map[string]bool // columns, by name
	unit   int64           // prices are multiples of it
	stock  []int           // of each sheet, how many may be used
	many   int             // strips that tables of sheets add up, at most
}

// A ripWidth is all strips of one width that run one way. They hold the parts
// that are no wider, each lying so that it takes the least of the length.
type ripWidth struct {
	vert bool // strips run along Y
	wide int64
	from *filler // of bars: the strips
	of   []int   // of each type of from: the type of the problem
}

// A ripKind is a strip of some width and length.
type ripKind struct {
	width int
	room  int64
}

// A ripWay is a sheet cut into strips that run one way.
type ripWay struct {
	sheet  int
	vert   bool
	across int64
	kinds  []int   // of strips that it can be cut into, the narrowest first
	from   *filler // of bars: its width
	most   []int
}

// A ripCol is a strip, crosscut (way < 0), or a sheet, ripped into strips.
type ripCol struct {
	way  int
	kind int   // of the strip
	use  []run // parts of the strip, or strips of the sheet by kind
}

// Limits of a ripping.
const (
	ripTypes = 60     // of parts
	ripKinds = 120    // of strips
	ripCells = 12_000 // of the table for strips of one width, by trial on four jobs: with 400,000 trees took three times as long
)

// newRipping is nil where sheets are not cut in two stages, or there is too much
// of it.
func (p *problem) newRipping(r rng) *ripping {
	if p.depth != 2 || p.flat() || p.value == LeastHeight || len(p.types) > ripTypes {
		return nil
	}
	l := &ripping{p: p, work: new(int), rng: r, known: map[string]bool{}, unit: p.priceStep()}
	for _, s := range p.sheets {
		l.stock = append(l.stock, s.stock)
	}
	kinds := 0
	for _, vert := range []bool{false, true} {
		if p.run.begins(vert) {
			kinds += len(p.stripWidths(vert)) * len(p.stripLengths(vert))
		}
	}
	if kinds > ripKinds {
		return nil
	}
	for _, vert := range []bool{false, true} {
		if p.run.begins(vert) {
			l.setUp(vert)
		}
	}
	return l
}

// stripWidths are the widths that strips may have, the narrowest first.
func (p *problem) stripWidths(vert bool) (wide []int64) {
	for i := range p.types {
		_, across := p.types[i].lies(vert, false)
		wide = append(wide, across)
		if p.types[i].turn {
			_, across = p.types[i].lies(vert, true)
			wide = append(wide, across)
		}
	}
	slices.Sort(wide)
	return slices.Compact(wide)
}

// stripLengths are the lengths that strips have, the shortest first.
func (p *problem) stripLengths(vert bool) (rooms []int64) {
	for i := range p.sheets {
		along, _ := p.sheets[i].side(vert)
		rooms = append(rooms, along)
	}
	slices.Sort(rooms)
	return slices.Compact(rooms)
}

// lies is a part's size along strips and across them.
func (t *ptype) lies(vert, turned bool) (along, across int64) {
	if vert != turned {
		return t.h, t.w
	}
	return t.w, t.h
}

// side is a sheet's size along strips and across them.
func (s *psheet) side(vert bool) (along, across int64) {
	if vert {
		return s.h, s.w
	}
	return s.w, s.h
}

// turned tells which way a part lies in a strip: the one that takes less of its
// length. It is false where it fits neither way.
func (t *ptype) turned(vert bool, wide int64) (rot, ok bool) {
	a, x := t.lies(vert, false)
	b, y := t.lies(vert, true)
	switch {
	case t.turn && y <= wide && (x > wide || b < a):
		return true, true
	default:
		return false, x <= wide
	}
}

// setUp makes the strips that run one way, and the ways to rip sheets.
func (l *ripping) setUp(vert bool) {
	p := l.p
	rooms := p.stripLengths(vert)
	first := len(l.kinds)
	for _, across := range p.stripWidths(vert) {
		for _, room := range rooms {
			l.kinds = append(l.kinds, ripKind{len(l.widths), room})
		}
		l.widths = append(l.widths, p.ripWidth(vert, across, rooms[len(rooms)-1]))
	}
	for i := range p.sheets {
		along, across := p.sheets[i].side(vert)
		w := ripWay{sheet: i, vert: vert, across: across}
		q := &problem{sheets: []psheet{{w: across, h: 1}}}
		for k := first; k < len(l.kinds); k++ {
			if wide := l.widths[l.kinds[k].width].wide; l.kinds[k].room == along && wide <= across {
				q.types = append(q.types, ptype{w: wide, h: 1})
				w.kinds = append(w.kinds, k)
				w.most = append(w.most, min(int(across/wide), p.pieces()))
			}
		}
		w.from = newFiller(q)
		w.from.size = ripCells
		strips := 0
		for _, n := range w.most {
			strips += n
		}
		l.many = max(l.many, strips)
		l.ways = append(l.ways, w)
	}
}

// ripWidth makes the strips of one width, up to the length room.
func (p *problem) ripWidth(vert bool, wide, room int64) ripWidth {
	c := ripWidth{vert: vert, wide: wide}
	q := &problem{sheets: []psheet{{w: room, h: 1}}}
	for i := range p.types {
		t := &p.types[i]
		if rot, ok := t.turned(vert, wide); ok {
			along, _ := t.lies(vert, rot)
			q.types = append(q.types, ptype{w: along, h: 1, qty: t.qty})
			c.of = append(c.of, i)
		}
	}
	c.from = newFiller(q)
	c.from.size = ripCells
	return c
}

// learn makes a column known; it reports whether it is new.
func (l *ripping) learn(c ripCol) bool {
	slices.SortFunc(c.use, func(a, b run) int { return cmp.Compare(a.typ, b.typ) })
	name := patternKey((c.way+1)<<12|c.kind, c.use)
	if len(c.use) == 0 || l.known[name] {
		return false
	}
	l.known[name] = true
	l.cols = append(l.cols, c)
	return true
}

// up rounds a value up to what sheets can cost.
func (l *ripping) up(v float64) int64 {
	return ceilSafe(max(0, v)/float64(l.unit)) * l.unit
}
