package station

import (
	"strings"
	"testing"
)

// A measured opening changes front and box beside what was planned. The
// opening is 0.4 narrower all over than the planned 464, so front and box
// are 0.4 narrower: 460 - 0.4 and 437.9 - 0.4 (plain arithmetic).
func TestMeasuredOpeningBesidePlanned(t *testing.T) {
	p := demo(t, "record-cabinet", `format: 1
units: mm
openings:
  - opening: column 3 row 1
    widths: [463.6, 463.6, 463.6]
    heights: [165, 165, 165]
`)
	b := BenchPage(p, nil)
	if !strings.Contains(b.Answer, "1 of 4 openings measured") {
		t.Errorf("answer: %q", b.Answer)
	}
	found := false
	for _, o := range b.Openings {
		if o.Measured != (o.Name == "column 3 row 1") {
			t.Errorf("%s: measured is %t", o.Name, o.Measured)
		}
		for _, f := range o.Fits {
			if !o.Measured && f.Changed {
				t.Errorf("%s was not measured, but %s is changed", o.Name, f.What)
			}
			if !o.Measured {
				continue
			}
			for what, want := range map[string][2]string{"wide": {"460 mm", "459.6 mm"}, "wide outside": {"437.9 mm", "437.5 mm"}} {
				if strings.HasSuffix(f.What, ", "+what) {
					found = true
					if f.Planned == nil || f.Planned.Own != want[0] || f.Now.Own != want[1] {
						t.Errorf("%s: planned %v, now %v; want %v", f.What, f.Planned, f.Now, want)
					}
				}
			}
		}
		if o.Measured && (o.At != 0 || o.Typed.Widths[0] != "463.6 mm") || !o.Measured && o.At != 1 {
			t.Errorf("%s is at %d with %v", o.Name, o.At, o.Typed.Widths)
		}
	}
	if !found {
		t.Error("no front or box is given for the measured opening")
	}
}

// Every step of the route stands on exactly one of the pages from the saw to
// the delivery, but for sanding before a finish, which stands at the bench
// and on the finish card, and has one tick for both.
func TestEveryStepHasItsPage(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p := demo(t, name, "")
		seen := map[int][]string{}
		places := map[string]int{}
		add := func(page string, s WorkStep) {
			seen[s.N] = append(seen[s.N], page)
			if n, ok := places[s.Place]; ok && n != s.N {
				t.Errorf("%s: steps %d and %d have one tick", name, n, s.N)
			}
			places[s.Place] = s.N
		}
		for _, s := range BenchPage(p, nil).Steps {
			add("bench", s)
		}
		for _, c := range GluePage(p, nil).Cards {
			add("glue-up", c.Step)
		}
		for _, g := range FinishPage(p, nil).Groups {
			for _, c := range g.Coats {
				add("finish", c.Step)
			}
		}
		for _, s := range DeliveryPage(p, nil).Steps {
			add("delivery", s)
		}
		for _, st := range p.Route.Steps {
			where := strings.Join(seen[st.N], " ")
			switch {
			case st.Place == "saw" && st.Op != "rough-cut":
				if where != "" {
					t.Errorf("%s: %s is a setting of the saw, but stands at %s", name, st.Title, where)
				}
			case where == "" && st.Op != "design":
				t.Errorf("%s: step %d, %s, stands nowhere", name, st.N, st.Title)
			case where != "bench finish" && len(seen[st.N]) > 1:
				t.Errorf("%s: step %d stands at %s", name, st.N, where)
			}
		}
	}
}

// A tick of a step is found again on its page, and counts in the answer.
func TestStepsTick(t *testing.T) {
	p := demo(t, "chest", "")
	g := GluePage(p, nil)
	ticks := Ticks{g.Cards[0].Step.Place: 1}
	if got := GluePage(p, ticks); !got.Cards[0].Step.Done || !strings.HasPrefix(got.Answer, "6 of 7 glue-ups left") {
		t.Errorf("done is %t, answer %q", got.Cards[0].Step.Done, got.Answer)
	}
	// Clocks: the kind of glue gives its open time; 7 minutes of yellow glue
	// would be 420 s.
	for _, c := range g.Cards {
		for _, k := range c.Clocks {
			if k.Seconds <= 0 || k.Key == "" {
				t.Errorf("%s: clock %s of %v s", c.Name, k.Name, k.Seconds)
			}
		}
		for i := 1; i < len(c.Ticks); i++ {
			if c.Ticks[i].Seconds < c.Ticks[i-1].Seconds {
				t.Errorf("%s: %q comes before %q", c.Name, c.Ticks[i].What, c.Ticks[i-1].What)
			}
		}
	}
}

// A piece without a customer has a note too, as far as it goes.
func TestDeliveryWithoutCustomer(t *testing.T) {
	p := demo(t, "record-cabinet", "")
	p.Piece.Customer = nil
	d := DeliveryPage(p, nil)
	if !strings.Contains(d.Answer, "nobody is entered") || len(d.Points) != 4 || p.Piece.Customer != nil {
		t.Errorf("answer %q, %d points", d.Answer, len(d.Points))
	}
}
