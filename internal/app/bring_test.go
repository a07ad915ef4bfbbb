package app

import (
	"context"
	"errors"
	"path/filepath"
	"testing"
	"time"

	"casewright/demo"
	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/store"
	"casewright/internal/store/sqlite"
)

func open(t *testing.T) *Workbench {
	t.Helper()
	s, err := sqlite.Open(context.Background(), filepath.Join(t.TempDir(), "data"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	w := NewWorkbench(s, time.Now)
	t.Cleanup(func() { w.Close(); s.Close() })
	return w
}

// Files are recognised by their fields, broken or not.
func TestKindOf(t *testing.T) {
	read := func(name string) []byte {
		b, err := demo.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	for _, c := range []struct {
		text []byte
		want store.Kind
	}{
		{read("chest.yaml"), store.Piece},
		{read("chest.shop.yaml"), store.Shop},
		{read("clinic-cabinet.yaml"), store.Piece},
		{read("record-cabinet.shop.yaml"), store.Shop},
		{[]byte("format: 1\nunits: mm\ncut:\n  - {part: A, count: 1}\n"), store.Record},
		{[]byte("format: 1\nunits: mm\nkerfs: {track: 2.3 mm}\n"), store.Record},
		{[]byte("{\n  \"format\": 1,\n  \"saws\": {},\n  \"panels\": {}\n}"), store.Shop},
		{[]byte("name: A thing\ncase: {kind: shell\nmaterials: ["), store.Piece},
		{[]byte("saws:\n  table: {kerf: 3\nrates: ["), store.Shop},
		{[]byte("nothing of the kind"), store.Piece},
		{nil, store.Piece},
	} {
		if got := KindOf(c.text); got != c.want {
			t.Errorf("%.40q is taken for a %s, it is a %s", c.text, got, c.want)
		}
	}
}

// A broken file is kept as it is, with its problems; mended it is the same
// document. A record goes to the piece it belongs to.
func TestBring(t *testing.T) {
	w, ctx := open(t), context.Background()
	broken := []byte("format: 1\nname: Bench\nunits: mm\nmaterials: {case: oak-18}\ncase: {kind: box, width: 900}\n")
	d, err := w.Bring(ctx, "bench.yaml", broken, "", "")
	if err != nil || d.Kind != store.Piece || d.Name != "Bench" || string(d.Text) != string(broken) || len(Problems(d)) == 0 {
		t.Fatalf("%+v, %v", d, err)
	}
	rec := []byte("format: 1\nunits: mm\ncut: []\nhours: []\n")
	if _, err := w.Bring(ctx, "", rec, "", ""); !errors.Is(err, ErrWhose) {
		t.Errorf("a record without a piece: %v", err)
	}
	r, err := w.Bring(ctx, "", rec, d.ID, "")
	if err != nil || r.ID != d.Record || string(r.Text) != string(rec) {
		t.Errorf("%+v, %v", r, err)
	}
}

// What a maker starts from can be made at once, in a shop that has its stock,
// also beside the shops of the demo pieces; pieces alike share that shop.
func TestStartsCanBeMade(t *testing.T) {
	w, ctx := open(t), context.Background()
	if err := w.PutDemos(ctx); err != nil {
		t.Fatal(err)
	}
	shops := map[string]bool{}
	for _, shape := range piece.Shapes {
		for _, units := range []string{"mm", "in"} {
			text, err := Start(shape, units)
			if err != nil {
				t.Fatal(err)
			}
			d, err := w.AddPiece(ctx, shape, text, "", "begun")
			if err != nil {
				t.Fatal(err)
			}
			shops[d.Shop] = true
			if p, err := w.Plan(ctx, d.ID); err != nil || len(p.Problems) > 0 {
				t.Errorf("%s in %s: %v %v", shape, units, err, p.Problems)
			}
		}
	}
	if len(shops) > 2 {
		t.Errorf("%d shops for pieces that could share one", len(shops))
	}
}

// Going back to a revision makes a new one; what was between stays in the
// history, and undo takes the going back back.
func TestBackTo(t *testing.T) {
	w, ctx := open(t), context.Background()
	text, err := demo.Files.ReadFile("record-cabinet.yaml")
	if err != nil {
		t.Fatal(err)
	}
	d, err := w.AddPiece(ctx, "", text, "", "begun")
	if err != nil {
		t.Fatal(err)
	}
	d, err = w.Edit(ctx, d.ID, Change{Base: d.Version, Edit: "first-edit", Changes: []document.Change{{Path: "case.width", Do: "set", Value: "1520"}}})
	if err != nil {
		t.Fatal(err)
	}
	if d, err = w.BackTo(ctx, d.ID, 1, Change{Base: d.Version, Edit: "back-edit"}); err != nil || string(d.Text) != string(text) || d.Head != 3 {
		t.Fatalf("head %d, %v", d.Head, err)
	}
	rs, err := w.Store.History(ctx, d.ID, 0, 10)
	if err != nil || len(rs) != 3 || rs[0].Says != "back to number 1" || rs[1].Says != "case.width 1500 → 1520 mm" {
		t.Fatalf("%+v, %v", rs, err)
	}
	if d, err = w.Undo(ctx, d.ID, d.Version, ""); err != nil || d.Head != 2 {
		t.Errorf("head %d, %v", d.Head, err)
	}
	if _, err := w.BackTo(ctx, d.ID, 9, Change{Base: d.Version, Edit: "none"}); !errors.Is(err, store.ErrMissing) {
		t.Errorf("a revision that is not there: %v", err)
	}
}

func TestFieldsBetween(t *testing.T) {
	a := []byte("format: 1\nname: Box\nunits: mm\ncase: {kind: carcass, width: 900, depth: 300}\nloose:\n  - {name: lid, length: 10, width: 10, material: oak}\n")
	b := []byte("format: 1\nname: Box\nunits: mm\ncase: {kind: carcass, width: 920, depth: 300, height: 5}\nback: {fit: overlaid}\n")
	want := map[string][2]string{"case.width": {"900", "920"}, "case.height": {"", "5"}, "back": {"", "{fit: overlaid}"}}
	got := FieldsBetween(store.Piece, a, b)
	for _, f := range got {
		w, ok := want[f.Path]
		if ok && (w[0] != f.Old || w[1] != f.New) {
			t.Errorf("%+v, want %q", f, w)
		}
		delete(want, f.Path)
	}
	if len(want) > 0 || len(got) != 4 {
		t.Errorf("%+v; not told: %v", got, want)
	}
	if got := FieldsBetween(store.Piece, a, a); len(got) != 0 {
		t.Errorf("a text and itself: %+v", got)
	}
}
