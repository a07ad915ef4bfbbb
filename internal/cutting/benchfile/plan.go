package benchfile

import (
	"context"
	"encoding/json"
	"fmt"
	"io"

	"casewright/internal/cutting"
	"casewright/internal/cutting/verify"
	"casewright/internal/unit"
)

// Plan is the answer to one case of an instance.
type Plan struct {
	Instance string      `json:"instance"`
	Case     string      `json:"case"`
	Value    float64     `json:"-"`
	Bound    float64     `json:"bound"`
	Proven   bool        `json:"proven"`
	Seconds  float64     `json:"seconds"` // filled by the caller, who has the clock
	Sheets   []SheetPlan `json:"sheets,omitempty"`
	Bars     []BarPlan   `json:"bars,omitempty"`
}

// SheetPlan is one sheet and every piece on it.
type SheetPlan struct {
	Sheet string `json:"sheet"`
	Parts []Part `json:"parts"`
}

// Part is one piece as placed.
type Part struct {
	Item    string `json:"item"`
	X       int64  `json:"x"`
	Y       int64  `json:"y"`
	W       int64  `json:"w"`
	H       int64  `json:"h"`
	Rotated bool   `json:"rotated"`
}

// BarPlan is one bar and the pieces cut from it.
type BarPlan struct {
	Stock string    `json:"stock"`
	Parts []BarPart `json:"parts"`
}

// BarPart is a run of equal pieces.
type BarPart struct {
	Item string `json:"item"`
	Qty  int    `json:"qty"`
}

// Write writes a plan as one line.
func Write(w io.Writer, p Plan) error {
	b, err := json.Marshal(p)
	if err != nil {
		return err
	}
	_, err = w.Write(append(b, '\n'))
	return err
}

// Solve answers one case and has the answer verified. An answer that leaves
// parts out, or that the verifier refuses, is an error that says why.
func Solve(ctx context.Context, in *Instance, c Case, seed uint64, budget cutting.Budget) (Plan, error) {
	p := Plan{Instance: in.Name, Case: c.ID}
	if in.Kind == "1d" {
		return p, in.bars(ctx, c, seed, budget, &p)
	}
	job := in.Job(c)
	job.Seed = seed
	r, err := cutting.Solve(ctx, job, budget)
	if err != nil {
		return p, err
	}
	if err := verify.Result(job, r); err != nil {
		return p, fmt.Errorf("%s, case %s: %w", in.Name, c.ID, err)
	}
	for _, s := range r.Short {
		return p, fmt.Errorf("%s, case %s: %d of %s could not be laid out", in.Name, c.ID, s.Count, job.Items[s.Item].ID)
	}
	p.Value, p.Bound, p.Proven = in.figure(r.Value), in.figure(r.Bound), r.Proven
	for _, l := range r.Layouts {
		s := SheetPlan{Sheet: job.Sheets[l.Sheet].ID}
		for _, q := range l.Parts {
			s.Parts = append(s.Parts, Part{job.Items[q.Item].ID, whole(q.X), whole(q.Y), whole(q.W), whole(q.H), q.Turned})
		}
		for range l.Copies {
			p.Sheets = append(p.Sheets, s)
		}
	}
	return p, nil
}

func (in *Instance) bars(ctx context.Context, c Case, seed uint64, budget cutting.Budget, p *Plan) error {
	job := in.BarJob(c)
	job.Seed = seed
	r, err := cutting.SolveBars(ctx, job, budget)
	if err != nil {
		return err
	}
	if err := verify.Bars(job, r); err != nil {
		return fmt.Errorf("%s, case %s: %w", in.Name, c.ID, err)
	}
	for _, s := range r.Short {
		return fmt.Errorf("%s, case %s: %d of %s could not be laid out", in.Name, c.ID, s.Count, job.Items[s.Item].ID)
	}
	p.Value, p.Bound, p.Proven = in.figure(r.Value), in.figure(r.Bound), r.Proven
	for _, l := range r.Layouts {
		b := BarPlan{Stock: job.Bars[l.Bar].ID}
		for _, q := range l.Parts {
			b.Parts = append(b.Parts, BarPart{job.Items[q.Item].ID, q.Qty})
		}
		for range l.Copies {
			p.Bars = append(p.Bars, b)
		}
	}
	return nil
}

func whole(l unit.Length) int64 { return int64(l / step) }
