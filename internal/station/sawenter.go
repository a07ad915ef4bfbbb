package station

import (
	"fmt"
	"slices"

	"casewright/internal/build"
	"casewright/internal/record"
)

// blankMark sets a blank apart from the part that comes out of it.
const blankMark = "blank "

// ready says that all cuts of a part are ticked.
func (b *sawPage) ready(among []string, mark, letter string) bool {
	return slices.Contains(among, letter) && b.off[mark+letter] == b.of[mark+letter]
}

// enter offers to put the parts whose cuts are all ticked into the record, and
// the blanks that lie there then.
func (b *sawPage) enter() *SawEnter {
	r := b.plan.Record
	out := &SawEnter{Changes: []DocChange{}}
	var names []string
	for _, part := range b.plan.Model.Parts {
		want := part.Count * max(1, b.plan.Piece.Count)
		if !b.ready(b.parts, "", part.Letter) {
			continue
		}
		at := slices.IndexFunc(r.Cut, func(c record.Cut) bool { return c.Part == part.Letter })
		if at >= 0 && r.Cut[at].Count >= want {
			continue
		}
		if at < 0 {
			out.Changes = append(out.Changes, DocChange{Path: fmt.Sprintf("cut[%d]", len(r.Cut)), Do: "insert", Value: fmt.Sprintf("{part: %s, count: %d}", part.Letter, want)})
			r.Cut = append(slices.Clip(r.Cut), record.Cut{Part: part.Letter, Count: want})
		} else {
			out.Changes = append(out.Changes, DocChange{Path: fmt.Sprintf("cut[%d].count", at), Do: "set", Value: fmt.Sprint(want)})
		}
		names = append(names, fmt.Sprintf("%d × %s", want, part.Letter))
	}
	more, blanks := b.lying(r.Blanks)
	out.Changes = append(out.Changes, more...)
	if len(out.Changes) == 0 {
		return nil
	}
	switch {
	case len(names) == 0:
		out.Says = "Off the saw, larger than they will be: " + list(blanks) + "."
	case len(blanks) == 0:
		out.Says = "Off the saw: " + list(names) + "."
	default:
		out.Says = "Off the saw: " + list(names) + "; larger than they will be: " + list(blanks) + "."
	}
	return out
}

// lying are the changes by which the record has the blanks that lie there: one
// more for each that came off a panel, one less for each that had its last cut.
func (b *sawPage) lying(was []record.Blanks) (changes []DocChange, names []string) {
	var gone []int
	n := len(was)
	for _, k := range b.plan.Model.Blanks {
		lie := 0 // by the record
		at := slices.IndexFunc(was, func(c record.Blanks) bool { return c.Part == k.Letter })
		if at >= 0 {
			lie = was[at].Count
		}
		now, came := lie, 0 // as ticked
		for _, part := range b.plan.Model.Parts {
			if !slices.Contains(k.For, part.Letter) {
				continue
			}
			off := part.OffSaw
			switch {
			case b.ready(b.parts, "", part.Letter):
				if off != nil {
					now -= off.Count
				}
			case b.ready(b.blanks, blankMark, part.Letter):
				came += b.laidOut(part)
			}
		}
		now += came
		switch {
		case now == lie:
			continue
		case at < 0:
			changes = append(changes, DocChange{Path: fmt.Sprintf("blanks[%d]", n), Do: "insert", Value: fmt.Sprintf("{part: %s, count: %d}", k.Letter, now)})
			n++
		case now <= 0:
			gone = append(gone, at)
		default:
			changes = append(changes, DocChange{Path: fmt.Sprintf("blanks[%d].count", at), Do: "set", Value: fmt.Sprint(now)})
		}
		if came > 0 {
			names = append(names, fmt.Sprintf("%d × %s", came, k.Letter))
		}
	}
	slices.Sort(gone)
	for _, at := range slices.Backward(gone) { // the last first, so that the others keep their places
		changes = append(changes, DocChange{Path: fmt.Sprintf("blanks[%d]", at), Do: "remove"})
	}
	return changes, names
}

// laidOut is how many of a part the layouts have.
func (b *sawPage) laidOut(part build.Part) int {
	for _, panel := range b.plan.Panels {
		if i := slices.Index(panel.Letters, part.Letter); i >= 0 {
			return panel.Job.Items[i].Qty
		}
	}
	return 0
}
