package check

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// tipHidden is left before the tip of a screw under a face that nobody sees
// (3/32 in, common practice).
const tipHidden = unit.Inch * 3 / 32

// tipInside is left before the inside of a thin box: screws of 12 mm and 1/2 in
// are put into sides as thick (common practice, no source).
const tipInside = unit.Inch64

// Thread of a machine screw in its pull: five millimetres at the least.
const threadLeast = 5 * unit.Millimetre

// screws goes through the screw table: what is left before the tip and before
// the drill, how the pilot suits the thread, and how deep a flat head sinks
// into what it holds.
func screws(in Input) []finding.Finding {
	var out []finding.Finding
	for _, u := range in.Model.Screws {
		if strings.HasPrefix(u.Where, "machine screws") {
			out = append(out, machineScrew(in, u)...)
			continue
		}
		out = append(out, woodScrew(in, u)...)
	}
	return append(out, backScrews(in)...)
}

func woodScrew(in Input, u build.ScrewUse) []finding.Finding {
	var out []finding.Finding
	say := func(id string, level finding.Level, says, figure, limit, advice, source string) {
		out = append(out, finding.Finding{ID: id, Level: level, Place: "screws: " + u.Where, Says: says, Figure: figure, Limit: limit, Advice: advice, Source: source})
	}
	tip := tipHidden
	if habit := in.Shop.Habits.TipClearance; habit > 0 {
		tip = min(tip, habit)
	}
	if u.Least > 0 { // into a thin box, whose insides are no show face
		tip = max(tipInside, min(tip, u.Least))
	}
	if left := u.Stack - u.Sunk - u.Length; left < tip {
		says := fmt.Sprintf("The %s screws for %s go into %s of wood and metal and leave %s before the face.", in.Show(u.Length), u.Where, in.Show(u.Stack), in.Show(max(left, 0)))
		if left < 0 {
			says = fmt.Sprintf("The %s screws for %s are longer than the %s of wood and metal they go into: they come out by %s.", in.Show(u.Length), u.Where, in.Show(u.Stack), in.Show(-left))
		}
		say("screw-tip", finding.Stop, says, in.Show(u.Length), in.Show(u.Stack-u.Sunk-tip),
			fmt.Sprintf("Take screws of %s or less.", in.Show(u.Stack-u.Sunk-tip)), "3/32 in left under a hidden face, common practice")
	}
	if left := u.Stack - u.Stop; left < tip && u.Stack-u.Sunk-u.Length >= tip {
		say("drill-stop", finding.Stop, fmt.Sprintf("The stop for %s lets the drill in %s; %s of %s would be left.", u.Where, in.Show(u.Stop), in.Show(max(left, 0)), in.Show(u.Stack)),
			in.Show(u.Stop), in.Show(u.Stack-tip), fmt.Sprintf("Set the stop to %s.", in.Show(min(u.Length, u.Stack-tip))), "3/32 in left, common practice")
	}
	if u.Pilot >= u.Diameter && u.Diameter > 0 {
		say("pilot-too-wide", finding.Stop, fmt.Sprintf("A pilot of %s leaves nothing for the thread of a %s screw for %s to hold in.", fine(in, u.Pilot), fine(in, u.Diameter), u.Where),
			fine(in, u.Pilot), fine(in, u.Diameter.Scale(wood.LeadHard)), fmt.Sprintf("Drill %s narrower.", fine(in, u.Pilot-u.Diameter.Scale(0.72))), "90 % of the root, FPL-GTR-190 ch. 8; root about 0.8 of the shank")
	}
	if u.Shank > 0 && u.Shank < u.Diameter {
		say("shank-hole", finding.Care, fmt.Sprintf("The shank hole for %s is %s wide, the screw %s: it does not draw the parts together.", u.Where, fine(in, u.Shank), fine(in, u.Diameter)),
			fine(in, u.Shank), fine(in, u.Diameter), fmt.Sprintf("Drill it %s wider.", fine(in, u.Diameter-u.Shank+unit.MM(0.2))), "common practice, no source")
	}
	return out
}

