package cutting

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"casewright/internal/unit"
)

// Board is one board of solid wood on hand or to be bought: thickness, length
// along the grain and width, as bought.
type Board struct {
	ID      string
	T, W, H unit.Length // thickness, length, width
	Price   unit.Money
	Stock   int
	Trim    Trim // snipe and checks at the ends, the edges to be straightened
	Label   string
}

// BoardItem is a part of solid wood by its rough sizes. It lies along the
// grain unless Turn is set, which is seldom right.
type BoardItem struct {
	ID      string
	T, W, H unit.Length
	Qty     int
	Turn    bool
	Label   string
}

// BoardJob is what is to be cut from boards.
type BoardJob struct {
	Boards      []Board
	Items       []BoardItem
	Kerf        unit.Length
	Objective   Objective // FewestSheets or LeastPrice
	LeastOffcut struct{ W, H unit.Length }
	Seed        uint64
}

// BoardClass is the answer for one thickness of board. In Result, sheets are
// numbered as in Boards and items as in Items, which index the job.
type BoardClass struct {
	T      unit.Length
	Boards []int
	Items  []int
	Job    Job // what was solved
	Result Result
}

// SolveBoards deals each part to the thinnest class of board that is thick
// enough for it and has stock, and lays out each class by itself, thickest
// first. Parts thicker than every board are returned as too thick.
func SolveBoards(ctx context.Context, job BoardJob, budget Budget) (classes []BoardClass, thick []int, err error) {
	if job.Objective == LeastHeight {
		return nil, nil, errors.New("cutting: boards are cut for the fewest or the least price, not for height")
	}
	at := map[unit.Length]int{}
	for i, b := range job.Boards {
		if b.T <= 0 {
			return nil, nil, fmt.Errorf("cutting: board %d (%s) is %v mm thick; give a thickness above 0", i+1, b.ID, b.T.MM())
		}
		if b.Stock == 0 {
			continue
		}
		if _, ok := at[b.T]; !ok {
			at[b.T] = 0
			classes = append(classes, BoardClass{T: b.T})
		}
	}
	slices.SortFunc(classes, func(a, b BoardClass) int { return int(min(1, max(-1, b.T-a.T))) })
	for k := range classes {
		c := &classes[k]
		at[c.T] = k
		c.Job = Job{Kerf: job.Kerf, Objective: job.Objective, LeastOffcut: job.LeastOffcut, Seed: job.Seed}
	}
	for i, b := range job.Boards {
		if b.Stock == 0 {
			continue
		}
		c := &classes[at[b.T]]
		c.Boards = append(c.Boards, i)
		c.Job.Sheets = append(c.Job.Sheets, Sheet{ID: b.ID, W: b.W, H: b.H, Price: b.Price, Stock: b.Stock, Trim: b.Trim, Label: b.Label})
	}
	for i, it := range job.Items {
		if it.T <= 0 {
			return nil, nil, fmt.Errorf("cutting: part %d (%s) is %v mm thick; give a thickness above 0", i+1, it.ID, it.T.MM())
		}
		k := -1
		for n := range classes { // thickest first: the last that is thick enough
			if classes[n].T >= it.T {
				k = n
			}
		}
		if k < 0 {
			thick = append(thick, i)
			continue
		}
		c := &classes[k]
		c.Items = append(c.Items, i)
		c.Job.Items = append(c.Job.Items, Item{ID: it.ID, W: it.W, H: it.H, Qty: it.Qty, Turn: it.Turn, Label: it.Label})
	}
	for k := range classes {
		if classes[k].Result, err = Solve(ctx, classes[k].Job, budget); err != nil {
			return nil, nil, err
		}
	}
	return classes, thick, nil
}
