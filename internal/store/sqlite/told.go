package sqlite

import (
	"database/sql"
	"errors"
	"fmt"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"casewright/internal/store"
)

// damage is found by a check rather than by the driver.
type damage struct{ error }

// told puts what the database says into a sentence for the maker.
func (s *Store) told(err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, sql.ErrNoRows) {
		return store.ErrMissing
	}
	var found damage
	if errors.As(err, &found) {
		return s.damaged(err)
	}
	var from *sqlite.Error
	if !errors.As(err, &from) {
		return err
	}
	switch from.Code() & 0xff { // without the extended part of the code
	case lib.SQLITE_CORRUPT, lib.SQLITE_NOTADB:
		return s.damaged(err)
	case lib.SQLITE_FULL:
		return fmt.Errorf("the disk that holds %s is full, so this was not kept; make room and try again: %w", s.dir, err)
	case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
		return fmt.Errorf("another program holds %s; stop it and try again: %w", s.file(), err)
	case lib.SQLITE_READONLY, lib.SQLITE_CANTOPEN, lib.SQLITE_PERM:
		return fmt.Errorf("%s cannot be written; let your user write the folder, or name another with --data: %w", s.file(), err)
	}
	return err
}

func (s *Store) damaged(err error) error {
	newest, ok := s.newestBackup()
	if !ok {
		return fmt.Errorf("%s is damaged (%w) and there is no backup in %s; stop casewright, keep a copy of the file, and move it, its -wal and its -shm out of the folder to start afresh", s.file(), err, s.backups())
	}
	return fmt.Errorf("%s is damaged (%w); stop casewright, move the file, its -wal and its -shm out of the folder, and copy the newest backup, %s, in its place", s.file(), err, newest)
}
