package station

import (
	"math"

	"casewright/internal/bend"
	"casewright/internal/geom"
	"casewright/internal/plan"
	"casewright/internal/unit"
)

// BendDrawing is the section of a panel across its kerfs at even steps of the
// turn, from flat to closed. Every step has the same points in the same
// order, so that a drawing can go from one to the next point by point. The
// panel comes in along x with its uncut face on y = 0; y points up.
type BendDrawing struct {
	Steps  []BendStep `json:"steps"`
	Wanted float64    `json:"wanted" doc:"the step, with its fraction, at which the wanted turn is reached"`
	Box    [4]float64 `json:"box" doc:"least x, least y, greatest x, greatest y over all steps and the fan, mm"`
	Thick  Size       `json:"thick" doc:"of the panel"`
	Skin   Size       `json:"skin"`
	SkinMM float64    `json:"skin_mm"`
	Turn   string     `json:"turn" doc:"as wanted"`
	Says   string     `json:"says" doc:"at the wanted turn, as a step says it"`
	Gap    string     `json:"gap" doc:"of each kerf at the wanted turn"`
	Radius Size       `json:"radius" doc:"of the uncut face at the wanted turn"`
	Zone   Size       `json:"zone" doc:"from tangent point to tangent point on the flat panel"`
	ZoneMM float64    `json:"zone_mm"`
	Bar    ScaleBar   `json:"bar"`
}

// BendStep is the section at one turn.
type BendStep struct {
	Turn    float64   `json:"turn" doc:"degrees"`
	Says    string    `json:"says" doc:"the turn and how far each kerf is open"`
	Points  []float64 `json:"points" doc:"x and y in turn, mm"`
	Apex    []float64 `json:"apex,omitempty" doc:"where the lines of the two legs' faces meet, mm; none when nearly flat or turned back"`
	Radius  float64   `json:"radius_mm" doc:"of the uncut face; its centre lies square over the tangent point at x = 0; 0 when nearly flat"`
	RadiusS string    `json:"radius" doc:"the same in words"`
	Kerf    []float64 `json:"kerf" doc:"the middle of the middle kerf and half its depth, for a detail of it; mm"`
	Gap     string    `json:"gap" doc:"how far each kerf is open at its mouth"`
}

// ScaleBar is a length to draw a drawing's scale by.
type ScaleBar struct {
	MM   float64 `json:"mm"`
	Says Size    `json:"says"`
}

// FanLine is the uncut face with the kerfs closed, when the shop's errors
// fall one way.
type FanLine struct {
	Share  string    `json:"share" doc:"p05, mean, p95, or wanted"`
	Angle  string    `json:"angle"`
	Says   string    `json:"says"`
	Points []float64 `json:"points"`
}

// bendSteps is the number of steps from flat to closed; between two the
// points move less than a drawing shows.
const bendSteps = 25

// legOf is the straight panel drawn before and after a bend.
func legOf(r bend.Result) unit.Length {
	return min(max(r.Zone.Scale(0.35), 30*unit.Millimetre), 90*unit.Millimetre)
}

func bendDrawing(p plan.Plan, r bend.Result) BendDrawing {
	most := r.ClosesAt
	if r.Spec.Outside {
		most = r.Turn
	}
	d := BendDrawing{
		Wanted: math.Min(r.Turn.Rad()/most.Rad(), 1) * (bendSteps - 1),
		Thick:  sized(p, r.Spec.Thickness), Skin: fine(p, r.Spec.Skin), SkinMM: cent(r.Spec.Skin.MM()),
		Turn: degrees(r.Turn), Radius: sized(p, r.FaceRadius), Zone: sized(p, r.Zone), ZoneMM: cent(r.Zone.MM()),
		Bar: ScaleBar{20, Size{"20 mm", sizeIn(unit.Imperial, 20*unit.Millimetre).Own}},
		Box: [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)},
	}
	if p.Piece.Units == unit.Imperial {
		d.Bar = ScaleBar{25.4, Size{"1 in", "25.4 mm"}}
	}
	at := bendStep(p, r, r.Turn)
	d.Says, d.Gap = at.Says, at.Gap
	for i := range bendSteps {
		turn := most * unit.Angle(i) / (bendSteps - 1)
		s := bendStep(p, r, turn)
		d.cover(s.Points)
		d.Steps = append(d.Steps, s)
	}
	for _, f := range bendFan(p, r) {
		d.cover(f.Points)
	}
	return d
}

