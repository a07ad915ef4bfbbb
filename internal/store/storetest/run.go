package storetest

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"casewright/internal/store"
)

// Open gives an empty store that tells the time by a clock. It closes it at
// the end of the test.
type Open func(t *testing.T, now func() time.Time) store.Store

// Run holds a store against everything that is asked of one.
func Run(t *testing.T, open Open) {
	tests := []struct {
		name string
		run  func(t *testing.T, s store.Store)
	}{
		{"a document comes back as it was given", roundTrip},
		{"what is not there is said to be missing", missing},
		{"undo and redo walk along what was done", walk},
		{"a change after an undo hides nothing", branch},
		{"a stale version changes nothing and shows what stands", stale},
		{"an edit sent twice counts once", editTwice},
		{"the name goes with the revision", renamed},
		{"history comes in pages", pages},
		{"putting away and linking are no change of the text", aside},
		{"documents are listed last changed first", listed},
		{"the later tick counts, and each only once", ticks},
		{"devices come, are seen and are shut out", devices},
		{"settings are kept", settings},
		{"of many changes on one base one wins", race},
		{"an edit sent by many at once counts once", raceOnOneEdit},
		{"ticks sent by many at once are all kept", raceOfTicks},
		{"any sequence of calls gives what the model gives", sequences},
		{"any set of ticks gives what the model gives", tickSets},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) { test.run(t, open(t, Clock())) })
	}
}

// Clock is a clock that moves on by a second each time it is read.
func Clock() func() time.Time {
	var mu sync.Mutex
	at := time.Date(2026, 1, 5, 7, 0, 0, 0, time.UTC)
	return func() time.Time {
		mu.Lock()
		defer mu.Unlock()
		at = at.Add(time.Second)
		return at
	}
}

var ctx = context.Background()

