package check

import (
	"fmt"
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// The child and the block of the US test on clothing storage (ASTM F2057-23
// and regulator's guidance, as quoted elsewhere).
const (
	childMass = 60 * unit.Pound
	rearBlock = unit.Length(0.43 * float64(unit.Inch))
)

// Moment is what holds a piece on its feet, in kilogram millimetres: the sum
// of w (x cos t − z sin t) with x behind the line of the front feet and z
// above the floor, the floor raised behind by the angle t. Over 0 it stands.
func Moment(ws []Weight, feet float64, t unit.Angle) float64 {
	sin, cos := math.Sincos(t.Rad())
	var m float64
	for _, w := range ws {
		m += float64(w.Mass) * ((w.Y-feet)*cos - w.Z*sin)
	}
	return m
}

// Tilt is that of a piece whose feet stand so far apart, with a block under
// the rear ones.
func Tilt(block, support unit.Length) unit.Angle {
	return unit.Angle(math.Atan2(float64(block), float64(support)))
}

// stance is where a piece stands: the lines of its feet, in millimetres.
type stance struct{ front, back, left, right float64 }

func (s stance) deep() unit.Length { return unit.MM(s.back - s.front) }

// stanceOf finds the feet: the middles of the feet of legs, of plates of
// casters and feet, else all that comes down to within 5 mm of the floor.
func stanceOf(in Input) (stance, bool) {
	var at [][3]float64
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		for _, pl := range p.Places {
			if p.Role == build.RoleLeg {
				c := pl.Frame.At(0, p.Width.Size/2, p.Thickness.Size/2)
				at = append(at, [3]float64{c.X.MM(), c.Y.MM(), 0})
			}
		}
	}
	if len(at) == 0 && in.Piece.Base != nil && (in.Piece.Base.Kind == "casters" || in.Piece.Base.Kind == "feet") {
		for _, h := range in.Model.Hardware {
			if h.Key == in.Piece.Base.Hardware {
				for _, v := range h.At {
					at = append(at, [3]float64{v.X.MM(), v.Y.MM(), 0})
				}
			}
		}
	}
	if len(at) == 0 {
		for i := range in.Model.Parts {
			p := &in.Model.Parts[i]
			for _, pl := range p.Places {
				at = append(at, lowPoints(p, pl)...)
			}
		}
	}
	if len(at) == 0 {
		return stance{}, false
	}
	s := stance{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, c := range at {
		s.front, s.back = min(s.front, c[1]), max(s.back, c[1])
		s.left, s.right = min(s.left, c[0]), max(s.right, c[0])
	}
	return s, s.back-s.front > 1 && s.right-s.left > 1
}

// lowPoints are the corners of a part that lie within 5 mm of the floor.
func lowPoints(p *build.Part, at build.Place) [][3]float64 {
	if p.Role == build.RoleFront || p.Role == build.RoleDoor {
		return nil
	}
	var out [][3]float64
	add := func(u, v, n unit.Length) {
		if c := at.Frame.At(u, v, n); c.Z < 5*unit.Millimetre {
			out = append(out, [3]float64{c.X.MM(), c.Y.MM(), 0})
		}
	}
	if p.Bent == nil {
		for _, q := range at.Frame.Place(p.Outline, p.Width.Size).Flatten(unit.Millimetre) {
			add(q.X, q.Y, 0)
			add(q.X, q.Y, p.Thickness.Size)
		}
		return out
	}
	for _, q := range at.Frame.PlacePath(p.Bent.Profile, p.Width.Size).Flatten(unit.Millimetre) {
		add(q.X, q.Y, 0)
		add(q.X, q.Y, p.Width.Size)
	}
	return out
}

// pulled is a drawer or door and what it does to the balance.
type pulled struct {
	opening *build.Opening
	out     float64 // mm by which a drawer comes out; 0 for a door
	load    float64 // kg in it
	front   float64 // y of its front once open, mm
	high    float64 // z of its upper edge, mm
}

// drawersOut lists what can be opened, with the load that the piece states
// shared among drawers by their room.
func drawersOut(in Input) []pulled {
	var out []pulled
	room := 0.0
	for i := range in.Model.Openings {
		o := &in.Model.Openings[i]
		switch o.Fill {
		case "drawer":
			out = append(out, pulled{opening: o, out: travel(in, o).MM()})
			room += float64(o.Width.Size.Metres() * o.Height.Size.Metres())
		case "door":
			out = append(out, pulled{opening: o})
			room += float64(o.Width.Size.Metres() * o.Height.Size.Metres())
		default:
			room += float64(o.Width.Size.Metres() * o.Height.Size.Metres())
		}
	}
	for i := range out {
		d := &out[i]
		if room > 0 {
			d.load = in.Piece.Use.LoadKg * float64(d.opening.Width.Size.Metres()*d.opening.Height.Size.Metres()) / room
		}
		d.high = (d.opening.Z + d.opening.Height.Size).MM()
		d.front = math.Inf(1)
		for j := range in.Model.Parts {
			p := &in.Model.Parts[j]
			for _, at := range p.Places {
				if !moving(p, at.Name, d.opening.Name) {
					continue
				}
				b := solidBox(p, at).Bounds()
				d.front = min(d.front, b.Min.Y.MM()-d.out)
				if d.out == 0 {
					d.front = min(d.front, b.Min.Y.MM()-(b.Max.X-b.Min.X).MM())
				}
			}
		}
	}
	return slices.DeleteFunc(out, func(p pulled) bool { return math.IsInf(p.front, 1) })
}

// travel is how far a drawer comes out: the runner's length for runners beside
// and under the box, three quarters of it for corner and wooden runners
// (common practice).
func travel(in Input, o *build.Opening) unit.Length {
	d := openingAt(in.Piece.Inside, o.Path)
	if d == nil || d.Drawer == nil {
		return 0
	}
	h := in.Shop.Hardware[d.Drawer.Runner]
	long := unit.Length(0)
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		for _, at := range p.Places {
			if p.Role == build.RoleBoxSide && lies(at.Name, o.Name) {
				long = max(long, p.Length.Size)
			}
		}
	}
	if best := runnerLength(h.Lengths, long); best > 0 {
		long = best
	}
	if h.Kind == "corner-runner" || h.Kind == "wooden-runner" {
		return 3 * long / 4
	}
	return long
}

