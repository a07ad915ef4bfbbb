package build

import (
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// moves is how much a flat-sawn width of a wood moves between the driest and
// the dampest month of its home; nothing for a panel or a wood without figures.
func (b *builder) moves(s stock, width unit.Length) (unit.Length, wood.Move) {
	if !s.solid {
		return 0, wood.Move{}
	}
	sp, ok := wood.FindSpecies(s.wood.Species)
	if !ok {
		return 0, wood.Move{}
	}
	driest, dampest := b.piece.Home.Moistures()
	m, err := sp.Movement(width, wood.Tangential, driest, dampest)
	if err != nil {
		return 0, wood.Move{}
	}
	return m.Change, m
}

// movesOf is the same for a part that is there already.
func (b *builder) movesOf(p *Part, width unit.Length) (unit.Length, wood.Move) {
	s, _ := b.stock(p.Material)
	return b.moves(s, width)
}
