package sqlite

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"casewright/internal/store"
	"casewright/internal/store/storetest"
)

var ctx = context.Background()

func opened(t *testing.T, dir string) *Store {
	t.Helper()
	s, err := Open(ctx, dir, storetest.Clock())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// filled has a document with some history.
func filled(t *testing.T, dir string) *Store {
	t.Helper()
	s := opened(t, dir)
	d, err := s.Create(ctx, store.Doc{ID: "p", Kind: store.Piece, Name: "Chest", Text: []byte("one")}, "New")
	for i := range 50 {
		if err != nil {
			t.Fatal(err)
		}
		d, err = s.Put(ctx, "p", "Chest", d.Version, store.Revision{Text: bytes.Repeat([]byte{byte('a' + i%26)}, 500)})
	}
	return s
}

// The way back survives a restart.
func TestUndoAfterRestart(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a folder", "50% of #1?") // signs that mean something in a URI
	s := filled(t, dir)
	d, _ := s.Doc(ctx, "p")
	d, err := s.Undo(ctx, "p", d.Version)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, File)); err != nil {
		t.Fatal(err)
	}
	s = opened(t, dir)
	d, err = s.Redo(ctx, "p", d.Version)
	if err != nil || d.Head != 51 || !d.CanUndo || d.CanRedo {
		t.Errorf("after a restart: %v, %v", d, err)
	}
}

// An acknowledged change must be on the disk, not in the machine's cache.
func TestWrittenThrough(t *testing.T) {
	s := opened(t, t.TempDir())
	for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1"} {
		var got string
		if err := s.write.QueryRow("PRAGMA " + pragma).Scan(&got); err != nil || got != want {
			t.Errorf("%s is %s (%v), want %s", pragma, got, err, want)
		}
	}
	if _, err := s.read.Exec("DELETE FROM settings"); err == nil {
		t.Error("a connection for reading can write")
	}
}

// sorry has Open fail with a sentence that has all these words in it.
func sorry(t *testing.T, dir string, words ...string) {
	t.Helper()
	s, err := Open(ctx, dir, storetest.Clock())
	if err == nil {
		s.Close()
		t.Fatal("it opened")
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q does not say %q", err, w)
		}
	}
}

// longer are the steps as they are and more of them.
func longer(t *testing.T, more ...string) fstest.MapFS {
	t.Helper()
	steps := fstest.MapFS{}
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		text, err := migrations.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		steps[filepath.Base(n)] = &fstest.MapFile{Data: text}
	}
	for i, sql := range more {
		steps[fmt.Sprintf("%05d_later.sql", 900+i)] = &fstest.MapFile{Data: []byte("-- +goose Up\n" + sql + ";\n")}
	}
	return steps
}

