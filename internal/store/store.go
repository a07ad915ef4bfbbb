// Package store keeps the maker's documents, what was ticked off and which
// devices may take part. The text of a document, as the maker wrote it, is
// the truth; everything else is worked out from it.
//
// Every change adds a revision and moves the head of its document, undo and
// redo only move the head, and no revision is ever taken away: what was typed
// can always be found again.
package store

import (
	"context"
	"errors"
	"time"
)

// Kind says which of the three documents a text is.
type Kind string

// The kinds.
const (
	Piece  Kind = "piece"
	Shop   Kind = "shop"
	Record Kind = "record"
)

// Doc is one document as it stands.
type Doc struct {
	ID       string
	Kind     Kind
	Name     string // what the maker calls it
	Text     []byte // YAML, as written
	Head     int64  // number of the revision that stands
	Version  int64  // grows by one with every change, undo and redo
	CanUndo  bool
	CanRedo  bool
	Shop     string // pieces: the shop it is made in
	Record   string // pieces: its record
	Archived bool
	Created  time.Time
	Changed  time.Time
}

// Revision is one text a document had.
type Revision struct {
	Number int64 // counts from 1 in each document
	Parent int64 // the revision it was made from; 0 for the first
	Text   []byte
	Says   string // what changed, for the history
	Device string // id of the device it came from; empty for this machine
	Edit   string // id the client gave the edit; the same edit sent twice counts once
	At     time.Time
}

// Tick says that something on a paper is done: a setting at the saw, a step
// at the bench. The latest of one piece and place counts.
type Tick struct {
	ID     string // given by the client, so that a tick sent twice counts once
	Piece  string
	Place  string // what is ticked, such as "saw/5f3c0a91/2"
	Done   bool   // false takes the tick back
	Count  int    // for things that are counted down, such as kerfs
	Device string
	At     time.Time // by the clock of the device
}

// Device is a phone, tablet or second computer that was let in.
type Device struct {
	ID      string
	Name    string
	Token   []byte // SHA-256 of the secret it holds
	Paired  time.Time
	Seen    time.Time
	Revoked bool
}

// What a store says when it cannot do what it is asked.
var (
	ErrMissing = errors.New("it is not there")
	ErrNothing = errors.New("there is nothing to undo or redo")
)

// StaleError says that a document has moved on since the client read it. It
// carries the document as it stands, so that nothing need be lost.
type StaleError struct{ Now Doc }

func (e *StaleError) Error() string { return "the document has changed since it was read" }

// Store keeps documents, ticks and devices. Every method is safe for use by
// many goroutines. A call that returns without an error is kept: it outlives
// a crash of the program right after.
type Store interface {
	// Create adds a document with its first revision. A text that is there
	// already under this id is an error.
	Create(ctx context.Context, d Doc, says string) (Doc, error)
	// Doc gives one document.
	Doc(ctx context.Context, id string) (Doc, error)
	// Docs gives all documents of a kind, archived ones too, last changed
	// first.
	Docs(ctx context.Context, k Kind) ([]Doc, error)
	// Put makes r.Text the text that stands, as a child of the head, and name
	// the document's name. It fails with a StaleError unless base is the
	// version that stands, except that an edit whose id is known already
	// gives the document as it stands.
	Put(ctx context.Context, id, name string, base int64, r Revision) (Doc, error)
	// Undo moves the head back to its parent; Redo forward again, along the
	// revisions last undone. Both fail with a StaleError like Put.
	Undo(ctx context.Context, id string, base int64) (Doc, error)
	Redo(ctx context.Context, id string, base int64) (Doc, error)
	// History gives revisions below a number, latest first; 0 is from the
	// latest. Texts are left out.
	History(ctx context.Context, id string, below int64, most int) ([]Revision, error)
	// Revision gives one with its text.
	Revision(ctx context.Context, id string, number int64) (Revision, error)
	// Link says in which shop a piece is made and which record it has.
	Link(ctx context.Context, piece, shop, record string) (Doc, error)
	// Archive puts a document away, or takes it out again.
	Archive(ctx context.Context, id string, away bool) (Doc, error)

	// Tick keeps a tick once, whatever the number of times it is sent.
	Tick(ctx context.Context, ts ...Tick) error
	// Ticks gives the tick that counts for every place of a piece, by place.
	// Where two devices ticked one place, the later by the devices' clocks
	// counts, then the greater id.
	Ticks(ctx context.Context, piece string) ([]Tick, error)

	// Admit adds a device, Devices lists them, Revoke shuts one out and
	// Seen notes that it was there.
	Admit(ctx context.Context, d Device) error
	Devices(ctx context.Context) ([]Device, error)
	Revoke(ctx context.Context, id string) error
	Seen(ctx context.Context, id string, at time.Time) error

	// Setting keeps one value under a name, such as that the demo pieces were
	// put in. A name not set gives "".
	Setting(ctx context.Context, name string) (string, error)
	SetSetting(ctx context.Context, name, value string) error

	Close() error
}
