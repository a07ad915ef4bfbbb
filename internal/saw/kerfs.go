package saw

import (
	"fmt"
	"sort"

	"casewright/internal/unit"
)

// Kerfed is one kind of part with the kerfs to be cut into it, flat.
type Kerfed struct {
	Letter, Name string
	Stock        string
	Count        int // pieces alike
	Length       unit.Length
	Width        unit.Length // along a kerf
	Groups       []Group
}

// Group is all kerfs of one bend. Centres count from the near end of the
// part. Each of the further Passes widens every kerf by so much, the fence
// moved away from the near end.
type Group struct {
	Bend    string
	Centres []unit.Length
	Kerf    unit.Length // of the blade
	Passes  []unit.Length
	Depth   unit.Length
}

// mirrorSlack is how far two kerfs may be from mirror places and still share a
// setting: half of the 0.1 mm to which settings are read.
const mirrorSlack = unit.Millimetre / 20

// Kerfs orders the kerfs of a part. Each is set from the nearer end, so that
// the fence reaches; a kerf whose mirror image lies at the other end is cut at
// the same setting with the part turned end for end. The largest distance
// comes first: the wood between fence and blade is then still whole and stiff
// (common practice, no source).
func Kerfs(k Kerfed, m Machine) Sequence {
	s := Sequence{Title: fmt.Sprintf("Kerfs in %s, %s", k.Letter, k.Name), Stock: k.Stock, Part: k.Letter, Saw: m.Key, Kind: m.Kind}
	for _, st := range pair(strokes(k), k.Length) {
		s.Setups = append(s.Setups, m.kerfSetup(k, st, len(s.Setups)+1))
	}
	if row, ok := k.account(); ok {
		s.Account = []Row{row}
	}
	return s
}

// A stroke is one pass of the blade in one kerf.
type stroke struct {
	near, far unit.Length // near side of the kerf from the near end; far side from the far end
	centre    unit.Length
	depth     unit.Length
	name      string
	mirror    *stroke // cut at the same setting, turned
}

func strokes(k Kerfed) []stroke {
	var out []stroke
	for _, g := range k.Groups {
		for i, c := range g.Centres {
			total := g.Kerf
			for _, by := range g.Passes {
				total += by
			}
			near := c - total/2 // the passes together are centred on the kerf
			for p := range len(g.Passes) + 1 {
				name := fmt.Sprintf("%s %d", g.Bend, i+1)
				if p > 0 {
					near += g.Passes[p-1]
				}
				if len(g.Passes) > 0 {
					name = fmt.Sprintf("%s pass %d", name, p+1)
				}
				out = append(out, stroke{near: near, far: k.Length - near - g.Kerf, centre: near + g.Kerf/2, depth: g.Depth, name: name})
			}
		}
	}
	return out
}

// pair joins strokes that are mirror images and sorts by the setting, largest
// first; ties by place.
func pair(all []stroke, length unit.Length) []stroke {
	sort.SliceStable(all, func(i, j int) bool { return all[i].near < all[j].near })
	var out []stroke
	used := make([]bool, len(all))
	for i := range all {
		if used[i] {
			continue
		}
		used[i] = true
		st := all[i]
		for j := len(all) - 1; j > i; j-- {
			if !used[j] && all[j].depth == st.depth && (all[j].far-st.near).Abs() <= mirrorSlack {
				used[j] = true
				st.mirror = &all[j]
				break
			}
		}
		out = append(out, st)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].setting() > out[j].setting() })
	return out
}

func (s stroke) fromFar() bool { return s.mirror == nil && s.far < s.near }

func (s stroke) setting() unit.Length { return min(s.near, s.far) }

func (m Machine) kerfSetup(k Kerfed, st stroke, n int) Setup {
	f := st.setting()
	out := Setup{N: n, Setting: f, Depth: st.depth, Reference: "near end", Keep: "not a through cut", Check: f}
	if st.fromFar() {
		out.Reference = "far end"
	}
	out.CheckWhat = "from the " + out.Reference + " to the near side of the kerf"
	switch {
	case m.Kind == "track":
		out.Way = RailMark
	case m.Kind == "hand-guide":
		out.Way, out.Guide = GuideMark, f-m.Base
	case f > m.Reach:
		out.Way = Beyond
		out.Note = "farther than the fence reaches from either end: use a track saw or a guide, or a sled with a spacer"
	case k.Width < f:
		out.Way = Stop
	default:
		out.Way = Fence
		if f < m.Least {
			out.Note = "near the blade: push block and a sacrificial fence"
		}
	}
	out.Cuts = []Cut{{Of: k.Letter, Times: k.Count, Pieces: k.Count, Whole: k.Length, Long: k.Width, Centre: st.centre, Kerf: st.name, Left: max(k.Length-f-m.Kerf, 0)}}
	if st.mirror != nil {
		out.Turn = "then end for end, same setting"
		if m.Kind != "table" {
			out.Turn = "and the same from the far end"
		}
		out.Cuts = append(out.Cuts, Cut{Of: k.Letter, Times: k.Count, Pieces: k.Count, Whole: k.Length, Long: k.Width, Centre: st.mirror.centre, Kerf: st.mirror.name, Left: max(k.Length-f-m.Kerf, 0)})
	}
	return out
}

// account adds up lands and kerfs along the part.
func (k Kerfed) account() (Row, bool) {
	all := strokes(k)
	if len(all) == 0 {
		return Row{}, false
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].near < all[j].near })
	row := Row{Of: k.Letter + ", length", Whole: k.Length}
	at := unit.Length(0)
	for _, st := range all {
		end := k.Length - st.far
		row.Parts += max(st.near-at, 0)
		row.Kerfs += end - max(st.near, at)
		at = max(at, end)
	}
	row.Parts += k.Length - at
	return row, true
}
