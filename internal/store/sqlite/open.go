// Package sqlite keeps documents in one SQLite file in the maker's data
// folder.
//
// A call that returns has been flushed to the disk (synchronous=FULL), so
// that it outlives a crash of the program and, where the disk tells the
// truth about its cache, a power cut. Writing goes through one connection,
// reading through several that see the last state written in full.
package sqlite

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // registers the driver

	"casewright/internal/store"
)

// File is the name of the database in the data folder.
const File = "casewright.db"

// readers is how many may read at one time beside the one that writes.
const readers = 4

//go:embed migrations/*.sql
var migrations embed.FS

// Store is a store.Store in one file.
type Store struct {
	dir         string
	now         func() time.Time
	write, read *sql.DB
}

var _ store.Store = (*Store)(nil)

// Open opens the database in a folder and makes both if they are not there.
// A database of an older program is copied to the folder "backups" and
// brought up to date; one of a newer program is refused, as is a damaged one.
// The errors say what to do.
func Open(ctx context.Context, dir string, now func() time.Time) (*Store, error) {
	steps, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return nil, err
	}
	return open(ctx, dir, now, steps)
}

func open(ctx context.Context, dir string, now func() time.Time, steps fs.FS) (*Store, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("the data folder %s cannot be made (%w); name another with --data", dir, err)
	}
	s := &Store{dir: dir, now: now}
	// A log left behind means that the last run was cut off.
	cut := false
	if log, err := os.Stat(s.file() + "-wal"); err == nil {
		cut = log.Size() > 0
	}
	if s.write, err = sql.Open("sqlite", dsn(s.file(), "immediate", false)); err != nil {
		return nil, err
	}
	s.write.SetMaxOpenConns(1)
	if s.read, err = sql.Open("sqlite", dsn(s.file(), "deferred", true)); err != nil {
		s.write.Close()
		return nil, err
	}
	s.read.SetMaxOpenConns(readers)
	s.read.SetMaxIdleConns(readers)
	if err := s.ready(ctx, cut, steps); err != nil {
		s.Close()
		return nil, s.told(err)
	}
	return s, nil
}

// Close writes the log into the file and lets go of it.
func (s *Store) Close() error { return errors.Join(s.read.Close(), s.write.Close()) }

func (s *Store) file() string { return filepath.Join(s.dir, File) }

// dsn names the file and how each connection to it is set up.
func dsn(file, lock string, readOnly bool) string {
	q := url.Values{"_txlock": {lock}, "_pragma": {
		"busy_timeout(10000)", "foreign_keys(1)", "cache_size(-4096)", "temp_store(memory)",
	}}
	if readOnly {
		q.Add("_pragma", "query_only(1)")
	} else {
		q.Add("_pragma", "journal_mode(wal)")
		q.Add("_pragma", "synchronous(full)")
	}
	path := filepath.ToSlash(file)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // a drive letter
	}
	return (&url.URL{Scheme: "file", Path: path, RawQuery: q.Encode()}).String()
}

// ready checks the file and brings it up to date.
func (s *Store) ready(ctx context.Context, cut bool, steps fs.FS) error {
	if cut {
		if err := s.whole(ctx); err != nil {
			return err
		}
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, s.write, steps, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	has, err := s.layout(ctx)
	if err != nil {
		return err
	}
	sources := p.ListSources()
	knows := sources[len(sources)-1].Version
	switch {
	case has > knows:
		return fmt.Errorf("%s was written by a newer casewright (its layout is number %d, this one knows up to %d); use the newer program, or name another folder with --data", s.file(), has, knows)
	case has == knows:
		return nil
	case has > 0:
		if _, err := s.Backup(ctx); err != nil {
			return fmt.Errorf("no backup could be made before bringing the database up to date, so it was left as it is: %w", err)
		}
	}
	_, err = p.Up(ctx)
	return err
}

// layout is the number of the last step the database went through; 0 for an
// empty one.
func (s *Store) layout(ctx context.Context) (int64, error) {
	var there int
	err := s.write.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema WHERE name = ?`, goose.DefaultTablename).Scan(&there)
	if err != nil || there == 0 {
		return 0, err
	}
	var has int64
	err = s.write.QueryRowContext(ctx, `SELECT max(version_id) FROM `+goose.DefaultTablename).Scan(&has)
	return has, err
}

// whole reads all pages and says what is wrong with the first that is.
func (s *Store) whole(ctx context.Context) error {
	var says string
	if err := s.write.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&says); err != nil {
		return err
	}
	if says != "ok" {
		return damage{errors.New(says)}
	}
	return nil
}
