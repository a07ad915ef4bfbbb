package station

import (
	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/route"
)

// GlueUps is what is wanted while gluing: one card for each glue-up.
type GlueUps struct {
	Answer   string     `json:"answer"`
	Cards    []GlueCard `json:"cards"`
	Cauls    string     `json:"clamp_note,omitempty" doc:"how the clamps were counted"`
	Cautions Cautions   `json:"cautions"`
}

// GlueCard is one glue-up with its clocks, clamps and diagonals.
type GlueCard struct {
	Step   WorkStep    `json:"step"`
	Name   string      `json:"name"`
	Head   string      `json:"head"`
	Repeat string      `json:"repeat" doc:"how many such there are"`
	Parts  []string    `json:"parts"`
	Clocks []GlueClock `json:"clocks"`
	Ticks  []GlueTick  `json:"ticks" doc:"what is done when, from the first spread"`
	Heads  []string    `json:"clamp_heads"`
	Clamps [][]string  `json:"clamps" doc:"in the order in which they are put on"`
	Square [][2]string `json:"square" doc:"what the diagonals have to be"`
	Cauls  string      `json:"cauls"`
	Glue   string      `json:"glue"`
	Strips []string    `json:"strips,omitempty" doc:"each panel with its strips in order, and where they come from"`
	Warns  []string    `json:"warns" doc:"findings about this glue-up"`
}

// GlueClock is a time to be watched.
type GlueClock struct {
	Key     string  `json:"key" doc:"of the clock, so that it goes on after a re-plan that leaves it as it is"`
	Name    string  `json:"name"`
	Says    string  `json:"says"`
	Seconds float64 `json:"seconds"`
	Worry   bool    `json:"worry" doc:"running out is bad: the work must be done by then; else it is a wait"`
}

// GlueTick is one line of the course of a glue-up.
type GlueTick struct {
	Seconds float64 `json:"seconds" doc:"from the first spread"`
	At      string  `json:"at"`
	What    string  `json:"what"`
}

// GluePage is the page of the glue-ups.
func GluePage(p plan.Plan, ticks Ticks) GlueUps {
	w := workOn(p, ticks)
	out := GlueUps{Cards: []GlueCard{}, Cautions: cautionsOf(route.Gluing)}
	left, clamps := 0, 0
	for _, g := range p.Route.Glueups {
		if g.Step < 1 || g.Step > len(p.Route.Steps) {
			continue
		}
		c := w.glueCard(g)
		if out.Cauls = w.words.ClampNote(g); !c.Step.Done {
			left++
		}
		clamps = max(clamps, g.Count)
		out.Cards = append(out.Cards, c)
	}
	switch n := len(out.Cards); {
	case n == 0:
		out.Answer = "Nothing is glued up in this piece"
	case left == 0:
		out.Answer = "All " + document.Count(n, "glue-up") + " are done"
	case left < n:
		out.Answer = decimals(float64(left), 0) + " of " + document.Count(n, "glue-up") + " left"
	default:
		out.Answer = document.Count(n, "glue-up") + ", at most " + document.Count(clamps, "clamp") + " at a time"
	}
	return out
}

func (w pieceOfWork) glueCard(g route.GlueUp) GlueCard {
	c := GlueCard{
		Step: w.step(g.Step), Name: document.Capital(g.Name), Head: w.words.GlueHead(g), Repeat: w.words.GlueRepeat(g), Parts: []string{},
		Ticks: []GlueTick{}, Square: w.words.Square(g), Cauls: g.Cauls, Glue: w.words.Glue(g), Warns: []string{},
	}
	for _, l := range g.Letters {
		c.Parts = append(c.Parts, w.words.Named(l))
	}
	if c.Square == nil {
		c.Square = [][2]string{}
	}
	c.Heads, c.Clamps = w.words.Clamps(g)
	c.Strips = w.words.GlueStrips(g)
	hold := g.Glue.Clamp
	for _, t := range g.Clock {
		c.Ticks = append(c.Ticks, GlueTick{t.At * 60, minutesShort(t.At), t.What})
		if t.What == "Clamps off." {
			hold = t.At - g.Glue.Assembly
		}
	}
	clock := func(name, says string, minutes float64, worry bool) {
		if minutes > 0 {
			c.Clocks = append(c.Clocks, GlueClock{stamp(c.Step.Place, name, minutes), name, says, minutes * 60, worry})
		}
	}
	clock("Open time", "so long may spread glue lie open before the joint is closed", g.Glue.Open, true)
	clock("First spread to last clamp", "after that nothing may be moved", g.Glue.Assembly, true)
	clock("In the clamps", "from the last clamp", hold, false)
	clock("Full strength", "before it is planed, bent or stood on", g.Glue.Full*60, false)
	for _, f := range w.plan.Route.Findings {
		if f.Place == g.Name {
			c.Warns = append(c.Warns, f.Says+" "+f.Advice)
		}
	}
	return c
}

// minutesShort is minutes, or hours from two hours on.
func minutesShort(m float64) string {
	if m >= 120 {
		return decimals(m/60, 1) + " h"
	}
	return decimals(m, 1) + " min"
}
