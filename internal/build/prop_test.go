package build

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"sort"
	"testing"

	"pgregory.net/rapid"

	"casewright/internal/document"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// adds works a sum again, term by term.
func adds(d Dim) unit.Length {
	var sum unit.Length
	for _, t := range d.Why {
		if t.Over > 0 {
			sum /= unit.Length(t.Over)
			continue
		}
		sum += unit.Length(t.Times) * t.Each
	}
	return sum
}

// checkParts holds every part to what must be true of any.
func checkParts(t interface{ Errorf(string, ...any) }, m Model) {
	for _, p := range m.Parts {
		for what, d := range map[string]Dim{"length": p.Length, "width": p.Width, "thickness": p.Thickness} {
			if got := adds(d); got != d.Size || len(d.Why) == 0 {
				t.Errorf("%s %s: the %s is %s, its sum comes to %s", p.Letter, p.Name, what, d.Size, got)
			}
			if d.Size <= 0 {
				t.Errorf("%s %s: %s of %s", p.Letter, p.Name, what, d.Size)
			}
		}
		b := p.Outline.Bounds()
		if p.Role == RoleStile && b.Min.X >= 0 && b.Max.X <= p.Length.Size && b.Max.Y <= p.Width.Size {
			// Shaped round a corner, a stile may end inside its board.
		} else if b.Min != geom.P(0, 0) || b.Max != geom.P(p.Length.Size, p.Width.Size) {
			t.Errorf("%s %s: outline from %v to %v, sizes %s by %s", p.Letter, p.Name, b.Min, b.Max, p.Length.Size, p.Width.Size)
		}
		if !p.Outline.IsSimple() || p.Outline.Area() <= 0 {
			t.Errorf("%s %s: the outline crosses itself or runs clockwise: %v", p.Letter, p.Name, p.Outline)
		}
		if len(p.Places) > 0 && p.Count != len(p.Places) {
			t.Errorf("%s %s: %d of them at %d places", p.Letter, p.Name, p.Count, len(p.Places))
		}
		for _, f := range p.Features {
			if (f.Face == "") == (f.On == "") {
				t.Errorf("%s %s: %s for %s is on face %q and edge %q", p.Letter, p.Name, f.Kind, f.For, f.Face, f.On)
			}
			if f.Depth <= 0 || f.Face != "" && f.Depth > p.Thickness.Size {
				t.Errorf("%s %s: %s for %s is %s deep in %s", p.Letter, p.Name, f.Kind, f.For, f.Depth, p.Thickness.Size)
			}
		}
		for _, k := range p.Kerfs {
			if k.Bend >= len(m.Bends) {
				t.Errorf("%s %s: a kerf group of bend %d of %d", p.Letter, p.Name, k.Bend, len(m.Bends))
				continue
			}
			r := m.Bends[k.Bend].Design.Result
			if len(k.Positions) != r.Count || k.Zone != r.Zone || k.Start < 0 || k.Start+k.Zone > p.Length.Size {
				t.Errorf("%s %s: kerfs %v from %s over %s do not lie on it", p.Letter, p.Name, k.Positions, k.Start, k.Zone)
			}
		}
	}
	letters := map[string]bool{}
	for _, p := range m.Parts {
		letters[p.Letter] = true
	}
	for _, j := range m.Joints {
		if !letters[j.A] || !letters[j.B] {
			t.Errorf("a joint of %q and %q, which are no parts", j.A, j.B)
		}
	}
}

// quick builds with a short simulation of the bends.
func quick(p piece.Piece) (Model, error) {
	return (&builder{piece: p, shop: workshop(), draws: 50}).make()
}

func TestSumsAddUp(t *testing.T) {
	built, tried := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := sensible(t)
		tried++
		m, err := quick(p)
		if err != nil {
			mustTell(t, err)
			return
		}
		built++
		checkParts(t, m)
	})
	if built < tried/5 {
		t.Errorf("only %d of %d random pieces could be built", built, tried)
	}
}

// mustTell holds a refusal to its form: a path and a sentence each.
func mustTell(t interface{ Errorf(string, ...any) }, err error) {
	var ps document.Problems
	if !errors.As(err, &ps) || len(ps) == 0 {
		t.Errorf("not problems but %T %v", err, err)
	}
	for _, p := range ps {
		if p.Path == "" || len(p.Says) < 20 {
			t.Errorf("problem at %q says %q", p.Path, p.Says)
		}
	}
}

