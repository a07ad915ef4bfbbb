package build

import (
	"strings"
	"testing"

	"casewright/internal/piece"
	"casewright/internal/unit"
)

// Derived: sums by hand.
func TestSizesThatDoNotAddUp(t *testing.T) {
	p, s := plain(t)
	p.Case.Width = 1428 * mm // 1392 clear
	c := func(w float64) piece.Opening { return piece.Opening{Width: unit.MM(w)} }
	for _, x := range []struct {
		name   string
		inside piece.Opening
		path   string
		want   []string
	}{
		{
			"too much",
			piece.Opening{Columns: []piece.Opening{c(464), c(450), c(450)}},
			"inside.columns",
			[]string{"3 columns and 2 dividers add up to 1400 mm, the space is 1392 mm; take 8 mm off"},
		},
		{
			"too little",
			piece.Opening{Columns: []piece.Opening{c(464), c(450), c(440)}},
			"inside.columns",
			[]string{"add up to 1390 mm, the space is 1392 mm; add 2 mm"},
		},
		{
			"nothing left",
			piece.Opening{Columns: []piece.Opening{c(900), c(474), {}}},
			"inside.columns",
			[]string{"nothing is left for 1 column without a width"},
		},
		{
			"the other size",
			piece.Opening{Columns: []piece.Opening{{Height: 650 * mm}, {}}},
			"inside.columns[0].height",
			[]string{"a height of 650 mm is asked for, but the space is 700 mm", "50 mm"},
		},
		{
			"both ways",
			piece.Opening{Columns: []piece.Opening{{}, {}}, Rows: []piece.Opening{{}, {}}},
			"inside",
			[]string{"into columns or into rows, not both"},
		},
		{
			"deep down",
			piece.Opening{Columns: []piece.Opening{{}, {Rows: []piece.Opening{{Height: 400 * mm}, {Height: 400 * mm}}}}},
			"inside.columns[1].rows",
			[]string{"2 rows and 1 divider add up to 818 mm, the space is 700 mm; take 118 mm off"},
		},
	} {
		t.Run(x.name, func(t *testing.T) {
			p.Inside = x.inside
			got := problemAt(t, p, s, x.path)
			if !strings.HasPrefix(got, x.path+": ") {
				t.Errorf("%q does not begin with its path", got)
			}
			for _, want := range x.want {
				if !strings.Contains(got, want) {
					t.Errorf("got %q, want %q in it", got, want)
				}
			}
		})
	}
}

// worth is what the terms of a sum come to.
func (d Dim) worth() unit.Length {
	var v unit.Length
	for _, w := range d.Why {
		if w.Over > 0 {
			v /= unit.Length(w.Over)
			continue
		}
		v += unit.Length(w.Times) * w.Each
	}
	return v
}

func checkSums(t interface {
	Errorf(string, ...any)
}, m Model,
) {
	for _, p := range m.Parts {
		for i, d := range []Dim{p.Length, p.Width, p.Thickness} {
			if d.worth() != d.Size {
				t.Errorf("%s size %d is %v, its sum comes to %v", p.Name, i, d.Size, d.worth())
			}
			if d.Size <= 0 {
				t.Errorf("%s size %d is %v", p.Name, i, d.Size)
			}
		}
	}
	for _, o := range m.Openings {
		if o.Width.worth() != o.Width.Size || o.Height.worth() != o.Height.Size {
			t.Errorf("%s: sums do not come to its sizes", o.Name)
		}
	}
}

func TestSumsOfDemos(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		checkSums(t, built(t, name))
	}
}
