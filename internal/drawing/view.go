package drawing

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"casewright/internal/unit"
)

// View is a drawing that has no scale yet: x right, y up, in millimetres of
// the real thing. Pens and type keep their size on paper at every scale.
type View struct {
	Title    string
	Items    []Item    // lines and areas, in the order in which they are laid down
	Hatches  []Hatch   // cut faces
	Chains   []Chain   // dimensions outside the drawing
	Labels   []Label   // words within it
	Balloons []Balloon // letters outside it, with leaders
	Edges    []EdgeMark
	Grains   []GrainMark
	Ticks    []Ordinates
	Cuts     []CutMark
	Picks    []Pick // what each part covers, for screens; the nearest last
	NoScale  bool   // drawn as large as it fits, at no stated scale
	around   []Side // where balloons may stand; none given: everywhere
}

// Label is words at a place within a view; the first variant that has room
// there at the scale is used, the last in any case.
type Label struct {
	At       Pt
	Room     Rect       // in which the words must stay; empty: no bound
	Variants [][]string // lines, from the fullest to the shortest
	Size     float64    // the most; 0: SizeText
	Weight   Weight
	Turn     float64     // degrees, quarter turns
	Knock    bool        // lines behind the words are left out
	Field    string      // path of the size the words show, where it can be typed over
	Of       unit.Length // that size
}

// Pick is an area that one part covers in a view.
type Pick struct {
	Part  string
	Paths []Path
}

// Balloon is a letter with a leader to a point.
type Balloon struct {
	Letter string
	At     Pt
}

// Side is a side of a view.
type Side int

// The sides.
const (
	Below Side = iota
	LeftOf
	Above
	RightOf
)

// Bounds is the least rectangle about what is drawn, without dimensions,
// balloons and words.
func (v View) Bounds() Rect {
	var all []Path
	for _, it := range v.Items {
		switch it := it.(type) {
		case Stroke:
			all = append(all, it.Paths...)
		case Fill:
			all = append(all, it.Paths...)
		case Clip:
			all = append(all, RectPath(it.Window))
		}
	}
	for _, h := range v.Hatches {
		all = append(all, h.Paths...)
	}
	r, _ := bounds(all)
	return r
}

// Scale is a ratio of the standard series, such as 1:10.
type Scale struct{ Num, Den int }

// Ratio is millimetres on paper for one of the real thing.
func (s Scale) Ratio() float64 {
	if s.Num <= 0 || s.Den <= 0 {
		return 1
	}
	return float64(s.Num) / float64(s.Den)
}

// String is the scale as it is stated: 1:10.
func (s Scale) String() string { return strconv.Itoa(s.Num) + ":" + strconv.Itoa(s.Den) }

// The scales. Those of metric work are of ISO 5455; those of inch work halve,
// so that a ruler in fractions reads them.
var (
	metricScales = []Scale{{10, 1}, {5, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 5}, {1, 10}, {1, 20}, {1, 50}, {1, 100}, {1, 200}}
	inchScales   = []Scale{{8, 1}, {4, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 4}, {1, 8}, {1, 16}, {1, 32}, {1, 64}, {1, 128}}
)

// Options is what a set of drawings has in common.
type Options struct {
	Units   unit.System // the master unit, and the series of scales
	Inches  unit.Style  // how inches are shown; zero: as everywhere
	Single  bool        // leave out the other unit
	Hidden  bool        // show hidden edges dashed
	Letters bool        // letter the parts in balloons
	Dims    bool        // draw the dimension chains
	Live    bool        // for a screen: parts can be picked, sizes typed over
	Fields  []Field     // the sizes that can be; only for a screen
	Corners []Corner    // radii that can be; only for a screen
}

func (o Options) styles() (master, other unit.Style) {
	master, other = o.Units.Leading(), o.Units.Other().Following()
	switch {
	case o.Inches.System() != unit.Imperial:
	case o.Units == unit.Imperial:
		master = o.Inches
	default:
		other = o.Inches
	}
	return master, other
}

// Size writes a length as a drawing shows it: the master figure without its
// unit, which the title block states, and the other in parentheses.
func (o Options) Size(l unit.Length) (master, other string) {
	m, n := o.styles()
	master = bare(l, m)
	if !o.Single {
		other = "(" + bare(l, n) + ")"
	}
	return master, other
}

// place writes a place in the master unit, with its tenths even when they are
// none, so that figures stand under each other.
func (o Options) place(l unit.Length) string {
	m, _ := o.styles()
	s := l.Format(m)
	return s[:len(s)-len(" mm")]
}

