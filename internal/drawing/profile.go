package drawing

import (
	"math"
	"slices"

	"casewright/internal/build"
)

// pocket is where a feature takes wood away along a line across a part: from
// the face at z = 0 upward, or from the other downward.
type pocket struct {
	from, to      float64
	depth, depth2 float64 // at from and at to
	other         bool    // worked from the other face
}

// pocketsAcross gives the pockets that the line at distance s from the origin,
// along (dx, dy), meets in the part's own plane. y is counted as drawn.
func pocketsAcross(p *build.Part, place int, dx, dy, s float64) []pocket {
	var out []pocket
	for _, f := range p.Features {
		if f.On != "" || f.Kind == build.Notch || f.Kind == build.Tenon || !atPlace(f, p, place) {
			continue
		}
		loop := OutlinePath(f.Region).flat(arcStep)
		for _, r := range crossings([][]Pt{loop}, dx, dy, s) {
			k := pocket{r.from, r.to, f.Depth.MM(), f.Depth.MM(), f.Face == build.FaceOther}
			if f.Through {
				k.depth, k.depth2 = math.Inf(1), math.Inf(1)
			}
			out = append(out, k)
		}
	}
	return out
}

// atPlace reports whether the feature is worked into the part at that place.
func atPlace(f build.Feature, p *build.Part, place int) bool {
	return f.Place == "" || f.Place == p.Places[place].Name
}

// notched gives the cross-section of a strip from a to b, t high, less the
// pockets: closed runs of (along, z).
func notched(a, b, t float64, pockets []pocket) [][]Pt {
	cuts := []float64{a, b}
	for _, p := range pockets {
		cuts = append(cuts, min(max(p.from, a), b), min(max(p.to, a), b))
	}
	slices.Sort(cuts)
	type slab struct{ from, to, lo, hi float64 }
	var slabs []slab
	for i := 1; i < len(cuts); i++ {
		s := slab{cuts[i-1], cuts[i], 0, t}
		if s.to-s.from < 1e-6 {
			continue
		}
		m := (s.from + s.to) / 2
		for _, p := range pockets {
			if m <= p.from || m >= p.to {
				continue
			}
			if p.other {
				s.hi = min(s.hi, t-p.depth)
			} else {
				s.lo = max(s.lo, p.depth)
			}
		}
		if s.hi-s.lo > 1e-6 {
			slabs = append(slabs, s)
		}
	}
	var out [][]Pt
	for i := 0; i < len(slabs); {
		j := i + 1
		for j < len(slabs) && slabs[j].from-slabs[j-1].to < 1e-6 && slabs[j].lo < slabs[j-1].hi && slabs[j].hi > slabs[j-1].lo {
			j++
		}
		var loop []Pt
		for _, s := range slabs[i:j] {
			loop = append(loop, Pt{s.from, s.lo}, Pt{s.to, s.lo})
		}
		for k := j - 1; k >= i; k-- {
			loop = append(loop, Pt{slabs[k].to, slabs[k].hi}, Pt{slabs[k].from, slabs[k].hi})
		}
		out = append(out, tidy(loop))
		i = j
	}
	return out
}

// tidy drops corners that are none.
func tidy(l []Pt) []Pt {
	var out []Pt
	for i, p := range l {
		a, b := l[(i+len(l)-1)%len(l)], l[(i+1)%len(l)]
		if math.Hypot(p.X-a.X, p.Y-a.Y) < 1e-9 || math.Abs((p.X-a.X)*(b.Y-p.Y)-(p.Y-a.Y)*(b.X-p.X)) < 1e-9 {
			continue
		}
		out = append(out, p)
	}
	return out
}

// flatOf maps a bent part: its face path's corners and their places along the
// flat part.
type flatOf struct {
	face  Path
	stops []float64
}

// flatMap pairs the arcs of the bent face with the kerf groups in order; the
// flats between take up the rest.
func flatMap(p *build.Part) flatOf {
	f := flatOf{face: pathFrom(p.Bent.Profile, false)}
	groups := slices.Clone(p.Kerfs)
	slices.SortFunc(groups, func(a, b build.KerfGroup) int { return int(sign(a.Start.MM() - b.Start.MM())) })
	x, g := 0.0, 0
	f.stops = append(f.stops, 0)
	for i := 0; i+1 < len(f.face.Nodes); i++ {
		a, b := f.face.Nodes[i], f.face.Nodes[i+1].Pt
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if a.Bulge != 0 {
			l = math.Abs(ArcOf(a.Pt, b, a.Bulge).Sweep) * ArcOf(a.Pt, b, a.Bulge).Radius
			if g < len(groups) {
				x, l = groups[g].Start.MM(), groups[g].Zone.MM()
				f.stops[len(f.stops)-1] = x
				g++
			}
		}
		x += l
		f.stops = append(f.stops, x)
	}
	return f
}

func sign(v float64) float64 {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// find gives the place along the flat part of a point on a straight run of the
// bent face.
func (f flatOf) find(p Pt) (x float64, ok bool) {
	for i := 0; i+1 < len(f.face.Nodes); i++ {
		a, b := f.face.Nodes[i], f.face.Nodes[i+1].Pt
		if a.Bulge != 0 || distance(p, a.Pt, b) > 1e-3 {
			continue
		}
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		t := 0.0
		if l > 0 {
			t = math.Hypot(p.X-a.X, p.Y-a.Y) / l
		}
		return f.stops[i] + t*(f.stops[i+1]-f.stops[i]), true
	}
	return 0, false
}

// uncutOther reports whether the face that is not kerfed is the part's other
// face, z = thickness.
func uncutOther(p *build.Part) bool {
	return len(p.Kerfs) == 0 || p.Kerfs[0].Face != build.FaceOther
}
