package app

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/store"
)

// Says is the sentence of an edit for the history.
func Says(_ store.Doc, changes []document.Change) string {
	var out []string
	for _, c := range changes {
		switch c.Do {
		case "remove":
			out = append(out, fmt.Sprintf("%s taken out", c.Path))
		case "insert":
			out = append(out, fmt.Sprintf("%s put in", c.Path))
		default:
			out = append(out, fmt.Sprintf("%s %s", c.Path, short(c.Value)))
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
