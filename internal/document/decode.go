package document

import (
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"casewright/internal/unit"
)

// Type is a type of document: its name, the version of its format that this
// program writes, and how older ones are brought up to date.
type Type struct {
	Name   string // such as piece
	Format int
	// Upgrades changes a document of the format that is its key into one of
	// the next.
	Upgrades map[int]func(root *Node)
}

// Source remembers where the fields of a document stand.
type Source struct {
	file  string
	at    map[string][2]int // nil when nothing could be read
	probs Problems
}

// Decode reads a document into the struct that into points to. The file name
// is only for the problems. Fields left out get their defaults. What cannot be
// read leaves its field as it was, so that the rules between fields can still
// be looked at; Source.Err then gives all problems. The struct must have
// fields named format and units.
func Decode(name string, r io.Reader, t Type, into any) *Source {
	src := &Source{file: name}
	v := reflect.ValueOf(into).Elem()
	root, probs := parse(r)
	src.probs = probs
	if root == nil {
		return src
	}
	if !src.format(root, t) {
		return src
	}
	src.at = map[string][2]int{}
	d := decoder{src: src}
	if n := root.Field("units"); n != nil && n.Kind == Scalar && n.Text == unit.Imperial.String() {
		d.sys = unit.Imperial
	}
	presets(v)
	d.table(root, v, "")
	return src
}

// Err is every problem of the document and of the rules between fields, in
// the order of the file, or nil. Rules about a field that could not be read
// are left out.
func (s *Source) Err(rules Problems) error {
	if s.at == nil {
		rules = nil
	}
	all := s.probs.And(rules)
	for i := range all {
		if all[i].Line == 0 && s.at != nil {
			all[i].Line, all[i].Col = s.Place(all[i].Path)
		}
	}
	for i := range all {
		all[i].File = s.file
	}
	return all.sorted().Err()
}

// Place is the line and column of the field at path, or of the nearest field
// that it is part of.
func (s *Source) Place(path string) (line, col int) {
	for {
		if at, ok := s.at[path]; ok {
			return at[0], at[1]
		}
		cut := strings.LastIndexAny(path, ".[")
		if cut < 0 {
			break
		}
		path = path[:cut]
	}
	at := s.at[""]
	return at[0], at[1]
}

// format reads the version and brings an older document up to date. It is
// false when the rest cannot be read.
func (s *Source) format(root *Node, t Type) bool {
	n := root.Field("format")
	if n == nil {
		return true // said with the other fields that are missing
	}
	have, err := strconv.Atoi(n.Text)
	say := func(text string) {
		s.probs = append(s.probs, Problem{Path: "format", Line: n.Line, Col: n.Col, Says: text})
	}
	switch {
	case n.Kind != Scalar || err != nil:
		say(fmt.Sprintf("format must be a whole number. Write “format: %d”.", t.Format))
		have = t.Format
		*n = Node{Kind: Scalar, Text: strconv.Itoa(t.Format), Line: n.Line, Col: n.Col}
	case have > t.Format:
		say(fmt.Sprintf("This %s is of format %d; this program reads up to format %d. Use a newer casewright to open it.", t.Name, have, t.Format))
		return false
	case have < 1:
		say(fmt.Sprintf("format is %d; formats count from 1. Write “format: %d”.", have, t.Format))
		return false
	}
	for ; have < t.Format; have++ {
		up := t.Upgrades[have]
		if up == nil {
			say(fmt.Sprintf("This %s is of format %d, which is no longer read. Write it anew as format %d.", t.Name, have, t.Format))
			return false
		}
		up(root)
		root.Set("format", strconv.Itoa(have+1))
	}
	return true
}

// decoder gives nodes their meaning.
type decoder struct {
	src *Source
	sys unit.System
}

func (d *decoder) say(n *Node, path, format string, args ...any) {
	d.src.probs = append(d.src.probs, Problem{Path: path, Line: n.Line, Col: n.Col, Says: fmt.Sprintf(format, args...)})
}

// table reads the fields of a struct.
func (d *decoder) table(n *Node, v reflect.Value, path string) {
	d.src.at[path] = [2]int{n.Line, n.Col}
	if n.Kind != Table && n.Kind != Empty {
		d.wrongKind(n, v.Type(), path)
		return
	}
	fs := fields(v.Type())
	for i, k := range n.Keys {
		f := find(fs, k.Name)
		if f == nil {
			d.unknown(k, fs, path)
			continue
		}
		here := join(path, k.Name)
		d.value(n.Items[i], v.Field(f.index), *f, here)
	}
	for _, f := range fs {
		if f.need && n.Field(f.name) == nil && !d.said(join(path, f.name)) {
			d.say(n, join(path, f.name), "%s is missing (%s). Add it.", join(path, f.name), f.doc)
		}
	}
}

// said says that a problem at path is already known.
func (d *decoder) said(path string) bool {
	return slices.ContainsFunc(d.src.probs, func(p Problem) bool { return p.Path == path })
}

func find(fs []field, name string) *field {
	for i := range fs {
		if fs[i].name == name {
			return &fs[i]
		}
	}
	return nil
}

func (d *decoder) unknown(k Key, fs []field, path string) {
	names := make([]string, len(fs))
	for i, f := range fs {
		names[i] = f.name
	}
	where := "the document"
	if path != "" {
		where = path
	}
	at := &Node{Line: k.Line, Col: k.Col}
	here := join(path, shorten(k.Name))
	if near, ok := Nearest(k.Name, names); ok {
		d.say(at, here, "%s is not a field of %s; did you mean %s?", shorten(k.Name), where, near)
		return
	}
	d.say(at, here, "%s is not a field of %s. Its fields are %s.", shorten(k.Name), where, Either(names))
}

