package bend

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/unit"
)

// figure compares got with a printed figure: within rel of it, or half a unit
// of its last place where it is printed coarser.
func figure(t *testing.T, what string, got float64, want string, rel float64) {
	t.Helper()
	w, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	half := 0.5
	if i := strings.IndexByte(want, '.'); i >= 0 {
		half = 0.5 * math.Pow10(-(len(want) - i - 1))
	}
	if d := math.Abs(got - w); !(d <= rel*math.Abs(w)+half*1.001) {
		t.Errorf("%s = %.6g, want %s", what, got, want)
	}
}

// The tolerances of the worked examples: lengths 0.1 per cent, strain and
// force 2 per cent, angles 0.02 degrees.
func length(t *testing.T, what string, got unit.Length, want string) {
	t.Helper()
	figure(t, what, got.MM(), want, 0.001)
}

func inches(t *testing.T, what string, got unit.Length, want string) {
	t.Helper()
	figure(t, what, got.In(), want, 0.001)
}

func number(t *testing.T, what string, got float64, want string) {
	t.Helper()
	figure(t, what, got, want, 0.001)
}

func loose(t *testing.T, what string, got float64, want string) {
	t.Helper()
	figure(t, what, got, want, 0.02)
}

func angle(t *testing.T, what string, got unit.Angle, want string) {
	t.Helper()
	w, _ := strconv.ParseFloat(want, 64)
	figure(t, what, got.Deg(), want, 0.02/w)
}

func generic(t testing.TB, key string) Material {
	t.Helper()
	m, ok := MaterialByKey(key)
	if !ok {
		t.Fatalf("no material %q", key)
	}
	return m
}

// withAlpha is the generic material with the reach a worked example states.
func withAlpha(t testing.TB, key string, alpha float64) Material {
	m := generic(t, key)
	m.Alpha = alpha
	return m
}

func evaluate(t testing.TB, s Spec) Result {
	t.Helper()
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// corner is an ordinary corner of a case.
func corner(t testing.TB) Spec {
	return Spec{
		Material: generic(t, "ply-round"), Thickness: unit.MM(18), Skin: unit.MM(1.5), Kerf: unit.MM(3.2),
		Radius: unit.MM(100), Angle: unit.Right, Width: unit.MM(400),
	}
}
