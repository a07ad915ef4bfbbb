package route_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

var kept map[string]route.Input

// variants are the demo pieces and changes to them, made once.
func variants(t *testing.T) map[string]route.Input {
	if kept != nil {
		return kept
	}
	out := map[string]route.Input{}
	add := func(name, demo string, change func(*piece.Piece, *shop.Shop, *record.Record)) {
		out[name] = input(t, demo, change)
	}
	for _, d := range demos {
		add(d, d, nil)
		add(d+", four of them", d, func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Count = 4 })
		add(d+", bare", d, func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Finish.Kind = "none" })
		add(d+", waterborne", d, func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Finish.Kind = "waterborne" })
		add(d+", large machines, two people", d, func(_ *piece.Piece, s *shop.Shop, _ *record.Record) {
			s.Machines.PlanerShortest, s.Machines.JointerShortest = unit.MM(560), unit.MM(700)
			s.Working.People = 2
		})
		add(d+", no base, no back", d, func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Base, p.Back = nil, nil })
	}
	add("chest, a part cut already", "chest", func(_ *piece.Piece, _ *shop.Shop, r *record.Record) { r.Cut = []record.Cut{{Part: "L", Count: 5}} })
	add("record cabinet, grooved back", "record-cabinet", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
		p.Back.Fit, p.Back.Chamfer, p.Back.SetIn = "grooved", 0, new(unit.MM(10))
	})
	kept = out
	return out
}

// TestEverythingInItsOrder: every step comes after those it needs, on paper
// and on the clock; no part or assembly is used before it exists; every part
// is delivered.
func TestEverythingInItsOrder(t *testing.T) {
	for name, in := range variants(t) {
		r := route.Make(in)
		made := map[string]bool{}
		for _, c := range in.Record.Cut {
			made[c.Part] = true
		}
		done := map[int]bool{}
		for i, s := range r.Steps {
			if s.N != i+1 {
				t.Errorf("%s: step %d has the number %d", name, i+1, s.N)
			}
			for _, m := range s.Makes {
				made[m] = true
			}
			for _, l := range append(slices.Clone(s.Parts), s.Uses...) {
				if !made[l] && l != "case" { // a shell that needs no gluing is the case as it stands
					t.Errorf("%s: step %d, %s, uses %s before it exists", name, s.N, s.Title, l)
				}
			}
			for _, a := range s.After {
				if !done[a] {
					t.Errorf("%s: step %d, %s, comes before step %d, which it needs", name, s.N, s.Title, a)
				} else if before := r.Steps[a-1]; before.Ready > s.Start {
					t.Errorf("%s: step %d, %s, begins before step %d is ready", name, s.N, s.Title, a)
				}
			}
			done[s.N] = true
			if s.What == "" || s.Why == "" || s.Check == "" || s.Title == "" || s.Source == "" {
				t.Errorf("%s: step %d says too little: %+v", name, s.N, s)
			}
		}
		last := r.Steps[len(r.Steps)-1]
		if last.Op != route.Deliver {
			t.Errorf("%s ends with %s", name, last.Title)
		}
		for _, p := range in.Model.Parts {
			if !slices.Contains(last.Parts, p.Letter) || !made[p.Letter] {
				t.Errorf("%s: part %s is not made or not delivered", name, p.Letter)
			}
		}
	}
}

// first is the number of the first step of an operation on a letter, 0: none.
func first(r route.Route, letter string, ops ...route.Op) int {
	for _, s := range r.Steps {
		if slices.Contains(ops, s.Op) && slices.Contains(s.Parts, letter) {
			return s.N
		}
	}
	return 0
}

