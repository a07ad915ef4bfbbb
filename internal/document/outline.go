package document

import (
	"bytes"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"casewright/internal/unit"
)

// Field is one line of a document's outline: a value with what is typed there
// and what it is understood as, or a group, list or map of such.
type Field struct {
	Path string `json:"path"`
	Name string `json:"name" doc:"the field's own name, the key in a map, or the number from 1 in a list"`
	// Kind is size, angle, money, number, count, choice, yesno, key, text,
	// date, group, list or map; unknown for a name the document has and its
	// type does not.
	Kind string `json:"kind" enum:"size,angle,money,number,count,choice,yesno,key,text,date,group,list,map,unknown"`
	Of   string `json:"of,omitempty" doc:"with kind key: what it is a key of"`
	Doc  string `json:"doc,omitempty" doc:"a sentence about the field"`

	Given bool   `json:"given" doc:"it is in the document"`
	Text  string `json:"text,omitempty" doc:"as typed; of a group in a list or map, all of it as one line of YAML"`
	Value string `json:"value,omitempty" doc:"what it is understood as, also where it is left out and has a default; empty when it cannot be read"`
	Other string `json:"other,omitempty" doc:"a size in the other unit"`
	Left  string `json:"left,omitempty" doc:"what it is when left out"`

	Need    bool     `json:"need,omitempty" doc:"it must be given"`
	Min     string   `json:"min,omitempty"`
	Max     string   `json:"max,omitempty"`
	Choices []string `json:"choices,omitempty"`
	Keys    []string `json:"keys,omitempty" doc:"of a map: the keys it may have; none when they are free"`
	Blank   string   `json:"blank,omitempty" doc:"what to write for a new group here, or for a new entry of this list or map; empty when a single value is wanted"`
	Fixed   bool     `json:"fixed,omitempty" doc:"of a list: its length is fixed"`

	Line     int     `json:"line,omitempty" doc:"in the text, from 1"`
	Problem  string  `json:"problem,omitempty" doc:"what is wrong with it"`
	Children []Field `json:"children,omitempty"`
}

// Outline is the document in text as a tree of fields, in the order of its
// type: those that are written and those that could be. prototype is a value
// of the document's type, or a pointer to one. A text with problems has an
// outline too, with the problems at their places; one that cannot be read at
// all has only the problem.
func Outline(t Type, prototype any, text []byte) Field {
	typ := deref(reflect.TypeOf(prototype))
	into := reflect.New(typ)
	src := Decode("", bytes.NewReader(text), t, into.Interface())
	var ps Problems
	if err := src.Err(nil); err != nil {
		ps = src.Err(nil).(Problems)
	}
	root, _ := parse(bytes.NewReader(text))
	if root == nil || src.at == nil {
		f := Field{Kind: "group", Line: 1, Problem: "The document cannot be read."}
		if len(ps) > 0 {
			f.Problem, f.Line = ps[0].Says, ps[0].Line
		}
		return f
	}
	if n := root.Field("format"); n != nil && n.Text != strconv.Itoa(t.Format) {
		(&Source{}).format(root, t) // names as they are now
	}
	o := outliner{at: map[string]*Field{}}
	if n := root.Field("units"); n != nil && n.Text == unit.Imperial.String() {
		o.sys = unit.Imperial
	}
	out := o.value(field{typ: typ}, root, "", "")
	o.index(&out)
	for _, p := range ps {
		o.say(p)
	}
	return out
}

type outliner struct {
	sys unit.System
	at  map[string]*Field
}

// index remembers where each path is, once the tree stands.
func (o *outliner) index(f *Field) {
	o.at[f.Path] = f
	for i := range f.Children {
		o.index(&f.Children[i])
	}
}

// say puts a problem at its field, or the nearest that it is part of. The
// first one stands.
func (o *outliner) say(p Problem) {
	for path := p.Path; ; {
		if f := o.at[path]; f != nil {
			if f.Problem == "" {
				f.Problem = p.Says
			}
			return
		}
		path = path[:max(0, strings.LastIndexAny(path, ".["))]
	}
}

// value is the outline of the value n of field f, nil when it is left out.
func (o *outliner) value(f field, n *Node, path, name string) Field {
	t := deref(f.typ)
	out := Field{Path: path, Name: name, Need: f.need, Given: n != nil}
	out.Doc, out.Left, _ = strings.Cut(f.doc, "; left out: ")
	if n != nil {
		out.Line = n.Line
	}
	switch {
	case single(t):
		o.single(&out, f, t, n)
	case t.Kind() == reflect.Struct:
		out.Kind, out.Blank = "group", blank(t)
		o.group(&out, t, n)
	case t.Kind() == reflect.Map:
		out.Kind, out.Keys = "map", f.keys
		o.entries(&out, f, t, n)
	default:
		out.Kind, out.Fixed = "list", t.Kind() == reflect.Array
		o.list(&out, f, t, n)
	}
	return out
}

func (o *outliner) single(out *Field, f field, t reflect.Type, n *Node) {
	out.Kind, out.Of, out.Choices = kindOf(f, t), f.of, f.one
	out.Min, out.Max = o.limit(t, f.min), o.limit(t, f.max)
	if out.Kind == "date" {
		out.Of = ""
	}
	v := reflect.New(t).Elem()
	switch {
	case n != nil:
		out.Text = n.Text
		if n.Kind != Scalar {
			out.Text = writer{}.inline(n)
			return
		}
		text := n.Text
		if b, err := parseBool(text); f.yes != "" && err == nil && !n.Quoted {
			if text = "0"; b {
				text = f.yes
			}
		}
		if setText(v, text, o.sys) != nil {
			return
		}
	case f.preset != "":
		if setText(v, f.preset, unit.Metric) != nil {
			return
		}
	default:
		if t.Kind() == reflect.Bool && out.Left == "" && f.typ.Kind() != reflect.Pointer {
			out.Value, out.Left = "no", "no"
		}
		return
	}
	out.Value, out.Other = o.shown(v)
	if f.preset != "" && out.Left == "" {
		p := reflect.New(t).Elem()
		if setText(p, f.preset, unit.Metric) == nil {
			out.Left, _ = o.shown(p)
		}
	}
}

