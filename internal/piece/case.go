package piece

import (
	"fmt"
	"slices"

	"casewright/internal/document"
	"casewright/internal/unit"
)

// side is one side of a shell, between two corners.
type side struct {
	name string
	a, b string // corners at its ends
	wide bool   // as long as the case is wide, else as it is high
}

var sides = []side{
	{"top", "top-left", "top-right", true},
	{"bottom", "bottom-left", "bottom-right", true},
	{"left", "top-left", "bottom-left", false},
	{"right", "top-right", "bottom-right", false},
}

// Sides are the sides that a closed, U or L shell has.
func (c *Case) Sides() []string {
	var out []string
	for _, s := range sides {
		switch {
		case c.Shape == "u" && s.name == c.Open, c.Shape == "l" && s.a != c.Corner && s.b != c.Corner:
		default:
			out = append(out, s.name)
		}
	}
	return out
}

// bent says that a corner lies between two sides of the shell.
func (c *Case) bent(corner string) bool {
	n := 0
	for _, s := range sides {
		if (s.a == corner || s.b == corner) && slices.Contains(c.Sides(), s.name) {
			n++
		}
	}
	return n == 2
}

// RadiusAt is the outside radius of a corner of a closed, U or L shell, 0
// where it has no bend.
func (c *Case) RadiusAt(corner string) unit.Length {
	if !c.bent(corner) {
		return 0
	}
	if r, ok := c.Radii[corner]; ok {
		return r
	}
	return c.Radius
}

// corners are the four corners in a fixed order.
var corners = []string{"top-left", "top-right", "bottom-right", "bottom-left"}

func (r *rules) shell(c *Case) {
	r.wants(c.Shape != "", "case.shape", "a shell is closed, u, l or free")
	r.wants(c.Skin > 0, "case.skin", "it says how much wood is left under a kerf")
	r.idle(c.Through != "" && c.Through != "sides", "case.through", "it is for a carcass")
	r.idle(len(c.Joints) > 0, "case.joints", "they are for a carcass; the shell has seams")
	r.idle(c.Top != nil, "case.top", "it is for a carcass")
	if c.Shape == "free" {
		r.free(c)
		return
	}
	r.idle(len(c.Profile) > 0, "case.profile", "it is for shape free")
	r.wants(c.Width > 0, "case.width", "it cannot follow from anything else")
	r.wants(c.Height > 0, "case.height", "it cannot follow from anything else")
	if c.Shape != "u" {
		r.idle(c.Open != "" && c.Open != "bottom", "case.open", "only a U has an open side")
	}
	if c.Shape != "l" {
		r.idle(c.Corner != "" && c.Corner != "bottom-left", "case.corner", "only an L has one corner")
	}
	if c.Shape == "" {
		return
	}
	r.radii(c)
	r.seams(c)
}

func (r *rules) radii(c *Case) {
	missing := false
	for _, at := range corners {
		given := c.Radii[at]
		if !c.bent(at) {
			r.idle(given > 0, "case.radii."+at, "the shell has no bend there")
			continue
		}
		missing = missing || c.RadiusAt(at) == 0
		if rad := c.RadiusAt(at); rad > 0 && rad <= c.Skin {
			path := "case.radius"
			if given > 0 {
				path = "case.radii." + at
			}
			r.Say(path, "%s is %s, not more than the skin of %s. Write a larger radius or a thinner skin.", path, r.size(rad), r.size(c.Skin))
			break
		}
	}
	r.wants(!missing, "case.radius", "the corners of a shell are round")
	for _, s := range sides {
		long := c.Height
		if s.wide {
			long = c.Width
		}
		ra, rb := c.RadiusAt(s.a), c.RadiusAt(s.b)
		if long > 0 && ra+rb > long && slices.Contains(c.Sides(), s.name) {
			r.Say("case.radius", "The bends of %s and %s do not fit on the %s, which is %s long. Write smaller radii; together they may take %s.",
				r.size(ra), r.size(rb), s.name, r.size(long), r.size(long))
			return
		}
	}
}

