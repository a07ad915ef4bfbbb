package document

import (
	"regexp"

	"casewright/internal/unit"
)

// choice is a size of a starting document: <in millimetres|in inches>.
var choice = regexp.MustCompile(`<([^<>|]*)\|([^<>|]*)>`)

// Fill writes a starting document in the units wanted: of every <a|b> it
// keeps a for millimetres and b for inches.
func Fill(template string, sys unit.System) string {
	if sys == unit.Imperial {
		return choice.ReplaceAllString(template, "$2")
	}
	return choice.ReplaceAllString(template, "$1")
}
