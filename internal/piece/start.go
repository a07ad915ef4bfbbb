package piece

import (
	"embed"
	"fmt"
	"slices"

	"casewright/internal/document"
	"casewright/internal/unit"
)

//go:embed start/*.yaml
var start embed.FS

// Shapes are the pieces to start from.
var Shapes = []string{"closed", "u", "chest", "shelf", "blank"}

// New is the text of a piece to start from, with comments, in millimetres or
// inches. It names the panels and hardware of the shop that shop.New writes.
func New(shape string, sys unit.System) ([]byte, error) {
	if !slices.Contains(Shapes, shape) {
		if near, ok := document.Nearest(shape, Shapes); ok {
			return nil, fmt.Errorf("there is no shape “%s” to start from; did you mean %s? It can be %s", shape, near, document.Either(Shapes))
		}
		return nil, fmt.Errorf("there is no shape “%s” to start from; it can be %s", shape, document.Either(Shapes))
	}
	text, err := start.ReadFile("start/" + shape + ".yaml")
	if err != nil {
		return nil, err
	}
	return []byte(document.Fill(string(text), sys)), nil
}
