package scene

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/drawing"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/station"
)

var demos = []string{"record-cabinet", "chest", "clinic-cabinet"}

// shells are bent pieces beside the demos, in the metric demo's shop: an L, a
// U open to the right, a closed shell with a strip let in, and a free profile
// that turns both ways with kerfs on either face.
var shells = map[string]string{
	"l":     "{kind: shell, shape: l, corner: top-right, width: 600, height: 500, depth: 300, radius: 60, skin: 2}",
	"u":     "{kind: shell, shape: u, open: right, width: 700, height: 450, depth: 300, radius: 90, skin: 2}",
	"strip": "{kind: shell, shape: closed, width: 900, height: 500, depth: 300, radius: 70, skin: 2, seams: [{at: bottom, joint: strip, strip: 60}, {at: top}]}",
	"free":  "{kind: shell, shape: free, depth: 300, skin: 2, profile: [{flat: 300}, {bend: 60, radius: 120}, {flat: 200}, {bend: -45, radius: 150}, {flat: 250}, {bend: 30, radius: 200, kerfs: outside}, {flat: 150}]}",
}

func demo(t testing.TB, name string) plan.Plan {
	t.Helper()
	file := name
	text := shells[name]
	if text != "" {
		file = "record-cabinet"
		text = "format: 1\nname: test\nunits: mm\nmaterials: {case: oak-18, strip: white-oak}\ncase: " + text + "\n"
	} else {
		text = read(t, "../../demo/"+name+".yaml")
	}
	p, err := piece.Decode(name, strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Decode(name, strings.NewReader(read(t, "../../demo/"+file+".shop.yaml")))
	if err != nil {
		t.Fatal(err)
	}
	out, err := plan.Make(context.Background(), p, s, record.Record{}, plan.Options{Cutting: cutting.Budget{Iterations: 1}})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return out
}

func read(t testing.TB, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// put takes a point of a part to the piece's axes.
func put(m [12]float64, x, y, z float64) Vec {
	var out Vec
	for i := range out {
		out[i] = m[i]*x + m[3+i]*y + m[6+i]*z + m[9+i]
	}
	return out
}

// volume of a closed surface, by the divergence theorem; negative when it is
// turned inside out.
func volume(points []Vec, tris []int) float64 {
	v := 0.0
	for i := 0; i < len(tris); i += 3 {
		a, b, c := points[tris[i]], points[tris[i+1]], points[tris[i+2]]
		v += a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])
	}
	return v / 6
}

// Every part stands where the drawings and the GLB have it, right side out.
func TestBodiesStandAsDrawn(t *testing.T) {
	for _, name := range demos {
		p := demo(t, name)
		s := Make(p)
		drawn := map[spotKey]drawing.Body{}
		for _, b := range drawing.Bodies(p.Model) {
			drawn[spotKey{b.Letter, b.At}] = b
		}
		n := 0
		for _, b := range s.Bodies {
			for i, spot := range b.Spots {
				n++
				want := drawn[spotKey{b.Letter, i}]
				if b.Strip != nil {
					continue
				}
				var points []Vec
				for k := 0; k < len(b.Mesh.PointsMM); k += 3 {
					points = append(points, put(spot.Matrix, b.Mesh.PointsMM[k], b.Mesh.PointsMM[k+1], b.Mesh.PointsMM[k+2]))
				}
				lo, hi := extent(want)
				got := drawing.Body{}
				for _, q := range points {
					got.Points = append(got.Points, q)
				}
				glo, ghi := extent(got)
				for k := range lo {
					if math.Abs(lo[k]-glo[k]) > 0.02 || math.Abs(hi[k]-ghi[k]) > 0.02 {
						t.Errorf("%s %s %s: box %v %v, drawn %v %v", name, b.Letter, spot.Name, glo, ghi, lo, hi)
					}
				}
				var tris []int
				var placed []Vec
				for _, q := range want.Points {
					placed = append(placed, q)
				}
				for _, tri := range want.Triangles {
					tris = append(tris, tri[:]...)
				}
				v, w := volume(points, b.Mesh.Triangles), volume(placed, tris)
				if mirrored(spot.Matrix) {
					v = -v
				}
				if w <= 0 || math.Abs(v-w) > 1e-3*w {
					t.Errorf("%s %s %s: volume %.0f, drawn %.0f", name, b.Letter, spot.Name, v, w)
				}
				// The grain runs the way the GLB says.
				if len(b.Grain) == 2 {
					d := put(spot.Matrix, b.Grain[0], b.Grain[1], 0)
					along := 0.0
					for k := range d {
						along += (d[k] - spot.Matrix[9+k]) * want.Grain[k]
					}
					if math.Abs(math.Abs(along)-1) > 1e-3 && b.Role != "leg" {
						t.Errorf("%s %s: grain along %v of the drawn one", name, b.Letter, along)
					}
				}
			}
		}
		if n != len(drawn) {
			t.Errorf("%s: %d bodies, drawn %d", name, n, len(drawn))
		}
	}
}

