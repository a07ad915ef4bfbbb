package route

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// GlueUp is one assembly that is glued in one go, with its clock.
type GlueUp struct {
	Step      int         `json:"step"`
	Name      string      `json:"name"`
	Letters   []string    `json:"letters"`
	Glue      Glue        `json:"glue"`
	Repeat    int         `json:"repeat"` // such assemblies, in all pieces
	Joints    int         `json:"joints"` // in one
	PerJoint  float64     `json:"minutes_per_joint"`
	Need      float64     `json:"need_minutes"` // from first spread to last clamp
	AtOnce    int         `json:"at_once"`      // joints that may be spread before the first must be closed
	Stages    int         `json:"stages"`       // it is glued in so many goes
	Rounds    int         `json:"rounds"`       // work and clamp time alternate so often, for all
	Clock     []Tick      `json:"clock"`
	Clamps    []ClampLine `json:"clamps"`
	Count     int         `json:"clamp_count"` // together, for one
	Longest   unit.Length `json:"clamp_opens"` // widest opening asked for
	Cauls     string      `json:"cauls"`
	Width     unit.Length `json:"width,omitempty"` // of the rectangle checked for square; mean of the two, where marks above and below are not as far apart
	Height    unit.Length `json:"height,omitempty"`
	Between   string      `json:"diagonal_between,omitempty"` // from where to where, or why there is no figure; "": the outside corners
	Diagonal  unit.Length `json:"diagonal,omitempty"`
	Limit     unit.Length `json:"diagonal_limit,omitempty"` // difference of the two
	Rack      unit.Length `json:"rack_limit,omitempty"`
	RackWhy   string      `json:"rack_why,omitempty"`
	Area      unit.Area   `json:"area_m2"`          // of glue lines, in one
	GlueGrams float64     `json:"glue_grams"`       // for one
	Filler    bool        `json:"filler,omitempty"` // its glue is bought for this alone, to fill kerfs that stay open
}

// Tick is one line of the clock, in minutes from the first spread.
type Tick struct {
	At   float64 `json:"at_minutes"`
	What string  `json:"what"`
}

// ClampLine says how one kind of joint is pressed.
type ClampLine struct {
	On       string      `json:"on"`
	Lines    int         `json:"lines"` // alike, in one assembly
	Length   unit.Length `json:"length"`
	Area     unit.Area   `json:"area_m2"`
	Pressure unit.Stress `json:"pressure_mpa"`
	Total    unit.Force  `json:"total_newtons"` // on one line
	Force    unit.Force  `json:"clamp_newtons"` // of one clamp
	Spacing  unit.Length `json:"spacing"`
	Each     int         `json:"each"` // clamps on one line
	Count    int         `json:"count"`
	Opens    unit.Length `json:"opens"`
	Source   string      `json:"source"`
}

// press is a kind of joint to be pressed, as the assembly asks for it.
type press struct {
	on       string
	count    int // lines of it
	part     build.Part
	length   unit.Length // of one line of glue
	area     unit.Area   // of one line
	span     unit.Length // the clamps must open so wide
	toGlue   unit.Length // from the clamp's pad to the glue without a caul
	together bool        // one set of clamps presses all lines (strips edge to edge)
	cheeks   unit.Area   // glued beside what is pressed, on one line: of tenons and dowels
}

// assembly is a glue-up to be planned.
type assembly struct {
	name, title, kind string
	letters           []string
	makes             string // name of the assembly that comes of it, "" for none
	repeat            int    // in one piece
	joints            int    // in one assembly; 0: the lines
	lines             []press
	cauls             string
	square            square
	rack              unit.Length
	rackWhy           string
	why, check        string
	what              string
	widest            bool
	hold              Minutes // longer than the clamp time, where it is under stress
	holdWhy           string
	people            int
	open              bool    // kerfs stay open: they are filled with what does not shrink
	filler            float64 // grams of glue besides that on faces, in one
}

// heavy is taken where the shop lists no clamps: a heavy bar or pipe clamp of
// 1000 lbf (common practice, no source).
const heavy = 1000 * unit.PoundForce

// Caul is the height of a caul between pad and work (common practice, no source).
const Caul = 60 * unit.Millimetre

// clampFor is the force of the shop's clamps that open so wide, the strongest
// kind of which there are most, and how many open so wide in all; -1 where the
// shop lists none.
func (m *maker) clampFor(opens unit.Length) (force unit.Force, have int) {
	if len(m.Shop.Clamps) == 0 {
		return heavy, -1
	}
	most := 0
	for _, c := range m.Shop.Clamps {
		if c.Opens < opens {
			continue
		}
		have += c.Count
		if c.Count > most {
			most, force = c.Count, unit.Force(c.ForceN)
		}
	}
	if force == 0 {
		force = heavy
	}
	return force, have
}