func (r *rules) seams(c *Case) {
	for i, s := range c.Seams {
		path := fmt.Sprintf("case.seams[%d]", i)
		r.seam(s, path)
		if c.Shape == "free" || s.At == "" {
			continue
		}
		if !slices.Contains(c.Sides(), s.At) {
			r.Say(path+".at", "%s.at is %s, but the shell has no such side. It can be %s.", path, s.At, document.Either(c.Sides()))
			continue
		}
		for _, sd := range sides {
			long := c.Height
			if sd.wide {
				long = c.Width
			}
			reach := long/2 - min(c.RadiusAt(sd.a), c.RadiusAt(sd.b))
			if sd.name == s.At && reach > 0 && s.Offset.Abs() > reach {
				r.Say(path+".offset", "%s.offset is %s, which takes the seam off the flat of the %s. Keep it within %s.",
					path, r.size(s.Offset), s.At, r.size(reach))
			}
		}
		for j := range c.Seams[:i] {
			if c.Seams[j].At == s.At && c.Seams[j].Offset == s.Offset {
				r.Say(path, "%s lies where case.seams[%d] lies. Leave one of them out.", path, j)
			}
		}
	}
}

func (r *rules) seam(s Seam, path string) {
	if s.Joint == "strip" {
		r.wants(s.Strip > 0, path+".strip", "a let-in strip needs a width")
	} else {
		r.idle(s.Strip > 0, path+".strip", "only joint strip lets one in")
	}
}

func (r *rules) free(c *Case) {
	const why = "the size of a free shape follows from its profile"
	r.idle(c.Width > 0, "case.width", why)
	r.idle(c.Height > 0, "case.height", why)
	r.idle(c.Radius > 0, "case.radius", "each bend of a free shape has its own")
	r.idle(len(c.Radii) > 0, "case.radii", "each bend of a free shape has its own")
	flats, bends := 0, 0
	for i, l := range c.Profile {
		path := fmt.Sprintf("case.profile[%d]", i)
		switch {
		case l.Flat > 0 && l.Bend != 0:
			r.Say(path, "%s has a flat and a bend. Make two legs of them.", path)
		case l.Flat > 0:
			flats++
			r.idle(l.Radius > 0, path+".radius", "a flat has none")
			r.idle(l.Kerfs != "", path+".kerfs", "a flat has none")
		case l.Bend != 0:
			bends++
			r.wants(l.Radius > 0, path+".radius", "a bend needs one")
			if l.Radius > 0 && l.Radius <= c.Skin {
				r.Say(path+".radius", "%s.radius is %s, not more than the skin of %s. Write a larger radius or a thinner skin.", path, r.size(l.Radius), r.size(c.Skin))
			}
		default:
			r.Say(path, "%s has neither a flat nor a bend. Give one of them.", path)
		}
	}
	if len(c.Profile) == 0 {
		r.wants(false, "case.profile", "a free shape is made of flats and bends in order")
	} else if flats == 0 || bends == 0 {
		r.Say("case.profile", "case.profile has %d flats and %d bends. It needs at least one of each.", flats, bends)
	}
	r.seams(c)
}

func (r *rules) carcass(c *Case) {
	const why = "it is for a shell"
	r.wants(c.Width > 0, "case.width", "it cannot follow from anything else")
	r.wants(c.Height > 0, "case.height", "it cannot follow from anything else")
	r.idle(c.Shape != "", "case.shape", why)
	r.idle(c.Radius > 0, "case.radius", why)
	r.idle(len(c.Radii) > 0, "case.radii", why)
	r.idle(len(c.Profile) > 0, "case.profile", why)
	r.idle(c.Skin > 0, "case.skin", why)
	r.idle(c.Kerfs > 0, "case.kerfs", why)
	r.idle(c.Form, "case.form", why)
	r.idle(len(c.Seams) > 0, "case.seams", why)
}
