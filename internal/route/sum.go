package route

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/finding"
)

// route gathers what was made: numbers the steps by when they begin, adds up
// hours and lays out the calendar.
func (m *maker) route() Route {
	r := Route{Steps: m.steps, Glueups: m.glues, Finishes: m.coats, Sticks: m.stick, Pieces: m.n}
	r.Hours = m.hours()
	r.Calendar = m.calendar(r.Hours)
	m.renumber(&r)
	m.hands(r)
	m.guessed(r.Hours)
	r.Findings = once(m.finds)
	return r
}

// hours adds the steps up by operation, with what the record has.
func (m *maker) hours() []Hours {
	var out []Hours
	for _, op := range Ops() {
		rate := m.rates[op]
		h := Hours{Op: op, Name: rate.Name, Unit: rate.Unit, Source: rate.Source}
		for _, s := range m.steps {
			if s.Op == op {
				h.Units += s.Units
				h.Setup += s.Setup
				h.Each += s.Each
			}
		}
		h.Estimated = h.For(m.n)
		spent := 0.0
		for _, r := range m.Record.Hours {
			if r.Operation == string(op) {
				spent += r.Hours
				h.Done = h.Done || r.Done
			}
		}
		h.Actual = Minutes(math.Round(spent * 60))
		if h.Done && h.Units > 0 {
			h.Learned = max(0, float64(h.Actual-h.Setup)) / (h.Units * float64(m.n))
		}
		if h.Estimated > 0 || h.Actual > 0 {
			out = append(out, h)
		}
	}
	return out
}

// pace is by how much an operation is quicker or slower than estimated, where
// the record says that it is done.
func pace(hours []Hours) map[Op]float64 {
	out := map[Op]float64{}
	for _, h := range hours {
		if h.Done && h.Estimated > 0 {
			out[h.Op] = float64(h.Actual) / float64(h.Estimated)
		}
	}
	return out
}

// tasks turns the steps into those of the calendar: a glue-up of several
// rounds into as many, each with its time in the clamps. first and last are
// the tasks of each step.
func (m *maker) tasks(hours []Hours) (tasks []Task, first, last []int) {
	factor := pace(hours)
	for _, s := range m.steps {
		work := s.Minutes()
		if f, ok := factor[s.Op]; ok {
			work = minutes(float64(work) * f)
		}
		var after []int
		for _, n := range s.After {
			after = append(after, last[n-1])
		}
		rounds := Minutes(max(1, s.Rounds))
		first = append(first, len(tasks))
		for k := range rounds {
			t := Task{Minutes: work / rounds, Wait: s.Wait, People: s.People, Machine: s.Machine, Whole: s.Whole, After: after}
			if k < work%rounds {
				t.Minutes++
			}
			after = []int{len(tasks)}
			tasks = append(tasks, t)
		}
		last = append(last, len(tasks)-1)
	}
	return tasks, first, last
}

// calendar gives every step its times.
func (m *maker) calendar(hours []Hours) Calendar {
	w := m.Shop.Working
	tasks, first, last := m.tasks(hours)
	c := Calendar{Start: m.Piece.Start, DeliverBy: m.Piece.DeliverBy, HoursADay: w.Hours, People: max(1, w.People)}
	if c.DeliverBy != "" {
		if day, ok := Backward(tasks, w, c.DeliverBy); ok {
			c.LatestDay = day
			if c.Start == "" {
				c.Start = day
			}
		}
	}
	when, days := forward(tasks, w, c.Start)
	c.days = days
	var spans []span
	for i := range m.steps {
		s := &m.steps[i]
		s.Start, s.End, s.Ready = when[first[i]].Start, when[last[i]].End, when[last[i]].Ready
	}
	for i, t := range when {
		c.Work += tasks[i].Minutes
		if tasks[i].Minutes > 0 {
			spans = append(spans, span{t.Start, t.End})
		}
	}
	c.WorkedDays = workedDays(spans, days)
	done := end(when)
	c.Days = (done - 1).Day() + 1
	if done == 0 {
		c.Days = 0
	}
	c.Delivery = days.Date(max(c.Days-1, 0))
	if c.Start != "" && c.DeliverBy != "" && c.Delivery > c.DeliverBy {
		late := between(c.DeliverBy, c.Delivery)
		f := finding.Finding{
			ID: "late", Level: finding.Care, Place: "deliver-by",
			Says:   fmt.Sprintf("Begun on %s it is delivered on %s, %s after the day wanted (%s).", c.Start, c.Delivery, document.Count(late, "day"), c.DeliverBy),
			Figure: c.Delivery, Limit: c.DeliverBy, Source: "hours of the shop, drying and clamp times; see the calendar",
		}
		f.Advice = "Work more hours a day, or agree on " + c.Delivery + "."
		if c.LatestDay != "" {
			f.Advice = fmt.Sprintf("Begin by %s, work more hours a day, or agree on %s.", c.LatestDay, c.Delivery)
			f.Fix = finding.Set("start", c.LatestDay, "Begin on "+c.LatestDay)
		}
		m.say(f)
	}
	if m.Shop.Working.Hours > 0 {
		for _, s := range m.steps {
			if r := max(1, s.Rounds); s.Whole && s.Minutes()/Minutes(r) > Minutes(w.Hours*60) {
				m.say(finding.Finding{
					ID: "longer-than-a-day", Level: finding.Care, Place: s.Title,
					Says:   fmt.Sprintf("%s takes %s h at a stretch and cannot be left overnight; a day has %s h.", s.Title, figure((s.Minutes() / Minutes(r)).Hours()), figure(w.Hours)),
					Figure: figure((s.Minutes() / Minutes(r)).Hours()) + " h", Limit: figure(w.Hours) + " h", Advice: "Take two days' parts apart, or a second pair of hands, or one long day.", Source: "times of the shop",
				})
			}
		}
	}
	return c
}

