package scene

import (
	"math"

	"casewright/internal/build"
	"casewright/internal/station"
)

// Strip is a part bent by kerfs, as a chain of hinges along its developed
// length. In its own plane x runs along the length and y from the show face
// through the thickness; the width runs along z. Between two kerfs lies a
// land, which is rigid.
type Strip struct {
	LengthMM    float64     `json:"length_mm"`
	WidthMM     float64     `json:"width_mm"`
	ThicknessMM float64     `json:"thickness_mm"`
	Bends       []StripBend `json:"bends" doc:"in the order of the length"`
}

// StripBend is one bend: its kerfs and how far each turns.
type StripBend struct {
	Name      string       `json:"name"`
	AngleDeg  float64      `json:"angle_deg" doc:"of the whole bend, positive to the left of the run"`
	Radius    station.Size `json:"radius" doc:"of the uncut face"`
	KerfsMM   []float64    `json:"kerfs_mm" doc:"middles of the kerfs"`
	WidthMM   float64      `json:"width_mm" doc:"of a kerf"`
	DepthMM   float64      `json:"depth_mm"`
	PitchMM   float64      `json:"pitch_mm"`
	ShowFace  bool         `json:"show_face" doc:"the kerfs are cut into the show face"`
	NeutralMM float64      `json:"neutral_mm" doc:"y of the line the hinges turn about, in the middle of the skin or where a test bend found it"`
	EachRad   float64      `json:"each_rad" doc:"turn of each kerf"`
}

// Lay is how a strip at one of its places lies when it is flat.
type Lay struct {
	Lead    int       `json:"lead" doc:"the land, counted from 0, that the others follow"`
	Pose    Pose      `json:"pose" doc:"of that land when flat, in the part's plane; its turn counts from the bent one"`
	SeamsMM []float64 `json:"seams_mm" doc:"ends, along the length, that are joined to another part or to the other end"`
}

// Pose is where a land lies in the plane of its part: a place and a turn.
type Pose struct {
	XMM float64 `json:"x_mm"`
	YMM float64 `json:"y_mm"`
	Rad float64 `json:"rad"`
}

// at takes a point of the pose's own axes to those it lies in.
func (p Pose) at(x, y float64) (float64, float64) {
	sin, cos := math.Sincos(p.Rad)
	return p.XMM + x*cos - y*sin, p.YMM + x*sin + y*cos
}

// moved is the pose after a step in its own axes.
func (p Pose) moved(x, y float64) Pose {
	x, y = p.at(x, y)
	return Pose{x, y, p.Rad}
}

// hinge gives the pose of the land after a kerf at c, when the kerf has
// turned by theta: the neutral line bends evenly over the width of the kerf.
// The arc is a little longer than the kerf is wide, so that the run over the
// bend is that of the even curve by which the plan reckons:
// pitch − (pitch − kerf)·(θ/2)/tan(θ/2). Derived; a few hundredths of a
// millimetre on the closest pitches.
func (b StripBend) hinge(before Pose, c, theta float64) Pose {
	half, arc := theta/2, b.WidthMM
	chord := arc
	if math.Abs(half) > 1e-9 {
		arc = b.PitchMM - (b.PitchMM-b.WidthMM)*half/math.Tan(half)
		chord = arc * math.Sin(half) / half
	}
	p := before.moved(c-b.WidthMM/2, b.NeutralMM)
	p.Rad += half
	p = p.moved(chord, 0)
	p.Rad += half
	return p.moved(-(c + b.WidthMM/2), -b.NeutralMM)
}

// Lands are the poses of all lands when the bends have turned by a share of
// their angle, from 0, flat, to 1. The first lies where the part's axes are.
// A pose takes (x, y) of the flat strip to the bent one.
func (s Strip) Lands(share float64) []Pose {
	out := []Pose{{}}
	for _, b := range s.Bends {
		for _, c := range b.KerfsMM {
			out = append(out, b.hinge(out[len(out)-1], c, share*b.EachRad))
		}
	}
	return out
}

// strip is the chain of a bent part.
func (m *maker) strip(p *build.Part) *Strip {
	s := &Strip{LengthMM: mm(p.Length.Size.MM()), WidthMM: mm(p.Width.Size.MM()), ThicknessMM: mm(p.Thickness.Size.MM())}
	for _, k := range p.Kerfs {
		bend := m.plan.Model.Bends[k.Bend]
		r := bend.Design.Result
		b := StripBend{
			Name: bend.Name, Radius: m.shown(r.FaceRadius),
			WidthMM: mm(r.Kerf.MM()), DepthMM: mm(r.Depth.MM()), PitchMM: fine(k.Zone.MM() / float64(max(r.Count, 1))),
			ShowFace: k.Face == build.FaceOther, NeutralMM: fine(r.NeutralDepth.MM()),
			EachRad: r.Turn.Rad() / float64(max(r.Count, 1)),
		}
		// The path runs along y = 0 with the panel on its left. With kerfs
		// from behind inside the curve, or in the show face outside it, the
		// curve is to the left.
		if r.Spec.Outside != b.ShowFace {
			b.EachRad = -b.EachRad
		}
		b.AngleDeg = fine(b.EachRad * float64(r.Count) * 180 / math.Pi)
		if b.ShowFace {
			b.NeutralMM = fine(s.ThicknessMM - b.NeutralMM)
		}
		for _, c := range k.Positions {
			b.KerfsMM = append(b.KerfsMM, mm(c.MM()))
		}
		s.Bends = append(s.Bends, b)
	}
	return s
}

// landEnds are the ends of land i along the flat strip: from the middle of
// one kerf to that of the next.
func (s Strip) landEnds() []float64 {
	at := []float64{0}
	for _, b := range s.Bends {
		at = append(at, b.KerfsMM...)
	}
	return append(at, s.LengthMM)
}