func bare(l unit.Length, st unit.Style) string {
	s := l.Format(st)
	if st.System() == unit.Imperial {
		return s[:len(s)-len(" in")]
	}
	s = s[:len(s)-len(" mm")]
	if n := len(s); n > 2 && s[n-2:] == ".0" {
		s = s[:n-2]
	}
	return s
}

// UnitsText is how the title block states the units.
func (o Options) UnitsText() string {
	switch {
	case o.Single:
		return o.Units.String()
	default:
		return o.Units.String() + " (" + o.Units.Other().String() + ")"
	}
}

func (o Options) scales() []Scale {
	if o.Units == unit.Imperial {
		return inchScales
	}
	return metricScales
}

// Fit draws the view in the middle of r, at the largest scale of the series,
// up to most, at which it has room with its dimensions and balloons, and gives
// that scale. A zero most means 1:1. The title and scale stand under it.
func (v View) Fit(s *Sheet, r Rect, o Options, most Scale) Scale {
	if most.Num == 0 {
		most = Scale{1, 1}
	}
	room := r
	if v.Title != "" {
		room.H -= titleRoom
	}
	if v.NoScale {
		v.fill(s, room, o)
		return Scale{}
	}
	scales := o.scales()
	b := v.Bounds()
	for i, sc := range scales {
		k := sc.Ratio()
		if k > most.Ratio()+1e-12 || i+1 < len(scales) && (k*b.W > room.W || k*b.H > room.H) {
			continue
		}
		items, box := v.at(sc.Ratio(), o)
		if (box.W > room.W+1e-6 || box.H > room.H+1e-6) && i+1 < len(scales) {
			continue
		}
		v.lay(s, room, items, box, sc.String())
		return sc
	}
	return scales[len(scales)-1]
}

const titleRoom = 7.0

// lay puts what was drawn in the middle of the room, with the caption under it.
func (v View) lay(s *Sheet, room Rect, items []Item, box Rect, scale string) {
	s.Add(Shift(items, room.X+(room.W-box.W)/2-box.X, room.Y+(room.H-box.H)/2-box.Y)...)
	if v.Title != "" {
		v.caption(s, Pt{room.X + room.W/2, min(room.Y+(room.H+box.H)/2, room.Bottom()) + titleRoom*0.75}, scale)
	}
}

// fill draws the view as large as it fits.
func (v View) fill(s *Sheet, room Rect, o Options) {
	b := v.Bounds()
	if b.W <= 0 || b.H <= 0 {
		return
	}
	k := min(room.W/b.W, room.H/b.H)
	for range 40 {
		items, box := v.at(k, o)
		if box.W <= room.W && box.H <= room.H {
			v.lay(s, room, items, box, "not to scale")
			return
		}
		k *= max(0.8, min(0.99, min(room.W/box.W, room.H/box.H)))
	}
}

// FitAt draws the view at a given scale, its drawn bounds' upper left corner at
// p, and gives the rectangle it took with all around it.
func (v View) FitAt(s *Sheet, p Pt, o Options, sc Scale) Rect {
	items, box := v.at(sc.Ratio(), o)
	s.Add(Shift(items, p.X, p.Y)...)
	return Rect{box.X + p.X, box.Y + p.Y, box.W, box.H}
}

func (v View) caption(s *Sheet, p Pt, sc string) {
	name := Text{S: v.Title, Size: SizeText, Weight: Bold}
	scale := Text{S: sc, Size: SizeText, Plain: true}
	w := name.Width() + 2.5 + scale.Width()
	name.At, scale.At = p.Add(-w/2, 0), p.Add(w/2-scale.Width(), 0)
	s.Add(name, scale)
}