// TestReferencesSurvive: what is measured from a square edge or a flat, stiff
// panel is worked before that edge is shaped or that panel kerfed; sizes come
// after milling, finish after fitting, hardware after finish.
func TestReferencesSurvive(t *testing.T) {
	for name, in := range variants(t) {
		r := route.Make(in)
		for _, p := range in.Model.Parts {
			order := func(what string, a, b int) {
				if a > 0 && b > 0 && a > b {
					t.Errorf("%s, part %s: %s (steps %d, %d)", name, p.Letter, what, a, b)
				}
			}
			if curved := slices.ContainsFunc(p.Outline, func(v geom.Vertex) bool { return v.Bulge != 0 }); curved && p.Role == build.RoleStile {
				order("jointed before the edge that rails meet was shaped", first(r, p.Letter, route.Shape), first(r, p.Letter, route.JointCut))
			} else {
				order("jointed after it was shaped", first(r, p.Letter, route.JointCut), first(r, p.Letter, route.Shape))
			}
			order("drilled after it was kerfed", first(r, p.Letter, route.Drill, route.JointCut), first(r, p.Letter, route.Kerf))
			order("kerfed after it was bent", first(r, p.Letter, route.Kerf), lastOf(r, p.Letter, route.BendOp))
			order("cut to size before it was milled", lastOf(r, p.Letter, route.Mill), first(r, p.Letter, route.Size))
			order("glued before it was dry-fitted", first(r, p.Letter, route.DryFit), lastOf(r, p.Letter, route.GlueUpOp))
			if p.Role == build.RoleFront || p.Role == build.RoleDoor {
				order("coated before it was fitted", first(r, p.Letter, route.Fit), first(r, p.Letter, route.FinishOp))
			}
		}
		for _, f := range r.Finishes {
			for k, n := range f.Steps {
				s := r.Steps[n-1]
				if k == 0 && f.Sanding > n || k > 0 && r.Steps[f.Steps[k-1]-1].Ready > s.Start {
					t.Errorf("%s: coat %d of %s comes too early", name, k+1, f.Name)
				}
				if k > 0 && float64(s.Start-r.Steps[f.Steps[k-1]-1].End) < f.Class.Recoat*60 {
					t.Errorf("%s: coat %d of %s comes sooner than %g h", name, k+1, f.Name, f.Class.Recoat)
				}
			}
		}
	}
}

func lastOf(r route.Route, letter string, op route.Op) int {
	n := 0
	for _, s := range r.Steps {
		if s.Op == op && slices.Contains(s.Parts, letter) {
			n = s.N
		}
	}
	return n
}

// TestBoxesAreFinishedInsideFirst: inside faces of a drawer box, and a case
// whose back is in grooves, have their coats before they are glued up.
func TestBoxesAreFinishedInsideFirst(t *testing.T) {
	for name, in := range variants(t) {
		r := route.Make(in)
		for _, f := range r.Finishes {
			if f.Name != "insides before glue-up" {
				continue
			}
			for _, g := range r.Glueups {
				if (g.Name == "drawer boxes" || g.Name == "case") && slices.ContainsFunc(g.Letters, func(l string) bool { return slices.Contains(f.Letters, l) }) &&
					r.Steps[f.Steps[len(f.Steps)-1]-1].Ready > r.Steps[g.Step-1].Start {
					t.Errorf("%s: %s are glued before their insides are dry", name, g.Name)
				}
			}
		}
	}
}

// TestSticksSuitTheMachines: no stick that is milled is shorter than the
// machines take, and the sticks hold all parts of solid wood.
func TestSticksSuitTheMachines(t *testing.T) {
	for name, in := range variants(t) {
		m := in.Shop.Milling()
		holds := map[string]int{}
		for _, s := range route.Make(in).Sticks {
			if s.Length < m.PlanerShortest || s.Length < m.JointerShortest {
				t.Errorf("%s: a stick of %s for %s is shorter than the machines take", name, s.Length, s.Letter)
			}
			holds[s.Letter] += s.Count * s.Parts
		}
		for _, p := range in.Model.Parts {
			if !p.Solid {
				continue
			}
			if want := p.Count * in.Piece.Count * max(1, p.Rough.Strips); holds[p.Letter] < want {
				t.Errorf("%s: sticks for %d of %s, want %d", name, holds[p.Letter], p.Letter, want)
			}
		}
	}
}

