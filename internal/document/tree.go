package document

import (
	"fmt"
	"reflect"
)

// The three things a change can do.
const (
	Set    = "set"
	Remove = "remove"
	Insert = "insert"
)

// apply makes a change in the tree of a document: what the text must decode
// to after it. With set and insert, value is the new value. The problem is a
// path that leads nowhere.
func apply(root *Node, path string, do string, ss []step, value *Node) *Problem {
	bad := func(format string, a ...any) *Problem {
		return &Problem{Path: path, Says: fmt.Sprintf(format, a...)}
	}
	last := ss[len(ss)-1]
	if do == Insert && (!last.list || deref(last.in.typ).Kind() == reflect.Array) {
		return bad("%s is not a place in a list that can grow. Name one, such as inside.columns[2].", path)
	}
	if do == Remove && last.list && deref(last.in.typ).Kind() == reflect.Array {
		return bad("%s is one of a fixed number of entries; write another value in its place.", path)
	}
	n, at := root, ""
	for i, st := range ss {
		end := i == len(ss)-1
		next, have := n.step(st)
		if do == Remove && next == nil {
			return bad("%s is not in the document; there is nothing to remove.", path)
		}
		if st.list {
			switch {
			case end && do == Insert && st.index > have, !(end && do == Insert) && st.index >= have:
				return bad("%s has %s; there is no place %s.", orDocument(at), Count(have, "entry"), entry(at, st.index))
			}
			at = entry(at, st.index)
		} else {
			at = join(at, st.name)
		}
		if do != Remove {
			if says := st.bad(); says != "" && next == nil {
				return bad("%s", says)
			}
		}
		if end {
			break
		}
		if next == nil {
			next = &Node{Kind: Table}
			n.put(st, next)
		}
		n = next
	}
	switch do {
	case Set:
		n.put(last, value)
	case Insert:
		n.turn(List)
		n.Items = append(n.Items, nil)
		copy(n.Items[last.index+1:], n.Items[last.index:])
		n.Items[last.index] = value
	case Remove:
		root.remove(ss)
	}
	return nil
}

// step is the value one step further, nil if it is not there, and the number
// of values there are.
func (n *Node) step(st step) (*Node, int) {
	if st.list {
		if n.Kind != List {
			return nil, 0
		}
		return n.entry(st.index), len(n.Items)
	}
	if n.Kind != Table {
		return nil, 0
	}
	return n.Field(st.name), len(n.Items)
}

// turn makes a value one of the kind, dropping what it was otherwise.
func (n *Node) turn(k Kind) {
	if n.Kind != k {
		*n = Node{Kind: k, Line: n.Line, Col: n.Col}
	}
}

// put sets the value one step further.
func (n *Node) put(st step, value *Node) {
	if st.list {
		n.turn(List)
		n.Items[st.index] = value
		return
	}
	n.turn(Table)
	for i, k := range n.Keys {
		if k.Name == st.name {
			n.Items[i] = value
			return
		}
	}
	n.Keys = append(n.Keys, Key{Name: st.name})
	n.Items = append(n.Items, value)
}

// remove takes the value at the end of the steps out, and with it every group
// and list that it leaves empty. An entry of a list stays, as {}: it counts.
func (n *Node) remove(ss []step) {
	if len(ss) > 1 {
		next, _ := n.step(ss[0])
		next.remove(ss[1:])
		if len(next.Items) > 0 || ss[0].list {
			return
		}
	}
	i := ss[0].index
	if !ss[0].list {
		for i = range n.Keys {
			if n.Keys[i].Name == ss[0].name {
				break
			}
		}
		n.Keys = append(n.Keys[:i:i], n.Keys[i+1:]...)
	}
	n.Items = append(n.Items[:i:i], n.Items[i+1:]...)
}

// alike says that two trees decode to the same: the order of keys does not
// matter, nor quotes where they do not change what a word means.
func alike(a, b *Node) bool {
	if a.Kind != b.Kind || len(a.Items) != len(b.Items) {
		return false
	}
	switch a.Kind {
	case Scalar:
		if a.Text != b.Text {
			return false
		}
		_, err := parseBool(a.Text)
		return err != nil || a.Quoted == b.Quoted
	case List:
		for i := range a.Items {
			if !alike(a.Items[i], b.Items[i]) {
				return false
			}
		}
	case Table:
		for i, k := range a.Keys {
			other := b.Field(k.Name)
			if other == nil || !alike(a.Items[i], other) {
				return false
			}
		}
	}
	return true
}
