package bend

import (
	"fmt"
	"math"

	"casewright/internal/unit"
)

// ToothForm is the shape a blade or bit leaves at the bottom of the kerf.
type ToothForm int

// The tooth forms.
const (
	FlatTooth  ToothForm = iota // flat bottom, straight walls
	BevelTooth                  // alternate bevel: two deep corners, a ridge between
	VeeTooth                    // a V whose point is at the cut depth
	FlaredWall                  // mouth wider or narrower than the bottom
)

// Tooth is a tooth form with its measure. The zero Tooth is flat.
type Tooth struct {
	Form ToothForm
	// Bevel is the bevel angle of alternate-bevel teeth, or half the angle
	// between the walls of a V.
	Bevel unit.Angle
	// Mouth is the width at the mouth of a kerf whose walls are not parallel.
	Mouth unit.Length
}

// Hinge says where the skin is taken to bend for the closing angle.
type Hinge int

// The hinges. They differ by less than 0.7 per cent for ordinary kerfs.
const (
	ArcHinge   Hinge = iota // evenly over the kerf: closes at w/h exactly
	PointHinge              // all at mid-kerf: 2·atan(w/2h)
	RootHinge               // evenly over the kerf and the roots in the lands
)

// DepthFrom says which face the saw takes its depth from.
type DepthFrom int

// The two ways of setting depth.
const (
	FromKerfedFace DepthFrom = iota // table saw, track saw: a thin sheet leaves a thin skin
	FromUncutFace                   // a bed or a machine table under the uncut face: the skin stays
)

// Sheen is how the finish shows facets in raking light.
type Sheen int

// The sheens. Common practice, no source.
const (
	SheenUnknown Sheen = iota
	Matt               // 0.1 mm shows
	Satin              // 0.05 mm
	Gloss              // 0.02 mm; dark gloss too
)

// Limit is the facet height that begins to show; 0 for an unknown sheen.
// Common practice, no source.
func (s Sheen) Limit() unit.Length {
	switch s {
	case Matt:
		return 100 * unit.Micrometre
	case Satin:
		return 50 * unit.Micrometre
	case Gloss:
		return 20 * unit.Micrometre
	}
	return 0
}

func (s Sheen) String() string {
	return [...]string{"unknown", "matt", "satin", "gloss"}[min(max(s, 0), 3)]
}

// Scatter is how far things stray in the shop: standard deviations. Shared
// ones are drawn once for a panel, the rest for each kerf.
type Scatter struct {
	KerfShared   unit.Length // the blade's kerf, not as measured
	Kerf         unit.Length // kerf to kerf
	DepthShared  unit.Length // depth setting
	Depth        unit.Length // kerf to kerf: bow, dust, hold-down
	Thickness    unit.Length // sheet thickness
	Pitch        unit.Length // kerf to kerf
	NeutralRatio float64     // of the neutral depth over the skin; a test bend takes it away
}

// ShopScatter is the scatter of a careful shop: kerf 0.05 mm shared and 0.02
// each, depth 0.1 shared and 0.05 each, thickness 0.1, pitch 0.15. Common
// practice, no source; it stands for a saw set by a test cut and calipers.
func ShopScatter() Scatter {
	return Scatter{
		KerfShared: unit.MM(0.05), Kerf: unit.MM(0.02),
		DepthShared: unit.MM(0.1), Depth: unit.MM(0.05),
		Thickness: unit.MM(0.1), Pitch: unit.MM(0.15),
	}
}

// Spec is one bend to be worked out. Zero fields take the default named.
type Spec struct {
	Place    string      // path of the bend in the piece, for findings
	Units    unit.System // in which sentences show sizes; default millimetres
	Material Material

	Thickness unit.Length   // of the panel, as measured
	Skin      unit.Length   // left at the thinnest place
	Kerf      unit.Length   // width the blade really cuts; for a V worked out from depth and bevel
	Tooth     Tooth         // default flat
	Passes    []unit.Length // fence offsets of further passes at each kerf, each widening it

	Radius  unit.Length // of the uncut face; kerfs inside the bend: the outside radius
	Pitch   unit.Length // between kerf centres, instead of Radius; needs Count
	Angle   unit.Angle  // the bend turns by this, 0 to 360 degrees
	Outside bool        // kerfs on the outside of the curve: they open
	Count   int         // of kerfs; 0: the least that closes in all but 5 of 100 bends, or outside, that bends dry or failing that softened
	Form    bool        // bent over a form, which sets the radius

	Hinge        Hinge   // default arc
	NeutralRatio float64 // measured neutral depth over skin; 0: elastic, from the material

	Width     unit.Length // length of the kerfs, the panel's width; 0: no force and no glue volume
	Lever     unit.Length // from the bend to the hand that bends it; default 300 mm
	Sheen     Sheen       // of the finish
	LeastLand unit.Length // thinnest land that survives handling; default 2 mm (common practice, no source)
	Moisture  float64     // change of moisture content to expect later, per cent; default 4

	DepthFrom DepthFrom
	Scatter   *Scatter // default ShopScatter
	Seed      uint64
	Draws     int // default 2000, at most 20000
}

