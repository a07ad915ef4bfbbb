package record

import (
	"io"

	"casewright/internal/document"
)

// Doc is the type of this document, with the upgrades of its older formats.
var Doc = document.Type{Name: "record", Format: Format}

// Decode reads a record. The error is document.Problems: every problem with its
// place and a remedy. The file name is only for them.
func Decode(name string, r io.Reader) (Record, error) {
	var v Record
	src := document.Decode(name, r, Doc, &v)
	return v, src.Err(v.rules())
}

// Validate is what is wrong with a record made in a program, as document.Problems
// without places, or nil.
func (v Record) Validate() error {
	return document.Check(v, v.Units).And(v.rules()).Err()
}

// Marshal writes the record as a document: exact, in its own units, without what
// is left at its default. Decode gives it back.
func (v Record) Marshal() []byte { return document.Marshal(v, v.Units) }

// Schema is the JSON Schema of the document, for editors.
func Schema() []byte { return document.Schema(Doc, Record{}) }