func TestUpgradeMakesABackupAndOlderProgramsRefuse(t *testing.T) {
	dir := t.TempDir()
	filled(t, dir).Close()
	if names, _ := filepath.Glob(filepath.Join(dir, "backups", "*")); len(names) != 0 {
		t.Errorf("backups without an upgrade: %v", names)
	}
	newer, err := open(ctx, dir, storetest.Clock(), longer(t, "ALTER TABLE settings ADD COLUMN note TEXT"))
	if err != nil {
		t.Fatal(err)
	}
	d, err := newer.Doc(ctx, "p")
	if err != nil || d.Head != 51 {
		t.Errorf("after the upgrade: %v, %v", d.Head, err)
	}
	newer.Close()
	names, _ := filepath.Glob(filepath.Join(dir, "backups", "*"))
	if len(names) != 1 {
		t.Fatalf("backups: %v", names)
	}
	before, _ := os.ReadFile(filepath.Join(dir, File))
	sorry(t, dir, "newer casewright", "--data", File)
	if after, _ := os.ReadFile(filepath.Join(dir, File)); !bytes.Equal(before, after) {
		t.Error("the refused database was written to")
	}
	// The backup opens in the older program, put in its place.
	other := t.TempDir()
	text, err := os.ReadFile(names[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(other, File), text, 0o600); err != nil {
		t.Fatal(err)
	}
	if d, err := opened(t, other).Doc(ctx, "p"); err != nil || d.Head != 51 {
		t.Errorf("in the backup: %v, %v", d.Head, err)
	}
}

// An upgrade that fails leaves everything as it was.
func TestFailedUpgrade(t *testing.T) {
	dir := t.TempDir()
	filled(t, dir).Close()
	_, err := open(ctx, dir, storetest.Clock(), longer(t, "DELETE FROM revisions; INSERT INTO nowhere VALUES (1)"))
	if err == nil {
		t.Fatal("it opened")
	}
	if h, err := opened(t, dir).History(ctx, "p", 0, 100); err != nil || len(h) != 51 {
		t.Errorf("%d revisions left, %v", len(h), err)
	}
}

func TestTenBackupsAreKept(t *testing.T) {
	dir := t.TempDir()
	s := filled(t, dir)
	var names []string
	for range kept + 3 {
		name, err := s.Backup(ctx)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
	}
	got, _ := filepath.Glob(filepath.Join(dir, "backups", "*"))
	if fmt.Sprint(got) != fmt.Sprint(names[3:]) {
		t.Errorf("kept %v\nwant %v", got, names[3:])
	}
}

func TestDamagedDatabase(t *testing.T) {
	// spoil overwrites a stretch of the database of a store that was closed,
	// or cut off with its log on the disk.
	spoil := func(t *testing.T, dir string, from, to int64) {
		f, err := os.OpenFile(filepath.Join(dir, File), os.O_RDWR, 0)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if _, err := f.WriteAt(bytes.Repeat([]byte{0x5a}, int(to-from)), from); err != nil {
			t.Fatal(err)
		}
	}
	t.Run("its head is gone", func(t *testing.T) {
		dir := t.TempDir()
		filled(t, dir).Close()
		spoil(t, dir, 0, 2000)
		sorry(t, dir, "damaged", "no backup", "stop casewright")
	})
	t.Run("with a backup", func(t *testing.T) {
		dir := t.TempDir()
		s := filled(t, dir)
		backup, err := s.Backup(ctx)
		if err != nil {
			t.Fatal(err)
		}
		s.Close()
		spoil(t, dir, 0, 2000)
		sorry(t, dir, "damaged", "copy the newest backup, "+backup)
	})
	t.Run("it is no database", func(t *testing.T) {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, File), bytes.Repeat([]byte("name: Chest\n"), 900), 0o600); err != nil {
			t.Fatal(err)
		}
		sorry(t, dir, "damaged")
	})
	t.Run("found while reading", func(t *testing.T) {
		dir := t.TempDir()
		filled(t, dir).Close()
		info, _ := os.Stat(filepath.Join(dir, File))
		spoil(t, dir, 4096, info.Size())
		s, err := Open(ctx, dir, time.Now)
		if err == nil {
			_, err = s.Doc(ctx, "p")
			s.Close()
		}
		if err == nil || !strings.Contains(err.Error(), "damaged") {
			t.Errorf("%v does not say that the file is damaged", err)
		}
	})
}

func TestFolderThatCannotBeMade(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	sorry(t, filepath.Join(file, "data"), "cannot be made", "--data")
}

// A call that is called off keeps nothing and leaves the store usable.
func TestCalledOff(t *testing.T) {
	s := filled(t, t.TempDir())
	off, cancel := context.WithCancel(ctx)
	cancel()
	if err := s.SetSetting(off, "a", "b"); err == nil {
		t.Error("a call that was called off went through")
	}
	if err := s.SetSetting(ctx, "c", "d"); err != nil {
		t.Error(err)
	}
}

// What Open costs after an unclean stop, when every page is read.
func BenchmarkWhole(b *testing.B) {
	s, err := Open(ctx, b.TempDir(), storetest.Clock())
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	d, err := s.Create(ctx, store.Doc{ID: "p", Kind: store.Piece}, "")
	text := bytes.Repeat([]byte("width: 17 1/4 in\n"), 500)
	for range 5000 {
		if err != nil {
			b.Fatal(err)
		}
		d, err = s.Put(ctx, "p", "", d.Version, store.Revision{Text: text})
	}
	b.ResetTimer()
	for b.Loop() {
		if err := s.whole(ctx); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPut(b *testing.B) {
	s, err := Open(ctx, b.TempDir(), storetest.Clock())
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	d, err := s.Create(ctx, store.Doc{ID: "p", Kind: store.Piece}, "")
	text := bytes.Repeat([]byte("width: 17 1/4 in\n"), 200)
	for b.Loop() {
		if err != nil {
			b.Fatal(err)
		}
		d, err = s.Put(ctx, "p", "", d.Version, store.Revision{Text: text})
	}
}
