package cutting

import "casewright/internal/unit"

// Axis is a direction on a sheet.
type Axis int

// Along is the length of the sheet (X, the grain), Across its width (Y).
const (
	Along Axis = iota
	Across
)

// A Shortfall is a part of which some or all pieces could not be laid out.
type Shortfall struct {
	Item  int
	Count int         // pieces without a place
	Over  unit.Length // by how much the part exceeds the best sheet; 0: it fits, but there is not enough stock
	Axis  Axis        // where it does
	Sheet int         // the sheet it was measured against; -1: none
	Join  Join        // how it would fit, if it may be joined once
	Least *Change     // the least change of one size that helps; nil: none found
}

// A Join is a part made of pieces put together along Axis.
type Join struct {
	Pieces int // 0: does not fit this way either
	Length unit.Length
	Axis   Axis
}

// A Change makes one size of one item smaller by By, to To.
type Change struct {
	Item  int
	Axis  Axis // Along: the item's W; Across: its H
	By    unit.Length
	To    unit.Length
	Saves int64 // by how much the result's value falls; 0: the change makes the part fit
}

func shortfalls(job *Job, p *problem, misfits, left []int) []Shortfall {
	var out []Shortfall
	for _, i := range misfits {
		out = append(out, misfit(job, i))
	}
	for t, n := range left {
		items := p.types[t].items
		for k := len(items) - 1; k >= 0 && n > 0; k-- { // the last ones asked for go without
			c := min(n, items[k].qty)
			n -= c
			out = append(out, Shortfall{Item: items[k].item, Count: c, Sheet: -1})
		}
	}
	return out
}

// misfit measures an item that fits no sheet in stock against the one it
// exceeds least.
func misfit(job *Job, i int) Shortfall {
	it := job.Items[i]
	out := Shortfall{Item: i, Count: it.Qty, Sheet: -1}
	for k, s := range job.Sheets {
		if s.Stock == 0 {
			continue
		}
		w, h := s.Usable()
		for turn := range 2 {
			pw, ph := it.W, it.H
			if turn == 1 {
				if !it.Turn {
					break
				}
				pw, ph = ph, pw
			}
			dw, dh := pw-w, ph-h
			over, axis := dw, Along
			if dh > dw {
				over, axis = dh, Across
			}
			if out.Sheet >= 0 && over >= out.Over {
				continue
			}
			out.Sheet, out.Over, out.Axis = k, over, axis
		}
	}
	return out
}