// line plans the clamps of one kind of joint.
func (m *maker) line(p press, g Glue) ClampLine {
	pressure, source := Pressure(p.part, m.Shop)
	if g.Contact {
		pressure, source = 0, "the glue wants contact only"
	}
	c := ClampLine{On: p.on, Lines: p.count, Length: p.length, Area: p.area, Pressure: pressure, Opens: p.span + 2*Caul, Source: source}
	c.Force, _ = m.clampFor(c.Opens)
	n := 0
	c.Total, n = Clamps(pressure, p.area, c.Force)
	c.Spacing = Spacing(p.toGlue + Caul)
	byLength := int(math.Ceil(float64(p.length)/float64(max(c.Spacing, 1)) - 1e-9))
	c.Each = max(n, byLength, 1)
	c.Count = c.Each * p.count
	if p.together {
		c.Count = c.Each
	}
	return c
}

// glueFor is the glue of an assembly that takes so many minutes to close.
func (m *maker) glueFor(a assembly, need float64) Glue {
	if a.open {
		return filler(m.Piece.Glue, m.Shop)
	}
	return choose(m.Piece.Glue, m.Shop, need)
}

// glueUp plans an assembly and puts its step on.
func (m *maker) glueUp(a assembly) {
	rate := m.rates[GlueUpOp]
	joints := a.joints
	if joints == 0 {
		for _, l := range a.lines {
			joints += l.count
		}
	}
	if joints == 0 || len(a.letters) == 0 {
		return
	}
	repeat := max(1, a.repeat)
	need := float64(joints) * rate.Run
	g, usual := m.glueFor(a, need), choose(m.Piece.Glue, m.Shop, need)
	u := GlueUp{
		Filler: g.Class != usual.Class,
		Name:   a.name, Letters: a.letters, Glue: g, Repeat: repeat * m.n, Joints: joints, PerJoint: rate.Run, Need: need,
		Cauls: a.cauls, Width: a.square.w, Height: a.square.h, Between: a.square.between, Stages: 1,
	}
	if rate.Run > 0 {
		u.AtOnce = max(1, int(g.Open/rate.Run))
		if fits := int(g.Assembly / rate.Run); fits < joints {
			u.Stages = (joints + max(1, fits) - 1) / max(1, fits)
		}
	}
	for _, p := range a.lines {
		c := m.line(p, g)
		u.Clamps = append(u.Clamps, c)
		u.Count += c.Count
		u.Longest = max(u.Longest, c.Opens)
		u.Area += (p.area + p.cheeks) * unit.Area(p.count)
	}
	u.GlueGrams = float64(u.Area)*g.Spread + a.filler
	if q := a.square; q.w > 0 && q.h > 0 {
		u.Diagonal, u.Rack, u.RackWhy = Diagonal(q.w, q.h), a.rack, a.rackWhy
		if u.Rack == 0 {
			u.Rack, u.RackWhy = q.h/1000, "1 in 1000 of the height, common practice, no source"
		}
		u.Limit = DiagonalLimit(q.w, q.h, u.Rack)
	}
	atATime := m.atATime(u)
	u.Rounds = ((u.Repeat + atATime - 1) / atATime) * u.Stages
	u.clock(a, atATime)
	m.open(u)
	wait := max(minutes(g.Clamp), a.hold)
	waitFor := fmt.Sprintf("%s in the clamps", g.Name)
	if a.holdWhy != "" {
		waitFor = a.holdWhy
	}
	people := max(a.people, 1)
	makes := []string{}
	if a.makes != "" {
		makes = append(makes, a.makes)
	}
	what := a.what
	if what != "" {
		what += " "
	}
	what += fmt.Sprintf("%s with %s: %s.", document.Capital(a.name), g.Name, document.Count(joints, "joint"))
	if u.Repeat > 1 {
		what += fmt.Sprintf(" %d times in all, %d at a time.", u.Repeat, atATime)
	}
	if u.Stages > 1 {
		what += fmt.Sprintf(" In %d stages, each clamped before the next.", u.Stages)
	}
	what += fmt.Sprintf(" Clamps on within %s min of the first spread; see the glue-up card.", figure(min(g.Assembly, math.Max(need, 0))))
	i := m.add(Step{
		Op: GlueUpOp, Title: a.title, Parts: a.letters, Makes: makes, Setups: 1, Units: float64(joints * repeat), Wait: wait, WaitFor: waitFor,
		Rounds: u.Rounds, People: people, Whole: true, What: what, Why: a.why, Check: a.check, Mind: []Work{Gluing},
	})
	if a.makes != "" {
		m.assemble(a.makes, a.letters...)
	}
	u.Step = i + 1
	m.glues = append(m.glues, u)
}

// atATime is how many alike assemblies the clamps allow at a time: one where
// the shop lists none or they do not reach.
func (m *maker) atATime(u GlueUp) int {
	_, need, have := m.tightest(u)
	if have < 0 || need == 0 {
		return 1
	}
	return min(max(1, have/need), max(1, u.Repeat))
}

// tightest is the opening for which the shop has the fewest clamps against
// those needed: a clamp that opens wide also does for what is narrow. have is
// -1 where the shop lists none.
func (m *maker) tightest(u GlueUp) (opens unit.Length, need, have int) {
	for _, c := range u.Clamps {
		n := 0
		for _, d := range u.Clamps {
			if d.Opens >= c.Opens {
				n += d.Count
			}
		}
		_, h := m.clampFor(c.Opens)
		if need == 0 || h*need < have*n {
			opens, need, have = c.Opens, n, h
		}
	}
	return opens, need, have
}