// Bent all the way, the chain of lands takes the shape that the part has in
// the plan: at every tangent point and every corner within 0.2 mm; and slots
// close to the gap that package bend reckons, by a mechanism of its own.
func TestStripsBendToTheirPlace(t *testing.T) {
	strips, worst := 0, 0.0
	for _, name := range append([]string{"l", "u", "strip", "free"}, demos...) {
		p := demo(t, name)
		s := Make(p)
		for _, b := range s.Bodies {
			if b.Strip == nil {
				continue
			}
			strips++
			part := p.Model.Parts[0]
			for _, q := range p.Model.Parts {
				if q.Letter == b.Letter {
					part = q
				}
			}
			lands := b.Strip.Lands(1)
			near := func(what string, gx, gy, x, y float64) {
				t.Helper()
				d := math.Hypot(gx-x, gy-y)
				worst = max(worst, d)
				if d > 0.2 {
					t.Errorf("%s %s: %s at (%.3f, %.3f), in the plan (%.3f, %.3f)", name, b.Letter, what, gx, gy, x, y)
				}
			}
			// The tangent points of the profile, in order along the strip.
			profile, land := part.Bent.Profile, 0
			vertex := 0
			for i, k := range part.Kerfs {
				for profile[vertex].Bulge == 0 {
					vertex++
				}
				x, y := lands[land].at(k.Start.MM(), 0)
				near("start of a bend", x, y, profile[vertex].X.MM(), profile[vertex].Y.MM())
				land += len(b.Strip.Bends[i].KerfsMM)
				vertex++
				x, y = lands[land].at((k.Start + k.Zone).MM(), 0)
				near("end of a bend", x, y, profile[vertex].X.MM(), profile[vertex].Y.MM())
			}
			end := profile[len(profile)-1]
			x, y := lands[land].at(b.Strip.LengthMM, 0)
			near("far end", x, y, end.X.MM(), end.Y.MM())
			// All four corners of the far end are corners of the drawn body.
			for i, spot := range b.Spots {
				body := body(p, b.Letter, i)
				for _, ty := range []float64{0, b.Strip.ThicknessMM} {
					for _, z := range []float64{0, b.Strip.WidthMM} {
						x, y := lands[land].at(b.Strip.LengthMM, ty)
						at, best := put(spot.Matrix, x, y, z), math.Inf(1)
						for _, q := range body.Points {
							best = min(best, math.Hypot(math.Hypot(q[0]-at[0], q[1]-at[1]), q[2]-at[2]))
						}
						worst = max(worst, best)
						if best > 0.2 {
							t.Errorf("%s %s: corner %v is %.3f mm from the nearest drawn", name, b.Letter, at, best)
						}
					}
				}
			}
			for i, bend := range b.Strip.Bends {
				r := p.Model.Bends[part.Kerfs[i].Bend].Design.Result
				if got := mouth(*b.Strip, bend, 1); math.Abs(got-r.Gap.MM()) > 0.12 {
					t.Errorf("%s %s: slots of %s are %.3f mm open when bent, reckoned %.3f", name, b.Letter, bend.Name, got, r.Gap.MM())
				}
				if got := mouth(*b.Strip, bend, 0); math.Abs(got-bend.WidthMM) > 1e-9 {
					t.Errorf("flat, a slot is %v wide", got)
				}
			}
		}
	}
	if strips < 6 {
		t.Errorf("only %d strips tried", strips)
	}
	t.Logf("%d strips, at most %.3f mm off", strips, worst)
}

