package yard

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Likely is what to ask for where no boards are known yet: boards of one usual
// size, clear, from which all parts come out.
type Likely struct {
	Boards  int             `json:"boards"` // that the parts fill
	Buy     int             `json:"buy"`    // with the shop's waste as the check: never fewer
	Length  unit.Length     `json:"length"`
	Width   unit.Length     `json:"width"`
	Each    float64         `json:"each_board_feet"`
	Yield   float64         `json:"yield_percent"` // of the boards that the parts fill
	Check   float64         `json:"check_board_feet"`
	Job     *cutting.Job    `json:"-"`
	Result  *cutting.Result `json:"-"`
	eachM3  unit.Volume
	checkM3 unit.Volume
	letters []string
	yields  yields
}

// Letters are those of the parts, in the order of the job's items.
func (l Likely) Letters() []string { return l.letters }

// What rough hardwood is usually sold in: lengths, longer ones only where a
// part asks for them and short ones only where a single one will do, and
// widths up to the widest the shop can get (common practice, no source).
var (
	usualFeet   = []float64{8, 10, 12, 14, 16}
	shortFeet   = []float64{6, 4}
	shortMetres = []float64{1.5, 1}
	usualInches = []float64{5, 6, 7, 8, 10}
	usualMetres = []float64{2, 2.5, 3, 4, 5}
	usualWidths = []float64{120, 150, 180, 200, 250}
)

// usualLengths is how many of the lengths are looked at, from the first that
// holds the longest part on.
const usualLengths = 3

// widestBoard is taken for a wood whose widest board the shop does not give.
const widestBoard = 150 * unit.Millimetre

// likelyMoves is the search for one size; there are a dozen sizes.
const likelyMoves = 1_000

// likely finds the usual size of board of which the least wood must be bought.
func (w *Wood) likely(ctx context.Context, parts []build.Part, pieces int, s shop.Shop, r record.Record, budget cutting.Budget) error {
	var job cutting.Job
	letters, net := rough(&job, parts, pieces, s, r)
	area, widest := unit.Area(0), unit.Length(0)
	for i := range job.Items {
		it := &job.Items[i]
		it.Strips = 0 // which board a strip comes from is settled when the boards are known
		area += unit.Area(it.Qty) * unit.AreaOf(it.W+job.Kerf, it.H+job.Kerf)
		widest = max(widest, it.H)
	}
	trim := edges(shop.Board{}, s.Habits)
	usual, short := usualSizes(s, w.Key, w.Longest.Size+trim.Left+trim.Right, widest+trim.Bottom)
	try := func(sizes []usualSize) error {
		var all []trial
		for i, size := range sizes {
			clear := unit.AreaOf(size.L-trim.Left-trim.Right+job.Kerf, size.W-trim.Bottom+job.Kerf)
			t := trial{size: size, at: i, each: wood.BoardFeet(w.Rough, size.W, size.L), job: job}
			t.least = math.Ceil(float64(area/clear)-1e-9) * t.each
			t.job.Sheets = []cutting.Sheet{{ID: "likely board", W: size.L, H: size.W, Stock: -1, Trim: trim, Order: order("", s.Habits.BoardsCut)}}
			all = append(all, t)
		}
		return w.cheapest(ctx, all, cutting.Budget{Iterations: lesser(budget.Iterations, likelyMoves), Cores: budget.Cores})
	}
	if err := try(usual); err != nil {
		return err
	}
	if w.Likely == nil || w.Likely.Boards == 1 {
		if err := try(short); err != nil {
			return err
		}
	}
	if l := w.Likely; l != nil {
		got, err := cutting.Solve(ctx, *l.Job, cutting.Budget{Iterations: lesser(budget.Iterations, likelyMoves), Cores: budget.Cores})
		if err != nil {
			return err
		}
		l.Result, l.letters, l.yields = &got, letters, yields{bought: []float64{l.Each}, net: net, job: l.Job}
		l.Yield = l.YieldOf(got.Layouts...)
		l.Check, l.checkM3 = w.Buy, w.BuyM3
		l.Buy = max(l.Boards, int(math.Ceil(w.Buy/l.Each-1e-9)))
		w.Boards, w.Buy, w.BuyM3 = l.Buy, float64(l.Buy)*l.Each, unit.Volume(l.Buy)*l.eachM3
	}
	return nil
}

