package app

import (
	"context"
	"errors"
	"reflect"
	"regexp"
	"strings"

	"casewright/internal/store"
)

// ErrWhose says that a record was brought in without its piece.
var ErrWhose = errors.New("this is a record of what was measured and cut; say of which piece")

// KindOf says which of the three documents a text is, by the fields that only
// one of them has. A text that says nothing is taken for a piece. It need not
// be readable: a file is recognised before it is mended.
func KindOf(text []byte) store.Kind {
	best, most := store.Piece, 0
	for _, k := range []store.Kind{store.Piece, store.Shop, store.Record} {
		own := ownFields(k)
		n := 0
		for _, m := range topField.FindAllStringSubmatch(string(text), -1) {
			if own[m[1]] {
				n++
			}
		}
		if n > most {
			best, most = k, n
		}
	}
	return best
}

// topField is the name of a field that stands at the left, in YAML or as JSON
// is usually set.
var topField = regexp.MustCompile(`(?m)^(?:\{|  ?|\t)?\s?"?([a-z][a-z-]*)"?\s*:`)

// ownFields are the fields at the top of a kind of document that the others do
// not have.
func ownFields(k store.Kind) map[string]bool {
	count := map[string]int{}
	mine := map[string]bool{}
	for _, other := range []store.Kind{store.Piece, store.Shop, store.Record} {
		_, v := form(other)
		t := reflect.TypeOf(v).Elem()
		for i := range t.NumField() {
			name, _, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ",")
			count[name]++
			if other == k {
				mine[name] = true
			}
		}
	}
	for name := range mine {
		if count[name] > 1 || name == "" || name == "-" {
			delete(mine, name)
		}
	}
	return mine
}

// Bring keeps a file of the maker's as a new document of the kind it is, with
// its problems if it has any, so that nothing is lost before it is mended. A
// record belongs to a piece and takes the place of the text it had there.
func (w *Workbench) Bring(ctx context.Context, name string, text []byte, piece, device string) (store.Doc, error) {
	const says = "brought in from a file"
	switch k := KindOf(text); k {
	case store.Record:
		if piece == "" {
			return store.Doc{}, ErrWhose
		}
		p, err := w.Store.Doc(ctx, piece)
		if err != nil {
			return p, err
		}
		d, err := w.Store.Doc(ctx, p.Record)
		if err != nil {
			return d, err
		}
		return w.put(ctx, d, Change{Base: d.Version, Edit: "bring-" + newID(), Device: device}, text, says)
	case store.Shop:
		return w.Add(ctx, k, name, text, says)
	}
	return w.AddPiece(ctx, name, text, "", says)
}
