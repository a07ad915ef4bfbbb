package plan_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/saw"
	"casewright/internal/unit"
)

// offSaw is the record after the panel that case and fronts share is cut up:
// parts of the case are cut, and of the fronts' blanks those that are given.
func offSaw(t *testing.T, p plan.Plan, blanks int) (record.Record, build.Blank) {
	t.Helper()
	if len(p.Model.Blanks) != 1 {
		t.Fatalf("blanks: %+v", p.Model.Blanks)
	}
	k := p.Model.Blanks[0]
	var r record.Record
	for _, part := range p.Model.Parts {
		if part.Material == k.Material && part.Letter != k.Letter {
			r.Cut = append(r.Cut, record.Cut{Part: part.Letter, Count: part.Count})
		}
	}
	if blanks > 0 {
		r.Blanks = []record.Blanks{{Part: k.Letter, Count: blanks}}
	}
	return r, k
}

// asked is how many of the letters the layouts of a material hold.
func asked(p plan.Plan, material string, letters []string) int {
	n := 0
	for _, x := range p.Panels {
		if x.Key != material {
			continue
		}
		for _, l := range x.Result.Layouts {
			for _, at := range l.Parts {
				if slices.Contains(letters, x.Letters[at.Item]) {
					n += l.Copies
				}
			}
		}
	}
	return n
}

// lastCuts is how often each setting cuts a letter once openings are measured.
func lastCuts(p plan.Plan, letter string) map[unit.Length]int {
	out := map[unit.Length]int{}
	for _, q := range p.Setups {
		for _, s := range q.Setups {
			for _, c := range s.Cuts {
				if q.After && q.Sizes && c.Gives == letter && s.Way != saw.GuideMark {
					out[s.Setting] += c.Times
				}
			}
		}
	}
	return out
}

// After the shared panel is cut up, blanks that are recorded are not laid out
// again; only those that are missing are, and it is said when none are.
func TestBlanksAreNotLaidOutAgain(t *testing.T) {
	p, s := open(t, "record-cabinet")
	whole := make1(t, p, s, record.Record{}, 200)
	for _, n := range []int{0, 1, 3, 4, 9} {
		r, k := offSaw(t, whole, n)
		out := make1(t, p, s, r, 200)
		if got, want := asked(out, k.Material, k.For), max(0, k.Need-n); got != want {
			t.Errorf("%d blanks of %d: %d laid out, want %d", n, k.Need, got, want)
		}
		if f := find(out.Findings, "blank-unsaid"); (f != nil) != (n < k.Need) {
			t.Errorf("%d blanks of %d: %+v", n, k.Need, f)
		}
		part := out.Model.Parts[slices.IndexFunc(out.Model.Parts, func(p build.Part) bool { return p.Letter == k.Letter })]
		if !part.ToMeasure || part.FitLength() != k.Length-3*unit.Millimetre || part.FitWidth() != k.Width-3*unit.Millimetre {
			t.Errorf("%d blanks: %s waits: %t, %s × %s out of %s × %s", n, k.Letter, part.ToMeasure, part.FitLength(), part.FitWidth(), k.Length, k.Width)
		}
		if got, want := lastCuts(out, k.Letter), min(n, k.Need); got[part.FitLength()] != want || got[part.FitWidth()] != want {
			t.Errorf("%d blanks: last cuts %v, want %d", n, got, want)
		}
		if got := out.Price.All.Net; got != whole.Price.All.Net {
			t.Errorf("%d blanks: the price is %s, was %s", n, got.Format(), whole.Price.All.Net.Format())
		}
	}
}

