package bend

import (
	"fmt"
	"math"

	"casewright/internal/unit"
)

// TestBend is a coupon from the same sheet, cut at the same saw setting, its
// kerfs closed by hand, and what was measured on it.
type TestBend struct {
	Count     int         // kerfs in the coupon; 5 to 10 are good
	Turned    unit.Angle  // what all of them closed at
	Thickness unit.Length // as measured
	Skin      unit.Length // as measured
	Kerf      unit.Length // as measured
}

func (t TestBend) validate(u show) error {
	switch {
	case t.Count < 1 || t.Count > maxCount:
		return fmt.Errorf("the test bend has %d kerfs; give 1 to %d", t.Count, maxCount)
	case !(t.Turned > 0 && t.each() < math.Pi/2):
		return fmt.Errorf("the test bend turned %.4g degrees over %d kerfs; give what it closed at, under 90 degrees for each kerf", t.Turned.Deg(), t.Count)
	case t.Thickness <= 0 || t.Thickness > 200*unit.Millimetre:
		return fmt.Errorf("the test bend is %s thick; give the measured thickness, up to %s", u.size(t.Thickness), u.mm(200, 6))
	case t.Skin <= 0 || t.Skin >= t.Thickness:
		return fmt.Errorf("the test bend has a skin of %s in %s; give the measured skin, less than the panel", u.size(t.Skin), u.size(t.Thickness))
	case t.Kerf <= 0 || t.Kerf > 100*unit.Millimetre:
		return fmt.Errorf("the test bend's kerf is %s; give the measured width, up to %s", u.size(t.Kerf), u.mm(100, 6))
	}
	return nil
}

// NeutralRatio is the neutral depth over the skin by a test bend alone, as in
// Calibration. An error names the measure that cannot be.
func (t TestBend) NeutralRatio() (float64, error) {
	if err := t.validate(show(unit.Metric)); err != nil {
		return 0, err
	}
	_, neutral := t.split()
	return neutral / t.Skin.MM(), t.doubtful(show(unit.Metric))
}

// split is the lever, kerf over angle, and what it leaves of the thickness
// (mm).
func (t TestBend) split() (lever, neutral float64) {
	lever = t.Kerf.MM() / t.each()
	return lever, t.Thickness.MM() - lever
}

// doubtful says that a neutral depth lies too far outside the skin.
func (t TestBend) doubtful(u show) error {
	_, neutral := t.split()
	if ratio := neutral / t.Skin.MM(); ratio < -0.5 || ratio > 1.5 {
		return fmt.Errorf("by these measures the skin bends about a line %s under the face, outside the skin of %s; measure the kerf, the thickness and the angle again", u.fixed(unit.MM(neutral), 2), u.size(t.Skin))
	}
	return nil
}

func (t TestBend) each() float64 { return t.Turned.Rad() / float64(t.Count) }

// Calibration is what a test bend says of the bend that was planned.
type Calibration struct {
	AngleEach    unit.Angle  // each kerf really closes at
	Lever        unit.Length // kerf over angle; derived
	Neutral      unit.Length // thickness less lever; derived
	NeutralRatio float64     // over the skin: put it into Spec.NeutralRatio
	Within       float64     // the same, where it can be: between nought and the whole skin
	Kerf         unit.Length // as measured, or where Within is not NeutralRatio, that which closes as the strip did
	Doubt        unit.Length // standard error of Neutral from gauge and caliper (0.2°, 0.02 and 0.05 mm; common practice, no source)

	WantedCount float64     // kerfs needed if they need not be whole: angle over angle each
	Count       int         // whole kerfs to cut
	Pitch       unit.Length // for that count and the wanted radius
	ClosesAt    unit.Angle  // the count closes at this
	Gap         unit.Length // left at each mouth at the wanted angle

	PlannedClosesAt unit.Angle // the count planned before closes at this
	Changes         []Change   // each by itself puts the plan right; best first
}

