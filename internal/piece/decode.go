package piece

import (
	"io"

	"casewright/internal/document"
)

// Doc is the type of this document, with the upgrades of its older formats.
var Doc = document.Type{Name: "piece", Format: Format}

// Decode reads a piece. The error is document.Problems: every problem with its
// place and a remedy. The file name is only for them.
func Decode(name string, r io.Reader) (Piece, error) {
	var v Piece
	src := document.Decode(name, r, Doc, &v)
	return v, src.Err(v.rules())
}

// Validate is what is wrong with a piece made in a program, as document.Problems
// without places, or nil.
func (v Piece) Validate() error {
	return document.Check(v, v.Units).And(v.rules()).Err()
}

// Marshal writes the piece as a document: exact, in its own units, without what
// is left at its default. Decode gives it back.
func (v Piece) Marshal() []byte { return document.Marshal(v, v.Units) }

// Schema is the JSON Schema of the document, for editors.
func Schema() []byte { return document.Schema(Doc, Piece{}) }
