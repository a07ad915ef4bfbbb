package station

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/fit"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/render/svg"
	"casewright/internal/route"
	"casewright/internal/unit"
)

// Bench is what is wanted at the bench and the machines: the steps of the
// work, the openings to be measured and what fits them, joints and screws.
type Bench struct {
	Answer   string         `json:"answer"`
	Units    string         `json:"units" enum:"mm,in"`
	Steps    []WorkStep     `json:"steps"`
	Openings []BenchOpening `json:"openings"`
	Fitting  []string       `json:"fitting" doc:"how to measure and to fit"`
	Joints   [][]string     `json:"joints" doc:"what, which part, with which, how deep, held by what, note"`
	Screws   []BenchScrew   `json:"screws"`
	Calendar string         `json:"calendar"`
	Cautions Cautions       `json:"cautions"`
}

// BenchOpening is one opening: what was measured in it, and what follows.
type BenchOpening struct {
	Name     string      `json:"name"`
	Fill     string      `json:"fill"`
	At       int         `json:"at" doc:"its place in the record's openings; where it would be put when it is not there"`
	Measured bool        `json:"measured"`
	Width    Size        `json:"width" doc:"as planned"`
	Height   Size        `json:"height" doc:"as planned"`
	Typed    BenchTyped  `json:"typed" doc:"what the record has"`
	Stands   []string    `json:"stands" doc:"how it stands: wider at the top by…"`
	Doubt    string      `json:"doubt,omitempty" doc:"which measure cannot be right, and what to do"`
	Fits     []BenchFits `json:"fits" doc:"front, box and what they are set by"`
	Do       []string    `json:"do" doc:"what to do with parts that are cut"`
	Picture  string      `json:"picture,omitempty" doc:"SVG: the opening with the front that goes in"`
	Findings []string    `json:"findings"`
}

// BenchTyped are the measures of an opening, exact, to be typed over. Empty
// ones were not taken.
type BenchTyped struct {
	Widths    []string `json:"widths" doc:"top, middle, bottom"`
	Heights   []string `json:"heights" doc:"left, middle, right"`
	Diagonals []string `json:"diagonals" doc:"from top left, from top right"`
	Corners   []string `json:"corners" doc:"radius at top left, top right, bottom right, bottom left"`
}

// BenchFits is one thing that follows from an opening: as planned, and as
// measured where that is another.
type BenchFits struct {
	What    string `json:"what"`
	Planned *Size  `json:"planned,omitempty" doc:"as it would be in the opening as drawn"`
	Now     Size   `json:"now"`
	Changed bool   `json:"changed" doc:"measuring has changed it"`
	Note    string `json:"note,omitempty"`
}

// BenchScrew is one line of the screw table.
type BenchScrew struct {
	Where  string `json:"where"`
	Count  int    `json:"count"`
	Screw  string `json:"screw"`
	Pilot  *Size  `json:"pilot,omitempty"`
	Shank  *Size  `json:"shank,omitempty" doc:"hole in the upper part"`
	Stop   *Size  `json:"stop,omitempty" doc:"on the bit"`
	Stack  *Size  `json:"stack,omitempty" doc:"wood and metal from under the head to the show face; into an edge, what is fastened"`
	Into   string `json:"into,omitempty" doc:"edge or end grain, where the screw goes into that and comes near no face"`
	Clear  *Size  `json:"clear,omitempty" doc:"left before the show face"`
	Source string `json:"source,omitempty"`
}

// BenchPage is the page of the bench. Ticks are by the places of the steps.
func BenchPage(p plan.Plan, ticks Ticks) Bench {
	w := workOn(p, ticks)
	out := Bench{Units: p.Piece.Units.String(), Steps: []WorkStep{}, Openings: []BenchOpening{}, Fitting: w.words.Fitting(), Joints: [][]string{}, Screws: []BenchScrew{}}
	var works []route.Work
	left, minutes := 0, 0
	for _, st := range p.Route.Steps {
		if !atBench(st) {
			continue
		}
		s := w.step(st.N)
		if works = append(works, st.Mind...); !s.Done {
			left++
			minutes += s.Minutes
		}
		out.Steps = append(out.Steps, s)
	}
	if len(out.Steps) > 0 {
		out.Calendar = w.words.Calendar()
	}
	out.Cautions = cautionsOf(works...)
	out.Openings = w.openings()
	out.Joints = w.joints()
	out.Screws = w.screws()
	out.Answer = benchAnswer(out, fit.MadeTo(p.Fit), left, minutes)
	return out
}

// atBench says that a step is done at the bench, at the machines, or at the
// saw without a setting of its own.
func atBench(st route.Step) bool {
	return st.Place == route.AtBench || st.Place == route.AtMachines || st.Op == route.RoughCut
}

