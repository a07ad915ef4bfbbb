package papers

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/route"
)

// bench is what is wanted while bending, drilling, fitting and screwing.
func (s *set) bench() {
	for i, k := range s.bendKinds() {
		s.bendCard(k, i)
	}
	s.maps()
	s.fitting()
	s.assembly()
}

// assembly lists how parts meet and the screws that hold them.
func (s *set) assembly() {
	js, us := s.p.Model.Joints, s.p.Model.Screws
	if len(js)+len(us) == 0 {
		return
	}
	var head []string
	if len(js) > 0 {
		head = append(head, document.Count(len(js), "joint"))
	}
	if len(us) > 0 {
		n := 0
		for _, u := range us {
			n += u.Count * s.pieces()
		}
		head = append(head, document.Count(n, "screw")+" in "+document.Count(len(us), "place"))
	}
	f := s.flow(Bench, "joints and screws", true, document.Capital(list(head)))
	ops := []route.Work{route.Drilling}
	if len(us) > 0 {
		ops = []route.Work{route.Screwing, route.Drilling}
	}
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	s.joints(f)
	s.screws(f)
}

// joints lists how parts meet.
func (s *set) joints(f *flow) {
	columns := []drawing.Column{
		{Head: "Joint", Share: 32, Bold: true}, {Head: "Part", Share: 38}, {Head: "with part", Share: 38}, {Head: "Deep", Share: 24}, {Head: "Held by", Share: 66}, {Head: "Note", Share: 62}, {Head: "Done", Share: 12},
	}
	n := map[string]int{}
	var rows [][]string
	for _, j := range s.p.Model.Joints {
		row := append(s.jointRow(j), "")
		k := strings.Join(row, "\x00")
		if n[k] == 0 {
			rows = append(rows, row)
		}
		n[k]++
	}
	for _, row := range rows {
		if c := n[strings.Join(row, "\x00")]; c > 1 {
			row[0] = fmt.Sprintf("%d × %s", c, document.Small(row[0]))
		}
	}
	f.tight(columns, rows, drawing.TableStyle{Size: 2.9})
}

// jointRow is what joint, which part with which, how deep, held by what, and a
// note.
func (s *set) jointRow(j build.Joint) []string {
	deep := s.figs(j.Depth)
	if strings.Contains(j.With, j.Kind) { // a loose tenon's length, which its size says
		deep = ""
	}
	return []string{document.Capital(j.Kind), s.named(j.A), s.named(j.B), deep, strings.TrimPrefix(j.With, "1 × "), j.Note}
}
