package price

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Use is what the work uses up of a kind of supply, for one piece.
type Use struct {
	Kind   string    // glue, finish, abrasive: the words of the shop's supplies
	Class  string    // of a finish
	Name   string    // what to ask for, where the shop has none of it
	Area   unit.Area // served once: a coat, a face with glue, a grit
	Times  int       // coats, grits
	Mass   unit.Mass // of glue and finish; 0: not known
	Litres float64   // the same by volume
	Why    string
}

// Supplied are the lines of the buying list for what is used up, for what fixes
// the piece to the wall, and for what has to go with storage for clothes, for
// so many pieces.
func Supplied(p piece.Piece, s shop.Shop, m build.Model, uses []Use, pieces int) []yard.Line {
	n := float64(pieces)
	var out []yard.Line
	var order []string // supplies in the order in which they are first used
	wanted := map[string]shop.Supply{}
	needs, whys, unknown := map[string]float64{}, map[string][]string{}, map[string]bool{}
	for _, u := range uses {
		key, x, ok := s.SupplyFor(u.Kind, u.Class)
		if !ok {
			if u.Litres <= 0 || u.Name == "" {
				continue
			}
			// It is used, so it is on the list, though nobody knows its price.
			key, x = u.Name, shop.Supply{Name: u.Name, Unit: leadingLitre(p), Pack: 1}
		}
		wanted[key] = x
		need, ok := u.units(x)
		need *= n
		if !ok {
			unknown[key] = true
		}
		if whys[key] == nil {
			order = append(order, key)
		}
		needs[key] += need
		whys[key] = append(whys[key], u.Why)
	}
	for _, key := range order {
		x, why := wanted[key], strings.Join(whys[key], "; ")
		if unknown[key] {
			needs[key] = max(needs[key], x.Pack)
			why += fmt.Sprintf("; nobody can tell how far one %s of it goes, so one is counted", x.Unit)
		}
		l := supply(key, x, needs[key], why)
		l.Measured = true
		out = append(out, l)
	}
	extra := map[string]float64{}
	if p.Customer != nil {
		for _, e := range p.Customer.Extras {
			extra[e.Supply] += e.Count
		}
	}
	for _, key := range slices.Sorted(maps.Keys(s.Supplies)) {
		x := s.Supplies[key]
		each := extra[key]
		if x.Kind == "wrap" {
			each += x.Each
		}
		if each > 0 {
			out = append(out, supply(key, x, each*n, fmt.Sprintf("%g for each piece", each)))
		}
	}
	return append(out, fixed(p, s, m, n)...)
}

// units is how much of a supply a use takes, in the supply's own unit: what
// glue-ups and coats have worked out, where the unit says how much is in it,
// else by the area that the label says one unit serves. False where neither
// does.
func (u Use) units(x shop.Supply) (float64, bool) {
	if n, ok := x.Units(u.Mass, u.Litres); ok && u.Litres > 0 {
		return n, true
	}
	if x.Covers > 0 {
		return float64(u.Area) * float64(max(1, u.Times)) / x.Covers, true
	}
	return 0, false
}

// leadingLitre is what a finish is measured in that the shop has none of.
func leadingLitre(p piece.Piece) string {
	if p.Units == unit.Imperial {
		return "quart"
	}
	return "litre"
}

// Unmeasured names the supplies of which nobody can tell how much the work
// takes: sold by the can or bottle, with nothing said of how far one goes.
func Unmeasured(s shop.Shop, uses []Use) []finding.Finding {
	var out []finding.Finding
	seen := map[string]bool{}
	for _, u := range uses {
		key, x, ok := s.SupplyFor(u.Kind, u.Class)
		if _, known := u.units(x); !ok || known || seen[key] {
			continue
		}
		seen[key] = true
		name := shop.Called(x.Name, key)
		out = append(out, finding.Finding{
			ID: "supply-unmeasured", Level: finding.Care, Place: name, Figure: x.Unit,
			Says:   fmt.Sprintf("Nobody can tell how much %s it takes: the shop has it by the %s and does not say how far one goes. One %s is counted.", name, x.Unit, x.Unit),
			Advice: "Write how much is in it, as unit and pack: litre, ml, kg, g, gallon, quart, pint, fl oz or lb; or copy covers-m2 off its label.",
			Source: "the shop's supplies", Doc: "shop", Path: "supplies." + key,
		})
	}
	return out
}

// supply buys whole packs and charges what is used of them.
func supply(key string, x shop.Supply, need float64, why string) yard.Line {
	name := shop.Called(x.Name, key)
	need = max(0, math.Ceil(need*1000-1e-6)) / 1000
	packs := max(0, math.Ceil(need/x.Pack-1e-9))
	each := yard.Money(x.Price)
	l := yard.Line{
		Sort: yard.SupplyGoods, What: name, Key: key, Count: packs, Unit: x.Unit, Measure: x.Unit, Need: need,
		Price: yard.Cost(each, packs), Why: why,
	}.At(x.Price)
	if x.Pack == 1 && need == packs {
		l.Measure = ""
	}
	if x.Pack != 1 {
		l.Unit = fmt.Sprintf("pack of %g %s", x.Pack, x.Unit)
	}
	l.Charge = each.Share(round(need*1000), max(1, round(x.Pack*1000)))
	return l
}

// fixed lists what keeps the piece on or against the wall and, for storage for
// clothes, what else goes with it, priced or not: fixings for a piece that
// hangs, a restraint, a warning label, and what keeps a second drawer shut.
func fixed(p piece.Piece, s shop.Shop, m build.Model, n float64) []yard.Line {
	var out []yard.Line
	line := func(kind, name string, each float64, why string) {
		key, x, ok := s.SupplyFor(kind, "")
		if !ok {
			key, x = name, shop.Supply{Name: name, Unit: "piece", Pack: 1}
		}
		if x.Each > 0 {
			each = x.Each
		}
		out = append(out, supply(key, x, each*n, why))
	}
	if p.Use.Hung() {
		line("wall-fixing", "fixings suited to the wall it hangs on", 2, "it hangs on the wall: two at the least, by what each must hold and what their maker says of that wall")
	}
	const rule = "goes with storage for clothes of this height: 16 CFR 1261"
	if p.Restrained(m.Outside.Z) {
		why := "it will be fixed to the wall"
		if p.ForClothes(m.Outside.Z) {
			why = rule
		}
		line("restraint", "tip restraint with wall fixings", 1, why)
	}
	if !p.ForClothes(m.Outside.Z) {
		return out
	}
	line("label", "warning label on tip-over", 1, rule)
	if slices.ContainsFunc(m.Openings, func(o build.Opening) bool { return o.Fill == "drawer" }) {
		line("interlock", "interlock: one drawer open at a time", 1, rule)
	}
	return out
}