const (
	maxCount    = 1000
	maxDraws    = 20_000
	defaultDraw = 2000
)

// withDefaults fills the zero fields.
func (s Spec) withDefaults() Spec {
	if s.Lever == 0 {
		s.Lever = 300 * unit.Millimetre
	}
	if s.LeastLand == 0 {
		s.LeastLand = 2 * unit.Millimetre
	}
	if s.Moisture == 0 {
		s.Moisture = 4
	}
	if s.Draws == 0 {
		s.Draws = defaultDraw
	}
	if s.Scatter == nil {
		shop := ShopScatter()
		s.Scatter = &shop
	}
	return s
}

// validate says in one sentence what is wrong with the spec, and what to do.
func (s Spec) validate() error {
	u := show(s.Units)
	length := func(what string, l, least, most unit.Length) error {
		if l < least || l > most {
			return fmt.Errorf("%s is %s; give one from %s to %s", what, u.size(l), u.size(least), u.size(most))
		}
		return nil
	}
	const tiny, metre = 10 * unit.Micrometre, unit.Metre
	checks := []error{
		length("the panel's thickness", s.Thickness, unit.Millimetre/2, 200*unit.Millimetre),
		length("the skin", s.Skin, 50*unit.Micrometre, 200*unit.Millimetre),
	}
	if s.Tooth.Form != VeeTooth {
		checks = append(checks, length("the kerf", s.Kerf, 100*unit.Micrometre, 100*unit.Millimetre))
	}
	checks = append(checks,
		length("the panel's width", s.Width, 0, 20*metre),
		length("the lever", s.Lever, tiny, 20*metre),
		length("the least land", s.LeastLand, tiny, metre),
		s.Material.validate(), s.Scatter.validate(u), s.tooth(),
	)
	for _, err := range checks {
		if err != nil {
			return err
		}
	}
	switch {
	case s.Skin >= s.Thickness:
		return fmt.Errorf("the skin of %s is as thick as the panel of %s, so nothing is cut; leave a skin of about %s", u.size(s.Skin), u.size(s.Thickness), u.size(s.Thickness/12))
	case s.Skin > s.Thickness/2:
		return fmt.Errorf("the skin of %s is more than half the panel of %s and bends as a panel, not over its kerfs; cut deeper, to a skin of about %s", u.size(s.Skin), u.size(s.Thickness), u.size(s.Thickness/12))
	case !(s.Angle > 0 && s.Angle <= 2*math.Pi+1e-9):
		return fmt.Errorf("the bend turns by %.4g degrees; give an angle over 0, up to 360", s.Angle.Deg())
	case s.Count < 0 || s.Count > maxCount:
		return fmt.Errorf("%d kerfs asked for; give 1 to %d, or 0 to have the count chosen", s.Count, maxCount)
	case s.Draws < 0 || s.Draws > maxDraws:
		return fmt.Errorf("%d draws asked for; give up to %d", s.Draws, maxDraws)
	case !(s.NeutralRatio >= 0 && s.NeutralRatio <= 1):
		return fmt.Errorf("the neutral depth is %.4g of the skin; it lies between 0 and 1", s.NeutralRatio)
	case !(math.Abs(s.Moisture) <= 30):
		return fmt.Errorf("a change of moisture content by %.4g per cent is outside wood's range; give one from -30 to 30", s.Moisture)
	case s.Pitch != 0 && s.Radius != 0:
		return fmt.Errorf("both the radius %s and the pitch %s are given; give one, the other follows", u.size(s.Radius), u.size(s.Pitch))
	case s.Pitch != 0 && s.Count == 0:
		return fmt.Errorf("the pitch %s is given without a count; give the number of kerfs too", u.size(s.Pitch))
	case s.Hinge < ArcHinge || s.Hinge > RootHinge || s.Tooth.Form < FlatTooth || s.Tooth.Form > FlaredWall || s.DepthFrom < FromKerfedFace || s.DepthFrom > FromUncutFace:
		return fmt.Errorf("the hinge, tooth form or depth setting is none of those known; choose a listed one")
	}
	if s.Pitch != 0 {
		return length("the pitch", s.Pitch, unit.Millimetre/10, 10*metre)
	}
	return length("the radius", s.Radius, unit.Millimetre, 100*metre)
}

