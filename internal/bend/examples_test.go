package bend

import (
	"testing"

	"casewright/internal/unit"
)

// The worked examples. Unless said otherwise the figures are derived: made by
// script and checked by a second independent method. They are the model's
// accuracy, not wood's.

// The eight-kerf rule (common practice, no source): eight 1/8 in kerfs at
// 1/4 in for 90 degrees in nominal 3/4. What it does is derived.
func TestEightKerfRule(t *testing.T) {
	rule := func(T, skin float64) Spec {
		return Spec{
			Material:  withAlpha(t, "solid-round", 2.7),
			Thickness: unit.In(T), Skin: unit.In(skin), Kerf: unit.In(0.125), Pitch: unit.In(0.25),
			Count: 8, Angle: unit.Right,
		}
	}
	for _, c := range []struct {
		T                        float64
		skin, depth              string // for exactly 90 degrees
		seventh, seventhKerf     string // t = T/7: closes at, kerf needed
		thirtySecond, narrowKerf string // t = 1/32 in
	}{
		{0.750, "0.227", "0.523", "82.3", "0.1367", "78.0", "0.1442"},
		{0.71875, "0.164", "0.555", "85.8", "0.1310", "81.5", "0.1381"},
		{0.703125, "0.133", "0.570", "87.8", "0.1282", "83.3", "0.1350"},
	} {
		s := rule(c.T, c.T/7)
		k := newModel(s)
		skin, ok := k.skinFor(unit.Deg(11.25).Rad(), 6.35)
		if !ok {
			t.Fatal("no skin closes at 11.25 degrees")
		}
		inches(t, "skin for 90", unit.MM(skin), c.skin)
		inches(t, "depth for 90", unit.MM(k.T-skin), c.depth)
		r := evaluate(t, s)
		angle(t, "T/7 closes at", r.ClosesAt, c.seventh)
		inches(t, "kerf needed", r.Lever.Scale(r.AngleEach.Rad()), c.seventhKerf)
		r = evaluate(t, rule(c.T, 1./32))
		angle(t, "1/32 closes at", r.ClosesAt, c.thirtySecond)
		inches(t, "kerf needed", r.Lever.Scale(r.AngleEach.Rad()), c.narrowKerf)
	}

	s := rule(0.71875, 0.103)
	r := evaluate(t, s)
	inches(t, "neutral radius at 90", r.NeutralRadius, "1.273")
	inches(t, "radius closed", r.ClosedRadius, "1.386")
	angle(t, "bench rule closes at", 8*unit.Angle(s.Kerf.MM()/r.Depth.MM()), "93.0")
	for _, c := range []struct {
		skin    float64
		strain  string
		verdict Verdict
	}{{0.103, "4.1", WillCrack}, {1. / 16, "2.6", Marginal}, {1. / 32, "1.4", SoftenFirst}} {
		s := rule(0.71875, c.skin)
		s.Angle = evaluate(t, s).ClosesAt
		r := evaluate(t, s)
		loose(t, "strain closed, %", r.Strain*100, c.strain)
		if r.Verdict != c.verdict {
			t.Errorf("skin %.3f in: %v, want %v", c.skin, r.Verdict, c.verdict)
		}
	}
	inches(t, "inside radius closed", r.ClosedRadius-s.Thickness, "0.667")
	angle(t, "corners crushed 0.05 mm", 8*CrushTurn(unit.MM(0.05), unit.MM(17)), "2.7")
}

