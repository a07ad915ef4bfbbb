package unit

import "testing"

// Factors of NIST SP 811, appendix B.8 (from memory): 1 lb is 0.453 592 37 kg,
// 1 lbf 4.448 222 N, 1 lbf ft 1.355 818 N m, 1 ft² 0.092 903 04 m², 1 oz
// 28.349 52 g, 1 quart 0.946 353 l.
func TestTheLeadingUnitStandsFirst(t *testing.T) {
	for _, c := range [][2]string{
		{Mass(6).Led(Metric, 0), "6 kg"},
		{Mass(6).Led(Imperial, 0), "13 lb (6 kg)"},
		{Mass(0.242).Small(Imperial), "8.5 oz (242 g)"},
		{Mass(0.242).Small(Metric), "242 g"},
		{Mass(0.001).Small(Imperial), "0.04 oz (1 g)"},
		{Force(31).Led(Imperial), "7 lbf (31 N)"},
		{Force(31).Led(Metric), "31 N"},
		{Force(31).Both(Metric), "31 N (7 lbf)"},
		{Force(31).Both(Imperial), "7 lbf (31 N)"},
		{Mass(48).Both(Metric, 0), "48 kg (106 lb)"},
		{Mass(48).Both(Imperial, 0), "106 lb (48 kg)"},
		{Mass(12).Stated(Imperial), "26.5 lb (12 kg)"},
		{Mass(12.5).Stated(Metric), "12.5 kg"},
		{Mass(12).StatedBoth(Metric), "12 kg (26.5 lb)"},
		{Mass(12).StatedBoth(Imperial), "26.5 lb (12 kg)"},
		{(25 * Pound).StatedBoth(Imperial), "25 lb (11.3 kg)"},
		{Mass(5.1).RoundedUp(Metric).Led(Metric, 0), "6 kg"},
		{Mass(5.1).RoundedUp(Imperial).Led(Imperial, 0), "12 lb (5 kg)"}, // 11.24 lb
		{Force(30.2).RoundedUp(Metric).Led(Metric), "31 N"},
		{Force(32).RoundedUp(Imperial).Led(Imperial), "8 lbf (36 N)"}, // 7.19 lbf
		{Moment(17, Imperial), "13 lbf ft (17 N m)"},
		{Moment(17, Metric), "17 N m"},
		{Area(6.59).Led(Imperial, 2), "70.9 sq ft (6.59 m²)"},
		{Area(6.59).Led(Metric, 2), "6.59 m²"},
		{Liquid(0.6812, Imperial), "0.72 quarts (0.68 l)"},
		{Liquid(0.6812, Metric), "0.68 l"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
}