// runnerLength is the longest runner sold that is no longer than the box.
func runnerLength(sold []unit.Length, box unit.Length) unit.Length {
	best := unit.Length(0)
	for _, l := range sold {
		if l <= box && l > best {
			best = l
		}
	}
	return best
}

// standing is one part at one of its places, weighed.
type standing struct {
	Weight
	part *build.Part
	at   build.Place
}

func weighed(in Input) []standing {
	var out []standing
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		for k, w := range weights(p, in.Shop) {
			out = append(out, standing{w, p, p.Places[k]})
		}
	}
	return out
}

// opened is every weight of the piece with those drawers and doors open. Loads
// lie in the middle of their drawers.
func opened(parts []standing, open []pulled, loaded bool) []Weight {
	all := make([]Weight, 0, len(parts)+len(open)+1)
	for _, s := range parts {
		w := s.Weight
		for _, d := range open {
			if !moving(s.part, s.at.Name, d.opening.Name) {
				continue
			}
			if s.part.Role == build.RoleDoor {
				b := solidBox(s.part, s.at).Bounds()
				w.Y = b.Min.Y.MM() - (b.Max.X-b.Min.X).MM()/2
			} else {
				w.Y -= d.out
			}
		}
		all = append(all, w)
	}
	if !loaded {
		return all
	}
	for _, d := range open {
		if d.out > 0 {
			o := d.opening
			all = append(all, Weight{unit.Mass(d.load), (o.X + o.Width.Size/2).MM(), d.front + d.out/2, (o.Z + o.Height.Size/2).MM()})
		}
	}
	return all
}

