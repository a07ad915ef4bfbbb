package papers

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/route"
)

// order is the calendar at the desk: what is done when, and how long each
// kind of work takes.
func (s *set) order() {
	r := s.p.Route
	if len(r.Steps) == 0 {
		return
	}
	c := r.Calendar
	f := s.flow(Desk, "order of work", true, fmt.Sprintf("%s, %s h of work, from %s to %s", document.Count(len(r.Steps), "step"), hoursText(r.For(s.pieces())), c.On(r.Steps[0].Start), s.dayOf(len(r.Steps))))
	f.text(s.calendarLine(), 3.2, drawing.Regular)
	columns := []drawing.Column{
		{Head: "No.", Share: 8, Right: true, Bold: true},
		{Head: "Step", Share: 74, Bold: true},
		{Head: "Parts", Share: 50},
		{Head: "Not before", Share: 24},
		{Head: "Set up", Share: 13, Right: true},
		{Head: "Run", Share: 13, Right: true},
		{Head: "People", Share: 12, Right: true},
		{Head: "Begin", Share: 30},
		{Head: "Then wait", Share: 44},
		{Head: "Done", Share: 11},
	}
	var rows [][]string
	for _, st := range r.Steps {
		rows = append(rows, []string{
			fmt.Sprint(st.N), st.Title, s.letters(st.Parts), numbers(st.After), fmt.Sprint(int(st.Setup)), fmt.Sprint(int(st.Run)), fmt.Sprint(st.People),
			c.On(st.Start) + ", " + st.Start.Clock(), waitText(st), "",
		})
	}
	f.tight(columns, rows, drawing.TableStyle{Size: 2.7})
	f.text("Set up and run in whole minutes, each step rounded up. A later step may be begun while an earlier one dries: the list follows the clock.", sizeNote, drawing.Regular)
	s.hoursTable(f)
}

// dayOf is the day on which a step ends.
func (s *set) dayOf(n int) string {
	r := s.p.Route
	return r.Calendar.On(max(r.Steps[n-1].End-1, 0))
}

// calendarLine says what the days rest on.
func (s *set) calendarLine() string {
	c := s.p.Route.Calendar
	t := fmt.Sprintf("%s with work in %s, at %s h a day, %s.", document.Count(c.WorkedDays, "day"), document.Count(c.Days, "day"), decimals(c.HoursADay, 1), people(c.People))
	switch {
	case c.DeliverBy != "" && c.LatestDay != "":
		t += fmt.Sprintf(" To be delivered by %s: begin by %s.", c.DeliverBy, c.LatestDay)
	case c.Start == "":
		t += " No start is given, so days are counted from a Monday, day 1."
	}
	if n := s.pieces(); n > 1 {
		t += fmt.Sprintf(" For %d pieces made together: %s h; one alone would take %s h.", n, hoursText(s.p.Route.For(n)), hoursText(s.p.Route.For(1)))
	}
	return t
}

func people(n int) string {
	if n == 1 {
		return "one person"
	}
	return fmt.Sprintf("%d people", n)
}

func hoursText(m route.Minutes) string { return decimals(m.Hours(), 1) }

// letters lists letters, ranges drawn together where they follow one another
// on the parts list.
func (s *set) letters(of []string) string {
	if len(of) > 12 {
		return fmt.Sprintf("%s and %d more", strings.Join(of[:10], ", "), len(of)-10)
	}
	return strings.Join(of, ", ")
}

func numbers(ns []int) string {
	var out []string
	for _, n := range ns {
		out = append(out, fmt.Sprint(n))
	}
	return strings.Join(out, ", ")
}

func waitText(st route.Step) string {
	if st.Wait == 0 {
		return ""
	}
	t := fmt.Sprintf("%d min", int(st.Wait))
	if st.Wait >= 120 {
		t = hoursText(st.Wait) + " h"
	}
	if st.Rounds > 1 {
		t = fmt.Sprintf("%d × %s", st.Rounds, t)
	}
	return t + ": " + st.WaitFor
}

// hoursTable adds up by operation: first guess, the shop's own, the record's.
func (s *set) hoursTable(f *flow) {
	columns := []drawing.Column{
		{Head: "Operation", Share: 56, Bold: true},
		{Head: "Counted by", Share: 40},
		{Head: "In one piece", Share: 22, Right: true},
		{Head: "Set up, h", Share: 20, Right: true},
		{Head: "Each piece, h", Share: 24, Right: true},
		{Head: "In all, h", Share: 20, Right: true, Bold: true},
		{Head: "Taken, h", Share: 22, Right: true},
		{Head: "Times from", Share: 66},
	}
	var rows [][]string
	var all route.Minutes
	for _, h := range s.p.Route.Hours {
		taken := ""
		if h.Actual > 0 {
			taken = hoursText(h.Actual)
			if h.Learned > 0 {
				taken += fmt.Sprintf("\n(%s min each)", decimals(h.Learned, 1))
			}
		}
		all += h.Estimated
		rows = append(rows, []string{h.Name, h.Unit, decimals(h.Units, 1), hoursText(h.Setup), decimals(h.Each/60, 1), hoursText(h.Estimated), taken, h.Source})
	}
	rows = append(rows, []string{"All", "", "", "", "", hoursText(all), "", ""})
	st := drawing.TableStyle{Size: 2.7}
	f.sub("Hours by operation; write in what it took, and put it into the record", min(drawing.TableHeight(f.r.W, columns, rows, st), 60))
	s.writeIn(f, columns, rows, 6, 6)
}

// steps is the work step by step, for whoever has not done it before: what,
// why, and how to see that it is right.
func (s *set) steps() {
	r := s.p.Route
	if len(r.Steps) == 0 {
		return
	}
	f := s.flow(Bench, "step by step", true, "What to do, why, and how to see that it is right")
	ops := s.minds()
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	columns := []drawing.Column{
		{Head: "No.", Share: 8, Right: true, Bold: true}, {Head: "Step", Share: 40, Bold: true}, {Head: "What", Share: 92}, {Head: "Why", Share: 60}, {Head: "Check", Share: 66}, {Head: "Done", Share: 11},
	}
	var rows [][]string
	for _, st := range r.Steps {
		rows = append(rows, []string{fmt.Sprint(st.N), st.Title, st.What, st.Why, st.Check, ""})
	}
	f.tight(columns, rows, drawing.TableStyle{Size: 2.8})
}

// minds are the kinds of work on the steps whose cautions stand on no other
// paper.
func (s *set) minds() []route.Work {
	elsewhere := []route.Work{
		route.TableSaw, route.TrackSaw, route.HandGuide, route.Kerfing, route.Crosscuts, route.Sheets, route.Milling, route.SolidWood, route.Bending, route.WetSkin,
		route.Drilling, route.Routing, route.Gluing, route.Finishing, route.OilyRags, route.Spraying, route.Sanding,
	}
	var out []route.Work
	for _, w := range route.Works() {
		if !slices.Contains(elsewhere, w) && slices.ContainsFunc(s.p.Route.Steps, func(st route.Step) bool { return slices.Contains(st.Mind, w) }) {
			out = append(out, w)
		}
	}
	return out
}