// renumber puts the steps in the order in which they begin, so that the list
// reads like the days go.
func (m *maker) renumber(r *Route) {
	order := make([]int, len(r.Steps))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(r.Steps[a].Start - r.Steps[b].Start) })
	to := map[int]int{0: 0}
	steps := make([]Step, len(order))
	for n, i := range order {
		to[i+1] = n + 1
		steps[n] = r.Steps[i]
	}
	for i := range steps {
		steps[i].N = i + 1
		after := make([]int, len(steps[i].After))
		for k, a := range steps[i].After {
			after[k] = to[a]
		}
		slices.Sort(after)
		steps[i].After = after
	}
	for i := range r.Glueups {
		r.Glueups[i].Step = to[r.Glueups[i].Step]
	}
	for i := range r.Finishes {
		s := &r.Finishes[i]
		s.Sanding = to[s.Sanding]
		for k := range s.Steps {
			s.Steps[k] = to[s.Steps[k]]
		}
	}
	r.Steps = steps
}

// hands says which steps want more people than work in the shop.
func (m *maker) hands(r Route) {
	var names []string
	most := 0
	for _, s := range r.Steps {
		if s.People > max(1, m.Shop.Working.People) {
			names = append(names, fmt.Sprintf("%d (%s)", s.N, s.Title))
			most = max(most, s.People)
		}
	}
	if len(names) == 0 {
		return
	}
	m.say(finding.Finding{
		ID: "second-hands", Level: finding.Note, Place: "calendar",
		Says:   fmt.Sprintf("The calendar has %s for %d people: %s.", document.Count(len(names), "step"), most, strings.Join(names, ", ")),
		Figure: fmt.Sprint(most), Limit: fmt.Sprint(max(1, m.Shop.Working.People)), Advice: "Ask somebody for those days, or use a cart, a hoist and longer straps.", Source: Common,
	})
}

// guessed says how much of the time is nobody's but the table's: calendar and
// price rest on it. What the record has timed is known.
func (m *maker) guessed(hours []Hours) {
	var all, guess Minutes
	n := 0
	for _, h := range hours {
		all += h.Estimated
		if _, own := m.Shop.Times[string(h.Op)]; own || h.Done || h.Estimated == 0 {
			continue
		}
		n++
		guess += h.Estimated
	}
	if guess == 0 {
		return
	}
	m.say(finding.Finding{
		ID: "times-guessed", Level: finding.Note, Place: "times",
		Says:   fmt.Sprintf("First guesses make up %.1f of %.1f h of work, in %s; calendar and price rest on them.", float64(guess)/60, float64(all)/60, document.Count(n, "operation")),
		Figure: fmt.Sprintf("%.1f h", float64(guess)/60), Limit: "times of the shop",
		Advice: "Before you promise a day or a price, go over the hours by operation and put your own minutes under times in the shop; write down what this piece takes.", Source: Common,
	})
}

// once keeps the first finding of each kind that says the same of every
// glue-up.
func once(fs []finding.Finding) []finding.Finding {
	seen := map[string]bool{}
	var out []finding.Finding
	for _, f := range fs {
		if k := f.ID + f.Says; !seen[k] {
			seen[k] = true
			out = append(out, f)
		}
	}
	return out
}
