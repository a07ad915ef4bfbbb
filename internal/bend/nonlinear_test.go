package bend

import (
	"math"
	"math/rand/v2"
	"testing"

	"casewright/internal/geom"
	"casewright/internal/unit"
	"pgregory.net/rapid"
)

// An independent check: nothing below uses the package's formulas. The
// neutral line is integrated in small steps from its curvature, the lands are
// rigid bodies that carry the walls, and contact is found by halving.

// body is a place and a heading.
type body struct{ x, y, head float64 }

// bentOver integrates the neutral line over an arc of the given length and
// curvature with the classic fourth-order rule.
func (b body) bentOver(length, curvature float64, steps int) body {
	ds := length / float64(steps)
	for range steps {
		h1, h2, h3 := b.head, b.head+curvature*ds/2, b.head+curvature*ds
		b.x += ds / 6 * (math.Cos(h1) + 4*math.Cos(h2) + math.Cos(h3))
		b.y += ds / 6 * (math.Sin(h1) + 4*math.Sin(h2) + math.Sin(h3))
		b.head = h3
	}
	return b
}

// local is the point of the rigid body at (along, left) of it.
func (b body) local(along, left float64) (x, y float64) {
	return b.x + along*math.Cos(b.head) - left*math.Sin(b.head), b.y + along*math.Sin(b.head) + left*math.Cos(b.head)
}

