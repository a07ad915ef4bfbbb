package document

import (
	"reflect"
	"strings"

	"casewright/internal/unit"
)

// field is one field of a document's type with what its tags say.
type field struct {
	name   string
	index  int
	typ    reflect.Type
	need   bool
	omit   bool
	min    string
	max    string
	one    []string
	keys   []string
	preset string
	some   bool // 0 is refused: it is not the same as left out, and means nothing
	yes    string
	of     string
	doc    string
}

// fields are the fields of a struct in order.
func fields(t reflect.Type) []field {
	out := make([]field, 0, t.NumField())
	for i := range t.NumField() {
		sf := t.Field(i)
		name, rest, _ := strings.Cut(sf.Tag.Get("yaml"), ",")
		if name == "" || name == "-" {
			continue
		}
		out = append(out, field{
			name: name, index: i, typ: sf.Type,
			need: sf.Tag.Get("need") == "true", omit: strings.Contains(rest, "omitempty"),
			min: sf.Tag.Get("min"), max: sf.Tag.Get("max"),
			one: words(sf.Tag.Get("one")), keys: words(sf.Tag.Get("keys")),
			preset: sf.Tag.Get("default"), yes: sf.Tag.Get("yes"), some: sf.Tag.Get("zero") == "no", of: sf.Tag.Get("of"), doc: sf.Tag.Get("doc"),
		})
	}
	return out
}

func words(tag string) []string {
	if tag == "" {
		return nil
	}
	return strings.Split(tag, "|")
}

// The types of single values that are not plain words and numbers.
var (
	lengthType = reflect.TypeFor[unit.Length]()
	angleType  = reflect.TypeFor[unit.Angle]()
	moneyType  = reflect.TypeFor[unit.Money]()
	systemType = reflect.TypeFor[unit.System]()
)

// single says that values of t are written as one scalar.
func single(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Struct, reflect.Slice, reflect.Array, reflect.Map, reflect.Pointer:
		return false
	}
	return true
}

// expected names what a field of t holds, for "it must be …".
func expected(t reflect.Type) string {
	switch t {
	case lengthType:
		return "one size, such as 80 mm or 3 1/8 in"
	case angleType:
		return "one angle, such as 45 or 22.5 deg"
	case moneyType:
		return "one amount, such as 12.50"
	}
	switch t.Kind() {
	case reflect.Pointer:
		return expected(t.Elem())
	case reflect.Bool:
		return "yes or no"
	case reflect.Int:
		return "a whole number"
	case reflect.Float64:
		return "a number"
	case reflect.String:
		return "one word or line of text"
	case reflect.Slice:
		return "a list"
	case reflect.Array:
		return "a list of two sizes, such as [300 mm, 150 mm]"
	case reflect.Map:
		return "names with values, one to a line"
	}
	return "fields with values, one to a line"
}

// presets fills every field of the struct v that has a default, and those of
// structs held by value.
func presets(v reflect.Value) {
	for _, f := range fields(v.Type()) {
		fv := v.Field(f.index)
		switch {
		case f.preset != "":
			setPreset(fv, f)
		case f.typ.Kind() == reflect.Struct:
			presets(fv)
		}
	}
}

// setPreset puts a tag's default into v. Tags are part of the program, so one
// that cannot be read is a fault of the program, which every decode would
// meet; the tests decode.
func setPreset(v reflect.Value, f field) {
	parts := []string{f.preset}
	if v.Kind() == reflect.Array {
		parts = strings.Split(f.preset, ",")
	}
	for i, text := range parts {
		to := v
		if v.Kind() == reflect.Array {
			to = v.Index(i)
		}
		if err := setText(to, strings.TrimSpace(text), unit.Metric); err != nil {
			panic("default of " + f.name + ": " + err.Error())
		}
	}
}
