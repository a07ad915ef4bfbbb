package station

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/plan"
	"casewright/internal/render/svg"
	"casewright/internal/saw"
	"casewright/internal/unit"
)

// sawPictures draws the pieces of one sequence on the saw.
type sawPictures struct {
	plan  plan.Plan
	q     saw.Sequence
	kerf  unit.Length
	first map[sawRun]unit.Length // how large a piece was before its first cut this way
	done  []unit.Length          // centres of the kerfs that are cut, from the near end
}

// sawRun is a piece at hand and the way it is cut.
type sawRun struct {
	of         string
	ends, trim bool
}

func runOf(st saw.Setup, c saw.Cut) sawRun {
	return sawRun{c.Of, strings.HasSuffix(st.Reference, "end"), c.Gives == "trim"}
}

func newSawPictures(p plan.Plan, q saw.Sequence) *sawPictures {
	out := &sawPictures{plan: p, q: q, kerf: p.Shop.Saws[q.Saw].Kerf, first: map[sawRun]unit.Length{}}
	if k := p.Record.Kerfs[q.Saw]; k > 0 {
		out.kerf = k
	}
	for _, st := range q.Setups {
		for _, c := range st.Cuts {
			if k := runOf(st, c); !k.trim {
				out.first[k] = max(out.first[k], c.Whole)
			}
		}
	}
	return out
}

// Measures of the pictures, in units of which the picture is sawWide wide;
// at that a hand's breadth on a phone, so that type of 6 is read at arm's
// length.
const (
	sawWide   = 120.0
	sawMargin = 13.0
	sawAcross = 96.0 // most that is drawn from left to right
	sawUp     = 62.0 // most that is drawn from below to above
	sawLetter = 9.0
	sawType   = 5.2
	sawSmall  = 4.0
	fenceWide = 3.4
)

// draw is the piece before the cut of the index, with fence or rail at its
// edge and the blade where it goes. Pictures are drawn in the order of the
// work: each remembers the kerfs that are cut.
func (s *sawPictures) draw(st saw.Setup, i int) string {
	c := st.Cuts[i]
	whole, long := s.sizes(st, c)
	d := sawDrawing{sheet: &drawing.Sheet{W: sawWide, Title: s.title(st, c)}, table: s.q.Kind == "table", reference: st.Reference}
	if c.Kerf != "" && i > 0 {
		d.reference = otherEnd(st.Reference)
	}
	off := max(s.first[runOf(st, c)]-whole, 0)
	d.place(off.MM(), whole.MM(), long.MM())
	switch {
	case c.Kerf != "":
		s.kerfed(&d, c, whole)
	default:
		s.through(&d, st, c, whole)
	}
	if off > 0 {
		d.off(off.MM())
	}
	d.outline(whole.MM())
	d.guide(st)
	d.words()
	d.dimension(st.Setting.MM(), setText(s.plan, st.Setting))
	d.feed(st.Setting.MM(), s.kerf.MM()/2)
	return d.svg()
}

func setText(p plan.Plan, l unit.Length) string {
	return p.Show(l)
}

func (s *sawPictures) title(st saw.Setup, c saw.Cut) string {
	return fmt.Sprintf("%s: %s, %s from the %s", document.Capital(c.Of), st.Way, setText(s.plan, st.Setting), st.Reference)
}

// sizes of the piece at hand. Where the size before the cut is not known, as
// of milled wood, it is the rough one.
func (s *sawPictures) sizes(st saw.Setup, c saw.Cut) (whole, long unit.Length) {
	whole, long = c.Whole, c.Long
	if whole == 0 {
		whole = st.Setting + st.Setting/8
		for _, p := range s.plan.Model.Parts {
			if p.Letter == c.Of && p.Rough != nil {
				if rough := p.Rough.Width; st.Way != saw.Stop && rough > st.Setting {
					whole = rough
				} else if st.Way == saw.Stop && p.Rough.Length > st.Setting {
					whole = p.Rough.Length
				}
			}
		}
	}
	return max(whole, unit.Millimetre), max(long, unit.Millimetre)
}

func otherEnd(reference string) string {
	if reference == "near end" {
		return "far end"
	}
	return "near end"
}