// A trial is a size that is looked at, with the least wood that the parts can
// come out of by their area alone.
type trial struct {
	size  usualSize
	at    int // in the order of the sizes: of two that take the same the first is asked for
	each  float64
	least float64
	job   cutting.Job
}

// cheapest takes the size of which the least wood must be bought, if that is
// less than is known yet. Those that promise most are tried first, so that most
// of the others need no layout.
func (w *Wood) cheapest(ctx context.Context, all []trial, budget cutting.Budget) error {
	slices.SortStableFunc(all, func(a, b trial) int { return cmp.Compare(a.least, b.least) })
	most, first := math.Inf(1), -1
	if w.Likely != nil {
		most = float64(w.Likely.Boards) * w.Likely.Each
	}
	beaten := func(wood float64, at int) bool {
		return wood > most+1e-9 || wood > most-1e-9 && at > first
	}
	for _, t := range all {
		if ctx.Err() != nil && w.Likely != nil {
			break // one answer will do
		}
		if beaten(t.least, t.at) {
			continue
		}
		got, err := cutting.Draft(ctx, t.job, budget)
		if err != nil {
			return err
		}
		n := 0
		for _, l := range got.Layouts {
			n += l.Copies
		}
		if len(got.Short) > 0 || n == 0 || beaten(float64(n)*t.each, t.at) {
			continue
		}
		most, first = float64(n)*t.each, t.at
		w.Likely = &Likely{Boards: n, Length: t.size.L, Width: t.size.W, Each: t.each, eachM3: unit.VolumeOf(w.Rough, t.size.W, t.size.L), Job: &t.job}
	}
	return nil
}

func lesser(budget, most int) int {
	if budget > 0 {
		return min(budget, most)
	}
	return most
}

type usualSize struct{ L, W unit.Length }

// usualSizes are the sizes of board that may be asked for, and the shorter ones
// that are only where a single board will do.
func usualSizes(s shop.Shop, key string, longest, widest unit.Length) (usual, shorter []usualSize) {
	most := widestOf(s, key)
	lengths, widths, short := all(usualMetres, unit.Metre), all(usualWidths, unit.Millimetre), all(shortMetres, unit.Metre)
	if s.Units == unit.Imperial {
		lengths, widths, short = all(usualFeet, 12*unit.Inch), all(usualInches, unit.Inch), all(shortFeet, 12*unit.Inch)
	}
	fit := widths[:0:0]
	for _, x := range widths {
		if x < most && x >= widest {
			fit = append(fit, x)
		}
	}
	fit = append(fit, max(most, widest)) // the widest to be had, and what straightening it takes
	n := 0
	for _, l := range lengths {
		if l < longest || n == usualLengths {
			continue
		}
		n++
		for _, x := range fit {
			usual = append(usual, usualSize{l, x})
		}
	}
	for _, l := range short {
		for _, x := range fit {
			if l >= longest {
				shorter = append(shorter, usualSize{l, x})
			}
		}
	}
	return usual, shorter
}

// all are so many of a unit each.
func all(n []float64, of unit.Length) []unit.Length {
	out := make([]unit.Length, len(n))
	for i, v := range n {
		out[i] = unit.Length(v * float64(of))
	}
	return out
}

// Says is what to ask for: 4 boards about 8 ft × 7 in.
func (l Likely) Says(n int, show func(unit.Length) string) string {
	noun := "boards"
	if n == 1 {
		noun = "board"
	}
	return fmt.Sprintf("%d %s about %s × %s", n, noun, feet(l.Length, show), show(l.Width))
}

// feet prints whole feet as feet: a yard does.
func feet(l unit.Length, show func(unit.Length) string) string {
	if foot := 12 * unit.Inch; l%foot == 0 {
		return fmt.Sprintf("%d ft", l/foot)
	}
	return show(l)
}
