package route

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/unit"
)

// square is what diagonals an assembly is checked by: where to take them, the
// mean of the widths between the marks above and below, and the height. A
// width of 0: none can be foretold.
type square struct {
	w, h    unit.Length
	between string
}

// squareOf is the check of an assembly that stands within lo and hi.
func (m *maker) squareOf(letters []string, lo, hi [3]float64) square {
	s := square{w: unit.MM(hi[0] - lo[0]), h: unit.MM(hi[2] - lo[2])}
	over, round := m.proud(letters), m.tangents(letters)
	switch {
	case len(round) > 0:
		return m.roundSquare(s, round, lo, hi)
	case over[0] > 0 || over[1] > 0: // glued up square and too large, trimmed later
		s.w, s.h = s.w+over[0], s.h+over[1]
		s.between = "the corners of the stiles as they are sawn, square and still proud"
	}
	return s
}

// proud is by how much a frame stands over its finished width and height until
// it is trimmed.
func (m *maker) proud(letters []string) [2]unit.Length {
	for _, l := range letters {
		if p := m.parts[l]; p.Role == build.RoleStile && p.Oversize.Length > 0 {
			return [2]unit.Length{2 * p.Oversize.Width, p.Oversize.Length}
		}
	}
	return [2]unit.Length{}
}

// tangents are where the bends of shells begin and end, as X and Z in
// millimetres: two for each bend.
func (m *maker) tangents(letters []string) [][2]float64 {
	var out [][2]float64
	for _, l := range letters {
		p := m.parts[l]
		if p.Bent == nil {
			continue
		}
		for _, at := range p.Places {
			for i, v := range p.Bent.Profile {
				if v.Bulge == 0 || i+1 >= len(p.Bent.Profile) {
					continue
				}
				for _, e := range p.Bent.Profile[i : i+2] {
					q := at.Frame.At(e.X, e.Y, 0)
					out = append(out, [2]float64{q.X.MM(), q.Z.MM()})
				}
			}
		}
	}
	return out
}

// roundSquare takes the diagonals of a shell, whose corners are not there,
// between marks: above and below, as far in from both sides as its bends
// begin. The marks make an even trapezoid, so both diagonals are alike, and
// racked by so much they differ as those of a rectangle of the mean width.
func (m *maker) roundSquare(s square, round [][2]float64, lo, hi [3]float64) square {
	const near = 0.5  // millimetres
	var in [2]float64 // below, above
	for i := 0; i < len(round); i += 2 {
		ends, flat := round[i:i+2], 0
		for _, e := range ends {
			below, above := e[1]-lo[2] < near, hi[2]-e[1] < near
			if below || above {
				k := 0
				if above {
					k = 1
				}
				in[k] = max(in[k], min(e[0]-lo[0], hi[0]-e[0]))
				flat++
			} else if e[0]-lo[0] < near || hi[0]-e[0] < near {
				flat += 2
			}
		}
		if flat != 3 { // not from one side round to the next: a free profile
			return square{between: "No rectangle: hold the ends against the full-size drawing of the profile, in front and behind."}
		}
	}
	mean := hi[0] - lo[0] - in[0] - in[1]
	if mean < (hi[0]-lo[0])/4 { // hardly a straight between the bends
		return square{between: "No corner and hardly a straight to measure from: take two sizes that mirror each other; both must agree."}
	}
	s.w = unit.MM(mean)
	side := func(where string, in float64) string {
		if in == 0 {
			return where + " at the corners"
		}
		return fmt.Sprintf("%s %s from either side", where, m.Show(unit.MM(in)))
	}
	s.between = fmt.Sprintf("marks on the edges, %s and %s, where the bends begin", side("above", in[1]), side("below", in[0]))
	return s
}

// boxSquare is the outside of the widest drawer box: where ends stand between
// the sides, they do not show how wide it is.
func (m *maker) boxSquare() (w, d unit.Length) {
	for _, o := range m.Model.Openings {
		var lo, hi [3]float64
		n := 0
		for _, l := range m.roles(build.RoleBoxSide, build.RoleBoxEnd) {
			p := m.parts[l]
			for _, at := range p.Places {
				if at.Name != o.Name && !strings.HasPrefix(at.Name, o.Name+" ") {
					continue
				}
				a, b := extent(p, at)
				if n++; n == 1 {
					lo, hi = a, b
				}
				for k := range 3 {
					lo[k], hi[k] = min(lo[k], a[k]), max(hi[k], b[k])
				}
			}
		}
		if n > 1 && unit.MM(hi[0]-lo[0]) > w {
			w, d = unit.MM(hi[0]-lo[0]), unit.MM(hi[1]-lo[1])
		}
	}
	return w, d
}
