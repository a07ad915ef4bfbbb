package wood

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"casewright/internal/unit"
)

// sheet reads testdata/name.csv, whose source column says where each row was
// published.
func sheet(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range lines[1:] {
		row := map[string]string{}
		for i, c := range cells {
			row[lines[0][i]] = c
		}
		out = append(out, row)
	}
	if len(out) == 0 {
		t.Fatalf("%s: no rows", name)
	}
	return out
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// length is s in the unit "mm" or "in".
func length(t *testing.T, s, in string) unit.Length {
	t.Helper()
	if in == "in" {
		return unit.In(num(t, s))
	}
	return unit.MM(num(t, s))
}

func near[N ~float64](t *testing.T, what string, got, want, tolerance N) {
	t.Helper()
	if !(math.Abs(float64(got-want)) <= float64(tolerance)) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, tolerance)
	}
}

func nearLength(t *testing.T, what string, got, want, tolerance unit.Length) {
	t.Helper()
	if (got - want).Abs() > tolerance {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, tolerance)
	}
}

func find(t *testing.T, name string) Species {
	t.Helper()
	s, ok := FindSpecies(name)
	if !ok {
		t.Fatalf("no species %q", name)
	}
	return s
}
