package papers

import (
	"reflect"
	"slices"

	"casewright/internal/drawing"
	"casewright/internal/plan"
)

// Changed names the papers of the new plan that do not read as they did, in
// the order of the work, and after them those that are no longer there. A
// paper is named as on its sheets, such as "Yard: what to buy". Revision and
// number of pages are not looked at: they change on every sheet with every
// edit, and nothing is built by them. The error is about the options.
func Changed(before, after plan.Plan, opt Options) ([]string, error) {
	old, err := bodies(before, opt)
	if err != nil {
		return nil, err
	}
	now, err := bodies(after, opt)
	if err != nil {
		return nil, err
	}
	out := []string{}
	for _, b := range now {
		i := slices.IndexFunc(old, func(a body) bool { return a.title == b.title })
		if i < 0 || !reflect.DeepEqual(old[i], b) {
			out = append(out, b.title)
		}
	}
	for _, a := range old {
		if !slices.ContainsFunc(now, func(b body) bool { return a.title == b.title }) {
			out = append(out, a.title)
		}
	}
	return out, nil
}

// body is what stands on the pages of one paper.
type body struct {
	title string
	pages []page
	heads []drawing.TitleBlock
}

func bodies(p plan.Plan, opt Options) ([]body, error) {
	s, err := newSet(p, opt)
	if err != nil {
		return nil, err
	}
	s.compose()
	var out []body
	for _, pg := range s.pages {
		title := pg.place.title() + ": " + pg.name
		if n := len(out); n == 0 || out[n-1].title != title {
			out = append(out, body{title: title})
		}
		last := &out[len(out)-1]
		last.pages = append(last.pages, *pg)
		head := s.title(title, pg.scale, 0, 0)
		head.Revision = ""
		last.heads = append(last.heads, head)
	}
	return out, nil
}
