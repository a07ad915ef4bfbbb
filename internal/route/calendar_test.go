package route

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"casewright/internal/shop"
)

// tasksOf draws a few tasks, each after some of the earlier ones.
func tasksOf(t *rapid.T, most int) []Task {
	n := rapid.IntRange(1, most).Draw(t, "tasks")
	out := make([]Task, n)
	for i := range out {
		out[i] = Task{
			Minutes: Minutes(rapid.IntRange(0, 400).Draw(t, "minutes")), Wait: Minutes(rapid.SampledFrom([]int{0, 0, 30, 90, 600, 1440}).Draw(t, "wait")),
			People: rapid.IntRange(1, 3).Draw(t, "people"), Whole: rapid.Bool().Draw(t, "whole"), Machine: rapid.SampledFrom([]string{"", "", "saw", "planer"}).Draw(t, "machine"),
		}
		for j := range i {
			if rapid.IntRange(0, 2).Draw(t, "after") == 0 {
				out[i].After = append(out[i].After, j)
			}
		}
	}
	return out
}

func workingOf(t *rapid.T) shop.Working {
	return shop.Working{
		People: rapid.IntRange(1, 2).Draw(t, "people"), Hours: float64(rapid.IntRange(2, 16).Draw(t, "half hours")) / 2, Starts: float64(rapid.IntRange(0, 16).Draw(t, "starts")),
		Days: rapid.SampledFrom([]string{"mon-fri", "mon-sat", "all"}).Draw(t, "days"), Closed: []string{"2027-03-03", "2027-03-05"},
	}
}

// worked is the oracle for Days: minute by minute, is it worked?
func worked(w shop.Working, first string, m int) bool {
	day, _ := time.Parse(time.DateOnly, first)
	at := day.Add(time.Duration(m) * time.Minute)
	switch at.Weekday() {
	case time.Sunday:
		if w.Days != "all" {
			return false
		}
	case time.Saturday:
		if w.Days == "mon-fri" {
			return false
		}
	}
	if slices.Contains(w.Closed, at.Format(time.DateOnly)) {
		return false
	}
	opens := min(int(w.Starts*60), 24*60-int(w.Hours*60))
	of := at.Hour()*60 + at.Minute()
	return of >= opens && of < opens+int(w.Hours*60)
}

// TestWorkMinuteByMinute: Days.Work agrees with counting every minute of the
// clock.
func TestWorkMinuteByMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := workingOf(t)
		const first = "2027-03-01"
		from, length, whole := rapid.IntRange(0, 9000).Draw(t, "from"), rapid.IntRange(1, 900).Draw(t, "length"), rapid.Bool().Draw(t, "whole")
		at := from
		for ; ; at++ { // the first minute at which it may begin
			if !worked(w, first, at) {
				continue
			}
			room := 0
			for worked(w, first, at+room) && room < length {
				room++
			}
			if !whole || room == length || length > int(w.Hours*60) {
				break
			}
			if w.Hours == 24 {
				break
			}
		}
		start, left := at, length
		for ; left > 0; at++ {
			if worked(w, first, at) {
				left--
			}
		}
		s, e := DaysOf(w, first).Work(Moment(from), Minutes(length), whole)
		if int(s) != start || int(e) != at {
			t.Fatalf("from %d for %d: %d to %d, counted %d to %d", from, length, s, e, start, at)
		}
	})
}

// sound says what is wrong with a calendar, "" if nothing: by the rules alone,
// minute by minute, knowing nothing of how it was made.
func sound(tasks []Task, when []Times, people int) string {
	busy := map[Moment]int{}
	machine := map[string]map[Moment]bool{}
	for i, t := range tasks {
		x := when[i]
		for _, j := range t.After {
			if when[j].Ready > x.Start {
				return "a task begins before what it needs is ready"
			}
		}
		if x.Ready != x.End+Moment(t.Wait) {
			return "a wait is cut short"
		}
		for m := x.Start; m < x.End; m++ {
			if busy[m] += min(max(1, t.People), people); busy[m] > people {
				return "somebody does two things at once"
			}
			if t.Machine != "" {
				if machine[t.Machine] == nil {
					machine[t.Machine] = map[Moment]bool{}
				}
				if machine[t.Machine][m] {
					return "a machine does two things at once"
				}
				machine[t.Machine][m] = true
			}
		}
	}
	return ""
}

// best is the earliest end of all orders in which tasks can be begun one after
// another, each as soon as it can: brute force.
func best(tasks []Task, days Days, people int) Moment {
	soonest := Moment(1 << 40)
	var try func(order []int)
	try = func(order []int) {
		if len(order) == len(tasks) {
			place := make([]int, len(tasks))
			for k, i := range order {
				place[i] = k
			}
			soonest = min(soonest, end(inOrder(tasks, order, days, people)))
			return
		}
		for i, t := range tasks {
			if !slices.Contains(order, i) && !slices.ContainsFunc(t.After, func(j int) bool { return !slices.Contains(order, j) }) {
				try(append(slices.Clone(order), i))
			}
		}
	}
	try(nil)
	return soonest
}

