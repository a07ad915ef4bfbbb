package document

import "reflect"

// Tags is what the tests need to know of a field.
type Tags struct {
	Name, Min, Max, Default, Doc, Yes string
	Index                             int
	Type                              reflect.Type
	Need                              bool
	One, Keys                         []string
}

// FieldsOf is the fields of a struct in order.
func FieldsOf(t reflect.Type) []Tags {
	var out []Tags
	for _, f := range fields(t) {
		out = append(out, Tags{f.name, f.min, f.max, f.preset, f.doc, f.yes, f.index, f.typ, f.need, f.one, f.keys})
	}
	return out
}

// Bounds are the limits of a field in words.
func (t Tags) Bounds() string { return bounds(field{min: t.Min, max: t.Max}) }
