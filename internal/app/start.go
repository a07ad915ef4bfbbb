package app

import (
	"fmt"

	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Shapes are what Start can write.
func Shapes() []string { return append(append([]string{}, piece.Shapes...), "shop", "record") }

// Start is the text of a file to start from: a piece of one of the shapes, or
// a shop, in millimetres or inches.
func Start(shape, units string) ([]byte, error) {
	sys := unit.Metric
	if units == "in" {
		sys = unit.Imperial
	}
	switch shape {
	case "shop":
		return shop.New(sys), nil
	case "record":
		return record.New(sys), nil
	}
	return piece.New(shape, sys)
}

// Schema is the JSON Schema of a document: piece, shop or record.
func Schema(of string) ([]byte, error) {
	switch of {
	case "piece":
		return piece.Schema(), nil
	case "shop":
		return shop.Schema(), nil
	case "record":
		return record.Schema(), nil
	}
	return nil, fmt.Errorf("there is no document %q; ask for piece, shop or record", of)
}