// touching is the angle at which the mouth corners of one kerf meet, when the
// skin bends evenly over arc.
func touching(arc, kerf, lever float64) float64 {
	apart := func(theta float64) float64 {
		left := body{}
		right := left.bentOver(arc, theta/arc, 200)
		ax, ay := left.local((arc-kerf)/2, lever)
		bx, by := right.local(-(arc-kerf)/2, lever)
		return (bx-ax)*math.Cos(theta/2) + (by-ay)*math.Sin(theta/2) // along the chord
	}
	lo, hi := 1e-6, 3.0
	for range 60 {
		if mid := (lo + hi) / 2; apart(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// anyBend draws a bend as a shop would ask for it.
func anyBend(t *rapid.T) Spec {
	mm := func(what string, lo, hi float64) unit.Length {
		return unit.MM(rapid.Float64Range(lo, hi).Draw(t, what))
	}
	s := Spec{
		Material:  rapid.SampledFrom(Materials()).Draw(t, "material"),
		Thickness: mm("thickness", 9, 30),
		Angle:     unit.Deg(rapid.Float64Range(20, 180).Draw(t, "angle")),
		Draws:     40,
	}
	// Ordinary kerfs and skins: a kerf under 0.18 and a skin under 0.08 of
	// the panel, where the plain hinge holds to half a per cent. Past that
	// the roots in the lands add up to 0.7 per cent.
	s.Kerf = mm("kerf", 1.2, min(3.4, 0.18*s.Thickness.MM()))
	s.Skin = s.Thickness.Scale(rapid.Float64Range(0.04, 0.08).Draw(t, "skin"))
	k := newModel(s)
	closed := k.h * (k.wide() + 3) / k.wide()
	s.Radius = unit.MM(closed*rapid.Float64Range(1.2, 5).Draw(t, "radius") + 5)
	s.Count = int(k.phi*k.h/k.wide()*rapid.Float64Range(1.0, 1.2).Draw(t, "more")) + 1
	return s
}

func TestClosesAsIntegrated(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		arc := touching(r.Kerf.MM(), r.Kerf.MM(), r.Lever.MM())
		if got := r.ClosingEach.Rad(); math.Abs(got/arc-1) > 1e-5 {
			t.Errorf("closes at %.6f, integrated %.6f", got, arc)
		}
		// With the roots bending in the lands too: the plain figure stays
		// within half a per cent, the root hinge on it.
		root := touching(r.BentEach.MM(), r.Kerf.MM(), r.Lever.MM())
		if got := r.ClosingEach.Rad(); math.Abs(got/root-1) > 0.005 {
			t.Errorf("closes at %.6f, integrated with roots %.6f", got, root)
		}
		s.Hinge = RootHinge
		rooted, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		if got := rooted.ClosingEach.Rad(); math.Abs(got/root-1) > 1e-5 {
			t.Errorf("root hinge closes at %.6f, integrated %.6f", got, root)
		}
		s.Hinge = PointHinge
		point, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := point.ClosingEach.Rad(), touching(1e-6, r.Kerf.MM(), r.Lever.MM()); math.Abs(got/want-1) > 1e-5 {
			t.Errorf("point hinge closes at %.6f, integrated %.6f", got, want)
		}
	})
}

// TestOutlineAsIntegrated walks the whole bend and holds face, end and mouth
// gaps against the outlines.
func TestOutlineAsIntegrated(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		s.Outside = rapid.Bool().Draw(t, "outside")
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		share := 1.0
		if rapid.Bool().Draw(t, "part closed") {
			share = rapid.Float64Range(0, 1).Draw(t, "share of the turn")
		}
		turn := unit.Angle(share * r.Turn.Rad())
		side := 1.0
		if s.Outside {
			side = -1
		}
		within := 0.005 * r.FaceRadius.MM()
		yn, bent, pitch := r.NeutralDepth.MM(), r.BentEach.MM(), r.Pitch.MM()
		curvature := turn.Rad() / float64(r.Count) / bent

		b := body{x: 0, y: side * yn}
		var face, flats [][2]float64 // flats: their middles
		mark := func() {
			x, y := b.local(0, -side*yn)
			face = append(face, [2]float64{x, y})
		}
		const per = 8
		mark()
		flats = append(flats, face[0])
		for range r.Count {
			b = b.bentOver((pitch-bent)/2, 0, 1)
			mark()
			for range per {
				b = b.bentOver(bent/per, curvature, 5)
				mark()
			}
			b = b.bentOver((pitch-bent)/2, 0, 1)
			x, y := b.local(0, -side*yn)
			flats = append(flats, [2]float64{x, y})
		}
		mark()
		got := r.FacePoints(turn, 0, per)
		if turn > 1e-6 && len(got) != len(face) {
			t.Fatalf("%d points, integrated %d", len(got), len(face))
		}
		for i := range got {
			if turn <= 1e-6 {
				break
			}
			if d := math.Hypot(got[i].X.MM()-face[i][0], got[i].Y.MM()-face[i][1]); d > within/10 {
				t.Fatalf("point %d is %.4f mm off", i, d)
			}
		}
		// The radius: the middles of the flats lie on the circle asked for.
		if share == 1 && r.Count >= 4 && r.AngleEach < unit.Deg(11) {
			n := len(flats)
			if d := math.Abs(circle(flats[0], flats[n/2], flats[n-1]) - r.FaceRadius.MM()); d > within {
				t.Errorf("radius is %.3f off %v", d, r.FaceRadius)
			}
		}
		// The facets: crest against the middle of the flat, from the circle's centre.
		if got, want := r.Facet.MM(), crest(bent, pitch, r.AngleEach.Rad()); math.Abs(got-want) > 0.005*want+2e-6 {
			t.Errorf("facet %.6f, integrated %.6f", got, want)
		}
		// The mouths of the section stand as far apart as integrated.
		w, lever := r.Kerf.MM(), r.Lever.MM()
		left := body{}
		right := left.bentOver(w, r.AngleEach.Rad()/w, 200)
		ax, ay := left.local(0, side*lever)
		bx, by := right.local(0, side*lever)
		if d := math.Hypot(bx-ax, by-ay); r.Gap >= 0 && math.Abs(d-r.Gap.MM()) > 0.005*w {
			t.Errorf("gap %v, integrated %.4f", r.Gap, d)
		}
	})
}