// at lays the view out at k millimetres of paper for one of the thing. The
// drawn bounds have their upper left corner at (0, 0); box is what all of it
// takes.
func (v View) at(k float64, o Options) (items []Item, box Rect) {
	b := v.Bounds()
	m := mapping{k: k, x: -k * b.X, y: k * b.Bottom(), flip: true}
	core := Rect{0, 0, k * b.W, k * b.H}
	for _, p := range v.Picks {
		items = append(items, Group{Part: p.Part, Items: []Item{Fill{Clear, m.paths(p.Paths)}}})
	}
	items = append(items, transform(v.Items, m)...)
	for _, h := range v.Hatches {
		items = append(items, h.draw(m)...)
	}
	for _, l := range v.Labels {
		items = append(items, o.field(l.Field, l.Of, l.draw(m))...)
	}
	for _, c := range v.Cuts {
		items = append(items, c.draw(m)...)
	}
	for _, g := range v.Grains {
		items = append(items, g.draw(m)...)
	}
	var used [4]float64
	var figures []Item // over all lines, so that none runs through one
	for _, t := range v.Ticks {
		lines, words, depth := t.draw(m, core, used[t.Side])
		used[t.Side] += depth
		items, figures = append(items, lines...), append(figures, words...)
	}
	for _, c := range v.Chains {
		lines, words, depth := c.draw(m, core, used[c.Side], o)
		used[c.Side] += depth
		items, figures = append(items, lines...), append(figures, words...)
	}
	items = append(items, figures...)
	for _, e := range v.Edges {
		items = append(items, e.draw(core, used[e.Side])...)
	}
	box = around(items, core)
	if len(v.Balloons) > 0 {
		b, out := placeBalloons(v.Balloons, m, box, v.around, o.Live)
		items = append(items, b...)
		box = out
	}
	return items, box
}

// around is the least rectangle about core and all type and lines of items.
func around(items []Item, core Rect) Rect {
	box := core
	grow := func(r Rect) {
		x, y := min(box.X, r.X), min(box.Y, r.Y)
		box = Rect{x, y, max(box.Right(), r.Right()) - x, max(box.Bottom(), r.Bottom()) - y}
	}
	for _, it := range items {
		switch it := it.(type) {
		case Stroke:
			if r, ok := bounds(it.Paths); ok {
				grow(r)
			}
		case Fill:
			if r, ok := bounds(it.Paths); ok {
				grow(r)
			}
		case Text:
			grow(it.bounds())
		case Clip:
			grow(it.Window)
		case Group:
			grow(around(it.Items, box))
		}
	}
	return box
}

// field makes what shows a size one that can be typed over.
func (o Options) field(path string, size unit.Length, items []Item) []Item {
	if !o.Live || path == "" || len(items) == 0 {
		return items
	}
	master, other := o.Size(size)
	if t := lead(items); strings.ContainsFunc(t, unicode.IsLetter) {
		master = t // such as R 80: the words hold what is seen
	}
	says := Words(path) + ": " + master + " " + o.Units.String()
	if other != "" {
		says += " " + strings.TrimSuffix(other, ")") + " " + o.Units.Other().String() + ")"
	}
	return []Item{Group{Field: path, Value: size.Exact(o.Units), Says: says, Items: items}}
}

// lead is the first text among items as it is seen, without what follows in
// brackets.
func lead(items []Item) string {
	for _, it := range items {
		if t, ok := it.(Text); ok {
			var b strings.Builder
			spans, _ := t.Spans()
			for _, s := range spans {
				b.WriteString(s.S)
			}
			seen, _, _ := strings.Cut(b.String(), " (")
			return seen
		}
	}
	return ""
}

// draw sets the label in the fullest variant and the largest size that has
// room.
func (l Label) draw(m mapping) []Item {
	most := l.Size
	if most == 0 {
		most = SizeText
	}
	at := m.pt(l.At)
	room := m.rect(l.Room)
	if len(l.Variants) == 0 {
		return nil
	}
	turned := math.Mod(l.Turn, 180) != 0
	lines, size := l.Variants[len(l.Variants)-1], SizeSmall
	roomy := l.Room.W == 0 && l.Room.H == 0
search:
	for _, v := range l.Variants {
		for s := most; s >= SizeSmall-1e-9; s -= 0.2 {
			w, h := 0.0, float64(len(v))*s*LineHeight
			for _, t := range v {
				w = max(w, Text{S: t, Size: s, Weight: l.Weight}.Width())
			}
			if turned {
				w, h = h, w
			}
			if roomy || w <= room.W-1 && h <= room.H-0.6 {
				lines, size = v, s
				break search
			}
		}
	}
	var out []Item
	for i, t := range lines {
		off := (float64(i)-float64(len(lines)-1)/2)*size*LineHeight + CapHeight*size/2
		tx := Text{At: at.Add(0, off), S: t, Size: size, Anchor: Middle, Weight: l.Weight, Turn: l.Turn}
		if turned {
			tx.At = at.Add(off, 0)
		}
		if l.Knock && t != "" {
			out = append(out, tx.Knock(0.4))
		}
		out = append(out, tx)
	}
	return out
}
