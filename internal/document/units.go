package document

import (
	"reflect"
	"slices"

	"casewright/internal/unit"
)

// keepSizes writes the unit behind every bare size before a document changes
// its own, so that whoever wants to read inches does not get a piece of
// another size. It does nothing for a change that is none.
func (e *editor) keepSizes(c Change) {
	own := find(fields(e.typ), "units")
	was := e.root.Field("units")
	if c.Path != "units" || c.Do != Set || own == nil || deref(own.typ) != systemType || was == nil || e.l == nil {
		return
	}
	var from, to unit.System
	if from.UnmarshalText([]byte(was.Text)) != nil || to.UnmarshalText([]byte(c.Value)) != nil || from == to {
		return
	}
	bare := e.bareSizes(e.l.root, e.typ, from, to)
	slices.SortFunc(bare, func(a, b *spot) int { return b.start - a.start })
	before := *e
	for _, s := range slices.Compact(bare) {
		text := s.scalar.Text + " " + from.String()
		switch {
		case s.scalar.Quoted:
			e.replace(s.end-1, s.end-1, " "+from.String())
		case e.w.json:
			e.replace(s.start, s.end, `"`+text+`"`)
		default:
			e.replace(s.start, s.end, text)
		}
	}
	if e.read() != nil {
		*e = before
	}
}

// bareSizes are the sizes under a place that mean something else in another
// unit.
func (e *editor) bareSizes(s *spot, t reflect.Type, from, to unit.System) []*spot {
	if s == nil || s.isAlias || t == nil {
		return nil
	}
	var out []*spot
	t = deref(t)
	switch {
	case t == lengthType && s.kind == Scalar:
		a, errA := unit.ParseLength(s.scalar.Text, from)
		b, errB := unit.ParseLength(s.scalar.Text, to)
		if errA == nil && (errB != nil || a != b) {
			out = append(out, s)
		}
	case t.Kind() == reflect.Struct && s.kind == Table:
		fs := fields(t)
		for i, k := range s.keys {
			if f := find(fs, k); f != nil && i < len(s.items) {
				out = append(out, e.bareSizes(s.items[i], f.typ, from, to)...)
			}
		}
	case t.Kind() == reflect.Map || t.Kind() == reflect.Slice || t.Kind() == reflect.Array:
		for _, it := range s.items {
			out = append(out, e.bareSizes(it, t.Elem(), from, to)...)
		}
	}
	return out
}