// mouth is how wide a slot of a bend is open at the kerfed face.
func mouth(s Strip, b StripBend, share float64) float64 {
	y := s.ThicknessMM
	if b.ShowFace {
		y = 0
	}
	c := b.KerfsMM[0]
	l := b.hinge(Pose{}, c, share*b.EachRad)
	x, up := l.at(c+b.WidthMM/2, y)
	// Along the bisector, so that lands which reach into each other count
	// below 0.
	sin, cos := math.Sincos(l.Rad / 2)
	return (x-c+b.WidthMM/2)*cos + (up-y)*sin
}

func body(p plan.Plan, letter string, at int) drawing.Body {
	for _, b := range drawing.Bodies(p.Model) {
		if b.Letter == letter && b.At == at {
			return b
		}
	}
	return drawing.Body{}
}

// Flat, the strips lie end to end on one level, most kerfs up, and none
// overlaps another.
func TestStripsLieFlat(t *testing.T) {
	for _, name := range append([]string{"l", "u", "strip", "free"}, demos...) {
		s := Make(demo(t, name))
		type span struct{ lo, hi float64 }
		var spans []span
		for _, b := range s.Bodies {
			if b.Strip == nil {
				continue
			}
			for _, l := range b.Strip.Lands(0) {
				if math.Abs(l.XMM)+math.Abs(l.YMM)+math.Abs(l.Rad) > 1e-9 {
					t.Fatalf("%s: a land of the flat strip lies at %v", name, l)
				}
			}
			for _, spot := range b.Spots {
				if spot.Lay == nil {
					t.Errorf("%s: %s does not say how it lies flat", name, b.Letter)
					continue
				}
				corner := func(x, y float64) Vec {
					px, py := spot.Lay.Pose.at(x, y)
					return put(spot.Matrix, px, py, 0)
				}
				a, z := corner(0, 0), corner(b.Strip.LengthMM, 0)
				up := corner(0, b.Strip.ThicknessMM)
				if math.Abs(a[2]-z[2]) > 0.05 {
					t.Errorf("%s %s does not lie level: %v, %v", name, b.Letter, a, z)
				}
				if name != "free" && up[2] < a[2]+b.Strip.ThicknessMM-0.05 {
					t.Errorf("%s %s lies with its kerfs down", name, b.Letter)
				}
				spans = append(spans, span{min(a[0], z[0]), max(a[0], z[0])})
			}
		}
		for i, a := range spans {
			for _, b := range spans[:i] {
				if a.lo < b.hi-0.1 && b.lo < a.hi-0.1 {
					t.Errorf("%s: flat strips overlap: %v, %v", name, a, b)
				}
			}
		}
	}
	// The bottom of the record cabinet stays where it is: its seam below does
	// not open.
	s := Make(demo(t, "record-cabinet"))
	for _, spot := range s.Bodies[0].Spots {
		lands := s.Bodies[0].Strip.Lands(1)
		l := lands[spot.Lay.Lead]
		if math.Abs(l.Rad-spot.Lay.Pose.Rad) > 1e-6 {
			t.Errorf("%s: its lead turns by %v", spot.Name, spot.Lay.Pose.Rad-l.Rad)
		}
		if d := math.Hypot(l.XMM-spot.Lay.Pose.XMM, l.YMM-spot.Lay.Pose.YMM); d > 0.1 {
			t.Errorf("%s: its lead moves by %.2f mm", spot.Name, d)
		}
		if len(spot.Lay.SeamsMM) != 2 {
			t.Errorf("%s has seams at %v", spot.Name, spot.Lay.SeamsMM)
		}
	}
}

