package build

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// screwing is one use of screws: what they go through and what they hold in.
type screwing struct {
	where    string
	count    int
	fastened Dim         // parts and plates under the head
	holding  unit.Length // wood behind
	material string      // of the wood behind, key in the shop
	into     Bite        // the wood behind is met at its edge or end
	hidden   bool        // the far side is no show face
	most     unit.Length // longest wanted; 0: as long as the stack allows
	gauge    int         // 0: #8, or 4 mm
	tip      unit.Length // left before the far side; 0: the habit of the shop
	own      bool        // it brings screws of its own, for wood too thin for any in stock
	metal    bool        // what is fastened has its holes: the pilot is drilled into the wood behind alone
}

// tipHidden is left before a face that nobody sees (3/32 in, common practice).
const tipHidden = unit.Inch * 3 / 32

// screws adds a line to the screw table, or counts up one that is there: the
// longest stock screw that leaves the tip clearance, never rounded up.
func (b *builder) screws(s screwing) {
	tip := given(b.shop.Habits.TipClearance, 3*unit.Millimetre)
	if s.hidden {
		tip = min(tip, tipHidden)
	}
	tip = given(s.tip, tip)
	var sunk unit.Length // a plate of metal has its own countersinks
	if !s.metal {
		sunk = wood.HeadUnder
	}
	holding := s.holding
	if s.most > 0 { // as if the wood ended where the longest wanted screw does
		holding = min(holding, s.most+tip+sunk-s.fastened.Size)
	}
	sys := b.shop.Units
	place := "screws: " + s.where
	fit, err := wood.ScrewLength(wood.Stack{Fastened: s.fastened.Size, Holding: max(holding, 0), Sunk: sunk}, tip, sys)
	if err != nil {
		stack, less := s.fastened.Size+s.holding, b.show(tip)+" before the tip"
		if sunk > 0 {
			less += " and " + b.show(sunk) + " that the head is sunk"
		}
		f := finding.Finding{
			ID: "screw-too-long", Level: finding.Stop, Place: place,
			Says:   fmt.Sprintf("no stock screw is short enough for %s: %s of wood and metal less %s", s.where, b.show(stack), less),
			Figure: b.show(max(stack-sunk-tip, 0)), Source: "common practice, no source",
			Advice: "Glue a block behind, or fasten from the other side.",
		}
		var thin *wood.TooThinError
		if errors.As(err, &thin) {
			f.Limit = b.show(thin.Shortest)
		}
		if s.own {
			f.Level, f.Advice = finding.Care, "Use the short screws that come with it, or grind tips off; or take thicker wood."
		}
		b.once(f)
		return
	}
	kind := screwKind(sys, s.gauge)
	pilot, by, _ := kind.Pilot(b.hard(s.material))
	shank, _ := kind.Clearance()
	use := ScrewUse{
		Where: s.where, Count: s.count, Gauge: gaugeOf(kind), Diameter: kind.Diameter,
		Stack: s.fastened.Size + s.holding, Sunk: sunk, Clear: s.fastened.Size + s.holding - sunk - fit.Length, Length: fit.Length, Least: s.tip,
		Under: s.fastened.Size, Into: s.into, Pilot: pilot, Shank: shank, Stop: fit.Length, Source: by.String(),
	}
	if s.metal {
		use.Stop = max(fit.Length-s.fastened.Size, 0)
	}
	b.countScrews(use)
	if !fit.Holds() && s.most == 0 {
		b.once(finding.Finding{
			ID: "screw-grip", Level: finding.Note, Place: place,
			Says: fmt.Sprintf("the %s screws for %s hold %s in the wood behind; %s would be usual",
				b.bought(fit.Length), s.where, b.show(fit.Grip), b.show(fit.Wanted)),
			Figure: b.show(fit.Grip), Limit: b.show(fit.Wanted),
			Advice: "A longer one would come too near the face. Add screws, or take the next gauge.",
			Source: "common practice, no source",
		})
	}
}

// countScrews adds a line, or counts up the same line.
func (b *builder) countScrews(use ScrewUse) {
	for i := range b.m.Screws {
		old := b.m.Screws[i]
		old.Count = use.Count
		if old == use {
			b.m.Screws[i].Count += use.Count
			return
		}
	}
	b.m.Screws = append(b.m.Screws, use)
}

// once adds a finding unless the same is there already.
func (b *builder) once(f finding.Finding) {
	f.Says, f.Advice = sentence(f.Says), sentence(f.Advice)
	for _, old := range b.m.Findings {
		old.Fix = f.Fix // follows from the rest
		if old == f {
			return
		}
	}
	b.note(f)
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	r, n := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(r)) + s[n:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// screwKind is the screw of a gauge; the usual one is #8, or 4 mm. In metric
// units the screw nearest to the gauge's shank is taken.
func screwKind(sys unit.System, gauge int) wood.Screw {
	if gauge == 0 {
		gauge = 8
	}
	if sys == unit.Imperial {
		if s, ok := wood.FindScrew(sys, strconv.Itoa(gauge)); ok {
			return s
		}
	}
	want := wood.GaugeDiameter(gauge)
	var best wood.Screw
	for _, s := range wood.Screws(sys) {
		if best.Diameter == 0 || (s.Diameter-want).Abs() < (best.Diameter-want).Abs() {
			best = s
		}
	}
	return best
}

func gaugeOf(s wood.Screw) int {
	if s.System != unit.Imperial {
		return 0
	}
	n, _ := strconv.Atoi(s.Size)
	return n
}

// hard says that the larger pilot holes of hardwood are wanted: in every wood
// but a softwood, and in plywood, which splits at the edge.
func (b *builder) hard(material string) bool {
	w, ok := b.shop.Woods[material]
	if !ok {
		return true
	}
	sp, ok := wood.FindSpecies(w.Species)
	return !ok || !strings.Contains(strings.ToLower(sp.Group), "softwood")
}