// kerfed draws a part that is kerfed: kerfs cut before thin, the next one
// heavy.
func (s *sawPictures) kerfed(d *sawDrawing, c saw.Cut, whole unit.Length) {
	d.area(drawing.White, 0, whole.MM())
	at := func(centre unit.Length) float64 {
		if d.reference == "far end" {
			return (whole - centre).MM()
		}
		return centre.MM()
	}
	var cut []drawing.Path
	for _, k := range s.done {
		cut = append(cut, d.line(at(k), 0, d.long))
	}
	if len(cut) > 0 {
		d.sheet.Add(drawing.Stroke{Pen: drawing.PenThin, Paths: cut})
	}
	d.blade(at(c.Centre)-s.kerf.MM()/2, s.kerf.MM())
	u := at(c.Centre)
	if u > whole.MM()/2 {
		d.label(0, u, c.Of, sawLetter)
	} else {
		d.label(u, whole.MM(), c.Of, sawLetter)
	}
	s.done = append(s.done, c.Centre)
}

// through draws cuts that take something off.
func (s *sawPictures) through(d *sawDrawing, st saw.Setup, c saw.Cut, whole unit.Length) {
	w, kerf, keep := whole.MM(), s.kerf.MM(), st.Check.MM()
	name := c.Gives
	switch {
	case c.Gives == "trim":
		d.area(drawing.White, 0, keep)
		d.waste(keep, w)
		d.label(0, keep, c.Of, sawType)
	case st.Way == saw.Fence && st.Setting != st.Check: // the fence holds what remains
		left := st.Setting.MM()
		d.area(drawing.White, 0, left)
		d.area(drawing.Mid, left+kerf, w)
		d.label(left+kerf, w, name, sawLetter)
		d.blade(left, kerf)
		return
	default:
		d.area(drawing.White, 0, w)
		u := 0.0
		for k := range max(1, c.Times/max(1, c.Pieces)) {
			d.area(drawing.Mid, u, u+keep)
			d.label(u, u+keep, name, sawLetter)
			if k == 0 {
				d.blade(u+keep, kerf)
			} else if u+keep < w {
				d.sheet.Add(drawing.Stroke{Pen: drawing.PenCut, Paths: []drawing.Path{d.line(u+keep+kerf/2, 0, d.long)}})
			}
			if u += keep + kerf; u >= w {
				break
			}
		}
		if u < w && c.Gives != c.Of {
			d.label(u, w, c.Rest, sawType)
		}
		return
	}
	d.blade(keep, kerf)
}

// sawDrawing is one picture. In it u runs from the reference edge and v along
// the cut, the way it is fed; both in millimetres of the piece.
type sawDrawing struct {
	sheet     *drawing.Sheet
	table     bool
	reference string
	long      float64
	origin    drawing.Pt // of u = 0, v = 0
	du, dv    drawing.Pt // directions on the sheet
	ku, kv    float64
	rail      drawing.Rect // the edge of it that is on the piece
	labels    []sawLabel
	names     []drawing.Rect // of words that stand beside the piece
}

// place finds where the piece lies. At a table saw the fence is drawn at the
// right and the piece fed upward, as one stands before it; on trestles it lies
// as on its layout, and the saw goes with the rail at its left.
func (d *sawDrawing) place(off, whole, long float64) {
	d.long = long
	d.du, d.dv = drawing.Pt{X: -1}, drawing.Pt{Y: -1}
	if !d.table {
		d.du = map[string]drawing.Pt{
			"lower long edge": {Y: -1}, "upper long edge": {Y: 1}, "left end": {X: 1}, "right end": {X: -1},
			"near end": {X: 1}, "far end": {X: -1}, "straightened edge": {Y: -1}, "squared end": {X: 1},
		}[d.reference]
		if d.du == (drawing.Pt{}) {
			d.du = drawing.Pt{X: 1}
		}
		d.dv = drawing.Pt{X: d.du.Y, Y: -d.du.X}
	}
	total := off + whole
	roomU, roomV, leastU, leastV := sawAcross, sawUp, 56.0, 24.0
	if d.du.X == 0 {
		roomU, roomV, leastU, leastV = sawUp, sawAcross, 34, 56
	}
	k := min(roomU/total, roomV/long)
	d.ku, d.kv = max(k*total, leastU)/total, max(k*long, leastV)/long
	w, h := d.ku*total, d.kv*long
	if d.du.X == 0 {
		w, h = h, w
	}
	d.sheet.H = h + 2*sawMargin
	left, top := (sawWide-w)/2, sawMargin
	corner := func(neg bool, low, size float64) float64 {
		if neg {
			return low + size
		}
		return low
	}
	// The corner from which u and v grow, past what is off already.
	d.origin = drawing.Pt{
		X: corner(d.du.X < 0 || d.dv.X < 0, left, w) + d.du.X*d.ku*off,
		Y: corner(d.du.Y < 0 || d.dv.Y < 0, top, h) + d.du.Y*d.ku*off,
	}
}

