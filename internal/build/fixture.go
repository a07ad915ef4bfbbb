package build

import (
	"casewright/internal/geom"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Fixture is bought hardware where it stands, in upright blocks and round rods
// of the sizes that the shop gives. What the shop does not say is one plain
// block of a usual size, without detail. Fixtures are for pictures; no part is
// reckoned from them.
type Fixture struct {
	Kind   FixtureKind
	Name   string
	At     geom.Vec // where it is fixed
	Blocks []geom.Bounds3
	Rods   []Rod
}

// FixtureKind says what a fixture is.
type FixtureKind string

// The kinds.
const (
	FixturePull   FixtureKind = "pull"
	FixtureRunner FixtureKind = "runner"
	FixtureHinge  FixtureKind = "hinge"
	FixturePlate  FixtureKind = "plate"
	FixtureCaster FixtureKind = "caster"
	FixtureFoot   FixtureKind = "foot"
)

// Outside reports whether the fixture stands outside the case, where it is
// seen when all is shut.
func (f Fixture) Outside() bool { return f.Kind != FixtureRunner && f.Kind != FixtureHinge }

// Bounds is the room that the fixture takes.
func (f Fixture) Bounds() geom.Bounds3 {
	out := geom.BoundsOf(f.At)
	for _, b := range f.Blocks {
		out = out.Union(b)
	}
	for _, r := range f.Rods {
		b, half := geom.BoundsOf(r.From, r.To), r.Diameter/2
		if s := b.Size(); s.X == 0 {
			b.Min.X, b.Max.X = b.Min.X-half, b.Max.X+half
		}
		if s := b.Size(); s.Y == 0 {
			b.Min.Y, b.Max.Y = b.Min.Y-half, b.Max.Y+half
		}
		if s := b.Size(); s.Z == 0 {
			b.Min.Z, b.Max.Z = b.Min.Z-half, b.Max.Z+half
		}
		out = out.Union(b)
	}
	return out
}

// Rod is a round bar.
type Rod struct {
	From, To geom.Vec // the middles of its ends
	Diameter unit.Length
}

// Sizes of hardware where the shop does not say (common practice, no source).
const (
	pullOut     = 30 * unit.Millimetre
	pullWide    = 10 * unit.Millimetre
	knobWide    = 30 * unit.Millimetre
	knobOut     = 25 * unit.Millimetre
	runnerThick = 127 * unit.Millimetre / 10
	runnerHigh  = 45 * unit.Millimetre
	trackThick  = 30 * unit.Millimetre
	trackHigh   = 10 * unit.Millimetre
	plateThick  = 5 * unit.Millimetre / 2
	cupWide     = 35 * unit.Millimetre
	cupRim      = 3 * unit.Millimetre
	footWide    = 40 * unit.Millimetre
	forkThick   = 2 * unit.Millimetre
)

// fixtures is the bought hardware of a model that has a place.
func fixtures(all []Fitting, s shop.Shop) []Fixture {
	var out []Fixture
	for _, f := range all {
		h := s.Hardware[f.Key]
		for i, at := range f.At {
			x := Fixture{Name: f.Name, At: at}
			switch h.Kind {
			case "pull":
				x.pull(h, f.For == "doors")
			case "side-runner", "under-runner", "corner-runner":
				x.runner(h, f.Length, i%2 == 1)
			case "cup-hinge":
				x.hinge(h)
			case "leg-plate":
				x.Kind = FixturePlate
				x.plate(h)
			case "caster":
				x.caster(h)
			case "foot":
				x.foot(h)
			default:
				continue
			}
			out = append(out, x)
		}
	}
	return out
}

func (f *Fixture) block(lo, hi geom.Vec) {
	f.Blocks = append(f.Blocks, geom.Bounds3{Min: lo, Max: hi})
}

// pull stands on the show face, level on a drawer and upright on a door: a bar
// on posts at its holes where the shop says how far it stands out, else a plain
// block; with one screw a knob, round unless it has a length.
func (f *Fixture) pull(h shop.Hardware, upright bool) {
	f.Kind = FixturePull
	if h.Centres == 0 && h.Length == 0 {
		out := f.At
		out.Y -= given(h.Height, knobOut)
		f.Rods = append(f.Rods, Rod{f.At, out, given(h.Width, knobWide)})
		return
	}
	wide, out := given(h.Width, pullWide), given(h.Height, pullOut)
	long := max(h.Length, h.Centres+wide)
	along := func(l unit.Length) geom.Vec {
		if upright {
			return geom.Vec{Z: l}
		}
		return geom.Vec{X: l}
	}
	across := func(l unit.Length) geom.Vec { return geom.Vec{X: l}.Add(geom.Vec{Z: l}).Add(along(-l)) }
	deep := func(l unit.Length) geom.Vec { return geom.Vec{Y: -l} }
	span := func(from, to geom.Vec) { f.block(f.At.Add(from), f.At.Add(to)) }
	thick := out
	if h.Height > wide && h.Centres > 0 {
		thick = wide
		for _, x := range []unit.Length{-h.Centres / 2, h.Centres - h.Centres/2} {
			span(along(x-wide/2).Add(across(-wide/2)).Add(deep(out-thick)), along(x-wide/2+wide).Add(across(wide-wide/2)))
		}
	}
	span(along(-long/2).Add(across(-wide/2)).Add(deep(out)), along(long-long/2).Add(across(wide-wide/2)).Add(deep(out-thick)))
}

// runner lies between the box and the side of its opening, or under the box.
func (f *Fixture) runner(h shop.Hardware, length unit.Length, right bool) {
	f.Kind = FixtureRunner
	lo, hi := f.At, f.At
	hi.Y += length
	thick := trackThick
	if h.Kind == "side-runner" {
		thick = given(h.Thickness, runnerThick)
		lo.Z -= runnerHigh / 2
		hi.Z += runnerHigh / 2
	} else {
		lo.Z -= trackHigh
	}
	if right {
		lo.X -= thick
	} else {
		hi.X += thick
	}
	f.block(lo, hi)
}

// hinge shows the cup where it is let into the hidden face of the door: only
// its rim, so that no line of it shows through the show face.
func (f *Fixture) hinge(h shop.Hardware) {
	f.Kind = FixtureHinge
	f.Rods = append(f.Rods, Rod{f.At.Add(geom.Vec{Y: -cupRim}), f.At.Add(geom.Vec{Y: 2 * unit.Millimetre}), given(h.Cup, cupWide)})
}

// plate lies under the case, and gives the height at which it ends.
func (f *Fixture) plate(h shop.Hardware) unit.Length {
	l, w := plateSize(h)
	under := f.At.Z - given(h.Thickness, plateThick)
	f.block(geom.Vec{X: f.At.X - l/2, Y: f.At.Y - w/2, Z: under}, geom.Vec{X: f.At.X - l/2 + l, Y: f.At.Y - w/2 + w, Z: f.At.Z})
	return under
}

// caster is a plate, a wheel on the floor and a fork about it where the shop
// gives the wheel; else a block from floor to case.
func (f *Fixture) caster(h shop.Hardware) {
	f.Kind = FixtureCaster
	if h.Wheel == 0 || h.WheelWidth == 0 || h.Wheel >= f.At.Z {
		f.stand(h)
		return
	}
	under := f.plate(h)
	half, z := h.WheelWidth/2, h.Wheel/2
	f.Rods = append(f.Rods, Rod{geom.Vec{X: f.At.X - half, Y: f.At.Y, Z: z}, geom.Vec{X: f.At.X + half, Y: f.At.Y, Z: z}, h.Wheel})
	half += forkThick
	f.block(geom.Vec{X: f.At.X - half, Y: f.At.Y - h.Wheel/4, Z: z}, geom.Vec{X: f.At.X + half, Y: f.At.Y + h.Wheel/4, Z: under})
}

// foot is a block of its length and width, or round where it has no length.
func (f *Fixture) foot(h shop.Hardware) {
	f.Kind = FixtureFoot
	if h.Length > 0 {
		f.stand(h)
		return
	}
	f.Rods = append(f.Rods, Rod{geom.Vec{X: f.At.X, Y: f.At.Y}, f.At, given(h.Width, footWide)})
}

// stand is a block as large as the plate, from the floor to the case.
func (f *Fixture) stand(h shop.Hardware) {
	l, w := plateSize(h)
	f.block(geom.Vec{X: f.At.X - l/2, Y: f.At.Y - w/2}, geom.Vec{X: f.At.X - l/2 + l, Y: f.At.Y - w/2 + w, Z: f.At.Z})
}