// must stops the test where a call has no business failing.
func must[T any](t testing.TB, v T, err error) T {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func done(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// same compares two values; no text and an empty one are alike.
func same(t testing.TB, what string, got, want any) {
	t.Helper()
	if d := cmp.Diff(want, got, cmpopts.EquateEmpty()); d != "" {
		t.Fatalf("%s (-want +got):\n%s", what, d)
	}
}

func create(t testing.TB, s store.Store, id, text string) store.Doc {
	t.Helper()
	d, err := s.Create(ctx, store.Doc{ID: id, Kind: store.Piece, Name: "Chest", Text: []byte(text)}, "New piece")
	return must(t, d, err)
}

func put(t testing.TB, s store.Store, d store.Doc, text string) store.Doc {
	t.Helper()
	d, err := s.Put(ctx, d.ID, "Chest", d.Version, store.Revision{Text: []byte(text)})
	return must(t, d, err)
}

func roundTrip(t *testing.T, s store.Store) {
	// A comment, tabs, a fraction, no newline at the end, and bytes that are
	// no text at all: what was typed comes back.
	for i, text := range []string{"", "name: Chest # of ash\n\twidth: 17¼ in", "\xff\x00\xfe", "a\r\nb"} {
		given := store.Doc{
			ID: fmt.Sprint("p", i), Kind: store.Record, Name: "Truhe ’20", Text: []byte(text), Shop: "s", Record: "r",
		}
		got := must2(t)(s.Create(ctx, given, "Imported"))
		if got.Created.IsZero() || !got.Created.Equal(got.Changed) {
			t.Errorf("made at %v, changed at %v", got.Created, got.Changed)
		}
		want := given
		want.Head, want.Version, want.Created, want.Changed = 1, 1, got.Created, got.Changed
		same(t, "made", got, want)
		same(t, "read", must2(t)(s.Doc(ctx, given.ID)), want)
		r, err := s.Revision(ctx, given.ID, 1)
		done(t, err)
		same(t, "first revision", r, store.Revision{Number: 1, Text: []byte(text), Says: "Imported", At: got.Created})
	}
	before := must2(t)(s.Doc(ctx, "p1"))
	if _, err := s.Create(ctx, store.Doc{ID: "p1", Kind: store.Piece, Text: []byte("other")}, ""); err == nil {
		t.Error("a second document was made under an id that is taken")
	}
	same(t, "after a refused one", must2(t)(s.Doc(ctx, "p1")), before)
}

// must2 is must for a call written in its place.
func must2(t testing.TB) func(store.Doc, error) store.Doc {
	t.Helper()
	return func(d store.Doc, err error) store.Doc {
		t.Helper()
		return must(t, d, err)
	}
}

func missing(t *testing.T, s store.Store) {
	create(t, s, "there", "a")
	calls := map[string]func() error{
		"Doc":          func() error { _, err := s.Doc(ctx, "x"); return err },
		"Put":          func() error { _, err := s.Put(ctx, "x", "", 1, store.Revision{}); return err },
		"Undo":         func() error { _, err := s.Undo(ctx, "x", 1); return err },
		"Redo":         func() error { _, err := s.Redo(ctx, "x", 1); return err },
		"History":      func() error { _, err := s.History(ctx, "x", 0, 9); return err },
		"Revision":     func() error { _, err := s.Revision(ctx, "x", 1); return err },
		"Revision 2":   func() error { _, err := s.Revision(ctx, "there", 2); return err },
		"Revision 0":   func() error { _, err := s.Revision(ctx, "there", 0); return err },
		"Link":         func() error { _, err := s.Link(ctx, "x", "", ""); return err },
		"Archive":      func() error { _, err := s.Archive(ctx, "x", true); return err },
		"Revoke":       func() error { return s.Revoke(ctx, "x") },
		"Seen":         func() error { return s.Seen(ctx, "x", time.Unix(1, 0)) },
		"Doc, no name": func() error { _, err := s.Doc(ctx, ""); return err },
	}
	for name, call := range calls {
		if err := call(); !errors.Is(err, store.ErrMissing) {
			t.Errorf("%s gives %v, want it to say that it is not there", name, err)
		}
	}
}

// stands checks text, head and which ways are open.
func stands(t testing.TB, d store.Doc, text string, head int64, undo, redo bool) {
	t.Helper()
	if string(d.Text) != text || d.Head != head || d.CanUndo != undo || d.CanRedo != redo {
		t.Fatalf("got %q at %d, undo %v, redo %v; want %q at %d, undo %v, redo %v",
			d.Text, d.Head, d.CanUndo, d.CanRedo, text, head, undo, redo)
	}
}

func walk(t *testing.T, s store.Store) {
	d := create(t, s, "p", "a")
	stands(t, d, "a", 1, false, false)
	if _, err := s.Undo(ctx, "p", d.Version); !errors.Is(err, store.ErrNothing) {
		t.Errorf("undo of the first gives %v", err)
	}
	d = put(t, s, put(t, s, d, "b"), "c")
	stands(t, d, "c", 3, true, false)
	if _, err := s.Redo(ctx, "p", d.Version); !errors.Is(err, store.ErrNothing) {
		t.Errorf("redo of the last gives %v", err)
	}
	for _, step := range []struct {
		do         func(context.Context, string, int64) (store.Doc, error)
		text       string
		head       int64
		undo, redo bool
	}{
		{s.Undo, "b", 2, true, true},
		{s.Undo, "a", 1, false, true},
		{s.Redo, "b", 2, true, true},
		{s.Redo, "c", 3, true, false},
		{s.Undo, "b", 2, true, true},
	} {
		was := d
		d = must2(t)(step.do(ctx, "p", d.Version))
		stands(t, d, step.text, step.head, step.undo, step.redo)
		if d.Version != was.Version+1 || !d.Changed.After(was.Changed) {
			t.Errorf("version %d at %v after %d at %v", d.Version, d.Changed, was.Version, was.Changed)
		}
		same(t, "read", must2(t)(s.Doc(ctx, "p")), d)
	}
}

func branch(t *testing.T, s store.Store) {
	d := put(t, s, put(t, s, create(t, s, "p", "a"), "b"), "c")
	d = must2(t)(s.Undo(ctx, "p", d.Version))
	d = must2(t)(s.Undo(ctx, "p", d.Version))
	d = put(t, s, d, "d") // a - b - c, and a - d
	stands(t, d, "d", 4, true, false)
	d = must2(t)(s.Undo(ctx, "p", d.Version))
	stands(t, d, "a", 1, false, true)
	d = must2(t)(s.Redo(ctx, "p", d.Version))
	stands(t, d, "d", 4, true, false)
	for n, text := range map[int64]string{1: "a", 2: "b", 3: "c", 4: "d"} {
		r, err := s.Revision(ctx, "p", n)
		done(t, err)
		if string(r.Text) != text {
			t.Errorf("revision %d is %q, want %q", n, r.Text, text)
		}
	}
}

func stale(t *testing.T, s store.Store) {
	old := create(t, s, "p", "a")
	now := put(t, s, old, "b")
	put1 := func(base int64) (store.Doc, error) {
		return s.Put(ctx, "p", "Other", base, store.Revision{Text: []byte("x"), Edit: "e"})
	}
	for name, call := range map[string]func(base int64) (store.Doc, error){
		"Put":  put1,
		"Undo": func(base int64) (store.Doc, error) { return s.Undo(ctx, "p", base) },
		"Redo": func(base int64) (store.Doc, error) { return s.Redo(ctx, "p", base) },
	} {
		for _, base := range []int64{old.Version, now.Version + 1, 0, -1} {
			_, err := call(base)
			var se *store.StaleError
			if !errors.As(err, &se) {
				t.Errorf("%s on version %d gives %v, want a stale error", name, base, err)
				continue
			}
			same(t, name+" shows", se.Now, now)
		}
	}
	same(t, "afterwards", must2(t)(s.Doc(ctx, "p")), now)
	// The refused edit was not remembered: it can be sent again.
	stands(t, must2(t)(put1(now.Version)), "x", 3, true, false)
}

func editTwice(t *testing.T, s store.Store) {
	d := create(t, s, "p", "a")
	other := create(t, s, "q", "a")
	r := store.Revision{Text: []byte("b"), Says: "Wider", Device: "phone", Edit: "edit-1"}
	first := must2(t)(s.Put(ctx, "p", "Chest", d.Version, r))
	again := must2(t)(s.Put(ctx, "p", "Chest", d.Version, r))
	same(t, "sent again", again, first)
	third := put(t, s, first, "c")
	same(t, "sent again later", must2(t)(s.Put(ctx, "p", "Chest", d.Version, r)), third)
	back := must2(t)(s.Undo(ctx, "p", third.Version))
	back = must2(t)(s.Undo(ctx, "p", back.Version))
	same(t, "sent again after it was undone", must2(t)(s.Put(ctx, "p", "Chest", back.Version, r)), back)
	kept, err := s.Revision(ctx, "p", 2)
	done(t, err)
	r.Number, r.Parent, r.At = 2, 1, first.Changed
	same(t, "kept", kept, r)
	// An id counts within its document, and no id is never known.
	if got := must2(t)(s.Put(ctx, "q", "Chest", other.Version, store.Revision{Text: []byte("b"), Edit: "edit-1"})); got.Head != 2 {
		t.Error("an edit of one document stood in the way of another's")
	}
	put(t, s, put(t, s, must2(t)(s.Doc(ctx, "q")), "x"), "y")
}

func renamed(t *testing.T, s store.Store) {
	d := create(t, s, "p", "a")
	d = must2(t)(s.Put(ctx, "p", "Bench", d.Version, store.Revision{Text: []byte("b")}))
	if d.Name != "Bench" {
		t.Errorf("renamed to %q", d.Name)
	}
	if d = must2(t)(s.Undo(ctx, "p", d.Version)); d.Name != "Chest" {
		t.Errorf("after undo it is called %q", d.Name)
	}
	if d = must2(t)(s.Redo(ctx, "p", d.Version)); d.Name != "Bench" {
		t.Errorf("after redo it is called %q", d.Name)
	}
}

func pages(t *testing.T, s store.Store) {
	d := create(t, s, "p", "a")
	for i := range 6 {
		d = put(t, s, d, fmt.Sprint(i))
	}
	for _, test := range []struct {
		below int64
		most  int
		want  []int64
	}{
		{0, 100, []int64{7, 6, 5, 4, 3, 2, 1}},
		{0, 2, []int64{7, 6}},
		{6, 2, []int64{5, 4}},
		{2, 2, []int64{1}},
		{1, 2, nil},
		{99, 1, []int64{7}},
		{0, 0, nil},
		{0, -1, nil},
	} {
		rs, err := s.History(ctx, "p", test.below, test.most)
		done(t, err)
		var got []int64
		for _, r := range rs {
			got = append(got, r.Number)
			if len(r.Text) > 0 || r.Parent != r.Number-1 || r.At.IsZero() {
				t.Errorf("revision %d: %+v", r.Number, r)
			}
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%d below %d: got %v, want %v", test.most, test.below, got, test.want)
		}
	}
}

func aside(t *testing.T, s store.Store) {
	d := put(t, s, create(t, s, "p", "a"), "b")
	want := d
	want.Archived = true
	same(t, "put away", must2(t)(s.Archive(ctx, "p", true)), want)
	same(t, "put away twice", must2(t)(s.Archive(ctx, "p", true)), want)
	want.Shop, want.Record = "shop", "record"
	same(t, "linked", must2(t)(s.Link(ctx, "p", "shop", "record")), want)
	want.Archived = false
	same(t, "taken out", must2(t)(s.Archive(ctx, "p", false)), want)
	// An open page can go on from the version it has.
	stands(t, put(t, s, d, "c"), "c", 3, true, false)
}

func listed(t *testing.T, s store.Store) {
	for _, id := range []string{"a", "b", "c"} {
		create(t, s, id, id)
	}
	_ = must2(t)(s.Create(ctx, store.Doc{ID: "shop", Kind: store.Shop}, ""))
	put(t, s, must2(t)(s.Doc(ctx, "a")), "later")
	_ = must2(t)(s.Archive(ctx, "b", true))
	ds, err := s.Docs(ctx, store.Piece)
	done(t, err)
	var ids []string
	for _, d := range ds {
		ids = append(ids, d.ID)
		same(t, "listed", d, must2(t)(s.Doc(ctx, d.ID)))
	}
	if !slices.Equal(ids, []string{"a", "c", "b"}) {
		t.Errorf("listed %v", ids)
	}
	if ds, err := s.Docs(ctx, store.Record); err != nil || len(ds) != 0 {
		t.Errorf("records: %v, %v", ds, err)
	}
}
