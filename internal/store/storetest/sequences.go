package storetest

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"casewright/internal/store"
)

// pair is the store under test and the model, told the same things. Documents
// of earlier draws stay in both, so each draw has a prefix of its own.
type pair struct {
	s, model store.Store
	prefix   string
}

// timeless leaves out the times, which are each store's own.
var timeless = cmp.Options{
	cmpopts.EquateEmpty(),
	cmpopts.IgnoreFields(store.Doc{}, "Created", "Changed"),
	cmpopts.IgnoreFields(store.Revision{}, "At"),
}

// agree compares what a call gave in both: the value, or the kind of refusal.
func agree(t *rapid.T, what string, got any, gotErr error, want any, wantErr error) {
	t.Helper()
	if d := cmp.Diff(want, got, timeless); d != "" {
		t.Fatalf("%s (-model +store):\n%s", what, d)
	}
	var gs, ws *store.StaleError
	if errors.As(wantErr, &ws) {
		if !errors.As(gotErr, &gs) {
			t.Fatalf("%s: got %v, want a stale error", what, gotErr)
		}
		if d := cmp.Diff(ws.Now, gs.Now, timeless); d != "" {
			t.Fatalf("%s, shown as standing (-model +store):\n%s", what, d)
		}
		return
	}
	for _, kind := range []error{store.ErrMissing, store.ErrNothing} {
		if errors.Is(wantErr, kind) != errors.Is(gotErr, kind) {
			t.Fatalf("%s: got %v, want %v", what, gotErr, wantErr)
		}
	}
	if (gotErr == nil) != (wantErr == nil) {
		t.Fatalf("%s: got %v, want %v", what, gotErr, wantErr)
	}
}

func (p *pair) doc(t *rapid.T, what string, call func(store.Store) (store.Doc, error)) {
	t.Helper()
	got, err := call(p.s)
	want, wantErr := call(p.model)
	agree(t, what, got, err, want, wantErr)
}

// id draws one that is there, most times.
func (p *pair) id(t *rapid.T) string {
	return p.prefix + rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "id")
}

// base draws the version that stands, most times.
func (p *pair) base(t *rapid.T, id string) int64 {
	d, _ := p.model.Doc(ctx, id)
	return d.Version - max(0, rapid.Int64Range(-4, 2).Draw(t, "behind"))
}

func sequences(t *testing.T, s store.Store) {
	model, draw := NewMemory(Clock()), 0
	rapid.Check(t, func(t *rapid.T) {
		draw++
		p := &pair{s: s, model: model, prefix: fmt.Sprint(draw, "-")}
		text := rapid.SliceOfN(rapid.Byte(), 0, 40)
		t.Repeat(map[string]func(*rapid.T){
			"create": func(t *rapid.T) {
				d := store.Doc{
					ID: p.id(t), Name: rapid.String().Draw(t, "name"), Text: text.Draw(t, "text"),
					Kind: rapid.SampledFrom([]store.Kind{store.Piece, store.Shop, store.Record}).Draw(t, "kind"),
				}
				p.doc(t, "create", func(s store.Store) (store.Doc, error) {
					d, err := s.Create(ctx, d, "New")
					if err != nil {
						d = store.Doc{}
					}
					return d, err
				})
			},
			"put": func(t *rapid.T) {
				id := p.id(t)
				base, name := p.base(t, id), rapid.String().Draw(t, "name")
				r := store.Revision{
					Text: text.Draw(t, "text"), Says: rapid.String().Draw(t, "says"), Device: "d",
					Edit: rapid.SampledFrom([]string{"", "", "", "1", "2", "3"}).Draw(t, "edit"),
				}
				p.doc(t, "put", func(s store.Store) (store.Doc, error) { return s.Put(ctx, id, name, base, r) })
			},
			"undo": func(t *rapid.T) {
				id := p.id(t)
				base := p.base(t, id)
				p.doc(t, "undo", func(s store.Store) (store.Doc, error) { return s.Undo(ctx, id, base) })
			},
			"redo": func(t *rapid.T) {
				id := p.id(t)
				base := p.base(t, id)
				p.doc(t, "redo", func(s store.Store) (store.Doc, error) { return s.Redo(ctx, id, base) })
			},
			"archive": func(t *rapid.T) {
				id, away := p.id(t), rapid.Bool().Draw(t, "away")
				p.doc(t, "archive", func(s store.Store) (store.Doc, error) { return s.Archive(ctx, id, away) })
			},
			"link": func(t *rapid.T) {
				id, shop := p.id(t), rapid.String().Draw(t, "shop")
				p.doc(t, "link", func(s store.Store) (store.Doc, error) { return s.Link(ctx, id, shop, "r") })
			},
			"history": func(t *rapid.T) {
				id, below, most := p.id(t), rapid.Int64Range(0, 9).Draw(t, "below"), rapid.IntRange(0, 5).Draw(t, "most")
				got, err := p.s.History(ctx, id, below, most)
				want, wantErr := p.model.History(ctx, id, below, most)
				agree(t, "history", got, err, want, wantErr)
			},
		})
		p.wholeHistory(t)
	})
}

// wholeHistory compares every document and every text it ever had.
func (p *pair) wholeHistory(t *rapid.T) {
	for _, id := range []string{p.prefix + "a", p.prefix + "b", p.prefix + "c"} {
		p.doc(t, "at the end", func(s store.Store) (store.Doc, error) { return s.Doc(ctx, id) })
		rs, _ := p.model.History(ctx, id, 0, 1<<30)
		for _, r := range rs {
			got, err := p.s.Revision(ctx, id, r.Number)
			want, wantErr := p.model.Revision(ctx, id, r.Number)
			agree(t, "revision at the end", got, err, want, wantErr)
		}
	}
}

func tickSets(t *testing.T, s store.Store) {
	model, draw := NewMemory(Clock()), 0
	rapid.Check(t, func(t *rapid.T) {
		draw++
		piece := fmt.Sprint("p", draw)
		tick := rapid.Custom(func(t *rapid.T) store.Tick {
			return store.Tick{
				ID: piece + rapid.StringMatching(`[a-d]{1,2}`).Draw(t, "id"), Piece: piece,
				Place: rapid.SampledFrom([]string{"saw/1", "saw/2", "bench/é"}).Draw(t, "place"),
				Done:  rapid.Bool().Draw(t, "done"), Count: rapid.Int().Draw(t, "count"),
				At: time.UnixMicro(rapid.Int64Range(-2, 2).Draw(t, "at")).UTC(),
			}
		})
		for range rapid.IntRange(1, 4).Draw(t, "times") {
			ts := rapid.SliceOfN(tick, 0, 6).Draw(t, "ticks")
			agree(t, "tick", nil, s.Tick(ctx, ts...), nil, model.Tick(ctx, ts...))
		}
		got, err := s.Ticks(ctx, piece)
		want, wantErr := model.Ticks(ctx, piece)
		agree(t, "ticks", got, err, want, wantErr)
	})
}