// Change is one way to put a plan right.
type Change struct {
	What string      // "count", "skin" or "pitch"
	From string      // as planned
	To   string      // as it should be
	By   unit.Length // change of skin or pitch; 0 for the count
	Says string      // in words
}

// Calibrate sets a test bend against the plan of the bend. The count and
// pitch need nothing but the angle got; the split into kerf and neutral depth
// is for other bends from the same sheet. An error names the measure that
// cannot be.
func Calibrate(t TestBend, planned Result) (Calibration, error) {
	u := show(planned.Spec.Units)
	if err := t.validate(u); err != nil {
		return Calibration{}, err
	}
	if planned.Count == 0 || planned.Spec.Outside {
		return Calibration{}, fmt.Errorf("a test bend sets right a bend whose kerfs close; plan one with the kerfs inside first")
	}
	each, w := t.each(), t.Kerf.MM()
	lever, neutral := t.split()
	c := Calibration{
		AngleEach: unit.Angle(each), Lever: unit.MM(lever), Neutral: unit.MM(neutral), NeutralRatio: neutral / t.Skin.MM(),
	}
	angleError := unit.Deg(0.2).Rad() / t.Turned.Rad()
	c.Doubt = unit.MM(math.Sqrt(sq(lever*angleError) + sq(0.02/each) + sq(0.05)))
	if err := t.doubtful(u); err != nil {
		return Calibration{}, err
	}
	c.Within, c.Kerf = min(max(c.NeutralRatio, leastWithin), 1), t.Kerf
	if c.Outside() {
		c.Kerf = (t.Thickness - t.Skin.Scale(c.Within)).Scale(each)
	}
	phi := planned.Turn.Rad()
	rn := planned.FaceRadius.MM() - neutral
	c.WantedCount = phi / each
	c.Count = max(int(math.Ceil(c.WantedCount-1e-9)), 1)
	c.Pitch = unit.MM(rn * phi / float64(c.Count))
	c.ClosesAt = unit.Angle(float64(c.Count) * each)
	h := planned.Spec.Thickness.MM() - neutral
	c.Gap = unit.MM(hinge{arc: w, mouth: w, h: h}.gap(phi/float64(c.Count), 1))
	c.PlannedClosesAt = unit.Angle(float64(planned.Count) * each)
	c.Changes = c.changes(planned, t, rn)
	return c, nil
}

// leastWithin keeps the neutral line off the face itself.
const leastWithin = 0.01

// Outside reports whether the measures put the line about which the skin bends
// outside the skin, so that one of them must be wrong.
func (c Calibration) Outside() bool { return c.Within != c.NeutralRatio }

// Warns says what a line outside the skin means, in the units given; empty
// where it lies within.
func (c Calibration) Warns(sys unit.System) string {
	if !c.Outside() {
		return ""
	}
	u := show(sys)
	where := u.fixed(c.Neutral, 2) + " under the show face"
	if c.Neutral < 0 {
		where = u.fixed(-c.Neutral, 2) + " off its show face"
	}
	return fmt.Sprintf("By the sizes given the skin would bend about a line %s, outside itself, so one of them is not right. The angle is the surest: the plan goes by it, as if the kerf were %s. Measure kerf, thickness and angle again; a tenth of a millimetre matters.", where, u.fixed(c.Kerf, 2))
}

// Calibrated is the spec with what test bends found: the mean of their neutral
// lines, and of their kerfs as measured on them. Where a line would lie outside
// the skin a measure must be wrong, and the angle is the surest of them; the
// kerf is then the one that closes as the strip did. With the thickness and
// skin of one strip, kerfs close as those of the strip.
func (s Spec) Calibrated(tests ...Calibration) Spec {
	if len(tests) == 0 {
		return s
	}
	ratio, kerf := 0.0, unit.Length(0)
	for _, c := range tests {
		ratio += c.Within
		kerf += c.Kerf
	}
	n := len(tests)
	s.NeutralRatio, s.Kerf = ratio/float64(n), kerf.Scale(1/float64(n))
	return s
}

