package drawing

import (
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/unit"
)

// FrontView is the model as seen from the front. With Options.Dims it has
// chains for the openings and over all; with Letters its parts are lettered.
func FrontView(m build.Model, o Options) View {
	v := elevation(m, fromFront, o)
	v.Title = "Front"
	if o.Dims {
		v.Chains = frontChains(m, o)
		v.radii(m, o)
	}
	return v
}

// SideView is the model as seen from the right.
func SideView(m build.Model, o Options) View {
	v := elevation(m, fromRight, o)
	v.Title = "Side"
	if o.Dims {
		v.Chains = sideChains(m, o.outer())
	}
	return v
}

// TopView is the model as seen from above, its front below.
func TopView(m build.Model, o Options) View {
	v := elevation(m, fromAbove, o)
	v.Title = "Top"
	if o.Dims {
		v.Chains = topChains(m, o.outer())
	}
	return v
}

// BackView is the model as seen from behind.
func BackView(m build.Model, o Options) View {
	v := elevation(m, fromBack, o)
	v.Title = "Back"
	return v
}

func elevation(m build.Model, c camera, o Options) View {
	all := inSight(m)
	var faces []facet
	var rims []rim
	for i, s := range all {
		faces, rims = s.shape(i, c.toward, faces, rims)
	}
	rims = append(rims, meets(ofParts(all, faces))...)
	v := View{Items: seeLines(faces, rims, c, o.Hidden).items(PenOutline, PenMedium)}
	if o.Live {
		v.Picks = picks(all, faces, c)
	}
	if o.Letters {
		if o.Dims {
			v.around = []Side{Above, RightOf}
		}
		v.Balloons = letters(all, faces, c, v.around)
	}
	return v
}

// frontChains are the chains of a front view: across, the openings and the
// wood between them, then over all; upward likewise.
func frontChains(m build.Model, o Options) []Chain {
	var xs, zs []unit.Length
	for _, op := range m.Openings {
		xs = append(xs, op.X, op.X+op.Width.Size)
		zs = append(zs, op.Z, op.Z+op.Height.Size)
	}
	x0, x1, _, _, z0, z1 := extent(m)
	across := o.fielded(appendChain(nil, Below, x0, x1, xs), Below, AxisX)
	return append(across, o.fielded(appendChain(nil, LeftOf, z0, z1, zs), LeftOf, AxisZ)...)
}

// topChains are the chains of a view from above: over all.
func topChains(m build.Model, o Options) []Chain {
	x0, x1, y0, y1, _, _ := extent(m)
	across := o.fielded([]Chain{ChainOf(Below, x0, x1)}, Below, AxisX)
	return append(across, o.fielded([]Chain{ChainOf(LeftOf, y0, y1)}, LeftOf, AxisY)...)
}

// most stops in one chain; more are for a table.
const mostStops = 24

// appendChain adds the chain through the stops, if there are any between the
// ends, and the one over all.
func appendChain(out []Chain, side Side, lo, hi unit.Length, stops []unit.Length) []Chain {
	s := append([]unit.Length{lo, hi}, stops...)
	slices.Sort(s)
	s = slices.Compact(s)
	s = slices.DeleteFunc(s, func(l unit.Length) bool { return l < lo || l > hi })
	if len(s) > 2 && len(s) <= mostStops {
		fine := ChainOf(side, s...)
		fine.Spare = true
		out = append(out, fine)
	}
	return append(out, ChainOf(side, lo, hi))
}

// extent is the model's extent across and from front to back, legs aside,
// which may lean out; upward it begins at the floor.
func extent(m build.Model) (x0, x1, y0, y1, z0, z1 unit.Length) {
	lo := [2]float64{math.Inf(1), math.Inf(1)}
	hi := [3]float64{math.Inf(-1), math.Inf(-1), 0}
	for _, s := range solids(m) {
		if s.part.Role == build.RoleLeg {
			continue
		}
		a, b := s.along(vec{1, 0, 0})
		c, d := s.along(vec{0, 1, 0})
		_, e := s.along(vec{0, 0, 1})
		lo = [2]float64{min(lo[0], a), min(lo[1], c)}
		hi = [3]float64{max(hi[0], b), max(hi[1], d), max(hi[2], e)}
	}
	if lo[0] > hi[0] {
		return 0, m.Outside.X, 0, m.Outside.Y, 0, m.Outside.Z
	}
	l := func(v float64) unit.Length { return unit.MM(v).Round(unit.Micrometre) }
	return l(lo[0]), l(hi[0]), l(lo[1]), l(hi[1]), 0, l(hi[2])
}

