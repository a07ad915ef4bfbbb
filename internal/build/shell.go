package build

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// shell is the run of flats and bends that a case is bent from. Its path is
// the face on the right of the run; the panel lies on the left, so for a
// run that goes round anticlockwise the path is the outside.
type shell struct {
	runs   []run
	closed bool // the last run joins the first
	seams  []seam
	parts  []*Part
	strips []*Part // let in at seams
	stock  stock
	skin   unit.Length
}

// run is one flat or one bend. Along the flat panel it takes length; bends
// take the length of their neutral line.
type run struct {
	name   string      // "bottom", "bottom right"
	side   int         // of a flat, or -1
	at     unit.Length // where it begins on the flat panel
	length unit.Length
	from   spotOn // where its path begins

	angle   float64     // of a bend, radians; positive to the left
	radius  unit.Length // of the path
	onPath  bool        // the kerfs are cut into the face of the path
	outside bool        // the kerfs are on the outside of the curve
	bend    int         // index into Model.Bends of the design, for bends
}

func (r run) bends() bool { return r.angle != 0 }

// called is the run's name with what it is: "bottom right bend", "top flat";
// those of a free profile say so themselves: "bend 2".
func (r run) called() string {
	what := "flat"
	if r.bends() {
		what = "bend"
	}
	if strings.HasPrefix(r.name, what) {
		return r.name
	}
	return r.name + " " + what
}

// spotOn is a place on the path with the direction it runs in. Millimetres,
// x to the right and z up, and radians.
type spotOn struct{ x, z, heading float64 }

// ahead is the spot after a straight of l mm.
func (s spotOn) ahead(l float64) spotOn {
	sin, cos := math.Sincos(s.heading)
	return spotOn{s.x + l*cos, s.z + l*sin, s.heading}
}

// round is the spot after a turn by angle at radius r mm.
func (s spotOn) round(angle, r float64) spotOn {
	side := math.Copysign(r, angle)
	sin, cos := math.Sincos(s.heading)
	cx, cz := s.x-side*sin, s.z+side*cos
	sin, cos = math.Sincos(s.heading + angle)
	return spotOn{cx + side*sin, cz - side*cos, s.heading + angle}
}

// step is the spot at the end of a run.
func (s spotOn) step(r run) spotOn {
	if r.bends() {
		return s.round(r.angle, r.radius.MM())
	}
	return s.ahead(r.length.MM())
}

func (s spotOn) point() geom.Point { return geom.P(unit.MM(s.x), unit.MM(s.z)) }

// length is that of the whole flat panel.
func (s *shell) length() unit.Length {
	if len(s.runs) == 0 {
		return 0
	}
	last := s.runs[len(s.runs)-1]
	return last.at + last.length
}

// bentCase builds a shell: its run, its bends, its seams, its parts.
func (b *builder) bentCase() {
	s := &shell{stock: b.material("case")}
	b.shell = s
	if s.stock.solid {
		b.problem("materials.case", "materials.case is %q, a solid wood. A shell is bent from a panel: name one.", s.stock.key)
		return
	}
	s.skin = b.skin(s.stock)
	var start spotOn
	var ok bool
	if b.piece.Case.Shape == "free" {
		start.heading = headings[b.piece.Case.Heading]
		ok = b.freeRuns(s)
	} else {
		start, ok = b.boxRuns(s)
	}
	if !ok || !b.designBends(s) {
		return
	}
	s.layOut(start)
	if b.piece.Case.Shape == "free" {
		b.standFree(s)
	}
	b.findSeams(s)
	if b.failed() {
		return
	}
	b.shellParts(s)
	b.bottomBoard(s)
}

// headings are the ways a free profile can start out; left out, to the right.
var headings = map[string]float64{"up": math.Pi / 2, "left": math.Pi, "down": -math.Pi / 2}

// layOut gives every run its place on the flat panel and in space.
func (s *shell) layOut(at spotOn) {
	var flat unit.Length
	for i := range s.runs {
		r := &s.runs[i]
		r.at, r.from = flat, at
		flat += r.length
		at = at.step(*r)
	}
}

// skin is the wood left under a kerf: as given, or the face ply where that is
// thicker than 1.5 mm (common practice: 1.5 to 2.4 mm).
func (b *builder) skin(s stock) unit.Length {
	if b.piece.Case.Skin > 0 {
		return b.piece.Case.Skin
	}
	return max(s.facePly, 3*unit.Millimetre/2)
}

