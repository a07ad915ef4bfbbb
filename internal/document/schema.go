package document

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strconv"
	"strings"
)

// Patterns of what unit's readers take. They are wider than the readers: a
// schema helps an editor, the decoder decides.
const (
	lengthPattern = `^[-+−–]?\s*[0-9.,¼½¾⅐-⅞⁰¹²³⁴-⁹]`
	anglePattern  = `^[-+−–]?\s*[0-9.,¼½¾]`
	moneyPattern  = `^[-+]?[0-9]+([.,][0-9]{1,2})?$`
)

// object is a JSON object that keeps the order of its members.
type object []member

type member struct {
	name  string
	value any
}

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := plainJSON(m.name)
		if err != nil {
			return nil, err
		}
		value, err := plainJSON(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plainJSON is v in JSON with < and > as themselves.
func plainJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}

// Schema is the JSON Schema (draft 2020-12) of the documents that decode into
// the struct v, generated from its tags: the same bytes every time. Rules
// between fields, and limits of sizes, are beyond it; the limits stand in the
// descriptions.
func Schema(t Type, v any) []byte {
	s := schema{seen: map[reflect.Type]bool{}}
	root := s.table(reflect.TypeOf(v))
	head := object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "urn:casewright:" + t.Name + ":" + strconv.Itoa(t.Format)},
		{"title", t.Name},
	}
	head = append(head, root...)
	head = append(head, member{"$defs", append(object{
		{"length", anyOf("a size: 17 1/4 in, 302.4 mm, 5' 7-1/2\", or a bare number in the document's units", lengthPattern)},
		{"angle", anyOf("an angle: 22.5, 45 deg, 1.5 rad; a bare number is in degrees", anglePattern)},
		{"money", anyOf("an amount in the shop's currency: 12.50", moneyPattern)},
		{"yes-or-no", object{{"enum", []any{true, false, "yes", "no", "on", "off"}}}},
	}, s.defs...)})
	compact, err := plainJSON(head)
	if err != nil {
		panic(err) // strings and numbers only
	}
	var out bytes.Buffer
	if err := json.Indent(&out, compact, "", "  "); err != nil {
		panic(err)
	}
	out.WriteByte('\n')
	return out.Bytes()
}

func anyOf(doc, pattern string) object {
	return object{
		{"description", doc},
		{"anyOf", []any{object{{"type", "number"}}, object{{"type", "string"}, {"pattern", pattern}}}},
	}
}

type schema struct {
	defs object
	seen map[reflect.Type]bool
}

// table is the schema of a struct.
func (s *schema) table(t reflect.Type) object {
	var props object
	need := []string{}
	for _, f := range fields(t) {
		props = append(props, member{f.name, append(object{{"description", describe(f)}}, s.value(f.typ, f)...)})
		if f.need {
			need = append(need, f.name)
		}
	}
	return object{
		{"type", "object"},
		{"additionalProperties", false},
		{"required", need},
		{"properties", props},
	}
}

// value is the schema of a value of field f.
func (s *schema) value(t reflect.Type, f field) object {
	switch t {
	case lengthType:
		return object{{"$ref", "#/$defs/length"}}
	case angleType:
		if f.yes != "" {
			return object{{"anyOf", []any{object{{"$ref", "#/$defs/angle"}}, object{{"$ref", "#/$defs/yes-or-no"}}}}}
		}
		return object{{"$ref", "#/$defs/angle"}}
	case moneyType:
		return object{{"$ref", "#/$defs/money"}}
	case systemType:
		return object{{"enum", f.one}}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return s.value(t.Elem(), f)
	case reflect.Struct:
		return s.ref(t)
	case reflect.Slice:
		return object{{"type", "array"}, {"items", s.value(t.Elem(), f)}}
	case reflect.Array:
		return object{{"type", "array"}, {"items", s.value(t.Elem(), f)}, {"minItems", t.Len()}, {"maxItems", t.Len()}}
	case reflect.Map:
		return s.entries(t, f)
	case reflect.Bool:
		return object{{"$ref", "#/$defs/yes-or-no"}}
	case reflect.Int:
		return numeric("integer", f)
	case reflect.Float64:
		return numeric("number", f)
	}
	if len(f.one) > 0 {
		return object{{"enum", f.one}}
	}
	// Text that looks like a number is text all the same.
	return object{{"type", []string{"string", "number"}}}
}

func (s *schema) entries(t reflect.Type, f field) object {
	out := object{{"type", "object"}}
	if f.keys != nil {
		out = append(out, member{"propertyNames", object{{"enum", f.keys}}})
	}
	if f.need {
		out = append(out, member{"minProperties", 1})
	}
	return append(out, member{"additionalProperties", s.value(t.Elem(), f)})
}

// ref is a reference to the schema of a struct, which is defined once: the
// tree of openings holds itself.
func (s *schema) ref(t reflect.Type) object {
	name := strings.ToLower(t.Name())
	if !s.seen[t] {
		s.seen[t] = true
		i := len(s.defs)
		s.defs = append(s.defs, member{name: name})
		s.defs[i].value = s.table(t)
	}
	return object{{"$ref", "#/$defs/" + name}}
}

func numeric(kind string, f field) object {
	least := "minimum"
	if f.some && orElse(f.min, "0") == "0" {
		least = "exclusiveMinimum"
	}
	out := object{{"type", kind}, {least, json.Number(orElse(f.min, "0"))}}
	if f.max != "" {
		out = append(out, member{"maximum", json.Number(f.max)})
	}
	return out
}

// describe is the sentence about a field with its limits and default.
func describe(f field) string {
	s := f.doc
	if b := bounds(f); b != "" {
		s += "; " + b
	}
	if f.preset != "" {
		s += "; left out: " + f.preset
	}
	return s
}

// bounds are the limits of a field in words.
func bounds(f field) string {
	switch {
	case f.some && f.max != "" && orElse(f.min, "0") == "0":
		return "more than 0, at most " + f.max
	case f.some && orElse(f.min, "0") == "0":
		return "more than 0"
	case f.min != "" && f.max != "":
		return f.min + " to " + f.max
	case f.min != "":
		return "at least " + f.min
	case f.max != "":
		return "at most " + f.max
	}
	return ""
}
