package saw

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// Panels is one material's layouts, arranged, as they go to the saw.
type Panels struct {
	Title   string
	Stock   string
	Job     cutting.Job
	Layouts []cutting.Layout
	Letters []string // of the parts, in the order of Job.Items
	Blanks  []string // letters of parts that come off as blanks, not finished
}

// BreakDown orders the cuts of all panels of one material. It relies on the
// order in which layouts list the strips of a split: equal ones side by side,
// the widest first, rests last. Cuts of one stage
// (trims, then the first cuts, then those across the strips, and so on) with
// the same setting are made together, on all panels, before the fence moves.
func BreakDown(p Panels, m Machine) Sequence {
	s := Sequence{Title: p.Title, Stock: p.Stock, Saw: m.Key, Kind: m.Kind}
	b := breaker{panels: p, machine: m}
	n := 1
	var at []board
	for _, l := range p.Layouts {
		name := "panel " + strconv.Itoa(n)
		if l.Copies > 1 {
			name = fmt.Sprintf("panels %d-%d", n, n+l.Copies-1)
		}
		sheet := p.Job.Sheets[l.Sheet]
		if sheet.Offcut {
			name = "offcut " + sheet.ID
		} else {
			n += l.Copies
		}
		b.trims(name, sheet, l.Copies)
		at = append(at, board{name: name, short: " " + name[strings.LastIndexByte(name, ' ')+1:], node: usable(l.Root, sheet), copies: l.Copies})
	}
	s.Setups = b.setups(s.Setups)
	for len(at) > 0 {
		at = b.stage(at)
		s.Setups = b.setups(s.Setups)
	}
	s.Account = b.account
	return s
}

// board is a piece at hand: a panel, strip or smaller piece still to be cut.
type board struct {
	name, short string
	node        cutting.Node
	copies      int
}

// usable is the rectangle inside the trims of a panel.
func usable(n cutting.Node, s cutting.Sheet) cutting.Node {
	w, h := s.Usable()
	for n.Kind == cutting.Split && (n.W != w || n.H != h) {
		inner := n.Children[0]
		for _, c := range n.Children[1:] {
			if isRest(inner) && !isRest(c) {
				inner = c
			}
		}
		n = inner
	}
	return n
}

func isRest(n cutting.Node) bool { return n.Kind == cutting.Offcut || n.Kind == cutting.Waste }

// along is the extent of n in the direction in which a split's children lie.
func along(n cutting.Node, vertical bool) unit.Length {
	if vertical {
		return n.W
	}
	return n.H
}

type breaker struct {
	panels  Panels
	machine Machine
	wants   []want
	account []Row
}

// trims cuts the edges of a panel straight. The kerf of a trimming cut lies in
// what is trimmed away, so the panel is smaller by exactly the trim.
func (b *breaker) trims(name string, s cutting.Sheet, copies int) {
	k := b.panels.Job.Kerf
	trim := func(amount, whole, long unit.Length, edge, other string, cross bool) {
		if amount <= 0 {
			return
		}
		b.wants = append(b.wants, want{
			of: name, keep: whole - amount, whole: whole, left: max(amount-k, 0), long: long,
			edge: other, other: edge, cross: cross, gives: "trim", trim: true, times: copies, alike: copies,
		})
	}
	trim(s.Trim.Bottom, s.H, s.W, "lower long edge", "upper long edge", false)
	trim(s.Trim.Top, s.H-s.Trim.Bottom, s.W, "upper long edge", "lower long edge", false)
	w, h := s.Usable()
	trim(s.Trim.Left, s.W, h, "left end", "right end", true)
	trim(s.Trim.Right, s.W-s.Trim.Left, h, "right end", "left end", true)
	b.account = append(b.account,
		Row{Of: name + ", length", Whole: s.W, Parts: w, Trims: s.Trim.Left + s.Trim.Right},
		Row{Of: name + ", width", Whole: s.H, Parts: h, Trims: s.Trim.Bottom + s.Trim.Top})
}

// stage makes the next cuts of every piece at hand and returns what is to be
// cut further.
func (b *breaker) stage(at []board) []board {
	var next []board
	for _, bd := range at {
		if bd.node.Kind != cutting.Split {
			continue
		}
		next = append(next, b.split(bd)...)
	}
	return next
}

