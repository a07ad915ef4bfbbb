package station

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/papers"
	"casewright/internal/plan"
	"casewright/internal/route"
	"casewright/internal/saw"
	"casewright/internal/unit"
)

// Saw is what is wanted at the saw: every setting in order.
type Saw struct {
	Answer    string       `json:"answer"`
	Units     string       `json:"units" enum:"mm,in"`
	Runs      []SawRun     `json:"runs" doc:"stretches of work: the panels of one material, the kerfs of one part, the wood of one kind"`
	Enter     *SawEnter    `json:"enter,omitempty" doc:"parts that are off, to be put into the record as cut"`
	Cautions  Cautions     `json:"cautions"`
	Account   []SawAccount `json:"account" doc:"what becomes of every panel and strip"`
	AccountIn []string     `json:"account_heads"`
}

// SawRun is all settings of one stretch of work.
type SawRun struct {
	Title    string     `json:"title"`
	Machine  string     `json:"machine"`
	Says     []string   `json:"says" doc:"what holds for all its settings"`
	Kerfs    bool       `json:"kerfs" doc:"kerfs of a bent part: they are counted down"`
	Works    []string   `json:"works" doc:"kinds of work whose cautions hold"`
	Settings []SawSetup `json:"settings"`
}

// SawSetup is one setting and all cuts made at it.
type SawSetup struct {
	Key      string    `json:"key" doc:"of what the setting is: another fence, stop, depth, panel or cut has another key"`
	N        int       `json:"n" doc:"counts through all stretches from 1"`
	Way      string    `json:"way" doc:"fence, stop on the sled, rail at the mark…"`
	From     string    `json:"from" doc:"the edge from which it is set"`
	Setting  Size      `json:"setting"`
	CutAt    *Size     `json:"cut_at,omitempty" doc:"against a guide: where the cut itself lies"`
	Depth    *Size     `json:"depth,omitempty" doc:"height of the blade for a cut that does not go through"`
	Through  Size      `json:"through" doc:"thickness of what is cut through"`
	Keep     string    `json:"keep" doc:"which side of the kerf is the part"`
	Cuts     []SawCut  `json:"cuts"`
	Finished []string  `json:"finished" doc:"parts that come off finished"`
	Check    SizeCheck `json:"check"`
	Turn     string    `json:"turn,omitempty"`
	Note     string    `json:"note,omitempty"`
	Minutes  int       `json:"minutes"`
}

// SizeCheck is a size to measure before a setting is trusted.
type SizeCheck struct {
	Size Size   `json:"size"`
	What string `json:"what"`
}

// SawCut is one cut, or several alike, to be ticked.
type SawCut struct {
	Place   string `json:"place" doc:"of its tick"`
	Of      string `json:"of" doc:"the piece at hand"`
	Times   int    `json:"times"`
	Gives   string `json:"gives" doc:"what comes off"`
	Size    string `json:"size,omitempty" doc:"of what comes off"`
	Left    *Size  `json:"left,omitempty" doc:"what remains beyond the kerf"`
	Rest    string `json:"rest,omitempty" doc:"what the remainder is, when this was the last cut"`
	Kerf    string `json:"kerf,omitempty" doc:"which kerf"`
	Centre  *Size  `json:"centre,omitempty" doc:"of the kerf, from the near end"`
	Picture string `json:"picture" doc:"SVG: the piece on the saw as it is before this cut"`
	Done    int    `json:"done" doc:"how many of Times are ticked"`
}

// SawEnter is how parts that are off are put into the record.
type SawEnter struct {
	Says    string      `json:"says"`
	Changes []DocChange `json:"changes" doc:"of the record"`
}

// SawAccount is one line of the account: lengths that add up to the whole.
type SawAccount struct {
	Of      string   `json:"of"`
	Head    bool     `json:"head" doc:"a heading over the lines that follow"`
	Figures []string `json:"figures"`
}

