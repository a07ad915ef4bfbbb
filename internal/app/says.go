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
	was := map[string]string{}
	var walk func(f document.Field)
	walk = func(f document.Field) {
		was[f.Path] = f.Text
		for _, c := range f.Children {
			walk(c)
		}
	}
	walk(Outline(d))
	var out []string
	for _, c := range changes {
		old := was[c.Path]
		switch {
		case c.Do == "remove":
			out = append(out, fmt.Sprintf("%s taken out", c.Path))
		case c.Do == "insert":
			out = append(out, fmt.Sprintf("%s put in", c.Path))
		case old == "" || strings.Contains(old, "\n"):
			out = append(out, fmt.Sprintf("%s %s", c.Path, short(c.Value)))
		default:
			out = append(out, fmt.Sprintf("%s %s → %s", c.Path, short(old), short(c.Value)))
		}
	}
	return strings.Join(out, "; ")
}

// short is a value as it fits in a line.
func short(s string) string {
	const most = 60
	line := strings.Join(strings.Fields(s), " ")
	if r := []rune(line); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return line
}
