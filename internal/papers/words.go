package papers

import (
	"fmt"
	"strconv"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/unit"
)

// fig is a length in the leading unit, without the unit: the title block says
// which.
func (s *set) fig(l unit.Length) string {
	master, _ := s.draw.Size(l)
	return master
}

// other is a length in the following unit, in parentheses.
func (s *set) other(l unit.Length) string {
	_, other := s.draw.Size(l)
	return other
}

// size is a length in the leading unit, with the unit.
func (s *set) size(l unit.Length) string { return s.fig(l) + " " + s.draw.Units.String() }

// dual is a length in both units: 302.4 mm (≈11-29/32 in).
func (s *set) dual(l unit.Length) string {
	other := strings.TrimSuffix(s.other(l), ")")
	return s.size(l) + " " + other + " " + s.draw.Units.Other().String() + ")"
}

// sizes are lengths with crosses between, in the leading unit and in the
// other.
func (s *set) sizes(ls ...unit.Length) (master, other string) {
	var m, o []string
	for _, l := range ls {
		a, b := s.draw.Size(l)
		m, o = append(m, a), append(o, strings.Trim(b, "()"))
	}
	return strings.Join(m, " × "), strings.Join(o, " × ")
}

// sizesText is sizes in one line with units.
func (s *set) sizesText(ls ...unit.Length) string {
	m, o := s.sizes(ls...)
	return m + " " + s.draw.Units.String() + " (" + o + " " + s.draw.Units.Other().String() + ")"
}

// fine is a length to a hundredth of a millimetre, or in decimal inches to a
// thousandth: for blades and skins, which are measured by caliper.
func (s *set) fine(l unit.Length) string {
	mm, in := decimals(l.MM(), 2)+" mm", decimals(l.In(), 3)+" in"
	if s.draw.Units == unit.Imperial {
		return in + " (" + mm + ")"
	}
	return mm + " (" + in + ")"
}

// decimals is v with at most so many decimals, without zeros at the end.
func decimals(v float64, places int) string {
	t := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	if t == "-0" {
		return "0"
	}
	return t
}

func degrees(a unit.Angle) string { return decimals(a.Deg(), 1) + "°" }

func percent(f float64) string { return decimals(100*f, 2) + " %" }

// sentence is the text with a capital at its start and a stop at its end.
func sentence(t string) string {
	if t = strings.TrimSpace(t); t == "" || strings.ContainsAny(t[len(t)-1:], ".!?") {
		return document.Capital(t)
	}
	return document.Capital(t) + "."
}

// list is words with commas and an and.
func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// money is an amount with the shop's currency.
func (s *set) money(m unit.Money) string {
	if c := s.p.Shop.Currency; c != "" {
		return c + " " + m.Format()
	}
	return m.Format()
}

// material is what the yard calls a stock of the shop.
func (s *set) material(p build.Part) string { return s.p.Shop.StockCalled(p.Material) }

// part finds a part by its letter.
func (s *set) part(letter string) (build.Part, bool) {
	for _, p := range s.p.Model.Parts {
		if p.Letter == letter {
			return p, true
		}
	}
	return build.Part{}, false
}

// named is a letter with the part's name.
func (s *set) named(letter string) string {
	if p, ok := s.part(letter); ok {
		return letter + ", " + p.Name
	}
	return letter
}

// pieces is how many pieces are made.
func (s *set) pieces() int { return max(1, s.p.Piece.Count) }

// hands is how many of a part are cut as drawn and how many as its mirror
// image, in all pieces.
func (s *set) hands(p build.Part) (drawn, mirrored int) {
	for _, pl := range p.Places {
		if pl.Frame.Mirror {
			mirrored++
		}
	}
	drawn = p.Count - mirrored
	if n := s.pieces(); s.p.Piece.Pair {
		half := n / 2
		return drawn*(n-half) + mirrored*half, mirrored*(n-half) + drawn*half
	}
	return drawn * s.pieces(), mirrored * s.pieces()
}

// handsText says how many to make of a part that has a left and a right.
func (s *set) handsText(p build.Part) string {
	drawn, mirrored := s.hands(p)
	switch {
	case mirrored == 0:
		return fmt.Sprintf("Make %d.", drawn)
	case drawn == 0:
		return fmt.Sprintf("Make %d, all mirrored.", mirrored)
	}
	return fmt.Sprintf("Make %d as drawn, %d mirrored.", drawn, mirrored)
}

// figs is a length in both units without their names: 16 (5/8).
func (s *set) figs(l unit.Length) string {
	if l == 0 {
		return ""
	}
	return s.fig(l) + " " + s.other(l)
}

// fine2 is the size of a drill in both units, to a tenth of a millimetre and a
// thousandth of an inch.
func (s *set) fine2(l unit.Length) string {
	switch {
	case l == 0:
		return ""
	case s.draw.Units == unit.Imperial:
		return s.fig(l) + " (" + decimals(l.MM(), 1) + ")"
	}
	return decimals(l.MM(), 1) + " (" + decimals(l.In(), 3) + ")"
}

// unitWord names the leading unit in a head.
func (s *set) unitWord() string {
	if s.draw.Units == unit.Imperial {
		return "inches"
	}
	return s.draw.Units.String()
}