// tipping estimates by statics whether the piece stands on its feet: with all
// open, with a child on one drawer, and when pushed. It never says that a
// piece passes a test.
func tipping(in Input) []finding.Finding {
	if in.Piece.Use.Hung() {
		return nil
	}
	feet, ok := stanceOf(in)
	if !ok || Mass(in.Model, in.Shop) <= 0 {
		return nil
	}
	open, parts := drawersOut(in), weighed(in)
	var out []finding.Finding
	if f, ok := tipsOpen(in, feet, parts, open); ok {
		out = append(out, f)
	}
	if f, ok := tipsChild(in, feet, parts, open); ok {
		out = append(out, f)
	}
	return append(out, tipsPushed(in, feet)...)
}

const estimate = "Estimate only; a test is physical. "

// tipsOpen opens one after the other, the farthest out first, with their
// loads: a piece that falls over one drawer does not work.
func tipsOpen(in Input, feet stance, parts []standing, open []pulled) (finding.Finding, bool) {
	if len(open) == 0 {
		return finding.Finding{}, false
	}
	for _, d := range open {
		one := opened(parts, []pulled{d}, true)
		if m := Moment(one, feet.front, 0); m <= 0 {
			f := fallen(in, "tips-one-open", one, feet, 0)
			f.Level = finding.Stop
			if in.Piece.Use.Anchor {
				f.Level = finding.Care
			}
			f.Place = d.opening.Name
			f.Says = fmt.Sprintf("With %s alone open and loaded with %s it falls forward by %s.", d.opening.Name, kg(in, d.load), f.Figure)
			return f, true
		}
	}
	if len(open) < 2 {
		return finding.Finding{}, false
	}
	empty, loaded := opened(parts, open, false), opened(parts, open, true)
	what, ws := "and empty", empty
	if Moment(empty, feet.front, 0) > 0 {
		what, ws = fmt.Sprintf("and %s in them", kg(in, loadIn(open))), loaded
		if Moment(loaded, feet.front, 0) > 0 {
			return finding.Finding{}, false
		}
	}
	f := fallen(in, "tips-all-open", ws, feet, 0)
	f.Says = fmt.Sprintf("With %s open %s it falls forward by %s.", opens(open), what, f.Figure)
	f.Advice += " Or buy an interlock that lets one drawer open at a time."
	return f, true
}

// opens counts what is open: "4 drawers", "2 doors".
func opens(open []pulled) string {
	drawers := 0
	for _, d := range open {
		if d.out > 0 {
			drawers++
		}
	}
	how := "both"
	if len(open) > 2 {
		how = fmt.Sprintf("all %d", len(open))
	}
	switch doors := len(open) - drawers; {
	case doors == 0:
		return how + " drawers"
	case drawers == 0:
		return how + " doors"
	case len(open) == 2:
		return "drawer and door both"
	}
	return how + " drawers and doors"
}

func loadIn(open []pulled) float64 {
	var kg float64
	for _, d := range open {
		kg += d.load
	}
	return kg
}

// tipsChild sets a child on the front of the worst drawer; clothing storage
// has all open and its rear raised, as in the US test.
func tipsChild(in Input, feet stance, parts []standing, open []pulled) (finding.Finding, bool) {
	if in.Piece.Use.NoChild {
		return finding.Finding{}, false
	}
	t, raised := unit.Angle(0), ""
	if raisedBehind(in) {
		t, raised = Tilt(rearBlock, feet.deep()), ", raised behind by 0.43 in"
	}
	least, worst, which := childOn(in, feet, parts, open, t)
	if worst == nil || least > 0 {
		return finding.Finding{}, false
	}
	f := fallen(in, "tips-child", worst, feet, t)
	how := "that drawer open"
	if in.Piece.Use.For == "clothing" {
		how = "all drawers open"
	}
	f.Place = which
	f.Says = fmt.Sprintf("With 60 lb (27.2 kg) on the front of the drawer of %s, %s%s, it falls forward by %s.", which, how, raised, f.Figure)
	f.Source = "statics; child's weight and rear block of the US test on clothing storage, as quoted elsewhere"
	return f, true
}

// raisedBehind says that the piece is judged with a block under its back feet.
func raisedBehind(in Input) bool { return in.Piece.Use.For == "clothing" || in.Piece.Use.Carpet }

