package verify

import (
	"context"
	"slices"
	"strings"
	"testing"

	"casewright/internal/cutting"
)

// Every kind of fault of a panel glued up from strips is found.
func TestFaultsOfPanels(t *testing.T) {
	job := cutting.Job{
		Sheets: []cutting.Sheet{
			{ID: "wide", W: 1000 * mm, H: 180 * mm, Stock: 1, Tone: 2},
			{ID: "narrow", W: 1000 * mm, H: 122 * mm, Stock: 1, Tone: 1},
		},
		Items: []cutting.Item{{ID: "top", W: 950 * mm, H: 290 * mm, Qty: 1, Glue: &cutting.Glue{Least: 40 * mm, Most: 180 * mm, Joint: 6 * mm, Step: mm}}},
		Kerf:  3 * mm,
	}
	for want, spoil := range map[string]func(*cutting.Job, *cutting.Result){
		"":                func(*cutting.Job, *cutting.Result) {},
		"made or short":   func(j *cutting.Job, _ *cutting.Result) { j.Items[0].H += 10 * mm },
		"0 panels made":   func(j *cutting.Job, _ *cutting.Result) { j.Items[0].Glue.Joint += 6 * mm },
		"allowed are 130": func(j *cutting.Job, _ *cutting.Result) { j.Items[0].Glue.Least = 130 * mm },
		"in steps of 7":   func(j *cutting.Job, _ *cutting.Result) { j.Items[0].Glue.Step = 7 * mm },
		"cut 2 times": func(j *cutting.Job, r *cutting.Result) {
			j.Sheets[0].Stock, r.Layouts[0].Copies, r.Value, r.Proven = 2, 2, 3, false
		},
		"is strip 1 of panel 2": func(_ *cutting.Job, r *cutting.Result) {
			r.Layouts[0].Parts[0].Panel, r.Layouts[0].Parts[0].Strip = 2, 1
		},
		"but no strip": func(_ *cutting.Job, r *cutting.Result) { r.Layouts[0].Parts[0].Strip += 2 },
		"lighter than": func(j *cutting.Job, _ *cutting.Result) { j.Sheets[0].Tone, j.Sheets[1].Tone = 1, 2 },
	} {
		j := job
		j.Sheets, j.Items = slices.Clone(job.Sheets), slices.Clone(job.Items)
		g := *job.Items[0].Glue
		j.Items[0].Glue = &g
		r, err := cutting.Solve(context.Background(), j, cutting.Budget{Iterations: 2_000})
		if err != nil || len(r.Short) > 0 {
			t.Fatal(err, r.Short)
		}
		spoil(&j, &r)
		if err := Result(j, r); (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", want, err)
		}
	}
}
