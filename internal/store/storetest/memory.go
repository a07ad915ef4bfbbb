// Package storetest says by tests what a store of documents must do, and has
// a store in memory that is simple enough to be seen to be right.
package storetest

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync"
	"time"

	"casewright/internal/store"
)

// Memory is a store that keeps everything in memory and nothing afterwards.
// It is the model the others are held against, and serves tests that need a
// store but no disk.
type Memory struct {
	mu       sync.Mutex
	now      func() time.Time
	docs     map[string]*entry
	ticks    map[string]store.Tick
	devices  map[string]store.Device
	settings map[string]string
}

// entry is a document with all its revisions; redo is the stack of heads last
// undone.
type entry struct {
	doc       store.Doc
	names     []string // by number of the revision, from 1
	revisions []store.Revision
	redo      []int64
}

var _ store.Store = (*Memory)(nil)

// NewMemory gives an empty one that tells the time by a clock.
func NewMemory(now func() time.Time) *Memory {
	return &Memory{
		now: now, docs: map[string]*entry{}, ticks: map[string]store.Tick{},
		devices: map[string]store.Device{}, settings: map[string]string{},
	}
}

// add puts a revision on top and moves the head there.
func (e *entry) add(name string, r store.Revision) {
	r.Number, r.Text = int64(len(e.revisions))+1, slices.Clone(r.Text)
	e.revisions, e.names = append(e.revisions, r), append(e.names, name)
	e.doc.Head = r.Number
}

// stands is the document with what follows from where its head is.
func (e *entry) stands() store.Doc {
	d, r := e.doc, e.revisions[e.doc.Head-1]
	d.Name, d.Text = e.names[d.Head-1], slices.Clone(r.Text)
	d.CanUndo, d.CanRedo = r.Parent != 0, len(e.redo) > 0
	return d
}

// on runs f on a document and gives it as it then stands.
func (m *Memory) on(id string, f func(e *entry) error) (store.Doc, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	e := m.docs[id]
	if e == nil {
		return store.Doc{}, store.ErrMissing
	}
	if err := f(e); err != nil {
		return store.Doc{}, err
	}
	return e.stands(), nil
}

// moved counts a change.
func (m *Memory) moved(e *entry, at time.Time) {
	e.doc.Version++
	e.doc.Changed = at
}

// Create adds a document with its first revision.
func (m *Memory) Create(_ context.Context, d store.Doc, says string) (store.Doc, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.docs[d.ID] != nil {
		return store.Doc{}, fmt.Errorf("a document %s is there already", d.ID)
	}
	at := m.now()
	e := &entry{doc: store.Doc{
		ID: d.ID, Kind: d.Kind, Version: 1, Shop: d.Shop, Record: d.Record, Archived: d.Archived, Created: at, Changed: at,
	}}
	e.add(d.Name, store.Revision{Text: d.Text, Says: says, At: at})
	m.docs[d.ID] = e
	return e.stands(), nil
}

// Doc gives one document.
func (m *Memory) Doc(_ context.Context, id string) (store.Doc, error) {
	return m.on(id, func(*entry) error { return nil })
}

// Docs gives all documents of a kind, last changed first.
func (m *Memory) Docs(_ context.Context, k store.Kind) ([]store.Doc, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []store.Doc
	for _, e := range m.docs {
		if e.doc.Kind == k {
			out = append(out, e.stands())
		}
	}
	slices.SortFunc(out, func(a, b store.Doc) int {
		return cmp.Or(b.Changed.Compare(a.Changed), cmp.Compare(a.ID, b.ID))
	})
	return out, nil
}

// Put adds a revision to the head.
func (m *Memory) Put(_ context.Context, id, name string, base int64, r store.Revision) (store.Doc, error) {
	return m.on(id, func(e *entry) error {
		known := func(old store.Revision) bool { return old.Edit == r.Edit }
		if r.Edit != "" && slices.ContainsFunc(e.revisions, known) {
			return nil
		}
		if e.doc.Version != base {
			return &store.StaleError{Now: e.stands()}
		}
		r.Parent, r.At = e.doc.Head, m.now()
		e.add(name, r)
		e.redo = nil
		m.moved(e, r.At)
		return nil
	})
}

// Undo moves the head back to its parent.
func (m *Memory) Undo(_ context.Context, id string, base int64) (store.Doc, error) {
	return m.on(id, func(e *entry) error {
		if e.doc.Version != base {
			return &store.StaleError{Now: e.stands()}
		}
		parent := e.revisions[e.doc.Head-1].Parent
		if parent == 0 {
			return store.ErrNothing
		}
		e.redo = append(e.redo, e.doc.Head)
		e.doc.Head = parent
		m.moved(e, m.now())
		return nil
	})
}