func bendStep(p plan.Plan, r bend.Result, turn unit.Angle) BendStep {
	gap := fine(p, r.GapAt(turn).Abs()).Own
	s := BendStep{Turn: cent(turn.Deg()), Points: flatten(r.SectionPoints(turn, legOf(r), 2)), Kerf: middleKerf(r, turn), Gap: gap}
	switch {
	case r.Spec.Outside:
		s.Says = "turned " + degrees(turn) + ", each kerf open " + gap
	case turn >= r.ClosesAt:
		s.Says = "turned " + degrees(turn) + ", the kerfs are closed"
	default:
		s.Says = "turned " + degrees(turn) + ", each kerf open " + gap
	}
	if turn.Deg() < 5 {
		return s
	}
	// The neutral line is as long whatever the turn.
	neutral := unit.MM(r.Pitch.MM() * float64(r.Count) / turn.Rad())
	face := neutral + r.NeutralDepth
	if r.Spec.Outside {
		face = neutral - r.NeutralDepth
	}
	s.Radius, s.RadiusS = cent(face.MM()), sized(p, face).Own
	if turn.Deg() < 170 {
		// Tangents to a circle of the face's radius meet at radius·tan(turn/2)
		// from where they touch it.
		s.Apex = []float64{cent(face.MM() * math.Tan(turn.Rad()/2)), 0}
	}
	return s
}

// middleKerf is where to look to see one kerf close.
func middleKerf(r bend.Result, turn unit.Angle) []float64 {
	section := r.Section(turn, legOf(r))
	face := 2 + 2*r.Count
	each := (len(section) - face - 2) / max(r.Count, 1) // corners of one kerf
	if each < 3 {
		return []float64{}
	}
	first := face + 1 + (r.Count-1)/2*each
	var x, y float64
	for _, v := range section[first : first+each] {
		x += v.X.MM() / float64(each)
		y += v.Y.MM() / float64(each)
	}
	return []float64{cent(x), cent(y), cent(r.Depth.MM() / 2)}
}

// bendFan are the faces at the angles between which 90 bends in 100 close.
func bendFan(p plan.Plan, r bend.Result) []FanLine {
	if r.Spec.Outside {
		return []FanLine{}
	}
	// Longer than the panel drawn, so that the lines stand out beyond it.
	line := func(share string, a unit.Angle, says string) FanLine {
		pts := facePoints(r.FaceLoose(a, legOf(r).Scale(1.6)))
		pts[0] = geom.P(-legOf(r), 0)
		return FanLine{share, degrees(a), says, flatten(pts)}
	}
	return []FanLine{
		line("p05", r.Band.AngleP05, "5 in 100 close before "+degrees(r.Band.AngleP05)),
		line("mean", r.Band.AngleMean, "on average "+degrees(r.Band.AngleMean)),
		line("p95", r.Band.AngleP95, "5 in 100 go past "+degrees(r.Band.AngleP95)),
		line("wanted", r.Turn, "wanted "+degrees(r.Turn)),
	}
}

// facePoints are the corners of a face line; its arcs are too short to show
// in a thin line.
func facePoints(path geom.Path) []geom.Point {
	out := make([]geom.Point, 0, len(path))
	for _, v := range path {
		out = append(out, v.Point)
	}
	return out
}

// flatten writes points as x and y in turn, to a hundredth of a millimetre.
func flatten(pts []geom.Point) []float64 {
	out := make([]float64, 0, 2*len(pts))
	for _, q := range pts {
		out = append(out, cent(q.X.MM()), cent(q.Y.MM()))
	}
	return out
}

func cent(v float64) float64 {
	v = math.Round(v*100) / 100
	if v == 0 {
		return 0 // and not -0
	}
	return v
}

func (d *BendDrawing) cover(points []float64) {
	for i := 0; i+1 < len(points); i += 2 {
		d.Box[0], d.Box[1] = math.Min(d.Box[0], points[i]), math.Min(d.Box[1], points[i+1])
		d.Box[2], d.Box[3] = math.Max(d.Box[2], points[i]), math.Max(d.Box[3], points[i+1])
	}
}
