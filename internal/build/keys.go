package build

import (
	"fmt"
	"slices"

	"casewright/internal/piece"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// keys checks, before anything is built, that every key the piece names is in
// the shop and that solid wood has a thickness.
func (b *builder) keys() {
	p := b.piece
	for _, role := range sorted(p.Materials) {
		path, key := "materials."+role, p.Materials[role]
		s, ok := b.stock(key)
		switch {
		case !ok:
			b.problem(path, "%s is %q, but the shop has no panel or wood of that key. Add it to the shop, or name one of: %s.", path, key, b.stocks())
		case s.solid && p.Thicknesses[role] <= 0 && needsThickness[role]:
			b.problem("thicknesses."+role, "materials.%s is %q, a solid wood, so its finished thickness must be given. Add thicknesses.%s, such as %s.", role, key, role, b.show(20*unit.Millimetre))
		case !s.solid && s.thickness <= 0:
			b.problem(path, "%s is %q, whose thickness comes to %s. Measure it and put it right in the shop or the record.", path, key, b.show(s.thickness))
		}
	}
	if p.Materials["case"] == "" {
		b.problem("materials.case", "materials.case is missing. Name the panel or wood the case is made of, one of: %s.", b.stocks())
	}
	b.band("case.edges", p.Case.Edges)
	if key := p.Case.Saw; key != "" {
		if _, ok := b.shop.Saws[key]; !ok {
			b.problem("case.saw", "case.saw is %q, but the shop has no saw of that key. Name one of: %s.", key, names(b.shop.Saws))
		}
	}
	if p.Base != nil && p.Base.Hardware != "" {
		b.hardware(p.Base.Hardware, "base.hardware")
	}
	b.openingKeys(p.Inside, "inside")
	for i, l := range p.Loose {
		if _, ok := b.looseStock(l); !ok {
			path := fmt.Sprintf("loose[%d].material", i)
			b.problem(path, "%s is %q, which is neither a role of this piece nor a panel or wood of the shop. Name one of: %s.", path, l.Material, b.stocks())
		}
	}
}

// needsThickness are the roles whose solid wood needs a thickness of its own;
// the others get it where they are described.
var needsThickness = map[string]bool{
	"case": true, "top": true, "inside": true, "shelves": true, "back": true, "bottoms": true,
}

func (b *builder) openingKeys(o piece.Opening, path string) {
	if d := o.Drawer; d != nil {
		b.hardware(d.Runner, path+".drawer.runner")
		if d.Pull != "" {
			b.hardware(d.Pull, path+".drawer.pull")
		}
	}
	if d := o.Door; d != nil {
		b.hardware(d.Hinge, path+".door.hinge")
		if d.Pull != "" {
			b.hardware(d.Pull, path+".door.pull")
		}
		b.band(path+".door.edges", d.Edges)
	}
	if s := o.Shelves; s != nil {
		if s.Pin != "" {
			b.hardware(s.Pin, path+".shelves.pin")
		}
		b.band(path+".shelves.edges", s.Edges)
	}
	for i, c := range o.Columns {
		b.openingKeys(c, fmt.Sprintf("%s.columns[%d]", path, i))
	}
	for i, r := range o.Rows {
		b.openingKeys(r, fmt.Sprintf("%s.rows[%d]", path, i))
	}
}

// band checks the key of an edge band; none is fine.
func (b *builder) band(path, key string) {
	if _, ok := b.shop.Bands[key]; key != "" && !ok {
		b.problem(path, "%s is %q, but the shop has no edge band of that key. Add it to the shop, or name one of: %s.", path, key, names(b.shop.Bands))
	}
}

// stocks lists all panels and woods, for a sentence.
func (b *builder) stocks() string {
	all := slices.Concat(sorted(b.shop.Panels), sorted(b.shop.Woods))
	if len(all) == 0 {
		return "none yet"
	}
	slices.Sort(all)
	return join(all)
}

// panelData fills in what the shop leaves to the built-in table.
func (b *builder) panelData(s stock) stock {
	kind, ok := wood.FindPanel(s.panel.Kind)
	if !ok {
		return s
	}
	if s.facePly == 0 {
		s.facePly = kind.FacePly
	}
	if s.density == 0 {
		s.density = kind.Density
	}
	s.free = s.free || !kind.HasGrain()
	return s
}

func (b *builder) woodData(s stock) stock {
	if sp, ok := wood.FindSpecies(s.wood.Species); ok {
		s.density = sp.Density
	}
	return s
}
