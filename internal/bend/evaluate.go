package bend

import (
	"fmt"
	"math"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// Verdict says what the skin will stand.
type Verdict int

// The verdicts, best first.
const (
	BendsDry    Verdict = iota // as it lies
	SoftenFirst                // soaked in hot water or steamed
	Marginal                   // within a fifth of the last limit: bend a coupon
	WillCrack
)

func (v Verdict) String() string {
	return [...]string{"bends dry", "soften first", "marginal", "will crack"}[min(max(v, 0), 3)]
}

// MarshalText writes the verdict as its words.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Result is a bend worked out. "Derived" below means: derived for this
// package and checked by a second method, not published.
type Result struct {
	Spec Spec // as asked, with the defaults filled in

	Count        int         // kerfs in the bend
	Pitch        unit.Length // between kerf centres, on the neutral surface; derived
	Land         unit.Length // wood left between two kerfs at the mouth
	Kerf         unit.Length // whole width at the mouth, all passes
	Depth        unit.Length // of the cut
	NeutralDepth unit.Length // of the neutral surface under the uncut face; derived (transformed section)
	Lever        unit.Length // from the neutral surface to the kerf mouth; derived
	Zone         unit.Length // kerfed length along the flat panel, half a pitch beyond the outer kerfs; derived

	Turn          unit.Angle  // the bend turns by this
	AngleEach     unit.Angle  // each kerf turns by this
	ClosingEach   unit.Angle  // each kerf closes at this; 0 for kerfs outside; derived
	ClosesAt      unit.Angle  // all kerfs together; 0 for kerfs outside
	ClosesYielded unit.Angle  // the same if the skin gives way in compression as predicted; derived
	ClosesLow     unit.Angle  // with the neutral surface at 0.25 of the skin: the least the model allows
	ClosesHigh    unit.Angle  // and at 0.55: the most
	Gap           unit.Length // left at the mouth of each kerf; negative: the corners would have to crush; derived
	WantedCount   float64     // kerfs needed if they need not be whole; 0 outside; derived

	FaceRadius    unit.Length // of the uncut face
	NeutralRadius unit.Length // of the neutral surface
	KerfedRadius  unit.Length // of the kerfed side: inside radius, or over the land tips for kerfs outside
	ClosedRadius  unit.Length // of the uncut face if the kerfs are closed fully; 0 outside

	BentEach      unit.Length // length of skin that bends at each kerf, with the roots in the lands; finite elements
	Strain        float64     // nominal, of the stretched side of the skin, a fraction; derived, finite elements
	StrainYielded float64     // of the same if the skin gives way in compression; a fraction; derived
	AllowDry      float64     // allowable strain as it lies, a fraction; fit to FAA AC 43.13-1B or the material's own
	AllowWet      float64     // soaked hot; 0: wetting does not soften it
	Verdict       Verdict     // by the strain against what is allowed
	Borderline    bool        // the deciding index lies between 0.8 and 1.25: bend a coupon

	Facet      unit.Length // crest over flat of the face; derived, within 8 per cent of finite elements where the flat is over 0.7 kerf
	FacetRigid unit.Length // the most it can be, with lands that do not bend

	Moment        float64    // to hold each kerf at its angle, N·mm per mm of kerf, elastic; derived
	MomentYielded float64    // the same with compression yield; derived
	Force         unit.Force // at the lever, elastic, for the whole width; 0 without a width
	HandShare     float64    // turn of the kerf next to the clamp over the one next to the hand, bent by hand, elastic; statics
	Springback    unit.Angle // given back if let go unglued; derived
	GluedBack     unit.Angle // given back after gluing, by a rigid bond; derived. Creep is not in it
	LaterMovement unit.Angle // change of the turning angle after the change of moisture; 0 when the movement is not known; derived

	VoidEach float64 // section of the space left in each kerf, mm²; derived
	Void     float64 // in all kerfs, millilitres; 0 without a width
	Glue     float64 // to mix to fill them, a tenth over for waste (common practice, no source), millilitres

	BenchCount float64     // kerfs by the bench rule, angle·depth/kerf (common practice, no source)
	Lift       unit.Length // of the far side at one face radius from the trial kerf's centre when it closes; derived

	Band     Band // what shop errors do, by simulation
	Findings []finding.Finding
}

// Evaluate works out a bend. With a Count of 0 it takes the least count that
// will do. What the maker should look at is in Findings; an error is a bend
// that cannot be made as asked, in one sentence with the figure and the remedy.
func Evaluate(s Spec) (Result, error) {
	s = s.withDefaults()
	if err := s.validate(); err != nil {
		return Result{}, err
	}
	k := newModel(s)
	if err := k.possible(); err != nil {
		return Result{}, err
	}
	count := s.Count
	if count == 0 {
		var err error
		if count, err = k.choose(s); err != nil {
			return Result{}, err
		}
	}
	return k.evaluate(s, count)
}

// evaluate works out a valid spec with count kerfs.
func (k model) evaluate(s Spec, count int) (Result, error) {
	n := float64(count)
	theta := k.phi / n
	rn := k.neutralRadius(s, theta)
	pitch := rn * theta
	if err := k.fits(s, count, theta, rn, pitch); err != nil {
		return Result{}, err
	}
	bent := k.bent(pitch)
	r := Result{
		Spec: s, Count: count, Pitch: unit.MM(pitch), Land: unit.MM(pitch - k.wide()),
		Kerf: unit.MM(k.mouth), Depth: unit.MM(k.d), NeutralDepth: unit.MM(k.yn), Lever: unit.MM(k.h),
		Zone: unit.MM(n * pitch), Turn: s.Angle, AngleEach: unit.Angle(theta),
		FaceRadius: unit.MM(rn + k.side*k.yn), NeutralRadius: unit.MM(rn), KerfedRadius: unit.MM(rn - k.side*k.h),
		BentEach:   unit.MM(bent),
		Facet:      unit.MM(facet(pitch, bent, theta)),
		FacetRigid: unit.MM(facet(pitch, math.Min(k.bottom, pitch), theta)),
		HandShare:  1 + (n-1)*pitch/s.Lever.MM(),
	}
	j := k.kerfHinge(pitch)
	r.Gap = unit.MM(j.gap(theta, k.side))
	if !s.Outside {
		k.close(&r, j, pitch, bent)
	}
	k.strength(&r, theta, pitch, bent)
	k.fill(&r, theta, n)
	r.Band = k.simulate(s, count, pitch, true)
	r.Findings = r.findings()
	return r, nil
}

// neutralRadius is the radius of the neutral surface (mm) that the spec's
// radius or pitch asks for.
func (k model) neutralRadius(s Spec, theta float64) float64 {
	if s.Pitch != 0 {
		return s.Pitch.MM() / theta
	}
	return k.radius - k.side*k.yn
}

// fits says why count kerfs cannot make the bend.
func (k model) fits(s Spec, count int, theta, rn, pitch float64) error {
	switch {
	case theta > math.Pi/2:
		return fmt.Errorf("%d kerf(s) would have to turn %.0f degrees each; use at least %d", count, theta*180/math.Pi, int(math.Ceil(k.phi/(math.Pi/4))))
	case k.side > 0 && rn < k.h:
		return fmt.Errorf("the outside radius of %s is less than the panel's thickness of %s, so there is no inside; make it larger", k.show.mm(rn+k.yn, 4), k.show.mm(k.T, 4))
	case pitch <= k.wide():
		return fmt.Errorf("%d kerfs of %s leave no wood between them at a pitch of %s; use at most %d here", count, k.show.mm(k.wide(), 4), k.show.mm(pitch, 4), max(int(rn*k.phi/(k.wide()+2)), 0))
	case k.t*theta/k.bent(pitch) > 1:
		return fmt.Errorf("%d kerf(s) would stretch the skin by half; use more kerfs or a thinner skin", count)
	}
	return nil
}

// close fills in when and where the kerfs close.
func (k model) close(r *Result, j hinge, pitch, bent float64) {
	n := float64(r.Count)
	each := j.closing()
	r.ClosingEach, r.ClosesAt = unit.Angle(each), unit.Angle(n*each)
	r.WantedCount = k.phi / each
	r.ClosedRadius = unit.MM(pitch/each + k.yn)
	r.BenchCount = k.phi * k.d / k.mouth
	r.Lift = unit.MM(lift(r.FaceRadius.MM(), j.arc, each))
	at := func(yn float64) unit.Angle {
		j.h = k.T - yn
		return unit.Angle(n * j.closing())
	}
	if k.ratio > 0 { // measured: nothing to allow for
		r.ClosesYielded, r.ClosesLow, r.ClosesHigh = r.ClosesAt, r.ClosesAt, r.ClosesAt
		return
	}
	r.ClosesLow, r.ClosesHigh = at(k.yn*0.5), at(k.yn*1.1)
	yn := k.yn
	for range 20 {
		yn, _ = k.m.strip(k.t).yielding(at(yn).Rad()/n/bent, k.side)
	}
	r.ClosesYielded = at(yn)
}

// strength fills in strain, verdict, moments and what springs back.
func (k model) strength(r *Result, theta, pitch, bent float64) {
	skin := k.m.strip(k.t)
	ei := skin.stiffness()
	r.Strain = k.far(k.t) * theta / bent
	r.AllowDry, r.AllowWet = k.allowed()
	r.Verdict, r.Borderline = judge(r.Strain, r.AllowDry, r.AllowWet)

	r.Moment = ei * theta / bent
	yn, moment, curve := k.yielded(skin, theta, pitch)
	r.MomentYielded, r.StrainYielded = moment, curve*yn
	if k.side < 0 {
		r.StrainYielded = curve * (k.t - yn)
	}
	n := float64(r.Count)
	r.Springback = min(r.Turn, unit.Angle(n*moment*bent/ei))
	r.GluedBack = min(r.Turn, unit.Angle(moment*n*pitch/(float64(k.m.Ex)*k.T*k.T*k.T/12)))
	r.Force = unit.Force(r.Moment * r.Spec.Width.MM() / r.Spec.Lever.MM())
	r.LaterMovement = k.m.Moved(r.Turn, r.Spec.Moisture) - r.Turn
}

// allowed is the strain allowed dry and wet; half with the kerfs outside,
// where their sharp corners lie in the stretched side (common practice, no
// source).
func (k model) allowed() (dry, wet float64) {
	dry = k.m.Dry.at(k.t)
	if k.m.Wet.A > 0 {
		wet = k.m.Wet.at(k.t)
	}
	if k.side < 0 {
		dry, wet = dry/2, wet/2
	}
	return dry, wet
}

// judge sets a strain against what is allowed dry and wet.
func judge(strain, dry, wet float64) (v Verdict, borderline bool) {
	index := dry / strain
	switch last := max(dry, wet) / strain; {
	case index >= 1:
		v = BendsDry
	case wet > 0 && wet/strain >= 1:
		v, index = SoftenFirst, wet/strain
	case last >= 0.8:
		v, index = Marginal, last
	default:
		v, index = WillCrack, last
	}
	return v, index >= 0.8 && index <= 1.25
}

// yielded is the neutral depth, moment and curvature over the kerf when the
// compressed side gives way there while the roots in the land stay elastic:
// theta = k·w + M·root/EI. Derived.
func (k model) yielded(skin strip, theta, pitch float64) (yn, moment, curve float64) {
	over, root := k.over(), k.root(pitch)
	ei := skin.stiffness()
	lo, hi := 0.0, theta/over
	for range 48 {
		curve = (lo + hi) / 2
		yn, moment = skin.yielding(curve, k.side)
		if curve*over+moment*root/ei > theta {
			hi = curve
		} else {
			lo = curve
		}
	}
	return yn, moment, curve
}

// fill fills in the space left in the kerfs.
func (k model) fill(r *Result, theta, n float64) {
	void := k.d * ((k.bottom+k.mouth)/2 - k.side*theta*(k.T+k.t-2*k.yn)/2)
	if k.tooth.Form == BevelTooth {
		void -= k.bottom * k.bottom / 4 * math.Tan(k.tooth.Bevel.Rad())
	}
	r.VoidEach = math.Max(void, 0)
	r.Void = r.VoidEach * r.Spec.Width.MM() * n / 1000
	r.Glue = r.Void * 1.1
}

// Moved is the turning angle of a bend of phi after the moisture content has
// changed by points per cent: phi·(1+in plane)/(1+through). The material's
// movement must be known; otherwise phi. Derived.
func (m Material) Moved(phi unit.Angle, points float64) unit.Angle {
	if m.Through == 0 {
		return phi
	}
	return phi * unit.Angle((1+m.InPlane*points)/(1+m.Through*points))
}