// shown is a value in words, a size also in the other unit.
func (o *outliner) shown(v reflect.Value) (own, other string) {
	switch v.Type() {
	case lengthType:
		l := unit.Length(v.Int())
		mm, in := l.Format(unit.TenthMM), l.Format(unit.Inch32nds)
		if l%unit.Inch64 == 0 || o.sys == unit.Imperial {
			in = l.Format(unit.Inch64ths)
		}
		if o.sys == unit.Imperial {
			return in, mm
		}
		return mm, in
	case angleType:
		return strings.TrimSuffix(angleText(unit.Angle(v.Float()), true), " deg") + "°", ""
	}
	return text(v, o.sys, true), ""
}

func (o *outliner) limit(t reflect.Type, text string) string {
	if text == "" {
		return ""
	}
	v := reflect.New(t).Elem()
	if setText(v, text, unit.Metric) != nil {
		return text
	}
	own, _ := o.shown(v)
	return own
}

// kindOf names the kind of a single value.
func kindOf(f field, t reflect.Type) string {
	switch t {
	case lengthType:
		return "size"
	case angleType:
		return "angle"
	case moneyType:
		return "money"
	}
	switch {
	case len(f.one) > 0:
		return "choice"
	case f.of == "date":
		return "date"
	case f.of != "":
		return "key"
	}
	switch t.Kind() {
	case reflect.Bool:
		return "yesno"
	case reflect.Int:
		return "count"
	case reflect.Float64:
		return "number"
	}
	return "text"
}

func (o *outliner) group(out *Field, t reflect.Type, n *Node) {
	fs := fields(t)
	for _, f := range fs {
		out.Children = append(out.Children, o.value(f, n.Field(f.name), join(out.Path, f.name), f.name))
	}
	if n == nil || n.Kind != Table {
		o.misfit(out, n)
		return
	}
	for i, k := range n.Keys {
		if find(fs, k.Name) == nil {
			out.Children = append(out.Children, o.unknown(out.Path, k, n.Items[i]))
		}
	}
}

// unknown is a field that the type does not have.
func (o *outliner) unknown(in string, k Key, n *Node) Field {
	return Field{
		Path: join(in, shorten(k.Name)), Name: shorten(k.Name), Kind: "unknown", Given: true,
		Text: shorten(writer{}.inline(n)), Line: k.Line,
	}
}

// misfit keeps what is typed where something else must stand.
func (o *outliner) misfit(out *Field, n *Node) {
	if n != nil && n.Kind != Empty {
		out.Text = writer{}.inline(n)
	}
}

// elem is the field that each entry of a list or map is.
func elem(f field, t reflect.Type) field {
	return field{
		name: f.name, typ: t.Elem(), min: f.min, max: f.max, one: f.one, of: f.of, yes: f.yes,
	}
}

func (o *outliner) entries(out *Field, f field, t reflect.Type, n *Node) {
	e := elem(f, t)
	if e.typ.Kind() == reflect.Struct {
		out.Blank = blank(e.typ)
	}
	if n != nil && n.Kind != Table {
		o.misfit(out, n)
		n = nil
	}
	add := func(k string) {
		c := o.value(e, n.Field(k), join(out.Path, k), k)
		if c.Given && c.Kind == "group" {
			c.Text = writer{}.inline(n.Field(k))
		}
		out.Children = append(out.Children, c)
	}
	for _, k := range f.keys {
		add(k)
	}
	if n == nil {
		return
	}
	for i, k := range n.Keys {
		switch {
		case f.keys == nil && badKey(k.Name) == "":
			add(k.Name)
		case !slices.Contains(f.keys, k.Name):
			out.Children = append(out.Children, o.unknown(out.Path, k, n.Items[i]))
		}
	}
}

func (o *outliner) list(out *Field, f field, t reflect.Type, n *Node) {
	e := elem(f, t)
	if e.typ.Kind() == reflect.Struct {
		out.Blank = blank(e.typ)
	}
	if n != nil && n.Kind != List {
		o.misfit(out, n)
		n = nil
	}
	count := 0
	if n != nil {
		count = len(n.Items)
	}
	if out.Fixed {
		count = t.Len()
		for i, p := range strings.Split(f.preset, ",") {
			if i == 0 && f.preset != "" && out.Left == "" {
				out.Left = p
			} else if f.preset != "" && i > 0 {
				out.Left += " × " + strings.TrimSpace(p)
			}
		}
	}
	for i := range count {
		c := o.value(e, n.entry(i), entry(out.Path, i), strconv.Itoa(i+1))
		if c.Given && c.Kind == "group" {
			c.Text = writer{}.inline(n.Items[i])
		}
		out.Children = append(out.Children, c)
	}
}

// blank is the least that a new group of a type needs: its first choices
// where it must have one. What else it must have is said when it is missing.
func blank(t reflect.Type) string {
	n := &Node{Kind: Table}
	for _, f := range fields(t) {
		if f.need && len(f.one) > 0 {
			n.Keys = append(n.Keys, Key{Name: f.name})
			n.Items = append(n.Items, &Node{Kind: Scalar, Text: f.one[0]})
		}
	}
	return writer{}.inline(n)
}
