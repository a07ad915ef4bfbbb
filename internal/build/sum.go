package build

import (
	"fmt"
	"strings"

	"casewright/internal/unit"
)

// Dim is a size together with the sum it came from, so that every number can
// be asked "why".
type Dim struct {
	Size unit.Length `json:"size"`
	Why  []Term      `json:"why,omitempty"`
}

// Term is one step of a sum: first value, then each addition, subtraction or
// division in order. A term with Over > 0 divides what stands so far.
type Term struct {
	Times int         `json:"times,omitempty"` // ±n; 0 for the division
	What  string      `json:"what"`
	Each  unit.Length `json:"each,omitempty"`
	Over  int         `json:"over,omitempty"`
}

// From starts a sum with a named size.
func From(what string, size unit.Length) Dim {
	return Dim{size, []Term{{Times: 1, What: what, Each: size}}}
}

// Plus adds n times a named size.
func (d Dim) Plus(n int, what string, each unit.Length) Dim {
	if n == 0 || each == 0 {
		return d
	}
	return Dim{d.Size + unit.Length(n)*each, d.and(Term{Times: n, What: what, Each: each})}
}

// Less takes n times a named size away.
func (d Dim) Less(n int, what string, each unit.Length) Dim { return d.Plus(-n, what, each) }

// Over divides what stands so far into n shares, rounded down to a nanometre.
func (d Dim) Over(n int, what string) Dim {
	if n <= 1 {
		return d
	}
	return Dim{d.Size / unit.Length(n), d.and(Term{What: what, Over: n})}
}

func (d Dim) and(t Term) []Term {
	why := make([]Term, 0, len(d.Why)+1)
	return append(append(why, d.Why...), t)
}

// Text writes the sum as a line, each size printed by show:
// "1500 outside width − 2 × 30 stile − 2 × 24 divider, shared by 3 = 464".
func (d Dim) Text(show func(unit.Length) string) string {
	var b strings.Builder
	for i, t := range d.Why {
		switch {
		case t.Over > 0:
			fmt.Fprintf(&b, ", shared by %d %s", t.Over, t.What)
			continue
		case i > 0 && t.Times < 0:
			b.WriteString(" − ")
		case i > 0:
			b.WriteString(" + ")
		case t.Times < 0:
			b.WriteString("−")
		}
		if n := max(t.Times, -t.Times); n > 1 {
			fmt.Fprintf(&b, "%d × ", n)
		}
		fmt.Fprintf(&b, "%s %s", show(t.Each), t.What)
	}
	if len(d.Why) > 1 {
		b.WriteString(" = " + show(d.Size))
	}
	return b.String()
}
