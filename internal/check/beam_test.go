package check

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"casewright/internal/unit"
)

func sheet(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// near holds got to want within a share of want.
func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s is %.6g, want %.6g", what, got, want)
	}
}

var supports = map[string]Support{"ss": Simple, "fixed": Fixed, "propped": Propped, "cant": Cantilever}

// Beam theory and the worked shelves of testdata/deflection.csv, to 0.1 %.
func TestDeflection(t *testing.T) {
	formulas, examples := 0, 0
	for _, r := range sheet(t, "deflection") {
		if r["use"] != "test" {
			continue
		}
		key := r["key"]
		if r["record"] == "example" {
			key = r["support"]
		}
		var held Support
		for name, s := range supports {
			if len(key) > len(name) && key[:len(name)+1] == name+"_" {
				held = s
			}
		}
		switch r["record"] {
		case "formula":
			formulas++
			if key == "ss_two_thirds" { // no shelf is loaded so; by virtual work
				sag, moment := thirdPoints()
				near(t, key+" deflection", sag, num(t, r["deflection_coeff"]), 0.001)
				near(t, key+" moment", moment, num(t, r["moment_coeff"]), 0.001)
				continue
			}
			sag, moment := evenSag[held], evenMoment[held]
			if r["load"] != "uniform w" {
				sag, moment = midSag[held], midMoment[held]
			}
			near(t, key+" deflection", sag, num(t, r["deflection_coeff"]), 0.001)
			near(t, key+" moment", moment, num(t, r["moment_coeff"]), 0.001)
		case "example":
			examples++
			b := Beam{
				Span: unit.MM(num(t, r["span_mm"])), Width: unit.MM(num(t, r["width_mm"])), Thickness: unit.MM(num(t, r["thickness_mm"])),
				E: unit.Stress(num(t, r["E_mpa"])), Support: held,
			}
			sag, stress := b.Sag(num(t, r["load_n_per_m"])), b.Stress(num(t, r["load_n_per_m"]))
			if p := num(t, r["load_n"]); p > 0 {
				sag, stress = b.PointSag(unit.Force(p)), b.PointStress(unit.Force(p))
			}
			near(t, r["key"]+" I", b.inertia(), num(t, r["I_mm4"]), 0.001)
			near(t, r["key"], sag.MM(), num(t, r["deflection_mm"]), 0.001)
			near(t, r["key"]+" stress", float64(stress), num(t, r["bending_stress_mpa"]), 0.001)
			limit := b.Span / seenRatio
			near(t, r["key"]+" limit", limit.MM(), num(t, r["limit_mm_0.02in_per_ft"]), 0.001)
			if pass := sag <= limit; pass != (r["pass_limit"] == "yes") {
				t.Errorf("%s: passes %v, want %s", r["key"], pass, r["pass_limit"])
			}
			if long := r["long_term_mm"]; long != "" {
				near(t, r["key"]+" long term", sag.Scale(1+num(t, r["kdef"])).MM(), num(t, long), 0.001)
			}
		}
	}
	if formulas != 8 || examples != 8 {
		t.Errorf("%d formulas and %d examples, want 8 and 8", formulas, examples)
	}
}