// clock writes the ticks of one go.
func (u *GlueUp) clock(a assembly, atATime int) {
	joints := (u.Joints + u.Stages - 1) / u.Stages
	at := 0.0
	tick := func(what string) { u.Clock = append(u.Clock, Tick{at, what}) }
	tick("Clamps open to size, pads and cauls laid out, parts lettered side up, a wet rag at hand. First spread: the clock starts.")
	first := true
	for joints > 0 {
		n := min(joints, max(1, u.AtOnce))
		joints -= n
		at += float64(n) * u.PerJoint
		what := fmt.Sprintf("%s spread, closed and held", document.Count(n, "joint"))
		if first {
			what += fmt.Sprintf("; spread no more than %d ahead, %s lies open %s min", max(1, u.AtOnce), u.Glue.Name, figure(u.Glue.Open))
		}
		first = false
		tick(what + ".")
	}
	if u.Diagonal > 0 {
		tick("Measure both diagonals, shift the clamps until they agree, then draw up.")
	} else {
		tick("Draw up evenly from the middle outward until a bead of glue shows.")
	}
	at = math.Max(at, u.Glue.Assembly)
	u.Clock = append(u.Clock, Tick{u.Glue.Assembly, "Last moment: nothing may be moved any more."})
	hold := math.Max(u.Glue.Clamp, float64(a.hold))
	u.Clock = append(u.Clock, Tick{u.Glue.Assembly + 15, "Squeezed-out glue is rubbery: lift it off with a chisel, inside corners first."})
	u.Clock = append(u.Clock, Tick{u.Glue.Assembly + hold, "Clamps off."})
	u.Clock = append(u.Clock, Tick{math.Max(u.Glue.Full*60, u.Glue.Assembly+hold), "Full strength: may be planed, bent, stood on."})
	if u.Stages > 1 {
		u.Clock = append(u.Clock, Tick{u.Glue.Assembly + hold, fmt.Sprintf("Next of %d stages.", u.Stages)})
	}
	slices.SortStableFunc(u.Clock, func(x, y Tick) int {
		switch {
		case x.At < y.At:
			return -1
		case x.At > y.At:
			return 1
		}
		return 0
	})
}

// open says what does not go in time, or wants for clamps.
func (m *maker) open(u GlueUp) {
	if u.Need > u.Glue.Assembly {
		var other []string
		for _, g := range slower(u.Need) {
			if g.Class != u.Glue.Class {
				other = append(other, fmt.Sprintf("%s (%s)", g.Name, figure(g.Assembly)))
			}
		}
		advice := fmt.Sprintf("It is planned in %d stages, each clamped before the next.", u.Stages)
		if u.Stages == 1 {
			advice = "Get it closed faster, with a second pair of hands."
		}
		if len(other) > 0 {
			advice += " In one go it would take " + strings.Join(other[:min(2, len(other))], " or ") + "."
		}
		m.say(finding.Finding{
			ID: "open-time", Level: finding.Care, Place: u.Name,
			Says:   fmt.Sprintf("%s: %s take %s min; %s allows %s min from first spread to last clamp.", document.Capital(u.Name), document.Count(u.Joints, "joint"), figure(u.Need), u.Glue.Name, figure(u.Glue.Assembly)),
			Figure: figure(u.Need) + " min", Limit: figure(u.Glue.Assembly) + " min", Advice: advice, Source: u.Glue.Source,
		})
	}
	if opens, need, have := m.tightest(u); have >= 0 && have < need {
		m.say(finding.Finding{
			ID: "clamps-short", Level: finding.Care, Place: u.Name,
			Says:   fmt.Sprintf("%s wants %s that open %s or more; the shop has %d.", document.Capital(u.Name), document.Count(need, "clamp"), m.Show(opens), have),
			Figure: fmt.Sprint(need), Limit: fmt.Sprint(have),
			Advice: fmt.Sprintf("Borrow %d, join two bars for one long one, use thicker cauls, or weights.", need-have), Source: "clamps of the shop; pressure × area over force, and one clamp to each spacing",
		})
	}
	if t, coldest := m.Shop.Working.Temperature, u.Glue.Coldest; coldest != nil && t < *coldest && m.Shop.Working.People > 0 {
		m.say(finding.Finding{
			ID: "glue-cold", Level: finding.Care, Place: u.Name,
			Says:   fmt.Sprintf("The shop is at %s °C; %s wants %s °C or more, in the wood as well.", figure(t), u.Glue.Name, figure(*coldest)),
			Figure: figure(t) + " °C", Limit: figure(*coldest) + " °C", Advice: fmt.Sprintf("Warm wood, glue and room by %s °C for as long as the clamps are on.", figure(*coldest-t)), Source: u.Glue.Source,
		})
	}
}

// figure prints a number with one decimal where it has one.
func figure(v float64) string {
	t := fmt.Sprintf("%.1f", v)
	return strings.TrimSuffix(t, ".0")
}
