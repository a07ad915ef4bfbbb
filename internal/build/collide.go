package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// solid is a part at one of its places.
type solid struct {
	part  *Part
	place Place
	prism geom.Prism // of a flat part
	whole geom.Box   // round it
	boxes []geom.Box // within it; worked out when asked for
	each  []geom.Bounds3
	geom.Bounds3
}

// touching is how far parts may stand in each other and still only touch:
// what the boxes of curved parts cost.
const touching = unit.Millimetre / 10

// collide looks for parts that stand in each other by more than their joint,
// which the maker must hear of before cutting. Legs are let off: their ends
// are cut to the case.
func (b *builder) collide() {
	reach := map[[2]string]unit.Length{}
	for _, j := range b.m.Joints {
		reach[[2]string{j.A, j.B}] = max(reach[[2]string{j.A, j.B}], j.Depth)
		reach[[2]string{j.B, j.A}] = max(reach[[2]string{j.B, j.A}], j.Depth)
	}
	all := b.m.solids()
	said := map[[2]string]bool{}
	for i := range all {
		for k := i + 1; k < len(all); k++ {
			p, q := &all[i], &all[k]
			pair := [2]string{p.part.Letter, q.part.Letter}
			if said[pair] {
				continue
			}
			allowed := reach[pair] + touching
			if !p.Meets(q.Bounds3) || p.part.Bent == nil && q.part.Bent == nil && p.whole.Penetration(q.whole) <= allowed {
				continue
			}
			deep := p.into(q)
			if deep <= allowed {
				continue
			}
			said[pair] = true
			b.note(finding.Finding{
				ID: "parts-collide", Level: finding.Stop, Place: q.part.named(),
				Says:   fmt.Sprintf("%s and %s stand %s in each other%s.", p.part.named(), q.part.named(), b.show(deep), where(q.place.Name)),
				Figure: b.show(deep), Limit: b.show(reach[pair]), Advice: "Move one of them, or make it smaller by as much.", Source: "derived",
			})
		}
	}
}

func where(place string) string {
	if place == "" {
		return ""
	}
	return ", at " + place
}

// solids are all parts where they stand.
func (m Model) solids() []solid {
	var out []solid
	for i := range m.Parts {
		p := &m.Parts[i]
		for _, at := range p.Places {
			if p.Role == RoleLeg {
				continue
			}
			s := solid{part: p, place: at}
			if p.Bent == nil {
				s.prism = geom.Prism{Frame: at.Frame, Face: geom.Region{p.Outline}, Width: p.Width.Size, Thickness: p.Thickness.Size}
				s.whole = s.prism.Box()
				s.Bounds3 = s.whole.Bounds()
			} else {
				s.fill()
				for i, x := range s.each {
					if i == 0 {
						s.Bounds3 = x
					}
					s.Bounds3 = s.Union(x)
				}
			}
			out = append(out, s)
		}
	}
	return out
}

// fill works out the boxes.
func (s *solid) fill() {
	if s.boxes != nil {
		return
	}
	if s.part.Bent != nil {
		s.boxes = bentBoxes(s.part, s.place.Frame)
	} else {
		s.boxes = flatBoxes(s.part, s.place.Frame)
	}
	for _, x := range s.boxes {
		s.each = append(s.each, x.Bounds())
	}
}

// into is how far two parts stand in each other.
func (s *solid) into(o *solid) unit.Length {
	s.fill()
	o.fill()
	var deepest unit.Length
	for i, a := range s.boxes {
		for k, b := range o.boxes {
			if s.each[i].Meets(o.each[k]) {
				deepest = max(deepest, a.Penetration(b))
			}
		}
	}
	if deepest > 0 && s.part.Bent == nil && o.part.Bent == nil {
		// Strips of two parts that lie flat on each other can meet where the
		// parts do not.
		if area, depth, parallel := s.prism.Overlap(o.prism); parallel && (area < 1e-9 || depth <= 0) {
			return 0
		}
	}
	return deepest
}

// flatBoxes is a flat part as boxes: one if it is a rectangle, else those of
// forty strips across it.
func flatBoxes(p *Part, f geom.Frame) []geom.Box {
	o := f.Place(p.Outline, p.Width.Size)
	b := o.Bounds()
	at := func(x, y, long, wide unit.Length) geom.Box {
		box := geom.Box{Frame: f, X: long, Y: wide, Z: p.Thickness.Size}
		box.Frame.Origin = f.At(x, y, 0)
		return box
	}
	if len(o) == 4 && float64(o.Area()) > 0.9999*float64(unit.AreaOf(b.Width(), b.Height())) {
		return []geom.Box{at(b.Min.X, b.Min.Y, b.Width(), b.Height())}
	}
	const n = 40
	var out []geom.Box
	points := o.Flatten(unit.Millimetre / 50)
	step := b.Width() / n
	for i := range unit.Length(n) {
		x0, x1 := b.Min.X+i*step, b.Min.X+(i+1)*step
		near, far := crossings(points, x0+1), crossings(points, x1-1)
		for k := 0; k+1 < len(near) && len(near) == len(far); k += 2 {
			lo, hi := max(near[k], far[k]), min(near[k+1], far[k+1])
			if hi > lo {
				out = append(out, at(x0, lo, step, hi-lo))
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
	slices.SortFunc(out, cmp.Compare)
	return out
}

// bentBoxes is a bent part as boxes: one for each flat, and for each bend
// twelve that lie within it.
func bentBoxes(p *Part, f geom.Frame) []geom.Box {
	const n = 12
	var out []geom.Box
	t := p.Thickness.Size.MM()
	add := func(s spotOn, long, thick float64) {
		sin, cos := math.Sincos(s.heading)
		u := geom.Dir{X: f.U.X*cos + f.V.X*sin, Y: f.U.Y*cos + f.V.Y*sin, Z: f.U.Z*cos + f.V.Z*sin}
		v := geom.Dir{X: f.V.X*cos - f.U.X*sin, Y: f.V.Y*cos - f.U.Y*sin, Z: f.V.Z*cos - f.U.Z*sin}
		at := s.point()
		out = append(out, geom.Box{
			Frame: geom.Frame{Origin: f.At(at.X, at.Y, 0), U: u, V: v},
			X:     unit.MM(max(long, 0)), Y: unit.MM(max(thick, 0)), Z: p.Width.Size,
		})
	}
	at := spotOn{}
	path := p.Bent.Profile
	for i := range len(path) - 1 {
		chord := math.Hypot((path[i+1].X - path[i].X).MM(), (path[i+1].Y - path[i].Y).MM())
		sweep := 4 * math.Atan(path[i].Bulge)
		if sweep == 0 {
			add(at, chord, t)
			at = at.ahead(chord)
			continue
		}
		r := chord / 2 / math.Sin(math.Abs(sweep)/2)
		half := sweep / n / 2
		for range n {
			mid := at.round(half, r)
			at = mid.round(half, r)
			// The panel lies on the left. On a turn to the left its inner face
			// is the shorter; on one to the right the path is.
			sag := r * (1 - math.Cos(half))
			long, thick := 2*(r-t)*math.Sin(half), t-sag
			if sweep > 0 {
				mid.x, mid.z = mid.x-sag*math.Sin(mid.heading), mid.z+sag*math.Cos(mid.heading)
			} else {
				long, thick = -2*r*math.Sin(half), t
			}
			add(mid.ahead(-long/2), long, thick)
		}
	}
	return out
}
