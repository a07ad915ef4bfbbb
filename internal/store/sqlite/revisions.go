package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"casewright/internal/store"
)

func addRevision(ctx context.Context, tx *sql.Tx, id, name string, r store.Revision, at int64) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO revisions (doc, number, parent, name, text, says, device, edit, at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		id, r.Number, r.Parent, name, solid(r.Text), r.Says, r.Device, r.Edit, at)
	return err
}

// Put adds a revision to the head. The time of the revision is the store's.
func (s *Store) Put(ctx context.Context, id, name string, base int64, r store.Revision) (store.Doc, error) {
	return s.move(ctx, id, func(tx *sql.Tx, d store.Doc, at int64) (int64, error) {
		if r.Edit != "" {
			var one int
			err := tx.QueryRowContext(ctx, `SELECT 1 FROM revisions WHERE doc = ? AND edit = ?`, id, r.Edit).Scan(&one)
			if err == nil {
				return d.Head, nil
			} else if !errors.Is(err, sql.ErrNoRows) {
				return 0, err
			}
		}
		if d.Version != base {
			return 0, &store.StaleError{Now: d}
		}
		r.Parent = d.Head
		err := tx.QueryRowContext(ctx, `SELECT max(number) + 1 FROM revisions WHERE doc = ?`, id).Scan(&r.Number)
		if err != nil {
			return 0, err
		}
		return r.Number, addRevision(ctx, tx, id, name, r, at)
	})
}

// Undo moves the head back to its parent, which remembers the way forward.
func (s *Store) Undo(ctx context.Context, id string, base int64) (store.Doc, error) {
	return s.move(ctx, id, func(tx *sql.Tx, d store.Doc, _ int64) (int64, error) {
		if d.Version != base {
			return 0, &store.StaleError{Now: d}
		}
		if !d.CanUndo {
			return 0, store.ErrNothing
		}
		var parent int64
		err := tx.QueryRowContext(ctx, `SELECT parent FROM revisions WHERE doc = ? AND number = ?`, id, d.Head).Scan(&parent)
		if err != nil {
			return 0, err
		}
		_, err = tx.ExecContext(ctx, `UPDATE revisions SET forward = ? WHERE doc = ? AND number = ?`, d.Head, id, parent)
		return parent, err
	})
}

// Redo moves the head forward again.
func (s *Store) Redo(ctx context.Context, id string, base int64) (store.Doc, error) {
	return s.move(ctx, id, func(tx *sql.Tx, d store.Doc, _ int64) (int64, error) {
		if d.Version != base {
			return 0, &store.StaleError{Now: d}
		}
		if !d.CanRedo {
			return 0, store.ErrNothing
		}
		var forward int64
		err := tx.QueryRowContext(ctx, `SELECT forward FROM revisions WHERE doc = ? AND number = ?`, id, d.Head).Scan(&forward)
		return forward, err
	})
}

// move asks to where the head of a document goes and moves it there. A head
// that stays is no change.
func (s *Store) move(ctx context.Context, id string, to func(tx *sql.Tx, d store.Doc, at int64) (int64, error)) (store.Doc, error) {
	at := micros(s.now())
	var out store.Doc
	err := s.change(ctx, func(tx *sql.Tx) error {
		d, err := doc(ctx, tx, id)
		if err != nil {
			return err
		}
		head, err := to(tx, d, at)
		if err != nil {
			return err
		}
		if out = d; head == d.Head {
			return nil
		}
		_, err = tx.ExecContext(ctx, `UPDATE documents SET head = ?, version = version + 1, changed = ? WHERE id = ?`, head, at, id)
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

// History gives revisions below a number, latest first, without their texts.
func (s *Store) History(ctx context.Context, id string, below int64, most int) ([]store.Revision, error) {
	if _, err := s.Doc(ctx, id); err != nil {
		return nil, err
	}
	rows, err := s.read.QueryContext(ctx, `SELECT number, parent, NULL, says, device, edit, at FROM revisions
		WHERE doc = ?1 AND (?2 <= 0 OR number < ?2) ORDER BY number DESC LIMIT ?3`, id, below, max(most, 0))
	return gather(s, rows, err, scanRevision)
}

// Revision gives one with its text.
func (s *Store) Revision(ctx context.Context, id string, number int64) (store.Revision, error) {
	r, err := scanRevision(s.read.QueryRowContext(ctx, `SELECT number, parent, text, says, device, edit, at FROM revisions
		WHERE doc = ? AND number = ?`, id, number))
	if err != nil {
		return store.Revision{}, s.told(err)
	}
	return r, nil
}

func scanRevision(row interface{ Scan(...any) error }) (store.Revision, error) {
	var r store.Revision
	var at int64
	err := row.Scan(&r.Number, &r.Parent, &r.Text, &r.Says, &r.Device, &r.Edit, &at)
	r.At = instant(at)
	return r, err
}
