package cutting

import (
	"errors"
	"fmt"
	"math"

	"casewright/internal/unit"
)

// Limits of a job. They keep sums of lengths and areas exact and hold a slip
// of the keyboard away from the search.
const (
	MaxLength = 100 * unit.Metre
	MaxPieces = 100_000
	maxPrice  = unit.Money(1) << 48
	maxSum    = unit.Money(1) << 60
)

// A problem is a job without its kerf: every piece and every usable sheet is
// one kerf larger each way, so that rectangles that touch in the problem are
// one kerf apart on the panel, and the blade may run off at the far edges.
// Lengths are counted in multiples of a common divisor of all pieces; what a
// sheet has beyond a multiple can never be used and is dropped.
type problem struct {
	sheets []psheet
	types  []ptype
	unitX  unit.Length // length of one step along X, and along Y
	unitY  unit.Length
	kerf   unit.Length
	depth  int                        // most stages of cuts; 0: any number
	run    Run                        // of the strips of the first stage
	least  struct{ w, h unit.Length } // rest worth keeping, one kerf larger; 0: not said
	value  Objective
	cores  *Cores // to be shared with other jobs
}

type psheet struct {
	w, h  int64
	full  float64 // area in steps², with what cannot be used
	price int64   // 1 when sheets are counted
	stock int     // at most the number of pieces
	job   int     // index into Job.Sheets
}

// A ptype is all pieces of one size, whichever items they belong to.
type ptype struct {
	w, h  int64
	turn  bool
	qty   int
	area  float64
	items []lot // which items they are, in order
}

type lot struct{ item, qty int }

// key is a part's size before scaling.
type key struct {
	w, h unit.Length
	turn bool
}

// check says what is wrong with a job in one sentence, or nil.
func (j Job) check() error {
	if len(j.Sheets) == 0 {
		return errors.New("cutting: no panel is given to cut from; add one with its length and width")
	}
	if j.Kerf < 0 || j.Kerf > unit.Metre {
		return fmt.Errorf("cutting: the kerf is %v mm; give the width of the saw's cut, between 0 and 1000 mm", j.Kerf.MM())
	}
	if j.Objective < FewestSheets || j.Objective > LeastHeight {
		return fmt.Errorf("cutting: objective %d is none of fewest sheets, least price, least height", j.Objective)
	}
	if j.Stages != 0 && j.Stages != 2 && j.Stages != 3 {
		return fmt.Errorf("cutting: %d stages of cuts are asked for; give 2 or 3, or 0 for any number", j.Stages)
	}
	if j.Run < EitherWay || j.Run > Crosswise {
		return fmt.Errorf("cutting: run %d of strips is none of either way, lengthwise, crosswise", j.Run)
	}
	if j.Run != EitherWay && j.Stages == 0 {
		return fmt.Errorf("cutting: strips are to run %s, but any number of stages may be cut; limit them to 2 or 3", j.Run)
	}
	if j.Stages == 2 && j.careful() {
		return errors.New("cutting: boards are cut up in three stages; ask for 3, or for any number")
	}
	if j.Objective == LeastHeight && len(j.Sheets) != 1 {
		return fmt.Errorf("cutting: %d sheet sizes are given, but the least height is sought on one; give one", len(j.Sheets))
	}
	for i, s := range j.Sheets {
		if s.W <= 0 || s.H <= 0 || s.W > MaxLength || s.H > MaxLength {
			return fmt.Errorf("cutting: sheet %d (%s) is %v x %v mm; both sides must be above 0 and at most 100 m", i+1, s.ID, s.W.MM(), s.H.MM())
		}
		t := s.Trim
		if t.Left < 0 || t.Right < 0 || t.Bottom < 0 || t.Top < 0 || max(t.Left, t.Right, t.Bottom, t.Top) > MaxLength {
			return fmt.Errorf("cutting: sheet %d (%s) has a trim below 0 or above 100 m; give what is cut from each edge", i+1, s.ID)
		}
		if s.Price < 0 || s.Price > maxPrice {
			return fmt.Errorf("cutting: sheet %d (%s) has the price %d; it must be 0 or more and below 2^48", i+1, s.ID, s.Price)
		}
	}
	n := 0
	for i, it := range j.Items {
		if it.W <= 0 || it.H <= 0 || it.W > MaxLength || it.H > MaxLength {
			return fmt.Errorf("cutting: part %d (%s) is %v x %v mm; both sides must be above 0 and at most 100 m", i+1, it.ID, it.W.MM(), it.H.MM())
		}
		if it.Qty < 0 || it.Qty > MaxPieces {
			return fmt.Errorf("cutting: part %d (%s) is asked for %d times; give 0 to %d", i+1, it.ID, it.Qty, MaxPieces)
		}
		if n += it.Qty; n > MaxPieces {
			return fmt.Errorf("cutting: more than %d pieces in all; split the job", MaxPieces)
		}
	}
	if err := j.checkBoards(); err != nil {
		return err
	}
	for i, s := range j.Sheets {
		if most := maxSum / unit.Money(max(n, 1)); s.Price > most {
			return fmt.Errorf("cutting: sheet %d (%s) has the price %d; for %d pieces the sum cannot be counted, give %d at most", i+1, s.ID, s.Price, n, most)
		}
	}
	return j.checkMatched()
}

