package build

import (
	"fmt"

	"casewright/internal/piece"
)

// looseStock finds a loose part's stock by role, or by key of the shop.
func (b *builder) looseStock(l piece.Loose) (stock, bool) {
	if _, ok := b.piece.Materials[l.Material]; ok {
		return b.material(l.Material), true
	}
	return b.stock(l.Material)
}

// loose adds the parts that the piece gives by size.
func (b *builder) loose() {
	for i, l := range b.piece.Loose {
		path := fmt.Sprintf("loose[%d]", i)
		s, ok := b.looseStock(l)
		if !ok {
			continue // keys said so
		}
		t := given(l.Thickness, s.thickness)
		switch {
		case l.Length <= 0 || l.Width <= 0:
			b.problem(path, "%s is %s by %s. Give a length and a width.", path, b.show(l.Length), b.show(l.Width))
			continue
		case t <= 0:
			b.problem(path+".thickness", "%s.thickness is missing. %q is solid wood, so give the finished thickness.", path, s.key)
			continue
		case !s.solid && (t-s.thickness).Abs() > 2*tenth:
			b.problem(path+".thickness", "%s.thickness is %s, but panel %q is %s. Leave the thickness out, or name another panel.", path, b.show(t), s.key, b.show(s.thickness))
			continue
		}
		way := GrainLength
		if l.Grain != "" {
			way = GrainWay(l.Grain)
		}
		b.add(Part{
			Name: l.Name, Role: RoleLoose, Count: max(1, l.Count),
			Length: From("as given", l.Length), Width: From("as given", l.Width), Thickness: From("thickness", t),
			Material: s.key, Solid: s.solid, Grain: s.grain(way), Note: l.Note,
		})
	}
}
