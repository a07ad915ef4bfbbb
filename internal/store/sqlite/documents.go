package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"casewright/internal/store"
)

// standing selects documents with the revision that stands. The name is kept
// with each revision, so that undo brings back an earlier one.
const standing = `
	SELECT d.id, d.kind, r.name, r.text, d.head, d.version, r.parent > 0, r.forward > 0,
	       d.shop, d.record, d.archived, d.created, d.changed
	FROM documents d JOIN revisions r ON r.doc = d.id AND r.number = d.head `

// querier is a connection or a transaction.
type querier interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

func scanDoc(row interface{ Scan(...any) error }) (store.Doc, error) {
	var d store.Doc
	var created, changed int64
	err := row.Scan(&d.ID, &d.Kind, &d.Name, &d.Text, &d.Head, &d.Version, &d.CanUndo, &d.CanRedo,
		&d.Shop, &d.Record, &d.Archived, &created, &changed)
	d.Created, d.Changed = instant(created), instant(changed)
	return d, err
}

func doc(ctx context.Context, q querier, id string) (store.Doc, error) {
	return scanDoc(q.QueryRowContext(ctx, standing+`WHERE d.id = ?`, id))
}

// micros and instant are the two directions of how times are kept.
func micros(t time.Time) int64  { return t.UnixMicro() }
func instant(n int64) time.Time { return time.UnixMicro(n).UTC() }

// solid keeps an empty text from being stored as none.
func solid(b []byte) []byte {
	if b == nil {
		return []byte{}
	}
	return b
}

// change runs f in a transaction: all of it is kept, or nothing.
func (s *Store) change(ctx context.Context, f func(tx *sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return s.told(err)
	}
	if err := f(tx); err != nil {
		tx.Rollback()
		return s.told(err)
	}
	return s.told(tx.Commit())
}

// Create adds a document with its first revision.
func (s *Store) Create(ctx context.Context, d store.Doc, says string) (store.Doc, error) {
	now := micros(s.now())
	var out store.Doc
	err := s.change(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `INSERT INTO documents (id, kind, head, version, shop, record, archived, created, changed)
			VALUES (?, ?, 1, 1, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING`,
			d.ID, string(d.Kind), d.Shop, d.Record, d.Archived, now, now)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return fmt.Errorf("a document %s is there already; give the new one another id", d.ID)
		}
		if err := addRevision(ctx, tx, d.ID, d.Name, store.Revision{Number: 1, Text: d.Text, Says: says}, now); err != nil {
			return err
		}
		out, err = doc(ctx, tx, d.ID)
		return err
	})
	return out, err
}

// Doc gives one document.
func (s *Store) Doc(ctx context.Context, id string) (store.Doc, error) {
	d, err := doc(ctx, s.read, id)
	if err != nil {
		return store.Doc{}, s.told(err)
	}
	return d, nil
}

// Docs gives all documents of a kind, last changed first.
func (s *Store) Docs(ctx context.Context, k store.Kind) ([]store.Doc, error) {
	rows, err := s.read.QueryContext(ctx, standing+`WHERE d.kind = ? ORDER BY d.changed DESC, d.id`, string(k))
	return gather(s, rows, err, scanDoc)
}

// gather reads all rows of a query.
func gather[T any](s *Store, rows *sql.Rows, err error, scan func(interface{ Scan(...any) error }) (T, error)) ([]T, error) {
	if err != nil {
		return nil, s.told(err)
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		one, err := scan(rows)
		if err != nil {
			return nil, s.told(err)
		}
		out = append(out, one)
	}
	return out, s.told(rows.Err())
}

// Link says in which shop a piece is made and which record it has.
func (s *Store) Link(ctx context.Context, piece, shop, record string) (store.Doc, error) {
	return s.set(ctx, piece, `UPDATE documents SET shop = ?, record = ? WHERE id = ?`, shop, record, piece)
}

// Archive puts a document away, or takes it out again.
func (s *Store) Archive(ctx context.Context, id string, away bool) (store.Doc, error) {
	return s.set(ctx, id, `UPDATE documents SET archived = ? WHERE id = ?`, away, id)
}

// set runs a statement that is no change of the text: the version stays.
func (s *Store) set(ctx context.Context, id, statement string, args ...any) (store.Doc, error) {
	var out store.Doc
	err := s.change(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, statement, args...)
		if err != nil {
			return err
		}
		out, err = doc(ctx, tx, id)
		return err
	})
	if err != nil {
		return store.Doc{}, err
	}
	return out, nil
}
