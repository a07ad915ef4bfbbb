package app

import (
	"context"
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/store"
)

// BackTo makes the text of an earlier revision the one that stands, as a new
// revision: nothing between is lost.
func (w *Workbench) BackTo(ctx context.Context, id string, revision int64, c Change) (store.Doc, error) {
	d, err := w.Store.Doc(ctx, id)
	if err != nil {
		return d, err
	}
	r, err := w.Store.Revision(ctx, id, revision)
	if err != nil {
		return d, err
	}
	return w.put(ctx, d, c, r.Text, fmt.Sprintf("back to number %d", revision))
}

// FieldDiff is one field that two texts of a document have otherwise, as
// typed; empty is not there.
type FieldDiff struct {
	Path string
	Old  string
	New  string
}

// FieldsBetween is what differs between two texts of a kind, field by field in
// the order of the document. A part that is only in one of them is told as a
// whole.
func FieldsBetween(k store.Kind, before, after []byte) []FieldDiff {
	t, v := form(k)
	old := document.Outline(t, v, before)
	t, v = form(k)
	return between(old, document.Outline(t, v, after))
}

func between(a, b document.Field) []FieldDiff {
	path := b.Path
	if path == "" {
		path = a.Path
	}
	switch {
	case !a.Given && !b.Given && path != "":
		return nil
	case len(a.Children) == 0 && len(b.Children) == 0, path != "" && a.Given != b.Given:
		if whole(a) == whole(b) {
			return nil
		}
		return []FieldDiff{{path, whole(a), whole(b)}}
	}
	var out []FieldDiff
	seen := map[string]bool{}
	byName := map[string]document.Field{}
	for _, c := range a.Children {
		byName[c.Name] = c
	}
	for _, c := range b.Children {
		seen[c.Name] = true
		out = append(out, between(byName[c.Name], c)...)
	}
	for _, c := range a.Children {
		if !seen[c.Name] {
			out = append(out, between(c, document.Field{Path: c.Path, Name: c.Name})...)
		}
	}
	return out
}

// whole is a field as typed, a group with what it holds.
func whole(f document.Field) string {
	if !f.Given {
		return ""
	}
	if f.Text != "" || len(f.Children) == 0 {
		return f.Text
	}
	var parts []string
	for _, c := range f.Children {
		if t := whole(c); t != "" {
			parts = append(parts, c.Name+": "+t)
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
