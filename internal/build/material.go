package build

import (
	"maps"
	"slices"

	"casewright/internal/shop"
	"casewright/internal/unit"
)

// stock is what a role is made of.
type stock struct {
	key       string
	solid     bool        // a wood, else a panel
	thickness unit.Length // 0 for a wood whose thickness the piece does not give
	facePly   unit.Length
	density   unit.Density
	free      bool // no grain: parts may be turned
	panel     shop.Panel
	wood      shop.Wood
}

// stands says which role speaks for one that the piece does not name.
var stands = map[string]string{
	"top": "case", "inside": "case", "shelves": "inside", "fronts": "case", "doors": "fronts",
	"boxes": "case", "bottoms": "back", "back": "case", "base": "frame", "frame": "fronts",
	"packers": "boxes", "strip": "frame",
}

// material is the stock of a role; where the piece does not name it, that of
// the role that stands for it. A key that the shop lacks was found by keys.
func (b *builder) material(role string) stock {
	for range len(stands) {
		if key, ok := b.piece.Materials[role]; ok {
			s, _ := b.stock(key)
			if t := b.piece.Thicknesses[role]; s.solid && t > 0 {
				s.thickness = t
			}
			return s
		}
		next, ok := stands[role]
		if !ok {
			break
		}
		role = next
	}
	return stock{}
}

// stock is what the shop holds under a key. The mean of measured thicknesses
// replaces the shop's figure for a panel.
func (b *builder) stock(key string) (stock, bool) {
	if p, ok := b.shop.Panels[key]; ok {
		s := stock{
			key: key, thickness: b.measured(key, p.Thickness), facePly: p.FacePly,
			density: unit.Density(p.Density), free: p.NoGrain, panel: p,
		}
		return b.panelData(s), true
	}
	if w, ok := b.shop.Woods[key]; ok {
		return b.woodData(stock{key: key, solid: true, wood: w}), true
	}
	return stock{}, false
}

func (b *builder) measured(key string, nominal unit.Length) unit.Length {
	points := b.record.Thicknesses[key]
	if len(points) == 0 {
		return nominal
	}
	var sum unit.Length
	for _, p := range points {
		sum += p
	}
	return sum / unit.Length(len(points))
}

// grain is how the face grain lies in a part of this stock.
func (s stock) grain(way GrainWay) GrainWay {
	if s.free {
		return GrainFree
	}
	return way
}

// sorted lists the keys of a map in order.
func sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