// boxRuns is the run round a closed, U or L shell.
func (b *builder) boxRuns(s *shell) (spotOn, bool) {
	c, h := b.piece.Case, &b.hull
	first, n := sideBottom, 4
	switch c.Shape {
	case "u":
		open := index(sideNames, c.Open, sideBottom)
		first, n = (open+1)%4, 3
		h.open[open] = true
	case "l":
		corner := index(cornerKeys, c.Corner, bottomLeft)
		for i, k := range cornerAfter {
			if k == corner {
				first, n = i, 2
			}
		}
		h.open[(first+2)%4], h.open[(first+3)%4] = true, true
	default:
		s.closed = true
	}
	turns := n
	if !s.closed {
		turns = n - 1
	}
	ok := true
	for i := range turns {
		k := cornerAfter[(first+i)%4]
		r := given(c.Radii[cornerKeys[k]], c.Radius)
		if r <= 0 {
			b.problem("case.radius", "the radius of the %s corner is missing. Give case.radius, the outside radius of the bends.", words(cornerKeys[k]))
			ok = false
		}
		h.corner[k] = r
	}
	if !ok {
		return spotOn{}, false
	}
	size := [4]unit.Length{h.width, h.height, h.width, h.height}
	for i := range n {
		side := (first + i) % 4
		before, after := h.corner[cornerAfter[(side+3)%4]], h.corner[cornerAfter[side]]
		flat := size[side] - before - after
		if flat < 0 {
			what := [4]string{"width", "height", "width", "height"}[side]
			b.problem("case.radius", "the radii at the %s are %s and %s, together more than the outside %s of %s. Take %s off the radii, or make the case larger.",
				sideNames[side], b.show(before), b.show(after), what, b.show(size[side]), b.show(-flat))
			ok = false
		}
		s.runs = append(s.runs, run{name: sideNames[side], side: side, length: flat})
		if k := cornerAfter[side]; i < turns {
			s.runs = append(s.runs, run{name: words(cornerKeys[k]), side: -1, angle: math.Pi / 2, radius: h.corner[k]})
		}
	}
	// The run starts at the tangent point of the first side.
	back := h.corner[cornerAfter[(first+3)%4]]
	w, z, r := h.width.MM(), h.height.MM(), back.MM()
	under := h.under.MM()
	return [4]spotOn{
		{r, under, 0}, {w, under + r, math.Pi / 2}, {w - r, under + z, math.Pi}, {0, under + z - r, -math.Pi / 2},
	}[first], ok
}

// index finds a word in a list; one that is not there is the default.
func index(list [4]string, word string, otherwise int) int {
	for i, w := range list {
		if w == word {
			return i
		}
	}
	return otherwise
}

// words writes a key for a sentence: "top-left" as "top left".
func words(key string) string {
	out := []byte(key)
	for i := range out {
		if out[i] == '-' {
			out[i] = ' '
		}
	}
	return string(out)
}

// freeRuns is the run of a free profile.
func (b *builder) freeRuns(s *shell) bool {
	legs := b.piece.Case.Profile
	if len(legs) == 0 {
		b.problem("case.profile", "case.profile is missing. A free shape needs its flats and bends, in order.")
		return false
	}
	ok, t := true, s.stock.thickness
	for i, l := range legs {
		path := fmt.Sprintf("case.profile[%d]", i)
		switch a := l.Bend.Rad(); {
		case l.Flat != 0 && a != 0:
			b.problem(path, "%s is both a flat and a bend. Make two entries of it.", path)
			ok = false
		case a == 0 && (l.Flat <= 0 || l.Flat > most):
			b.problem(path, "%s is a flat of %s. Give a length over 0, or a bend.", path, b.show(l.Flat))
			ok = false
		case a == 0:
			s.runs = append(s.runs, run{name: fmt.Sprintf("flat %d", i+1), side: -1, length: l.Flat})
		case l.Radius <= 0 || l.Radius > most:
			b.problem(path+".radius", "%s.radius is missing. Give the radius of the uncut face.", path)
			ok = false
		case !(math.Abs(a) <= 2*math.Pi):
			b.problem(path+".bend", "%s.bend is %.4g degrees. Give up to 360 either way.", path, l.Bend.Deg())
			ok = false
		default:
			r := freeBend(l.Radius, a, l.Kerfs, t)
			r.name = fmt.Sprintf("bend %d", i+1)
			if r.radius <= 0 {
				b.problem(path+".radius", "%s.radius is %s, no more than the panel of %s whose outside it is. Make it larger.", path, b.show(l.Radius), b.show(t))
				ok = false
			}
			s.runs = append(s.runs, r)
		}
	}
	return ok
}