func TestBirchPly(t *testing.T) {
	s := Spec{
		Material: withAlpha(t, "ply-round", 3.1), Thickness: unit.MM(18), Skin: unit.MM(1.4),
		Kerf: unit.MM(3.2), Radius: unit.MM(120), Angle: unit.Right, Count: 9,
	}
	r := evaluate(t, s)
	length(t, "lever", r.Lever, "17.3")
	angle(t, "closing each", r.ClosingEach, "10.598")
	number(t, "count wanted", r.WantedCount, "8.49")
	length(t, "pitch closed", r.NeutralRadius.Scale(r.ClosingEach.Rad()), "22.07")
	angle(t, "each", r.AngleEach, "10")
	length(t, "pitch", r.Pitch, "20.82")
	length(t, "gap", r.Gap, "0.180")
	length(t, "bent", r.BentEach, "7.49")
	loose(t, "strain %", r.Strain*100, "1.63")
	length(t, "facet", r.Facet, "0.29")
	length(t, "facet, rigid", r.FacetRigid, "0.385")
	if r.Verdict != SoftenFirst {
		t.Error(r.Verdict)
	}
	point := s
	point.Hinge = PointHinge
	angle(t, "point hinge", evaluate(t, point).ClosingEach, "10.568")
	angle(t, "pivot at the kerf bottom", unit.Angle(3.2/r.Depth.MM()), "11.045")

	s.Count = 20
	r = evaluate(t, s)
	angle(t, "each", r.AngleEach, "4.5")
	length(t, "pitch", r.Pitch, "9.370")
	length(t, "gap", r.Gap, "1.841")
	length(t, "bent", r.BentEach, "6.65")
	loose(t, "strain %", r.Strain*100, "0.83")
	loose(t, "index dry", r.AllowDry/r.Strain, "0.88")
	loose(t, "index wet", r.AllowWet/r.Strain, "3.2")
	length(t, "facet", r.Facet, "0.027")
	length(t, "facet, rigid", r.FacetRigid, "0.061")
	number(t, "void each", r.VoidEach, "41.4")
	length(t, "zone", r.Zone, "187.40")
	loose(t, "moment", r.Moment, "32.4")
	loose(t, "moment yielded", r.MomentYielded, "27")
}

// The lifted board: published as a method (Culhane, A measured approach to
// kerfing, in Technical Design Solutions for Theatre); the figures are derived.
func TestBenchMethod(t *testing.T) {
	r := evaluate(t, Spec{
		Material: generic(t, "solid-round"), Thickness: unit.In(0.75), Skin: unit.In(1. / 16),
		Kerf: unit.In(0.125), Radius: unit.In(6), Angle: unit.Right,
	})
	number(t, "closing each, rad", r.ClosingEach.Rad(), "0.17391")
	angle(t, "closing each", r.ClosingEach, "9.964")
	inches(t, "pitch closed", r.NeutralRadius.Scale(r.ClosingEach.Rad()), "1.0380")
	inches(t, "lift", r.Lift, "1.0382")
	number(t, "count wanted", r.WantedCount, "9.03")
	if r.Count != 10 {
		t.Errorf("count %d, want 10", r.Count)
	}
	// The lift at the mark is the pitch but for neutral depth and angle.
	for _, c := range []struct {
		radius float64
		off    string // per cent
	}{{3, "0.5"}, {6, "0.02"}, {24, "-0.4"}} {
		lifted := Lift(unit.In(c.radius), unit.In(0.125), r.ClosingEach).In()
		pitch := (c.radius - 1./32) * r.ClosingEach.Rad()
		figure(t, "lift over pitch, %", (lifted/pitch-1)*100, c.off, 0)
	}
}

func TestMDFHalfRound(t *testing.T) {
	s := Spec{
		Material: generic(t, "mdf"), Thickness: unit.MM(12), Skin: unit.MM(2),
		Kerf: unit.MM(2.4), Radius: unit.MM(150), Angle: unit.Deg(180), Count: 44,
	}
	r := evaluate(t, s)
	length(t, "lever", r.Lever, "11")
	angle(t, "closing each", r.ClosingEach, "12.501")
	length(t, "pitch closed", r.NeutralRadius.Scale(r.ClosingEach.Rad()), "32.5")
	number(t, "count wanted", r.WantedCount, "14.4")
	angle(t, "each", r.AngleEach, "4.091")
	length(t, "pitch", r.Pitch, "10.639")
	length(t, "gap", r.Gap, "1.614")
	length(t, "zone", r.Zone, "468.10")
	length(t, "bent", r.BentEach, "7.18")
	number(t, "reach, narrow land", (r.BentEach-s.Kerf).MM()/2, "2.39")
	loose(t, "strain %", r.Strain*100, "0.99")
	loose(t, "moment", r.Moment, "19.9")
	if r.Verdict != Marginal || r.AllowDry != 0.009 || r.AllowWet != 0 {
		t.Error(r.Verdict, r.AllowDry, r.AllowWet)
	}
	s.Skin = unit.MM(1.5)
	r = evaluate(t, s)
	loose(t, "strain of 1.5 mm, %", r.Strain*100, "0.84")
}

