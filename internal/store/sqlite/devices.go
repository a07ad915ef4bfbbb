package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"casewright/internal/store"
)

// Tick keeps ticks, each once; all of them or none.
func (s *Store) Tick(ctx context.Context, ts ...store.Tick) error {
	return s.change(ctx, func(tx *sql.Tx) error {
		for _, t := range ts {
			if t.ID == "" {
				return errors.New("a tick came without an id, so it cannot be told from others; send it again with one")
			}
			_, err := tx.ExecContext(ctx, `INSERT INTO ticks (id, piece, place, done, count, device, at)
				VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING`,
				t.ID, t.Piece, t.Place, t.Done, t.Count, t.Device, micros(t.At))
			if err != nil {
				return err
			}
		}
		return nil
	})
}

// Ticks gives the tick that counts for every place of a piece.
func (s *Store) Ticks(ctx context.Context, piece string) ([]store.Tick, error) {
	rows, err := s.read.QueryContext(ctx, `SELECT id, piece, place, done, count, device, at FROM (
			SELECT *, row_number() OVER (PARTITION BY place ORDER BY at DESC, id DESC) AS nth
			FROM ticks WHERE piece = ?)
		WHERE nth = 1 ORDER BY place`, piece)
	return gather(s, rows, err, func(row interface{ Scan(...any) error }) (store.Tick, error) {
		var t store.Tick
		var at int64
		err := row.Scan(&t.ID, &t.Piece, &t.Place, &t.Done, &t.Count, &t.Device, &at)
		t.At = instant(at)
		return t, err
	})
}

// Admit adds a device.
func (s *Store) Admit(ctx context.Context, d store.Device) error {
	return s.change(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `INSERT INTO devices (id, name, token, paired, seen, revoked)
			VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING`,
			d.ID, d.Name, solid(d.Token), micros(d.Paired), micros(d.Seen), d.Revoked)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return fmt.Errorf("a device %s is there already; give the new one another id", d.ID)
		}
		return nil
	})
}

// Devices lists all, first paired first.
func (s *Store) Devices(ctx context.Context) ([]store.Device, error) {
	rows, err := s.read.QueryContext(ctx, `SELECT id, name, token, paired, seen, revoked FROM devices ORDER BY paired, id`)
	return gather(s, rows, err, func(row interface{ Scan(...any) error }) (store.Device, error) {
		var d store.Device
		var paired, seen int64
		err := row.Scan(&d.ID, &d.Name, &d.Token, &paired, &seen, &d.Revoked)
		d.Paired, d.Seen = instant(paired), instant(seen)
		return d, err
	})
}

// Revoke shuts a device out for good.
func (s *Store) Revoke(ctx context.Context, id string) error {
	return s.device(ctx, `UPDATE devices SET revoked = 1 WHERE id = ?`, id)
}

// Seen notes that a device was there; an earlier time changes nothing.
func (s *Store) Seen(ctx context.Context, id string, at time.Time) error {
	return s.device(ctx, `UPDATE devices SET seen = max(seen, ?) WHERE id = ?`, micros(at), id)
}

func (s *Store) device(ctx context.Context, statement string, args ...any) error {
	return s.change(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, statement, args...)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return errors.Join(err, store.ErrMissing)
		}
		return nil
	})
}

// Setting gives the value kept under a name, or "".
func (s *Store) Setting(ctx context.Context, name string) (string, error) {
	var value string
	err := s.read.QueryRowContext(ctx, `SELECT value FROM settings WHERE name = ?`, name).Scan(&value)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return value, s.told(err)
}

// SetSetting keeps a value under a name.
func (s *Store) SetSetting(ctx context.Context, name, value string) error {
	return s.change(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO settings (name, value) VALUES (?, ?)
			ON CONFLICT (name) DO UPDATE SET value = excluded.value`, name, value)
		return err
	})
}
