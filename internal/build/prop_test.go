package build

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

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
	for _, f := range m.Findings {
		mustBeSentences(t, f.ID, f.Says, false)
		mustBeSentences(t, f.ID, f.Advice, true)
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

// mustBeSentences holds what a finding says to whole sentences: a capital at
// the start, a full stop at the end, no gap left by a word that was missing.
func mustBeSentences(t interface{ Errorf(string, ...any) }, id, text string, mayBeEmpty bool) {
	if text == "" && mayBeEmpty {
		return
	}
	first, _ := utf8.DecodeRuneInString(text)
	if !unicode.IsUpper(first) || !strings.HasSuffix(text, ".") || strings.HasSuffix(text, "..") ||
		strings.Contains(text, "  ") || strings.Contains(text, " .") || strings.Contains(text, " ,") || strings.Contains(text, "%!") {
		t.Errorf("%s is no whole sentence: %q", id, text)
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

// inside says that a point in space lies within a part, by clear more than on
// its surface: in its own plane for a flat part, and for a bent one by the
// distance from the line that runs along the middle of its thickness.
func (p *Part) inside(at geom.Frame, v geom.Vec, clear unit.Length) bool {
	d := v.Sub(at.Origin)
	x, y, z := d.Along(at.U), d.Along(at.V), d.Along(at.N())
	if p.Bent == nil {
		o := at.Place(p.Outline, p.Width.Size)
		if z < clear || z > p.Thickness.Size-clear {
			return false
		}
		for _, q := range []geom.Point{{X: x - clear, Y: y}, {X: x + clear, Y: y}, {X: x, Y: y - clear}, {X: x, Y: y + clear}} {
			if !o.Contains(q) {
				return false
			}
		}
		return true
	}
	if z < clear || z > p.Width.Size-clear {
		return false
	}
	s, t := spotOn{}, p.Thickness.Size.MM()
	c, px, py := clear.MM(), x.MM(), y.MM()
	path := p.Bent.Profile
	for i := range len(path) - 1 {
		chord := math.Hypot((path[i+1].X - path[i].X).MM(), (path[i+1].Y - path[i].Y).MM())
		sweep := 4 * math.Atan(path[i].Bulge)
		sin, cos := math.Sincos(s.heading)
		if sweep == 0 {
			along, left := (px-s.x)*cos+(py-s.z)*sin, (py-s.z)*cos-(px-s.x)*sin
			if along >= 0 && along <= chord && left > c && left < t-c {
				return true
			}
			s = s.ahead(chord)
			continue
		}
		r := chord / 2 / math.Sin(math.Abs(sweep)/2)
		side := math.Copysign(r, sweep)
		mx, my := s.x-side*sin, s.z+side*cos
		dist := math.Hypot(px-mx, py-my)
		turn := math.Remainder(math.Atan2(py-my, px-mx)-math.Atan2(s.z-my, s.x-mx), 2*math.Pi)
		if left := (r - dist) * math.Copysign(1, sweep); left > c && left < t-c && turn*sweep >= 0 && math.Abs(turn) <= math.Abs(sweep) {
			return true
		}
		s = s.round(sweep, r)
	}
	return false
}

// TestPartsApart: points strewn through every part lie in no other part,
// unless the two are joined or the collision is told.
func TestPartsApart(t *testing.T) {
	for _, name := range []string{"record-cabinet", "clinic-cabinet", "chest"} {
		t.Run(name, func(t *testing.T) {
			m := built(t, name)
			checkApart(t, m)
			for _, f := range m.Findings {
				if f.ID == "parts-collide" {
					t.Errorf("%s %s", f.Place, f.Says)
				}
			}
		})
	}
	told, all := 0, 0
	t.Run("random", rapid.MakeCheck(func(t *rapid.T) {
		m, err := quick(sensible(t))
		if err != nil {
			return
		}
		all++
		if checkApart(t, m) {
			told++
		}
	}))
	if told > all/4 {
		t.Errorf("%d of %d random pieces have parts that collide", told, all)
	}
}

func checkApart(t interface{ Errorf(string, ...any) }, m Model) (told bool) {
	joined := map[[2]string]bool{}
	for _, j := range m.Joints {
		joined[[2]string{j.A, j.B}], joined[[2]string{j.B, j.A}] = true, true
	}
	for _, f := range m.Findings {
		if f.ID != "parts-collide" {
			continue
		}
		told = true
		for _, p := range m.Parts {
			for _, q := range m.Parts {
				if strings.Contains(f.Says, p.named()+" ") && strings.Contains(f.Says, q.named()+" ") {
					joined[[2]string{p.Letter, q.Letter}] = true
				}
			}
		}
	}
	const clear = unit.Millimetre / 2
	for i := range m.Parts {
		p := &m.Parts[i]
		if p.Bent != nil || p.Role == RoleLeg { // bent ones are looked at from the others
			continue
		}
		for k, at := range p.Places {
			for _, v := range strewn(p, at.Frame) {
				for j := range m.Parts {
					q := &m.Parts[j]
					if q.Role == RoleLeg || joined[[2]string{p.Letter, q.Letter}] {
						continue
					}
					for l, other := range q.Places {
						if (i != j || k != l) && q.inside(other.Frame, v, clear) {
							t.Errorf("%s (%s) and %s (%s) both hold %v", p.named(), at.Name, q.named(), other.Name, v)
							return told
						}
					}
				}
			}
		}
	}
	return told
}

// strewn are points within a flat part: along its edges and across it, just
// under both faces.
func strewn(p *Part, f geom.Frame) []geom.Vec {
	o := f.Place(p.Outline, p.Width.Size)
	b := o.Bounds()
	const n = 9
	var out []geom.Vec
	for i := range unit.Length(n + 1) {
		for k := range unit.Length(n + 1) {
			q := geom.P(b.Min.X+1+(b.Width()-2)*i/n, b.Min.Y+1+(b.Height()-2)*k/n)
			if !o.Contains(q) {
				continue
			}
			out = append(out, f.At(q.X, q.Y, 1), f.At(q.X, q.Y, p.Thickness.Size-1))
		}
	}
	return out
}
