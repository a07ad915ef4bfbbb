package check

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/unit"
)

// leaf is a door as it hangs, with its pull.
type leaf struct {
	opening *build.Opening
	says    string         // the door of column 1
	room    geom.Bounds3   // shut
	hinge   unit.Length    // x of its edge with the hinges
	right   bool           // the side it is hung on
	pull    geom.Bounds3   // as it stands on the shut door
	out     unit.Length    // by how much the pull stands out
	along   [2]unit.Length // how far from the hinges the pull begins and ends
}

// neighbours looks at what stands open beside something else: an open door
// turns its pull to the side, into the way of the drawer beside it or to the
// pull of the door beside it. An open door is taken to stand square to the
// front, its face in line with the edge it is hung on (common practice, no
// source).
func neighbours(in Input) []finding.Finding {
	all := leaves(in)
	var out []finding.Finding
	for i := range all {
		for j := range in.Model.Openings {
			if f, ok := drawerMeets(in, all[i], &in.Model.Openings[j]); ok {
				out = append(out, f)
			}
		}
		for j := range all {
			if f, ok := pullsMeet(in, all[i], all[j]); ok {
				out = append(out, f)
			}
		}
	}
	return out
}

// leaves are the doors that have a pull.
func leaves(in Input) []leaf {
	var out []leaf
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		if p.Role != build.RoleDoor {
			continue
		}
		for _, at := range p.Places {
			o := openingOf(in.Model, at.Name)
			if o == nil {
				continue
			}
			l := leaf{opening: o, says: "the door of " + o.Name, room: shut(p, at)}
			fill := openingAt(in.Piece.Inside, o.Path)
			l.right = fill != nil && fill.Door != nil && fill.Door.Hung == "right" || at.Name == o.Name+" right"
			if at.Name != o.Name {
				l.says = "the " + strings.TrimPrefix(at.Name, o.Name+" ") + " door of " + o.Name
			}
			if l.hinge = l.room.Min.X; l.right {
				l.hinge = l.room.Max.X
			}
			if l.hang(in) {
				out = append(out, l)
			}
		}
	}
	return out
}

// hang finds the pull of a leaf.
func (l *leaf) hang(in Input) bool {
	for _, f := range in.Model.Fixtures {
		at := f.At
		if f.Kind != build.FixturePull || at.X <= l.room.Min.X || at.X >= l.room.Max.X || at.Z <= l.room.Min.Z || at.Z >= l.room.Max.Z {
			continue
		}
		l.pull = f.Bounds()
		l.out = l.room.Min.Y - l.pull.Min.Y
		a, b := (l.pull.Min.X - l.hinge).Abs(), (l.pull.Max.X - l.hinge).Abs()
		l.along = [2]unit.Length{min(a, b), max(a, b)}
		return l.out > 0
	}
	return false
}

// shut is the room that a part takes at one of its places.
func shut(p *build.Part, at build.Place) geom.Bounds3 {
	return geom.Box{Frame: at.Frame, X: p.Length.Size, Y: p.Width.Size, Z: p.Thickness.Size}.Bounds()
}

// drawerMeets says that a drawer beside the hinges of a door runs into the pull
// of the open door.
func drawerMeets(in Input, l leaf, o *build.Opening) (finding.Finding, bool) {
	p := partOf(in.Model, o.Front)
	if o.Drawer == nil || p == nil || o == l.opening {
		return finding.Finding{}, false
	}
	for _, at := range p.Places {
		if openingOf(in.Model, at.Name) != o {
			continue
		}
		front := shut(p, at)
		apart := l.hinge - front.Max.X
		if l.right {
			apart = front.Min.X - l.hinge
		}
		over := front.Min.Z < l.pull.Max.Z && front.Max.Z > l.pull.Min.Z
		if apart < -unit.Millimetre || apart >= l.out || !over || travel(in, o) <= l.along[0] {
			continue
		}
		return finding.Finding{
			ID: "drawer-meets-pull", Level: finding.Care, Place: o.Name, Path: o.Path,
			Says: fmt.Sprintf("With %s open, the drawer of %s runs into its pull: that stands out %s, and %s are between the two. It comes out by %s only.",
				l.says, o.Name, in.Show(l.out), in.Show(max(apart, 0)), in.Show(l.along[0])),
			Figure: in.Show(l.out), Limit: in.Show(max(apart, 0)), Source: "the pull's entry in the shop; the open door square to the front",
			Advice: "Hang the door on its other side, take a pull that stands out less, or set the pull above or below the drawer.",
		}, true
	}
	return finding.Finding{}, false
}

// pullsMeet says that two doors with their hinges side by side meet with their
// pulls when both are open; the one at the left says it.
func pullsMeet(in Input, a, b leaf) (finding.Finding, bool) {
	apart := b.hinge - a.hinge
	beside := a.right && !b.right && apart >= 0 && apart < a.out+b.out
	level := a.pull.Min.Z < b.pull.Max.Z && a.pull.Max.Z > b.pull.Min.Z
	alike := a.along[0] < b.along[1] && a.along[1] > b.along[0]
	if !beside || !level || !alike {
		return finding.Finding{}, false
	}
	return finding.Finding{
		ID: "pulls-meet", Level: finding.Note, Place: a.opening.Name, Path: a.opening.Path,
		Says: fmt.Sprintf("Open together, %s and %s meet with their pulls: these stand out %s in all, and %s are between the doors.",
			a.says, b.says, in.Show(a.out+b.out), in.Show(apart)),
		Figure: in.Show(a.out + b.out), Limit: in.Show(apart), Source: "the pulls' entries in the shop; open doors square to the front",
		Advice: "Hang one of them on its other side, take pulls that stand out less, or set them at different heights.",
	}, true
}