// TestSetupsOnce: in a batch every operation is set up as often as for the
// layouts it has, and the run grows with the count.
func TestSetupsOnce(t *testing.T) {
	for _, d := range demos {
		one := route.Make(input(t, d, func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Count = 1 }))
		six := route.Make(input(t, d, func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Count = 6 }))
		if len(one.Steps) != len(six.Steps) {
			t.Errorf("%s: %d steps for one, %d for six", d, len(one.Steps), len(six.Steps))
		}
		for _, h := range one.Hours {
			i := slices.IndexFunc(six.Hours, func(x route.Hours) bool { return x.Op == h.Op })
			if i < 0 {
				t.Errorf("%s: no %s for six", d, h.Op)
				continue
			}
			switch h.Op {
			case route.BreakDown, route.BendOp, route.Kerf, route.Mill, route.RoughCut: // other layouts, other sticks; one test bend for all
				continue
			case route.GlueUpOp:
				if d == "chest" { // its boards do not hold six: panels may have more strips
					continue
				}
			}
			if six.Hours[i].Setup != h.Setup {
				t.Errorf("%s, %s: set up for %d min for one, %d for six", d, h.Op, h.Setup, six.Hours[i].Setup)
			}
			if math.Abs(six.Hours[i].Each-h.Each) > 1e-9 {
				t.Errorf("%s, %s: runs %g min for one, %g each of six", d, h.Op, h.Each, six.Hours[i].Each)
			}
		}
		for n := range 10 {
			if got, want := six.For(n+1)-six.For(n), six.For(1)-six.For(0); math.Abs(float64(got-want)) > float64(len(six.Hours)) {
				t.Errorf("%s: piece %d takes %d min more, the first %d", d, n+1, got, want)
			}
		}
		if six.For(6) >= 6*one.For(1) {
			t.Errorf("%s: six take %d min, six times one %d", d, six.For(6), 6*one.For(1))
		}
	}
}

// TestHoursAddUp: hours by operation are the sum of the steps, and the
// calendar works as many minutes.
func TestHoursAddUp(t *testing.T) {
	for name, in := range variants(t) {
		r := route.Make(in)
		var steps, hours route.Minutes
		for _, s := range r.Steps {
			steps += s.Minutes()
		}
		for _, h := range r.Hours {
			hours += h.Estimated
		}
		if d := steps - hours; d < 0 || int(d) > len(r.Steps) { // each step is rounded up once
			t.Errorf("%s: steps take %d min, operations %d", name, steps, hours)
		}
		if r.Calendar.Work != steps {
			t.Errorf("%s: the calendar works %d min, the steps take %d", name, r.Calendar.Work, steps)
		}
		if least := int(steps) / (int(r.Calendar.HoursADay*60) * r.Calendar.People); r.Calendar.WorkedDays < least {
			t.Errorf("%s: %d min in %d days", name, steps, r.Calendar.WorkedDays)
		}
	}
}

// TestRecordTakesOver: hours of an operation that is done take the place of
// the estimate in the calendar, and teach the rate.
func TestRecordTakesOver(t *testing.T) {
	in := input(t, "chest", nil)
	before := route.Make(in)
	in.Record.Hours = []record.Spent{{Operation: "joint", Hours: 2}, {Operation: "joint", Hours: 8, Done: true}}
	after := route.Make(in)
	h := after.Hours[slices.IndexFunc(after.Hours, func(h route.Hours) bool { return h.Op == route.JointCut })]
	if h.Actual != 600 || !h.Done {
		t.Errorf("%+v", h)
	}
	if want := float64(600-h.Setup) / h.Units; math.Abs(h.Learned-want) > 1e-9 {
		t.Errorf("learned %g min a joint, want %g", h.Learned, want)
	}
	// Work is shared out in whole minutes, step by step.
	if got, want := after.Calendar.Work-before.Calendar.Work, 600-h.Estimated; math.Abs(float64(got-want)) > 3 {
		t.Errorf("the calendar has %d min more, want %d", got, want)
	}
}

