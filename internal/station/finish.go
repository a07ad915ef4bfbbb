package station

import (
	"strconv"

	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/route"
)

// Finishing is what is wanted at the finish: grit by grit and coat by coat.
type Finishing struct {
	Answer     string        `json:"answer"`
	Groups     []FinishGroup `json:"groups"`
	Days       []FinishDay   `json:"days" doc:"the calendar: what is done on which day"`
	Cure       string        `json:"cure,omitempty"`
	Conditions string        `json:"conditions,omitempty"`
	Cautions   Cautions      `json:"cautions"`
}

// FinishGroup is one finish on one group of surfaces.
type FinishGroup struct {
	Name  string       `json:"name"`
	Class string       `json:"class"`
	Says  string       `json:"says"`
	Note  string       `json:"note"`
	Coats []FinishCoat `json:"coats" doc:"sanding first"`
}

// FinishCoat is the sanding or one coat.
type FinishCoat struct {
	Step    WorkStep `json:"step"`
	What    string   `json:"what"`
	Next    string   `json:"next" doc:"day and time before which nothing follows"`
	Key     string   `json:"key" doc:"of its drying clock"`
	Seconds float64  `json:"seconds" doc:"of drying; 0: none"`
}

// FinishDay is one day with what begins on it.
type FinishDay struct {
	Day   string   `json:"day"`
	Lines []string `json:"lines"`
}

// FinishPage is the page of the finish.
func FinishPage(p plan.Plan, ticks Ticks) Finishing {
	w := workOn(p, ticks)
	out := Finishing{Groups: []FinishGroup{}, Days: []FinishDay{}, Cautions: cautionsOf(w.words.FinishWorks()...)}
	if len(p.Route.Finishes) == 0 {
		out.Answer = "No finish is chosen"
		return out
	}
	coats, left := 0, 0
	for _, x := range p.Route.Finishes {
		g := FinishGroup{Name: document.Capital(x.Name), Class: x.Class.Name, Says: w.words.FinishGroup(x), Note: w.words.CoatNote(x)}
		if n := x.Sanding; n >= 1 && n <= len(p.Route.Steps) {
			g.Coats = append(g.Coats, w.coat(x, n, "Sand: "+w.words.Grits(x)))
		}
		for k, n := range x.Steps {
			c := w.coat(x, n, w.words.Coat(x, k))
			if coats++; !c.Step.Done {
				left++
			}
			g.Coats = append(g.Coats, c)
		}
		out.Groups = append(out.Groups, g)
	}
	out.Days = finishDays(p.Route.Steps, out.Groups)
	out.Cure, out.Conditions = w.words.Cure(), w.words.Conditions()
	switch {
	case left == 0:
		out.Answer = "All " + document.Count(coats, "coat") + " are on"
	case left < coats:
		out.Answer = strconv.Itoa(left) + " of " + document.Count(coats, "coat") + " left"
	default:
		out.Answer = w.words.Finish()
	}
	return out
}

func (w pieceOfWork) coat(x route.Schedule, n int, what string) FinishCoat {
	st := w.plan.Route.Steps[n-1]
	c := FinishCoat{Step: w.step(n), What: what, Next: w.words.Day(st.Ready) + ", " + st.Ready.Clock(), Seconds: float64(st.Wait) * 60}
	c.Key = stamp(c.Step.Place, x.Name, st.Wait)
	return c
}

// finishDays puts sanding and coats under their days.
func finishDays(steps []route.Step, groups []FinishGroup) []FinishDay {
	out := []FinishDay{}
	at := map[string]int{}
	for _, st := range steps {
		for _, g := range groups {
			for _, c := range g.Coats {
				if c.Step.N != st.N {
					continue
				}
				i, ok := at[c.Step.Day]
				if !ok {
					i = len(out)
					at[c.Step.Day] = i
					out = append(out, FinishDay{Day: c.Step.Day, Lines: []string{}})
				}
				out[i].Lines = append(out[i].Lines, c.Step.Clock+"  "+g.Name+": "+c.What)
			}
		}
	}
	return out
}
