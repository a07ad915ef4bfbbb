package sqlite

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
)

// kept is how many backups stay; the oldest go.
const kept = 10

func (s *Store) backups() string { return filepath.Join(s.dir, "backups") }

// Backup writes the whole database as it stands to a new file in the folder
// "backups" and gives its path. The last ten are kept.
func (s *Store) Backup(ctx context.Context) (string, error) {
	if err := os.MkdirAll(s.backups(), 0o700); err != nil {
		return "", err
	}
	stamp := s.now().UTC().Format("20060102T150405.000000Z")
	name := filepath.Join(s.backups(), "casewright-"+stamp+".db")
	// Under another name until it is whole and on the disk, so that a backup
	// cut off half-way is never taken for one.
	part := name + ".part"
	if err := os.Remove(part); err != nil && !os.IsNotExist(err) {
		return "", err
	}
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		os.Remove(part)
		return "", s.told(err)
	}
	if err := flush(part); err != nil {
		return "", err
	}
	if err := os.Rename(part, name); err != nil {
		return "", err
	}
	return name, s.thin()
}

// flush has a file written through to the disk.
func flush(name string) error {
	f, err := os.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return fmt.Errorf("the backup %s could not be written through: %w", name, err)
	}
	return f.Close()
}

// all are the whole backups, oldest first: their names sort by time.
func (s *Store) all() []string {
	entries, _ := os.ReadDir(s.backups()) // sorted by name; none if not there
	var names []string
	for _, e := range entries {
		if ok, _ := filepath.Match("casewright-*.db", e.Name()); ok {
			names = append(names, filepath.Join(s.backups(), e.Name()))
		}
	}
	return names
}

func (s *Store) newestBackup() (string, bool) {
	names := s.all()
	if len(names) == 0 {
		return "", false
	}
	return names[len(names)-1], true
}

// thin takes the oldest away.
func (s *Store) thin() error {
	names := s.all()
	for len(names) > kept {
		if err := os.Remove(names[0]); err != nil {
			return err
		}
		names = names[1:]
	}
	return nil
}
