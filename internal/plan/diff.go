package plan

import (
	"reflect"
	"slices"
)

// Kind says what sort of thing changed.
type Kind string

// The kinds.
const (
	Size    Kind = "size"
	Count   Kind = "count"
	Money   Kind = "money"
	Time    Kind = "time"
	Mass    Kind = "mass"
	Setting Kind = "setting"
	Found   Kind = "finding"
	Paper   Kind = "paper"
	Text    Kind = "text"
)

// Change is one thing that differs between two plans. Old is empty for what
// has come, New for what is gone; both are printed in the units of the piece,
// lengths in the other system beside them.
type Change struct {
	Where    string `json:"where"` // place of work
	About    string `json:"about"` // the thing, such as "part C side"
	What     string `json:"what"`  // what of it, such as "part C side, length"
	Path     string `json:"path"`  // stays the same from plan to plan
	Kind     Kind   `json:"kind"`
	Old      string `json:"old,omitempty"`
	OldOther string `json:"old_other,omitempty"`
	New      string `json:"new,omitempty"`
	NewOther string `json:"new_other,omitempty"`
	Why      string `json:"why,omitempty"` // the figure it follows from, where its sum shows one
}

// Group is the changes at one place of work.
type Group struct {
	Where   string       `json:"where"`
	Count   int          `json:"count"`
	Kinds   map[Kind]int `json:"kinds"`
	Changes []Change     `json:"changes"`
}

// The places of work, in the order of the work.
var places = []string{"desk", "yard", "saw", "bench", "glue-up", "finish", "delivery"}

// Diff is every figure and every word of a plan that is another in the new
// one, in the order of the work. Inputs are not among them, nor what only
// says a thing a second time (see derived). Things are matched by what they
// are: a part by role, name and place, for its letter may pass to another.
func Diff(before, after Plan) []Change {
	d := newDiffer(before, after)
	d.walk(spot{}, reflect.ValueOf(before), reflect.ValueOf(after))
	slices.SortStableFunc(d.out, func(a, b Change) int {
		return slices.Index(places, a.Where) - slices.Index(places, b.Where)
	})
	return d.out
}

// Grouped gathers changes by place of work; a place without any is left out.
func Grouped(all []Change) []Group {
	out := []Group{}
	for _, where := range places {
		g := Group{Where: where, Kinds: map[Kind]int{}}
		for _, c := range all {
			if c.Where == where {
				g.Changes = append(g.Changes, c)
				g.Kinds[c.Kind]++
			}
		}
		if g.Count = len(g.Changes); g.Count > 0 {
			out = append(out, g)
		}
	}
	return out
}

// place is where the thing at a path of the plan, without keys, is worked on.
func placeOf(path string) string {
	for _, p := range pathPlaces {
		if path == p.path || len(path) > len(p.path) && path[:len(p.path)] == p.path && path[len(p.path)] == '.' {
			return p.where
		}
	}
	return "desk"
}

// pathPlaces names the first that fits.
var pathPlaces = []struct{ path, where string }{
	{"model.parts.kerfs", "saw"},
	{"model.parts.features", "bench"},
	{"model.parts.places", "bench"},
	{"model.parts.rough", "yard"},
	{"model.joints", "bench"},
	{"model.hardware", "bench"},
	{"model.screws", "bench"},
	{"model.bends", "saw"},
	{"panels", "yard"},
	{"woods", "yard"},
	{"buying", "yard"},
	{"setups", "saw"},
	{"fit", "bench"},
	{"route.sticks", "saw"},
	{"route.glue_ups", "glue-up"},
	{"route.finishes", "finish"},
}

// derived is what is not compared, since it says again what is compared
// elsewhere, or is not part of the answer.
var derived = map[string]string{
	"format":   "version of the file",
	"revision": "a mark over the inputs",
	"piece":    "input",
	"shop":     "input",
	"record":   "input",

	"model.findings":                   "among the findings of the plan",
	"model.bends.design.bend.findings": "among the findings of the plan",
	"fit.findings":                     "among the findings of the plan",
	"route.findings":                   "among the findings of the plan",
	"price.findings":                   "among the findings of the plan",

	"findings.path": "follows from the place",
	"findings.doc":  "follows from the place",
	"findings.fix":  "does what the advice says",

	"panels.job":           "sizes are those of the parts, panels those of the shop",
	"panels.letters":       "the parts of the job",
	"panels.result":        "compared layout by layout, see layouts",
	"woods.job":            "sizes are those of the rough parts, boards those of the shop",
	"woods.letters":        "the parts of the job",
	"woods.result":         "compared layout by layout, see layouts",
	"model.parts.letter":   "said once, with the part",
	"model.bends.part":     "letter of its part",
	"model.openings.front": "letter of its front",
	"model.openings.box":   "a sentence of the widths and sizes of the box",

	"model.parts.kerfs.bend": "number of a bend; the group is matched by its name",
	"setups.part":            "letter of a part; the settings are matched by it",
	"setups.setups.n":        "number in the order; a change of order is said",
	"setups.setups.parts":    "the letters that its cuts give",
	"setups.setups.check":    "size of a part that comes off",
	"route.steps.n":          "number in the order; a change of order is said",
	"route.steps.after":      "numbers of steps, from what they use",
	"route.steps.start":      "said with the end, see step",
	"route.steps.end":        "said with the start, see step",
	"route.steps.ready":      "said with the start, see step",
	"route.glue_ups.step":    "number of its step",
	"route.finishes.sanding": "number of its step",
	"route.finishes.steps":   "numbers of its steps",
	"model.bends.spec":       "the bend as asked for; figures of the bend say what came of it",
}
