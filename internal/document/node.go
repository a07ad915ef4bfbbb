package document

import (
	"fmt"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// Kind says what stands at a place in a document.
type Kind int

// The kinds.
const (
	Empty Kind = iota // nothing, or null
	Scalar
	List
	Table // fields with values
)

// Node is a document as written, before its fields have meaning. Numbers are
// kept as their text, so that 17.8 never passes through a float64. Upgrades
// of older formats work on nodes.
type Node struct {
	Kind   Kind
	Text   string // of a scalar, without quotes
	Quoted bool
	Line   int // from 1
	Col    int
	Keys   []Key   // of a table, as many as Items
	Items  []*Node // of a list or a table
}

// Key is the name of a field and where it stands.
type Key struct {
	Name string
	Line int
	Col  int
}

// Field is the value of a field of a table, nil when it is not there.
func (n *Node) Field(name string) *Node {
	if n == nil || n.Kind != Table {
		return nil
	}
	for i, k := range n.Keys {
		if k.Name == name {
			return n.Items[i]
		}
	}
	return nil
}

// Set puts a scalar into a table, over the one that is there, for upgrades.
func (n *Node) Set(name, text string) {
	if old := n.Field(name); old != nil {
		*old = Node{Kind: Scalar, Text: text, Line: old.Line, Col: old.Col}
		return
	}
	n.Keys = append(n.Keys, Key{name, n.Line, n.Col})
	n.Items = append(n.Items, &Node{Kind: Scalar, Text: text, Line: n.Line, Col: n.Col})
}

// size is the number of nodes in n.
func (n *Node) size() int {
	sum := 1
	for _, it := range n.Items {
		sum += it.size()
	}
	return sum
}

func (n *Node) clone() *Node {
	c := *n
	c.Items = make([]*Node, len(n.Items))
	for i, it := range n.Items {
		c.Items[i] = it.clone()
	}
	c.Keys = append([]Key(nil), n.Keys...)
	return &c
}

// maxNodes is the most values a document may hold after its aliases are
// written out: enough for a thousand parts, too few to tire the machine.
const maxNodes = 50_000

// reader turns the syntax tree into nodes, writing aliases out within limits.
type reader struct {
	anchors map[string]*Node
	nodes   int
	probs   Problems
	full    bool // the limit was met and said
}

func (r *reader) problem(line, col int, path, format string, a ...any) {
	r.probs = append(r.probs, Problem{Path: path, Line: line, Col: col, Says: fmt.Sprintf(format, a...)})
}

func (r *reader) count(n int, line, col int) bool {
	r.nodes += n
	if r.nodes > maxNodes && !r.full {
		r.full = true
		r.problem(line, col, "", "The document holds more than %d values once its aliases are written out. Make it smaller.", maxNodes)
	}
	return !r.full
}

func place(t *token.Token) (line, col int) {
	if t == nil || t.Position == nil {
		return 1, 1
	}
	return t.Position.Line, t.Position.Column
}

func (r *reader) node(from ast.Node, path string) *Node {
	if from == nil {
		return &Node{Line: 1, Col: 1}
	}
	n := new(Node)
	n.Line, n.Col = place(from.GetToken())
	if !r.count(1, n.Line, n.Col) {
		return n
	}
	switch a := from.(type) {
	case *ast.NullNode:
	case *ast.MappingNode:
		n.Kind = Table
		for _, v := range a.Values {
			r.entry(n, v, path)
		}
		if len(n.Keys) > 0 && !a.IsFlowStyle {
			n.Line, n.Col = n.Keys[0].Line, n.Keys[0].Col
		}
	case *ast.MappingValueNode:
		n.Kind = Table
		r.entry(n, a, path)
		if len(n.Keys) > 0 {
			n.Line, n.Col = n.Keys[0].Line, n.Keys[0].Col
		}
	case *ast.SequenceNode:
		n.Kind = List
		for i, v := range a.Values {
			n.Items = append(n.Items, r.node(v, entry(path, i)))
			if r.full {
				break
			}
		}
	case *ast.AnchorNode:
		v := r.node(a.Value, path)
		if a.Name != nil {
			r.anchors[a.Name.GetToken().Value] = v
		}
		return v
	case *ast.AliasNode:
		name := ""
		if a.Value != nil {
			name = a.Value.GetToken().Value
		}
		v := r.anchors[name]
		if v == nil {
			r.problem(n.Line, n.Col, path, "%s refers to an anchor &%s that does not stand before it. Write the value out.", orDocument(path), name)
			return n
		}
		if !r.count(v.size(), n.Line, n.Col) {
			return n
		}
		return v.clone()
	case *ast.LiteralNode:
		n.Kind, n.Quoted = Scalar, true
		if a.Value != nil {
			n.Text = a.Value.Value
		}
	case *ast.StringNode:
		n.Kind, n.Text = Scalar, a.Value
		n.Quoted = a.Token.Type == token.SingleQuoteType || a.Token.Type == token.DoubleQuoteType
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		n.Kind, n.Text = Scalar, from.GetToken().Value
	default:
		r.problem(n.Line, n.Col, path, "%s uses a part of YAML that is not read here. Write a plain value.", orDocument(path))
	}
	return n
}

func (r *reader) entry(into *Node, v *ast.MappingValueNode, path string) {
	if r.full {
		return
	}
	line, col := place(v.Key.GetToken())
	if v.Key.IsMergeKey() {
		r.problem(line, col, path, "Merge keys (<<) are not read. Write the fields out.")
		return
	}
	name := v.Key.GetToken().Value
	if s, ok := v.Key.(*ast.StringNode); ok {
		name = s.Value
	}
	here := join(path, name)
	for _, k := range into.Keys {
		if k.Name == name {
			r.problem(line, col, here, "%s is given twice, first in line %d. Leave one of them out.", here, k.Line)
			return
		}
	}
	into.Keys = append(into.Keys, Key{name, line, col})
	into.Items = append(into.Items, r.node(v.Value, here))
}

func orDocument(path string) string {
	if path == "" {
		return "The document"
	}
	return path
}
