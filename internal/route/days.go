package route

import (
	"fmt"
	"slices"
	"time"

	"casewright/internal/shop"
)

// Moment is minutes of the clock since midnight before the first day. Days are
// counted from 0; 24 hours each, whatever summer time does.
type Moment int

const (
	perDay = 24 * 60
	// longest is as far as the calendar looks: ten years.
	longest = 3660
)

// Day is the day of a moment, from 0.
func (m Moment) Day() int { return int(m) / perDay }

// Clock is the time of day, such as 14:05.
func (m Moment) Clock() string {
	t := int(m) % perDay
	return fmt.Sprintf("%d:%02d", t/60, t%60)
}

// Days knows which days are worked and from when to when. First is the date
// of day 0, or zero where none is given: then day 0 is a Monday.
type Days struct {
	first  time.Time
	opens  int // minutes after midnight
	length int // minutes of work in a day
	worked [7]bool
	closed map[string]bool
}

// DaysOf are the working days of a shop from a first day on, written year,
// month, day, or "".
func DaysOf(w shop.Working, first string) Days {
	d := Days{opens: int(w.Starts * 60), length: int(w.Hours * 60), closed: map[string]bool{}}
	if t, err := time.Parse(time.DateOnly, first); err == nil {
		d.first = t
	}
	if d.length <= 0 || d.length > perDay {
		d.length = 6 * 60
	}
	d.opens = max(0, min(d.opens, perDay-d.length))
	last := map[string]time.Weekday{"mon-sat": time.Saturday, "all": time.Saturday}[w.Days]
	if last == 0 {
		last = time.Friday
	}
	for i := time.Monday; i <= last; i++ {
		d.worked[i] = true
	}
	d.worked[time.Sunday] = w.Days == "all"
	for _, c := range w.Closed {
		d.closed[c] = true
	}
	return d
}

// Date is the date of a day, "" where no first day is given.
func (d Days) Date(day int) string {
	if d.first.IsZero() {
		return ""
	}
	return d.first.AddDate(0, 0, day).Format(time.DateOnly)
}

// Weekday is the day of the week of a day.
func (d Days) Weekday(day int) time.Weekday {
	if d.first.IsZero() {
		return time.Weekday((day + 1) % 7)
	}
	return d.first.AddDate(0, 0, day).Weekday()
}

// Open says that a day is worked.
func (d Days) Open(day int) bool {
	return d.worked[d.Weekday(day)] && !d.closed[d.Date(day)]
}

// next is the first moment from m on at which work may begin.
func (d Days) next(m Moment) Moment {
	day, at := m.Day(), int(m)%perDay
	if at >= d.opens+d.length {
		day, at = day+1, 0
	}
	for n := 0; !d.Open(day) && n < longest; n++ {
		day, at = day+1, 0
	}
	return Moment(day*perDay + max(at, d.opens))
}

// left is how much of the working day is left at a moment within it.
func (d Days) left(m Moment) Minutes {
	return Minutes(d.opens + d.length - int(m)%perDay)
}

// Work is when work of some length that may begin at from begins and ends. It
// stops at night and goes on in the morning, unless it is whole and fits into
// a day: then it waits for a day with room enough.
func (d Days) Work(from Moment, length Minutes, whole bool) (start, end Moment) {
	start = d.next(from)
	if length <= 0 {
		return start, start
	}
	if whole && length <= Minutes(d.length) && d.left(start) < length {
		start = d.next(Moment((start.Day() + 1) * perDay))
	}
	at := start
	for length > d.left(at) {
		length -= d.left(at)
		at = d.next(Moment((at.Day() + 1) * perDay))
	}
	return start, at + Moment(length)
}

// since is the date some days before another.
func since(date string, days int) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return ""
	}
	return t.AddDate(0, 0, -days).Format(time.DateOnly)
}

// between is how many days lie from one date to another.
func between(from, to string) int {
	a, err1 := time.Parse(time.DateOnly, from)
	b, err2 := time.Parse(time.DateOnly, to)
	if err1 != nil || err2 != nil {
		return 0
	}
	return int(b.Sub(a).Hours() / 24)
}

// workedDays counts the open days that any of the spans reaches over.
func workedDays(spans []span, d Days) int {
	seen := map[int]bool{}
	for _, s := range spans {
		for day := s.start.Day(); day <= (s.end - 1).Day(); day++ {
			if d.Open(day) {
				seen[day] = true
			}
		}
	}
	return len(seen)
}

type span struct{ start, end Moment }

func latest(ms ...Moment) Moment { return slices.Max(ms) }