// circle is the radius through three points.
func circle(p, q, r [2]float64) float64 {
	a, b, c := math.Hypot(q[0]-p[0], q[1]-p[1]), math.Hypot(r[0]-q[0], r[1]-q[1]), math.Hypot(p[0]-r[0], p[1]-r[1])
	cross := (q[0]-p[0])*(r[1]-p[1]) - (q[1]-p[1])*(r[0]-p[0])
	return a * b * c / (2 * math.Abs(cross))
}

// crest is the facet height: how much further the crest of one hinge stands
// from the centre of the bend than the middle of the flat beside it.
func crest(bent, pitch, theta float64) float64 {
	b := body{}.bentOver((pitch-bent)/2, 0, 1)
	top := b.bentOver(bent/2, theta/bent, 500)
	end := b.bentOver(bent, theta/bent, 1000).bentOver((pitch-bent)/2, 0, 1)
	// The centre lies where the normals at both flat middles meet.
	reach := math.Hypot(end.x, end.y) / (2 * math.Sin(theta/2))
	return math.Hypot(top.x, top.y-reach) - reach
}

// Shop errors drawn by another generator, kerfs closed by halving: 90 bends
// in 100 lie between p05 and p95, 95 between p025 and p975.
func TestBandHoldsShopErrors(t *testing.T) {
	rng := rand.New(rand.NewChaCha8([32]byte{7}))
	gauss := func() float64 { // Box and Muller
		return math.Sqrt(-2*math.Log(1-rng.Float64())) * math.Cos(2*math.Pi*rng.Float64())
	}
	shop := ShopScatter()
	for _, s := range []Spec{
		{Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(2), Kerf: unit.MM(2.2), Radius: unit.MM(80), Angle: unit.Right},
		{Material: generic(t, "mdf"), Thickness: unit.MM(12), Skin: unit.MM(1.5), Kerf: unit.MM(2.4), Radius: unit.MM(150), Angle: unit.Deg(180), DepthFrom: FromUncutFace},
		{Material: mixed(t), Thickness: unit.MM(15), Skin: unit.MM(1), Kerf: unit.MM(3.2), Radius: unit.MM(60), Angle: unit.Deg(60)},
	} {
		r := evaluate(t, s)
		share := r.NeutralDepth.MM() / s.Skin.MM()
		const bends = 3000
		in90, in95 := 0, 0
		for range bends {
			dw, dd, dT := shop.KerfShared.MM()*gauss(), shop.DepthShared.MM()*gauss(), shop.Thickness.MM()*gauss()
			sum := 0.0
			for range r.Count {
				T := s.Thickness.MM() + dT
				skin := s.Skin.MM() - dd - shop.Depth.MM()*gauss()
				if s.DepthFrom == FromKerfedFace {
					skin += dT
				}
				w := s.Kerf.MM() + dw + shop.Kerf.MM()*gauss()
				sum += coarse(w, T-share*skin)
			}
			if a := unit.Angle(sum); a >= r.Band.AngleP05 && a <= r.Band.AngleP95 {
				in90++
			}
			if a := unit.Angle(sum); a >= r.Band.AngleP025 && a <= r.Band.AngleP975 {
				in95++
			}
		}
		if p := float64(in90) / bends; math.Abs(p-0.90) > 0.02 {
			t.Errorf("%s: %.3f of bends between p05 and p95", s.Material.Key, p)
		}
		if p := float64(in95) / bends; math.Abs(p-0.95) > 0.015 {
			t.Errorf("%s: %.3f of bends between p025 and p975", s.Material.Key, p)
		}
	}
}

// coarse is touching with few steps, for many draws.
func coarse(w, lever float64) float64 {
	lo, hi := 0.0, 1.0
	for range 30 {
		theta := (lo + hi) / 2
		right := body{}.bentOver(w, theta/w, 2)
		ax, ay := body{}.local(0, lever)
		bx, by := right.local(0, lever)
		if (bx-ax)*math.Cos(theta/2)+(by-ay)*math.Sin(theta/2) > 0 {
			lo = theta
		} else {
			hi = theta
		}
	}
	return lo
}

