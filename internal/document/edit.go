package document

import (
	"bytes"
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// Change is one change of a document by field. Path names the field as
// problems do: case.width, inside.columns[0].rows[1].drawer.gap,
// hardware.side-runner.price.
//
// Do is one of
//
//	set     writes Value, over what is there or as a new field; groups on the
//	        way to it are added
//	remove  takes the value out, and with it groups and lists that it leaves
//	        empty; an entry of a list whose last field goes stays as {}
//	insert  puts Value before the entry of a list that Path names, or at its
//	        end where Path names the one past the last
//
// Value is what a maker types: the bare text of a size, word or number, or a
// piece of YAML for a group or a list.
type Change struct {
	Path  string
	Do    string
	Value string
}

// Edit makes changes in the text of a document, one after the other, and
// leaves all else as the maker wrote it: comments, blank lines, the order of
// fields, the style of groups. name is the name of the file, for problems;
// prototype is a value of the document's type, or a pointer to one.
//
// A value that is shared through an anchor is changed in one place only: an
// alias on the path is written out first, and where an anchored value
// changes, its first alias takes over the anchor with the old value.
//
// Where the document's units change, the unit they had is written behind every
// bare size: it stays as long as it was.
//
// Values are not judged; the text may have problems before and after, which
// Decode tells. The error is Problems: a path that leads nowhere, a Value
// that is not YAML, or a text that cannot be read at all. Nothing is changed
// then. A document of an older format is written anew in the present one.
func Edit(name string, t Type, prototype any, text []byte, changes []Change) ([]byte, error) {
	out, _, err := edit(name, t, prototype, text, changes)
	return out, err
}

// edit also counts how often a larger part had to be written anew because the
// small change would not have been read as meant.
func edit(name string, t Type, prototype any, text []byte, changes []Change) (out []byte, anew int, err error) {
	fail := func(ps ...Problem) ([]byte, int, error) {
		for i := range ps {
			ps[i].File = name
		}
		return nil, 0, Problems(ps)
	}
	const mark = "\ufeff"
	body, marked := bytes.CutPrefix(text, []byte(mark))
	if p, bad := badText(body); bad {
		return fail(p)
	}
	if len(body) > MaxBytes {
		return fail(tooLarge)
	}
	// Lines end in one sign while they are worked on.
	plain := strings.ReplaceAll(string(body), "\r\n", "\n")
	e := editor{text: plain, typ: deref(reflect.TypeOf(prototype))}
	if ps := e.read(); ps != nil {
		return fail(ps...)
	}
	src := &Source{}
	if format := e.root.Field("format"); format != nil && format.Text != strconv.Itoa(t.Format) {
		if _, err := strconv.Atoi(format.Text); err == nil {
			if !src.format(e.root, t) {
				return fail(src.probs...)
			}
			e.anew(e.root)
		}
	}
	for _, c := range changes {
		if ps := e.change(c); ps != nil {
			return fail(ps...)
		}
	}
	if len(plain) < len(body) {
		e.text = strings.ReplaceAll(e.text, "\n", "\r\n")
	}
	if marked {
		e.text = mark + e.text
	}
	return []byte(e.text), e.wide, nil
}

// editor is a text under change.
type editor struct {
	typ  reflect.Type
	text string
	root *Node   // what the text says
	l    *layout // nil when places are not known
	w    writer
	wide int // parts written anew
}

// read takes the text in.
func (e *editor) read() Problems {
	body, tokens, ps := tree(e.text)
	if ps != nil {
		return ps
	}
	root, ps := nodes(body)
	if root == nil {
		return ps
	}
	e.root, e.l = root, lay(e.text, body, tokens)
	e.w = writer{blocks: true}
	if e.l != nil {
		e.w.blocks = !e.l.root.braces()
		e.w.json = e.l.root.flow && len(e.l.root.keyAt) > 0 && e.text[e.l.root.keyAt[0]] == '"'
	}
	return nil
}

// braces says that some group is written in braces.
func (s *spot) braces() bool {
	if s.kind == Table && s.flow && !s.isAlias {
		return true
	}
	for _, it := range s.items {
		if it.braces() {
			return true
		}
	}
	return false
}

// anew writes the whole document afresh.
func (e *editor) anew(root *Node) {
	e.w.json = false
	e.text = e.w.block(root, 0) + "\n"
	if len(root.Items) == 0 {
		e.text = "{}" + "\n"
	}
}

// change makes one change.
func (e *editor) change(c Change) Problems {
	if e.root.Kind != Table {
		*e.root = Node{Kind: Table}
	}
	e.keepSizes(c)
	ss, p := steps(c.Path, e.typ, e.root)
	if p != nil {
		return Problems{*p}
	}
	var value *Node
	switch c.Do {
	case Set, Insert:
		if value, p = valueOf(c, ss[len(ss)-1].f); p != nil {
			return Problems{*p}
		}
	case Remove:
	default:
		return Problems{{Path: c.Path, Says: fmt.Sprintf("“%s” is not a change. Write set, remove or insert.", shorten(c.Do))}}
	}
	want := e.root.clone()
	if p := apply(want, c.Path, c.Do, ss, value); p != nil {
		return Problems{*p}
	}
	before := *e
	if e.free(c.Do, ss) && e.splice(c.Do, ss, value) && e.means(want) {
		return nil
	}
	// The small change is not read as meant: write the group around it anew,
	// or the one around that, or the document.
	wide := before.wide + 1
	for n := len(ss) - 1; n > 0; n-- {
		*e = before
		e.wide = wide
		around := want
		for _, st := range ss[:n] {
			if around != nil {
				around, _ = around.step(st)
			}
		}
		if around != nil && e.free(Set, ss[:n]) && e.splice(Set, ss[:n], around) && e.means(want) {
			return nil
		}
	}
	*e = before
	e.wide = wide
	e.anew(want)
	if !e.means(want) {
		*e = before
		return Problems{{Path: c.Path, Says: fmt.Sprintf("%s cannot be written into this document as it is. Look at the text beside it.", c.Path)}}
	}
	return nil
}

// means takes the text in and says whether it is what was wanted.
func (e *editor) means(want *Node) bool {
	if len(e.text) > MaxBytes {
		return false
	}
	if p, bad := badText([]byte(e.text)); bad && p.Says != "" {
		return false
	}
	return e.read() == nil && alike(e.root, want)
}

// valueOf is the value of a change for field f.
func valueOf(c Change, f field) (*Node, *Problem) {
	if f.typ == nil {
		return nil, &Problem{Path: c.Path, Says: fmt.Sprintf("%s is not known here; it can only be removed.", c.Path)}
	}
	t := deref(f.typ)
	if single(t) {
		_, err := parseBool(c.Value)
		return &Node{Kind: Scalar, Text: c.Value, Quoted: t.Kind() == reflect.String && err == nil}, nil
	}
	n, want := &Node{Kind: Table}, Table
	if t.Kind() == reflect.Slice || t.Kind() == reflect.Array {
		n, want = &Node{Kind: List}, List
	}
	if strings.TrimSpace(c.Value) == "" {
		return n, nil
	}
	no := func(why string) (*Node, *Problem) {
		return nil, &Problem{Path: c.Path, Says: fmt.Sprintf("What is given for %s cannot be read: %s", c.Path, why)}
	}
	if p, bad := badText([]byte(c.Value)); bad {
		return no(p.Says)
	}
	body, _, ps := tree(c.Value)
	if ps != nil {
		return no(ps[0].Says)
	}
	n, ps = fragment(body)
	if ps != nil {
		return no(ps[0].Says)
	}
	if n.Kind != want && n.Kind != Empty {
		return no(fmt.Sprintf("it must be %s.", expected(t)))
	}
	n.Kind = want
	return n, nil
}
