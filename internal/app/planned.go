package app

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"

	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/store"
)

// Planned is the plan of a piece as it stands in the store.
type Planned struct {
	Piece, Shop, Record store.Doc
	Plan                plan.Plan
	Key                 Key  // over the three texts the plan was made of
	Settled             bool // the layouts were sought in full; else that goes on and an Event follows
	// Problems of the texts as they stand. The plan is then that of the last
	// texts that could be used.
	Problems []Problem
}

// Problem is one thing wrong in one of the three documents.
type Problem struct {
	Doc  store.Kind
	ID   string
	Path string
	Line int
	Col  int
	Says string
}

// Key names the three texts that a plan is made of.
type Key [sha256.Size]byte

func keyOf(texts ...[]byte) Key {
	h := sha256.New()
	for _, t := range texts {
		sum := sha256.Sum256(t)
		h.Write(sum[:])
	}
	return Key(h.Sum(nil))
}

// quick is the budget of the plan that answers an edit. Most furniture jobs
// are at their best layouts by then; the full search goes on behind.
var quick = cutting.Budget{Iterations: 500}

// back is how many revisions are looked through for a text that can be used.
const back = 40

// Plan gives the plan of a piece: at once, with layouts that may still get
// better, or in full when that was done before. A piece of which no revision
// can be used gives its problems as a *document.Problems error.
func (w *Workbench) Plan(ctx context.Context, id string) (Planned, error) {
	return w.planned(ctx, id, false)
}

// SettledPlan waits for the full search, for papers and comparisons.
func (w *Workbench) SettledPlan(ctx context.Context, id string) (Planned, error) {
	return w.planned(ctx, id, true)
}

func (w *Workbench) planned(ctx context.Context, id string, full bool) (Planned, error) {
	out, err := w.documents(ctx, id)
	if err != nil {
		return out, err
	}
	in := w.usable(ctx, &out, out.Piece.Text)
	at := out.Piece.Head
	for tries := 0; ; tries++ {
		out.Key = in.key()
		out.Plan, out.Settled, err = w.plans.get(ctx, out.Key, in, full)
		var ps document.Problems
		if !errors.As(err, &ps) {
			break // a plan, or something that is not about the text
		}
		if tries == 0 {
			out.add(out.Piece, ps)
		}
		r, rerr := w.Store.Revision(ctx, id, at)
		if rerr != nil || r.Parent == 0 || tries >= back {
			return out, err
		}
		before, rerr := w.Store.Revision(ctx, id, r.Parent)
		if rerr != nil {
			return out, err
		}
		at, in.piece = r.Parent, before.Text
	}
	if err == nil && !out.Settled && len(out.Problems) == 0 {
		w.plans.settle(id, out.Key, in, func() {
			w.bell.ring(Event{Doc: id, Kind: "plan", Version: out.Piece.Version})
		})
	}
	return out, err
}

// usable are a text of the piece with the shop and the record as they stand,
// or as they could be used last; what is wrong with them is noted in out.
func (w *Workbench) usable(ctx context.Context, out *Planned, text []byte) inputs {
	in := inputs{text, out.Shop.Text, out.Record.Text}
	if w.plans.has(in.key()) { // what was planned had no problems
		return in
	}
	for _, d := range []struct {
		doc  store.Doc
		text *[]byte
	}{{out.Shop, &in.shop}, {out.Record, &in.record}} {
		if ps := Problems(d.doc); len(ps) > 0 {
			out.add(d.doc, ps)
			*d.text = w.lastGood(ctx, d.doc)
		}
	}
	return in
}

// PlanAt is the full plan of a piece as it was at one of its revisions, with
// shop and record as they stand or could be used last.
func (w *Workbench) PlanAt(ctx context.Context, id string, revision int64) (plan.Plan, error) {
	now, err := w.documents(ctx, id)
	if err != nil {
		return plan.Plan{}, err
	}
	r, err := w.Store.Revision(ctx, id, revision)
	if err != nil {
		return plan.Plan{}, err
	}
	in := w.usable(ctx, &now, r.Text)
	p, _, err := w.plans.get(ctx, in.key(), in, true)
	return p, err
}

func (p *Planned) add(d store.Doc, ps document.Problems) {
	for _, q := range ps {
		p.Problems = append(p.Problems, Problem{Doc: d.Kind, ID: d.ID, Path: q.Path, Line: q.Line, Col: q.Col, Says: q.Says})
	}
}

// documents reads a piece with its shop and its record.
func (w *Workbench) documents(ctx context.Context, id string) (Planned, error) {
	var out Planned
	var err error
	if out.Piece, err = w.Store.Doc(ctx, id); err != nil {
		return out, err
	}
	if out.Piece.Kind != store.Piece {
		return out, store.ErrMissing
	}
	if out.Shop, err = w.Store.Doc(ctx, out.Piece.Shop); err != nil {
		return out, err
	}
	out.Record, err = w.Store.Doc(ctx, out.Piece.Record)
	return out, err
}

// lastGood is the latest text of a document that can be used; if there is
// none, what stands, whose problems the plan then gives.
func (w *Workbench) lastGood(ctx context.Context, d store.Doc) []byte {
	at := d.Head
	for range back {
		r, err := w.Store.Revision(ctx, d.ID, at)
		if err != nil {
			break
		}
		then := d
		if then.Text = r.Text; len(Problems(then)) == 0 {
			return r.Text
		}
		if at = r.Parent; at == 0 {
			break
		}
	}
	return d.Text
}

// inputs are the three texts of one plan.
type inputs struct{ piece, shop, record []byte }

func (in inputs) key() Key { return keyOf(in.piece, in.shop, in.record) }

// make works the plan out. Problems have their places in the text.
func (in inputs) make(ctx context.Context, budget cutting.Budget) (plan.Plan, error) {
	var j Job
	var err error
	j.pieceText = in.piece
	if j.Piece, err = piece.Decode("", bytes.NewReader(in.piece)); err != nil {
		return plan.Plan{}, err
	}
	if j.Shop, err = shop.Decode("", bytes.NewReader(in.shop)); err != nil {
		return plan.Plan{}, err
	}
	if j.Record, err = record.Decode("", bytes.NewReader(in.record)); err != nil {
		return plan.Plan{}, err
	}
	return j.Plan(ctx, plan.Options{Cutting: budget}, nil)
}
