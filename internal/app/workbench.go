package app

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/base32"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"time"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/store"
)

// Workbench is what the pages work with: the maker's documents in a store,
// and the plans that follow from them.
type Workbench struct {
	Store store.Store
	Now   func() time.Time
	Log   *slog.Logger // told of faults of the program

	bell  bell
	plans plans
}

// NewWorkbench works over a store. The clock is given, so that tests can set
// it.
func NewWorkbench(s store.Store, now func() time.Time) *Workbench {
	w := &Workbench{Store: s, Now: now, Log: slog.New(slog.DiscardHandler)}
	w.plans.fault = func(what any, stack []byte) {
		w.Log.Error("a piece could not be worked out", "fault", what, "stack", string(stack))
	}
	w.plans.start()
	return w
}

// Close ends what goes on in the background. The store stays open.
func (w *Workbench) Close() { w.plans.stop() }

// Listen gives what happens from now on, until leave is called. The channel
// is closed when the listener was too slow.
func (w *Workbench) Listen() (events <-chan Event, leave func()) { return w.bell.listen() }

// newID is forty random bits as eight letters and digits that are not easily
// confused, short enough to stand in an address.
func newID() string {
	var b [5]byte
	_, _ = rand.Read(b[:]) // never fails since Go 1.24
	return strings.ToLower(base32.StdEncoding.EncodeToString(b[:]))
}

// form is the type of a document and an empty one to decode into.
func form(k store.Kind) (document.Type, any) {
	switch k {
	case store.Shop:
		return shop.Doc, &shop.Shop{}
	case store.Record:
		return record.Doc, &record.Record{}
	}
	return piece.Doc, &piece.Piece{}
}

// Problems are what is wrong with a document's text, in the order of the
// text; none when it can be used.
func Problems(d store.Doc) document.Problems {
	var err error
	r := bytes.NewReader(d.Text)
	switch d.Kind {
	case store.Shop:
		_, err = shop.Decode("", r)
	case store.Record:
		_, err = record.Decode("", r)
	default:
		_, err = piece.Decode("", r)
	}
	var ps document.Problems
	if errors.As(err, &ps) {
		return ps
	}
	if err != nil {
		return document.Problems{{Says: err.Error()}}
	}
	return nil
}

// Outline is a document as a tree of fields to walk.
func Outline(d store.Doc) document.Field {
	t, v := form(d.Kind)
	return document.Outline(t, v, d.Text)
}

// Change is what one edit does to a document.
type Change struct {
	Base    int64             // the version it was made from
	Edit    string            // id given by the client
	Device  string            // where it comes from
	Changes []document.Change // by field
	Text    []byte            // or the whole text, when Changes is empty
}

// Edit changes a document. A text with problems is kept too, for nothing
// typed is ever lost; only a path that leads nowhere is refused.
func (w *Workbench) Edit(ctx context.Context, id string, c Change) (store.Doc, error) {
	d, err := w.Store.Doc(ctx, id)
	if err != nil {
		return d, err
	}
	text, says := c.Text, "text edited"
	if len(c.Changes) > 0 {
		if d.Version != c.Base {
			return w.put(ctx, d, c, d.Text, says) // the store knows whether it is stale or sent twice
		}
		t, v := form(d.Kind)
		if text, err = document.Edit("", t, v, d.Text, c.Changes); err != nil {
			return d, err
		}
		says = Says(d, c.Changes)
	}
	return w.put(ctx, d, c, text, says)
}

func (w *Workbench) put(ctx context.Context, d store.Doc, c Change, text []byte, says string) (store.Doc, error) {
	out, err := w.Store.Put(ctx, d.ID, nameIn(text, d.Name), c.Base, store.Revision{
		Text: text, Says: says, Device: c.Device, Edit: c.Edit, At: w.Now(),
	})
	if err == nil {
		w.changed(out, c.Device)
	}
	return out, err
}

// nameIn is the name a text gives itself, or else the one it had.
func nameIn(text []byte, had string) string {
	var p piece.Piece
	document.Decode("", bytes.NewReader(text), piece.Doc, &p)
	if p.Name = strings.TrimSpace(p.Name); p.Name != "" {
		return p.Name
	}
	return had
}

func (w *Workbench) changed(d store.Doc, device string) {
	w.bell.ring(Event{Doc: d.ID, Kind: "document", Version: d.Version, Device: device})
}

// Undo takes the last change of a document back, Redo puts it in again.
func (w *Workbench) Undo(ctx context.Context, id string, base int64, device string) (store.Doc, error) {
	return w.moved(device)(w.Store.Undo(ctx, id, base))
}

