package route

import (
	"cmp"
	"fmt"
	"slices"

	"casewright/internal/shop"
)

// Task is work for the calendar: when all of After are ready it takes so many
// people and a machine for its minutes, then waits without hands.
type Task struct {
	Minutes Minutes
	Wait    Minutes
	People  int
	Machine string
	Whole   bool
	After   []int // indices of earlier tasks
}

// Times are when a task begins, when its work ends, and when what follows may
// begin.
type Times struct{ Start, End, Ready Moment }

// schedule gives every task its times. Whoever is free takes the task that
// can begin soonest; among those that can begin together the one that comes
// first in the order. Nothing is begun before the tasks it needs are ready,
// no machine does two things at once, and one who cannot be spared is waited
// for. A task that asks for more people than there are takes all of them.
func schedule(tasks []Task, days Days, people int, before func(a, b int) bool) []Times {
	people = max(1, people)
	free := make([]Moment, people)
	machine := map[string]Moment{}
	out := make([]Times, len(tasks))
	done := make([]bool, len(tasks))
	for range tasks {
		best := -1
		var at Times
		for i, t := range tasks {
			if done[i] || slices.ContainsFunc(t.After, func(j int) bool { return !done[j] }) {
				continue
			}
			from := free[min(max(t.People, 1), people)-1]
			if t.Machine != "" {
				from = latest(from, machine[t.Machine])
			}
			for _, j := range t.After {
				from = latest(from, out[j].Ready)
			}
			start, end := days.Work(from, t.Minutes, t.Whole)
			if best < 0 || start < at.Start || start == at.Start && before(i, best) {
				best, at = i, Times{start, end, end + Moment(t.Wait)}
			}
		}
		if best < 0 { // a ring: the maker of tasks refers to earlier ones only
			return out
		}
		t := tasks[best]
		out[best], done[best] = at, true
		for k := range min(max(t.People, 1), people) {
			free[k] = at.End
		}
		slices.Sort(free)
		if t.Machine != "" {
			machine[t.Machine] = at.End
		}
	}
	return out
}

// tails is for each task the longest way from its start to the end of all,
// work and waits, as if every hour were worked.
func tails(tasks []Task) []Minutes {
	out := make([]Minutes, len(tasks))
	for i := len(tasks) - 1; i >= 0; i-- {
		out[i] += tasks[i].Minutes + tasks[i].Wait
		for _, j := range tasks[i].After {
			out[j] = max(out[j], out[i])
		}
	}
	return out
}

// Plan puts the tasks on days: in their order, or, where that ends sooner,
// with the longest way to the end first.
func Plan(tasks []Task, days Days, people int) []Times {
	inOrder := schedule(tasks, days, people, func(a, b int) bool { return a < b })
	tail := tails(tasks)
	byTail := schedule(tasks, days, people, func(a, b int) bool {
		return cmp.Or(cmp.Compare(tail[b], tail[a]), cmp.Compare(a, b)) < 0
	})
	if end(byTail) < end(inOrder) {
		return byTail
	}
	return inOrder
}

// end is when all is ready.
func end(times []Times) Moment {
	var m Moment
	for _, t := range times {
		m = max(m, t.Ready)
	}
	return m
}

// Calendar is when the work is done. Days count from 0, the first day; dates
// are empty where neither a start nor a day of delivery is given.
type Calendar struct {
	Start      string  `json:"start,omitempty"`
	Delivery   string  `json:"delivery,omitempty"`
	DeliverBy  string  `json:"deliver_by,omitempty"`
	LatestDay  string  `json:"latest_start,omitempty"` // to begin on, for DeliverBy
	Days       int     `json:"days"`                   // from the first to the delivery, both counted
	WorkedDays int     `json:"worked_days"`
	Work       Minutes `json:"work_minutes"`
	HoursADay  float64 `json:"hours_a_day"`
	People     int     `json:"people"`
	days       Days
}

// On is the day of a moment as it stands on papers: a date, or day 3.
func (c Calendar) On(m Moment) string {
	if d := c.days.Date(m.Day()); d != "" {
		return d
	}
	return fmt.Sprintf("day %d", m.Day()+1)
}

// forward is when the tasks end that begin on a date.
func forward(tasks []Task, w shop.Working, start string) ([]Times, Days) {
	days := DaysOf(w, start)
	return Plan(tasks, days, w.People), days
}

// Backward is the latest day on which the tasks may begin so that they are
// ready by the end of a day, and false where ten years are not enough.
func Backward(tasks []Task, w shop.Working, by string) (string, bool) {
	var work Minutes
	for _, t := range tasks {
		work += t.Minutes
	}
	least := int(work) / (max(1, w.People) * DaysOf(w, by).length) // fewer days cannot do
	for n := max(0, least-1); n < longest; n++ {
		start := since(by, n)
		days := DaysOf(w, start)
		if start == "" || !days.Open(0) {
			continue
		}
		if times := Plan(tasks, days, w.People); end(times) <= Moment((n+1)*perDay) {
			return start, true
		}
	}
	return "", false
}
