package cutting

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/unit"
)

// Axis is a direction on a sheet.
type Axis int

// Along is the length of the sheet (X, the grain), Across its width (Y).
const (
	Along Axis = iota
	Across
)

func (a Axis) String() string { return [...]string{"along the grain", "across the grain"}[a] }

// A Shortfall is a part of which some or all pieces could not be laid out.
type Shortfall struct {
	Item   int
	Count  int         // pieces without a place
	Over   unit.Length // by how much the part exceeds the sheet it comes nearest to; 0: it fits, but there is not enough stock
	Axis   Axis        // where on the sheet it does
	Sheet  int         // the sheet it was measured against; -1: none
	Join   Join        // how it would fit, if joined
	Group  int         `json:",omitempty"` // number of the matched group that finds no place as a whole, from 1; 0: none
	Marred bool        `json:",omitempty"` // it fits the size of a board, but on none clear of the defects
	Lacks  unit.Length `json:",omitempty"` // width that the strips of panels do not make up, all together
	Strip  unit.Length `json:",omitempty"` // the narrowest strip of a panel, which no board is wide enough for
	Least  *Change     // the least change of one size that makes it fit; nil: one change is not enough
}

// A Join is a part made of equal pieces put end to end along Axis of the sheet.
// Joints that need an overlap take more.
type Join struct {
	Pieces int // 0: it does not fit this way either
	Length unit.Length
	Axis   Axis
}

// A Change makes one size of one item smaller by By, to To. With it the job's
// result would be Value, with Short pieces left over.
type Change struct {
	Item  int
	Axis  Axis // Along: the item's W; Across: its H
	By    unit.Length
	To    unit.Length
	Value int64
	Short int
	With  []int `json:",omitempty"` // other items that change alike: they are matched with it
	Saves int   `json:",omitempty"` // so many sheets fewer, offcuts aside; 0: only the price is less, or more parts find a place
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

// misfit measures an item that fits no sheet in stock against the one it comes
// nearest to: one it exceeds in one direction only rather than in both, then
// the one it exceeds least.
func misfit(job *Job, i int) Shortfall {
	it := job.Items[i]
	out := Shortfall{Item: i, Count: it.Qty, Sheet: -1}
	both := false
	for k, s := range job.Sheets {
		w, h := s.Usable()
		if s.Stock == 0 || w <= 0 || h <= 0 {
			continue
		}
		for turn := range 2 {
			if turn == 1 && !it.Turn {
				break
			}
			pw, ph := it.W, it.H
			if turn == 1 {
				pw, ph = ph, pw
			}
			dw, dh := pw-w, ph-h
			over, axis, two := dw, Along, dw > 0 && dh > 0
			if dh > dw {
				over, axis = dh, Across
			}
			if out.Sheet >= 0 && (two && !both || two == both && over >= out.Over) {
				continue
			}
			both = two
			out.Sheet, out.Over, out.Axis, out.Join, out.Least = k, over, axis, Join{}, nil
			if two {
				continue
			}
			size, room := pw, w
			c := Change{Item: i, Axis: Along, By: over, To: it.W - over}
			if axis == Across {
				size, room = ph, h
			}
			if (axis == Across) != (turn == 1) {
				c.Axis, c.To = Across, it.H-over
			}
			n := (size + room - 1) / room
			out.Join = Join{int(n), (size + n - 1) / n, axis}
			out.Least = &c
		}
	}
	return out
}

// Says is the shortfall in a sentence or two; show prints a length.
func (s Shortfall) Says(job Job, show func(unit.Length) string) string {
	it := job.Items[s.Item]
	name := label(it.ID, it.Label)
	if s.Group > 0 {
		return s.groupSays(job, show)
	}
	if s.Marred {
		return fmt.Sprintf("The part %s, %s × %s, lies clear of the defects on no board.", name, show(it.W), show(it.H))
	}
	if s.Lacks > 0 {
		return fmt.Sprintf("%d of %s cannot be made up from strips of the boards in stock: %s of width are lacking.", s.Count, name, show(s.Lacks))
	}
	if s.Strip > 0 {
		return fmt.Sprintf("The part %s is glued up from strips, and no board as long as it is wide enough for the narrowest allowed, %s.", name, show(s.Strip))
	}
	if s.Sheet < 0 {
		return fmt.Sprintf("%d of %s find no place: the panels in stock are used up.", s.Count, name)
	}
	sh := job.Sheets[s.Sheet]
	w, h := sh.Usable()
	room := w
	if s.Axis == Across {
		room = h
	}
	return fmt.Sprintf("The part %s, %s × %s, is too large for every panel: %s is short by %s %s (%s usable).",
		name, show(it.W), show(it.H), label(sh.ID, sh.Label), show(s.Over), s.Axis, show(room))
}

// groupSays tells of a piece whose matched group finds no place.
func (s Shortfall) groupSays(job Job, show func(unit.Length) string) string {
	g := job.Matched[s.Group-1]
	if s.Sheet < 0 {
		return fmt.Sprintf("The matched parts %s find no place together: the panels in stock are used up.", g.name(job))
	}
	sh := job.Sheets[s.Sheet]
	w, h := g.size(&job)
	return fmt.Sprintf("The matched parts %s, %s × %s together, are too large for every panel: %s is short by %s %s.",
		g.name(job), show(w), show(h), label(sh.ID, sh.Label), show(s.Over), s.Axis)
}

// Advice is what would make the part fit.
func (s Shortfall) Advice(job Job, show func(unit.Length) string) string {
	if s.Group > 0 && s.Sheet >= 0 {
		return "Cut the group in two where the break shows least, or buy a larger panel."
	}
	if s.Marred {
		return "Pick a board with a longer clear stretch, or make the part shorter or glue it up."
	}
	if s.Lacks > 0 || s.Strip > 0 {
		return "Buy another board, or allow narrower strips."
	}
	if s.Sheet < 0 {
		return "Buy another panel, or make fewer."
	}
	if s.Least == nil {
		return "It is too large both ways; buy a larger panel."
	}
	what := "length"
	if s.Least.Axis == Across {
		what = "width"
	}
	a := fmt.Sprintf("Make its %s %s or less", what, show(s.Least.To))
	if s.Join.Pieces > 1 {
		a += fmt.Sprintf(", or join it from %d pieces of %s each plus what the joint needs", s.Join.Pieces, show(s.Join.Length))
	}
	return a + ", or buy a larger panel."
}

func label(id, label string) string {
	if label != "" {
		return label
	}
	return id
}

// Findings tells what could not be laid out, for the maker.
func (r Result) Findings(job Job, show func(unit.Length) string) []finding.Finding {
	var out []finding.Finding
	for _, s := range r.Short {
		it := job.Items[s.Item]
		f := finding.Finding{
			ID: "panel-stock", Level: finding.Stop, Place: label(it.ID, it.Label),
			Says: s.Says(job, show), Advice: s.Advice(job, show),
		}
		if s.Sheet >= 0 {
			f.ID, f.Figure = "panel-short", show(s.Over)
		}
		out = append(out, f)
	}
	return out
}
