package station

import (
	"reflect"
	"slices"
	"strings"

	"casewright/internal/shop"
	"casewright/internal/unit"
)

// asks are fields of a document's struct to be filled in, in the order of
// their names. The tags of the struct say what they mean.
func asks(of any, names ...string) []ShopAsk {
	t := reflect.TypeOf(of)
	out := make([]ShopAsk, 0, len(names))
	for _, name := range names {
		for i := range t.NumField() {
			f := t.Field(i)
			if n, _, _ := strings.Cut(f.Tag.Get("yaml"), ","); n != name {
				continue
			}
			a := ShopAsk{Name: name, Says: f.Tag.Get("doc"), Need: f.Tag.Get("need") == "true", Kind: askKind(f.Type)}
			if one := f.Tag.Get("one"); one != "" {
				a.Kind, a.Value = "choice", f.Tag.Get("default")
				for _, w := range strings.Split(one, "|") {
					a.Choice = append(a.Choice, Choice{w, shop.Words(w)})
				}
			}
			out = append(out, a)
		}
	}
	return out
}

func askKind(t reflect.Type) string {
	switch t {
	case reflect.TypeFor[unit.Length]():
		return "size"
	case reflect.TypeFor[[]unit.Length]():
		return "sizes"
	case reflect.TypeFor[unit.Angle]():
		return "angle"
	case reflect.TypeFor[unit.Money]():
		return "money"
	}
	switch t.Kind() {
	case reflect.Pointer:
		return askKind(t.Elem())
	case reflect.Int:
		return "count"
	case reflect.Float64:
		return "number"
	case reflect.Bool:
		return "yes"
	}
	return "words"
}

// need marks fields that this kind of thing must have.
func need(all []ShopAsk, names ...string) {
	for i := range all {
		if slices.Contains(names, all[i].Name) {
			all[i].Need = true
		}
	}
}

func fixed(name, value string) []DocChange {
	return []DocChange{{Path: name, Do: "set", Value: value}}
}
