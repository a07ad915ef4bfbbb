package check

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// Rules for doors and wide solid parts.
const (
	solidFrontMost = 8 * unit.Inch // wider solid fronts: frame and panel, common practice
	slender        = 80            // length over thickness of a door that stays flat, and the shorter side of a back; common practice
)

// hingeSteps are the heights up to which two hinges and more do (as quoted in
// hinge sheets).
var hingeSteps = []struct {
	high  unit.Length
	count int
}{{40 * unit.Inch, 2}, {60 * unit.Inch, 3}, {80 * unit.Inch, 4}, {100 * unit.Inch, 5}}

// kgPerHinge is one more hinge for each step of weight beyond the first two.
const kgPerHinge = 7

// thinBack is a panel held at its edges only and large for its thickness: it
// bows and drums.
func thinBack(in Input, p *build.Part) (finding.Finding, bool) {
	short, limit := min(p.Length.Size, p.Width.Size), slender*p.Thickness.Size
	if p.Role != build.RoleBack || p.Solid || short <= limit {
		return finding.Finding{}, false
	}
	return finding.Finding{
		ID: "thin-back", Level: finding.Note, Place: partPlace(p),
		Says:   fmt.Sprintf("%s %s is %s thick and %s across its shorter side: held at its edges only, it bows and drums.", document.Capital(p.Name), p.Letter, fine(in, p.Thickness.Size), in.Show(short)),
		Figure: in.Show(short), Limit: in.Show(limit),
		Advice: fmt.Sprintf("Make it %s thick, or screw it to shelves and dividers that are fixed, as well.", up(in, short/slender)), Source: "80 times the thickness, common practice, no source",
	}, true
}

// sizes looks at doors, fronts and backs against their thickness.
func sizes(in Input) []finding.Finding {
	var out []finding.Finding
	said := func(id, place string) bool {
		for _, f := range in.Model.Findings {
			if f.ID == id && strings.Contains(f.Says, place+" ") {
				return true
			}
		}
		return false
	}
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if f, ok := thinBack(in, p); ok {
			out = append(out, f)
		}
		if p.Role != build.RoleDoor && p.Role != build.RoleFront {
			continue
		}
		wide := acrossOf(p)
		if p.Solid && wide > solidFrontMost && !said("front-swells", p.Letter) && !said("door-swells", p.Letter) {
			out = append(out, finding.Finding{
				ID: "wide-solid-front", Level: finding.Care, Place: partPlace(p),
				Says:   fmt.Sprintf("%s %s is %s wide across the grain, of solid wood.", document.Capital(p.Name), p.Letter, in.Show(wide)),
				Figure: in.Show(wide), Limit: in.Show(solidFrontMost),
				Advice: fmt.Sprintf("Make it frame and panel or veneered, or %s narrower.", in.Show(wide-solidFrontMost)), Source: "8 in, common practice, no source",
			})
		}
		if p.Role == build.RoleDoor {
			out = append(out, doorSize(in, p)...)
		}
	}
	return out
}

func doorSize(in Input, p *build.Part) []finding.Finding {
	var out []finding.Finding
	long, t := max(p.Length.Size, p.Width.Size), p.Thickness.Size
	if limit := slender * t; long > limit {
		var fix *finding.Fix
		if p.Solid {
			fix = setTo(in, "thicknesses.doors", (long / slender).RoundUp(step(in)), "Make the doors %s thick")
		}
		out = append(out, finding.Finding{
			ID: "thin-door", Level: finding.Care, Place: partPlace(p),
			Says:   fmt.Sprintf("%s %s is %s long and %s thick: it will hardly stay flat.", document.Capital(p.Name), p.Letter, in.Show(long), in.Show(t)),
			Figure: in.Show(long), Limit: in.Show(limit),
			Advice: fmt.Sprintf("Make it %s thick, let in straighteners, or divide it.", up(in, long/slender)), Fix: fix, Source: "80 times the thickness, common practice, no source",
		})
	}
	high := p.Length.Size
	if len(p.Places) > 0 && along(p.Places[0].Frame.V, up3) {
		high = p.Width.Size
	}
	hinges := 0
	for _, h := range in.Model.Hardware {
		if in.Shop.Hardware[h.Key].Kind == "cup-hinge" {
			hinges += h.Count
		}
	}
	doors := 0
	for i := range in.Model.Parts {
		if in.Model.Parts[i].Role == build.RoleDoor {
			doors += in.Model.Parts[i].Count
		}
	}
	if hinges == 0 || doors == 0 {
		return out
	}
	mass := float64(PartMass(*p, in.Shop))
	need := hingesFor(high, mass)
	if each := hinges / doors; each < need {
		out = append(out, finding.Finding{
			ID: "few-hinges", Level: finding.Care, Place: partPlace(p),
			Says:   fmt.Sprintf("%s %s is %s high and weighs %s; it hangs on %d hinges.", document.Capital(p.Name), p.Letter, in.Show(high), kg1(in, mass), each),
			Figure: fmt.Sprint(each), Limit: fmt.Sprint(need), Advice: fmt.Sprintf("Bore for %d.", need), Source: "hinge sheets as quoted elsewhere: 2 to 40 in, 3 to 60, 4 to 80, 5 to 100; or one for each 7 kg",
		})
	}
	return out
}

// hingesFor is how many hinges a door of that height and weight asks for.
func hingesFor(high unit.Length, kg float64) int {
	n := hingeSteps[len(hingeSteps)-1].count + 1
	for _, s := range hingeSteps {
		if high <= s.high {
			n = s.count
			break
		}
	}
	byMass := 2
	for kg > float64(byMass-1)*kgPerHinge && byMass < 20 {
		byMass++
	}
	return max(n, byMass)
}