func (d *sawDrawing) at(u, v float64) drawing.Pt {
	return d.origin.Add(d.du.X*u*d.ku+d.dv.X*v*d.kv, d.du.Y*u*d.ku+d.dv.Y*v*d.kv)
}

// beyond is a point moved on the sheet by so much along u and v.
func (d *sawDrawing) beyond(p drawing.Pt, u, v float64) drawing.Pt {
	return p.Add(d.du.X*u+d.dv.X*v, d.du.Y*u+d.dv.Y*v)
}

func between(a, b drawing.Pt) drawing.Rect {
	return drawing.Rect{X: min(a.X, b.X), Y: min(a.Y, b.Y), W: math.Abs(a.X - b.X), H: math.Abs(a.Y - b.Y)}
}

func (d *sawDrawing) rect(from, to float64) drawing.Rect {
	return between(d.at(from, 0), d.at(to, d.long))
}

func (d *sawDrawing) line(u, from, to float64) drawing.Path {
	return drawing.Path{Nodes: []drawing.Node{{Pt: d.at(u, from)}, {Pt: d.at(u, to)}}}
}

// area is a run of the piece from edge to edge.
func (d *sawDrawing) area(t drawing.Tone, from, to float64) {
	if to <= from {
		return
	}
	d.sheet.Add(drawing.Area(t, d.rect(from, to)), drawing.Box(drawing.PenMedium, d.rect(from, to)))
}

// waste is crossed out.
func (d *sawDrawing) waste(from, to float64) {
	r := d.rect(from, to)
	d.sheet.Add(drawing.Area(drawing.White, r), drawing.Box(drawing.PenMedium, r),
		drawing.Segment(drawing.PenThin, drawing.Pt{X: r.X, Y: r.Y}, drawing.Pt{X: r.Right(), Y: r.Bottom()}),
		drawing.Segment(drawing.PenThin, drawing.Pt{X: r.X, Y: r.Bottom()}, drawing.Pt{X: r.Right(), Y: r.Y}))
}

// off is what was cut off before: hatched.
func (d *sawDrawing) off(width float64) {
	r := d.rect(-width, 0)
	var lines []drawing.Path
	const gap = 2.6
	for c := r.X - r.H + gap/2; c < r.Right(); c += gap {
		// The line x − c = bottom − y, within r.
		a, b := max(c, r.X), min(c+r.H, r.Right())
		if a < b {
			lines = append(lines, drawing.Path{Nodes: []drawing.Node{{Pt: drawing.Pt{X: a, Y: r.Bottom() - (a - c)}}, {Pt: drawing.Pt{X: b, Y: r.Bottom() - (b - c)}}}})
		}
	}
	d.sheet.Add(drawing.Area(drawing.White, r), drawing.Stroke{Pen: drawing.PenThin, Paths: lines}, drawing.Box(drawing.PenThin, r))
}

// outline is the edge of the piece at hand.
func (d *sawDrawing) outline(whole float64) {
	d.sheet.Add(drawing.Box(drawing.PenOutline, d.rect(0, whole)))
}

// blade is where the kerf goes, its near side at u, drawn past the piece at
// both ends.
func (d *sawDrawing) blade(u, kerf float64) {
	wide := max(kerf*d.ku, 1.1)
	a, b := d.beyond(d.at(u, 0), 0, -5), d.beyond(d.at(u, d.long), wide, 3)
	d.sheet.Add(drawing.Area(drawing.Black, between(a, b)))
}

