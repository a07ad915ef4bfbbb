package papers

import (
	"slices"

	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// keep remembers a drawing for the single files.
func (s *set) keep(name string, v drawing.View) drawing.View {
	s.views = append(s.views, namedView{name, v})
	return v
}

// extent is where a part stands, at one of its places.
func extent(p build.Part, at build.Place) geom.Bounds3 {
	f := at.Frame
	if p.Bent == nil {
		return geom.Box{Frame: f, X: p.Length.Size, Y: p.Width.Size, Z: p.Thickness.Size}.Bounds()
	}
	b := p.Bent.Profile.Bounds()
	var all []geom.Vec
	for _, q := range []geom.Point{b.Min, b.Max} {
		for _, z := range []unit.Length{0, p.Width.Size} {
			all = append(all, f.At(q.X, q.Y, z))
		}
	}
	return geom.BoundsOf(all...)
}

// stops gathers the places at which a chain of dimensions is broken.
type stops []unit.Length

func (s *stops) add(ls ...unit.Length) { *s = append(*s, ls...) }

// chain is the chain through the stops from lo to hi, or none when there is
// nothing between the two, or more than can be read.
func (s stops) chains(side drawing.Side, lo, hi unit.Length) []drawing.Chain {
	all := append(stops{lo, hi}, s...)
	slices.Sort(all)
	all = slices.DeleteFunc(slices.Compact(all), func(l unit.Length) bool { return l < lo || l > hi })
	overall := drawing.ChainOf(side, lo, hi)
	if len(all) < 3 || len(all) > 16 {
		return []drawing.Chain{overall}
	}
	return []drawing.Chain{drawing.ChainOf(side, all...), overall}
}

// layers are the depths at which frame, case, back and fronts begin and end.
func (s *set) layers() (out stops, lo, hi unit.Length) {
	roles := []build.Role{build.RoleStile, build.RoleShell, build.RoleSide, build.RoleBack, build.RoleFront, build.RoleDoor}
	first := true
	for _, p := range s.p.Model.Parts {
		if !slices.Contains(roles, p.Role) {
			continue
		}
		for _, at := range p.Places {
			b := extent(p, at)
			out.add(b.Min.Y, b.Max.Y)
			if first {
				lo, hi, first = b.Min.Y, b.Max.Y, false
			}
			lo, hi = min(lo, b.Min.Y), max(hi, b.Max.Y)
		}
	}
	if first {
		return nil, 0, s.p.Model.Outside.Y
	}
	return out, lo, hi
}

// cuts are the sections that show the piece: through each kind of column from
// front to back, through a row level, and across the case.
func (s *set) cuts() []drawing.View {
	m, o := s.p.Model, s.draw
	if len(m.Parts) == 0 {
		return nil
	}
	depth, y0, y1 := s.layers()
	var out []drawing.View
	add := func(name, title string, v drawing.View) {
		v.Title = title
		out = append(out, s.keep(name, v))
	}
	for i, op := range s.columns() {
		v := drawing.Section(m, drawing.AcrossX, op.X+op.Width.Size/2, o)
		var zs stops
		for _, q := range m.Openings {
			if q.X == op.X && q.Width.Size == op.Width.Size {
				zs.add(q.Z, q.Z+q.Height.Size)
			}
		}
		v.Chains = append(depth.chains(drawing.Below, y0, y1), zs.chains(drawing.LeftOf, 0, m.Outside.Z)...)
		title := "Section through " + op.Name
		if len(m.Openings) < 2 {
			title = "Section from front to back"
		}
		add("section-"+string(rune('a'+i)), title, v)
	}
	z, title := m.Outside.Z/2, "Section, level"
	var xs stops
	if len(m.Openings) > 0 {
		op := m.Openings[0]
		z, title = op.Z+op.Height.Size/2, "Level section through "+op.Name
		for _, q := range m.Openings {
			if q.Z <= z && z <= q.Z+q.Height.Size {
				xs.add(q.X, q.X+q.Width.Size)
			}
		}
	}
	level := drawing.Section(m, drawing.AcrossZ, z, o)
	level.Chains = append(xs.chains(drawing.Below, 0, m.Outside.X), depth.chains(drawing.LeftOf, y0, y1)...)
	add("section-level", title, level)
	if len(m.Bends) > 0 {
		across := drawing.Section(m, drawing.AcrossY, (y0+y1)/2, o)
		zs := s.heights()
		across.Chains = append(stops(nil).chains(drawing.Below, 0, m.Outside.X), zs.chains(drawing.LeftOf, 0, m.Outside.Z)...)
		add("section-across", "Section across the shell", across)
	}
	return out
}

// heights are where shell and sides begin and end above the floor.
func (s *set) heights() (out stops) {
	for _, p := range s.p.Model.Parts {
		if p.Role != build.RoleShell && p.Role != build.RoleSide {
			continue
		}
		for _, at := range p.Places {
			b := extent(p, at)
			out.add(b.Min.Z, b.Max.Z)
		}
	}
	if len(out) > 0 { // only the ends of the whole
		out = stops{slices.Min(out), slices.Max(out)}
	}
	return out
}

// columns are openings that stand for the kinds of columns: the first of each
// width and fill.
func (s *set) columns() []build.Opening {
	type kind struct {
		w    unit.Length
		fill string
	}
	seen := map[kind]bool{}
	var out []build.Opening
	for _, op := range s.p.Model.Openings {
		k := kind{op.Width.Size, op.Fill}
		if !seen[k] && len(out) < 3 {
			seen[k] = true
			out = append(out, op)
		}
	}
	if len(out) == 0 {
		out = append(out, build.Opening{Width: build.Dim{Size: s.p.Model.Outside.X}})
	}
	return out
}