// SawPage is the page of the saw. Ticks are by the places of the cuts.
func SawPage(p plan.Plan, ticks Ticks) Saw {
	b := sawPage{plan: p, words: papers.WordsOf(p), ticks: ticks, stamps: stamps{}, off: map[string]int{}, of: map[string]int{}}
	out := Saw{
		Units: p.Piece.Units.String(), Runs: []SawRun{}, Account: []SawAccount{},
		AccountIn: []string{"Parts, strips", "Kerfs", "Trims", "Offcut", "Waste", "Whole"},
	}
	var works []route.Work
	for _, q := range p.Setups {
		if len(q.Setups) == 0 {
			continue
		}
		mine := b.words.SawWorks(q)
		works = append(works, mine...)
		out.Runs = append(out.Runs, b.run(q, mine))
		if len(q.Account) > 0 {
			out.Account = append(out.Account, SawAccount{Of: document.Capital(q.Title), Head: true, Figures: []string{}})
			for _, r := range q.Account {
				out.Account = append(out.Account, b.account(r))
			}
		}
	}
	out.Cautions = cautionsOf(works...)
	out.Answer = b.answer()
	out.Enter = b.enter()
	return out
}

// sawPage is the page in the making.
type sawPage struct {
	plan    plan.Plan
	words   papers.Words
	ticks   Ticks
	stamps  stamps
	n, left int     // settings, and those not ticked yet
	minutes float64 // of all
	togo    float64 // of those not ticked yet
	parts   []string
	blanks  []string
	of, off map[string]int // cuts that must be made before a part is off, and those ticked; of blanks, by a mark before the letter
}

func (b *sawPage) answer() string {
	switch {
	case b.n == 0 && len(b.plan.Record.Cut) > 0:
		return "Nothing is left to saw: the record has every part as cut"
	case b.n == 0:
		return "Nothing to saw yet"
	case b.left == 0:
		return fmt.Sprintf("All %s are done", document.Count(b.n, "setting"))
	case b.left < b.n:
		return fmt.Sprintf("%d of %s left, about %s", b.left, document.Count(b.n, "setting"), minutesText(b.togo))
	}
	return fmt.Sprintf("%s, about %s", document.Count(b.n, "setting"), minutesText(b.minutes))
}

func (b *sawPage) run(q saw.Sequence, works []route.Work) SawRun {
	out := SawRun{Title: document.Capital(q.Title), Machine: b.words.Machine(q), Kerfs: q.Part != "", Says: []string{}, Works: []string{}, Settings: []SawSetup{}}
	for _, w := range works {
		out.Works = append(out.Works, string(w))
	}
	short := func(kerf string) string { return kerf }
	if q.Part != "" {
		out.Says, short = b.words.Kerfing(q)
	}
	thick := b.thickness(q)
	if q.After {
		out.Says = append(out.Says, b.words.AfterMeasuring())
	}
	rate := route.RateOf(operation(b.plan, q), b.plan.Shop)
	pics := newSawPictures(b.plan, q)
	for _, st := range q.Setups {
		out.Settings = append(out.Settings, b.setup(q, st, thick, rate, pics, short))
	}
	return out
}

// operation is whose times hold for a sequence.
func operation(p plan.Plan, q saw.Sequence) route.Op {
	if _, panel := p.Shop.Panels[q.Stock]; panel && q.Part == "" && !q.Sizes {
		return route.BreakDown
	}
	if q.Part != "" {
		return route.Kerf
	}
	return route.Size
}

