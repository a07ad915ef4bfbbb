package document_test

import (
	"testing"

	"casewright/internal/document"
)

func TestCapital(t *testing.T) {
	for _, c := range []struct{ text, capital, small string }{
		{"", "", ""},
		{"oak", "Oak", "oak"},
		{"Oak", "Oak", "oak"},
		{"É", "É", "é"},
		{"étagère", "Étagère", "étagère"},
		{"ö", "Ö", "ö"},
		{"ølsted", "Ølsted", "ølsted"},
		{"4 panels", "4 panels", "4 panels"},
		{"木", "木", "木"},
		{"\xff", "\xff", "\xff"},
	} {
		if got := document.Capital(c.text); got != c.capital {
			t.Errorf("%q with a capital is %q, want %q", c.text, got, c.capital)
		}
		if got := document.Small(c.text); got != c.small {
			t.Errorf("%q with a small letter is %q, want %q", c.text, got, c.small)
		}
	}
}

func TestCount(t *testing.T) {
	for _, c := range []struct {
		n    int
		noun string
		want string
	}{
		{0, "panel", "0 panels"},
		{1, "panel", "1 panel"},
		{2, "panel", "2 panels"},
		{1, "entry", "1 entry"},
		{3, "entry", "3 entries"},
		{5, "day", "5 days"},
		{2, "y", "2 ys"},
	} {
		if got := document.Count(c.n, c.noun); got != c.want {
			t.Errorf("%d of %q is %q, want %q", c.n, c.noun, got, c.want)
		}
	}
}
