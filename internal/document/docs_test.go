package document_test

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
)

// TestDocs keeps the tables of docs/documents.md as the struct tags say.
func TestDocs(t *testing.T) {
	const file = "../../docs/documents.md"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for name, table := range map[string]string{
		"piece":    tables(reflect.TypeFor[piece.Piece](), "Fields of a piece"),
		"shop":     tables(reflect.TypeFor[shop.Shop](), "Fields of a shop"),
		"record":   tables(reflect.TypeFor[record.Record](), "Fields of a record"),
		"hardware": hardwareTable(),
	} {
		begin := "<!-- " + name + " -->\n"
		before, rest, ok := strings.Cut(text, begin)
		_, after, ok2 := strings.Cut(rest, "<!-- end -->")
		if !ok || !ok2 {
			t.Fatalf("docs/documents.md has no place for %s", name)
		}
		text = before + begin + table + "<!-- end -->" + after
	}
	golden(t, file, []byte(text))
}

// tables is a table of the fields of a struct, then those of the structs in
// it, each once.
func tables(root reflect.Type, title string) string {
	var b strings.Builder
	seen := map[reflect.Type]bool{root: true}
	queue := []reflect.Type{root}
	titles := map[reflect.Type]string{root: title}
	for len(queue) > 0 {
		t := queue[0]
		queue = queue[1:]
		fmt.Fprintf(&b, "\n### %s\n\n| field | what it says | value | left out |\n|---|---|---|---|\n", titles[t])
		for _, f := range document.FieldsOf(t) {
			of := inner(f.Type)
			if of.Kind() == reflect.Struct && !seen[of] {
				seen[of] = true
				queue = append(queue, of)
				titles[of] = "`" + f.Name + "`: " + f.Doc
			}
			doc, otherwise, _ := strings.Cut(f.Doc, "; left out: ")
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", f.Name, doc, holds(f), absent(f, otherwise))
		}
	}
	return b.String()
}

func inner(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map {
		t = t.Elem()
	}
	return t
}

// holds is what a field holds, with its limits.
func holds(f document.Tags) string {
	var kind string
	switch of := inner(f.Type); {
	case len(f.One) > 0:
		kind = "`" + strings.Join(f.One, "`, `") + "`"
	case of.Kind() == reflect.Struct:
		kind = "fields"
	case of.Kind() == reflect.Array:
		kind = "two sizes"
	default:
		kind = map[string]string{
			"Length": "size", "Angle": "angle", "Money": "amount", "string": "text",
			"bool": "yes or no", "int": "whole number", "float64": "number",
		}[of.Name()]
	}
	switch t := f.Type; {
	case t.Kind() == reflect.Slice:
		kind = "list: " + kind
	case t.Kind() == reflect.Map && f.Keys != nil:
		kind = "for each of `" + strings.Join(f.Keys, "`, `") + "`: " + kind
	case t.Kind() == reflect.Map && inner(t.Elem()) != t.Elem():
		kind = "for each key: list: " + kind
	case t.Kind() == reflect.Map:
		kind = "for each key: " + kind
	}
	if b := f.Bounds(); b != "" {
		kind += ", " + b
	}
	return kind
}

func absent(f document.Tags, otherwise string) string {
	switch {
	case f.Need:
		return "*must be given*"
	case f.Default != "":
		return f.Default
	}
	return otherwise
}

func hardwareTable() string {
	var b strings.Builder
	b.WriteString("\n| kind | needs | may have |\n|---|---|---|\n")
	for _, f := range document.FieldsOf(reflect.TypeFor[shop.Hardware]()) {
		if f.Name != "kind" {
			continue
		}
		for _, kind := range f.One {
			needs, takes, ok := shop.Fits(kind)
			if !ok {
				panic(kind + " has no row in the table of hardware")
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", kind, code(needs), code(takes))
		}
	}
	return b.String()
}

func code(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "`" + strings.Join(names, "`, `") + "`"
}
