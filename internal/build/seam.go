package build

import (
	"cmp"
	"fmt"
	"slices"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// seam is a place where a shell is joined.
type seam struct {
	at    unit.Length // its middle, on the flat panel laid out whole
	run   int         // the flat it lies in
	joint string      // strip, scarf, butt
	held  string
	strip unit.Length // width let in
	slope int
	path  string
}

// takes is by how much each of the two parts ends before (or, negative,
// beyond) the middle of the seam. A scarf laps over thickness × slope.
func (s seam) takes(t unit.Length) unit.Length {
	switch s.joint {
	case "strip":
		return s.strip / 2
	case "scarf":
		return -s.lap(t) / 2
	}
	return 0
}

func (s seam) lap(t unit.Length) unit.Length { return unit.Length(s.slope) * t }

// findSeams takes the seams that the piece gives, or places them where they
// hide: as many as the longest sheet asks for, the bottom first.
func (b *builder) findSeams(s *shell) {
	usable := b.usable(s.stock)
	if len(b.piece.Case.Seams) == 0 {
		b.placeSeams(s, usable)
	}
	for i, g := range b.piece.Case.Seams {
		path := fmt.Sprintf("case.seams[%d]", i)
		if m, ok := b.seamAt(s, g, path); ok {
			s.seams = append(s.seams, m)
		}
	}
	slices.SortStableFunc(s.seams, func(x, y seam) int { return cmp.Compare(x.at, y.at) })
	if b.failed() {
		return
	}
	for _, c := range s.cuts() {
		if l := c.to - c.from; l <= 0 {
			b.problem("case.seams", "two seams lie so close that %s would be left between them. Move them apart.", b.show(l))
			return
		}
	}
	if n := b.leastSeams(s); n > 1 && len(s.seams) < n {
		b.note(finding.Finding{
			ID: "back-caught", Level: finding.Stop, Place: "back.fit",
			Says:   "The back lies in a groove all round, but the shell is one strip that is closed before the back could go in.",
			Figure: document.Count(len(s.seams), "seam"), Limit: document.Count(n, "seam"), Source: "derived",
			Advice: "Join the shell at two sides, so that the back goes in between its halves; or let the back in a rebate, with fit: rebated.",
		})
	}
	b.adviseSeam(s, usable)
}

// leastSeams is how many seams a shell wants: one where it closes, and two where
// it closes round a back in a groove.
func (b *builder) leastSeams(s *shell) int {
	switch k := b.piece.Back; {
	case !s.closed:
		return 0
	case k != nil && k.Fit == "grooved":
		return 2
	}
	return 1
}

// usable is the longest part that comes out of a sheet of the stock in the
// direction of the shell, trims taken off; 0 where no sheet is known.
func (b *builder) usable(s stock) unit.Length {
	var best unit.Length
	for _, sh := range s.panel.Sheets {
		l := sh.Length
		if b.piece.Case.Grain == "along" && !s.free {
			l = sh.Width
		} else if s.free {
			l = max(sh.Length, sh.Width)
		}
		best = max(best, l-2*s.panel.TrimOf(sh))
	}
	return best
}

// seamAt is a seam of the piece, checked.
func (b *builder) seamAt(s *shell, g piece.Seam, path string) (seam, bool) {
	side := index(sideNames, g.At, -1)
	m := seam{run: -1, joint: cmp.Or(g.Joint, "butt"), held: cmp.Or(g.Held, "spline"), slope: cmp.Or(g.Slope, 8), strip: g.Strip, path: path}
	for i, r := range s.runs {
		if r.side == side && side >= 0 && !r.bends() && (m.run < 0 || r.length > s.runs[m.run].length) {
			m.run = i
		}
	}
	if m.run < 0 {
		b.problem(path+".at", "%s.at is %q, but the shell has no flat there. Put the seam on one of: %s.", path, g.At, join(s.sides()))
		return m, false
	}
	if m.joint == "strip" && (m.strip <= 0 || m.strip > most) {
		b.problem(path+".strip", "%s.strip is missing. Give the width of the strip let in.", path)
		return m, false
	}
	if m.joint == "scarf" {
		m.held = "glue"
	}
	r := s.runs[m.run]
	m.at = r.at + r.length/2 + g.Offset
	reach := m.takes(s.stock.thickness).Abs()
	if room := r.length/2 - g.Offset.Abs(); reach > room || g.Offset.Abs() > most {
		b.problem(path, "the seam at the %s reaches %s to each side of a place %s from the middle, but the flat there is %s long between the bends. Move it or make it narrower.",
			sideNames[side], b.show(reach), b.show(g.Offset.Abs()), b.show(r.length))
		return m, false
	}
	return m, true
}

func (s *shell) sides() []string {
	var out []string
	for _, r := range s.runs {
		if !r.bends() && r.side >= 0 && !slices.Contains(out, sideNames[r.side]) {
			out = append(out, sideNames[r.side])
		}
	}
	return out
}

// hiding lists, for one to four parts, the sides where seams show least.
var hiding = [][]int{
	{},
	{sideBottom},
	{sideTop},
	{sideBottom, sideTop},
	{sideRight, sideLeft},
	{sideBottom, sideRight, sideLeft},
	{sideTop, sideRight, sideLeft},
	{sideBottom, sideRight, sideTop, sideLeft},
}

// placeSeams chooses the first of the ways in hiding whose parts all come out
// of the longest sheet; where none does, the one with the shortest parts, and
// the layout of panels will say by how much it is short.
func (b *builder) placeSeams(s *shell, usable unit.Length) {
	var best []seam
	var bestLongest unit.Length
	for _, sides := range hiding {
		if len(sides) < b.leastSeams(s) {
			continue
		}
		try := *s
		try.seams = nil
		for _, side := range sides {
			for i, r := range s.runs {
				if r.side == side && !r.bends() {
					shift := min(b.shift, r.length/2)
					try.seams = append(try.seams, seam{at: r.at + r.length/2 + shift, run: i, joint: "butt", held: "spline", path: "case.seams"})
				}
			}
		}
		if len(try.seams) != len(sides) {
			continue // the shell has no flat there
		}
		slices.SortFunc(try.seams, func(x, y seam) int { return cmp.Compare(x.at, y.at) })
		longest := unit.Length(0)
		for _, c := range try.cuts() {
			longest = max(longest, c.to-c.from)
		}
		if best == nil && bestLongest == 0 || longest < bestLongest {
			best, bestLongest = try.seams, longest
		}
		if longest <= usable || usable == 0 {
			break
		}
	}
	s.seams = best
}

// cut is one part of the shell on the flat panel: from and to, past the whole
// length for a part that runs over the place where the run joins itself.
type cut struct {
	from, to    unit.Length
	first, last int // seams at its ends, or -1
}

// cuts are the parts between the seams.
func (s *shell) cuts() []cut {
	t, n := s.stock.thickness, len(s.seams)
	if n == 0 {
		return []cut{{0, s.length(), -1, -1}}
	}
	var out []cut
	if !s.closed {
		out = append(out, cut{0, s.seams[0].at - s.seams[0].takes(t), -1, 0})
	}
	for i, m := range s.seams {
		c := cut{from: m.at + m.takes(t), first: i}
		switch {
		case i+1 < n:
			c.last = i + 1
			c.to = s.seams[i+1].at
		case s.closed:
			c.last = 0
			c.to = s.seams[0].at + s.length()
		default:
			c.last = -1
			c.to = s.length()
		}
		if c.last >= 0 {
			c.to -= s.seams[c.last].takes(t)
		}
		out = append(out, c)
	}
	return out
}

// adviseSeam says so when a part is longer than any sheet and one more seam
// would help.
func (b *builder) adviseSeam(s *shell, usable unit.Length) {
	for _, c := range s.cuts() {
		l := c.to - c.from
		if usable <= 0 || l <= usable {
			continue
		}
		middle := c.from + l/2
		where := ""
		for _, r := range append(slices.Clone(s.runs), s.again()...) {
			if !r.bends() && r.at <= middle && middle <= r.at+r.length {
				where = " in the " + r.name
			}
		}
		b.note(finding.Finding{
			ID: "shell-seam", Level: finding.Care, Place: "case.seams",
			Says:   fmt.Sprintf("A part of the shell is %s long; the longest sheet of %s gives %s.", b.show(l), s.stock.key, b.show(usable)),
			Figure: b.show(l), Limit: b.show(usable),
			Advice: fmt.Sprintf("Join it once more%s, or take %s off its length.", where, b.show(l-usable)),
		})
		return
	}
}

// again is the run a second time round, for parts that pass its start.
func (s *shell) again() []run {
	if !s.closed {
		return nil
	}
	out := slices.Clone(s.runs)
	for i := range out {
		out[i].at += s.length()
	}
	return out
}

// seamClear is how far from a seam what stands on the shell begins, so that
// its tenons do not run into those of the seam: past a spline, a dowel or a
// loose tenon, or the lap of a scarf, and a little more.
func (b *builder) seamClear(m seam) unit.Length {
	const more = 2 * unit.Millimetre
	t := b.shell.stock.thickness
	switch {
	case m.joint == "scarf":
		return m.lap(t)/2 + more
	case m.held == "dowel" || m.held == "loose-tenon":
		return 30*unit.Millimetre + more
	case m.held == "spline":
		return t/2 + more
	}
	return more
}

// standsOnSeam is by how much an end of that thickness, in the middle of which
// the spot lies, is too near to a seam; 0 where it is clear. It notes how far
// the seam should lie from the middle of the end.
func (b *builder) standsOnSeam(s spot, thick unit.Length) (unit.Length, seam) {
	if b.shell == nil {
		return 0, seam{}
	}
	i := slices.Index(b.shell.parts, s.part)
	if i < 0 {
		return 0, seam{}
	}
	c := b.shell.cuts()[i]
	for _, end := range []struct {
		seam int
		away unit.Length // of the middle from the end
	}{{c.first, s.x}, {c.last, s.part.Length.Size - s.x}} {
		if end.seam < 0 {
			continue
		}
		m := b.shell.seams[end.seam]
		want := thick/2 + b.seamClear(m)
		if m.joint == "scarf" { // half of the lap lies beyond the middle of the seam
			want += m.lap(b.shell.stock.thickness) / 2
		}
		if short := want - end.away; short > 0 {
			step := b.metric(5*unit.Millimetre, unit.Inch/4)
			b.aside = max(b.aside, (thick/2 + b.seamClear(m) + m.takes(b.shell.stock.thickness).Abs()).RoundUp(step))
			return short, m
		}
	}
	return 0, seam{}
}
