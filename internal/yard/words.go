package yard

import (
	"strconv"
	"strings"
)

// Amount is a count without needless decimals: two below ten, else one.
func Amount(v float64) string {
	places := 1
	if v < 10 {
		places = 2
	}
	return trimmed(v, places)
}

// Much is a count of a unit; cubic metres, of which a thousandth costs money,
// have three decimals.
func Much(v float64, unit string) string {
	if unit == "m³" {
		return trimmed(v, 3)
	}
	return Amount(v)
}

func trimmed(v float64, places int) string {
	t := strconv.FormatFloat(v, 'f', places, 64)
	return strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
}

// Plural is a unit of the buying list after a count.
func Plural(u string, n float64) string {
	if n == 1 {
		return packed(u)
	}
	switch {
	case u == "":
		return ""
	case u == "board foot" || u == "foot":
		return strings.TrimSuffix(u, "foot") + "feet"
	case strings.HasPrefix(u, "pack of"):
		return "packs" + strings.TrimPrefix(packed(u), "pack")
	case u == "m³" || u == "km" || u == "g" || u == "kg" || u == "m":
		return u
	}
	return u + "s"
}

// packed puts what a pack holds into the plural: pack of 50 discs.
func packed(u string) string {
	if holds := strings.Fields(strings.TrimPrefix(u, "pack of ")); len(holds) == 2 && strings.HasPrefix(u, "pack of ") && holds[0] != "1" {
		return "pack of " + holds[0] + " " + Plural(holds[1], 2)
	}
	return u
}
