package piece

import "casewright/internal/unit"

// Hung says that the piece hangs on a wall: it has no feet, and nothing to tip
// over.
func (u Use) Hung() bool { return u.Against == "hung" }

// clothingFrom is the height from which storage for clothes is covered by the
// US rule on tip-over (16 CFR 1261, ASTM F2057-23 scope 1.1).
const clothingFrom = 27 * unit.Inch

// ForClothes says that a piece so high stands and is storage for clothes of
// the height that the rule is about: restraint, label and interlock go with it.
func (p Piece) ForClothes(high unit.Length) bool {
	return p.Use.For == "clothing" && high >= clothingFrom && !p.Use.Hung()
}

// Free says that the piece stands free and nobody will fix it to a wall.
func (u Use) Free() bool { return u.Against == "free" && !u.Anchor }

// Restrained says that a tip restraint goes with a piece so high: the piece
// says that it will be fixed to the wall, the maker fixes it there, or it is
// storage for clothes. What stands on casters cannot be fixed.
func (p Piece) Restrained(high unit.Length) bool {
	if p.Use.Hung() {
		return false
	}
	maker := p.Customer != nil && p.Customer.FixedBy == "maker" && !p.Use.Free()
	rolls := p.Base != nil && p.Base.Kind == "casters"
	return (p.Use.Anchor || maker) && !rolls || p.ForClothes(high)
}
