package document

import (
	"reflect"
	"strconv"
	"strings"

	"casewright/internal/unit"
)

// Tags is what the tests need to know of a field.
type Tags struct {
	Name, Min, Max, Default, Doc, Yes string
	Index                             int
	Type                              reflect.Type
	Need, Some                        bool
	One, Keys                         []string
}

// FieldsOf is the fields of a struct in order.
func FieldsOf(t reflect.Type) []Tags {
	var out []Tags
	for _, f := range fields(t) {
		out = append(out, Tags{f.name, f.min, f.max, f.preset, f.doc, f.yes, f.index, f.typ, f.need, f.some, f.one, f.keys})
	}
	return out
}

// Bounds are the limits of a field in words.
func (t Tags) Bounds() string { return bounds(field{min: t.Min, max: t.Max, some: t.Some}) }

// EditCounting is Edit that also tells how many parts it wrote anew because a
// change in place was not read as meant.
func EditCounting(t Type, prototype any, text []byte, changes []Change) ([]byte, int, error) {
	return edit("", t, prototype, text, changes)
}

// Fragment is a value as a change gives it: bare text, or YAML.
func Fragment(v reflect.Value, sys unit.System) string {
	if v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	if single(v.Type()) {
		return text(v, sys, false)
	}
	e := encoder{sys: sys}
	e.value(v, "")
	return strings.TrimPrefix(e.out.String(), "\n")
}

// Has says that the field at path is in the document.
func (s *Source) Has(path string) bool {
	_, ok := s.at[path]
	return ok
}

// Fresh is a new value of a type with its defaults.
func Fresh(t reflect.Type) reflect.Value {
	v := reflect.New(t).Elem()
	if t.Kind() == reflect.Struct {
		presets(v)
	}
	return v
}

// Dress writes a document in another style that means the same: groups in
// braces or not, words in quotes or not, comments, blank lines, anchors. pick
// draws a number below n.
func Dress(src []byte, pick func(n int) int) []byte {
	root, ps := parseText(string(src))
	if ps != nil {
		panic(ps)
	}
	d := dresser{pick: pick}
	d.block(root, 0, false)
	return []byte(d.b.String())
}

type dresser struct {
	b      strings.Builder
	pick   func(n int) int
	marked []*Node
}

// block writes fields or entries, each on its own line; first says that the
// first goes on in the line.
func (d *dresser) block(n *Node, col int, first bool) {
	for i, it := range n.Items {
		if !first || i > 0 {
			switch d.pick(8) {
			case 0:
				d.b.WriteString("\n")
			case 1:
				d.b.WriteString(strings.Repeat(" ", col) + "# über “" + strconv.Itoa(i) + "”: {x}\n")
			}
			d.b.WriteString(strings.Repeat(" ", col))
		}
		at := col
		if n.Kind == List {
			d.b.WriteByte('-')
			at += 2
		} else {
			d.b.WriteString(writer{}.key(n.Keys[i].Name, false) + ":")
			at += 1 + d.pick(3)
		}
		d.value(it, at, n.Kind == List)
	}
}

func (d *dresser) value(n *Node, col int, dash bool) {
	if d.pick(2) == 0 {
		for i, m := range d.marked {
			if m != nil && alike(m, n) {
				d.b.WriteString(" *a" + strconv.Itoa(i))
				d.end()
				return
			}
		}
	}
	mark := ""
	if d.pick(4) == 0 && len(d.marked) < 20 {
		i := len(d.marked)
		mark = "&a" + strconv.Itoa(i)
		d.marked = append(d.marked, nil)
		defer func() { d.marked[i] = n }()
	}
	if n.Kind == Scalar || len(n.Items) == 0 || d.pick(3) == 0 {
		d.b.WriteString(strings.Repeat(" ", 1+d.pick(2)) + mark)
		if mark != "" {
			d.b.WriteByte(' ')
		}
		d.flow(n, col, true)
		d.end()
		return
	}
	if dash && mark == "" && d.pick(2) == 0 {
		d.b.WriteByte(' ')
		d.block(n, col, true)
		return
	}
	if mark != "" {
		d.b.WriteString(" " + mark)
	}
	d.end()
	d.block(n, col, false)
}

func (d *dresser) end() {
	if d.pick(4) == 0 {
		d.b.WriteString(strings.Repeat(" ", 1+d.pick(6)) + "# so")
	}
	d.b.WriteByte('\n')
}

func (d *dresser) flow(n *Node, col int, outer bool) {
	lines := outer && len(n.Items) > 0 && d.pick(5) == 0
	part := func(i int) {
		if i > 0 {
			d.b.WriteByte(',')
		}
		switch {
		case lines:
			d.b.WriteString("\n" + strings.Repeat(" ", col+2))
		case i > 0 && d.pick(6) > 0:
			d.b.WriteByte(' ')
		}
	}
	switch n.Kind {
	case Empty:
		d.b.WriteByte('~')
	case Scalar:
		_, err := parseBool(n.Text)
		switch s := (writer{}).scalar(n, true); {
		case d.pick(4) > 0 || err == nil:
			d.b.WriteString(s)
		case d.pick(2) == 0 && !strings.ContainsAny(n.Text, "\n\r\t"):
			d.b.WriteString("'" + strings.ReplaceAll(n.Text, "'", "''") + "'")
		default:
			d.b.WriteString(double(n.Text))
		}
	case List:
		d.b.WriteByte('[')
		for i, it := range n.Items {
			part(i)
			d.flow(it, col, false)
		}
		d.b.WriteByte(']')
	case Table:
		d.b.WriteByte('{')
		for i, it := range n.Items {
			part(i)
			d.b.WriteString(writer{}.key(n.Keys[i].Name, true) + ": ")
			d.flow(it, col, false)
		}
		d.b.WriteByte('}')
	}
}
