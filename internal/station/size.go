// Package station gives each place of work the value that its screen shows:
// the answer in words first, then sizes in both units, the sums behind them,
// drawings and findings. Every value is a view of a plan; nothing is decided
// here.
package station

import (
	"strconv"
	"strings"

	"casewright/internal/plan"
	"casewright/internal/unit"
)

// Size is a size in the units of its document and in the other ones, each
// with its unit.
type Size struct {
	Own   string `json:"own"`
	Other string `json:"other"`
}

// sizeIn shows a length in the units of sys and in the others: millimetres to
// a tenth, inches to a 64th where they lead and a 32nd where they follow.
func sizeIn(sys unit.System, l unit.Length) Size {
	return Size{l.Format(sys.Leading()), l.Format(sys.Other().Following())}
}

// fineIn shows a length as a caliper reads it: hundredths of a millimetre and
// thousandths of an inch.
func fineIn(sys unit.System, l unit.Length) Size {
	mm, in := decimals(l.MM(), 2)+" mm", decimals(l.In(), 3)+" in"
	if sys == unit.Imperial {
		return Size{in, mm}
	}
	return Size{mm, in}
}

// sized is sizeIn in the units of a plan's piece.
func sized(p plan.Plan, l unit.Length) Size { return sizeIn(p.Piece.Units, l) }

// fine is fineIn in the units of a plan's piece.
func fine(p plan.Plan, l unit.Length) Size { return fineIn(p.Piece.Units, l) }

// decimals is v with at most so many decimals, without zeros at its end.
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