func TestOakApron(t *testing.T) {
	r := evaluate(t, Spec{
		Material: generic(t, "solid-round"), Thickness: unit.MM(19), Skin: unit.MM(1.6),
		Kerf: unit.MM(3.2), Radius: unit.MM(250), Angle: unit.Right, Count: 30, Width: unit.MM(100),
	})
	angle(t, "closing each", r.ClosingEach, "10.074")
	length(t, "pitch closed", r.NeutralRadius.Scale(r.ClosingEach.Rad()), "43.8")
	number(t, "count wanted", r.WantedCount, "8.93")
	angle(t, "each", r.AngleEach, "3.000")
	length(t, "pitch", r.Pitch, "13.048")
	length(t, "gap", r.Gap, "2.247")
	loose(t, "strain %", r.Strain*100, "0.58")
	loose(t, "index dry", r.AllowDry/r.Strain, "1.18")
	length(t, "facet", r.Facet, "0.038")
	loose(t, "moment", r.Moment, "31")
	loose(t, "force, N", float64(r.Force), "10")
	if r.Verdict != BendsDry {
		t.Error(r.Verdict)
	}
}

// One maker's report (2013, unverified): 3/4 five-ply, 5/8 deep, 12 kerfs at
// 1/2 in to a radius of about 4 in, split. The 1/8 kerf is assumed.
func TestReportedSplits(t *testing.T) {
	r := evaluate(t, Spec{
		Material: withAlpha(t, "ply-round", 2.7), Thickness: unit.In(0.75), Skin: unit.In(0.125),
		Kerf: unit.In(0.125), Pitch: unit.In(0.5), Angle: unit.Right, Count: 12,
	})
	angle(t, "each", r.AngleEach, "7.5")
	inches(t, "gap", r.Gap, "0.035")
	inches(t, "neutral radius", r.NeutralRadius, "3.820")
	inches(t, "outside radius", r.FaceRadius, "3.882")
	inches(t, "bent", r.BentEach, "0.364")
	loose(t, "strain %", r.Strain*100, "2.25")
	loose(t, "dry %", r.AllowDry*100, "0.53")
	loose(t, "wet %", r.AllowWet*100, "1.63")
	if r.Verdict != WillCrack {
		t.Error(r.Verdict)
	}
}

func TestFacePlyOnly(t *testing.T) {
	s := Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(0.6),
		Kerf: unit.MM(3.2), Radius: unit.MM(75), Angle: unit.Right, Count: 12,
	}
	r := evaluate(t, s)
	angle(t, "each", r.AngleEach, "7.5")
	length(t, "pitch", r.Pitch, "9.778")
	length(t, "gap", r.Gap, "0.883")
	length(t, "bent", r.BentEach, "5.39")
	loose(t, "strain %", r.Strain*100, "0.73")
	loose(t, "index dry", r.AllowDry/r.Strain, "1.4")
	length(t, "facet", r.Facet, "0.072")
	length(t, "zone", r.Zone, "117.34")
	if r.Verdict != BendsDry {
		t.Error(r.Verdict)
	}
	s.Kerf, s.Count = unit.MM(1.6), 20
	r = evaluate(t, s)
	angle(t, "closing each", r.ClosingEach, "5.179")
	angle(t, "each", r.AngleEach, "4.5")
	length(t, "pitch", r.Pitch, "5.867")
	length(t, "gap", r.Gap, "0.210")
	loose(t, "strain %", r.Strain*100, "0.66")
	length(t, "facet", r.Facet, "0.022")
	length(t, "zone", r.Zone, "117.34")
}

func TestTwoPasses(t *testing.T) {
	s := Spec{
		Material: withAlpha(t, "ply-round", 2.7), Thickness: unit.MM(18), Skin: unit.MM(1.5),
		Kerf: unit.MM(3.0), Passes: []unit.Length{unit.MM(2.4)}, Pitch: unit.MM(12), Angle: unit.Right, Count: 6,
	}
	r := evaluate(t, s)
	length(t, "kerf", r.Kerf, "5.4")
	angle(t, "closing each", r.ClosingEach, "17.94")
	angle(t, "each", r.AngleEach, "15")
	length(t, "outside radius", r.FaceRadius, "46.59")
	length(t, "inside radius", r.KerfedRadius, "28.59")
	length(t, "gap", r.Gap, "0.881")
	loose(t, "strain %", r.Strain*100, "2.2")
	length(t, "facet", r.Facet, "0.105")
	length(t, "facet, rigid", r.FacetRigid, "0.216")
	s.Hinge = PointHinge
	angle(t, "point hinge", evaluate(t, s).ClosingEach, "17.79")
}

