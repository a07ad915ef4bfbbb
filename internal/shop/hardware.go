package shop

import (
	"fmt"
	"slices"

	"casewright/internal/document"
)

// fits lists for each kind of hardware the fields it needs and those that it
// may have besides name, price, pack and rated load.
var fits = map[string]struct{ needs, takes []string }{
	"side-runner":   {[]string{"lengths", "side-min", "side-max"}, []string{"side-thickest", "above", "below", "behind", "parallel", "thickness", "height", "screws", "gauge", "bottom-recess"}},
	"under-runner":  {[]string{"lengths", "inside-less"}, []string{"side-thickest", "above", "below", "behind", "parallel", "bottom-recess", "side-min", "side-max", "screws", "gauge", "height"}},
	"corner-runner": {[]string{"lengths", "side-min", "side-max"}, []string{"side-thickest", "above", "below", "behind", "parallel", "thickness", "height", "screws", "gauge", "bottom-recess"}},
	"wooden-runner": {nil, []string{"lengths", "side-min", "side-max", "above", "below", "behind", "thickness", "width", "height", "screws", "gauge", "bottom-recess"}},
	"cup-hinge":     {[]string{"cup", "cup-depth", "fixed", "setback"}, []string{"boring", "plate", "screws", "gauge"}},
	"pin":           {[]string{"diameter", "depth"}, []string{"length"}},
	"leg-plate":     {[]string{"length", "width", "thickness", "screws"}, []string{"gauge", "diameter", "height"}},
	"caster":        {[]string{"height", "screws"}, []string{"length", "width", "thickness", "wheel", "wheel-width", "gauge", "diameter"}},
	"foot":          {[]string{"height"}, []string{"length", "width", "thickness", "screws", "gauge", "diameter", "depth"}},
	"pull":          {nil, []string{"centres", "diameter", "depth", "length", "width", "thickness", "screws", "gauge", "height"}},
	"screw":         {[]string{"gauge", "length"}, []string{"diameter"}},
	"machine-screw": {[]string{"gauge", "length"}, []string{"diameter"}},
	"dowel":         {[]string{"diameter", "length"}, []string{"depth"}},
	"loose-tenon":   {[]string{"length", "width", "thickness"}, []string{"depth"}},
}

// always are the fields that any hardware may have.
var always = []string{"kind", "name", "price", "pack", "rated-kg"}

func (r *rules) hardware(h Hardware, path string) {
	fit, ok := fits[h.Kind]
	if !ok {
		return // said already: the kind is missing or unknown
	}
	given := document.Given(h)
	for _, name := range fit.needs {
		if !slices.Contains(given, name) {
			r.Say(path+"."+name, "%s.%s is missing: a %s needs it (%s). Write what its box says.", path, name, h.Kind, document.Meaning(h, name))
		}
	}
	for _, name := range given {
		if !slices.Contains(fit.needs, name) && !slices.Contains(fit.takes, name) && !slices.Contains(always, name) {
			r.Say(path+"."+name, "%s.%s does nothing here: a %s has no such size. Leave it out.", path, name, h.Kind)
		}
	}
	if h.SideMax > 0 && h.SideMin > h.SideMax {
		r.Say(path+".side-min", "%s.side-min is %s, more than side-max (%s). Write the lesser of the two as side-min.", path, r.size(h.SideMin), r.size(h.SideMax))
	}
	for i := 1; i < len(h.Lengths); i++ {
		if h.Lengths[i] <= h.Lengths[i-1] {
			at := fmt.Sprintf("%s.lengths[%d]", path, i)
			r.Say(at, "%s is %s, not longer than the one before it (%s). List lengths from the shortest up, each once.", at, r.size(h.Lengths[i]), r.size(h.Lengths[i-1]))
		}
	}
	if (h.Wheel > 0) != (h.WheelWidth > 0) {
		r.Say(path+".wheel", "%s has only one of wheel and wheel-width. Give both, so that the wheel is drawn, or leave both out.", path)
	}
	if h.Kind == "caster" && h.Height > 0 && h.Wheel > h.Height {
		r.Say(path+".wheel", "%s.wheel is %s, but the caster is %s high with its plate. Write the diameter of the wheel alone.", path, r.size(h.Wheel), r.size(h.Height))
	}
	if h.Kind == "pull" && h.Length > 0 && h.Length < h.Centres {
		r.Say(path+".length", "%s.length is %s, less than its holes are apart (%s). Write the length over all.", path, r.size(h.Length), r.size(h.Centres))
	}
	if h.Kind == "loose-tenon" && h.Thickness > 0 && h.Width > 0 && h.Thickness > h.Width {
		r.Say(path+".thickness", "%s.thickness is %s, more than its width (%s). Swap them.", path, r.size(h.Thickness), r.size(h.Width))
	}
}

// Fits are the fields that a kind of hardware needs and those that it may
// have besides, and false for a kind that is not known.
func Fits(kind string) (needs, takes []string, ok bool) {
	f, ok := fits[kind]
	return slices.Clone(f.needs), slices.Clone(f.takes), ok
}