func (b *breaker) split(bd board) []board {
	var (
		n     = bd.node
		kerf  = b.panels.Job.Kerf
		whole = along(n, n.Vertical)
		long  = along(n, !n.Vertical)
		rest  = whole
		cut   = -1 // the last want of this piece
		row   = Row{Of: bd.name, Whole: whole}
		next  []board
	)
	edge, other := "lower long edge", "upper long edge"
	if n.Vertical {
		edge, other = "left end", "right end"
	}
	for i, c := range n.Children {
		size := along(c, n.Vertical)
		name, short := b.called(c, bd, i)
		switch c.Kind {
		case cutting.Offcut:
			row.Offcut += size
		case cutting.Waste:
			row.Waste += size
		default:
			row.Parts += size
		}
		if c.Kind == cutting.Split {
			next = append(next, board{name, short, c, bd.copies})
		}
		if rest > size { // else it is what remains: no cut
			left := max(rest-size-kerf, 0)
			if !isRest(c) {
				cut = len(b.wants)
				b.wants = append(b.wants, want{
					of: bd.name, keep: size, whole: rest, left: left, long: long,
					edge: edge, other: other, cross: n.Vertical, gives: name,
					part: c.Kind == cutting.Part, times: bd.copies, alike: bd.copies,
				})
			}
			row.Kerfs += rest - size - left
			rest = left
		} else {
			rest = 0
			if cut >= 0 {
				b.wants[cut].rest = name
			}
		}
	}
	row.Waste += rest
	b.account = append(b.account, row)
	return next
}

// called is the name of a piece that comes off, and its number.
func (b *breaker) called(c cutting.Node, bd board, i int) (name, short string) {
	short = fmt.Sprintf("%s.%d", bd.short, i+1)
	switch c.Kind {
	case cutting.Part:
		return b.panels.Letters[c.Item], short
	case cutting.Offcut:
		return "offcut", short
	case cutting.Waste:
		return "waste", short
	}
	return "strip" + short, short
}

// setups turns the wanted cuts of a stage into settings, the largest first,
// and clears them.
func (b *breaker) setups(out []Setup) []Setup {
	type key struct {
		trim, cross bool
		way         Way
		setting     unit.Length
		other       bool
		edge        string
	}
	groups := map[key]*Setup{}
	var order []key
	for _, w := range b.wants {
		way, setting, fromOther := b.machine.how(w)
		k := key{w.trim, w.cross, way, setting, fromOther, w.edge}
		s := groups[k]
		if s == nil {
			s = &Setup{Way: way, Setting: setting}
			s.Reference, s.Keep, s.Note = b.machine.words(w, way, fromOther)
			s.Check, s.CheckWhat = w.keep, "first "+stripOr(w)+" off, by tape or rule"
			if way == GuideMark {
				s.Guide = w.keep - b.machine.Base
			}
			groups[k] = s
			order = append(order, k)
		}
		s.Cuts = append(s.Cuts, Cut{Of: w.of, Times: w.times, Pieces: w.alike, Whole: w.whole, Long: w.long, Left: w.left, Gives: w.gives, Rest: w.rest})
		if w.part {
			b.off(s, w.gives)
		}
		if slices.Contains(b.panels.Letters, w.rest) {
			b.off(s, w.rest)
		}
	}
	b.wants = b.wants[:0]
	sort.SliceStable(order, func(i, j int) bool {
		a, c := order[i], order[j]
		switch {
		case a.trim && c.trim:
			return false // trims keep their order: each refers to an edge trimmed before
		case a.cross != c.cross:
			return c.cross
		}
		return a.setting > c.setting
	})
	for _, k := range order {
		s := groups[k]
		s.Cuts = together(s.Cuts)
		s.N = len(out) + 1
		out = append(out, *s)
	}
	return out
}

// off says that a part, or its blank, comes off at a setting.
func (b *breaker) off(s *Setup, letter string) {
	if slices.Contains(b.panels.Blanks, letter) {
		s.Blanks = appendNew(s.Blanks, letter)
		return
	}
	s.Parts = appendNew(s.Parts, letter)
}

func stripOr(w want) string {
	switch {
	case w.trim:
		return "trimmed panel"
	case w.part:
		return "part " + w.gives
	}
	return "strip"
}

func appendNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// together joins runs of cuts that take the same part off the same piece; the
// remainder told is that after the last of them.
func together(cuts []Cut) []Cut {
	out := cuts[:0]
	for _, c := range cuts {
		if n := len(out); n > 0 && out[n-1].Of == c.Of && out[n-1].Gives == c.Gives && out[n-1].Long == c.Long {
			out[n-1].Times += c.Times
			out[n-1].Left, out[n-1].Rest = c.Left, c.Rest
			continue
		}
		out = append(out, c)
	}
	return out
}
