package shop

import (
	_ "embed"

	"casewright/internal/document"
	"casewright/internal/unit"
)

//go:embed start/shop.yaml
var start string

// New is the text of a shop to start from, with comments, in millimetres or
// inches: generic stock and hardware, without prices.
func New(sys unit.System) []byte { return []byte(document.Fill(start, sys)) }
