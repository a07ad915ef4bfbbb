package station

import (
	"crypto/sha256"
	"fmt"
	"strings"

	"casewright/internal/papers"
	"casewright/internal/plan"
	"casewright/internal/route"
)

// Ticks says for each place how much is done: of things counted down so many,
// of others 1. A place that is not there, or at 0, is not done.
type Ticks map[string]int

// stamp names a thing to be ticked by what it is, so that a tick never counts
// for another: sixteen hexadecimal digits.
func stamp(words ...any) string {
	var b strings.Builder
	for _, w := range words {
		fmt.Fprintf(&b, "%v\x00", w)
	}
	sum := sha256.Sum256([]byte(b.String()))
	return fmt.Sprintf("%x", sum[:8])
}

// stamps gives stamps that are different for each thing of one page: the
// second of two alike things gets a number.
type stamps map[string]int

func (s stamps) of(words ...any) string {
	k := stamp(words...)
	s[k]++
	if n := s[k]; n > 1 {
		return fmt.Sprintf("%s-%d", k, n)
	}
	return k
}

// WorkStep is one step of the work, to be ticked when it is done.
type WorkStep struct {
	Place   string   `json:"place" doc:"of its tick"`
	N       int      `json:"n" doc:"in the order of the whole work"`
	Title   string   `json:"title"`
	Parts   string   `json:"parts,omitempty"`
	What    string   `json:"what"`
	Why     string   `json:"why"`
	Check   string   `json:"check"`
	Day     string   `json:"day" doc:"on which it begins"`
	Clock   string   `json:"clock" doc:"time of day at which it begins"`
	Minutes int      `json:"minutes" doc:"of hands"`
	People  int      `json:"people"`
	Wait    string   `json:"wait,omitempty" doc:"what is waited for afterwards, and how long"`
	After   []int    `json:"after" doc:"steps that must be done, their waits over"`
	Mind    []string `json:"mind" doc:"kinds of work whose cautions hold"`
	Done    bool     `json:"done"`
}

// WorkCautions are the cautions of one kind of work.
type WorkCautions struct {
	Work  string          `json:"work"`
	Lines []route.Caution `json:"lines"`
}

// Cautions are those of a page, with the word that stands under them.
type Cautions struct {
	Works    []WorkCautions `json:"works"`
	LastWord string         `json:"last_word"`
}

// cautionsOf gathers the cautions of the kinds of work, each once.
func cautionsOf(works ...route.Work) Cautions {
	out := Cautions{Works: []WorkCautions{}, LastWord: route.LastWord}
	for _, all := range route.Works() {
		for _, w := range works {
			if lines := route.Cautions(w); w == all && len(lines) > 0 {
				out.Works = append(out.Works, WorkCautions{string(w), lines})
				break
			}
		}
	}
	return out
}

// pieceOfWork is a plan as the pages of the bench and beyond look at it.
type pieceOfWork struct {
	plan   plan.Plan
	words  papers.Words
	ticks  Ticks
	places []string // of the ticks of the route's steps
}

func workOn(p plan.Plan, t Ticks) pieceOfWork {
	w := pieceOfWork{plan: p, words: papers.WordsOf(p), ticks: t}
	seen := stamps{}
	for _, st := range p.Route.Steps {
		w.places = append(w.places, "step/"+seen.of(st.Op, st.Title, st.Parts, st.What))
	}
	return w
}

// step is the step of the route of a number, which counts from 1.
func (w pieceOfWork) step(n int) WorkStep {
	st := w.plan.Route.Steps[n-1]
	out := WorkStep{
		Place: w.places[n-1], N: st.N, Title: st.Title, Parts: w.words.Letters(st.Parts),
		What: st.What, Why: st.Why, Check: st.Check, Day: w.words.Day(st.Start), Clock: st.Start.Clock(), Minutes: int(st.Minutes()), People: st.People,
		Wait: w.words.Wait(st), After: append([]int{}, st.After...), Mind: []string{},
	}
	for _, m := range st.Mind {
		out.Mind = append(out.Mind, string(m))
	}
	out.Done = w.ticks[out.Place] > 0
	return out
}

// minutesText is a time of work as it is spoken of: minutes, or hours from two
// hours on.
func minutesText(m float64) string {
	if m >= 120 {
		return decimals(m/60, 1) + " hours"
	}
	if m < 1.5 {
		return "1 minute"
	}
	return decimals(m, 0) + " minutes"
}

// lines are the lines of a text of the papers, none for an empty one.
func lines(t string) []string {
	if t == "" {
		return []string{}
	}
	return strings.Split(t, "\n")
}