// Redo moves the head forward again.
func (m *Memory) Redo(_ context.Context, id string, base int64) (store.Doc, error) {
	return m.on(id, func(e *entry) error {
		if e.doc.Version != base {
			return &store.StaleError{Now: e.stands()}
		}
		if len(e.redo) == 0 {
			return store.ErrNothing
		}
		last := len(e.redo) - 1
		e.doc.Head, e.redo = e.redo[last], e.redo[:last]
		m.moved(e, m.now())
		return nil
	})
}

// History gives revisions below a number, latest first, without their texts.
func (m *Memory) History(_ context.Context, id string, below int64, most int) ([]store.Revision, error) {
	var out []store.Revision
	_, err := m.on(id, func(e *entry) error {
		for _, r := range slices.Backward(e.revisions) {
			if (below <= 0 || r.Number < below) && len(out) < most {
				r.Text = nil
				out = append(out, r)
			}
		}
		return nil
	})
	return out, err
}

// Revision gives one with its text.
func (m *Memory) Revision(_ context.Context, id string, number int64) (store.Revision, error) {
	var out store.Revision
	_, err := m.on(id, func(e *entry) error {
		if number < 1 || number > int64(len(e.revisions)) {
			return store.ErrMissing
		}
		out = e.revisions[number-1]
		out.Text = slices.Clone(out.Text)
		return nil
	})
	return out, err
}

// Link says in which shop a piece is made and which record it has.
func (m *Memory) Link(_ context.Context, piece, shop, record string) (store.Doc, error) {
	return m.on(piece, func(e *entry) error {
		e.doc.Shop, e.doc.Record = shop, record
		return nil
	})
}

// Archive puts a document away, or takes it out again.
func (m *Memory) Archive(_ context.Context, id string, away bool) (store.Doc, error) {
	return m.on(id, func(e *entry) error {
		e.doc.Archived = away
		return nil
	})
}

// Tick keeps ticks, each once; all of them or none.
func (m *Memory) Tick(_ context.Context, ts ...store.Tick) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if slices.ContainsFunc(ts, func(t store.Tick) bool { return t.ID == "" }) {
		return errors.New("a tick came without an id")
	}
	for _, t := range ts {
		if _, known := m.ticks[t.ID]; !known {
			m.ticks[t.ID] = t
		}
	}
	return nil
}

// Ticks gives the tick that counts for every place of a piece, by place.
func (m *Memory) Ticks(_ context.Context, piece string) ([]store.Tick, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	latest := map[string]store.Tick{}
	for _, t := range m.ticks {
		if t.Piece != piece {
			continue
		}
		was, ticked := latest[t.Place]
		if !ticked || cmp.Or(t.At.Compare(was.At), cmp.Compare(t.ID, was.ID)) > 0 {
			latest[t.Place] = t
		}
	}
	return slices.SortedFunc(maps.Values(latest), func(a, b store.Tick) int { return cmp.Compare(a.Place, b.Place) }), nil
}

// Admit adds a device.
func (m *Memory) Admit(_ context.Context, d store.Device) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if _, known := m.devices[d.ID]; known {
		return fmt.Errorf("a device %s is there already", d.ID)
	}
	d.Token = slices.Clone(d.Token)
	m.devices[d.ID] = d
	return nil
}

// Devices lists all, first paired first.
func (m *Memory) Devices(context.Context) ([]store.Device, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.SortedFunc(maps.Values(m.devices), func(a, b store.Device) int {
		return cmp.Or(a.Paired.Compare(b.Paired), cmp.Compare(a.ID, b.ID))
	}), nil
}

// Revoke shuts a device out for good.
func (m *Memory) Revoke(_ context.Context, id string) error {
	return m.device(id, func(d *store.Device) { d.Revoked = true })
}

// Seen notes that a device was there; an earlier time changes nothing.
func (m *Memory) Seen(_ context.Context, id string, at time.Time) error {
	return m.device(id, func(d *store.Device) {
		if at.After(d.Seen) {
			d.Seen = at
		}
	})
}

func (m *Memory) device(id string, f func(*store.Device)) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	d, known := m.devices[id]
	if !known {
		return store.ErrMissing
	}
	f(&d)
	m.devices[id] = d
	return nil
}

// Setting gives the value kept under a name, or "".
func (m *Memory) Setting(_ context.Context, name string) (string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.settings[name], nil
}

// SetSetting keeps a value under a name.
func (m *Memory) SetSetting(_ context.Context, name, value string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.settings[name] = value
	return nil
}

// Close does nothing: there is nothing to let go of.
func (m *Memory) Close() error { return nil }
