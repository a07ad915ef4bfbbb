package plan

import (
	"casewright/internal/build"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/yard"
)

// setups puts all sawing in order: panels, kerfs, then solid wood to size.
func setups(p Plan) []saw.Sequence {
	var out []saw.Sequence
	for _, panel := range p.Panels {
		if len(panel.Result.Layouts) == 0 {
			continue
		}
		key, w := yard.Breaker(p.Shop, p.Record)
		out = append(out, saw.BreakDown(saw.Panels{
			Title: panel.Name, Stock: panel.Key, Job: panel.Job, Layouts: panel.Result.Layouts, Letters: panel.Letters,
		}, machine(key, w)))
	}
	for _, part := range p.Model.Parts {
		if len(part.Kerfs) > 0 {
			out = append(out, kerfs(p, part))
		}
	}
	return append(out, solid(p)...)
}

func machine(key string, w shop.Saw) saw.Machine {
	return saw.Machine{Key: key, Kind: w.Kind, Kerf: w.Kerf, Reach: w.Reach, Least: w.Least, Base: w.Base}
}

func kerfs(p Plan, part build.Part) saw.Sequence {
	k := saw.Kerfed{
		Letter: part.Letter, Name: part.Name, Stock: part.Material, Count: part.Count * p.Piece.Count,
		Length: part.CutLength(), Width: part.CutWidth(),
	}
	key := ""
	for _, g := range part.Kerfs {
		b := p.Model.Bends[g.Bend]
		key = b.Saw
		spec := b.Design.Result.Spec
		k.Groups = append(k.Groups, saw.Group{
			Bend: b.Name, Centres: g.Positions, Kerf: spec.Kerf, Passes: spec.Passes, Depth: spec.Thickness - spec.Skin,
		})
	}
	m := machine(key, p.Shop.Saws[key])
	m.Kerf = k.Groups[0].Kerf
	return saw.Kerfs(k, m)
}

// solid gathers the parts of solid wood, wood by wood, for their final cuts.
func solid(p Plan) []saw.Sequence {
	key, w := sizer(p)
	var order []string
	sticks := map[string][]saw.Stick{}
	for _, part := range p.Model.Parts {
		if !part.Solid {
			continue
		}
		if sticks[part.Material] == nil {
			order = append(order, part.Material)
		}
		sticks[part.Material] = append(sticks[part.Material], saw.Stick{
			Letter: part.Letter, Count: part.Count * p.Piece.Count, Length: part.CutLength(), Width: part.CutWidth(),
		})
	}
	var out []saw.Sequence
	for _, wood := range order {
		out = append(out, saw.Solid(wood+": milled parts to width and length", wood, sticks[wood], machine(key, w)))
	}
	return out
}

// sizer is the saw for narrow parts: a table saw where there is one.
func sizer(p Plan) (string, shop.Saw) {
	best := ""
	for key, w := range p.Shop.Saws {
		if w.Kind == "table" && (best == "" || key < best) {
			best = key
		}
	}
	if best == "" {
		return yard.Breaker(p.Shop, p.Record)
	}
	return best, p.Shop.Saws[best]
}
