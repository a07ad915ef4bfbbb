package saw

import (
	"sort"

	"casewright/internal/unit"
)

// Stick is a solid part, or the blank of one from a panel, to be brought to its final width and length.
type Stick struct {
	Letter        string
	Count         int
	Length, Width unit.Length // to saw to
}

// Solid orders the final cuts of milled wood or of blanks of one stock: all widths
// at the rip fence, then all lengths at the stop, which finish a part, each setting
// once, largest first, so that parts meant to be alike are alike.
func Solid(title, stock string, sticks []Stick, m Machine) Sequence {
	s := Sequence{Title: title, Stock: stock, Saw: m.Key, Kind: m.Kind, Sizes: true}
	add := func(way Way, reference, what string, finished bool, size, long func(Stick) unit.Length) {
		groups := map[unit.Length][]Stick{}
		var order []unit.Length
		for _, st := range sticks {
			k := size(st)
			if groups[k] == nil {
				order = append(order, k)
			}
			groups[k] = append(groups[k], st)
		}
		sort.Slice(order, func(i, j int) bool { return order[i] > order[j] })
		for _, k := range order {
			out := Setup{
				N: len(s.Setups) + 1, Way: way, Setting: k, Reference: reference, Keep: "between " + string(way) + " and blade",
				Check: k, CheckWhat: what + " of the first one",
			}
			switch {
			case m.Kind == "track":
				out.Way, out.Keep = RailMark, "between reference and mark; the kerf lies beyond the mark"
			case m.Kind == "hand-guide":
				out.Way, out.Guide, out.Keep = GuideMark, k-m.Base, "between reference and mark; the kerf lies beyond the mark"
			case k > m.Reach:
				out.Way, out.Note = Beyond, "farther than the fence or stop reaches: mark it and cut to a guide"
			}
			for _, st := range groups[k] {
				out.Cuts = append(out.Cuts, Cut{Of: st.Letter, Times: st.Count, Pieces: st.Count, Long: long(st), Gives: st.Letter})
				if finished {
					out.Parts = appendNew(out.Parts, st.Letter)
				}
			}
			s.Setups = append(s.Setups, out)
		}
	}
	length := func(s Stick) unit.Length { return s.Length }
	width := func(s Stick) unit.Length { return s.Width }
	add(Fence, "straightened edge", "width", false, width, length)
	add(Stop, "squared end", "length", true, length, width)
	return s
}
