package build

import (
	"fmt"
	"slices"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/record"
)

// doubtCut looks at what the record has as cut that this piece cannot have so:
// parts that are none of it, more than it takes, and openings in which they do
// not stand. All of these would count for nothing.
func (b *builder) doubtCut() {
	for i, c := range b.record.Cut {
		place := fmt.Sprintf("record.cut[%d]", i)
		parts, need := b.known(c.Part)
		if len(parts) == 0 {
			var letters []string
			for _, p := range b.m.Parts {
				letters = append(letters, p.Letter)
			}
			b.note(finding.Finding{
				ID: "cut-unknown", Level: finding.Care, Place: place,
				Says:   fmt.Sprintf("The record has %d of %s as cut, which is no part of this piece, so it counts for nothing.", c.Count, c.Part),
				Source: "the record", Advice: "Name the part by its letter, one of: " + join(letters) + "; or take the entry out",
			})
			continue
		}
		name := c.Part + " " + parts[0].Name
		if c.Count > need {
			b.note(finding.Finding{
				ID: "cut-more", Level: finding.Care, Place: place,
				Says:   fmt.Sprintf("The record has %d of %s as cut; all in all %d are wanted, so %d count for nothing.", c.Count, name, need, c.Count-need),
				Figure: fmt.Sprint(c.Count), Limit: fmt.Sprint(need), Source: "the record",
				Advice: fmt.Sprintf("Count them again and look at their letters. Write down %d if they are right; spares are not counted here", need),
			})
		}
		b.doubtFor(c, name, place, parts)
	}
}

// known are the parts of a letter, now or as planned, and how many of them all
// pieces take.
func (b *builder) known(letter string) (parts []Part, need int) {
	for _, p := range b.m.Parts {
		if p.Letter == letter || b.planned[p.Letter] == letter {
			parts = append(parts, p)
			need += p.Count * max(1, b.piece.Count)
		}
	}
	return parts, need
}

// doubtFor looks at the openings that parts are said to be cut for.
func (b *builder) doubtFor(c record.Cut, part, place string, parts []Part) {
	var stands []string
	for _, o := range b.m.Openings {
		if slices.ContainsFunc(parts, func(p Part) bool { return slices.Contains(b.openingsOf(p), o.Name) }) {
			stands = append(stands, o.Name)
		}
	}
	for k, name := range c.For {
		if slices.Contains(stands, name) {
			continue
		}
		advice := "Leave for out of the entry: the part stands in no opening"
		if len(stands) > 0 {
			advice = "Name one of: " + join(stands) + "; or leave for out, then openings that were not measured come first"
		}
		b.note(finding.Finding{
			ID: "cut-for", Level: finding.Care, Place: fmt.Sprintf("%s.for[%d]", place, k),
			Says:   fmt.Sprintf("The record has %s of %s cut for %q, where none stands.", document.Count(c.Count, "piece"), part, name),
			Source: "the record", Advice: advice,
		})
	}
}