// inOrder begins tasks strictly in an order, each as soon as it can.
func inOrder(tasks []Task, order []int, days Days, people int) []Times {
	free := make([]Moment, people)
	machine := map[string]Moment{}
	out := make([]Times, len(tasks))
	for _, i := range order {
		t := tasks[i]
		n := min(max(1, t.People), people)
		slices.Sort(free)
		from := max(free[n-1], machine[t.Machine])
		if t.Machine == "" {
			from = free[n-1]
		}
		for _, j := range t.After {
			from = max(from, out[j].Ready)
		}
		s, e := days.Work(from, t.Minutes, t.Whole)
		out[i] = Times{s, e, e + Moment(t.Wait)}
		for k := range n {
			free[k] = e
		}
		if t.Machine != "" {
			machine[t.Machine] = e
		}
	}
	return out
}

// TestPlanAgainstBruteForce: on small cases the calendar keeps every rule,
// never ends before the best of all orders, and is seldom far from it.
func TestPlanAgainstBruteForce(t *testing.T) {
	cases, optimal := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		tasks, w := tasksOf(t, 6), workingOf(t)
		days := DaysOf(w, "2027-03-01")
		when := Plan(tasks, days, w.People)
		if says := sound(tasks, when, w.People); says != "" {
			t.Fatal(says)
		}
		got, want := end(when), best(tasks, days, w.People)
		if got < want {
			t.Fatalf("ends at %d, before the best of all orders at %d", got, want)
		}
		cases++
		if got == want {
			optimal++
		}
	})
	t.Logf("the best of all orders in %d of %d cases", optimal, cases)
	if optimal*10 < cases*7 {
		t.Errorf("the best of all orders in only %d of %d cases", optimal, cases)
	}
}

// TestBackwardAgainstBruteForce: the latest start is the latest of all days
// tried one by one from far back.
func TestBackwardAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tasks, w := tasksOf(t, 5), workingOf(t)
		const by = "2027-04-09"
		last := ""
		for n := 90; n >= 0; n-- {
			start := since(by, n)
			days := DaysOf(w, start)
			if days.Open(0) && end(Plan(tasks, days, w.People)) <= Moment((n+1)*perDay) {
				last = start
			}
		}
		got, ok := Backward(tasks, w, by)
		if !ok || got != last {
			t.Fatalf("begin on %s, tried %s", got, last)
		}
	})
}

// TestADay works one case by hand: three hours a day from 9:00, Monday first;
// 200 minutes of work, a glue-up of 60 that may not be cut, 24 hours in clamps,
// then 30.
func TestADay(t *testing.T) {
	w := shop.Working{People: 1, Hours: 3, Starts: 9, Days: "mon-fri"}
	tasks := []Task{{Minutes: 200}, {Minutes: 60, Wait: 1440, Whole: true, After: []int{0}}, {Minutes: 30, After: []int{1}}}
	days := DaysOf(w, "2027-03-04") // a Thursday
	got := Plan(tasks, days, 1)
	at := func(day, hour, minute int) Moment { return Moment(day*perDay + hour*60 + minute) }
	want := []Times{
		{at(0, 9, 0), at(1, 9, 20), at(1, 9, 20)},    // Thursday, 20 minutes left for Friday
		{at(1, 9, 20), at(1, 10, 20), at(2, 10, 20)}, // Friday; clamps off on Saturday
		{at(4, 9, 0), at(4, 9, 30), at(4, 9, 30)},    // Monday
	}
	if !slices.Equal(got, want) {
		t.Errorf("%v\nwant %v", got, want)
	}
	if d := days.Date(4); d != "2027-03-08" || days.Weekday(4) != time.Monday {
		t.Errorf("day 4 is %s, a %s", d, days.Weekday(4))
	}
	if start, ok := Backward(tasks, w, "2027-03-08"); !ok || start != "2027-03-04" {
		t.Errorf("begin on %s", start)
	}
}

func BenchmarkPlan(b *testing.B) {
	tasks := make([]Task, 60)
	for i := range tasks {
		tasks[i] = Task{Minutes: Minutes(20 + i), Wait: Minutes(i % 7 * 60)}
		if i > 1 {
			tasks[i].After = []int{i - 2}
		}
	}
	days := DaysOf(shop.Working{Hours: 6, Starts: 8}, "2027-03-01")
	for b.Loop() {
		Plan(tasks, days, 1)
	}
}