// sideChains are the chains of a view from the right: where fronts, frame,
// case and back lie from front to back, and over all.
func sideChains(m build.Model, o Options) []Chain {
	var ys, zs []unit.Length
	_, _, y0, y1, _, z1 := extent(m)
	for _, s := range solids(m) {
		if !slices.Contains([]build.Role{build.RoleStile, build.RoleShell, build.RoleSide, build.RoleBack, build.RoleFront, build.RoleDoor}, s.part.Role) {
			continue
		}
		y0, y1 := s.along(vec{0, 1, 0})
		ys = append(ys, unit.MM(y0).Round(unit.Micrometre), unit.MM(y1).Round(unit.Micrometre))
		if s.part.Role == build.RoleShell || s.part.Role == build.RoleSide {
			z0, z1 := s.along(vec{0, 0, 1})
			zs = append(zs, unit.MM(z0).Round(unit.Micrometre), unit.MM(z1).Round(unit.Micrometre))
		}
	}
	if len(ys) == 0 {
		return []Chain{ChainOf(Below, 0, m.Outside.Y), ChainOf(LeftOf, 0, m.Outside.Z)}
	}
	deep := o.fielded(appendChain(nil, Below, y0, y1, ys), Below, AxisY)
	return append(deep, o.fielded(appendChain(nil, LeftOf, 0, z1, zs), LeftOf, AxisZ)...)
}

// along is the extent of the solid in a direction.
func (s solid) along(d vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range s.base {
		base, lid := s.ends(i)
		for j := range base {
			a, b := s.at(base[j], 0).dot(d), s.at(lid[j], s.height).dot(d)
			lo, hi = min(lo, a, b), max(hi, a, b)
		}
	}
	return lo, hi
}

// letters finds for each letter a point of one of its parts that is in sight,
// as far as can be from what hides or ends it. Letters of which nothing is in
// sight get no balloon.
func letters(all []solid, faces []facet, c camera, sides []Side) []Balloon {
	ps := panes(faces, c)
	edge := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} // W, H hold the far corner here
	for _, p := range ps {
		edge = Rect{min(edge.X, p.x0), min(edge.Y, p.y0), max(edge.W, p.x1), max(edge.H, p.y1)}
	}
	edge.W, edge.H = edge.W-edge.X, edge.H-edge.Y
	seenAt := map[string]Pt{}
	bestN := map[string]float64{}
	var order []string
	for _, f := range faces {
		if f.n.dot(c.toward) < 0.05 {
			continue
		}
		letter := all[f.of].part.Letter
		if letter == "" {
			continue
		}
		own := panes([]facet{f}, c)
		if len(own) == 0 {
			continue
		}
		at, worth := insight(&own[0], ps, edge, sides)
		if worth <= 0 {
			continue
		}
		if _, ok := seenAt[letter]; !ok {
			order = append(order, letter)
		}
		if worth > bestN[letter]*1.0001 {
			seenAt[letter], bestN[letter] = at, worth
		}
	}
	var out []Balloon
	for _, l := range order {
		out = append(out, Balloon{l, seenAt[l]})
	}
	return out
}

// insight samples a face on a grid and gives a visible point well within what
// is visible, of those the nearest to the edge of the drawing, so that leaders
// are short; and how much of the face is visible.
func insight(f *pane, ps []pane, edge Rect, sides []Side) (Pt, float64) {
	const n = 9
	var seen [n + 2][n + 2]bool
	dx, dy := (f.x1-f.x0)/n, (f.y1-f.y0)/n
	at := func(i, j int) Pt { return Pt{f.x0 + dx*(float64(i)-0.5), f.y0 + dy*(float64(j)-0.5)} }
	count := 0.0
	for i := 1; i <= n; i++ {
		for j := 1; j <= n; j++ {
			q := at(i, j)
			if !f.covers(q) {
				continue
			}
			d := f.c0 + f.cx*q.X + f.cy*q.Y
			free := true
			for k := range ps {
				if p := &ps[k]; p.near > d+nearer && p.covers(q) && p.c0+p.cx*q.X+p.cy*q.Y > d+nearer {
					free = false
					break
				}
			}
			if free {
				seen[i][j] = true
				count++
			}
		}
	}
	if count == 0 {
		return Pt{}, 0
	}
	rooms := map[[2]int]float64{}
	most := 0.0
	for i := 1; i <= n; i++ {
		for j := 1; j <= n; j++ {
			if !seen[i][j] {
				continue
			}
			room := math.Inf(1)
			for k := range n + 2 {
				for l := range n + 2 {
					if !seen[k][l] {
						room = min(room, math.Hypot(float64(k-i)*dx, float64(l-j)*dy))
					}
				}
			}
			rooms[[2]int{i, j}] = room
			most = max(most, room)
		}
	}
	// In a narrow face keep to the middle; in a wide one 30 mm are enough.
	need := min(0.75*most, 30)
	best, where := math.Inf(1), Pt{}
	for i := 1; i <= n; i++ {
		for j := 1; j <= n; j++ {
			if room, ok := rooms[[2]int{i, j}]; !ok || room < need {
				continue
			}
			q := at(i, j)
			if d := toEdge(q, edge, sides); d < best-1e-6 {
				best, where = d, q
			}
		}
	}
	return where, count * dx * dy
}

// toEdge is the distance from q to the nearest of the sides of r; y runs up.
func toEdge(q Pt, r Rect, sides []Side) float64 {
	all := [4]float64{Below: q.Y - r.Y, LeftOf: q.X - r.X, Above: r.Bottom() - q.Y, RightOf: r.Right() - q.X}
	if len(sides) == 0 {
		return min(all[0], all[1], all[2], all[3])
	}
	d := math.Inf(1)
	for _, s := range sides {
		d = min(d, all[s])
	}
	return d
}