func (b *sawPage) setup(q saw.Sequence, st saw.Setup, thick unit.Length, rate route.Rate, pics *sawPictures, short func(string) string) SawSetup {
	b.n++
	out := SawSetup{
		Key: b.stamps.of(q.Stock, q.Part, q.Saw, q.Kind, int64(thick), st.Way, int64(st.Setting), int64(st.Guide), int64(st.Depth), st.Reference, st.Cuts),
		N:   b.n, Way: string(st.Way), From: st.Reference, Setting: b.reading(st.Setting), Through: b.reading(thick),
		Keep: st.Keep, Turn: st.Turn, Note: st.Note, Finished: []string{}, Cuts: []SawCut{},
		Check: SizeCheck{b.reading(st.Check), st.CheckWhat},
	}
	if st.Way == saw.GuideMark {
		at := b.reading(st.Setting)
		out.Setting, out.CutAt = b.reading(st.Guide), &at
	}
	if st.Depth > 0 {
		d := fine(b.plan, st.Depth)
		out.Depth = &d
	}
	for _, l := range st.Parts {
		out.Finished = append(out.Finished, b.words.Named(l))
	}
	passes, done := 0, true
	for i, c := range st.Cuts {
		cut := b.cut(q, st, c, short)
		cut.Place = fmt.Sprintf("saw/%s/%d", out.Key, i+1)
		cut.Done = min(b.ticks[cut.Place], cut.Times)
		cut.Picture = pics.draw(st, i)
		passes += cut.Times
		done = done && cut.Done == cut.Times
		b.tally(st, c, cut)
		out.Cuts = append(out.Cuts, cut)
	}
	minutes := rate.Setup + float64(passes)*rate.Run
	out.Minutes = int(minutes + 0.5)
	b.minutes += minutes
	if !done {
		b.left++
		b.togo += minutes
	}
	return out
}

// reading is a size as it is set at the saw.
func (b *sawPage) reading(l unit.Length) Size { return sized(b.plan, l) }

func (b *sawPage) cut(q saw.Sequence, st saw.Setup, c saw.Cut, short func(string) string) SawCut {
	out := SawCut{Of: c.Of, Times: max(c.Times, 1), Gives: c.Gives, Rest: c.Rest}
	if q.Part != "" {
		at := b.reading(c.Centre)
		out.Of, out.Kerf, out.Centre = b.words.Named(c.Of), short(c.Kerf), &at
		return out
	}
	if out.Rest == "offcut" {
		out.Rest = "offcut, worth keeping"
	}
	out.Of = b.words.Named(c.Of)
	if c.Gives == c.Of { // a stick brought to size
		out.Gives = "to " + b.reading(st.Setting).Own
	} else {
		out.Gives = b.words.Named(c.Gives)
		if c.Gives != "trim" {
			out.Size = b.reading(st.Check).Own + " × " + b.reading(c.Long).Own
		}
	}
	if out.Rest != "" {
		out.Rest = b.words.Named(out.Rest)
	}
	if c.Left > 0 && c.Gives != "trim" {
		left := b.reading(c.Left)
		out.Left = &left
	}
	return out
}

// tally counts what must be cut before a part is off, and what is.
func (b *sawPage) tally(st saw.Setup, c saw.Cut, cut SawCut) {
	count := func(letters []string, all *[]string, mark string) {
		for _, l := range letters {
			if c.Gives != l && c.Rest != l {
				continue
			}
			if !slices.Contains(*all, l) {
				*all = append(*all, l)
			}
			b.of[mark+l] += cut.Times
			b.off[mark+l] += cut.Done
		}
	}
	count(st.Parts, &b.parts, "")
	count(st.Blanks, &b.blanks, blankMark)
}

// thickness is that of what a sequence saws; 0 where its parts differ.
func (b *sawPage) thickness(q saw.Sequence) unit.Length {
	t := unit.Length(0)
	for _, p := range b.plan.Model.Parts {
		if p.Material != q.Stock || q.Part != "" && p.Letter != q.Part {
			continue
		}
		if t != 0 && t != p.Thickness.Size {
			return 0
		}
		t = p.Thickness.Size
	}
	return t
}

func (b *sawPage) account(r saw.Row) SawAccount {
	out := SawAccount{Of: document.Capital(r.Of), Figures: []string{}}
	for _, l := range []unit.Length{r.Parts, r.Kerfs, r.Trims, r.Offcut, r.Waste, r.Whole} {
		t := ""
		if l != 0 {
			t = strings.TrimSuffix(b.reading(l).Own, " "+b.plan.Piece.Units.String())
		}
		out.Figures = append(out.Figures, t)
	}
	return out
}
