package benchfile

import (
	"fmt"
	"io"
	"math"
)

// Tally sums up how the cases of a file went.
type Tally struct {
	Cases, Valid, Proven int
	Equal, Better, Worse int     // against the best value known, where one is
	Value, Best          float64 // sums over the cases with a best value known
	gap                  float64
	Seconds              float64
}

// Add counts one case; valid is false when there was no sound plan.
func (t *Tally) Add(c Case, p Plan, valid bool) {
	t.Cases++
	t.Seconds += p.Seconds
	if !valid {
		return
	}
	t.Valid++
	if p.Proven {
		t.Proven++
	}
	if low := max(p.Bound, c.Lower); low > 0 {
		t.gap += p.Value/low - 1
	}
	if c.Best == nil {
		return
	}
	t.Value += p.Value
	t.Best += *c.Best
	switch d := p.Value - *c.Best; {
	case math.Abs(d) <= 1e-4+1e-9*math.Abs(*c.Best):
		t.Equal++
	case d < 0:
		t.Better++
	default:
		t.Worse++
	}
}

// Gap is the average distance from the higher of our bound and the one known,
// in percent.
func (t *Tally) Gap() float64 {
	if t.Valid == 0 {
		return 0
	}
	return 100 * t.gap / float64(t.Valid)
}

// Head writes the column heads that belong to Row.
func Head(w io.Writer) {
	fmt.Fprintf(w, "%-18s %6s %6s %7s %6s %7s %6s %8s %12s %12s %8s\n", "file", "cases", "valid", "proven", "equal", "better", "worse", "gap %", "value", "best known", "seconds")
}

// Row writes the tally as one line of a table.
func (t *Tally) Row(w io.Writer, name string) {
	fmt.Fprintf(w, "%-18s %6d %6d %7d %6d %7d %6d %8.3f %12.10g %12.10g %8.1f\n", name, t.Cases, t.Valid, t.Proven, t.Equal, t.Better, t.Worse, t.Gap(), t.Value, t.Best, t.Seconds)
}
