package scene

import (
	"fmt"
	"slices"

	"casewright/internal/build"
)

// Motion is a drawer that comes out or a door that swings.
type Motion struct {
	Kind     string   `json:"kind" enum:"drawer,door"`
	Name     string   `json:"name" doc:"of its opening"`
	Members  []Member `json:"members"`
	Fixtures []int    `json:"fixtures" doc:"hardware that goes with it, by index"`
	TravelMM Vec      `json:"travel_mm" doc:"of a drawer, all the way out"`
	HingeMM  Vec      `json:"hinge_mm" doc:"a point of a door's axis, which is upright"`
	MostRad  float64  `json:"most_rad" doc:"how far a door swings, anticlockwise seen from above"`
}

// Member is one body at one of its spots.
type Member struct {
	Body int `json:"body"`
	Spot int `json:"spot"`
}

// A drawer comes out by the length of its runner, as full extension gives; on
// wooden runners it stays in by a quarter. A door swings by as much as cup
// hinges usually let it. Common practice, no source.
const (
	woodenOut = 0.75
	doorRad   = 1.833 // 105 degrees
)

var boxRoles = []build.Role{build.RoleBoxSide, build.RoleBoxEnd, build.RoleBoxBottom, build.RoleFront}

func (m *maker) motions() {
	m.out.Motions = []Motion{}
	for _, o := range m.plan.Model.Openings {
		switch {
		case o.Fill == "drawer" && o.Drawer != nil:
			m.drawer(o)
		case o.Fill == "door":
			m.doors(o)
		}
	}
}

// members are the bodies of these roles that belong to an opening by their
// names.
func (m *maker) members(o build.Opening, roles ...build.Role) []Member {
	var out []Member
	for i, b := range m.out.Bodies {
		if !slices.Contains(roles, build.Role(b.Role)) {
			continue
		}
		for j, s := range b.Spots {
			if s.Name == o.Name || s.Name == o.Name+" left" || s.Name == o.Name+" right" {
				out = append(out, Member{i, j})
			}
		}
	}
	return out
}

// extentOf is the box round a member, where it stands.
func (m *maker) extentOf(of Member) (lo, hi Vec) {
	b := m.out.Bodies[of.Body]
	return extent(m.solids[spotKey{b.Letter, b.Spots[of.Spot].place}])
}

func (m *maker) drawer(o build.Opening) {
	out := Motion{Kind: "drawer", Name: o.Name, Members: m.members(o, boxRoles...), Fixtures: []int{}}
	if len(out.Members) == 0 {
		return
	}
	travel := o.Drawer.Depth.MM()
	if o.Drawer.Kind == "wooden-runner" {
		travel *= woodenOut
	}
	out.TravelMM = Vec{0, mm(-travel), 0}
	for _, of := range out.Members {
		if m.out.Bodies[of.Body].Role == string(build.RoleFront) {
			out.Fixtures = append(out.Fixtures, m.on(of, "pull")...)
		}
	}
	m.out.Motions = append(m.out.Motions, out)
}

// on are the fixtures of these kinds that sit on a front or a door.
func (m *maker) on(of Member, kinds ...string) []int {
	lo, hi := m.extentOf(of)
	apart := m.out.Bodies[of.Body].Spots[of.Spot].ApartMM
	out := []int{}
	for i := range m.out.Fixtures {
		f := &m.out.Fixtures[i]
		if !slices.Contains(kinds, f.Kind) || f.atMM[0] < lo[0] || f.atMM[0] > hi[0] || f.atMM[2] < lo[2] || f.atMM[2] > hi[2] {
			continue
		}
		f.ApartMM = apart
		out = append(out, i)
	}
	return out
}

// doors are hung on the upright edge that their hinges are nearer to, at the
// show face, so that an open door stands in front of its side.
func (m *maker) doors(o build.Opening) {
	all := m.members(o, build.RoleDoor)
	for i, of := range all {
		lo, hi := m.extentOf(of)
		out := Motion{Kind: "door", Name: o.Name, Members: []Member{of}, Fixtures: m.on(of, "pull", "hinge")}
		if len(all) > 1 {
			out.Name = fmt.Sprintf("%s, door %d", o.Name, i+1)
		}
		left := 0
		for _, k := range out.Fixtures {
			if f := m.out.Fixtures[k]; f.Kind == "hinge" {
				if f.atMM[0] < (lo[0]+hi[0])/2 {
					left++
				} else {
					left--
				}
			}
		}
		out.HingeMM, out.MostRad = Vec{lo[0], lo[1], lo[2]}.round(), -doorRad
		if left < 0 {
			out.HingeMM, out.MostRad = Vec{hi[0], lo[1], lo[2]}.round(), doorRad
		}
		m.out.Motions = append(m.out.Motions, out)
	}
}
