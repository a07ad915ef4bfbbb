package price

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
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
	Amount float64   // in Unit, where the work has worked it out; 0: not known
	Unit   string
	Why    string
}

// Supplied are the lines of the buying list for what is used up, and for what
// has to go with storage for clothes, for so many pieces.
func Supplied(p piece.Piece, s shop.Shop, m build.Model, uses []Use, pieces int) []yard.Line {
	n := float64(pieces)
	var out []yard.Line
	var order []string // supplies in the order in which they are first used
	wanted := map[string]shop.Supply{}
	needs, whys := map[string]float64{}, map[string][]string{}
	for _, u := range uses {
		key, x, ok := supplyOf(s, u.Kind, u.Class)
		if !ok {
			if u.Amount <= 0 || u.Name == "" {
				continue
			}
			// It is used, so it is on the list, though nobody knows its price.
			key, x = u.Name, shop.Supply{Name: u.Name, Unit: u.Unit, Pack: 1}
		}
		wanted[key] = x
		need := 0.0
		switch {
		case u.Amount > 0 && u.Unit == x.Unit: // as glue-ups and coats have it
			need = u.Amount * n
		case u.Amount > 0 && u.Unit == "g" && x.Unit == "kg":
			need = u.Amount / 1000 * n
		case x.Covers > 0:
			need = float64(u.Area) * float64(max(1, u.Times)) / x.Covers * n
		default: // the label has to say how far it goes
		}
		if whys[key] == nil {
			order = append(order, key)
		}
		needs[key] += need
		whys[key] = append(whys[key], u.Why)
	}
	for _, key := range order {
		l := supply(key, wanted[key], needs[key], strings.Join(whys[key], "; "))
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
	return append(out, clothing(p, s, m, n)...)
}

// supplyOf is the first supply of a kind, by key.
func supplyOf(s shop.Shop, kind, class string) (string, shop.Supply, bool) {
	for _, key := range slices.Sorted(maps.Keys(s.Supplies)) {
		if x := s.Supplies[key]; x.Kind == kind && x.Class == class {
			return key, x, true
		}
	}
	return "", shop.Supply{}, false
}

// supply buys whole packs and charges what is used of them.
func supply(key string, x shop.Supply, need float64, why string) yard.Line {
	name := x.Name
	if name == "" {
		name = strings.ReplaceAll(key, "-", " ")
	}
	need = math.Ceil(need*1000-1e-6) / 1000
	packs := math.Ceil(need/x.Pack - 1e-9)
	l := yard.Line{
		Sort: yard.SupplyGoods, What: name, Key: key, Count: packs, Unit: x.Unit, Measure: x.Unit, Need: need,
		Each: x.Price, Price: yard.Cost(x.Price, packs), Why: why,
	}
	if x.Pack == 1 && need == packs {
		l.Measure = ""
	}
	if x.Pack != 1 {
		l.Unit = fmt.Sprintf("pack of %g %s", x.Pack, x.Unit)
	}
	l.Charge = x.Price.Share(round(need*1000), max(1, round(x.Pack*1000)))
	return l
}

// clothingFrom is the height from which storage for clothes is covered by the
// US rule on tip-over (16 CFR 1261, ASTM F2057-23 scope 1.1).
const clothingFrom = 27 * unit.Inch

// clothing lists what goes with storage for clothes of that height, priced or
// not: a restraint, a warning label, and what keeps a second drawer shut.
func clothing(p piece.Piece, s shop.Shop, m build.Model, n float64) []yard.Line {
	if p.Use.For != "clothing" || m.Outside.Z < clothingFrom {
		return nil
	}
	drawers := false
	for _, o := range m.Openings {
		drawers = drawers || o.Fill == "drawer"
	}
	var out []yard.Line
	for _, k := range []struct{ kind, name string }{
		{"restraint", "tip restraint with wall fixings"}, {"label", "warning label on tip-over"}, {"interlock", "interlock: one drawer open at a time"},
	} {
		if k.kind == "interlock" && !drawers {
			continue
		}
		key, x, ok := supplyOf(s, k.kind, "")
		if !ok {
			x = shop.Supply{Name: k.name, Unit: "piece", Pack: 1}
		}
		each := max(1, x.Each)
		out = append(out, supply(key, x, each*n, "goes with storage for clothes of this height: 16 CFR 1261"))
	}
	return out
}