func benchAnswer(b Bench, made string, left, minutes int) string {
	var t string
	switch n := len(b.Steps); {
	case n == 0:
		t = "Nothing to do at the bench yet"
	case left == 0:
		t = fmt.Sprintf("All %s are done", document.Count(n, "step"))
	case left < n:
		t = fmt.Sprintf("%d of %s left, about %s", left, document.Count(n, "step"), minutesText(float64(minutes)))
	default:
		t = fmt.Sprintf("%s, about %s", document.Count(n, "step"), minutesText(float64(minutes)))
	}
	measured := 0
	for _, o := range b.Openings {
		if o.Measured {
			measured++
		}
	}
	switch n := len(b.Openings); {
	case n == 0:
	case measured == 0:
		t += fmt.Sprintf("; %s to measure before %s are made", document.Count(n, "opening"), made)
	case measured < n:
		t += fmt.Sprintf("; %d of %s measured", measured, document.Count(n, "opening"))
	default:
		t += "; every opening is measured"
	}
	return t
}

// openings are the openings with what was measured beside what was planned.
func (w pieceOfWork) openings() []BenchOpening {
	out := []BenchOpening{}
	planned := w.asPlanned()
	next := len(w.plan.Record.Openings)
	for _, o := range w.plan.Fit {
		out = append(out, w.opening(o, planned[o.Name], next))
	}
	return out
}

// asPlanned is the fitting of the openings as they are drawn: the same piece
// built without what was measured in them.
func (w pieceOfWork) asPlanned() map[string]fit.Opening {
	out := map[string]fit.Opening{}
	all := w.plan.Fit
	if len(w.plan.Record.Openings) > 0 {
		r := w.plan.Record
		r.Openings = nil
		m, err := build.Make(w.plan.Piece, w.plan.Shop, r)
		if err != nil {
			return out
		}
		all = fit.Make(fit.Input{Piece: w.plan.Piece, Shop: w.plan.Shop, Record: r, Model: m, Show: w.plan.Show})
	}
	for _, o := range all {
		out[o.Name] = o
	}
	return out
}

func (w pieceOfWork) opening(o, planned fit.Opening, next int) BenchOpening {
	out := BenchOpening{
		Name: o.Name, Fill: o.Fill, Measured: o.Measured, At: next, Width: w.size(o.Width), Height: w.size(o.Height),
		Stands: lines(w.words.OutOfTrue(o)), Doubt: o.Doubt, Do: append([]string{}, o.Do...), Findings: []string{},
	}
	if !o.Measured {
		out.Stands = []string{}
	}
	rec := record.MeasuredOpening{}
	if i := slices.IndexFunc(w.plan.Record.Openings, func(m record.MeasuredOpening) bool { return m.Opening == o.Name }); i >= 0 {
		out.At, rec = i, w.plan.Record.Openings[i]
	}
	out.Typed = BenchTyped{w.typed(rec.Widths, 3), w.typed(rec.Heights, 3), w.typed(rec.Diagonals, 2), w.typed(rec.Corners, 4)}
	if o.Doubt == "" {
		out.Fits = w.fits(o, planned)
	} else {
		out.Fits = []BenchFits{}
	}
	for _, f := range o.Findings {
		out.Findings = append(out.Findings, strings.TrimSpace(f.Says+" "+f.Advice))
	}
	out.Picture = w.frontPicture(o)
	return out
}

func (w pieceOfWork) typed(ls []unit.Length, n int) []string {
	out := make([]string, n)
	for i, l := range ls[:min(n, len(ls))] {
		out[i] = l.Exact(w.plan.Piece.Units)
	}
	return out
}

func (w pieceOfWork) size(l unit.Length) Size { return sized(w.plan, l) }