func TestKerfsOutside(t *testing.T) {
	s := Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(1.2),
		Kerf: unit.MM(3.2), Pitch: unit.MM(8), Angle: unit.Right, Count: 20, Outside: true,
	}
	r := evaluate(t, s)
	angle(t, "each", r.AngleEach, "4.5")
	length(t, "neutral radius", r.NeutralRadius, "101.86")
	length(t, "face", r.FaceRadius, "101.26")
	length(t, "land tips", r.KerfedRadius, "119.26")
	length(t, "mouth", r.Gap, "4.565")
	in := s
	in.Outside = false
	if i := evaluate(t, in); i.AllowDry != 2*r.AllowDry || i.AllowWet != 2*r.AllowWet {
		t.Error("the strain allowed outside is not half")
	}
}

func TestUPanelFlatLength(t *testing.T) {
	corner := Arc{Radius: unit.MM(60), Neutral: unit.MM(0.7), Angle: unit.Right}
	leg := func(outside float64, bends int) unit.Length {
		l, err := Leg(unit.MM(outside), corner.Radius, unit.Right)
		if err != nil {
			t.Fatal(err)
		}
		return l - unit.Length(bends-1)*corner.Radius
	}
	flat := FlatLength([]unit.Length{leg(400, 1), leg(900, 2), leg(400, 1)}, []Arc{corner, corner})
	length(t, "flat length", flat, "1646.30")
	corner.Neutral = 0
	length(t, "by the face radius", FlatLength([]unit.Length{leg(400, 1), leg(900, 2), leg(400, 1)}, []Arc{corner, corner}), "1648.50")
}

func TestGlue(t *testing.T) {
	s := Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(1.5), Kerf: unit.MM(3.2),
		Pitch: unit.MM(12), Count: 8, Angle: unit.Deg(1), Width: unit.MM(600),
	}
	number(t, "kerf section", evaluate(t, s).VoidEach+16.5*9*unit.Deg(1).Rad()/8, "52.80")
	s.Angle = evaluate(t, s).ClosesAt
	r := evaluate(t, s)
	number(t, "void closed", r.VoidEach, "25.25")
	number(t, "in all, ml", r.Void, "121")
	number(t, "with waste, ml", r.Glue, "133.3")
}

func TestCoupon(t *testing.T) {
	planned := evaluate(t, Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18.05), Skin: unit.MM(1.4),
		Kerf: unit.MM(3.2), Radius: unit.MM(60), Angle: unit.Right, Count: 8,
	})
	coupon := TestBend{Count: 10, Turned: unit.Deg(106.2), Kerf: unit.MM(3.22), Thickness: unit.MM(18.05), Skin: unit.MM(1.4)}
	c, err := Calibrate(coupon, planned)
	if err != nil {
		t.Fatal(err)
	}
	angle(t, "each", c.AngleEach, "10.62")
	length(t, "lever", c.Lever, "17.372")
	length(t, "neutral depth", c.Neutral, "0.678")
	number(t, "count wanted", c.WantedCount, "8.47")
	length(t, "pitch closed", (planned.FaceRadius - c.Neutral).Scale(c.AngleEach.Rad()), "10.995")
	if c.Count != 9 {
		t.Errorf("count %d, want 9", c.Count)
	}
}

func TestFenceCentres(t *testing.T) {
	r := evaluate(t, Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(1.4),
		Kerf: unit.MM(3.2), Pitch: unit.MM(9.370), Count: 20, Angle: unit.Right,
	})
	at := r.Centres(unit.MM(300))
	for _, c := range []struct {
		what string
		got  unit.Length
		want float64
	}{
		{"kerf 1", at[0], 304.685},
		{"fence 1", at[0] - r.Kerf/2, 303.085},
		{"kerf 20", at[19], 482.715},
		{"fence 20", at[19] - r.Kerf/2, 481.115},
		{"mirrored kerf 1", unit.MM(1646.3) - at[0], 1341.615},
	} {
		if c.got != unit.MM(c.want) { // exact
			t.Errorf("%s at %v, want %v mm", c.what, c.got, c.want)
		}
	}
}

// mixed is a face ply of 0.6 mm round the bend and what is left of a cross ply.
func mixed(t testing.TB) Material {
	m := generic(t, "ply-round")
	m.Layers = []Layer{{unit.MM(0.6), 12500}, {unit.MM(2.5), 700}}
	return m
}

