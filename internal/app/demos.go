package app

import (
	"context"
	"io/fs"
	"path"
	"slices"
	"strings"

	"casewright/demo"
	"casewright/internal/store"
)

// PutDemos puts the demo pieces in once, each with its shop. A maker who has
// put them away does not get them again.
func (w *Workbench) PutDemos(ctx context.Context) error {
	const done = "demo pieces"
	if v, err := w.Store.Setting(ctx, done); err != nil || v != "" {
		return err
	}
	names, err := fs.Glob(demo.Files, "*.yaml")
	if err != nil {
		return err
	}
	slices.Sort(names)
	slices.Reverse(names) // the one put in last stands first
	for _, name := range names {
		if strings.Count(name, ".") > 1 {
			continue
		}
		if err := w.putDemo(ctx, name); err != nil {
			return err
		}
	}
	return w.Store.SetSetting(ctx, done, "put in")
}

func (w *Workbench) putDemo(ctx context.Context, name string) error {
	base := strings.TrimSuffix(name, path.Ext(name))
	text, err := demo.Files.ReadFile(name)
	if err != nil {
		return err
	}
	shopText, err := demo.Files.ReadFile(base + ".shop.yaml")
	if err != nil {
		return err
	}
	s, err := w.Add(ctx, store.Shop, "Demo shop", shopText, "put in with the demo pieces")
	if err != nil {
		return err
	}
	_, err = w.AddPiece(ctx, base, text, s.ID, "put in with the demo pieces")
	return err
}