func (d *decoder) wrongKind(n *Node, t reflect.Type, path string) {
	is := "text"
	switch n.Kind {
	case List:
		is = "a list"
	case Table:
		is = "a table of fields"
	case Scalar:
		is = "“" + shorten(n.Text) + "”"
	}
	d.say(n, path, "%s is %s; it must be %s.", orDocument(path), is, expected(t))
}

// value reads the value of field f.
func (d *decoder) value(n *Node, v reflect.Value, f field, path string) {
	d.src.at[path] = [2]int{n.Line, n.Col}
	switch v.Kind() {
	case reflect.Pointer:
		to := reflect.New(v.Type().Elem())
		if to.Elem().Kind() == reflect.Struct {
			presets(to.Elem())
		}
		v.Set(to)
		d.value(n, to.Elem(), f, path)
	case reflect.Struct:
		d.table(n, v, path)
	case reflect.Map:
		d.entries(n, v, f, path)
	case reflect.Slice, reflect.Array:
		d.list(n, v, f, path)
	default:
		d.scalar(n, v, f, path)
	}
}

// entries reads a map whose keys the maker chooses, or one with given keys.
func (d *decoder) entries(n *Node, v reflect.Value, f field, path string) {
	if n.Kind != Table && n.Kind != Empty {
		d.wrongKind(n, v.Type(), path)
		return
	}
	if len(n.Keys) == 0 {
		if f.need {
			d.say(n, path, "%s is empty (%s). Add at least one.", path, f.doc)
		}
		return
	}
	v.Set(reflect.MakeMap(v.Type()))
	for i, k := range n.Keys {
		at := &Node{Line: k.Line, Col: k.Col}
		here := join(path, shorten(k.Name))
		if f.keys != nil && !slices.Contains(f.keys, k.Name) {
			if near, ok := Nearest(k.Name, f.keys); ok {
				d.say(at, here, "%s is not known in %s; did you mean %s? Known are %s.", shorten(k.Name), path, near, Either(f.keys))
			} else {
				d.say(at, here, "%s is not known in %s. Known are %s.", shorten(k.Name), path, Either(f.keys))
			}
			continue
		}
		if why := badKey(k.Name); why != "" {
			d.say(at, here, "“%s” will not do as a key in %s: %s.", shorten(k.Name), path, why)
			continue
		}
		e := reflect.New(v.Type().Elem()).Elem()
		if e.Kind() == reflect.Struct {
			presets(e)
		}
		d.value(n.Items[i], e, f, here)
		v.SetMapIndex(reflect.ValueOf(k.Name), e)
	}
}

func (d *decoder) list(n *Node, v reflect.Value, f field, path string) {
	if n.Kind != List && n.Kind != Empty {
		d.wrongKind(n, v.Type(), path)
		return
	}
	if v.Kind() == reflect.Array {
		if len(n.Items) != v.Len() {
			d.say(n, path, "%s has %s; it must be %s.", path, Count(len(n.Items), "entry"), expected(v.Type()))
			return
		}
	} else {
		if len(n.Items) == 0 {
			if f.need {
				d.say(n, path, "%s is empty (%s). Add at least one.", path, f.doc)
			}
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), len(n.Items), len(n.Items)))
	}
	for i, it := range n.Items {
		e := v.Index(i)
		if e.Kind() == reflect.Struct {
			presets(e)
		}
		d.value(it, e, f, entry(path, i))
	}
}

func (d *decoder) scalar(n *Node, v reflect.Value, f field, path string) {
	if n.Kind == Empty {
		if d.said(path) {
			return // an alias that leads nowhere
		}
		d.say(n, path, "%s has no value; it must be %s. Write one, or leave the line out.", path, expectedWord(v.Type(), f))
		return
	}
	if n.Kind != Scalar {
		d.wrongKind(n, v.Type(), path)
		return
	}
	text := n.Text
	if f.yes != "" && !n.Quoted {
		if b, err := parseBool(text); err == nil {
			if text = "0"; b {
				text = f.yes
			}
		}
	}
	was := reflect.New(v.Type()).Elem()
	was.Set(v)
	if v.Type() == systemType {
		if says := wrongWord(text, f.one, path); says != "" {
			d.say(n, path, "%s", says)
			return
		}
	}
	if err := setText(v, text, d.sys); err != nil {
		v.Set(was)
		d.say(n, path, "%s: %s.", path, err)
		return
	}
	if v.Kind() == reflect.String && f.need && strings.TrimSpace(text) == "" {
		d.say(n, path, "%s is empty (%s). Write it.", path, f.doc)
		return
	}
	says := limits(v, f, path, show(v, d.sys, text), d.sys)
	if says == "" && f.some && v.IsZero() {
		says = nothing(v, f, path, show(v, d.sys, text))
	}
	if says != "" {
		v.Set(was)
		d.say(n, path, "%s", says)
	}
}

// expectedWord is expected, with the allowed words where there are any.
func expectedWord(t reflect.Type, f field) string {
	if len(f.one) > 0 {
		return Either(f.one)
	}
	return expected(t)
}

// show is a value as written, with the unit that was left out.
func show(v reflect.Value, sys unit.System, text string) string {
	if v.Type() == lengthType && text != "" && strings.ContainsAny(text[len(text)-1:], "0123456789.") {
		return shorten(text) + " " + sys.String()
	}
	if v.Type() == angleType && text != "" && strings.ContainsAny(text[len(text)-1:], "0123456789.") {
		return shorten(text) + " deg"
	}
	return shorten(text)
}
