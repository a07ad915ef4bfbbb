package document

import (
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// spot is where a value stands in the text, for editing it in place. Places
// are bytes from the beginning.
type spot struct {
	kind       Kind
	flow       bool // in { } or [ ], or within such
	start, end int  // of the value without its anchor
	whole      int  // start of the value with its anchor
	anchor     string
	alias      *spot // what an alias stands for, nil if this is none
	isAlias    bool
	scalar     Node // text of a scalar

	keys  []string // of a table, repeats too
	keyAt []int    // where each key begins
	after []int    // past each colon or dash
	dash  []int    // of a block list
	items []*spot
}

// layout finds the places of all values of a text.
type layout struct {
	text    string
	lines   []int // where each line begins
	tokens  []int // where each word and sign begins
	anchors map[string]*spot
	aliases []*spot // in the order of the text
	root    *spot
}

// lay is the layout of a text that has been parsed into body and tokens. It
// is nil when the library's places do not fit the text.
func lay(text string, body ast.Node, tokens token.Tokens) (l *layout) {
	defer func() {
		if recover() != nil {
			l = nil
		}
	}()
	l = &layout{text: text, anchors: map[string]*spot{}, lines: []int{0}}
	for i := range len(text) {
		if text[i] == '\n' {
			l.lines = append(l.lines, i+1)
		}
	}
	for _, t := range tokens {
		if t.Position != nil && t.Position.Column > 0 {
			l.tokens = append(l.tokens, l.at(t))
		}
	}
	sort.Ints(l.tokens)
	l.root = l.spot(body, false, -1, 0)
	return l
}

// at is the byte at which a word or sign begins.
func (l *layout) at(t *token.Token) int {
	i := l.lines[t.Position.Line-1]
	for range t.Position.Column - 1 {
		_, n := utf8.DecodeRuneInString(l.text[i:])
		i += n
	}
	return i
}

// spot is the layout of a value. from is past the colon or dash before it,
// indent the column (from 0) of the key or dash it belongs to.
func (l *layout) spot(n ast.Node, flow bool, indent, from int) *spot {
	s := &spot{flow: flow}
	switch a := n.(type) {
	case nil:
		s.start, s.end = from, from
	case *ast.NullNode:
		if a.Token.Type == token.ImplicitNullType || a.Token.Position.Column < 1 {
			s.start, s.end = from, from
			break
		}
		s.start = l.at(a.Token)
		s.end = l.plainEnd(s.start)
	case *ast.MappingNode:
		s.kind = Table
		if s.flow = flow || a.IsFlowStyle; a.IsFlowStyle {
			s.start, s.end = l.at(a.Start), l.at(a.End)+1
		}
		for _, v := range a.Values {
			l.entry(s, v)
		}
		if !a.IsFlowStyle {
			l.span(s)
		}
	case *ast.MappingValueNode:
		s.kind = Table
		l.entry(s, a)
		l.span(s)
	case *ast.SequenceNode:
		s.kind = List
		if s.flow = flow || a.IsFlowStyle; a.IsFlowStyle {
			s.start, s.end = l.at(a.Start), l.at(a.End)+1
		}
		for i, v := range a.Values {
			at, in := 0, indent
			if !a.IsFlowStyle {
				d := l.at(a.Entries[i].Start)
				s.dash = append(s.dash, d)
				at, in = d+1, l.column(d)
			}
			s.after = append(s.after, at)
			s.items = append(s.items, l.spot(v, s.flow, in, at))
		}
		if !a.IsFlowStyle {
			l.span(s)
		}
	case *ast.AnchorNode:
		at := l.at(a.Start)
		name := a.Name.GetToken()
		s = l.spot(a.Value, flow, indent, l.at(name)+len(name.Value))
		s.whole, s.anchor = at, name.Value
		l.anchors[s.anchor] = s
		return s
	case *ast.AliasNode:
		name := a.Value.GetToken()
		s.start, s.end = l.at(a.Start), l.at(name)+len(name.Value)
		s.isAlias, s.alias, s.anchor = true, l.anchors[name.Value], ""
		if s.alias != nil {
			s.kind = s.alias.kind
		}
		l.aliases = append(l.aliases, s)
	case *ast.LiteralNode:
		s.kind = Scalar
		s.scalar = *(&reader{}).node(n, "")
		s.start = l.at(a.Start)
		s.end = l.blockEnd(s.start, indent)
	default:
		s.kind = Scalar
		s.scalar = *(&reader{}).node(n, "")
		s.start = l.at(n.GetToken())
		switch l.text[s.start] {
		case '"', '\'':
			s.end = l.quotedEnd(s.start)
		default:
			s.end = l.plainEnd(s.start)
		}
	}
	s.whole = s.start
	return s
}

func (l *layout) entry(s *spot, v *ast.MappingValueNode) {
	name := v.Key.GetToken().Value
	if k, ok := v.Key.(*ast.StringNode); ok {
		name = k.Value
	}
	at := l.at(v.Key.GetToken())
	colon := l.at(v.Start) + 1
	s.keys = append(s.keys, name)
	s.keyAt = append(s.keyAt, at)
	s.after = append(s.after, colon)
	s.items = append(s.items, l.spot(v.Value, s.flow, l.column(at), colon))
}

// span is the extent of a table or list without brackets.
func (l *layout) span(s *spot) {
	if len(s.items) == 0 {
		return
	}
	s.start = append(append([]int{}, s.dash...), s.keyAt...)[0]
	s.end = s.items[len(s.items)-1].end
}

// column counts the characters before a place in its line.
func (l *layout) column(at int) int {
	line := sort.SearchInts(l.lines, at+1) - 1
	return utf8.RuneCountInString(l.text[l.lines[line]:at])
}

// plainEnd is the end of a scalar without quotes: the last sign before the
// next word.
func (l *layout) plainEnd(at int) int {
	next := len(l.text)
	if i := sort.SearchInts(l.tokens, at+1); i < len(l.tokens) {
		next = l.tokens[i]
	}
	return at + len(strings.TrimRight(l.text[at:next], " \t\n"))
}

func (l *layout) quotedEnd(at int) int {
	q := l.text[at]
	for i := at + 1; i < len(l.text); i++ {
		switch {
		case q == '"' && l.text[i] == '\\':
			i++
		case l.text[i] == q && q == '\'' && i+1 < len(l.text) && l.text[i+1] == q:
			i++
		case l.text[i] == q:
			return i + 1
		}
	}
	return len(l.text)
}

// blockEnd is the end of a text after | or >: all further lines that are
// indented more than what it belongs to.
func (l *layout) blockEnd(at, indent int) int {
	end := l.lineEnd(at)
	for i := sort.SearchInts(l.lines, at+1); i < len(l.lines); i++ {
		line := l.text[l.lines[i]:l.lineEnd(l.lines[i])]
		words := strings.TrimLeft(line, " ")
		if strings.TrimSpace(line) == "" {
			continue
		}
		if len(line)-len(words) <= indent {
			break
		}
		end = l.lines[i] + len(line)
	}
	return end
}

// lineEnd is the end of the line of a place.
func (l *layout) lineEnd(at int) int {
	if i := strings.IndexByte(l.text[at:], '\n'); i >= 0 {
		return at + i
	}
	return len(l.text)
}

// lineStart is the beginning of the line of a place.
func (l *layout) lineStart(at int) int {
	return strings.LastIndexByte(l.text[:at], '\n') + 1
}

// first says that only spaces stand before a place in its line.
func (l *layout) first(at int) bool {
	return strings.Trim(l.text[l.lineStart(at):at], " ") == ""
}

// find is the number of the first entry with that key, -1 if there is none.
func (s *spot) find(key string) int {
	for i, k := range s.keys {
		if k == key {
			return i
		}
	}
	return -1
}

// step is the value one step further, nil if it is not there.
func (s *spot) step(st step) *spot {
	i := st.index
	switch {
	case st.list && s.kind != List, !st.list && s.kind != Table:
		return nil
	case !st.list:
		i = s.find(st.name)
	}
	if i < 0 || i >= len(s.items) {
		return nil
	}
	return s.items[i]
}

// node is the value with its aliases written out.
func (s *spot) node() *Node {
	if s.alias != nil {
		return s.alias.node()
	}
	if s.kind == Scalar {
		n := s.scalar
		return &n
	}
	n := &Node{Kind: s.kind}
	for i, it := range s.items {
		if s.kind == Table {
			if s.find(s.keys[i]) < i {
				continue
			}
			n.Keys = append(n.Keys, Key{Name: s.keys[i]})
		}
		n.Items = append(n.Items, it.node())
	}
	return n
}
