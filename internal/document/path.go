package document

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// step is one step along a path: into a field or key, or to an entry of a
// list. f is the field of the value it leads to; its typ is that of the value.
type step struct {
	name  string
	index int
	list  bool
	f     field
	in    field // what it steps from
}

// deref is t, or what it points to.
func deref(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Pointer {
		return t.Elem()
	}
	return t
}

// steps follows a path through the type of a document. The document itself
// tells where the name of a key ends that has points in it, and which unknown
// names are in it.
func steps(path string, t reflect.Type, root *Node) ([]step, *Problem) {
	bad := func(format string, a ...any) ([]step, *Problem) {
		return nil, &Problem{Path: path, Says: fmt.Sprintf(format, a...)}
	}
	if path == "" {
		return bad("No field is named. Name one, such as case.width.")
	}
	var out []step
	here, n := field{typ: t}, root
	for at, rest := "", path; rest != ""; {
		st := step{in: here, f: here}
		st.f.typ = deref(here.typ)
		switch kind := st.f.typ.Kind(); {
		case single(st.f.typ):
			return bad("%s is %s; nothing stands beneath it.", at, expectedWord(st.f.typ, here))
		case kind == reflect.Slice || kind == reflect.Array:
			i, left, ok := number(rest)
			if !ok {
				return bad("%s is a list; name one of its entries, such as %s[0].", at, at)
			}
			if kind == reflect.Array && i >= st.f.typ.Len() {
				return bad("%s has %s; there is no %s.", at, Count(st.f.typ.Len(), "entry"), entry(at, i))
			}
			st.index, st.list, rest = i, true, left
			st.f.typ = st.f.typ.Elem()
			at = entry(at, i)
			n = n.entry(i)
		default:
			rest = strings.TrimPrefix(rest, ".")
			name := cutName(rest, st.f.typ, n)
			if name == "" || name == rest && strings.HasSuffix(path, ".") {
				return bad("“%s” is not the path of a field. Write it like inside.columns[0].width.", shorten(path))
			}
			rest = rest[len(name):]
			st.name = name
			if kind == reflect.Map {
				st.f.typ = st.f.typ.Elem()
			} else if f := find(fields(st.f.typ), name); f != nil {
				st.f = *f
			} else if rest == "" && n.Field(name) != nil {
				st.f = field{name: name, typ: nil}
			} else {
				return nil, unknownField(name, st.f.typ, at, path)
			}
			at = join(at, name)
			n = n.Field(name)
		}
		here = st.f
		out = append(out, st)
	}
	return out, nil
}

// entry is an entry of a list, nil if it is not there.
func (n *Node) entry(i int) *Node {
	if n == nil || n.Kind != List || i >= len(n.Items) {
		return nil
	}
	return n.Items[i]
}

// number reads [12] at the beginning of a path.
func number(path string) (i int, rest string, ok bool) {
	inner, rest, ok := strings.Cut(path, "]")
	digits, open := strings.CutPrefix(inner, "[")
	if !ok || !open || len(digits) > 6 || digits == "" || strings.Trim(digits, "0123456789") != "" {
		return 0, "", false
	}
	i, err := strconv.Atoi(digits)
	return i, rest, err == nil
}

// cutName is the name at the beginning of a path into a value of type t, of
// which n is what the document has.
func cutName(path string, t reflect.Type, n *Node) string {
	if t.Kind() == reflect.Map {
		return cutKey(path, t.Elem(), n)
	}
	name := path
	if i := strings.IndexAny(path, ".["); i >= 0 {
		name = path[:i]
	}
	if find(fields(t), name) == nil && n.Field(path) != nil {
		return path // a name that is not known, as it stands
	}
	return name
}

// cutKey is the key at the beginning of a path into a map: all of it where
// the map holds single values, else the longest key that is there already, or
// a new one up to where a field of its value begins.
func cutKey(path string, elem reflect.Type, n *Node) string {
	if single(deref(elem)) {
		return path
	}
	best := ""
	if n != nil && n.Kind == Table {
		for _, k := range n.Keys {
			if within(path, k.Name) && len(k.Name) > len(best) {
				best = k.Name
			}
		}
	}
	if best != "" {
		return best
	}
	for i := 1; i < len(path); i++ {
		if path[i] == '[' && elem.Kind() != reflect.Struct {
			return path[:i]
		}
		if path[i] == '.' && elem.Kind() == reflect.Struct {
			next, _, _ := strings.Cut(path[i+1:], ".")
			next, _, _ = strings.Cut(next, "[")
			if find(fields(elem), next) != nil {
				return path[:i]
			}
		}
	}
	return path
}

// unknownField says that a struct has no field of that name.
func unknownField(name string, t reflect.Type, in, path string) *Problem {
	var names []string
	for _, f := range fields(t) {
		names = append(names, f.name)
	}
	where := in
	if in == "" {
		where = "the document"
	}
	p := &Problem{Path: path}
	if near, ok := Nearest(name, names); ok {
		p.Says = fmt.Sprintf("%s is not a field of %s; did you mean %s?", shorten(name), where, near)
	} else {
		p.Says = fmt.Sprintf("%s is not a field of %s. Its fields are %s.", shorten(name), where, Either(names))
	}
	return p
}

// bad says why a step cannot be made to a value that is not there yet, ""
// if it can.
func (st step) bad() string {
	if st.list || deref(st.in.typ).Kind() != reflect.Map {
		return ""
	}
	if st.in.keys != nil && !slices.Contains(st.in.keys, st.name) {
		return fmt.Sprintf("%s is not known in %s. Known are %s.", shorten(st.name), st.in.name, Either(st.in.keys))
	}
	if why := badKey(st.name); why != "" {
		return fmt.Sprintf("“%s” will not do as a key in %s: %s.", shorten(st.name), st.in.name, why)
	}
	return ""
}

// rank orders the keys of a table: as the fields of its type stand, or the
// keys its type names; -1 for the rest.
func rank(in field) func(key string) int {
	t := deref(in.typ)
	if t.Kind() == reflect.Map {
		return func(key string) int { return slices.Index(in.keys, key) }
	}
	fs := fields(t)
	return func(key string) int {
		return slices.IndexFunc(fs, func(f field) bool { return f.name == key })
	}
}
