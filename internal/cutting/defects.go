package cutting

import (
	"errors"
	"fmt"

	"casewright/internal/unit"
)

// Defect is a rectangle of a board that no part may touch: a knot, a check,
// wane, sapwood. X and Y count from the lower left corner of the board as
// bought. A blade may run through it.
type Defect struct {
	X, Y, W, H unit.Length
	What       string
}

// CutOrder says how a board is cut up, trims aside.
type CutOrder int

// The orders. CrosscutFirst: into lengths, each ripped into strips, those cut
// to length. RipFirst: into strips edge to edge, each crosscut, and the pieces
// ripped once more. Without an order cuts may turn as often as they like.
const (
	AnyOrder CutOrder = iota
	CrosscutFirst
	RipFirst
)

func (o CutOrder) String() string {
	return [...]string{"in any order", "crosscut, then rip", "rip, then crosscut"}[o]
}

// orderedStages is how many stages of cuts an order has.
const orderedStages = 3

// careful reports whether a job asks for what only boards have: defects, an
// order of cuts, or pieces glued side by side.
func (j Job) careful() bool {
	for _, s := range j.Sheets {
		if len(s.Defects) > 0 || s.Order != AnyOrder {
			return true
		}
	}
	for _, it := range j.Items {
		if it.Strips > 1 || it.Glue != nil {
			return true
		}
	}
	return false
}

// checkBoards says what is wrong with the defects and strips of a job.
func (j Job) checkBoards() error {
	if !j.careful() {
		return nil
	}
	switch {
	case j.Objective == LeastHeight:
		return errors.New("cutting: boards with defects are cut for the fewest or the least price, not for height")
	case len(j.Matched) > 0:
		return errors.New("cutting: matched groups are cut from panels without defects; leave the groups or the defects out")
	}
	for i, s := range j.Sheets {
		if s.Order < AnyOrder || s.Order > RipFirst {
			return fmt.Errorf("cutting: board %d (%s) has the order of cuts %d, which is none of any, crosscut first, rip first", i+1, s.ID, s.Order)
		}
		for k, d := range s.Defects {
			if d.W <= 0 || d.H <= 0 || d.X < 0 || d.Y < 0 || d.X > s.W-d.W || d.Y > s.H-d.H {
				return fmt.Errorf("cutting: defect %d of board %d (%s) is %v x %v mm at %v, %v mm; it must lie on the board of %v x %v mm", k+1, i+1, s.ID, d.W.MM(), d.H.MM(), d.X.MM(), d.Y.MM(), s.W.MM(), s.H.MM())
			}
			for m, o := range s.Defects[:k] {
				if d.meets(o) {
					return fmt.Errorf("cutting: defects %d and %d of board %d (%s) overlap; draw one rectangle round both", m+1, k+1, i+1, s.ID)
				}
			}
		}
	}
	for i, it := range j.Items {
		if it.Strips < 0 || it.Strips > 1 && it.Qty%it.Strips != 0 {
			return fmt.Errorf("cutting: part %d (%s) is %d strips, %d to be glued into one; give a whole number of panels", i+1, it.ID, it.Qty, it.Strips)
		}
		if err := it.checkGlue(i); err != nil {
			return err
		}
	}
	return nil
}

// meets reports whether two defects share wood.
func (d Defect) meets(o Defect) bool {
	return d.X < o.X+o.W && o.X < d.X+d.W && d.Y < o.Y+o.H && o.Y < d.Y+d.H
}