// tooth checks the tooth form and the passes.
func (s Spec) tooth() error {
	u := show(s.Units)
	b := s.Tooth.Bevel.Deg()
	switch s.Tooth.Form {
	case BevelTooth:
		if !(b >= 0 && b <= 45) {
			return fmt.Errorf("the teeth are bevelled by %.4g degrees; give 0 to 45", b)
		}
	case VeeTooth:
		if !(b >= 1 && b <= 75) {
			return fmt.Errorf("the V has a half angle of %.4g degrees; give 1 to 75", b)
		}
		if len(s.Passes) > 0 {
			return fmt.Errorf("a V is cut in one pass; leave the passes out")
		}
	case FlaredWall:
		if s.Tooth.Mouth < 100*unit.Micrometre || s.Tooth.Mouth > 100*unit.Millimetre {
			return fmt.Errorf("the kerf is %s wide at its mouth; give %s", u.size(s.Tooth.Mouth), u.span(0.1, 100))
		}
	}
	for i, p := range s.Passes {
		if p <= 0 || p > 100*unit.Millimetre {
			return fmt.Errorf("pass %d is offset by %s; give more than 0, at most the kerf less %s", i+2, u.size(p), u.mm(0.1, 6))
		}
	}
	if len(s.Passes) > 50 {
		return fmt.Errorf("%d further passes for one kerf; use a dado set or a router", len(s.Passes))
	}
	return nil
}

func (m Material) validate() error {
	figure := func(v, least, most float64) bool { return v >= least && v <= most } // false for NaN
	switch {
	case m.Kind < Isotropic || m.Kind > AlongKerf:
		return fmt.Errorf("material %q is of no known kind; choose isotropic, solid, fibreboard, face ply or along the kerf", m.Key)
	case !figure(float64(m.Ex), 1, 1e6) || !figure(float64(m.Ey), 1, 1e6) || !figure(float64(m.G), 1, 1e6):
		return fmt.Errorf("material %q needs moduli Ex, Ey and G from 1 to 1000000 N/mm²", m.Key)
	case !figure(m.Nu, -1, 1) || !figure(m.Alpha, 0, 20):
		return fmt.Errorf("material %q has a Poisson's ratio of %.4g and a reach of %.4g skins; give -1 to 1 and 0 to 20", m.Key, m.Nu, m.Alpha)
	case !figure(m.Yield, 0, 0.2) || !figure(m.InPlane, 0, 0.02) || !figure(m.Through, 0, 0.02):
		return fmt.Errorf("material %q has a yield strain or a movement out of range; give fractions, such as 0.004", m.Key)
	case !figure(m.Dry.A, 1e-5, 1) || !figure(m.Dry.P, 0, 3) || !figure(m.Wet.A, 0, 1) || !figure(m.Wet.P, 0, 3):
		return fmt.Errorf("material %q needs an allowable strain as a fraction, such as 0.0083 of thickness to the power 0.39", m.Key)
	case len(m.Layers) > 100:
		return fmt.Errorf("material %q has %d layers; give at most 100", m.Key, len(m.Layers))
	}
	for i, l := range m.Layers {
		if l.Thickness <= 0 || l.Thickness > 200*unit.Millimetre || !figure(float64(l.E), 1, 1e6) {
			return fmt.Errorf("layer %d of material %q needs a thickness up to 200 mm and a modulus from 1 to 1000000 N/mm²", i+1, m.Key)
		}
	}
	return nil
}

func (c *Scatter) validate(u show) error {
	for _, l := range []unit.Length{c.KerfShared, c.Kerf, c.DepthShared, c.Depth, c.Thickness, c.Pitch} {
		if l < 0 || l > 5*unit.Millimetre {
			return fmt.Errorf("a scatter of %s is out of range; give standard deviations from %s", u.size(l), u.span(0, 5))
		}
	}
	if !(c.NeutralRatio >= 0 && c.NeutralRatio <= 0.5) {
		return fmt.Errorf("the neutral depth scatters by %.4g of the skin; give 0 to 0.5", c.NeutralRatio)
	}
	return nil
}
