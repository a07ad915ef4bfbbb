package papers

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/saw"
)

// kerfing sets the kerfs of one part as a table of settings.
func (s *set) kerfing(q saw.Sequence) {
	p, _ := s.part(q.Part)
	head := fmt.Sprintf("%s: %s", q.Title, document.Count(len(q.Setups), "setting"))
	f := s.flow(Saw, q.Title, false, head)
	if t := s.machineLine(q); t != "" {
		f.text(t, sawWords, drawing.Regular)
	}
	f.text(s.kerfLine(p, q), 4.2, drawing.Bold)
	ops := s.operations(q)
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	f.text(s.sameLine(q), sawSmall, drawing.Regular)
	short, legend := s.kerfNames(p)
	f.text(legend, sawSmall, drawing.Bold)
	turned := false
	for _, st := range q.Setups {
		turned = turned || len(st.Cuts) > 1
	}
	columns := []drawing.Column{
		{Head: "", Share: 9, Bold: true},
		{Head: "Setting, " + s.draw.Units.String(), Share: 30, Right: true, Bold: true},
		{Head: s.draw.Units.Other().String(), Share: 28, Light: true},
		{Head: "From", Share: 18},
		{Head: "Kerf", Share: 18, Bold: true},
		{Head: "Centre at", Share: 26, Right: true},
	}
	if turned {
		columns = append(columns, drawing.Column{Head: "and turned", Share: 26, Right: true, Bold: true}, drawing.Column{Head: "Centre at", Share: 26, Right: true})
	}
	columns = append(columns, drawing.Column{Head: "Done", Share: 15, Right: true})
	var rows [][]string
	for _, st := range q.Setups {
		master, other := s.draw.Size(st.Setting)
		row := []string{fmt.Sprint(st.N), master, strings.Trim(other, "()"), strings.TrimSuffix(st.Reference, " end")}
		for i := range 2 {
			switch {
			case i < len(st.Cuts):
				row = append(row, short(st.Cuts[i].Kerf), s.fig(st.Cuts[i].Centre))
			case turned:
				row = append(row, "", "")
			}
		}
		rows = append(rows, append(row, "□"))
	}
	f.table(columns, rows, drawing.TableStyle{Size: 4.4, Rows: true})
}

// kerfNames shortens the names of a part's bends to small letters ("top left
// 13" to "a13"), and says which is which.
func (s *set) kerfNames(p build.Part) (short func(string) string, legend string) {
	var names, says []string
	for i, g := range p.Kerfs {
		name := s.p.Model.Bends[g.Bend].Name
		names = append(names, name+" ")
		says = append(says, letterOf(i)+" is "+name)
	}
	short = func(kerf string) string {
		for i, n := range names {
			if rest, ok := strings.CutPrefix(kerf, n); ok && rest != "" && rest[0] >= '0' && rest[0] <= '9' {
				return letterOf(i) + rest
			}
		}
		return kerf
	}
	if len(says) > 0 {
		legend = "Kerfs are counted from the near end: " + strings.Join(says, ", ") + "."
	}
	return short, legend
}

// letterOf counts a, b, … z, then a again, as no part has so many bends.
func letterOf(i int) string { return string(rune('a' + i%26)) }

// kerfLine gives blade, depth and skin.
func (s *set) kerfLine(p build.Part, q saw.Sequence) string {
	if len(p.Kerfs) == 0 {
		return fmt.Sprintf("Depth %s.", s.fine(q.Setups[0].Depth))
	}
	r := s.p.Model.Bends[p.Kerfs[0].Bend].Design
	t := fmt.Sprintf("%d × %s. Kerf %s, depth %s, skin left %s.", p.Count*s.pieces(), s.named(p.Letter), s.fine(r.Result.Spec.Kerf), s.fine(r.Result.Depth), s.fine(r.Result.Spec.Skin))
	if r.Blade != "" {
		t += " Blade: " + r.Blade + "."
	}
	return t
}

// sameLine says once what holds for every line of the table.
func (s *set) sameLine(q saw.Sequence) string {
	st := q.Setups[0]
	t := fmt.Sprintf("Set the depth on a scrap of the same panel and measure the skin. Face down: the show face. Settings are to the near side of the kerf, each by itself from its end (%s); never step from kerf to kerf. Cut the largest first.", st.Way)
	notes := map[string]bool{}
	for _, st := range q.Setups {
		if st.Note != "" && !notes[st.Note] {
			notes[st.Note] = true
			t += " " + document.Capital(st.Note) + "."
		}
	}
	for _, st := range q.Setups {
		if st.Turn != "" {
			t += " Where two kerfs are named: " + strings.TrimPrefix(st.Turn, "then ") + "."
			break
		}
	}
	return t
}