// Architectural Woodwork Standards 2009, 4.4.14.10: longest 3/4 and 1 in
// shelves at L/144. The book rounds to whole inches.
func TestLongestShelves(t *testing.T) {
	const psi = 6894.757293 // Pa
	for _, c := range []struct {
		thick unit.Length
		e     float64 // million psi
		load  float64 // lb/ft²
		want  float64 // in
	}{
		{unit.In(0.75), 1.8, 40, 49.53},
		{unit.In(0.75), 0.95, 40, 40.03},
		{unit.In(0.75), 0.95, 50, 37.16},
		{unit.In(0.75), 1.8, 50, 45.98},
	} {
		got := longest(c.thick, unit.Stress(c.e*psi), c.load*poundPerFoot2)
		if math.Abs(got.In()-c.want) > 0.01 {
			t.Errorf("E %v at %v lb/ft²: %.2f in, want %.2f", c.e, c.load, got.In(), c.want)
		}
	}
	for _, c := range []struct{ thick, e, load, book float64 }{
		{0.75, 0.95, 40, 40},
		{0.75, 0.95, 50, 37},
		{0.75, 1.8, 40, 49},
		{0.75, 1.8, 50, 46},
		{1, 0.95, 40, 53},
		{1, 0.95, 50, 49},
		{1, 1.8, 40, 66},
		{1, 1.8, 50, 61},
	} {
		got := longest(unit.In(c.thick), unit.Stress(c.e*psi), c.load*poundPerFoot2)
		if math.Abs(got.In()-c.book) > 1 {
			t.Errorf("%v in, E %v, %v lb/ft²: %.1f in, the book has %v", c.thick, c.e, c.load, got.In(), c.book)
		}
	}
	// The same as a sag: 18 mm over 900 mm at 12.41 GPa and 1915 Pa (arithmetic).
	b := Beam{Span: unit.MM(900), Width: unit.MM(300), Thickness: unit.MM(18), E: 12410}
	if got := b.Sag(1915 * 0.3); math.Abs(got.MM()-2.71) > 0.005 {
		t.Errorf("sag %.3f mm, want 2.71", got.MM())
	}
	if got := b.Span / awsRatio; got != unit.MM(6.25) {
		t.Errorf("limit %v, want 6.25 mm", got)
	}
}

// ANSI/KCMA A161.1: 15 lb/ft² is 718.2 Pa; a shelf of 36 in may sag 3/16 in,
// none more than 1/4 in.
func TestKitchenLimits(t *testing.T) {
	near(t, "15 lb/ft²", loadKCMA, 718.2, 0.0001)
	if got := 36 * unit.Inch / kcmaRatio; got != unit.Inch*3/16 {
		t.Errorf("36 in may sag %v, want 3/16 in", got)
	}
	if kcmaMost != unit.Inch/4 {
		t.Errorf("at most %v, want 1/4 in", kcmaMost)
	}
}

// Timoshenko, Theory of Plates and Shells, table 8, simply supported
// rectangular plates under an even load, ν = 0.3: w = α q b⁴/D, from memory,
// to 1.5 %.
func TestPlateAgainstTimoshenko(t *testing.T) {
	for ratio, alpha := range map[float64]float64{1: 0.00406, 1.2: 0.00564, 1.5: 0.00772, 2: 0.01013, 3: 0.01223} {
		const q, b, h, e = 1000.0, 300.0, 6.0, 6000.0
		d := e * h * h * h / 12 / (1 - 0.09)
		want := alpha * q / 1e6 * b * b * b * b / d
		got := PlateSag(unit.MM(b), unit.MM(b*ratio), unit.MM(h), e, q)
		near(t, strconv.FormatFloat(ratio, 'g', 2, 64), got.MM(), want, 0.02)
	}
}

// thirdPoints is the sag and the greatest moment of a simple beam of unit span
// and stiffness with a unit load at each third point: ∫ M m dx, with m the
// moment of a unit load in the middle.
func thirdPoints() (sag, moment float64) {
	const n = 30000
	for i := range n {
		x := (float64(i) + 0.5) / n
		m := min(x, 1.0/3, 1-x)
		moment = max(moment, m)
		sag += m * min(x, 1-x) / 2 / n
	}
	return sag, moment
}

// longest halves its way to the span at which a shelf sags span/144.
func longest(thick unit.Length, e unit.Stress, pressure float64) unit.Length {
	lo, hi := unit.Millimetre, 10*unit.Metre
	for hi-lo > unit.Millimetre/1000 {
		mid := (lo + hi) / 2
		b := Beam{Span: mid, Width: 300 * unit.Millimetre, Thickness: thick, E: e}
		if b.Sag(pressure*0.3) > mid/awsRatio {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}
