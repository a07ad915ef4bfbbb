package document

import (
	"strings"
)

// replace writes text over [from, to).
func (e *editor) replace(from, to int, text string) {
	e.text = e.text[:from] + text + e.text[to:]
}

// free makes the places that a change touches belong to one path only:
// aliases on the way are written out, and anchored values that are about to
// change hand their anchor to their first alias. The meaning of the document
// stays. It is false when the layout cannot be followed.
func (e *editor) free(do string, ss []step) bool {
	for range 2 * maxMarks {
		if e.l == nil {
			return false
		}
		done, ok := e.freeOne(do, ss)
		if done || !ok {
			return ok
		}
		was := e.root
		if !e.means(was) {
			return false
		}
	}
	return false
}

// freeOne does one step of free; done says that there was none left to do.
func (e *editor) freeOne(do string, ss []step) (done, ok bool) {
	s := e.l.root
	var shared []*spot // that will change
	for i, st := range ss {
		if s.anchor != "" {
			shared = append(shared, s)
		}
		s = s.step(st)
		if s == nil {
			break
		}
		if s.isAlias && i < len(ss)-1 {
			if s.alias == nil {
				return false, false
			}
			e.replace(s.start, s.end, e.written(s.alias, s))
			return false, true
		}
		if i == len(ss)-1 && do != Insert { // an entry that one is put before stays
			shared = append(shared, anchored(s)...)
		}
	}
	from, to := 0, 0
	if s != nil {
		from, to = s.whole, s.end
	}
	for _, a := range shared {
		within := false // an alias that goes with the value
		for _, other := range e.l.aliases {
			if other.alias != a {
				continue
			}
			if from <= other.start && other.end <= to {
				within = true
				continue
			}
			// Aliases stand after their anchor, so this place is written first.
			e.replace(other.start, other.end, strings.TrimRight("&"+a.anchor+" "+e.written(a, other), " "))
			if within {
				// Until it goes it needs the anchor before it. YAML lets two
				// anchors have one name; aliases mean the last before them.
				return false, true
			}
			end := a.whole + 1 + len(a.anchor)
			rest := strings.TrimLeft(e.text[end:], " ")
			gap := len(e.text) - end - len(rest)
			start := a.whole
			if rest == "" || rest[0] == '\n' {
				start = len(strings.TrimRight(e.text[:start], " "))
			}
			e.replace(start, end+gap, "")
			return false, true
		}
	}
	return true, true
}

// anchored are the values with anchors in s, itself too.
func anchored(s *spot) []*spot {
	var out []*spot
	if s.anchor != "" {
		out = append(out, s)
	}
	for _, it := range s.items {
		out = append(out, anchored(it)...)
	}
	return out
}

// written is the value of s as it is to stand at the place of at.
func (e *editor) written(s, at *spot) string {
	n := s.node()
	if s.flow || at.flow || s.kind == Scalar || len(n.Items) == 0 {
		return e.w.inline(n)
	}
	col := e.owner(at)
	if col < 0 {
		return e.w.inline(n)
	}
	return "\n" + e.w.block(n, col+2)
}

// owner is the column of the key or dash that a value belongs to, -1 if it
// does not begin its line or a dash's.
func (e *editor) owner(at *spot) int {
	line := e.l.lineStart(at.whole)
	before := e.text[line:at.whole]
	key := strings.TrimLeft(before, " -")
	if key == "" {
		return strings.LastIndexByte(before, '-')
	}
	return e.l.column(line + len(before) - len(key))
}

// splice makes a change in the text alone. It is false when it cannot be made
// in place.
func (e *editor) splice(do string, ss []step, value *Node) bool {
	if do == Remove {
		return e.cut(ss)
	}
	s := e.l.root
	for i, st := range ss {
		next := s.step(st)
		if i == len(ss)-1 && do == Insert {
			if s.kind != List || len(s.items) == 0 {
				return e.over(s, e.l.root, &Node{Kind: List, Items: []*Node{value}})
			}
			return e.insert(s, st.index, value)
		}
		if next == nil {
			rest := nest(do, ss[i+1:], value)
			if st.list {
				return false
			}
			if s.kind != Table || len(s.items) == 0 {
				n := &Node{Kind: Table, Keys: []Key{{Name: st.name}}, Items: []*Node{rest}}
				return e.over(s, e.l.root, n)
			}
			return e.add(s, st, rest)
		}
		s = next
	}
	return e.over(s, e.l.root, value)
}

