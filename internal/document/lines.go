package document

import "strings"

// add writes a new field into a group that has some already, in the order of
// its type.
func (e *editor) add(s *spot, st step, n *Node) bool {
	order := rank(st.in)
	prev, mine := -1, order(st.name)
	for i, k := range s.keys {
		r := order(k)
		if mine < 0 || r >= 0 && r < mine && (prev < 0 || r >= order(s.keys[prev])) {
			prev = i
		}
	}
	if s.flow {
		return e.addFlow(s, prev, e.w.key(st.name, true)+": "+e.w.inline(n))
	}
	at := s.keyAt[0]
	col := e.l.column(at)
	text := e.w.field(st.name, n, col)
	pad := strings.Repeat(" ", col)
	if prev < 0 {
		e.replace(at, at, text+"\n"+pad)
		return true
	}
	end := e.l.lineEnd(s.items[prev].end)
	if !comment(e.text[s.items[prev].end:end]) {
		return false
	}
	gap := ""
	if it := s.items[prev]; !it.flow && len(it.items) > 0 && !it.isAlias {
		end = e.pastComments(end, col)
		if s == e.l.root && e.blankAbove(s.keyAt[prev]) {
			gap = "\n"
		}
	}
	e.replace(end, end, "\n"+gap+pad+text)
	return true
}

// addFlow writes a field or entry into braces or brackets after the one
// numbered prev, -1 for the first place.
func (e *editor) addFlow(s *spot, prev int, text string) bool {
	begin := func(i int) int {
		if s.kind == Table {
			return s.keyAt[i]
		}
		return s.items[i].whole
	}
	// Where each stands on a line of its own, so does the new one.
	between := " "
	if len(s.items) > 0 && e.l.first(begin(0)) {
		between = "\n" + strings.Repeat(" ", e.l.column(begin(0)))
	}
	if prev+1 < len(s.items) {
		at := begin(prev + 1)
		if between != " " && !e.l.first(at) {
			between = " "
		}
		e.replace(at, at, text+","+between)
		return true
	}
	at := s.items[prev].end
	e.replace(at, at, ","+between+text)
	return true
}

// insert writes a new entry into a list that has some.
func (e *editor) insert(s *spot, i int, n *Node) bool {
	if s.flow {
		return e.addFlow(s, i-1, e.w.inline(n))
	}
	col := e.l.column(s.dash[0])
	pad := strings.Repeat(" ", col)
	text := e.w.item(n, col)
	if i == 0 {
		e.replace(s.dash[0], s.dash[0], text+"\n"+pad)
		return true
	}
	it := s.items[i-1]
	end := e.l.lineEnd(it.end)
	if !comment(e.text[it.end:end]) {
		return false
	}
	if !it.flow && len(it.items) > 0 && !it.isAlias {
		end = e.pastComments(end, col)
	}
	e.replace(end, end, "\n"+pad+text)
	return true
}

// comment says that nothing but a comment is left in a line.
func comment(rest string) bool {
	rest = strings.TrimSpace(rest)
	return rest == "" || rest[0] == '#'
}

// pastComments goes on from the end of a line over lines of comment that
// belong to what stands above them: those indented more than col.
func (e *editor) pastComments(end, col int) int {
	for at := end; ; {
		i := strings.IndexByte(e.text[at:], '\n')
		if i < 0 {
			return end
		}
		at += i + 1
		stop := e.l.lineEnd(at)
		line := e.text[at:stop]
		words := strings.TrimLeft(line, " ")
		if words == "" || words[0] != '#' || len(line)-len(words) <= col {
			return end
		}
		end, at = stop, stop
	}
}

// blankAbove says that a blank line parts an entry, with the comments right
// above it, from what stands before.
func (e *editor) blankAbove(at int) bool {
	for start := e.l.lineStart(at); start > 0; {
		above := e.l.lineStart(start - 1)
		line := strings.TrimSpace(e.text[above : start-1])
		if line == "" {
			return true
		}
		if line[0] != '#' {
			return false
		}
		start = above
	}
	return false
}

// cut takes a value out of the text, with the groups and lists that it leaves
// empty.
func (e *editor) cut(ss []step) bool {
	spots := []*spot{e.l.root}
	for _, st := range ss {
		next := spots[len(spots)-1].step(st)
		if next == nil {
			return false
		}
		spots = append(spots, next)
	}
	last := len(ss) - 1
	for last > 0 && spots[last].only(ss[last]) {
		if ss[last-1].list { // an entry counts
			return e.over(spots[last], e.l.root, &Node{Kind: Table})
		}
		last--
	}
	s, st := spots[last], ss[last]
	if s == e.l.root && s.only(st) {
		return false
	}
	if st.list {
		return e.cutEntry(s, st.index)
	}
	for i := len(s.keys) - 1; i >= 0; i-- { // repeats too, which are not read
		if s.keys[i] == st.name && !e.cutEntry(s, i) {
			return false
		}
	}
	return true
}

// only says that a group or list holds nothing but the value one step on.
func (s *spot) only(st step) bool {
	if st.list {
		return len(s.items) == 1
	}
	for _, k := range s.keys {
		if k != st.name {
			return false
		}
	}
	return true
}

// cutEntry takes one field or entry out, which is not the only one.
func (e *editor) cutEntry(s *spot, i int) bool {
	begin := func(i int) int {
		switch {
		case s.kind == Table:
			return s.keyAt[i]
		case s.flow:
			return s.items[i].whole
		}
		return s.dash[i]
	}
	from, to := begin(i), s.items[i].end
	if s.flow {
		return e.cutFlow(s, i, from, to, begin)
	}
	stop := e.l.lineEnd(to)
	if !comment(e.text[to:stop]) {
		return false
	}
	if e.l.first(from) {
		from = e.l.lineStart(from)
		switch {
		case stop < len(e.text):
			stop += strings.IndexByte(e.text[stop:], '\n') + 1
		case from > 0: // the last line, without an end
			from = e.l.lineEnd(e.l.lineStart(from - 1))
		}
		e.replace(from, stop, "")
		return true
	}
	// It stands behind a dash: the next one moves up to it.
	if i+1 >= len(s.items) {
		return false
	}
	next := begin(i + 1)
	if strings.Contains(e.text[stop:next], "#") {
		from = len(strings.TrimRight(e.text[:from], " "))
		next = stop
	}
	e.replace(from, next, "")
	return true
}

func (e *editor) cutFlow(s *spot, i, from, to int, begin func(int) int) bool {
	switch {
	case i+1 < len(s.items) && !strings.Contains(e.text[to:begin(i+1)], "#"):
		to = begin(i + 1)
	case i > 0 && !strings.Contains(e.text[s.items[i-1].end:from], "#"):
		from = s.items[i-1].end
	default:
		return false
	}
	e.replace(from, to, "")
	return true
}
