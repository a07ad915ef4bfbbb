package app

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/store"
)

// Says is the sentence of an edit for the history: each field with what it
// was and what it is.
func Says(d store.Doc, changes []document.Change) string {
	was := map[string]document.Field{}
	var walk func(f document.Field)
	walk = func(f document.Field) {
		was[f.Path] = f
		for _, c := range f.Children {
			walk(c)
		}
	}
	walk(Outline(d))
	var out []string
	for _, c := range changes {
		f := was[c.Path]
		old, unit := f.Text, ""
		if f.Kind == "size" && bare(c.Value) {
			unit = " " + was["units"].Text
		}
		switch {
		case c.Do == "remove":
			out = append(out, fmt.Sprintf("%s taken out", c.Path))
		case c.Do == "insert":
			out = append(out, fmt.Sprintf("%s put in", c.Path))
		case old == "" || strings.Contains(old, "\n"):
			out = append(out, fmt.Sprintf("%s %s%s", c.Path, short(c.Value), unit))
		default:
			out = append(out, fmt.Sprintf("%s %s → %s%s", c.Path, short(old), short(c.Value), unit))
		}
	}
	return strings.Join(out, "; ")
}

// bare says that a size was typed without its unit.
func bare(s string) bool { return strings.Trim(s, "0123456789 -/.,") == "" }

// short is a value as it fits in a line.
func short(s string) string {
	const most = 60
	line := strings.Join(strings.Fields(s), " ")
	if r := []rune(line); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return line
}