// nest is value within the groups that lead to it.
func nest(do string, ss []step, value *Node) *Node {
	for i := len(ss) - 1; i >= 0; i-- {
		n := &Node{Kind: Table, Items: []*Node{value}}
		if ss[i].list {
			n.Kind = List
		} else {
			n.Keys = []Key{{Name: ss[i].name}}
		}
		value = n
	}
	return value
}

// over writes a value over that of s.
func (e *editor) over(s, root *spot, n *Node) bool {
	if s == root {
		return false
	}
	if n.Kind == Scalar && (s.kind == Scalar || s.isAlias) {
		e.scalar(s, n)
		return true
	}
	col := e.owner(s)
	if s.kind != Scalar && !s.flow && !s.isAlias && len(s.items) > 0 { // a block
		if len(n.Items) > 0 && n.Kind != Scalar && !e.w.besideBlock(n, s, e.l) {
			col := e.l.column(s.start)
			e.replace(s.start, s.end, e.w.block(n, col)[col:])
			return true
		}
		// From the colon or dash on; a comment between stays on its line.
		from := len(strings.TrimRight(e.text[:s.whole], " \n"))
		if strings.IndexByte(e.text[e.l.lineStart(from):from], '#') >= 0 {
			e.replace(s.start, s.end, e.w.inline(n))
			return true
		}
		text := " " + e.w.inline(n)
		if n.Kind == Empty {
			text = ""
		}
		e.replace(from, s.end, text)
		return true
	}
	text := e.w.inline(n)
	if !s.flow || s == root {
		if col >= 0 && !e.w.beside(n, e.l.column(s.start)) && n.Kind != Scalar && !s.bracketed(e.text) {
			text = "\n" + e.w.block(n, col+2)
			s.start = len(strings.TrimRight(e.text[:s.start], " "))
		}
	}
	if n.Kind == Empty && !s.flow {
		text = ""
	}
	if s.start > 0 && text != "" && strings.IndexByte(":-", e.text[s.start-1]) >= 0 && text[0] != '\n' {
		text = " " + text
	}
	e.replace(s.start, s.end, text)
	return true
}

// bracketed says that a value stands in brackets or braces of its own.
func (s *spot) bracketed(text string) bool {
	return s.start < len(text) && (text[s.start] == '{' || text[s.start] == '[')
}

// besideBlock says that a value that replaces a block goes in one line.
func (w writer) besideBlock(n *Node, s *spot, l *layout) bool {
	return len(s.dash) > 0 && l.first(s.dash[0]) && w.beside(n, l.column(s.start)) && n.Kind == List
}

// scalar writes a single value over another, in the same quotes where it is a
// word, and keeps the comment behind it in its column.
func (e *editor) scalar(s *spot, n *Node) {
	text := e.w.scalar(n, s.flow)
	if old := e.text[s.start:s.end]; old != "" && !strings.ContainsAny(n.Text, "\n\r\t") && n.Text != "" {
		_, err := parseBool(n.Text)
		switch {
		case err == nil || text[0] == '"' || text[0] == '\'':
		case old[0] == '"':
			text = double(n.Text)
		case old[0] == '\'' && !strings.Contains(n.Text, "'"):
			text = "'" + n.Text + "'"
		}
	}
	end := s.end
	rest := e.text[end:e.l.lineEnd(end)]
	if spaces := len(rest) - len(strings.TrimLeft(rest, " ")); spaces > 1 && spaces < len(rest) && rest[spaces] == '#' {
		had, has := len([]rune(e.text[s.start:s.end])), len([]rune(text))
		text += strings.Repeat(" ", max(1, spaces+had-has))
		end += spaces
	}
	if s.start > 0 && s.start == s.end && e.text[s.start-1] != ' ' {
		text = " " + text
	}
	e.replace(s.start, end, text)
}
