package papers

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/route"
	"casewright/internal/unit"
)

// works composes only the papers of the route.
func works(t testing.TB, name string, o Options) *set {
	t.Helper()
	s, err := newSet(demo(t, name), o)
	if err != nil {
		t.Fatal(err)
	}
	s.order()
	s.steps()
	s.glueUps()
	s.finishCard()
	return s
}

// squeeze sets all space to one blank, so that words can be looked for across
// the ends of lines.
func squeeze(t string) string { return strings.Join(strings.Fields(t), " ") }

// TestWorkPapersAgree reads the papers back from the PDF with poppler and
// holds them to the route and to each other: every step with its number and
// day on the order of work, every tick and count of clamps on a card, every
// coat on the finish card on the day that the order of work gives it.
func TestWorkPapersAgree(t *testing.T) {
	for _, name := range demoNames {
		s := works(t, name, Options{})
		r := s.p.Route
		pages := pdfText(t, s)
		order := pagesOf(pages, "Desk: order of work")
		begins := map[string]string{}
		line := regexp.MustCompile(`(?m)^ +(\d+) +\S.* (\d{4}-\d\d-\d\d|day \d+), +(\d+:\d\d)`)
		for _, m := range line.FindAllStringSubmatch(order, -1) {
			begins[m[1]] = m[2] + ", " + m[3]
		}
		for _, st := range r.Steps {
			want := r.Calendar.On(st.Start) + ", " + st.Start.Clock()
			if got := begins[fmt.Sprint(st.N)]; got != want {
				t.Errorf("%s: step %d, %s, begins %q on paper, %q in the route", name, st.N, st.Title, got, want)
			}
		}
		finish := squeeze(pagesOf(pages, "Finish: finish card"))
		for _, x := range r.Finishes {
			for _, n := range x.Steps {
				if want := begins[fmt.Sprint(n)]; !strings.Contains(finish, want) {
					t.Errorf("%s: the finish card does not begin step %d on %s", name, n, want)
				}
			}
			if want := unit.Liquid(x.Litres, s.p.Piece.Units) + " for all coats"; !strings.Contains(finish, want) {
				t.Errorf("%s: the finish card does not say %q", name, want)
			}
		}
		for _, g := range r.Glueups {
			card := ""
			for _, p := range pages {
				if strings.Contains(p, s.glueHead(g)) {
					card += squeeze(p)
				}
			}
			total := 0
			for _, c := range g.Clamps {
				total += c.Count
			}
			if total != g.Count || !strings.Contains(card, document.Count(g.Count, "clamp")) {
				t.Errorf("%s: %s has %d clamps in its lines, %d in all", name, g.Name, total, g.Count)
			}
			for _, tick := range g.Clock {
				if want := tickText(tick.At) + " " + tick.What[:min(12, len(tick.What))]; !strings.Contains(card, want) {
					t.Errorf("%s: the card of %s does not say %q", name, g.Name, want)
				}
			}
			if g.Diagonal > 0 && !strings.Contains(card, decimals(g.Diagonal.MM(), 0)) && s.draw.Units.String() == "mm" {
				t.Errorf("%s: the card of %s has no diagonal", name, g.Name)
			}
		}
	}
}

// TestCardsAreOnePage: each glue-up and the finish have one page, on both
// papers, and its clock is in type of 3.4 mm at least.
func TestCardsAreOnePage(t *testing.T) {
	for _, name := range demoNames {
		for _, o := range variants {
			s := works(t, name, o)
			pages := map[string]int{}
			for _, p := range s.pages {
				if p.place == Glue || p.place == Finish {
					pages[p.name]++
				}
			}
			for card, n := range pages {
				if n != 1 {
					t.Errorf("%s, %s: %s is %d pages", name, o, card, n)
				}
			}
			if len(pages) != len(s.p.Route.Glueups)+1 {
				t.Errorf("%s, %s: %d cards for %d glue-ups and the finish", name, o, len(pages), len(s.p.Route.Glueups))
			}
		}
	}
}

// TestCardsCaution: rags with oil are spoken of wherever a finish is oily, and
// every card defers to codes, manuals and practice.
func TestCardsCaution(t *testing.T) {
	for _, name := range demoNames {
		s := works(t, name, Options{})
		finish := squeeze(said(s, Finish, "finish card"))
		oily := false
		for _, x := range s.p.Route.Finishes {
			oily = oily || x.Class.Oily
		}
		if got := strings.Contains(finish, "heat up by themselves"); got != oily {
			t.Errorf("%s: oily %v, warned of %v", name, oily, got)
		}
		for _, p := range []Place{Glue, Finish, Bench} {
			if !strings.Contains(squeeze(said(s, p, "")), route.LastWord) {
				t.Errorf("%s: the papers of %s do not defer", name, p)
			}
		}
	}
}