func TestMixedSkin(t *testing.T) {
	s := Spec{
		Material: mixed(t), Thickness: unit.MM(18), Skin: unit.MM(1), Kerf: unit.MM(3.2),
		Radius: unit.MM(120), Angle: unit.Right, Count: 9,
	}
	r := evaluate(t, s)
	length(t, "neutral depth", r.NeutralDepth, "0.318")
	angle(t, "closing each", r.ClosingEach, "10.369")
	loose(t, "strain", r.Strain, "0.01055") // 0.318 × 10 degrees / 5.26
	s.NeutralRatio = 0.5
	angle(t, "closing each by half the skin", evaluate(t, s).ClosingEach, "10.477")

	// A face ply along the kerf over a ply that runs round: the pivot goes deep.
	m := generic(t, "ply-along")
	m.Layers = []Layer{{unit.MM(0.6), 700}, {unit.MM(2.5), 12500}}
	number(t, "neutral depth, second ply round", m.neutral(1), "0.76")
}

// Demo pieces: figures reckoned by hand with the formulas here, derived.
func TestDemoCorners(t *testing.T) {
	s := Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(2), Kerf: unit.MM(2.2),
		Radius: unit.MM(80), Angle: unit.Right,
	}
	r := evaluate(t, s)
	length(t, "lever", r.Lever, "17")
	number(t, "bench rule", r.BenchCount, "11.42")
	number(t, "count wanted", r.WantedCount, "12.14")
	length(t, "pitch", r.Pitch, "9.545")
	length(t, "zone", r.Zone, "124.09")
	length(t, "inside radius", r.KerfedRadius, "62")
	if r.Count != 13 || r.Verdict != SoftenFirst || r.Gap < unit.MM(0.1) || r.Gap > unit.MM(0.2) {
		t.Error(r.Count, r.Verdict, r.Gap)
	}
	// About 1.4 per cent by hand, with lands taken as wide (reach 3.1 skins);
	// the narrow lands of this corner bend less and raise it.
	wide := 2 * r.AngleEach.Rad() / (2 * (2.2 + 3.1*2))
	figure(t, "strain, wide land, %", wide*100, "1.4", 0)
	if r.Strain <= wide || r.Strain > 1.5*wide {
		t.Errorf("strain %.4f", r.Strain)
	}

	s.Thickness, s.Skin, s.Radius = unit.MM(15), unit.MM(1.5), unit.MM(38.1)
	for _, c := range []struct {
		kerf                float64
		rule, wanted, pitch string
		count               int
	}{{3.2, "6.63", "6.995", "7.33", 8}, {2.4, "8.84", "9.33", "5.87", 10}} {
		s.Kerf = unit.MM(c.kerf)
		r := evaluate(t, s)
		number(t, "bench rule", r.BenchCount, c.rule)
		number(t, "count wanted", r.WantedCount, c.wanted)
		length(t, "pitch", r.Pitch, c.pitch)
		if r.Count != c.count {
			t.Errorf("kerf %v: %d kerfs, want %d", c.kerf, r.Count, c.count)
		}
	}
	s.Kerf, s.Count = unit.MM(3.2), 7
	r = evaluate(t, s)
	angle(t, "seven close at", r.ClosesAt, "90.06")
	if r.Band.AngleP05 >= r.Turn {
		t.Error("seven kerfs leave no margin, but the band says they reach")
	}
}

// Check values of the trade notes: the bench rule is common practice with no
// source; the lengths are plain geometry.
func TestTradeCheckValues(t *testing.T) {
	number(t, "d 16, kerf 3.2", BenchRule(unit.Right, unit.MM(16), unit.MM(3.2)), "7.854")
	number(t, "d 16, kerf 2.2", BenchRule(unit.Right, unit.MM(16), unit.MM(2.2)), "11.424")
	number(t, "23/32, 1/16 skin, 1/8 kerf", BenchRule(unit.Right, unit.In(23./32-1./16), unit.In(0.125)), "8.247")

	leg := func(outside, radius float64) unit.Length {
		l, err := Leg(unit.MM(outside), unit.MM(radius), unit.Right)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	corner := Arc{Radius: unit.MM(75), Neutral: unit.MM(1), Angle: unit.Right}
	figure(t, "600 + 450, R75", FlatLength([]unit.Length{leg(600, 75), leg(450, 75)}, []Arc{corner}).MM(), "1016.24", 0)

	corner.Radius = unit.MM(80)
	long, short := leg(1500, 80)-unit.MM(80), leg(410, 80)-unit.MM(80)
	legs := []unit.Length{long, short, long, short}
	four := []Arc{corner, corner, corner, corner}
	figure(t, "closed shell", FlatLength(legs, four).MM(), "3676.37", 0)
	for i := range four {
		four[i].Neutral = 0
	}
	figure(t, "its outside", FlatLength(legs, four).MM(), "3682.65", 0)
}
