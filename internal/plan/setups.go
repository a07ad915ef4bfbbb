package plan

import (
	"maps"
	"slices"

	"casewright/internal/build"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/yard"
)

// setups puts all sawing in order: panels, kerfs, solid wood to size; last
// what is cut once the openings are measured.
func setups(p Plan) []saw.Sequence {
	var out, after []saw.Sequence
	for _, panel := range p.Panels {
		if len(panel.Result.Layouts) == 0 {
			continue
		}
		key, w := yard.Breaker(p.Shop, p.Record)
		blanks, waits := blanks(p, panel)
		q := saw.Panels{
			Title: panel.Name, Stock: panel.Key, Job: panel.Job, Layouts: panel.Result.Layouts, Letters: panel.Letters,
		}
		q.Blanks = blanks
		s := saw.BreakDown(q, machine(key, w))
		if waits {
			s.Title, s.After = s.Title+", once the openings are measured", true
			after = append(after, s)
			continue
		}
		out = append(out, s)
	}
	after = append(after, lastCuts(p)...)
	for _, part := range p.Model.Parts {
		if len(part.Kerfs) > 0 {
			out = append(out, kerfs(p, part))
		}
	}
	out = append(out, solid(p, false)...)
	return append(append(out, after...), solid(p, true)...)
}

// blanks are the parts of a panel that come off larger, to be cut to the
// measured openings. A panel waits whole where it holds nothing else.
func blanks(p Plan, panel yard.Panel) (out []string, waits bool) {
	waits = true
	for _, part := range p.Model.Parts {
		if !slices.Contains(panel.Letters, part.Letter) {
			continue
		}
		waits = waits && part.ToMeasure && part.Oversize.Blank == 0
		if part.Oversize.Blank > 0 {
			out = append(out, part.Letter)
		}
	}
	return out, waits
}

// lastCuts bring blanks to size, panel by panel: those that come off the
// layouts, and those that lie there by the record.
func lastCuts(p Plan) []saw.Sequence {
	sticks := map[string][]saw.Stick{}
	for _, part := range p.Model.Parts {
		n := 0
		if part.OffSaw != nil {
			n = part.OffSaw.Count
		}
		if part.Oversize.Blank > 0 {
			n += laidOut(p, part)
		}
		if n > 0 {
			sticks[part.Material] = append(sticks[part.Material], saw.Stick{Letter: part.Letter, Count: n, Length: part.FitLength(), Width: part.FitWidth()})
		}
	}
	key, w := sizer(p)
	var out []saw.Sequence
	for _, k := range slices.Sorted(maps.Keys(sticks)) {
		s := saw.Solid(p.Shop.StockCalled(k)+": blanks to the measured openings", k, sticks[k], machine(key, w))
		s.After = true
		out = append(out, s)
	}
	return out
}

// laidOut is how many of a part the layouts are asked for.
func laidOut(p Plan, part build.Part) int {
	for _, panel := range p.Panels {
		if i := slices.Index(panel.Letters, part.Letter); i >= 0 && len(panel.Result.Layouts) > 0 {
			return panel.Job.Items[i].Qty
		}
	}
	return 0
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

// solid gathers the parts of solid wood, wood by wood, for their final cuts:
// those before the openings are measured, or those after.
func solid(p Plan, after bool) []saw.Sequence {
	key, w := sizer(p)
	var order []string
	sticks := map[string][]saw.Stick{}
	for _, part := range p.Model.Parts {
		if !part.Solid || part.ToMeasure != after {
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
	title := ": milled parts to width and length"
	if after {
		title = ": milled parts to the measured openings"
	}
	for _, wood := range order {
		s := saw.Solid(p.Shop.StockCalled(wood)+title, wood, sticks[wood], machine(key, w))
		s.After = after
		out = append(out, s)
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