// fits reports whether an item fits a usable area, turned or not.
func (it Item) fits(w, h unit.Length) bool {
	return it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h
}

// newProblem takes the kerf out of a job. Items that fit no sheet that is in
// stock are left out; their indices are returned.
func newProblem(j Job) (*problem, []int) { return j.inSteps(false) }

// inSteps is newProblem; with whole, steps also make up whole sheets, so that
// rests have their true sizes.
func (j Job) inSteps(whole bool) (*problem, []int) {
	p := &problem{kerf: j.Kerf, value: j.Objective, depth: j.Stages, run: j.Run}
	var misfits []int
	pieces := 0
	index := map[key]int{}
	var keys []key
	turns := false
	for i, it := range j.Items {
		if it.Qty == 0 {
			continue
		}
		ok := false
		for _, s := range j.Sheets {
			w, h := s.Usable()
			ok = ok || s.Stock != 0 && it.fits(w, h)
		}
		if !ok {
			misfits = append(misfits, i)
			continue
		}
		k := key{it.W, it.H, it.Turn && it.W != it.H}
		if k.turn {
			turns = true
			if k.w < k.h {
				k.w, k.h = k.h, k.w
			}
		}
		at, seen := index[k]
		if !seen {
			at = len(keys)
			index[k] = at
			keys = append(keys, k)
			p.types = append(p.types, ptype{turn: k.turn})
		}
		p.types[at].qty += it.Qty
		p.types[at].items = append(p.types[at].items, lot{i, it.Qty})
		pieces += it.Qty
	}
	var gx, gy unit.Length
	for _, k := range keys {
		gx, gy = gcd(gx, k.w+j.Kerf), gcd(gy, k.h+j.Kerf)
	}
	for _, s := range j.Sheets {
		if w, h := s.Usable(); whole && s.Stock != 0 && w > 0 && h > 0 {
			gx, gy = gcd(gx, w+j.Kerf), gcd(gy, h+j.Kerf)
		}
	}
	if turns {
		gx = gcd(gx, gy)
		gy = gx
	}
	p.unitX, p.unitY = max(gx, 1), max(gy, 1)
	for i, k := range keys {
		t := &p.types[i]
		t.w, t.h = int64((k.w+j.Kerf)/p.unitX), int64((k.h+j.Kerf)/p.unitY)
		t.area = float64(t.w) * float64(t.h)
	}
	if o := j.LeastOffcut; o.W > 0 && o.H > 0 {
		p.least.w, p.least.h = o.W+j.Kerf, o.H+j.Kerf
	}
	for i, s := range j.Sheets {
		w, h := s.Usable()
		if s.Stock == 0 || w <= 0 || h <= 0 {
			continue
		}
		ps := psheet{w: int64((w + j.Kerf) / p.unitX), h: int64((h + j.Kerf) / p.unitY), price: 1, stock: pieces, job: i}
		ps.full = float64(w+j.Kerf) / float64(p.unitX) * (float64(h+j.Kerf) / float64(p.unitY))
		switch {
		case j.Objective == LeastPrice:
			ps.price = int64(s.Price)
		case j.Objective == FewestSheets && s.Offcut:
			ps.price = 0 // lies there anyway
		}
		if ps.w == 0 || ps.h == 0 {
			continue // smaller than any part
		}
		if s.Stock > 0 {
			ps.stock = min(pieces, s.Stock)
		}
		if j.Objective == LeastHeight {
			ps.stock = 1
		}
		p.sheets = append(p.sheets, ps)
	}
	return p, misfits
}

func gcd(a, b unit.Length) unit.Length {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// pieces is the number of pieces of all types.
func (p *problem) pieces() int {
	n := 0
	for _, t := range p.types {
		n += t.qty
	}
	return n
}

// area is that of all pieces, each one kerf larger each way, in steps².
func (p *problem) area() float64 {
	a := 0.0
	for _, t := range p.types {
		a += t.area * float64(t.qty)
	}
	return a
}

// ceilSafe rounds up a sum of floats that may be too high by rounding errors;
// the result is never above the ceiling of the exact sum.
func ceilSafe(v float64) int64 {
	return int64(math.Ceil(v - 1e-7 - math.Abs(v)*1e-12))
}
