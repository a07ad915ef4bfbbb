package route

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"casewright/internal/build"
	"casewright/internal/shop"
	"casewright/internal/table"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Glue is a glue with the times to work by. Low figures are planned with: they
// are the ones that hurt. All times in minutes at about 20 °C and 50 %
// relative humidity, but Full, which is in hours.
type Glue struct {
	Class    string   `json:"class"`
	Name     string   `json:"name"`
	Open     float64  `json:"open_minutes"`     // spread glue may lie open
	Assembly float64  `json:"assembly_minutes"` // first spread to last clamp
	Most     float64  `json:"assembly_most_minutes,omitempty"`
	Clamp    float64  `json:"clamp_minutes"` // the long end
	Full     float64  `json:"full_hours"`
	Coldest  *float64 `json:"coldest_c,omitempty"` // nil: not published
	Spread   float64  `json:"spread_g_m2"`         // the high end, on one face
	Labelled bool     `json:"spread_by_label,omitempty"`
	Density  float64  `json:"density_kg_per_l"`
	Contact  bool     `json:"contact,omitempty"` // wants no pressure beyond contact
	Source   string   `json:"source"`
}

func glueOf(r *table.Row) Glue {
	var coldest *float64
	if c := r.Number("coldest_c"); c != 0 {
		coldest = &c
	}
	return Glue{
		Class: r.Text("key"), Name: r.Text("name"), Open: r.Number("open_low"), Assembly: r.Number("assembly_low"), Most: r.Number("assembly_high"),
		Clamp: r.Number("clamp_high"), Full: r.Number("full_h"), Coldest: coldest, Spread: r.Number("spread_high"), Density: r.Number("density_kg_l"),
		Contact: r.Text("contact") == "yes", Source: r.Text("source"),
	}
}

// classGlue is the usual glue of a class.
func classGlue(class string) (Glue, bool) {
	i := slices.IndexFunc(known.glues, func(g Glue) bool { return g.Class == class })
	if i < 0 {
		return Glue{}, false
	}
	out := known.glues[i]
	if out.Coldest != nil { // a plan shares nothing with the table
		out.Coldest = new(*out.Coldest)
	}
	return out, true
}

// own is a glue of the shop: its label over the usual figures.
func own(g shop.Glue) Glue {
	out, _ := classGlue(g.Class)
	usual := out.Source
	out.Open, out.Assembly = cmp.Or(g.Open, out.Open), cmp.Or(g.Assembly, out.Assembly)
	out.Clamp, out.Full = cmp.Or(g.Clamp, out.Clamp), cmp.Or(g.Full, out.Full)
	if g.ColdestC != nil {
		out.Coldest = new(*g.ColdestC)
	}
	if g.Open+g.Assembly+g.Clamp+g.Full > 0 {
		out.Source = "the glue's label, from the shop; else " + usual
	}
	if g.Assembly > 0 {
		out.Most = g.Assembly
	}
	if g.Name != "" {
		out.Name = g.Name
	}
	return out
}

// choose is the glue for an assembly that takes so many minutes to close: the
// piece's own, else the first of the shop's that gives time, else the one of
// them that gives most, else yellow glue.
func choose(key string, s shop.Shop, need float64) Glue { return labelled(pick(key, s, need), s) }

// labelled is a glue that goes as far as the label of the shop's supply of it
// says; by the usual spread where that says nothing.
func labelled(g Glue, s shop.Shop) Glue {
	if _, x, ok := s.SupplyFor("glue", ""); ok {
		if far := x.PerLitre(g.Density); far > 0 {
			g.Spread, g.Labelled = g.Density*1000/far, true
			g.Source = "how far it goes: the label, from the shop's supplies; else " + g.Source
		}
	}
	return g
}

func pick(key string, s shop.Shop, need float64) Glue {
	if g, ok := s.Glues[key]; ok {
		return own(g)
	}
	var best Glue
	for _, k := range slices.Sorted(maps.Keys(s.Glues)) {
		g := own(s.Glues[k])
		if g.Assembly >= need {
			return g
		}
		if g.Assembly > best.Assembly {
			best = g
		}
	}
	if best.Class == "" {
		best, _ = classGlue("pva-yellow")
	}
	return best
}

// filler is the glue that fills kerfs which stay open, for it does not shrink:
// the piece's own or the shop's slow epoxy, else the usual one.
func filler(key string, s shop.Shop) Glue {
	for _, k := range slices.Concat([]string{key}, slices.Sorted(maps.Keys(s.Glues))) {
		if g, ok := s.Glues[k]; ok && g.Class == fills {
			return own(g)
		}
	}
	g, _ := classGlue(fills)
	return g
}

// fills is the class of glue that fills gaps.
const fills = "epoxy-slow"

// slower are the usual glues that give the time, quickest first.
func slower(need float64) []Glue {
	var out []Glue
	for _, g := range known.glues {
		if g.Assembly >= need {
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b Glue) int { return cmp.Compare(a.Assembly, b.Assembly) })
	return out
}

// pressureRow is a row of the table of clamp pressures.
type pressureRow struct {
	key, name string
	low, high unit.Stress
	source    string
}

func pressureOf(r *table.Row) pressureRow {
	return pressureRow{r.Text("key"), r.Text("name"), unit.Stress(r.Number("low_mpa")), unit.Stress(r.Number("high_mpa")), r.Text("source")}
}

// Pressure is what clamps are planned by on a part: the low end of the advice
// for its wood.
func Pressure(p build.Part, s shop.Shop) (unit.Stress, string) {
	key := "panel"
	if p.Solid {
		key = "hardwood"
		if sp, ok := wood.FindSpecies(s.Woods[p.Material].Species); ok && sp.Density > 0 && sp.Density < 550 {
			key = "softwood"
		}
	}
	for _, r := range known.pressures {
		if r.key == key {
			return r.low, r.source
		}
	}
	return 0, ""
}

// Clamps is how many clamps of a force press an area: pressure × area over
// force, rounded up.
func Clamps(pressure unit.Stress, area unit.Area, force unit.Force) (total unit.Force, n int) {
	total = unit.Force(float64(pressure) * float64(area) * 1e6)
	if force <= 0 {
		return total, 0
	}
	return total, int(math.Ceil(float64(total)/float64(force) - 1e-9))
}

// Spacing is how far apart clamps may stand: pressure spreads at 45 degrees to
// each side, so twice the way from pad to glue line (common practice, no
// source).
func Spacing(padToGlue unit.Length) unit.Length { return 2 * padToGlue }

// Rack is how far a rectangle of width w stands out of square over its height
// when its diagonals measure d1 and d2: (d1 − d2)(d1 + d2) / 4w. Exact.
func Rack(d1, d2, w unit.Length) unit.Length {
	if w == 0 {
		return 0
	}
	a, b := d1.MM(), d2.MM()
	return unit.MM((a - b) * (a + b) / (4 * w.MM()))
}

// Diagonal is that of a rectangle.
func Diagonal(w, h unit.Length) unit.Length { return unit.MM(math.Hypot(w.MM(), h.MM())) }

// DiagonalLimit is the difference of diagonals at which a rectangle racks by
// so much over its height: 2 × rack × width over the diagonal, to first order.
func DiagonalLimit(w, h, rack unit.Length) unit.Length {
	d := Diagonal(w, h)
	if d == 0 {
		return 0
	}
	return unit.MM(2 * rack.MM() * w.MM() / d.MM())
}
