package check

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/piece"
	"casewright/internal/unit"
)

// fine prints small movements finer than sizes.
func fine(in Input, l unit.Length) string {
	if in.Piece.Units == unit.Imperial {
		return fmt.Sprintf("%.3f in", l.In())
	}
	return fmt.Sprintf("%.1f mm", l.MM())
}

// up rounds a size up, and down rounds it down, to what can be set: a
// millimetre or a sixteenth of an inch.
func up(in Input, l unit.Length) string   { return in.Show(l.RoundUp(step(in))) }
func down(in Input, l unit.Length) string { return in.Show(l.RoundDown(step(in))) }

// setTo is a fix that sets a size, which is printed behind the words.
func setTo(in Input, path string, size unit.Length, says string) *finding.Fix {
	return finding.SetSize(path, size, in.Piece.Units, strings.TrimSpace(fmt.Sprintf(says, in.Show(size))))
}

// kg prints a mass, and newtons a force, in the leading unit of the piece.
func kg(in Input, v float64) string      { return unit.Mass(v).Led(in.Piece.Units, 0) }
func kg1(in Input, v float64) string     { return unit.Mass(v).Led(in.Piece.Units, 1) }
func newtons(in Input, v float64) string { return unit.Force(v).Led(in.Piece.Units) }

func step(in Input) unit.Length {
	if in.Piece.Units == unit.Imperial {
		return unit.Inch / 16
	}
	return unit.Millimetre
}

// partPlace is how findings name a part.
func partPlace(p *build.Part) string { return "part " + p.Letter + ", " + p.Name }

func partOf(m build.Model, letter string) *build.Part {
	for i := range m.Parts {
		if m.Parts[i].Letter == letter {
			return &m.Parts[i]
		}
	}
	return nil
}

// openingOf is the opening in which a place lies, by its name: "row 1 left"
// lies in row 1.
func openingOf(m build.Model, place string) *build.Opening {
	var best *build.Opening
	for i := range m.Openings {
		o := &m.Openings[i]
		if lies(place, o.Name) && (best == nil || len(o.Name) > len(best.Name)) {
			best = o
		}
	}
	return best
}

func lies(place, opening string) bool {
	return opening != "" && (place == opening || strings.HasPrefix(place, opening+" "))
}

// openingAt is the space at a path such as inside.columns[0].rows[1].
func openingAt(o piece.Opening, path string) *piece.Opening {
	rest, ok := strings.CutPrefix(path, "inside")
	for ok && rest != "" {
		var i int
		var next []piece.Opening
		switch {
		case strings.HasPrefix(rest, ".columns["):
			next, rest = o.Columns, rest[len(".columns["):]
		case strings.HasPrefix(rest, ".rows["):
			next, rest = o.Rows, rest[len(".rows["):]
		default:
			return nil
		}
		if _, err := fmt.Sscanf(rest, "%d]", &i); err != nil || i < 0 || i >= len(next) {
			return nil
		}
		o, rest = next[i], rest[strings.IndexByte(rest, ']')+1:]
	}
	if !ok {
		return nil
	}
	return &o
}

// solidBox is a flat part at a place as a box.
func solidBox(p *build.Part, at build.Place) geom.Box {
	return geom.Box{Frame: at.Frame, X: p.Length.Size, Y: p.Width.Size, Z: p.Thickness.Size}
}

// grainDir is the way the grain of a flat part runs in space.
func grainDir(p *build.Part, at build.Place) geom.Dir {
	if p.Grain == build.GrainWidth {
		return at.Frame.V
	}
	return at.Frame.U
}
