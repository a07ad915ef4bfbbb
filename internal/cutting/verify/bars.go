package verify

import (
	"fmt"

	"casewright/internal/cutting"
	"casewright/internal/unit"
)

// Bars checks an answer for lengths cut from bars.
func Bars(job cutting.BarJob, r cutting.BarResult) error {
	made := make([]int, len(job.Items))
	used := make([]int, len(job.Bars))
	var value int64
	for i, l := range r.Layouts {
		b := job.Bars[l.Bar]
		room := b.Len - 2*b.Trim + job.Kerf // the last blade may run off
		for _, p := range l.Parts {
			if p.Qty <= 0 || l.Copies <= 0 {
				return fmt.Errorf("layout %d: %d pieces, %d copies", i+1, p.Qty, l.Copies)
			}
			room -= unit.Length(p.Qty) * (job.Items[p.Item].Len + job.Kerf)
			made[p.Item] += p.Qty * l.Copies
		}
		if room < 0 {
			return fmt.Errorf("layout %d: the bar is %v mm too short", i+1, (-room).MM())
		}
		if left := max(0, room-job.Kerf); l.Left != left {
			return fmt.Errorf("layout %d: %v mm are left, told %v", i+1, left.MM(), l.Left.MM())
		}
		used[l.Bar] += l.Copies
		if job.Objective == cutting.LeastPrice {
			value += int64(l.Copies) * int64(b.Price)
		} else {
			value += int64(l.Copies)
		}
	}
	for _, s := range r.Short {
		made[s.Item] += s.Count
	}
	for i, n := range made {
		if n != job.Items[i].Qty {
			return fmt.Errorf("item %d (%s): %d made or short, %d asked for", i, job.Items[i].ID, n, job.Items[i].Qty)
		}
	}
	for i, n := range used {
		if s := job.Bars[i].Stock; s >= 0 && n > s {
			return fmt.Errorf("bar %d (%s): %d used, %d in stock", i, job.Bars[i].ID, n, s)
		}
	}
	if value != r.Value {
		return fmt.Errorf("the layouts are worth %d, the result says %d", value, r.Value)
	}
	if len(r.Short) == 0 && r.Value < r.Bound {
		return fmt.Errorf("the value %d is below the bound %d", r.Value, r.Bound)
	}
	if r.Proven && (r.Value != r.Bound || len(r.Short) > 0) {
		return fmt.Errorf("told proven with value %d, bound %d, %d short", r.Value, r.Bound, len(r.Short))
	}
	return nil
}
