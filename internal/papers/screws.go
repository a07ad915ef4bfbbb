package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/wood"
)

// screws is the screw table.
func (s *set) screws(f *flow) {
	if len(s.p.Model.Screws) == 0 {
		return
	}
	columns := []drawing.Column{
		{Head: "Where", Share: 52},
		{Head: "Count", Share: 11, Right: true, Bold: true},
		{Head: "Screw", Share: 34, Bold: true},
		{Head: "", Share: 18, Light: true},
		{Head: "Pilot", Share: 26},
		{Head: "Hole in the upper part", Share: 26},
		{Head: "Flat head sinks", Share: 22},
		{Head: "Stop on the bit", Share: 26},
		{Head: "Wood under head", Share: 26},
		{Head: "Left before the face", Share: 26},
		{Head: "After", Share: 10, Right: true},
	}
	if s.pieces() > 1 {
		columns[1].Head = fmt.Sprintf("For %d", s.pieces())
	}
	var sources []string
	after := func(source string) string {
		if source == "" {
			return ""
		}
		sources = appendNew(sources, source)
		return fmt.Sprint(slices.Index(sources, source) + 1)
	}
	var rows [][]string
	for _, u := range s.p.Model.Screws {
		size := s.fig(u.Diameter)
		if u.Gauge > 0 {
			size = fmt.Sprintf("no. %d", u.Gauge)
		}
		length, other := s.draw.Size(u.Length)
		sink := ""
		if !strings.HasPrefix(u.Where, "machine") {
			sink = s.fine2(check.Sink(u.Diameter, s.p.Shop.Units))
		}
		rows = append(rows, []string{
			document.Capital(u.Where), fmt.Sprint(u.Count * s.pieces()), size + " × " + length, other,
			s.fine2(u.Pilot), s.fine2(u.Shank), sink, s.figs(u.Stop), s.underHead(u), s.leftBefore(u), after(u.Source),
		})
	}
	st := drawing.TableStyle{Size: 2.9}
	f.sub("Screws", min(drawing.TableHeight(f.r.W, columns, rows, st), 60))
	f.table(columns, rows, st)
	f.text("Lengths are stock lengths, rounded down so that the tip stays clear of the show face. Measure the stack where it is to be driven before you drill; if it is thinner than here, take the next shorter screw. Flat heads: countersink of "+fmt.Sprintf("%.0f°", wood.Countersink(s.p.Shop.Units).Deg())+", so deep that the head lies 0.5 mm (1/64 in) under the face; a counterbore for a plug of 10 mm (3/8 in) takes as much from the wood under the head. Round heads stay on the face.", sizeNote, drawing.Regular)
	for i, t := range sources {
		sources[i] = fmt.Sprintf("%d: %s", i+1, t)
	}
	if len(sources) > 0 {
		f.text("Pilot and holes after "+strings.Join(sources, "; ")+".", sizeNote, drawing.Regular)
	}
}

// underHead is the wood and metal that a screw meets: what it fastens and the
// edge it goes into, of which there is enough, or all up to the face.
func (s *set) underHead(u build.ScrewUse) string {
	if u.Into == "" {
		return s.figs(u.Stack)
	}
	return s.figs(u.Under) + ", then " + string(u.Into)
}

// leftBefore is what is left before a face that the tip comes near.
func (s *set) leftBefore(u build.ScrewUse) string {
	if u.Into == "" {
		return s.figs(u.Clear)
	}
	return "no face near"
}