// area is the area inside an outline of lines and arcs: the polygon and the
// segments of its arcs.
func area(o geom.Outline) float64 {
	sum := 0.0
	for i, v := range o {
		w := o[(i+1)%len(o)]
		sum += (v.X.MM()*w.Y.MM() - w.X.MM()*v.Y.MM()) / 2
		if v.Bulge != 0 {
			sweep := 4 * math.Atan(v.Bulge)
			radius := math.Hypot(w.X.MM()-v.X.MM(), w.Y.MM()-v.Y.MM()) / (2 * math.Sin(sweep/2))
			sum += radius * radius * (sweep - math.Sin(sweep)) / 2
		}
	}
	return sum
}

// The section keeps its wood: panel less kerfs when flat, and bent the same
// but for the skin over the kerfs, whose middle moves with its neutral line.
func TestSectionKeepsItsWood(t *testing.T) {
	for _, tooth := range []Tooth{{}, {Form: BevelTooth, Bevel: unit.Deg(15)}, {Form: FlaredWall, Mouth: unit.MM(3.4)}, {Form: VeeTooth, Bevel: unit.Deg(6)}} {
		for _, outside := range []bool{false, true} {
			s := Spec{
				Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(2), Kerf: unit.MM(3.2), Tooth: tooth,
				Radius: unit.MM(80), Angle: unit.Right, Count: 10, Outside: outside, Width: unit.Metre,
			}
			r := evaluate(t, s)
			leg := unit.MM(20)
			n, w := float64(r.Count), r.Kerf.MM()
			kerf := w * 16
			switch tooth.Form {
			case BevelTooth:
				kerf -= w * w / 4 * math.Tan(tooth.Bevel.Rad())
			case FlaredWall:
				kerf = (3.2 + 3.4) / 2 * 16
			case VeeTooth:
				kerf = w * 16 / 2
			}
			panel := 18 * (r.Zone.MM() + 2*leg.MM())
			if got, want := area(r.Section(0, leg)), panel-n*kerf; math.Abs(got/want-1) > 1e-6 {
				t.Errorf("tooth %v: flat section %.3f mm², want %.3f", tooth.Form, got, want)
			}
			if got, want := area(r.Section(r.Turn, leg)), panel-n*kerf; math.Abs(got/want-1) > 0.005 {
				t.Errorf("tooth %v: bent section %.3f mm², want %.3f", tooth.Form, got, want)
			}
		}
	}
}

// The space in a kerf, from the section drawn: mouth corners, walls, bottom.
func TestVoidAsDrawn(t *testing.T) {
	s := Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(1.5), Kerf: unit.MM(3.2),
		Radius: unit.MM(90), Angle: unit.Right, Count: 12,
	}
	for _, outside := range []bool{false, true} {
		s.Outside = outside
		r := evaluate(t, s)
		_, kerfed := r.chain(r.Turn).sides(0)
		// start, then mouth, bottom, bottom, mouth of the first kerf
		hole := geom.Outline(kerfed[1:5])
		// The figure counts to the arc through the mouth corners, the drawing
		// to the chord: more under the wide mouth of a kerf outside.
		if got := math.Abs(area(hole)); math.Abs(got/r.VoidEach-1) > 0.006 {
			t.Errorf("outside %v: void %.3f mm², drawn %.3f", outside, r.VoidEach, got)
		}
	}
}

// Closed, the mouth corners of the section lie on each other.
func TestSectionCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyBend(t)
		s.Hinge = rapid.SampledFrom([]Hinge{ArcHinge, PointHinge, RootHinge}).Draw(t, "hinge")
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		_, kerfed := r.chain(10).sides(0)
		for i := 1; i+3 < len(kerfed); i += 4 {
			a, b := kerfed[i], kerfed[i+3]
			if d := math.Hypot((a.X - b.X).MM(), (a.Y - b.Y).MM()); d > 1e-5 {
				t.Fatalf("mouth corners %.6f mm apart", d)
			}
		}
	})
}