// A measured opening takes its front out of a blank that lies there, up to the
// blank's own size; what needs more is laid out anew, and told.
func TestBlankIsCutToItsOpening(t *testing.T) {
	p, s := open(t, "record-cabinet")
	whole := make1(t, p, s, record.Record{}, 200)
	op := whole.Model.Openings[slices.IndexFunc(whole.Model.Openings, func(o build.Opening) bool { return o.Inset })]
	for _, c := range []struct {
		wider, higher float64
		goes          bool
	}{{-4, -1, true}, {1, 0, true}, {3, 3, true}, {3.1, 0, false}, {0, 4, false}} {
		r, k := offSaw(t, whole, 4)
		w, h := op.Width.Size+unit.MM(c.wider), op.Height.Size+unit.MM(c.higher)
		r.Openings = []record.MeasuredOpening{{Opening: op.Name, Widths: []unit.Length{w, w, w}, Heights: []unit.Length{h, h, h}}}
		out := make1(t, p, s, r, 200)
		i := slices.IndexFunc(out.Model.Parts, func(p build.Part) bool { return p.Letter == k.Letter+"1" })
		if i < 0 {
			t.Fatalf("%+v: no %s1", c, k.Letter)
		}
		front := out.Model.Parts[i]
		f := find(out.Findings, "blank-small")
		if (front.OffSaw != nil) != c.goes || (f == nil) != c.goes {
			t.Errorf("%+v: %+v, %+v", c, front.OffSaw, f)
		}
		want := 0
		if !c.goes {
			want = 1
			if f != nil && (f.Level != finding.Stop || !strings.Contains(f.Says, "too ") || f.Path == "") {
				t.Errorf("%+v: %+v", c, f)
			}
		} else if got := lastCuts(out, front.Letter); got[front.FitLength()] != 1 || got[front.FitWidth()] != 1 {
			t.Errorf("%+v: last cuts of %s × %s are %v", c, front.FitLength(), front.FitWidth(), got)
		}
		if got := asked(out, k.Material, []string{front.Letter}); got != want {
			t.Errorf("%+v: %d of %s laid out, want %d", c, got, front.Letter, want)
		}
		if got := asked(out, k.Material, []string{k.Letter}); got != 0 {
			t.Errorf("%+v: %d of %s laid out, four blanks lie there", c, got, k.Letter)
		}
		said := ""
		for _, o := range out.Fit {
			if o.Name == op.Name {
				said = strings.Join(o.Do, " ")
			}
		}
		if strings.Contains(said, "out of a blank "+k.Letter) != c.goes {
			t.Errorf("%+v: the card says %q", c, said)
		}
		// Cut to size, one blank fewer: nothing more to do with it.
		if c.goes {
			r.Cut = append(r.Cut, record.Cut{Part: front.Letter, Count: 1})
			r.Blanks[0].Count = 3
			after := make1(t, p, s, r, 200)
			if got := asked(after, k.Material, []string{k.Letter, front.Letter}); got != 0 || len(lastCuts(after, front.Letter)) != 0 {
				t.Errorf("%+v: once it is cut %d are laid out, last cuts %v", c, got, lastCuts(after, front.Letter))
			}
		}
	}
}

// Blanks of what never is one are told.
func TestBlanksOfNothing(t *testing.T) {
	p, s := open(t, "record-cabinet")
	out := make1(t, p, s, record.Record{Blanks: []record.Blanks{{Part: "A", Count: 1}}}, 200)
	f := find(out.Findings, "blank-unknown")
	if f == nil || f.Doc != "record" || f.Path != "blanks[0]" {
		t.Errorf("%+v", f)
	}
}

// Parts that are cut and that the piece does not have, or not as many of, or
// not there, are told; what goes is not.
func TestCutOfNothing(t *testing.T) {
	p, s := open(t, "record-cabinet")
	plain := make1(t, p, s, record.Record{}, 200)
	side := plain.Model.Parts[0]
	front := plain.Fit[0].Front.Letter
	n := 0
	for _, x := range plain.Model.Parts {
		if x.Letter == front {
			n = x.Count
		}
	}
	measured := record.MeasuredOpening{Opening: plain.Fit[0].Name}
	for range 3 {
		measured.Widths = append(measured.Widths, plain.Fit[0].Width-unit.Millimetre)
		measured.Heights = append(measured.Heights, plain.Fit[0].Height)
	}
	fitted := make1(t, p, s, record.Record{Openings: []record.MeasuredOpening{measured}}, 200).Fit[0].Front.Letter
	if fitted == front {
		t.Fatal("the front of a measured opening has a letter of its own")
	}
	for _, c := range []struct {
		cut      record.Cut
		measured bool
		id, path string
		says     string
	}{
		{record.Cut{Part: "ZZ", Count: 1}, false, "cut-unknown", "cut[0]", "ZZ"},
		{record.Cut{Part: fitted, Count: 1}, false, "cut-unknown", "cut[0]", fitted},
		{record.Cut{Part: side.Letter, Count: side.Count + 3}, false, "cut-more", "cut[0]", fmt.Sprintf("%d are wanted, so 3 count", side.Count)},
		{record.Cut{Part: front, Count: n, For: []string{"row 99"}}, false, "cut-for", "cut[0].for[0]", "row 99"},
		{record.Cut{Part: side.Letter, Count: 1, For: []string{plain.Fit[0].Name}}, false, "cut-for", "cut[0].for[0]", side.Letter},
		{record.Cut{Part: side.Letter, Count: side.Count}, false, "", "", ""},
		{record.Cut{Part: front, Count: 1, For: []string{plain.Fit[0].Name}}, false, "", "", ""},
		{record.Cut{Part: front, Count: n}, true, "", "", ""},
		{record.Cut{Part: fitted, Count: 1}, true, "", "", ""},
		{record.Cut{Part: fitted, Count: 2}, true, "cut-more", "cut[0]", "1 are wanted"},
	} {
		r := record.Record{Cut: []record.Cut{c.cut}}
		if c.measured {
			r.Openings = []record.MeasuredOpening{measured}
		}
		out := make1(t, p, s, r, 200)
		told := 0
		for _, id := range []string{"cut-unknown", "cut-more", "cut-for"} {
			f := find(out.Findings, id)
			if f == nil {
				continue
			}
			told++
			if id != c.id || f.Doc != "record" || f.Path != c.path || !strings.Contains(f.Says, c.says) || f.Advice == "" {
				t.Errorf("%+v: %+v", c.cut, f)
			}
		}
		if told > 1 || (told == 1) != (c.id != "") {
			t.Errorf("%+v: told %d times, want %q", c.cut, told, c.id)
		}
	}
}
