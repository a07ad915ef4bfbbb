package drawing

import (
	"math"

	"casewright/internal/build"
)

// The slanting view: from the front, the right and above. The three axes are
// foreshortened unlike, so that no two edges of a case fall on each other.
var slanting = func() camera {
	az, el := 30*math.Pi/180, 22*math.Pi/180
	return look(vec{math.Sin(az) * math.Cos(el), -math.Cos(az) * math.Cos(el), math.Sin(el)}, vec{0, 0, 1})
}()

// Exploded is the model seen aslant with its parts pulled apart along the ways
// they go together, lettered. apart is how far, 1 being clear of each other, 0
// together.
func Exploded(m build.Model, o Options, apart float64) View {
	all := inSight(m)
	for i := range all {
		d := pull(m, all[i]).times(apart)
		all[i].origin = all[i].origin.add(d)
	}
	var faces []facet
	var rims []rim
	for i, s := range all {
		faces, rims = s.shape(i, slanting.toward, faces, rims)
	}
	rims = append(rims, meets(ofParts(all, faces))...)
	v := View{
		Title:   "Parts pulled apart",
		Items:   seeLines(faces, rims, slanting, false).items(PenOutline, PenThin),
		NoScale: true,
	}
	if o.Live {
		v.Picks = picks(all, faces, slanting)
	}
	if o.Letters {
		v.Balloons = letters(all, faces, slanting, nil)
	}
	return v
}

// Aslant is the model together, seen aslant.
func Aslant(m build.Model, o Options) View {
	v := Exploded(m, o, 0)
	v.Title = "The piece"
	return v
}

// pull is the way a part comes out of the assembled piece, in millimetres.
func pull(m build.Model, s solid) vec {
	w, d, h := m.Outside.X.MM(), m.Outside.Y.MM(), m.Outside.Z.MM()
	mid := s.middle()
	// Which side of the middle a part stands on; near the middle, none.
	side := func(v, whole float64) float64 {
		if t := v/whole - 0.5; math.Abs(t) > 0.08 {
			return sign(t)
		}
		return 0
	}
	x := side(mid.x, w)
	switch s.fixture {
	case build.FixturePull:
		return vec{0, -1.75*d - 0.1*w, 0} // with its front
	case build.FixturePlate:
		return vec{0, 0, -0.15 * h}
	case build.FixtureCaster, build.FixtureFoot:
		return vec{0, 0, -0.3 * h}
	}
	switch s.part.Role {
	case build.RoleFront, build.RoleDoor:
		return vec{0, -1.75*d - 0.1*w, 0}
	case build.RoleBoxSide, build.RoleBoxEnd, build.RoleBoxBottom:
		return vec{0, -1.2*d - 0.05*w, 0}
	case build.RoleStile, build.RoleRail:
		return vec{0, -0.28*d - 0.05*w, 0}
	case build.RoleBack:
		return vec{0, 0.45*d + 0.05*w, 0}
	case build.RoleLeg, build.RolePlinth, build.RoleBlock:
		return vec{0, 0, -0.3 * h}
	case build.RoleTop:
		return vec{0, 0, 0.25 * h}
	case build.RoleBottom:
		return vec{0, 0, -0.12 * h}
	case build.RoleSide:
		return vec{x * 0.3 * w, 0, 0}
	case build.RoleShell:
		return vec{x * 0.16 * w, 0, 0}
	}
	return vec{}
}