// machineScrew holds the length of a machine screw against box front and
// front, and the thread it has in the pull.
func machineScrew(in Input, u build.ScrewUse) []finding.Finding {
	got := u.Length - u.Stack
	if got >= threadLeast {
		return nil
	}
	return []finding.Finding{{
		ID: "machine-screw-short", Level: finding.Stop, Place: "screws: " + u.Where,
		Says:   fmt.Sprintf("The %s %s pass %s of wood and reach %s into the pull.", in.Show(u.Length), u.Where, in.Show(u.Stack), in.Show(max(got, 0))),
		Figure: in.Show(max(got, 0)), Limit: in.Show(threadLeast),
		Advice: fmt.Sprintf("Take screws at least %s longer, or counterbore the box front by as much.", in.Show(threadLeast-got)), Source: "5 mm of thread, common practice, no source",
	}}
}

// Sink is how deep a flat head of twice the shank sinks, half a millimetre
// under the face: (D/2) / tan(angle/2) + 0.5 mm. Derived; head of twice the
// shank is common practice.
func Sink(diameter unit.Length, system unit.System) unit.Length {
	// tan 41° and tan 45°
	tan := 1.0
	if system == unit.Imperial {
		tan = 0.8693
	}
	return unit.MM(diameter.MM()/2/tan) + wood.HeadUnder
}

// backScrews compares the heads of the screws in the back with its thickness,
// and their diameter with the edge they go into.
func backScrews(in Input) []finding.Finding {
	var back *build.Part
	for i := range in.Model.Parts {
		if in.Model.Parts[i].Role == build.RoleBack {
			back = &in.Model.Parts[i]
		}
	}
	if back == nil {
		return nil
	}
	var out []finding.Finding
	for _, u := range in.Model.Screws {
		if u.Where != "back to case" {
			continue
		}
		if sink := Sink(u.Diameter, in.Shop.Units); back.Thickness.Size-sink < back.Thickness.Size/3 {
			out = append(out, finding.Finding{
				ID: "head-sinks-through", Level: finding.Care, Place: "screws: " + u.Where,
				Says:   fmt.Sprintf("A flat head of a %s screw sinks %s into a back of %s and leaves %s to hold.", fine(in, u.Diameter), fine(in, sink), fine(in, back.Thickness.Size), fine(in, max(back.Thickness.Size-sink, 0))),
				Figure: fine(in, max(back.Thickness.Size-sink, 0)), Limit: fine(in, back.Thickness.Size/3),
				Advice: "Take round heads with washers, and do not countersink.", Source: "a third of the thickness under the head, common practice, no source; head: derived",
			})
		}
		out = append(out, rebateNarrow(in, back, u)...)
		for _, p := range in.Model.Parts {
			if p.Role != build.RoleSide && p.Role != build.RoleShell || p.Thickness.Size >= 3*u.Diameter {
				continue
			}
			out = append(out, finding.Finding{
				ID: "edge-splits", Level: finding.Care, Place: partPlace(&p),
				Says:   fmt.Sprintf("Screws of %s go into the edge of %s %s, only %s thick.", fine(in, u.Diameter), p.Name, p.Letter, in.Show(p.Thickness.Size)),
				Figure: fine(in, p.Thickness.Size), Limit: fine(in, 3*u.Diameter),
				Advice: fmt.Sprintf("Take screws of %s or less, and drill pilots.", fine(in, p.Thickness.Size/3)), Source: "one and a half diameters each side, common practice, no source",
			})
			break
		}
	}
	return out
}

// rebateNarrow compares the heads of the screws in a rebated back with what
// lies on the shoulder of its rebate.
func rebateNarrow(in Input, back *build.Part, u build.ScrewUse) []finding.Finding {
	for _, j := range in.Model.Joints {
		if j.Kind != "rebated" || j.A != back.Letter {
			continue
		}
		lies, head := j.Depth-build.SlipRebate, 2*u.Diameter
		if lies >= head {
			return nil
		}
		return []finding.Finding{{
			ID: "rebate-narrow", Level: finding.Care, Place: "screws: " + u.Where, Doc: "piece", Path: "back.depth",
			Says: fmt.Sprintf("Back %s lies %s wide on the shoulder of its rebate; the head of a %s screw is %s wide and finds no wood under its edge.",
				back.Letter, fine(in, lies), fine(in, u.Diameter), fine(in, head)),
			Figure: fine(in, lies), Limit: fine(in, head),
			Advice: fmt.Sprintf("Make back.depth %s or more, or the case thicker where that is over half of its panels; else hold the back with pins whose heads are %s wide or less, every 75 mm (3 in).",
				in.Show((head + build.SlipRebate).RoundUp(unit.Millimetre/2)), fine(in, lies)),
			Source: "head of twice the shank, common practice, no source; the rest derived",
		}}
	}
	return nil
}
