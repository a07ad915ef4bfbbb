package record

import (
	_ "embed"

	"casewright/internal/document"
	"casewright/internal/unit"
)

//go:embed start/record.yaml
var start string

// New is the text of a record to start from, in millimetres or inches: what
// can be recorded stands in it as comments.
func New(sys unit.System) []byte { return []byte(document.Fill(start, sys)) }
