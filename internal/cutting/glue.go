package cutting

import (
	"fmt"
	"slices"

	"casewright/internal/unit"
)

// Glue says how a part is glued up from strips side by side. Their widths may
// differ, so that a board gives what it has: together, less what jointing takes
// of each, they are no narrower than the part's H less one jointing.
type Glue struct {
	Least, Most unit.Length // width of a strip as sawn
	Joint       unit.Length // what jointing takes of each strip
	Step        unit.Length // widths are whole numbers of it, where it is above 0
	// Further strips, beyond the fewest of the greatest width that would do, are
	// taken where that saves wood: each is one more to saw, joint and glue. Where
	// parts have no place otherwise there may be more.
	Further int
}

func (j Job) glued() bool {
	for _, it := range j.Items {
		if it.Glue != nil {
			return true
		}
	}
	return false
}

func (it Item) checkGlue(i int) error {
	g := it.Glue
	switch {
	case g == nil:
		return nil
	case it.Strips > 1:
		return fmt.Errorf("cutting: part %d (%s) is glued from %d equal strips and from any strips; give one of the two", i+1, it.ID, it.Strips)
	case it.Turn:
		return fmt.Errorf("cutting: part %d (%s) is glued up from strips, which run with the grain; do not let it turn", i+1, it.ID)
	case g.Joint < 0 || g.Step < 0 || g.Further < 0 || g.Least <= g.Joint || g.down(g.Most) < g.up(g.Least) || g.Most > MaxLength || it.H <= g.Joint:
		return fmt.Errorf("cutting: part %d (%s), %v mm wide, is glued from strips of %v to %v mm, %v mm of each lost in jointing, in steps of %v mm, %d further ones; give widths above the loss, the least below the most, with a step between them", i+1, it.ID, it.H.MM(), g.Least.MM(), g.Most.MM(), g.Joint.MM(), g.Step.MM(), g.Further)
	case (it.H-g.Joint)/(g.Least-g.Joint) > mostStrips:
		return fmt.Errorf("cutting: part %d (%s) may be glued from more than %d strips; give a wider least strip", i+1, it.ID, mostStrips)
	case g.Further > mostStrips:
		return fmt.Errorf("cutting: part %d (%s) may have %d strips more than need be; give %d at most", i+1, it.ID, g.Further, mostStrips)
	case it.Qty > MaxPieces/g.fewest(it.H):
		return fmt.Errorf("cutting: part %d (%s) is asked for %d times, each glued from %d strips at least; more than %d pieces are too many, split the job", i+1, it.ID, it.Qty, g.fewest(it.H), MaxPieces)
	}
	return nil
}

// mostStrips of one part are no more than a slip of the keyboard asks for.
const mostStrips = 1000

// up and down are the nearest widths that the saw is set to.
func (g *Glue) up(l unit.Length) unit.Length   { return l.RoundUp(g.Step) }
func (g *Glue) down(l unit.Length) unit.Length { return l.RoundDown(g.Step) }

// fewest is the least number of strips that make up a part so wide.
func (g *Glue) fewest(h unit.Length) int {
	most := g.down(g.Most) - g.Joint
	return int((h - g.Joint + most - 1) / most)
}

// even is the width of n strips of one width that make up a part so wide.
func (g *Glue) even(h unit.Length, n int) unit.Length {
	k := unit.Length(n)
	return max(g.up(g.Least), min(g.down(g.Most), g.up((h-g.Joint+k-1)/k+g.Joint)))
}

// within is the job with no strips wider than a board in stock gives, so that
// they are counted by what there is.
func (j Job) within() Job {
	j.Items = slices.Clone(j.Items)
	for i := range j.Items {
		it := &j.Items[i]
		if it.Glue == nil {
			continue
		}
		g := *it.Glue
		g.Most = 0
		for _, s := range j.Sheets {
			if w, h := s.Usable(); s.Stock != 0 && it.W <= w {
				g.Most = max(g.Most, min(it.Glue.Most, h))
			}
		}
		if g.down(g.Most) >= g.up(g.Least) { // else no strip fits, which is told
			it.Glue = &g
		}
	}
	return j
}

// even is the job with each part glued from as few strips as will do, all of
// one width.
func (j Job) even() Job {
	out := j
	out.Items = slices.Clone(j.Items)
	for i := range out.Items {
		it := &out.Items[i]
		if g := it.Glue; g != nil {
			n := g.fewest(it.H)
			it.H, it.Qty, it.Glue = g.even(it.H, n), it.Qty*n, nil
			if n > 1 {
				it.Strips = n
			}
		}
	}
	return out
}