// Redo is the way back from Undo.
func (w *Workbench) Redo(ctx context.Context, id string, base int64, device string) (store.Doc, error) {
	return w.moved(device)(w.Store.Redo(ctx, id, base))
}

// Archive puts a document away or takes it out again.
func (w *Workbench) Archive(ctx context.Context, id string, away bool, device string) (store.Doc, error) {
	return w.moved(device)(w.Store.Archive(ctx, id, away))
}

// Link says in which shop a piece is made.
func (w *Workbench) Link(ctx context.Context, id, shopID, device string) (store.Doc, error) {
	d, err := w.Store.Doc(ctx, id)
	if err != nil {
		return d, err
	}
	return w.moved(device)(w.Store.Link(ctx, id, shopID, d.Record))
}

func (w *Workbench) moved(device string) func(store.Doc, error) (store.Doc, error) {
	return func(d store.Doc, err error) (store.Doc, error) {
		if err == nil {
			w.changed(d, device)
		}
		return d, err
	}
}

// Add keeps a new document of a kind.
func (w *Workbench) Add(ctx context.Context, k store.Kind, name string, text []byte, says string) (store.Doc, error) {
	d := store.Doc{ID: newID(), Kind: k, Name: nameIn(text, name), Text: text, Created: w.Now(), Changed: w.Now()}
	d, err := w.Store.Create(ctx, d, says)
	if err == nil {
		w.changed(d, "")
	}
	return d, err
}

// AddPiece keeps a new piece with a record of its own, made in a shop; an
// empty shop is the one used last, or a new one to start from.
func (w *Workbench) AddPiece(ctx context.Context, name string, text []byte, shopID, says string) (store.Doc, error) {
	var p piece.Piece
	document.Decode("", bytes.NewReader(text), piece.Doc, &p)
	if shopID == "" {
		var err error
		if shopID, err = w.someShop(ctx, p); err != nil {
			return store.Doc{}, err
		}
	}
	rec, err := w.Add(ctx, store.Record, name, record.New(p.Units), "begun")
	if err != nil {
		return rec, err
	}
	d, err := w.Add(ctx, store.Piece, name, text, says)
	if err != nil {
		return d, err
	}
	return w.Store.Link(ctx, d.ID, shopID, rec.ID)
}

// someShop is the shop changed last in which a piece can be made as it is; or
// else the one with most of the stock it names, if that is half of it at
// least; or else a new shop to start from.
func (w *Workbench) someShop(ctx context.Context, p piece.Piece) (string, error) {
	shops, err := w.Store.Docs(ctx, store.Shop)
	if err != nil {
		return "", err
	}
	best, most := "", (len(p.Materials)-1)/2
	for _, d := range shops {
		if d.Archived {
			continue
		}
		s, err := shop.Decode("", bytes.NewReader(d.Text))
		if err != nil {
			continue
		}
		n := stocked(p, s)
		if n == len(p.Materials) && n > 0 {
			if _, err := build.Make(p, s, record.Record{}); err == nil {
				return d.ID, nil
			}
		}
		if n > most {
			best, most = d.ID, n
		}
	}
	if best != "" {
		return best, nil
	}
	d, err := w.Add(ctx, store.Shop, "Shop", shop.New(p.Units), "begun")
	return d.ID, err
}

// stocked is how many of the materials that a piece names a shop has.
func stocked(p piece.Piece, s shop.Shop) int {
	n := 0
	for _, key := range p.Materials {
		if _, ok := s.Panels[key]; ok {
			n++
		} else if _, ok := s.Woods[key]; ok {
			n++
		}
	}
	return n
}

// Copy is a new piece with the same text, shop and a record of its own.
func (w *Workbench) Copy(ctx context.Context, id, name string) (store.Doc, error) {
	d, err := w.Store.Doc(ctx, id)
	if err != nil {
		return d, err
	}
	if name == "" {
		name = d.Name + ", copy"
	}
	text, err := Named(d.Kind, d.Text, name)
	if err != nil {
		text = d.Text // a text with problems is copied as it is
	}
	return w.AddPiece(ctx, name, text, d.Shop, fmt.Sprintf("copied from %s", d.Name))
}

// Named is a text with another name.
func Named(k store.Kind, text []byte, name string) ([]byte, error) {
	t, v := form(k)
	return document.Edit("", t, v, text, []document.Change{{Path: "name", Do: "set", Value: name}})
}

// Tick keeps ticks and tells the pages in view.
func (w *Workbench) Tick(ctx context.Context, piece, device string, ts ...store.Tick) error {
	for i := range ts {
		ts[i].Piece, ts[i].Device = piece, device
	}
	if err := w.Store.Tick(ctx, ts...); err != nil {
		return err
	}
	w.bell.ring(Event{Doc: piece, Kind: "ticks", Device: device})
	return nil
}