// TestGuessesAreSaid: hours that are nobody's own are told as first guesses,
// those of the shop and those in the record are not.
func TestGuessesAreSaid(t *testing.T) {
	said := func(r route.Route) string {
		for _, f := range r.Findings {
			if f.ID == "times-guessed" {
				return f.Figure
			}
		}
		return ""
	}
	in := input(t, "chest", nil)
	r := route.Make(in)
	var all route.Minutes
	own := map[string]shop.Time{}
	for i, h := range r.Hours {
		all += h.Estimated
		if i == 0 {
			in.Record.Hours = []record.Spent{{Operation: string(h.Op), Hours: 1, Done: true}}
			continue
		}
		own[string(h.Op)] = shop.Time{Setup: 5, Run: 2}
	}
	if got, want := said(r), fmt.Sprintf("%.1f h", float64(all)/60); got != want {
		t.Errorf("%q are guessed, want %q", got, want)
	}
	first := r.Hours[0].Estimated
	in.Shop.Times = own
	if got := said(route.Make(in)); got != "" {
		t.Errorf("%q are guessed, want none", got)
	}
	in.Record.Hours = nil
	if got, want := said(route.Make(in)), fmt.Sprintf("%.1f h", float64(first)/60); got != want {
		t.Errorf("%q are guessed, want %q", got, want)
	}
}

// TestDeliverBy: without a start, the work begins on the latest day that
// meets the day of delivery; begun later it is late, and says so.
func TestDeliverBy(t *testing.T) {
	in := input(t, "record-cabinet", nil)
	in.Piece.Start, in.Piece.DeliverBy = "", "2027-04-30"
	c := route.Make(in).Calendar
	if c.Start == "" || c.Start != c.LatestDay || c.Delivery > "2027-04-30" || c.Delivery < "2027-04-26" {
		t.Errorf("%+v", c)
	}
	in.Piece.Start = "2027-04-26"
	r := route.Make(in)
	i := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.ID == "late" })
	if i < 0 || r.Findings[i].Figure != r.Calendar.Delivery || !strings.Contains(r.Findings[i].Advice, c.LatestDay) {
		t.Errorf("%+v\n%+v", r.Calendar, r.Findings)
	}
}

// TestOpenTime: more joints than the glue gives time for are a finding with
// both figures, and are planned in stages that each fit.
func TestOpenTime(t *testing.T) {
	in := input(t, "chest", func(_ *piece.Piece, s *shop.Shop, _ *record.Record) {
		s.Glues = map[string]shop.Glue{"hide": {Class: "hide-liquid"}}
	})
	for _, perJoint := range []float64{0.5, 1, 2, 5, 20} {
		in.Shop.Times = map[string]shop.Time{"glue-up": {Setup: 10, Run: perJoint}}
		r := route.Make(in)
		for _, g := range r.Glueups {
			late := g.Need > g.Glue.Assembly
			if late != (g.Stages > 1) && g.Joints > 1 {
				t.Errorf("%s: %g min of %g in %d stages", g.Name, g.Need, g.Glue.Assembly, g.Stages)
			}
			inStage := math.Ceil(float64(g.Joints) / float64(g.Stages))
			if inStage*perJoint > g.Glue.Assembly && inStage > 1 {
				t.Errorf("%s: a stage of %g joints at %g min is over %g", g.Name, inStage, perJoint, g.Glue.Assembly)
			}
			if late && !slices.ContainsFunc(r.Findings, func(f finding.Finding) bool {
				return f.ID == "open-time" && f.Place == g.Name && f.Limit == fmt.Sprintf("%g min", g.Glue.Assembly)
			}) {
				t.Errorf("%s: no finding", g.Name)
			}
			for k, tick := range g.Clock {
				if k > 0 && tick.At < g.Clock[k-1].At {
					t.Errorf("%s: the clock runs back", g.Name)
				}
			}
		}
	}
}

