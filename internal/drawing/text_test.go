package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The font's own figures, read from its hmtx table by another program
// (fc-query and the published metrics of the Arial-compatible family agree):
// digits 1139 of 2048, blank 569, A 1366, W 1933. From memory of the widths of
// Helvetica, to which the family is metrically equal: 556, 278, 667, 944 per
// thousand.
func TestWidthsAreThoseOfTheFamily(t *testing.T) {
	for c, per1000 := range map[string]float64{"0": 556, "7": 556, " ": 278, "A": 667, "W": 944, "i": 222, "m": 833} {
		got := Text{S: c, Size: 1000}.Width()
		if math.Abs(got-per1000) > 1 {
			t.Errorf("width of %q is %.1f per thousand, want %v", c, got, per1000)
		}
	}
}

func TestFiguresAreTabular(t *testing.T) {
	for _, w := range []Weight{Regular, Bold} {
		for c := '0'; c <= '9'; c++ {
			if faceOf(w).advance(c) != faceOf(w).advance('0') {
				t.Errorf("weight %d: %c is not as wide as 0", w, c)
			}
		}
	}
}

func TestTheFontHasTheSignsOfTheTrade(t *testing.T) {
	for _, c := range "≈×⁄′″°±–—…½¼¾≤≥−→↓·äöüéñß€£²³" {
		for _, w := range []Weight{Regular, Bold} {
			if !Has(c, w) {
				t.Errorf("weight %d has no %c", w, c)
			}
		}
	}
}

func TestFractionsAreFound(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"11-29/32 in", "[11][ ][^29][⁄][32][ in]"},
		{"11 29/32", "[11][ ][^29][⁄][32]"},
		{"3/4", "[^3][⁄][4]"},
		{"(≈1/2)", "[(≈][^1][⁄][2][)]"},
		{"1/2 × 3/8", "[^1][⁄][2][ × ][^3][⁄][8]"},
		{"8/4 oak", "[8/4 oak]"},
		{"4/4", "[4/4]"},
		{"5/4 and 3/4 in", "[5/4 and ][^3][⁄][4][ in]"},
		{"12/25/2024", "[12/25/2024]"},
		{"1/2/24", "[1/2/24]"},
		{"2/3", "[2/3]"},
		{"0.5/16", "[0.5/16]"},
		{"page 3 of 12", "[page 3 of 12]"},
		{"17-1/4 in (438.2)", "[17][ ][^1][⁄][4][ in (438.2)]"},
	} {
		spans, _ := Text{S: c.in, Size: 1}.Spans()
		got := ""
		for _, s := range spans {
			if s.Rise > 0 {
				got += "[^" + s.S + "]"
				continue
			}
			got += "[" + s.S + "]"
		}
		if got != c.want {
			t.Errorf("%q: %s, want %s", c.in, got, c.want)
		}
	}
}

func TestWrapLosesNothingAndFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[a-zA-Z0-9 /×.-]{0,80}`).Draw(t, "s")
		width := rapid.Float64Range(6, 80).Draw(t, "width")
		lines := Wrap(s, 3, width, Regular)
		for _, l := range lines {
			if w := (Text{S: l, Size: 3}).Width(); w > width+1e-9 && len([]rune(l)) > 1 {
				t.Fatalf("%q is %.2f wide in %.2f", l, w, width)
			}
		}
		squeeze := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if got, want := squeeze(strings.Join(lines, "")), squeeze(s); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

func FuzzSpans(f *testing.F) {
	for _, s := range []string{"", "1/2", "11-29/32/4", "/", "1/", "0/4", "\xff1/2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		spans, w := Text{S: s, Size: 3}.Spans()
		x := 0.0
		for _, p := range spans {
			if p.X < x-1e-9 {
				t.Fatalf("spans of %q run back: %v", s, spans)
			}
			x = p.X
		}
		if math.IsNaN(w) || w < x-1e-9 {
			t.Fatalf("width %v of %q", w, s)
		}
	})
}

func TestTableKeepsRowsTogether(t *testing.T) {
	var rows [][]string
	for i := range 60 {
		rows = append(rows, []string{fmt.Sprint(i), "a name that is long enough to be wrapped over lines", "11-29/32 in"})
	}
	columns := []Column{{Head: "N", Share: 1, Right: true}, {Head: "Name", Share: 3}, {Head: "Size", Share: 2, Right: true}}
	seen, pages := 0, 0
	for rest := rows; len(rest) > 0; pages++ {
		s := NewSheet(A4, "")
		r := Rect{20, 20, 90, 120}
		next, below := s.Table(r, columns, rest, TableStyle{})
		seen += len(rest) - len(next)
		if len(next) == len(rest) {
			t.Fatal("no row was set")
		}
		for _, b := range boxes(s.Items) {
			if !r.Holds(b) {
				t.Fatalf("text at %v outside the table %v", b, r)
			}
		}
		bs := boxes(s.Items)
		for i, b := range bs {
			for _, c := range bs[:i] {
				if b.Overlaps(c) {
					t.Fatalf("texts overlap: %v, %v", b, c)
				}
			}
		}
		if len(next) > 0 && below.H != 0 {
			t.Error("a full table leaves room")
		}
		rest = next
	}
	if seen != 60 || pages < 2 {
		t.Errorf("%d rows on %d pages", seen, pages)
	}
}
