// Package plan is the pipeline: piece, shop and record go in, and all that
// follows from them comes out as one value. Every screen and every paper is
// a view of it; nobody edits it by hand.
package plan

import (
	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Plan is all that follows from a piece, a shop and a record. Counts in
// Model are for one piece; Panels, Boards and Buying are for Piece.Count.
type Plan struct {
	Format   int               `json:"format"`
	Revision string            `json:"revision"` // eight hexadecimal digits over the three inputs
	Piece    piece.Piece       `json:"piece"`
	Shop     shop.Shop         `json:"shop"`
	Record   record.Record     `json:"record"`
	Model    build.Model       `json:"model"`
	Panels   []PanelStock      `json:"panels"`
	Woods    []WoodStock       `json:"woods"`
	Setups   []saw.Sequence    `json:"setups"`
	Buying   []Line            `json:"buying"`
	Findings []finding.Finding `json:"findings"`
}

// PanelStock is how the parts of one panel material are cut. The items of
// Job stand in the order of Letters.
type PanelStock struct {
	Key     string         `json:"key"`
	Job     cutting.Job    `json:"job"`
	Letters []string       `json:"letters"`
	Result  cutting.Result `json:"result"`
}

// WoodStock is what to buy of one solid wood, by thickness class.
type WoodStock struct {
	Key     string          `json:"key"`
	Class   string          `json:"class"`  // such as 4/4
	Parts   []string        `json:"parts"`  // letters
	Net     unit.Volume     `json:"net_m3"` // of finished parts
	Rough   unit.Volume     `json:"rough_m3"`
	Buy     unit.Volume     `json:"buy_m3"` // with the shop's waste of purchase
	Longest build.Dim       `json:"longest"`
	Widest  build.Dim       `json:"widest"`
	Job     *cutting.Job    `json:"job,omitempty"`    // when boards are known
	Result  *cutting.Result `json:"result,omitempty"` // items in the order of Parts
}

// Line is one line of the buying list.
type Line struct {
	What  string     `json:"what"`
	Key   string     `json:"key"`
	Count float64    `json:"count"`
	Unit  string     `json:"unit"` // sheet, board foot, piece, pair, metre, pack
	Need  float64    `json:"need"` // exact, before packs and spares
	Spare float64    `json:"spare,omitempty"`
	Each  unit.Money `json:"each,omitempty"`
	Price unit.Money `json:"price,omitempty"`
	Why   string     `json:"why"`
}