// TestClampsOfTheShop: too few clamps are a finding; more of them glue more
// boxes at a time, and the work is ready no later.
func TestClampsOfTheShop(t *testing.T) {
	in := input(t, "chest", nil)
	with := func(n int) route.Route {
		in.Shop.Clamps = []shop.Clamp{{Name: "bar", Count: n, Opens: unit.MM(1500), ForceN: 4400}}
		return route.Make(in)
	}
	few, many := with(2), with(60)
	short := func(r route.Route) bool {
		return slices.ContainsFunc(r.Findings, func(f finding.Finding) bool { return f.ID == "clamps-short" })
	}
	if !short(few) || short(many) {
		t.Errorf("few: %v, many: %v", short(few), short(many))
	}
	rounds := func(r route.Route) int {
		return r.Glueups[slices.IndexFunc(r.Glueups, func(g route.GlueUp) bool { return g.Name == "drawer boxes" })].Rounds
	}
	if rounds(few) != 5 || rounds(many) != 1 {
		t.Errorf("five boxes in %d and %d rounds", rounds(few), rounds(many))
	}
	if many.Calendar.Days > few.Calendar.Days {
		t.Errorf("%d days with many clamps, %d with few", many.Calendar.Days, few.Calendar.Days)
	}
}

// TestColdShop: below the least temperature of glue and finish is a finding
// with the figure.
func TestColdShop(t *testing.T) {
	in := input(t, "chest", nil)
	in.Shop.Glues = map[string]shop.Glue{"yellow": {Class: "pva-yellow"}}
	in.Shop.Working.Temperature, in.Shop.Working.Humidity = 0, 75 // 0 is a temperature, not one left out
	r := route.Make(in)
	for _, id := range []string{"glue-cold", "finish-cold", "finish-damp"} {
		if n := len(slices.DeleteFunc(slices.Clone(r.Findings), func(f finding.Finding) bool { return f.ID != id })); n != 1 {
			t.Errorf("%d findings %s", n, id)
		}
	}
}

// TestAreasAgainstParts: the areas that get a finish are no more than all
// faces and edges of all parts, and a flat carcass part gets each face once.
func TestAreasAgainstParts(t *testing.T) {
	for name, in := range variants(t) {
		var most, got float64
		for _, p := range in.Model.Parts {
			l, w, h := p.Length.Size.Metres(), p.Width.Size.Metres(), p.Thickness.Size.Metres()
			most += float64(p.Count) * 2 * (l*w + l*h + w*h)
		}
		for _, f := range route.Make(in).Finishes {
			got += float64(f.Area)
			if want := float64(f.Area) * float64(in.Piece.Count) * float64(f.Coats) / f.Class.Coverage; math.Abs(f.Litres-want) > 1e-9 {
				t.Errorf("%s, %s: %g l, want %g", name, f.Name, f.Litres, want)
			}
		}
		if got > most {
			t.Errorf("%s: %.2f m² of finish on %.2f m² of faces", name, got, most)
		}
	}
}

// TestNothing: no input makes it panic; there is always a delivery.
func TestNothing(t *testing.T) {
	r := route.Make(route.Input{})
	if len(r.Steps) != 1 || r.Steps[0].Op != route.Deliver || r.Calendar.Days != 1 {
		t.Errorf("%+v", r)
	}
	in := input(t, "record-cabinet", nil)
	in.Setups, in.Woods, in.Panels = nil, nil, nil
	route.Make(in)
	in = input(t, "chest", nil)
	in.Model.Joints, in.Model.Hardware, in.Model.Openings, in.Model.Screws = nil, nil, nil, nil
	for i := range in.Model.Parts {
		in.Model.Parts[i].Places = nil
	}
	in.Shop = shop.Shop{}
	route.Make(in)
}

// TestSameAgain: the same input gives the same route.
func TestSameAgain(t *testing.T) {
	in := input(t, "chest", nil)
	if a, b := fmt.Sprintf("%+v", route.Make(in)), fmt.Sprintf("%+v", route.Make(in)); a != b {
		t.Error("two runs differ")
	}
}

func BenchmarkMake(b *testing.B) {
	in := input(b, "chest", nil)
	in.Piece.DeliverBy = "2027-04-30"
	for b.Loop() {
		route.Make(in)
	}
}