// freeBend is a bend whose radius is given at its uncut face. The path is the
// show face, on the right of the run: with the kerfs cut from behind it is the
// uncut face. Cut into the path's own face, the uncut face is the other one,
// and the path runs a panel's thickness away from it.
func freeBend(radius unit.Length, angle float64, kerfs string, t unit.Length) run {
	r := run{side: -1, angle: angle, radius: radius}
	left := angle > 0
	r.outside = kerfs == "outside" || kerfs == "" && !left
	r.onPath = left == r.outside
	if r.onPath && left {
		r.radius += t
	} else if r.onPath {
		r.radius -= t
	}
	return r
}

// standFree moves a free profile so that its left and lower outermost edges are
// those of the case, and takes the case's size from it.
func (b *builder) standFree(s *shell) {
	x0, z0, x1, z1 := s.bounds()
	for i := range s.runs {
		s.runs[i].from.x -= x0
		s.runs[i].from.z += b.hull.under.MM() - z0
	}
	w, h := unit.MM(x1-x0), unit.MM(z1-z0)
	b.agree("case.width", b.piece.Case.Width, w)
	b.agree("case.height", b.piece.Case.Height, h)
	b.hull.width, b.hull.height = w, h
	b.sidesOf(s)
}

func (b *builder) agree(path string, asked, follows unit.Length) {
	if asked > 0 && (asked-follows).Abs() > tenth {
		b.problem(path, "%s is %s, but the profile comes to %s. Leave it out, or change the profile by %s.", path, b.show(asked), b.show(follows), b.show((asked - follows).Abs()))
	}
}

// sidesOf says which sides of the bounding box have a panel along them: a
// flat that faces outward there and lies in it. Each is named for the longest.
func (b *builder) sidesOf(s *shell) {
	b.hull.open = [4]bool{true, true, true, true}
	best := [4]int{-1, -1, -1, -1}
	for i, r := range s.runs {
		if r.bends() {
			continue
		}
		for side := range best {
			turn := math.Remainder(r.from.heading-float64(side)*math.Pi/2, 2*math.Pi)
			if math.Abs(turn) < 0.02 && (best[side] < 0 || r.length > s.runs[best[side]].length) {
				best[side] = i
			}
		}
	}
	edge := [4]float64{b.hull.under.MM(), b.hull.width.MM(), b.hull.over().MM(), 0}
	for side, i := range best {
		if i < 0 {
			continue
		}
		s.runs[i].side = side
		at := s.runs[i].from.z
		if side == sideRight || side == sideLeft {
			at = s.runs[i].from.x
		}
		if math.Abs(at-edge[side]) < 0.01 {
			b.hull.open[side] = false
		}
	}
}

// bounds is the box round both faces of the shell, in mm.
func (s *shell) bounds() (x0, z0, x1, z1 float64) {
	x0, z0, x1, z1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	t := s.stock.thickness.MM()
	for _, r := range s.runs {
		for _, p := range r.samples(t) {
			x0, x1 = min(x0, p[0]), max(x1, p[0])
			z0, z1 = min(z0, p[1]), max(z1, p[1])
		}
	}
	return x0, z0, x1, z1
}

// samples are points of both faces of a run: its ends, and for a bend the
// points where a face runs level or upright, so that no outermost one is
// missed. Millimetres.
func (r run) samples(t float64) [][2]float64 {
	at := []spotOn{r.from, r.from.step(r)}
	if r.bends() {
		lo, hi := min(r.from.heading, r.from.heading+r.angle), max(r.from.heading, r.from.heading+r.angle)
		for q := math.Ceil(lo / (math.Pi / 2)); q*math.Pi/2 < hi; q++ {
			at = append(at, r.from.round(q*math.Pi/2-r.from.heading, r.radius.MM()))
		}
	}
	var out [][2]float64
	for _, p := range at {
		sin, cos := math.Sincos(p.heading)
		out = append(out, [2]float64{p.x, p.z}, [2]float64{p.x - t*sin, p.z + t*cos})
	}
	return out
}

// uncut is the radius of the uncut face of a bend, given the thickness.
func (r run) uncut(t unit.Length) unit.Length {
	switch {
	case !r.onPath:
		return r.radius
	case r.angle > 0:
		return r.radius - t
	}
	return r.radius + t
}

// arc is the bend as package bend measures flat lengths.
func (r run) arc(t, neutral unit.Length) bend.Arc {
	return bend.Arc{Radius: r.uncut(t), Neutral: neutral, Angle: unit.Angle(math.Abs(r.angle)), Outside: r.outside}
}
