package record

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/unit"
)

func (v *Record) rules() document.Problems {
	var r document.Rules
	size := func(l unit.Length) string { return l.Exact(v.Units) }
	for i, b := range v.TestBends {
		if b.Thickness > 0 && b.Skin >= b.Thickness {
			path := fmt.Sprintf("test-bends[%d].skin", i)
			r.Say(path, "%s is %s, not less than the thickness of %s. Measure the skin again, at the bottom of a kerf.", path, size(b.Skin), size(b.Thickness))
		}
	}
	seen := map[string]int{}
	for i, o := range v.Openings {
		path := fmt.Sprintf("openings[%d]", i)
		if j, twice := seen[o.Opening]; twice && o.Opening != "" {
			r.Say(path, "%s measures %s, as openings[%d] does. Leave one of them out.", path, o.Opening, j)
		}
		seen[o.Opening] = i
		count(&r, path+".widths", len(o.Widths), 3, "at top, middle and bottom", true)
		count(&r, path+".heights", len(o.Heights), 3, "at left, middle and right", true)
		count(&r, path+".diagonals", len(o.Diagonals), 2, "from top left and from top right", false)
		count(&r, path+".corners", len(o.Corners), 4, "at top left, top right, bottom right and bottom left", false)
	}
	cut := map[string]int{}
	for i, c := range v.Cut {
		if j, twice := cut[c.Part]; twice && c.Part != "" {
			path := fmt.Sprintf("cut[%d]", i)
			r.Say(path, "%s is part %s, as cut[%d] is. Add their counts in one of them.", path, c.Part, j)
		}
		cut[c.Part] = i
	}
	blanks := map[string]int{}
	for i, c := range v.Blanks {
		if j, twice := blanks[c.Part]; twice && c.Part != "" {
			path := fmt.Sprintf("blanks[%d]", i)
			r.Say(path, "%s is part %s, as blanks[%d] is. Add their counts in one of them.", path, c.Part, j)
		}
		blanks[c.Part] = i
	}
	changes(&r, v)
	return r.Problems
}

// count says that a list has not as many sizes as places are measured.
func count(r *document.Rules, path string, have, want int, where string, need bool) {
	if have == want || (have == 0 && !need) {
		return
	}
	r.Say(path, "%s has %s; it takes %d: %s. Measure all of them.", path, document.Count(have, "size"), want, where)
}
