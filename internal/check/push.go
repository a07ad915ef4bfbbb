package check

import (
	"fmt"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// A push of 10 lbf at a handhold not above 56 in, ASTM F2057-23 9.2.2, from
// memory.
const (
	pushForce   = 10 * unit.PoundForce
	pushHighest = 56 * unit.Inch
)

// tipsPushed compares the push at the top that tips the empty piece, closed,
// with 10 lbf: forward, back (only where it stands free), and to the side.
func tipsPushed(in Input, feet stance) []finding.Finding {
	c := Centre(in.Model, in.Shop)
	high := min(in.Model.Outside.Z, pushHighest)
	if high <= 0 {
		return nil
	}
	type way struct {
		name string
		arm  float64
	}
	ways := []way{{"forward", c.Y - feet.front}, {"to the side", min(c.X-feet.left, feet.right-c.X)}}
	if in.Piece.Use.Against == "free" {
		ways = append(ways, way{"backward", feet.back - c.Y})
	}
	var out []finding.Finding
	for _, w := range ways {
		push := unit.Force(float64(c.Mass) * gravity * w.arm / high.MM())
		if push >= pushForce {
			continue
		}
		more := unit.MM((float64(pushForce)*high.MM()/(float64(c.Mass)*gravity) - w.arm))
		f := finding.Finding{
			ID: "tips-pushed", Level: finding.Care, Place: in.Piece.Name,
			Says:   fmt.Sprintf("Empty and closed, a push of %s at %s tips it %s.", max(push, 0).Both(in.Piece.Units), in.Show(high), w.name),
			Figure: newtons(in, float64(max(push, 0))), Limit: newtons(in, float64(pushForce)),
			Source: "statics; push of 10 lbf at most 56 in up, ASTM F2057-23 9.2.2, from memory",
		}
		f.Advice = document.Capital(ground(in).move(w.name, up(in, more)))
		switch {
		case in.Piece.Use.Anchor:
			hold := ((pushForce - push) * unit.Force(high.MM()/in.Model.Outside.Z.MM())).Both(in.Piece.Units)
			f.Advice = fmt.Sprintf("The anchor has to hold more than %s at the top against that push; see that wall and screws do", hold)
		case in.Piece.Base != nil && in.Piece.Base.Kind == "casters":
			f.Advice += ", or fill its lowest shelf first"
		case in.Piece.Use.Free():
			f.Advice += ", put weight low in it, or write against: wall and fix it there"
		default:
			f.Advice += ", or fix it to the wall"
		}
		f.Advice = estimate + f.Advice + "."
		if high < scopeHeight && in.Piece.Use.For != "clothing" {
			f.Level = finding.Note
		}
		if push <= 0 {
			f.Level, f.Says = finding.Stop, fmt.Sprintf("Its weight lies %s outside %s: it tips %s by itself.", in.Show(unit.MM(-w.arm)), ground(in).all, w.name)
			if in.Piece.Use.Anchor {
				f.Level = finding.Care
			}
		}
		out = append(out, f)
	}
	return out
}

// footing is what a piece stands on, in words.
type footing struct{ all, front, back, base string }

// ground says what the piece stands on: feet, a plinth, or its own lower edges.
func ground(in Input) footing {
	switch b := in.Piece.Base; {
	case b == nil:
		return footing{"what it stands on", "the front edge it stands on", "its back edge", ""}
	case b.Kind == "plinth":
		return footing{"its plinth", "the front of the plinth", "the back of the plinth", "plinth"}
	}
	if in.Piece.Base.Kind == "casters" {
		return footing{"its casters", "the front casters", "the back casters", "casters"}
	}
	return footing{"its feet", "the front feet", "the back feet", "feet"}
}

// move is what to do for a piece that tips one way too easily. Where there is
// no base one that reaches further does it: a deeper case would move its weight
// as well.
func (g footing) move(way, by string) string {
	switch {
	case g.base == "" && way == "to the side":
		return fmt.Sprintf("set it on a base that reaches %s further to each side", by)
	case g.base == "":
		return fmt.Sprintf("set it on a base that reaches %s further %s", by, way)
	case way == "forward":
		return fmt.Sprintf("bring %s forward by %s", g.front, by)
	case way == "backward":
		return fmt.Sprintf("move %s back by %s", g.back, by)
	}
	if g.base == "plinth" {
		return fmt.Sprintf("make the plinth %s wider at each side", by)
	}
	return fmt.Sprintf("move the %s outward by %s", g.base, by)
}
