package scene

import (
	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/geom"
)

// matrix takes the part's axes to the piece's. A mirrored part has its y
// counted from the other long edge, which turns its surface inside out.
func matrix(f geom.Frame, width float64) [12]float64 {
	o := Vec{f.Origin.X.MM(), f.Origin.Y.MM(), f.Origin.Z.MM()}
	u, v, n := vec(f.U), vec(f.V), vec(f.N())
	if f.Mirror {
		for i := range o {
			o[i] += width * v[i]
			v[i] = -v[i]
		}
	}
	var out [12]float64
	for i := range 3 {
		out[i], out[3+i], out[6+i] = fine(u[i]), fine(v[i]), fine(n[i])
		out[9+i] = mm(o[i])
	}
	return out
}

func vec(d geom.Dir) Vec { return Vec{d.X, d.Y, d.Z} }

// mirrored says that a matrix turns surfaces inside out.
func mirrored(m [12]float64) bool {
	return m[0]*(m[4]*m[8]-m[5]*m[7])-m[3]*(m[1]*m[8]-m[2]*m[7])+m[6]*(m[1]*m[5]-m[2]*m[4]) < 0
}

// own brings a place, or with at = 0 a direction, from the piece's axes to
// those of the part. The columns of the matrix are of unit length and square
// to each other.
func own(m [12]float64, p [3]float64, at float64) Vec {
	var out Vec
	for i := range 3 {
		for j := range 3 {
			out[i] += m[3*i+j] * (p[j] - at*m[9+j])
		}
	}
	return out
}

// body adds a part that has a body.
func (m *maker) body(p *build.Part) {
	b := Body{
		Letter: p.Letter, Name: p.Name, Role: string(p.Role), Material: m.plan.Shop.StockCalled(p.Material),
		Solid: p.Solid, Count: p.Count, Note: p.Note,
		Length: m.sized(p.Length), Width: m.sized(p.Width), Thickness: m.sized(p.Thickness),
	}
	switch p.Grain {
	case build.GrainLength:
		b.Grain = []float64{1, 0}
	case build.GrainWidth:
		b.Grain = []float64{0, 1}
	}
	var first *drawing.Body
	for i, at := range p.Places {
		s, ok := m.solids[spotKey{p.Letter, i}]
		if !ok {
			continue
		}
		if first == nil {
			first = &s
		}
		b.Spots = append(b.Spots, Spot{Name: at.Name, Matrix: matrix(at.Frame, p.Width.Size.MM()), ApartMM: Vec(s.Pull).round(), place: i})
	}
	if first == nil {
		return
	}
	if p.Bent != nil && p.Bent.Left {
		b.Strip = m.strip(p)
	} else {
		b.Mesh = mesh(*first, b.Spots[0].Matrix)
	}
	m.out.Bodies = append(m.out.Bodies, b)
}

// mesh is the surface of a body in the axes of its part.
func mesh(b drawing.Body, at [12]float64) *Mesh {
	out := &Mesh{}
	for _, p := range b.Points {
		q := own(at, p, 1).round()
		out.PointsMM = append(out.PointsMM, q[:]...)
	}
	for _, n := range b.Normals {
		for _, v := range own(at, n, 0) {
			out.Normals = append(out.Normals, fine(v))
		}
	}
	inside := mirrored(at)
	for _, t := range b.Triangles {
		if inside {
			t[1], t[2] = t[2], t[1]
		}
		out.Triangles = append(out.Triangles, t[:]...)
	}
	return out
}