// guide is the fence, the stop, or the heavy edge from which a rail is set,
// with the name of the edge.
func (d *sawDrawing) guide(st saw.Setup) {
	a, b := d.at(0, 0), d.at(0, d.long)
	size := sawSmall
	name := drawing.Text{S: d.reference, Size: size, Weight: drawing.Bold, Anchor: drawing.Middle}
	from := fenceWide + 1.2
	switch st.Way {
	case saw.Fence:
		d.sheet.Add(drawing.Area(drawing.Black, between(d.beyond(a, 0, -7), d.beyond(b, -fenceWide, 7))))
	case saw.Stop:
		mid := d.at(0, d.long)
		d.sheet.Add(drawing.Area(drawing.Black, between(d.beyond(mid, 0, -6), d.beyond(mid, -fenceWide, 2))))
		d.sheet.Add(drawing.Area(drawing.Black, between(d.beyond(a, 0, 0), d.beyond(b, -1.2, 0))))
	default:
		d.sheet.Add(drawing.Area(drawing.Black, between(d.beyond(a, 0, -1), d.beyond(b, -1.2, 1))))
		from = 2.4
		d.lay(st)
	}
	mid := d.beyond(d.at(0, d.long/2), -from-size*0.45, 0)
	if name.Width() > math.Abs(d.kv*d.long)+2*7 { // a short edge: its name beyond the fence, level
		name.Anchor = drawing.Middle
	}
	name.At = mid
	if d.du.X != 0 {
		name.Turn = 90
		name.At = mid.Add(size*drawing.CapHeight/2, 0)
	} else {
		name.At = mid.Add(0, size*drawing.CapHeight/2)
	}
	d.sheet.Add(name.Knock(0.6), name)
}

// lay puts the rail on the side that is kept, its edge at the mark.
func (d *sawDrawing) lay(st saw.Setup) {
	u := st.Setting.MM()
	wide := min(5.5, max(u*d.ku-1, 0))
	if wide < 1.5 {
		return
	}
	r := between(d.beyond(d.at(u, 0), 0, -4), d.beyond(d.at(u, d.long), -wide, 2))
	mid := between(d.beyond(d.at(u, 0), -wide*0.4, -4), d.beyond(d.at(u, d.long), -wide*0.6, 2))
	d.sheet.Add(drawing.Area(drawing.White, r), drawing.Box(drawing.PenMedium, r), drawing.Area(drawing.Mid, mid))
	d.rail = r
}

// dimension is the setting, from the edge to the near side of the kerf: past
// the end of the cut at a table saw, where the piece goes, before its begin
// on trestles.
func (d *sawDrawing) dimension(u float64, text string) {
	v, out, way := 0.0, 8.0, -1.0
	if d.table {
		v, way = d.long, 1
	}
	a, b := d.beyond(d.at(0, v), 0, way*out), d.beyond(d.at(u, v), 0, way*out)
	d.sheet.Add(drawing.Segment(drawing.PenMedium, a, b))
	for _, p := range []drawing.Pt{a, b} {
		d.sheet.Add(drawing.Segment(drawing.PenOutline, p.Add(-1.3, 1.3), p.Add(1.3, -1.3)))
	}
	for _, at := range []float64{0, u} {
		d.sheet.Add(drawing.Segment(drawing.PenThin, d.beyond(d.at(at, v), 0, way), d.beyond(d.at(at, v), 0, way*(out+1.5))))
	}
	t := drawing.Text{S: text, Size: sawType, Weight: drawing.Bold, Anchor: drawing.Middle, At: drawing.Pt{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}}
	if t.Width()+4 > math.Hypot(a.X-b.X, a.Y-b.Y) { // no room between: past the blade
		out := t.Width()/2 + 3
		if t.At = d.beyond(b, out, 0); d.du.X != 0 && (t.At.X < out || t.At.X > sawWide-out) || d.du.Y != 0 && (t.At.Y < out || t.At.Y > d.sheet.H-out) {
			t.At = d.beyond(a, -out, 0)
		}
	}
	if d.du.X == 0 {
		t.Turn = 90
		t.At = t.At.Add(sawType*drawing.CapHeight/2, 0)
	} else {
		t.At = t.At.Add(0, sawType*drawing.CapHeight/2)
	}
	d.sheet.Add(t.Knock(0.8), t)
}

// feed is the arrow of the way the piece goes at a table saw, and the saw on
// trestles.
func (d *sawDrawing) feed(u, half float64) {
	tip := d.beyond(d.at(u+half, d.long), 0, 10)
	if d.table {
		tip = d.beyond(d.at(u/2, 0), 0, -1.5)
	}
	tail := d.beyond(tip, 0, -8)
	d.sheet.Add(drawing.Segment(drawing.PenOutline, tail, d.beyond(tip, 0, -3)),
		drawing.Fill{Tone: drawing.Black, Paths: []drawing.Path{{Closed: true, Nodes: []drawing.Node{{Pt: tip}, {Pt: d.beyond(tip, 2.2, -4.6)}, {Pt: d.beyond(tip, -2.2, -4.6)}}}}})
}

func (d *sawDrawing) svg() string {
	var b strings.Builder
	if err := svg.Write(&b, *d.sheet, svg.Options{}); err != nil {
		return ""
	}
	return b.String()
}
