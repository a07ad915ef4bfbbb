package papers

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/plan"
	"casewright/internal/unit"
)

// PartsCSV is the list of parts with every size in millimetres and inches, a
// line to a part, for a spreadsheet (RFC 4180, UTF-8, decimal points).
func PartsCSV(p plan.Plan) []byte {
	s := &set{p: p}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	head := []string{"letter", "name", "count_one", "count_all", "drawn", "mirrored"}
	for _, what := range []string{"finished", "cut", "rough"} {
		for _, side := range []string{"thickness", "width", "length"} {
			head = append(head, what+"_"+side+"_mm", what+"_"+side+"_in")
		}
	}
	head = append(head, "rough_class", "material", "grain", "edges", "thickness_sum_mm", "width_sum_mm", "length_sum_mm", "note")
	_ = w.Write(head) // a bytes.Buffer takes everything
	for _, part := range p.Model.Parts {
		drawn, mirrored := s.hands(part)
		row := []string{part.Letter, part.Name, fmt.Sprint(part.Count), fmt.Sprint(part.Count * s.pieces()), fmt.Sprint(drawn), fmt.Sprint(mirrored)}
		row = append(row, both(part.Thickness.Size, part.Width.Size, part.Length.Size)...)
		row = append(row, both(part.Thickness.Size, part.CutWidth(), part.CutLength())...)
		class := ""
		if r := part.Rough; r != nil {
			row = append(row, both(r.Thickness, r.Width, r.Length)...)
			class = r.Class
		} else {
			row = append(row, make([]string, 6)...)
		}
		sum := func(d build.Dim) string { return d.Text(func(l unit.Length) string { return decimals(l.MM(), 3) }) }
		row = append(row, class, part.Material, string(part.Grain), edges(part), sum(part.Thickness), sum(part.Width), sum(part.Length), part.Note)
		for i, cell := range row {
			row[i] = tame(cell)
		}
		_ = w.Write(row)
	}
	w.Flush()
	return b.Bytes()
}

// both gives each size in millimetres and in inches.
func both(ls ...unit.Length) []string {
	var out []string
	for _, l := range ls {
		out = append(out, decimals(l.MM(), 3), strings.TrimSuffix(l.Format(unit.Inch64ths), " in"))
	}
	return out
}

func edges(p build.Part) string {
	var out []string
	for _, b := range p.Bands {
		out = append(out, string(b.Edge)+": "+b.Key)
	}
	return strings.Join(out, "; ")
}

// tame keeps a spreadsheet from reading a maker's words as a formula.
func tame(t string) string {
	if t != "" && strings.ContainsRune("=+-@\t\r", rune(t[0])) {
		return "'" + t
	}
	return t
}
