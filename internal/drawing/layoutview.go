package drawing

import (
	"fmt"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// LayoutView is where parts lie on one panel: letters and sizes, trims dashed,
// what is worth keeping pale and what is waste crossed out, the grain, and at
// each cut the stage at which it is made. Letters stand in the order of
// Job.Items.
func LayoutView(job cutting.Job, l cutting.Layout, letters []string, o Options) View {
	v := View{}
	if l.Sheet < 0 || l.Sheet >= len(job.Sheets) {
		return v
	}
	sheet := job.Sheets[l.Sheet]
	d := layoutDrawing{v: &v, job: job, sheet: sheet, letters: letters, o: o}
	panel := Rect{0, 0, sheet.W.MM(), sheet.H.MM()}
	v.Title = sheet.Label
	if v.Title == "" {
		v.Title = sheet.ID
	}
	if l.Copies > 1 {
		v.Title += fmt.Sprintf(", cut %d alike", l.Copies)
	}
	d.strips(l)
	d.node(l.Root, 0)
	d.groups(l)
	d.defects()
	t := sheet.Trim
	if t != (cutting.Trim{}) {
		w, h := sheet.Usable()
		v.Items = append(v.Items, Box(PenHidden, Rect{t.Left.MM(), t.Bottom.MM(), w.MM(), h.MM()}))
	}
	v.Items = append(v.Items, Box(PenOutline, panel))
	if o.Dims {
		v.Chains = []Chain{ChainOf(Below, 0, sheet.W), ChainOf(LeftOf, 0, sheet.H)}
	}
	v.Edges = []EdgeMark{{Side: Above, Says: "the grain runs along the length"}}
	return v
}

type layoutDrawing struct {
	v       *View
	job     cutting.Job
	sheet   cutting.Sheet
	letters []string
	o       Options
	marks   map[Pt]string // of strips, by their corner
}

// node draws one rectangle of the tree. stage counts the cuts that came
// before, trims aside.
func (d *layoutDrawing) node(n cutting.Node, stage int) {
	r := Rect{n.X.MM(), n.Y.MM(), n.W.MM(), n.H.MM()}
	mid := Pt{r.X + r.W/2, r.Y + r.H/2}
	switch n.Kind {
	case cutting.Part:
		d.v.Items = append(d.v.Items, Fill{White, []Path{RectPath(r)}}, Box(PenMedium, r))
		letter := ""
		if n.Item >= 0 && n.Item < len(d.letters) {
			letter = d.letters[n.Item]
		}
		size := d.size(n.W) + " × " + d.size(n.H)
		pick := letter
		if mark, ok := d.marks[Pt{r.X, r.Y}]; ok {
			d.bracket(r)
			letter += mark
		}
		l := Label{At: mid, Room: r, Variants: [][]string{{letter, size}, {letter + "  " + size}, {letter}}, Size: SizeLarge, Weight: Bold}
		if n.H > n.W {
			l.Turn = 90
		}
		d.v.Labels = append(d.v.Labels, l)
		if d.o.Live {
			d.v.Picks = append(d.v.Picks, Pick{pick, []Path{RectPath(r)}})
		}
	case cutting.Offcut:
		d.v.Items = append(d.v.Items, Fill{Pale, []Path{RectPath(r)}}, Box(PenThin, r))
		size := d.size(n.W) + " × " + d.size(n.H)
		room := d.beside(r)
		l := Label{At: Pt{room.X + room.W/2, room.Y + room.H/2}, Room: room, Variants: [][]string{{"keep", size}, {"keep " + size}, {"keep"}, {""}}}
		if n.H > n.W {
			l.Turn = 90
		}
		d.v.Labels = append(d.v.Labels, l)
	case cutting.Waste:
		if n.W > 0 && n.H > 0 {
			d.v.Items = append(d.v.Items, Box(PenGhost, r), Segment(PenGhost, Pt{r.X, r.Y}, Pt{r.Right(), r.Bottom()}), Segment(PenGhost, Pt{r.X, r.Bottom()}, Pt{r.Right(), r.Y}))
		}
	case cutting.Split:
		d.split(n, stage)
	}
}

// split draws the children and marks the cuts between them.
func (d *layoutDrawing) split(n cutting.Node, stage int) {
	next := stage
	if parts := holding(n); parts > 1 || !isTrim(n, d.job) {
		next = stage + 1
	}
	for i, c := range n.Children {
		d.node(c, next)
		if i == 0 || next == stage {
			continue
		}
		before := n.Children[i-1]
		// In the middle of the kerf, near the far end of the cut.
		p := Pt{((before.X + before.W).MM() + c.X.MM()) / 2, (n.Y + n.H).MM()}
		if !n.Vertical {
			p = Pt{(n.X + n.W).MM(), ((before.Y + before.H).MM() + c.Y.MM()) / 2}
		}
		d.v.Cuts = append(d.v.Cuts, CutMark{At: p, Upright: n.Vertical, Stage: next, Room: min(along(before, n.Vertical), along(c, n.Vertical), along(n, !n.Vertical)).MM(), Must: i == 1})
	}
}

// groups draws a bracket along each matched group, with the order of its parts
// from the left, or from the top.
func (d *layoutDrawing) groups(l cutting.Layout) {
	for k, g := range d.job.Matched {
		var parts []cutting.Placed
		for _, p := range l.Parts {
			if p.Group == k+1 {
				parts = append(parts, p)
			}
		}
		if len(parts) == 0 {
			continue
		}
		upward := (g.Axis == cutting.Across) != parts[0].Turned
		first, last := parts[0], parts[len(parts)-1]
		// The bracket lies inside the parts, along their left or lower edge.
		in := min(first.W, first.H, last.W, last.H).MM() / 8
		a := Pt{first.X.MM() + in, first.Y.MM() + in/2}
		b := Pt{(last.X + last.W).MM() - in/2, last.Y.MM() + in}
		if upward {
			b = Pt{last.X.MM() + in, (last.Y + last.H).MM() - in/2}
		} else {
			a = Pt{first.X.MM() + in/2, first.Y.MM() + in}
		}
		tick := func(p Pt) Item {
			if upward {
				return Segment(PenMedium, p, Pt{p.X + in, p.Y})
			}
			return Segment(PenMedium, p, Pt{p.X, p.Y + in})
		}
		d.v.Items = append(d.v.Items, Segment(PenMedium, a, b), tick(a), tick(b))
		for i, p := range parts {
			n := i + 1
			room := Rect{p.X.MM() + in, p.Y.MM() + in, 2 * in, 2 * in}
			if upward {
				n = len(parts) - i
				room.Y = (p.Y + p.H).MM() - 3*in
			}
			d.v.Labels = append(d.v.Labels, Label{At: Pt{room.X + in, room.Y + in}, Room: room, Variants: [][]string{{fmt.Sprint(n)}, {""}}, Weight: Bold})
		}
	}
}

// defects hatches what parts keep clear of, with a word where there is room.
func (d *layoutDrawing) defects() {
	for _, f := range d.sheet.Defects {
		r := Rect{f.X.MM(), f.Y.MM(), f.W.MM(), f.H.MM()}
		gap := min(max(min(r.W, r.H)/3, 6), 25) // in the board's millimetres
		box := RectPath(r)
		d.v.Items = append(d.v.Items, Fill{White, []Path{box}}, Stroke{PenThin, hatchLines([][]Pt{box.flat(arcStep)}, Pt{1, -1}, func(int) float64 { return gap })}, Box(PenMedium, r))
		if f.What != "" {
			room := r.Inset(min(r.W, r.H) / 5) // so that hatching is seen around the word
			d.v.Labels = append(d.v.Labels, Label{At: Pt{r.X + r.W/2, r.Y + r.H/2}, Room: room, Variants: [][]string{{f.What}, {""}}, Size: SizeSmall, Knock: true})
		}
	}
}

// beside is the largest part of r clear of defects, where words can stand.
func (d *layoutDrawing) beside(r Rect) Rect {
	for _, f := range d.sheet.Defects {
		x, y, right, bottom := f.X.MM(), f.Y.MM(), (f.X + f.W).MM(), (f.Y + f.H).MM()
		if !r.Overlaps(Rect{x, y, right - x, bottom - y}) {
			continue
		}
		best := Rect{}
		for _, c := range []Rect{
			{r.X, r.Y, x - r.X, r.H},
			{right, r.Y, r.Right() - right, r.H},
			{r.X, r.Y, r.W, y - r.Y},
			{r.X, bottom, r.W, r.Bottom() - bottom},
		} {
			if c.W > 0 && c.H > 0 && c.W*c.H > best.W*best.H {
				best = c
			}
		}
		if best == (Rect{}) {
			return r // all of it is a defect
		}
		r = best
	}
	return r
}

// strips draws a bracket at the edges at which the strips of panels are glued,
// and notes for each the number of its panel, where there are several, and its
// place in it.
func (d *layoutDrawing) strips(l cutting.Layout) {
	d.marks = map[Pt]string{}
	for _, p := range l.Parts {
		if p.Panel == 0 {
			continue
		}
		d.marks[Pt{p.X.MM(), p.Y.MM()}] = fmt.Sprintf(" %d", p.Strip)
		if it := d.job.Items[p.Item]; it.Qty > max(it.Strips, 1) {
			d.marks[Pt{p.X.MM(), p.Y.MM()}] = fmt.Sprintf(" %d.%d", p.Panel, p.Strip)
		}
	}
}

// bracket stands inside a strip, open towards the next one.
func (d *layoutDrawing) bracket(r Rect) {
	in := min(r.W, r.H) / 6
	for _, s := range []float64{1, -1} {
		y, x := r.Y+in/2, r.X+in/2
		if s < 0 {
			y = r.Bottom() - in/2
		}
		d.v.Items = append(d.v.Items, Segment(PenMedium, Pt{x, y}, Pt{x + 1.5*in, y}), Segment(PenMedium, Pt{x, y}, Pt{x, y + s*in}))
	}
}

// along is the extent of n in x, or else in y.
func along(n cutting.Node, x bool) unit.Length {
	if x {
		return n.W
	}
	return n.H
}

// holding is how many of the children hold parts.
func holding(n cutting.Node) int {
	k := 0
	for _, c := range n.Children {
		if c.Kind == cutting.Part || c.Kind == cutting.Split {
			k++
		}
	}
	return k
}

// isTrim reports whether the split only takes trims off a panel.
func isTrim(n cutting.Node, job cutting.Job) bool {
	for _, s := range job.Sheets {
		if s.Trim != (cutting.Trim{}) && (n.W == s.W || n.H == s.H) && n.Kind == cutting.Split {
			w, h := s.Usable()
			for _, c := range n.Children {
				if c.W == w && c.H == h || c.W == w && n.H == s.H || c.H == h && n.W == s.W {
					return true
				}
			}
		}
	}
	return false
}

func (d *layoutDrawing) size(l unit.Length) string {
	s, _ := d.o.Size(l)
	return s
}

// CutMark numbers the stage of a cut at its end.
type CutMark struct {
	At      Pt
	Upright bool
	Stage   int
	Room    float64 // in the view's millimetres; where it is small the mark is left out
	Must    bool    // but not here
}

func (c CutMark) draw(m mapping) []Item {
	p := m.pt(c.At)
	const r = 1.7
	if c.Room*m.k < 3*r && !c.Must {
		return nil
	}
	if c.Upright {
		p = p.Add(0, r+0.6)
	} else {
		p = p.Add(-r-0.6, 0)
	}
	return []Item{
		Disc(White, p, r), Circle(PenThin, p, r),
		Text{At: p.Add(0, SizeSmall*CapHeight/2), S: fmt.Sprint(c.Stage), Size: SizeSmall, Anchor: Middle, Plain: true},
	}
}
