package document

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"

	"casewright/internal/unit"
)

// Rules collects what fields are wrong beside one another. Places are filled
// in by Source.Err.
type Rules struct{ Problems Problems }

// Say adds a problem of the field at path.
func (r *Rules) Say(path, format string, args ...any) {
	r.Problems = append(r.Problems, Problem{Path: path, Says: fmt.Sprintf(format, args...)})
}

// Check is what the tags say about a document that was made in a program
// rather than read: v is the struct. A field left at its zero counts as left
// out. Sizes are shown in the system sys.
func Check(v any, sys unit.System) Problems {
	var ps Problems
	check(reflect.ValueOf(v), sys, "", &ps)
	return ps
}

func check(v reflect.Value, sys unit.System, path string, ps *Problems) {
	for _, f := range fields(v.Type()) {
		fv, here := v.Field(f.index), join(path, f.name)
		if fv.IsZero() && fv.Type() != systemType {
			if f.need && (fv.Kind() != reflect.Struct) {
				*ps = append(*ps, Problem{Path: here, Says: fmt.Sprintf("%s is missing (%s). Add it.", here, f.doc)})
				continue
			}
			if fv.Kind() != reflect.Struct {
				continue
			}
		}
		checkValue(fv, f, sys, here, ps)
	}
}

func checkValue(v reflect.Value, f field, sys unit.System, path string, ps *Problems) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			checkValue(v.Elem(), f, sys, path, ps)
		}
	case reflect.Struct:
		check(v, sys, path, ps)
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			checkValue(v.Index(i), f, sys, entry(path, i), ps)
		}
	case reflect.Map:
		for _, k := range sortedKeys(v) {
			here := join(path, k)
			switch why := badKey(k); {
			case f.keys != nil && !slices.Contains(f.keys, k):
				*ps = append(*ps, Problem{Path: here, Says: fmt.Sprintf("%s is not known in %s. Known are %s.", k, path, Either(f.keys))})
			case why != "":
				*ps = append(*ps, Problem{Path: here, Says: fmt.Sprintf("“%s” will not do as a key in %s: %s.", shorten(k), path, why)})
			}
			checkValue(v.MapIndex(reflect.ValueOf(k)), f, sys, here, ps)
		}
	default:
		if says := limits(v, f, path, text(v, sys, true), sys); says != "" {
			*ps = append(*ps, Problem{Path: path, Says: says})
		}
	}
}

// sortedKeys are the keys of a map in order.
func sortedKeys(m reflect.Value) []string {
	keys := map[string]bool{}
	for _, k := range m.MapKeys() {
		keys[k.String()] = true
	}
	return slices.Sorted(maps.Keys(keys))
}

// Given are the names of the fields of a struct that are not zero.
func Given(v any) []string {
	rv := reflect.ValueOf(v)
	var out []string
	for _, f := range fields(rv.Type()) {
		if !rv.Field(f.index).IsZero() {
			out = append(out, f.name)
		}
	}
	return out
}

// text writes a single value so that reading it gives the value back; sizes
// with their unit, or without where it is that of sys.
func text(v reflect.Value, sys unit.System, withUnit bool) string {
	switch v.Type() {
	case lengthType:
		return lengthText(unit.Length(v.Int()), sys, withUnit)
	case angleType:
		return angleText(unit.Angle(v.Float()), withUnit)
	case moneyType:
		return unit.Money(v.Int()).Format()
	case systemType:
		return unit.System(v.Int()).String()
	}
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			return "yes"
		}
		return "no"
	case reflect.Float64:
		return strconv.FormatFloat(v.Float(), 'f', -1, 64)
	case reflect.Int:
		return strconv.FormatInt(v.Int(), 10)
	}
	return v.String()
}

// Meaning is the sentence for the reader about the field of that name of the
// struct v, "" if there is none.
func Meaning(v any, name string) string {
	if f := find(fields(reflect.TypeOf(v)), name); f != nil {
		return f.doc
	}
	return ""
}
