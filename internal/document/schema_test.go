package document_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
)

// TestSchemas keeps the published schemas current and the same every time.
func TestSchemas(t *testing.T) {
	for name, f := range map[string]func() []byte{"piece": piece.Schema, "shop": shop.Schema, "record": record.Schema} {
		got := f()
		if !bytes.Equal(got, f()) {
			t.Errorf("the schema of a %s differs from one time to the next", name)
		}
		golden(t, "testdata/"+name+".schema.json", got)
	}
}

func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is out of date. Run the test with -update and read what changed.", file)
	}
}

// TestSchemaJudges: the demos satisfy the schemas, and a document with a
// mistake does not.
func TestSchemaJudges(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		for file, schema := range map[string][]byte{name + ".yaml": piece.Schema(), name + ".shop.yaml": shop.Schema()} {
			text, err := os.ReadFile("../../demo/" + file)
			if err != nil {
				t.Fatal(err)
			}
			if says := judge(t, schema, string(text)); says != "" {
				t.Errorf("%s: %s", file, says)
			}
		}
	}
	const good = "format: 1\nname: a\nunits: mm\nmaterials: {case: p}\ncase: {kind: carcass, width: 1, height: 1, depth: 3/4\"}\nback: {fit: overlaid, chamfer: yes}\ninside: {rows: [{columns: [{panel: no}]}]}\n"
	if says := judge(t, piece.Schema(), good); says != "" {
		t.Error(says)
	}
	for _, change := range [][2]string{
		{"name: a", "nam: a"},
		{"units: mm", "units: cm"},
		{"case: p", "cases: p"},
		{"materials: {case: p}", "materials: {}"},
		{"width: 1", "width: wide"},
		{"width: 1", "width: [1]"},
		{"kind: carcass", "kind: box"},
		{"panel: no", "panel: 3"},
		{"panel: no", "panels: no"},
		{"format: 1", "format: one"},
		{"chamfer: yes", "chamfer: maybe"},
		{"fit: overlaid, ", ""},
		{"rows: [", "rows: [3, "},
	} {
		if bad := strings.Replace(good, change[0], change[1], 1); judge(t, piece.Schema(), bad) == "" {
			t.Errorf("%s in place of %s passes", change[1], change[0])
		}
	}
}

// judge is why a YAML text does not satisfy a schema, by the keywords of JSON
// Schema that ours use; any other keyword fails the test.
func judge(t *testing.T, schema []byte, text string) string {
	t.Helper()
	var root map[string]any
	if err := json.Unmarshal(schema, &root); err != nil {
		t.Fatal(err)
	}
	var doc any
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	// Through JSON, so that numbers and tables are as a validator sees them.
	plain, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(plain, &doc); err != nil {
		t.Fatal(err)
	}
	v := validator{t, root["$defs"].(map[string]any)}
	delete(root, "$defs")
	return v.judge(root, doc, "")
}

type validator struct {
	t    *testing.T
	defs map[string]any
}

func (v validator) judge(s map[string]any, x any, path string) string {
	for word, want := range s {
		if says := v.word(word, want, s, x, path); says != "" {
			return says
		}
	}
	return ""
}

func (v validator) word(word string, want any, s map[string]any, x any, path string) string {
	object, _ := x.(map[string]any)
	list, isList := x.([]any)
	number, isNumber := x.(float64)
	text, isText := x.(string)
	no := fmt.Sprintf("%s: %v is not %s %v", path, x, word, want)
	switch word {
	case "$schema", "$id", "title", "description":
	case "$ref":
		def := v.defs[strings.TrimPrefix(want.(string), "#/$defs/")]
		return v.judge(def.(map[string]any), x, path)
	case "type":
		kinds, ok := want.([]any)
		if !ok {
			kinds = []any{want}
		}
		is := map[any]bool{
			"object": object != nil, "array": isList, "string": isText, "number": isNumber,
			"integer": isNumber && number == float64(int64(number)),
		}
		if !slices.ContainsFunc(kinds, func(k any) bool { return is[k] }) {
			return no
		}
	case "enum":
		if !slices.Contains(want.([]any), x) {
			return no
		}
	case "anyOf":
		for _, each := range want.([]any) {
			if v.judge(each.(map[string]any), x, path) == "" {
				return ""
			}
		}
		return no
	case "pattern":
		if isText && !regexp.MustCompile(want.(string)).MatchString(text) {
			return no
		}
	case "minimum":
		if isNumber && number < want.(float64) {
			return no
		}
	case "exclusiveMinimum":
		if isNumber && number <= want.(float64) {
			return no
		}
	case "maximum":
		if isNumber && number > want.(float64) {
			return no
		}
	case "required":
		for _, name := range want.([]any) {
			if _, ok := object[name.(string)]; object != nil && !ok {
				return fmt.Sprintf("%s: %s is missing", path, name)
			}
		}
	case "properties":
		for name, sub := range want.(map[string]any) {
			if value, ok := object[name]; ok {
				if says := v.judge(sub.(map[string]any), value, path+"."+name); says != "" {
					return says
				}
			}
		}
	case "additionalProperties":
		known, _ := s["properties"].(map[string]any)
		for name, value := range object {
			if _, ok := known[name]; ok {
				continue
			}
			sub, ok := want.(map[string]any)
			if !ok {
				return fmt.Sprintf("%s: %s is not a field", path, name)
			}
			if says := v.judge(sub, value, path+"."+name); says != "" {
				return says
			}
		}
	case "propertyNames":
		for name := range object {
			if says := v.judge(want.(map[string]any), name, path); says != "" {
				return says
			}
		}
	case "minProperties":
		if object != nil && float64(len(object)) < want.(float64) {
			return no
		}
	case "items":
		for i, value := range list {
			if says := v.judge(want.(map[string]any), value, fmt.Sprintf("%s[%d]", path, i)); says != "" {
				return says
			}
		}
	case "minItems":
		if isList && float64(len(list)) < want.(float64) {
			return no
		}
	case "maxItems":
		if isList && float64(len(list)) > want.(float64) {
			return no
		}
	default:
		v.t.Fatalf("the schemas use %s, which this test does not judge", word)
	}
	return ""
}