// childOn sits a child on each drawer in turn and gives the least moment, the
// weights of that case, nil without drawers, and the opening.
func childOn(in Input, feet stance, parts []standing, open []pulled, t unit.Angle) (least float64, worst []Weight, which string) {
	least = math.Inf(1)
	for _, d := range open {
		if d.out == 0 {
			continue
		}
		now := []pulled{d}
		if in.Piece.Use.For == "clothing" {
			now = slices.DeleteFunc(slices.Clone(open), func(p pulled) bool { return p.out == 0 })
		}
		ws := append(opened(parts, now, false), Weight{childMass, 0, d.front, d.high})
		if m := Moment(ws, feet.front, t); m < least {
			least, worst, which = m, ws, d.opening.Name
		}
	}
	return least, worst, which
}

// fallen is a finding on a piece that does not stand, with what would make it
// stand: by how much to move what it stands on, how much ballast at the back, and
// what an anchor at the top has to hold.
func fallen(in Input, id string, ws []Weight, feet stance, t unit.Angle) finding.Finding {
	m := -Moment(ws, feet.front, t)
	cos := math.Cos(t.Rad())
	all := float64(sum(ws).Mass)
	forward := unit.MM(m / (all * cos))
	f := finding.Finding{
		ID: id, Level: finding.Care, Place: in.Piece.Name,
		Figure: unit.Moment(m*gravity/1000, in.Piece.Units), Limit: unit.NoMoment(in.Piece.Units), Source: "statics, sum of moments about " + ground(in).front,
	}
	hold := pulls(in, -m, t).Both(in.Piece.Units)
	wall := "the anchor and its wall good for more than " + hold
	feetOut := ground(in).move("forward", up(in, forward))
	if arm := (feet.back - feet.front) * cos; arm > 0 {
		feetOut += fmt.Sprintf("; or put %s over %s", kg(in, float64(unit.Mass(m/arm).RoundedUp(in.Piece.Units))), ground(in).back)
	}
	advice := "Fix the top to the wall, " + wall + "; or " + feetOut
	switch {
	case in.Piece.Base != nil && in.Piece.Base.Kind == "casters": // nothing holds what rolls
		advice = document.Capital(feetOut) + "; or put it on feet, legs or a plinth, which can be held"
	case in.Piece.Use.Free(): // nothing to fix it to, as the piece says
		advice = document.Capital(feetOut) + "; or let it not stand free: write against: wall and fix its top there, " + wall
	case in.Piece.Use.Anchor:
		advice = fmt.Sprintf("The anchor has to hold more than %s at the top; see that wall and screws do", hold)
	}
	f.Advice = estimate + advice + "."
	return f
}

// pulls is what an anchor at the top has to hold against a moment, as Moment
// gives it; 0 where the piece stands.
func pulls(in Input, moment float64, t unit.Angle) unit.Force {
	if arm := in.Model.Outside.Z.MM() * math.Cos(t.Rad()); arm > 0 {
		return unit.Force(max(0, -moment) * gravity / arm)
	}
	return 0
}

// Anchor is what a wall anchor at the top has to hold by statics, in the worst
// of the cases that are judged: each drawer or door open and loaded, all of
// them, a child on one. It is an estimate and 0 where none of them tips the
// piece, or where it hangs; jerks and swinging are not in it.
func Anchor(in Input) unit.Force {
	feet, ok := stanceOf(in)
	if !ok || in.Piece.Use.Hung() {
		return 0
	}
	open, parts := drawersOut(in), weighed(in)
	var most unit.Force
	for _, d := range open {
		most = max(most, pulls(in, Moment(opened(parts, []pulled{d}, true), feet.front, 0), 0))
	}
	for _, loaded := range []bool{false, true} {
		most = max(most, pulls(in, Moment(opened(parts, open, loaded), feet.front, 0), 0))
	}
	if in.Piece.Use.NoChild {
		return most
	}
	t := unit.Angle(0)
	if raisedBehind(in) {
		t = Tilt(rearBlock, feet.deep())
	}
	if least, ws, _ := childOn(in, feet, parts, open, t); ws != nil {
		most = max(most, pulls(in, least, t))
	}
	return most
}
