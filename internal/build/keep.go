package build

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/record"
	"casewright/internal/unit"
)

// DrawerFit is what fitting needs to know of a drawer: its box as made, what
// its runner asks for, and where the runners sit. Heights count from the
// lower edge of the opening.
type DrawerFit struct {
	Runner  string         `json:"runner"` // key of the shop's hardware
	Kind    string         `json:"kind"`
	Width   unit.Length    `json:"width"`
	Height  unit.Length    `json:"height"`
	Depth   unit.Length    `json:"depth"`
	Side    unit.Length    `json:"side"` // thickness
	Least   unit.Length    `json:"side_space_least"`
	Most    unit.Length    `json:"side_space_most"`
	Above   unit.Length    `json:"above"` // room asked for above the box
	BoxUp   unit.Length    `json:"box_up"`
	Line    unit.Length    `json:"runner_line"`       // middle of a side runner, seat of any other
	Packers [2]unit.Length `json:"packers,omitempty"` // thickness at left and right; 0: none
	Flush   [2]unit.Length `json:"flush,omitempty"`   // thickness that makes them flush with the edge of the opening as measured
	PackUp  unit.Length    `json:"packer_up,omitempty"`
	PackHi  unit.Length    `json:"packer_height,omitempty"`
	InWidth bool           `json:"width_fixed,omitempty"` // box ends or bottom are cut
	InHigh  bool           `json:"height_fixed,omitempty"`
}

// fitted gathers it.
func (b *builder) fitted(w drawing, bx drawerBox) *DrawerFit {
	f := &DrawerFit{
		Runner: w.Runner, Kind: w.hardware.Kind, Width: w.width.Size, Height: w.height.Size, Depth: w.depth.Size,
		Side: w.side, Least: w.low, Most: w.high, Above: w.above, BoxUp: w.z - w.cell.z, Line: w.z - w.cell.z,
		InWidth: w.kept.width, InHigh: w.kept.height,
	}
	switch f.Kind {
	case "side-runner":
		f.Line += w.height.Size / 2
	case "under-runner":
		f.Line = w.seat - w.cell.z
	}
	for _, p := range b.parts {
		if p.Role != RolePacker {
			continue
		}
		for _, at := range p.Places {
			for i, side := range wallNames[:2] {
				if at.Name == w.cell.name+" "+side {
					f.Packers[i], f.PackUp, f.PackHi = p.Thickness.Size, at.Frame.Origin.Z-w.cell.z, p.Width.Size
					f.Flush[i] = b.stepIn(w.cell, i) + b.narrower(w)
				}
			}
		}
	}
	return f
}

// keeps says what of a drawer or door is cut already and stays as planned:
// the front, and the width and the height of the box.
type keeps struct {
	front, width, height, packers bool
	leaves                        [2]bool // of a pair of doors, left and right
	letters                       []string
}

// narrower is how much further in each edge of a measured opening stands at
// its runners than was planned, when both came in alike; less than 0, further
// out. It is given to what can be planed to.
func (b *builder) narrower(w drawing) unit.Length {
	if w.m.shape.Empty() {
		return 0
	}
	line := w.z - w.cell.z
	if w.hardware.Kind == "side-runner" {
		line += w.height.Size / 2
	}
	return ((w.cell.w.Size - w.m.shape.WidthAt(line)) / 2).Round(b.metric(unit.Millimetre/10, unit.Inch64))
}

// keeps finds, in the piece as planned, which parts of which openings are cut
// already. Where the record does not say for which openings, those that were
// not measured come first, since the others want parts of their own.
func (b *builder) keeps(r record.Record) map[string]keeps {
	taken := map[string]bool{}
	for _, o := range r.Openings {
		taken[o.Opening] = true
	}
	out := map[string]keeps{}
	for _, c := range r.Cut {
		for _, p := range b.m.Parts {
			if p.Letter != c.Part {
				continue
			}
			left := c.Count / max(1, b.piece.Count)
			if c.Count > 0 {
				left = max(left, 1)
			}
			for _, name := range cutFor(c, b.openingsOf(p), taken) {
				if left <= 0 {
					break
				}
				k := out[name]
				for _, at := range p.Places {
					if !belongs(at.Name, name) {
						continue
					}
					for i, side := range wallNames[:2] {
						if left > 0 && at.Name == name+" "+side {
							k.leaves[i] = true
						}
					}
					left--
				}
				switch p.Role {
				case RoleFront:
					k.front = true
				case RoleDoor:
					k.front = k.leaves == [2]bool{} || k.leaves == [2]bool{true, true}
				case RoleBoxEnd:
					k.width, k.height = true, true
				case RoleBoxBottom:
					k.width = true
				case RoleBoxSide:
					k.height = true
				case RolePacker:
					k.packers = true
				default:
					continue
				}
				k.letters = append(k.letters, p.Letter)
				out[name] = k
			}
		}
	}
	return out
}

// cutFor is the order in which openings take parts that are cut.
func cutFor(c record.Cut, names []string, taken map[string]bool) []string {
	if len(c.For) > 0 {
		return slices.DeleteFunc(names, func(n string) bool { return !slices.Contains(c.For, n) })
	}
	slices.SortStableFunc(names, func(m, n string) int {
		switch {
		case taken[m] == taken[n]:
			return 0
		case taken[m]:
			return 1
		}
		return -1
	})
	return names
}

// openingsOf are the openings in which a part stands, in order.
func (b *builder) openingsOf(p Part) []string {
	var out []string
	for _, o := range b.m.Openings {
		if slices.ContainsFunc(p.Places, func(at Place) bool { return belongs(at.Name, o.Name) }) {
			out = append(out, o.Name)
		}
	}
	return out
}

// belongs says that a place is one in an opening: "column 1 left" in
// "column 1".
func belongs(place, opening string) bool {
	rest, ok := strings.CutPrefix(place, opening)
	return ok && (rest == "" || rest[0] == ' ')
}

// steady gives the letters of the piece as planned to the same parts of the
// piece as measured, so that what is marked in the shop keeps its mark. A
// part that was fitted to its opening has a figure behind the letter.
func (b *builder) steady(i int) (base string, asPlanned bool) {
	was := b.before
	if was == nil || len(was.parts) != len(b.parts) {
		return "", false
	}
	p, q := b.parts[i], was.parts[i]
	if p.Role != q.Role || p.Name != q.Name {
		return "", false
	}
	same := p.Length.Size == q.Length.Size && p.Width.Size == q.Width.Size && p.Thickness.Size == q.Thickness.Size &&
		slices.Equal(p.Outline, q.Outline)
	return was.letter[q.Letter], same
}

// numbered is the next free letter with a figure.
func numbered(base string, used map[string]bool) string {
	for n := 1; ; n++ {
		if l := fmt.Sprint(base, n); !used[l] {
			return l
		}
	}
}