func sq(x float64) float64 { return x * x }

// changes lists what could be altered in the plan.
func (c Calibration) changes(planned Result, t TestBend, rn float64) []Change {
	var out []Change
	u := show(planned.Spec.Units)
	phi := planned.Turn.Rad()
	pitch := unit.MM(rn * phi / float64(planned.Count))
	if c.Count != planned.Count {
		verb := "More"
		if c.Count < planned.Count {
			verb = "Fewer"
		}
		out = append(out, Change{
			What: "count", From: fmt.Sprint(planned.Count), To: fmt.Sprint(c.Count),
			Says: fmt.Sprintf("%s kerfs: cut %d instead of %d at a pitch of %s; they close at %s and stay open by %s.", verb, c.Count, planned.Count, u.fixed(c.Pitch, 2), degrees(c.ClosesAt), u.fixed(max(c.Gap, 0), 2)),
		})
	}
	// A skin thicker by dt brings the lever in by ratio·dt.
	if c.NeutralRatio > 0.1 {
		lever := t.Kerf.MM() * float64(planned.Count) / phi
		skin := (planned.Spec.Thickness.MM() - lever) / c.NeutralRatio
		if skin > 0.3 && skin < planned.Spec.Thickness.MM()/3 {
			by := unit.MM(skin) - planned.Spec.Skin
			if by.Abs() >= unit.MM(0.05) {
				verb := "shallower"
				if by < 0 {
					verb = "deeper"
				}
				out = append(out, Change{
					What: "skin", From: u.fixed(planned.Spec.Skin, 2), To: u.fixed(unit.MM(skin), 2), By: by,
					Says: fmt.Sprintf("Cut %s by %s, to a skin of %s: then %d kerfs close at %s exactly. Test again.", verb, u.fixed(by.Abs(), 2), u.fixed(unit.MM(skin), 2), planned.Count, degrees(planned.Turn)),
				})
			}
		}
	}
	if by := pitch - planned.Pitch; by.Abs() >= unit.MM(0.01) {
		out = append(out, Change{
			What: "pitch", From: u.fixed(planned.Pitch, 3), To: u.fixed(pitch, 3), By: by,
			Says: fmt.Sprintf("Pitch %s instead of %s keeps the radius; the pitch does not change the angle.", u.fixed(pitch, 3), u.fixed(planned.Pitch, 3)),
		})
	}
	return out
}

// CalibrateTwo finds the kerf and the neutral depth as a share of the skin
// from two test bends with different skins from one sheet and one blade:
// thickness - ratio·skin = kerf/angle for each. The kerfs measured do not
// enter. Derived.
func CalibrateTwo(a, b TestBend) (kerf unit.Length, ratio float64, err error) {
	u := show(unit.Metric)
	for _, t := range []TestBend{a, b} {
		if t.Kerf == 0 {
			t.Kerf = unit.Millimetre // not used
		}
		if err := t.validate(u); err != nil {
			return 0, 0, err
		}
	}
	ta, tb := a.Skin.MM(), b.Skin.MM()
	ia, ib := 1/a.each(), 1/b.each()
	det := ta*ib - tb*ia
	if math.Abs(det) < 0.05*ta*ib {
		return 0, 0, fmt.Errorf("the two test bends have nearly the same skin, %s and %s; cut one to half or double the other", u.size(a.Skin), u.size(b.Skin))
	}
	w := (ta*b.Thickness.MM() - tb*a.Thickness.MM()) / det
	ratio = (a.Thickness.MM()*ib - b.Thickness.MM()*ia) / det
	if !(w > 0 && w < 100) || !(ratio > -0.5 && ratio < 1.5) {
		return 0, 0, fmt.Errorf("the two test bends give a kerf of %.2f mm and a neutral depth of %.2f skins, which cannot be; measure skins, thickness and angles again", w, ratio)
	}
	return unit.MM(w), ratio, nil
}