// TestSameBytes: the same input gives the same bytes, and another unit for
// showing changes no part.
func TestSameBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sensible(t)
		one, err := quick(p)
		two, err2 := quick(p)
		if (err == nil) != (err2 == nil) {
			t.Fatalf("%v, then %v", err, err2)
		}
		if !bytes.Equal(encode(t, one), encode(t, two)) {
			t.Fatal("built twice, came out differently")
		}
		p.Units = unit.Imperial
		three, err := quick(p)
		if (err == nil) != (err2 == nil) {
			t.Fatalf("in inches: %v", err)
		}
		if a, b := skeleton(one), skeleton(three); a != b {
			t.Fatalf("in inches other parts came out:\n%s\n%s", a, b)
		}
	})
}

func encode(t interface{ Fatal(...any) }, m Model) []byte {
	out, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// skeleton is every part without its words.
func skeleton(m Model) string {
	var b bytes.Buffer
	for _, p := range m.Parts {
		fmt.Fprintf(&b, "%s %d %d %d %d %v %v", p.Letter, p.Count, p.Length.Size, p.Width.Size, p.Thickness.Size, p.Outline, p.Places)
		for _, f := range p.Features {
			fmt.Fprintf(&b, " %s %s%s %v %d", f.Kind, f.Face, f.On, f.Region, f.Depth)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// solid is a convex box or a prism of a part, in space.
type solid struct {
	letter, name, place string
	prism               *geom.Prism // for flat parts
	boxes               []geom.Box
	bounds              geom.Bounds3
	lean                unit.Length // how far a slanting end may stand into what it is cut to
}

// solids are the parts where they stand: flat ones as prisms, bent ones as a
// box for each flat and eight for each bend.
func solids(m Model) []solid {
	var out []solid
	for _, p := range m.Parts {
		for _, at := range p.Places {
			s := solid{letter: p.Letter, name: p.Name, place: at.Name}
			if p.Bent != nil {
				s.boxes = bentBoxes(p, at.Frame)
			} else {
				prism := geom.Prism{Frame: at.Frame, Face: geom.Region{p.Outline}, Width: p.Width.Size, Thickness: p.Thickness.Size}
				s.prism = &prism
				s.boxes = sliced(p, at.Frame)
				if p.Role == RoleLeg {
					s.lean = p.Width.Size / 2
				}
			}
			var vs []geom.Vec
			for _, b := range s.boxes {
				bb := b.Bounds()
				vs = append(vs, bb.Min, bb.Max)
			}
			s.bounds = geom.BoundsOf(vs...)
			out = append(out, s)
		}
	}
	return out
}

// sliced is a flat part as boxes: one if it is a rectangle, else one for each
// run of each of 80 strips across it, a little less than the part.
func sliced(p Part, f geom.Frame) []geom.Box {
	o := f.Place(p.Outline, p.Width.Size)
	b := o.Bounds()
	whole := geom.Box{Frame: f, X: b.Width(), Y: b.Height(), Z: p.Thickness.Size}
	whole.Frame.Origin = f.At(b.Min.X, b.Min.Y, 0)
	if float64(o.Area()) > 0.9999*float64(unit.AreaOf(b.Width(), b.Height())) {
		return []geom.Box{whole}
	}
	const n = 80
	var out []geom.Box
	points := o.Flatten(unit.Millimetre / 100)
	step := b.Width() / n
	for i := range unit.Length(n) {
		x0, x1 := b.Min.X+i*step, b.Min.X+(i+1)*step
		near, far := crossings(points, x0+1), crossings(points, x1-1)
		for k := 0; k+1 < len(near) && len(near) == len(far); k += 2 {
			lo, hi := max(near[k], far[k]), min(near[k+1], far[k+1])
			if hi > lo {
				box := geom.Box{Frame: f, X: step, Y: hi - lo, Z: p.Thickness.Size}
				box.Frame.Origin = f.At(x0, lo, 0)
				out = append(out, box)
			}
		}
	}
	return out
}

// crossings are where a closed line crosses x, lowest first.
func crossings(points []geom.Point, x unit.Length) []unit.Length {
	var out []unit.Length
	for i, p := range points {
		q := points[(i+1)%len(points)]
		if (p.X < x) != (q.X < x) {
			out = append(out, p.Y+(q.Y-p.Y).Scale(float64(x-p.X)/float64(q.X-p.X)))
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	return out
}

func bentBoxes(p Part, f geom.Frame) []geom.Box {
	var out []geom.Box
	t := p.Thickness.Size
	add := func(x, y, heading float64, long unit.Length) {
		sin, cos := math.Sincos(heading)
		u := geom.Dir{X: f.U.X*cos + f.V.X*sin, Y: f.U.Y*cos + f.V.Y*sin, Z: f.U.Z*cos + f.V.Z*sin}
		v := geom.Dir{X: f.V.X*cos - f.U.X*sin, Y: f.V.Y*cos - f.U.Y*sin, Z: f.V.Z*cos - f.U.Z*sin}
		out = append(out, geom.Box{Frame: geom.Frame{Origin: f.At(unit.MM(x), unit.MM(y), 0), U: u, V: v}, X: long, Y: t, Z: p.Width.Size})
	}
	path := p.Bent.Profile
	for i := range len(path) - 1 {
		x0, y0, x1, y1 := path[i].X.MM(), path[i].Y.MM(), path[i+1].X.MM(), path[i+1].Y.MM()
		chord, toward := math.Hypot(x1-x0, y1-y0), math.Atan2(y1-y0, x1-x0)
		sweep := 4 * math.Atan(path[i].Bulge)
		if sweep == 0 {
			add(x0, y0, toward, unit.MM(chord))
			continue
		}
		// Chords of the inner face, so that no box stands out of the bend.
		const n = 8
		at := spotOn{x0, y0, toward - sweep/2}
		r := chord / 2 / math.Sin(math.Abs(sweep)/2)
		for range n {
			next := at.round(sweep/n, r)
			shrink := 0.0
			if sweep > 0 {
				shrink = t.MM() * math.Tan(sweep/n/2) * 2
			}
			mid := at.round(sweep/n/2, r)
			long := math.Hypot(next.x-at.x, next.z-at.z) - shrink
			start := mid.ahead(-long / 2)
			in := r * (1 - math.Cos(sweep/n/2)) // the chord lies inside the arc
			if sweep > 0 {
				start.x, start.z = start.x-in*math.Sin(start.heading), start.z+in*math.Cos(start.heading)
			}
			add(start.x, start.z, start.heading, unit.MM(max(long, 0.001)))
			at = next
		}
	}
	return out
}

// into is how far two solids stand in each other.
func (s solid) into(o solid) unit.Length {
	if !s.bounds.Meets(o.bounds) {
		return 0
	}
	var deepest unit.Length
	for _, a := range s.boxes {
		for _, b := range o.boxes {
			deepest = max(deepest, a.Penetration(b))
		}
	}
	if s.prism != nil && o.prism != nil && deepest > 0 {
		if area, depth, parallel := s.prism.Overlap(*o.prism); parallel && (area < 1e-10 || depth <= 0) {
			return 0
		}
	}
	return deepest
}

// checkApart: no two parts stand in each other but by the depth of a joint.
func checkApart(t interface{ Errorf(string, ...any) }, m Model) {
	reach := map[[2]string]unit.Length{}
	for _, j := range m.Joints {
		for _, k := range [][2]string{{j.A, j.B}, {j.B, j.A}} {
			reach[k] = max(reach[k], j.Depth)
		}
	}
	all := solids(m)
	const slack = 20 * unit.Micrometre
	for i, a := range all {
		for _, b := range all[i+1:] {
			if deep := a.into(b); deep > reach[[2]string{a.letter, b.letter}]+slack+a.lean+b.lean {
				t.Errorf("%s %s (%s) and %s %s (%s) stand %s in each other", a.letter, a.name, a.place, b.letter, b.name, b.place, deep)
			}
		}
	}
}

func TestPartsApart(t *testing.T) {
	for _, name := range []string{"record-cabinet", "clinic-cabinet", "chest"} {
		t.Run(name, func(t *testing.T) { checkApart(t, built(t, name)) })
	}
	t.Run("random", rapid.MakeCheck(func(t *rapid.T) {
		m, err := quick(sensible(t))
		if err == nil {
			checkApart(t, m)
		}
	}))
}