// fits are front, box, gaps, packers, spacers and screws.
func (w pieceOfWork) fits(o, planned fit.Opening) []BenchFits {
	out := []BenchFits{}
	add := func(what string, now, was unit.Length, known bool, note string) {
		f := BenchFits{What: what, Now: w.size(now), Note: note}
		if known {
			p := w.size(was)
			f.Planned, f.Changed = &p, p.Own != f.Now.Own
		}
		out = append(out, f)
	}
	if f := o.Front; f != nil {
		pf := planned.Front
		was := fit.Front{}
		if pf != nil {
			was = *pf
		}
		note := func(v fit.Verdict) string {
			switch {
			case !f.Inset:
				return joined("lies over the edges of the opening", verdict(v))
			case o.Measured && !o.Shape.Squared && v == fit.ToMake:
				return "the least rectangle about it; its template has the angles"
			}
			return verdict(v)
		}
		leaves, old := f.Leaves, was.Leaves
		if len(leaves) == 0 {
			leaves, old = []fit.Leaf{{Letter: f.Letter, Verdict: f.Verdict, Width: f.Width, Height: f.Height}}, []fit.Leaf{{Width: was.Width, Height: was.Height}}
		}
		for i, l := range leaves {
			what, known := "Front "+l.Letter, pf != nil && len(old) == len(leaves)
			if l.Side != "" {
				what = "Door " + l.Letter + " at the " + l.Side
			}
			before := fit.Leaf{}
			if known {
				before = old[i]
			}
			add(what+", wide", l.Width, before.Width, known, note(l.Verdict))
			add(what+", high", l.Height, before.Height, known, "")
		}
		for i, g := range f.Gaps {
			known := pf != nil && len(pf.Gaps) == len(f.Gaps)
			old := unit.Length(0)
			if known {
				old = pf.Gaps[i].Ends[0]
			}
			gap := ""
			if g.Ends[0] != g.Ends[1] {
				gap = "to " + w.size(g.Ends[1]).Own
			}
			add("Gap at the "+g.Edge, g.Ends[0], old, known, gap)
		}
		if f.Between != nil {
			add("Gap where the doors meet", f.Between.Ends[0], f.Gap, true, "")
		}
	}
	if b := o.Box; b != nil {
		pb := planned.Box
		was := fit.Box{}
		if pb != nil {
			was = *pb
		}
		note := verdict(b.Verdict)
		if b.Most > b.Least {
			note = joined(fmt.Sprintf("from %s to %s go in", w.size(b.Least).Own, w.size(b.Most).Own), note)
		}
		wide, old := b.Width, was.Width
		if b.Verdict == fit.ToMake {
			wide, old = (b.Least+b.Most)/2, (was.Least+was.Most)/2
		}
		add("Box, wide outside", wide, old, pb != nil, note)
		add("Box, high", b.Height, was.Height, pb != nil, fmt.Sprintf("at most %s", w.size(b.Highest).Own))
		add("Beside the box, each side", b.Side, was.Side, pb != nil, "")
	}
	for _, k := range o.Packers {
		i := slices.IndexFunc(planned.Packers, func(x fit.Packer) bool { return x.Side == k.Side })
		old := unit.Length(0)
		if i >= 0 {
			old = planned.Packers[i].Thickness
		}
		note := ""
		switch {
		case k.Proud > 0:
			note = "runner shimmed out " + w.size(k.Proud).Own
		case k.Proud < 0:
			note = "runner set back " + w.size(-k.Proud).Own
		}
		add("Packer at the "+k.Side, k.Thickness, old, i >= 0, note)
	}
	for i, k := range o.Spacers {
		known := i < len(planned.Spacers) && planned.Spacers[i].For == k.For
		old := unit.Length(0)
		if known {
			old = planned.Spacers[i].Size
		}
		add("Spacer "+k.For, k.Size, old, known, "")
	}
	for i, k := range o.Screws {
		known := i < len(planned.Screws) && planned.Screws[i].For == k.For
		old := unit.Length(0)
		if known {
			old = planned.Screws[i].Length
		}
		add("Screw: "+k.For, k.Length, old, known, "in "+w.size(k.Stack).Own)
	}
	return out
}

func verdict(v fit.Verdict) string {
	return map[fit.Verdict]string{fit.AsIs: "cut: leave it", fit.ToPlane: "cut: plane it", fit.ToShim: "cut: shim it", fit.ToRemake: "cut: make a new one"}[v]
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// frontPicture is the opening with its front; none where nothing lies in it.
func (w pieceOfWork) frontPicture(o fit.Opening) string {
	v, opt, ok := w.words.FrontView(o)
	if !ok {
		return ""
	}
	sheet := &drawing.Sheet{W: 100, H: 62, Title: v.Title}
	v.Title = ""
	v.NoScale = true
	if b := v.Bounds(); b.H > b.W {
		sheet.H = 100
	}
	v.Fit(sheet, drawing.Rect{X: 2, Y: 2, W: sheet.W - 4, H: sheet.H - 4}, opt, drawing.Scale{})
	var b strings.Builder
	if err := svg.Write(&b, *sheet, svg.Options{}); err != nil {
		return ""
	}
	return b.String()
}

// joints are the joints, alike ones once.
func (w pieceOfWork) joints() [][]string {
	out := [][]string{}
	n := map[string]int{}
	for _, j := range w.plan.Model.Joints {
		row := w.words.Joint(j)
		k := strings.Join(row, "\x00")
		if n[k]++; n[k] == 1 {
			out = append(out, row)
		}
	}
	for _, row := range out {
		if c := n[strings.Join(row, "\x00")]; c > 1 {
			row[0] = fmt.Sprintf("%d × %s", c, strings.ToLower(row[0]))
		}
	}
	return out
}

func (w pieceOfWork) screws() []BenchScrew {
	some := func(l unit.Length) *Size {
		if l == 0 {
			return nil
		}
		s := w.size(l)
		return &s
	}
	out := []BenchScrew{}
	for _, u := range w.plan.Model.Screws {
		size := w.size(u.Diameter).Own
		if u.Gauge > 0 {
			size = fmt.Sprintf("no. %d", u.Gauge)
		}
		stack, clear := u.Stack, u.Clear
		if u.Into != "" {
			stack, clear = u.Under, 0
		}
		out = append(out, BenchScrew{
			Into: string(u.Into), Where: document.Capital(u.Where), Count: u.Count * max(1, w.plan.Piece.Count), Screw: size + " × " + w.size(u.Length).Own,
			Pilot: some(u.Pilot), Shank: some(u.Shank), Stop: some(u.Stop), Stack: some(stack), Clear: some(clear), Source: u.Source,
		})
	}
	return out
}
