package station

import (
	"bytes"
	"context"
	"fmt"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/piece"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// saving says which size, a little smaller, would save a panel. Where one
// field of the piece does that and no other, it can be put in. To find that
// out, layouts are sought for each field that might.
func (y yarder) saving(ctx context.Context, s yard.Panel) *YardSaving {
	c := s.Saving
	it := s.Job.Items[c.Item]
	way := "shorter"
	if c.Axis == cutting.Across {
		way = "narrower"
	}
	by, to := y.size(c.By), y.size(c.To)
	letters := s.Letters[c.Item]
	for _, i := range c.With { // matched with it, and changed with it
		letters += ", " + s.Letters[i]
	}
	does := "more parts come out"
	switch {
	case c.Saves == 1:
		does = "one panel less is cut into"
	case c.Saves > 1:
		does = fmt.Sprintf("%d panels less are cut into", c.Saves)
	case len(s.Result.Short) == 0:
		does = "the panels cost less"
	}
	out := &YardSaving{
		Says: fmt.Sprintf("%s (%s), made %s (%s) %s, to %s (%s) in place of %s: %s.",
			letters, it.Label, by.Own, by.Other, way, to.Own, to.Other, y.size(c.To+c.By).Own, does),
		Do: []DocChange{},
	}
	found := 0
	for _, f := range y.sizes() {
		if f.size <= c.By {
			continue
		}
		value := (f.size - c.By).Exact(y.p.Piece.Units)
		if !y.saves(ctx, s, f.path, value) {
			continue
		}
		if found++; found > 1 {
			return &YardSaving{Says: out.Says, Do: []DocChange{}}
		}
		out.Fix = fmt.Sprintf("Make %s %s", drawing.Words(f.path), y.size(f.size-c.By).Own)
		out.Do = []DocChange{{Path: f.path, Do: "set", Value: value}}
	}
	return out
}

type pathSize struct {
	path string
	size unit.Length
}

// sizes are those of the piece that might be changed: what a drawing shows as
// one field, and loose parts.
func (y yarder) sizes() []pathSize {
	var out []pathSize
	seen := map[string]bool{}
	for _, f := range drawing.Fields(y.p.Piece, y.p.Model) {
		if !seen[f.Path] {
			seen[f.Path] = true
			out = append(out, pathSize{f.Path, f.Size()})
		}
	}
	for i, l := range y.p.Piece.Loose {
		out = append(out, pathSize{fmt.Sprintf("loose[%d].length", i), l.Length}, pathSize{fmt.Sprintf("loose[%d].width", i), l.Width})
	}
	return out
}

// saves reports whether the piece with a field changed has the part as it must
// be, and needs fewer panels for it.
func (y yarder) saves(ctx context.Context, s yard.Panel, path, value string) bool {
	text := document.Marshal(y.p.Piece, y.p.Piece.Units)
	text, err := document.Edit("", piece.Doc, &piece.Piece{}, text, []document.Change{{Path: path, Do: "set", Value: value}})
	if err != nil {
		return false
	}
	changed, err := piece.Decode("", bytes.NewReader(text))
	if err != nil {
		return false
	}
	m, err := build.Make(changed, y.p.Shop, y.p.Record)
	if err != nil {
		return false
	}
	item, hit := s.Job.Items[s.Saving.Item], false
	for _, p := range m.Parts {
		if p.Letter != s.Letters[s.Saving.Item] || p.Name != item.Label {
			continue
		}
		l, w := p.CutLength(), p.CutWidth()
		if p.Grain == build.GrainWidth {
			l, w = w, l
		}
		if s.Saving.Axis == cutting.Across {
			l = w
		}
		hit = l <= s.Saving.To && l >= s.Saving.To-s.Saving.By // not much smaller than it must be
	}
	if !hit {
		return false
	}
	anew, err := yard.Panels(ctx, m, changed, max(changed.Count, 1), y.p.Shop, y.p.Record, cutting.Budget{Iterations: 3000})
	if err != nil || ctx.Err() != nil {
		return false
	}
	before, after := 0, 0
	for _, q := range y.p.Panels {
		before += used(q)
	}
	for _, q := range anew {
		if len(q.Result.Short) > 0 {
			return false
		}
		after += used(q)
	}
	return after < before
}

// used is how many panels are cut into.
func used(s yard.Panel) int {
	n := 0
	for _, l := range s.Result.Layouts {
		n += l.Copies
	}
	return n
}
