package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/route"
	"casewright/internal/unit"
)

// finishCard is grit by grit and coat by coat, with dates.
func (s *set) finishCard() {
	all := s.p.Route.Finishes
	if len(all) == 0 {
		return
	}
	last := all[len(all)-1]
	ops := finishWorks(all)
	f := s.flow(Finish, "finish card", false, s.finishHead(last))
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	cure := s.cureText()
	size := finishSizes[len(finishSizes)-1]
	for _, z := range finishSizes {
		h := blockHeight(cure, 3.2, f.r.W, drawing.Regular) + blockHeight(conditions, sizeNote, f.r.W, drawing.Regular) + 2*gap
		for _, x := range all {
			c, rows := s.coats(x)
			h += 14 + blockHeight(s.groupText(x), 3.2, f.r.W, drawing.Regular) + blockHeight(coatNote(x), sizeNote, f.r.W, drawing.Regular) + 3*gap
			h += drawing.TableHeight(f.r.W, c, rows, drawing.TableStyle{Size: z})
		}
		if h <= f.r.H {
			size = z
			break
		}
	}
	for _, x := range all {
		f.sub(fmt.Sprintf("%s: %s, %s", document.Capital(x.Name), x.Class.Name, document.Count(x.Coats, "coat")), 30)
		f.text(s.groupText(x), 3.2, drawing.Regular)
		columns, rows := s.coats(x)
		s.writeInSize(f, columns, rows, 4, 4, size)
		f.text(coatNote(x), sizeNote, drawing.Regular)
	}
	f.text(cure, 3.2, drawing.Regular)
	f.text(conditions, sizeNote, drawing.Regular)
}

// finishWorks are the kinds of work whose cautions hold for the finish.
func finishWorks(all []route.Schedule) []route.Work {
	out := []route.Work{route.Sanding, route.Finishing}
	if slices.ContainsFunc(all, func(x route.Schedule) bool { return x.Class.Oily }) {
		out = append(out, route.OilyRags)
	}
	if slices.ContainsFunc(all, func(x route.Schedule) bool { return x.Class.Key == "lacquer" }) {
		out = append(out, route.Spraying)
	}
	return out
}

// finishSizes are the sizes of type of the coats: the largest with which the
// card is one page is taken.
var finishSizes = []float64{4.4, 4, 3.6, 3.2, 2.9}

const conditions = "Below 13 °C (55 °F) or above 70 % humidity everything takes longer: wait until a coat is dry, not until the date. Hours, coats and coverage are the usual ones of each class, common practice, no source; the label comes first."

func (s *set) groupText(x route.Schedule) string {
	return fmt.Sprintf("%s on %s; %s for all coats. Parts %s. Cleans with %s.", (x.Area*unit.Area(s.pieces())).Led(s.p.Piece.Units, 2), document.Count(s.pieces(), "piece"), s.liquid(x.Litres), s.letters(x.Letters), x.Class.Cleaner)
}

func coatNote(x route.Schedule) string {
	return fmt.Sprintf("Between coats %s h. %s", decimals(x.Class.Recoat, 1), strings.Join(x.Notes, " "))
}

// coats is the table of a group: grits, then each coat with its dates.
func (s *set) coats(x route.Schedule) ([]drawing.Column, [][]string) {
	r := s.p.Route
	columns := []drawing.Column{{Head: "Step", Share: 10, Right: true, Bold: true}, {Head: "What", Share: 74, Bold: true}, {Head: "Begin", Share: 38}, {Head: "Next not before", Share: 38}, {Head: "Done at", Share: 22}}
	on := func(m route.Moment) string { return r.Calendar.On(m) + ", " + m.Clock() }
	st := r.Steps[x.Sanding-1]
	rows := [][]string{{fmt.Sprint(st.N), "Sand: " + gritText(x), on(st.Start), on(st.Ready), ""}}
	for k, n := range x.Steps {
		st := r.Steps[n-1]
		rows = append(rows, []string{fmt.Sprint(n), s.coatText(x, k), on(st.Start), on(st.Ready), ""})
	}
	return columns, rows
}

func (s *set) finishHead(last route.Schedule) string {
	return fmt.Sprintf("%s outside, %s of %s", document.Capital(last.Class.Name), document.Count(last.Coats, "coat"), s.liquid(last.PerCoat))
}

// coatText is what is done for the coat of index k.
func (s *set) coatText(x route.Schedule, k int) string {
	what := fmt.Sprintf("Coat %d, %s", k+1, s.liquid(x.PerCoat))
	if k > 0 {
		what = fmt.Sprintf("Rub with %d. ", x.Between) + what
	}
	if k == 0 && x.Class.Raises {
		what = "Wet with water, let dry, take the fuzz off. " + what
	}
	return what
}

func gritText(x route.Schedule) string {
	var out []string
	if len(x.Solid) > 0 {
		out = append(out, fmt.Sprintf("solid wood %s, end grain to %d", gritList(x.Solid), x.EndGrain))
	}
	if len(x.Veneered) > 0 {
		out = append(out, "veneer "+gritList(x.Veneered))
	}
	return strings.Join(out, "; ")
}

func gritList(grits []int) string {
	var out []string
	for _, g := range grits {
		out = append(out, fmt.Sprint(g))
	}
	return strings.Join(out, ", ")
}

// liquid is so much finish in the unit in which the piece's maker measures it.
func (s *set) liquid(litres float64) string { return unit.Liquid(litres, s.p.Piece.Units) }

// cureText says when it may be used.
func (s *set) cureText() string {
	r := s.p.Route
	ready := route.Moment(0)
	days := 0.0
	for _, x := range r.Finishes {
		if n := len(x.Steps); n > 0 {
			ready = max(ready, r.Steps[x.Steps[n-1]-1].End)
		}
		days = max(days, x.Class.Cure)
	}
	return fmt.Sprintf("Handled with care from a day after the last coat. Hard enough to be wiped, stood on and loaded after %s days: %s.", decimals(days, 0), r.Calendar.On(ready+route.Moment(days*24*60)))
}
