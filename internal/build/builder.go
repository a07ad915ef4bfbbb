package build

import (
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Make builds one piece. The error is a document.Problems: contradictory or
// impossible sizes, and keys the shop does not know, each with its path, the
// numbers and the remedy. What can be built but should be looked at is in
// Model.Findings.
func Make(p piece.Piece, s shop.Shop, r record.Record) (Model, error) {
	b := &builder{piece: p, shop: s, record: r}
	b.keys() // every role and hardware key must exist in the shop
	if b.failed() {
		return Model{}, b.problems
	}
	b.carcassOrShell()
	b.frame()
	if !b.failed() {
		b.inside(p.Inside, b.space.opening, "inside")
		b.back()
		b.base()
		b.loose()
	}
	if b.failed() {
		return Model{}, b.problems
	}
	b.rough()
	b.letters()
	return b.m, nil
}

// space is what case and frame leave for the inside. Places are in the
// piece's axes: X right, Y back, Z up; x = 0 is the left of the case, y = 0
// the front of the frame (of the case, where there is none), z = 0 the floor.
type space struct {
	left, right, bottom, top unit.Length // inner faces of the case's panels
	front, back              unit.Length // y of the case's front edge (behind the frame) and of the front of the back
	opening                  rect        // as seen from the front: inside the frame, or inside the panels
}

// rect is an upright rectangle seen from the front; corner holds the radius
// at top left, top right, bottom right, bottom left.
type rect struct {
	x, z   unit.Length // lower left
	w, h   Dim
	corner [4]unit.Length
}
