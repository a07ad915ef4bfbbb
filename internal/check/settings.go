package check

import (
	"fmt"

	"casewright/internal/finding"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// settings says which sequences ask for cuts the saw does not reach.
func settings(in Input) []finding.Finding {
	var out []finding.Finding
	for _, s := range in.Setups {
		n, most := 0, unit.Length(0)
		for _, st := range s.Setups {
			if st.Way == saw.Beyond {
				n++
				most = max(most, st.Setting)
			}
		}
		if n == 0 {
			continue
		}
		reach := in.Shop.Saws[s.Saw].Reach
		f := finding.Finding{
			ID: "fence-reach", Level: finding.Note, Place: s.Title, Figure: in.Show(most), Limit: in.Show(reach),
			Says:   fmt.Sprintf("The fence of the %s reaches %s; of %s, %s beyond it, up to %s.", shop.Words(s.Saw), in.Show(reach), settingsInAll(len(s.Setups)), lie(n), in.Show(most)),
			Advice: "Mark these and cut them with a track saw or against a guide.", Source: "reach of the saw, from the shop",
		}
		if s.Part != "" {
			f.Level = finding.Care
			f.Advice = "Cut these kerfs with a track saw or a guide from one marked end, or on a sled with a spacer; test the spacing on scrap."
		}
		out = append(out, f)
	}
	return out
}

func settingsInAll(n int) string {
	if n == 1 {
		return "one setting"
	}
	return fmt.Sprintf("%d settings", n)
}

func lie(n int) string {
	if n == 1 {
		return "one lies"
	}
	return fmt.Sprintf("%d lie", n)
}
