// Package app holds the use cases: read the maker's files, make the plan,
// write the papers. It is the only package between the engine and the doors
// to it that touches the disk.
package app

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Sources names the maker's files. Shop and Record may be empty: the shop is
// then looked for beside the piece, as chest.shop.yaml or shop.yaml for
// chest.yaml, and the record as chest.record.yaml; a piece without a record
// has none.
type Sources struct {
	Piece, Shop, Record string
	Units               string // mm or in: shown in place of the piece's own units
}

// Job is what was read, with the text of the piece for later messages.
type Job struct {
	Piece  piece.Piece
	Shop   shop.Shop
	Record record.Record

	pieceName string
	pieceText []byte
}

// largest is more than any document may hold; the decoder has its own limit
// and says so, this only keeps a huge file out of memory.
const largest = 2 << 20

// Load reads and validates the three documents. All problems of all files are
// reported together.
func Load(src Sources) (Job, error) {
	var j Job
	var errs []error
	text, err := read(src.Piece, "piece")
	if err != nil {
		return j, err
	}
	j.pieceName, j.pieceText = src.Piece, text
	if j.Piece, err = piece.Decode(src.Piece, bytes.NewReader(text)); err != nil {
		errs = append(errs, err)
	}
	shopFile, err := shopBeside(src)
	if err != nil {
		return j, errors.Join(append(errs, err)...)
	}
	if text, err = read(shopFile, "shop"); err != nil {
		errs = append(errs, err)
	} else if j.Shop, err = shop.Decode(shopFile, bytes.NewReader(text)); err != nil {
		errs = append(errs, err)
	}
	if file := recordBeside(src); file == "" {
		j.Record = record.Record{Format: record.Format, Units: j.Piece.Units}
	} else if text, err = read(file, "record"); err != nil {
		errs = append(errs, err)
	} else if j.Record, err = record.Decode(file, bytes.NewReader(text)); err != nil {
		errs = append(errs, err)
	}
	switch src.Units {
	case "mm":
		j.Piece.Units = unit.Metric
	case "in":
		j.Piece.Units = unit.Imperial
	}
	return j, errors.Join(errs...)
}

// Placed gives problems found after reading their place in the piece's file.
func (j Job) Placed(err error) error {
	var ps document.Problems
	if !errors.As(err, &ps) || j.pieceText == nil {
		return err
	}
	var scratch piece.Piece
	return document.Decode(j.pieceName, bytes.NewReader(j.pieceText), piece.Doc, &scratch).Err(ps)
}

func read(name, what string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, Unreadable(name, what, err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, largest))
	if err != nil {
		return nil, Unreadable(name, what, err)
	}
	return text, nil
}

// Unreadable says why a file cannot be read, and what to give in its place.
func Unreadable(name, what string, err error) error {
	if errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("there is no file %s; give the path of the %s file", name, what)
	}
	var pe *os.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("%s cannot be read: %v; give the path of the %s file", name, err, what)
}

// beside is name.yaml -> name.KIND.yaml.
func beside(pieceFile, kind string) string {
	ext := filepath.Ext(pieceFile)
	return strings.TrimSuffix(pieceFile, ext) + "." + kind + ext
}

func shopBeside(src Sources) (string, error) {
	if src.Shop != "" {
		return src.Shop, nil
	}
	own, common := beside(src.Piece, "shop"), filepath.Join(filepath.Dir(src.Piece), "shop.yaml")
	for _, name := range []string{own, common} {
		if _, err := os.Stat(name); err == nil {
			return name, nil
		}
	}
	return "", fmt.Errorf("no shop file stands beside the piece (looked for %s and %s); name one with --shop, or start one with: casewright new shop", own, common)
}

func recordBeside(src Sources) string {
	if src.Record != "" {
		return src.Record
	}
	own := beside(src.Piece, "record")
	if _, err := os.Stat(own); err == nil {
		return own
	}
	return ""
}
