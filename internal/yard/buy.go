package yard

import (
	"fmt"
	"math"
	"sort"

	"casewright/internal/build"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Line is one line of the buying list.
type Line struct {
	What  string     `json:"what"`
	Key   string     `json:"key"`
	Count float64    `json:"count"` // to buy
	Unit  string     `json:"unit"`  // panel, board foot, piece, pack, metre
	Need  float64    `json:"need"`  // before spares and packs
	Spare float64    `json:"spare,omitempty"`
	Each  unit.Money `json:"each,omitempty"`
	Price unit.Money `json:"price,omitempty"`
	Why   string     `json:"why"`
}

// Buy lists what to buy for all pieces: whole panels, boards with the shop's
// waste, edge bands, hardware in whole packs with spares, screws by size.
func Buy(m build.Model, pieces int, s shop.Shop, panels []Panel, woods []Wood, show func(unit.Length) string) []Line {
	var out []Line
	for _, p := range panels {
		for i, sheet := range p.Job.Sheets {
			if n := p.Used(i); n > 0 && sheet.Stock < 0 {
				out = append(out, Line{
					What: fmt.Sprintf("%s, %s × %s", p.Name, show(sheet.W), show(sheet.H)), Key: p.Key, Count: float64(n), Unit: "panel", Need: float64(n),
					Each: sheet.Price, Price: sheet.Price * unit.Money(n), Why: p.Result.Why,
				})
			}
		}
	}
	for _, w := range woods {
		stock := s.Woods[w.Key]
		l := Line{What: w.Key + " " + w.Class, Key: w.Key, Need: w.Net, Count: math.Ceil(w.Buy*2) / 2, Unit: "board foot", Each: stock.Price}
		if stock.Per == "cubic-metre" {
			l.Need, l.Count, l.Unit = float64(w.NetM3), math.Ceil(float64(w.BuyM3)*1000)/1000, "m³"
		}
		l.Spare = l.Count - l.Need
		l.Price = unit.Money(math.Round(l.Count * float64(stock.Price)))
		l.Why = fmt.Sprintf("net, over what is left when %g %% of what is bought is lost", w.Waste)
		out = append(out, l)
	}
	out = append(out, bands(m, pieces, s)...)
	out = append(out, fittings(m, pieces, s)...)
	return append(out, screws(m, pieces, s, show)...)
}

// bands measures the edges to be banded; a tenth more for joints and ends
// (common practice, no source).
func bands(m build.Model, pieces int, s shop.Shop) []Line {
	metres := map[string]float64{}
	for _, p := range m.Parts {
		for _, b := range p.Bands {
			size := p.Length.Size
			if b.Edge == build.EdgeX0 || b.Edge == build.EdgeX1 {
				size = p.Width.Size
			}
			metres[b.Key] += size.Metres() * float64(p.Count*pieces)
		}
	}
	var out []Line
	for _, key := range sorted(metres) {
		b, need := s.Bands[key], metres[key]
		name := b.Name
		if name == "" {
			name = key
		}
		n := math.Ceil(need * 1.1)
		out = append(out, Line{
			What: name, Key: key, Count: n, Unit: "metre", Need: need, Spare: n - need,
			Each: b.Price, Price: b.Price * unit.Money(n), Why: "edges to be banded and a tenth for joints and ends",
		})
	}
	return out
}

func fittings(m build.Model, pieces int, s shop.Shop) []Line {
	type kind struct {
		key    string
		length unit.Length
	}
	need := map[kind]int{}
	what := map[kind]string{}
	for _, f := range m.Hardware {
		k := kind{f.Key, f.Length}
		need[k] += f.Count * pieces
		what[k] = f.Name
	}
	kinds := make([]kind, 0, len(need))
	for k := range need {
		kinds = append(kinds, k)
	}
	sort.Slice(kinds, func(i, j int) bool {
		a, b := kinds[i], kinds[j]
		if a.key != b.key {
			return a.key < b.key
		}
		return a.length < b.length
	})
	var out []Line
	for _, k := range kinds {
		h := s.Hardware[k.key]
		l := Line{What: what[k], Key: k.key, Need: float64(need[k]), Unit: "piece", Each: h.Price}
		switch h.Kind { // small things get lost, and break
		case "pin", "screw", "dowel", "loose-tenon":
			l.Spare = math.Ceil(l.Need * s.Habits.Spares / 100)
		}
		l.Count, l.Why = l.Need+l.Spare, "counted from the parts"
		if h.Pack > 1 {
			l.Count, l.Unit = math.Ceil((l.Need+l.Spare)/float64(h.Pack)), fmt.Sprintf("pack of %d", h.Pack)
		}
		l.Price = unit.Money(math.Round(l.Count * float64(l.Each)))
		out = append(out, l)
	}
	return out
}

// screws adds up the screw table by size.
func screws(m build.Model, pieces int, s shop.Shop, show func(unit.Length) string) []Line {
	type size struct{ diameter, length unit.Length }
	need := map[size]int{}
	gauge := map[size]int{}
	for _, u := range m.Screws {
		k := size{u.Diameter, u.Length}
		need[k] += u.Count * pieces
		gauge[k] = u.Gauge
	}
	sizes := make([]size, 0, len(need))
	for k := range need {
		sizes = append(sizes, k)
	}
	sort.Slice(sizes, func(i, j int) bool {
		if sizes[i].diameter != sizes[j].diameter {
			return sizes[i].diameter < sizes[j].diameter
		}
		return sizes[i].length < sizes[j].length
	})
	var out []Line
	for _, k := range sizes {
		name := show(k.diameter)
		if gauge[k] > 0 {
			name = fmt.Sprintf("#%d", gauge[k])
		}
		n := float64(need[k])
		spare := math.Ceil(n * s.Habits.Spares / 100)
		out = append(out, Line{
			What: fmt.Sprintf("Wood screw %s × %s", name, show(k.length)), Key: "screw", Count: n + spare, Unit: "piece", Need: n, Spare: spare, Why: "screw table",
		})
	}
	return out
}
