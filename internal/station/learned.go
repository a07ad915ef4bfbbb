package station

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/document"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Learned is what the records taught about one panel or one saw, or one panel
// on one saw.
type Learned struct {
	Title string   `json:"title"`
	Says  string   `json:"says"`
	From  []string `json:"from" doc:"the measures it comes from, with their pieces"`
}

// learned are the thicknesses, kerfs and test bends of all records, with mean
// and spread.
func (r *room) learned() []Learned {
	out := []Learned{}
	for _, k := range keys(r.s.Panels) {
		if all, from := r.thicknesses(k); len(all) > 0 {
			out = append(out, Learned{document.Capital(shop.Called(r.s.Panels[k].Name, k)), fmt.Sprintf("Thickness %s.", r.spread(all)), from})
		}
	}
	for _, k := range keys(r.s.Saws) {
		if all, from := r.kerfs(k); len(all) > 0 {
			out = append(out, Learned{document.Capital(shop.Words(k)) + " saw", fmt.Sprintf("Kerf %s.", r.spread(all)), from})
		}
	}
	return append(out, r.bendsLearned()...)
}

func (r *room) thicknesses(key string) (all []unit.Length, from []string) {
	for _, m := range r.made {
		if points := m.Record.Thicknesses[key]; len(points) > 0 {
			all = append(all, points...)
			from = append(from, fmt.Sprintf("%s: %s", m.Name, document.Count(len(points), "point")))
		}
	}
	return all, from
}

func (r *room) kerfs(key string) (all []unit.Length, from []string) {
	for _, m := range r.made {
		if w := m.Record.Kerfs[key]; w > 0 {
			all = append(all, w)
			from = append(from, fmt.Sprintf("%s: %s", m.Name, r.fine(w)))
		}
	}
	return all, from
}

// spread is the mean of lengths with the least, the most and how many.
func (r *room) spread(all []unit.Length) string {
	mean := meanOf(all)
	if len(all) == 1 {
		return r.fine(mean)
	}
	return fmt.Sprintf("%s on average of %s; %s to %s", r.fine(mean), document.Count(len(all), "measure"), r.fine(slices.Min(all)), r.fine(slices.Max(all)))
}

func meanOf(all []unit.Length) unit.Length {
	var sum unit.Length
	for _, l := range all {
		sum += l
	}
	return (sum / unit.Length(len(all))).Round(unit.Micrometre)
}

// measuredKerfs sets the kerf that the shop says beside those measured since.
func (r *room) measuredKerfs(key string, says unit.Length) []Figure {
	all, from := r.kerfs(key)
	if len(all) == 0 {
		return nil
	}
	return []Figure{{Name: "Kerf measured since", Value: r.spread(all), Why: strings.Join(from, "; ") + ". A record's own kerf goes before the shop's " + r.fine(says) + "."}}
}

// measuredThickness is the same for a panel.
func (r *room) measuredThickness(key string, says unit.Length) []Figure {
	all, from := r.thicknesses(key)
	if len(all) == 0 {
		return nil
	}
	return []Figure{{Name: "Thickness measured since", Value: r.spread(all), Why: strings.Join(from, "; ") + ". A record's own mean goes before the shop's " + r.size(says) + "."}}
}

// bendsLearned is the neutral depth that test bends gave, by panel and saw.
func (r *room) bendsLearned() []Learned {
	type pair struct{ panel, saw string }
	ratios := map[pair][]float64{}
	from := map[pair][]string{}
	var order []pair
	for _, m := range r.made {
		for _, t := range m.Record.TestBends {
			k := pair{t.Panel, t.Saw}
			test := bend.TestBend{Count: t.Kerfs, Turned: t.Angle, Skin: t.Skin, Thickness: t.Thickness, Kerf: t.Kerf}
			if test.Thickness == 0 {
				test.Thickness = r.s.Panels[t.Panel].Thickness
			}
			if test.Kerf == 0 {
				test.Kerf = r.s.Saws[t.Saw].Kerf
			}
			if _, ok := from[k]; !ok {
				order = append(order, k)
			}
			said := fmt.Sprintf("%s: %s in a skin of %s closed at %s", m.Name, document.Count(t.Kerfs, "kerf"), r.fine(t.Skin), degrees(t.Angle))
			if ratio, err := test.NeutralRatio(); err == nil {
				ratios[k] = append(ratios[k], ratio)
			} else {
				said += ", which cannot be and is left out"
			}
			from[k] = append(from[k], said)
		}
	}
	var out []Learned
	for _, k := range order {
		l := Learned{Title: fmt.Sprintf("%s bent on the %s saw", document.Capital(shop.Called(r.s.Panels[k.panel].Name, k.panel)), k.saw), From: from[k]}
		all := ratios[k]
		switch len(all) {
		case 0:
			l.Says = "No test bend that can be used."
		case 1:
			l.Says = fmt.Sprintf("The skin bends about a line at %s of its thickness, by 1 test bend.", decimals(all[0], 2))
		default:
			mean, sd := spreadOf(all)
			l.Says = fmt.Sprintf("The skin bends about a line at %s ± %s of its thickness, by %d test bends.", decimals(mean, 2), decimals(sd, 2), len(all))
		}
		out = append(out, l)
	}
	return out
}

// spreadOf is the mean and the standard deviation.
func spreadOf(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x
	}
	mean /= float64(len(v))
	for _, x := range v {
		sd += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(sd / math.Max(float64(len(v)-1), 1))
}
