package app

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"casewright/internal/papers"
)

// listed is the file that names what a run wrote, so that the next run can
// take away papers of parts that are no more. Nothing else is ever deleted.
const listed = "files.txt"

// Write puts a set of files into dir, each complete or not at all, and removes
// those of an earlier set that are no longer in it. What it is about to write
// is listed before, so that the next run knows of it even if this one is ended
// half way.
func Write(dir string, files []papers.File) error {
	before, err := earlier(dir)
	if err != nil {
		return err
	}
	names := make([]string, 0, len(files))
	for _, f := range files {
		if !local(f.Name) {
			return fmt.Errorf("the file name %q leads out of its folder", f.Name)
		}
		names = append(names, f.Name)
	}
	if err := note(dir, slices.Concat(before, names)); err != nil {
		return err
	}
	for _, f := range files {
		if err := put(filepath.Join(dir, filepath.FromSlash(f.Name)), f.Data); err != nil {
			return err
		}
	}
	for _, old := range before {
		if !slices.Contains(names, old) && local(old) {
			if err := remove(filepath.Join(dir, filepath.FromSlash(old))); err != nil {
				return fmt.Errorf("the paper %s of an earlier plan is out of date and cannot be removed: %w", old, err)
			}
		}
	}
	return note(dir, names)
}

func note(dir string, names []string) error {
	slices.Sort(names)
	return put(filepath.Join(dir, listed), []byte(strings.Join(slices.Compact(names), "\n")+"\n"))
}

// remove takes a file away. A folder of that name is the maker's own: no
// paper is one.
func remove(name string) error {
	info, err := os.Lstat(name)
	if errors.Is(err, os.ErrNotExist) || err == nil && info.IsDir() {
		return nil
	}
	return os.Remove(name)
}

func local(name string) bool { return filepath.IsLocal(filepath.FromSlash(name)) }

func earlier(dir string) ([]string, error) {
	f, err := os.Open(filepath.Join(dir, listed))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("the folder %s cannot be used: %w", dir, err)
	}
	defer f.Close()
	var names []string
	s := bufio.NewScanner(f)
	for s.Scan() {
		names = append(names, s.Text())
	}
	if err := s.Err(); err != nil {
		return nil, fmt.Errorf("%s, the list of what an earlier run wrote, cannot be read: %w; delete it, and by hand the papers that are out of date", filepath.Join(dir, listed), err)
	}
	return names, nil
}

// put writes to a file beside the target and renames it, so that a paper is
// never half written.
func put(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return fmt.Errorf("the folder for %s cannot be made: %w", name, err)
	}
	tmp, err := os.CreateTemp(filepath.Dir(name), ".writing-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	defer os.Remove(tmp.Name())
	_, err = tmp.Write(data)
	if cerr := tmp.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Chmod(tmp.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(tmp.Name(), name)
	}
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	return nil
}