// Drawers take their box, front, bottom and pull along; a door swings out in
// front of the side it is hung on.
func TestMotions(t *testing.T) {
	want := map[string]int{"record-cabinet": 4, "chest": 5, "clinic-cabinet": 1}
	for _, name := range demos {
		s := Make(demo(t, name))
		if len(s.Motions) != want[name] {
			t.Errorf("%s: %d things open, want %d", name, len(s.Motions), want[name])
		}
		for _, m := range s.Motions {
			roles := map[string]int{}
			for _, of := range m.Members {
				roles[s.Bodies[of.Body].Role]++
			}
			pulls := 0
			for _, f := range m.Fixtures {
				if s.Fixtures[f].Kind == "pull" {
					pulls++
				}
			}
			if pulls != 1 {
				t.Errorf("%s %s has %d pulls", name, m.Name, pulls)
			}
			if m.Kind == "drawer" {
				if roles["box side"] != 2 || roles["box front and back"] != 2 || roles["box bottom"] != 1 || roles["front"] != 1 || m.TravelMM[1] > -200 {
					t.Errorf("%s %s: %v by %v", name, m.Name, roles, m.TravelMM)
				}
				continue
			}
			// Hung on the left, it turns clockwise seen from above, and its
			// free edge comes forward.
			if m.MostRad >= 0 || math.Abs(m.HingeMM[0]-1) > 0.02 {
				t.Errorf("%s %s hangs at %v and turns %v", name, m.Name, m.HingeMM, m.MostRad)
			}
		}
	}
}

// The line of a measure is as long as it says, and what can be typed over
// names a field of the piece that has this value.
func TestMeasures(t *testing.T) {
	for _, name := range demos {
		p := demo(t, name)
		s := Make(p)
		for _, m := range s.Measures {
			long := 0.0
			for i := range m.FromMM {
				long += (m.ToMM[i] - m.FromMM[i]) * (m.ToMM[i] - m.FromMM[i])
			}
			l := shownMM(t, m.Size)
			if math.Abs(math.Sqrt(long)-l) > 0.06 {
				t.Errorf("%s: %s is drawn %.3f mm long and says %s", name, m.Name, math.Sqrt(long), m.Size)
			}
		}
		for what, l := range map[string]float64{"case.width": p.Piece.Case.Width.MM(), "case.height": p.Piece.Case.Height.MM(), "case.depth": p.Piece.Case.Depth.MM(), "base.height": p.Piece.Base.Height.MM()} {
			found := false
			for _, m := range s.Measures {
				if m.Path == what {
					found = true
					if math.Abs(shownMM(t, m.Size)-l) > 0.06 {
						t.Errorf("%s: %s says %s", name, what, m.Size)
					}
				}
			}
			if !found {
				t.Errorf("%s: %s cannot be typed over", name, what)
			}
		}
	}
}

func shownMM(t *testing.T, s station.Size) float64 {
	t.Helper()
	text := s.Own
	if !strings.HasSuffix(text, "mm") {
		text = s.Other
	}
	var v float64
	if err := json.Unmarshal([]byte(strings.TrimSuffix(strings.TrimSpace(text), " mm")), &v); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return v
}

// The scene stays small enough to be sent again at every edit.
func TestSceneIsSmall(t *testing.T) {
	for _, name := range demos {
		text, err := json.Marshal(Make(demo(t, name)))
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d bytes", name, len(text))
		if len(text) > 200_000 {
			t.Errorf("%s takes %d bytes", name, len(text))
		}
		if bytes.Contains(text, []byte("null")) {
			t.Errorf("%s: a list is null", name)
		}
	}
}

func BenchmarkMake(b *testing.B) {
	p := demo(b, "record-cabinet")
	for b.Loop() {
		Make(p)
	}
}
