// Package plan is the pipeline: piece, shop and record go in, and all that
// follows from them comes out as one value. Every screen and every paper is
// a view of it; nobody edits it by hand.
package plan

import (
	"context"
	"slices"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/cutting"
	"casewright/internal/finding"
	"casewright/internal/fit"
	"casewright/internal/piece"
	"casewright/internal/price"
	"casewright/internal/record"
	"casewright/internal/route"
	"casewright/internal/saw"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// Format is the version of plan.json.
const Format = 1

// Plan is all that follows from a piece, a shop and a record. Counts in
// Model are for one piece; Panels, Woods, Setups and Buying are for all that
// Piece.Count asks for.
type Plan struct {
	Format   int               `json:"format"`
	Revision string            `json:"revision"` // eight hexadecimal digits, see revision
	Piece    piece.Piece       `json:"piece"`
	Shop     shop.Shop         `json:"shop"`
	Record   record.Record     `json:"record"`
	Model    build.Model       `json:"model"`
	Panels   []yard.Panel      `json:"panels"`
	Woods    []yard.Wood       `json:"woods"`
	Setups   []saw.Sequence    `json:"setups"`
	Buying   []yard.Line       `json:"buying"`
	Fit      []fit.Opening     `json:"fit"`
	Route    route.Route       `json:"route"`
	Price    price.Price       `json:"price"`
	Findings []finding.Finding `json:"findings"`
}

// Options bound the search for layouts; the zero value is a budget that suits
// one piece.
type Options struct {
	Cutting cutting.Budget
}

// Make shows the whole way of the data. The error is about the input: sizes
// that contradict each other, keys that are not there. What can be made but
// should be looked at is among the findings.
func Make(ctx context.Context, p piece.Piece, s shop.Shop, r record.Record, opt Options) (Plan, error) {
	model, err := build.Make(p, s, r)
	if err != nil {
		return Plan{}, err
	}
	panels, err := yard.Panels(ctx, model, p, p.Count, s, r, opt.Cutting)
	if err != nil {
		return Plan{}, err
	}
	woods, err := yard.Woods(ctx, model, p.Count, s, r, opt.Cutting)
	if err != nil {
		return Plan{}, err
	}
	out := Plan{
		Format: Format, Revision: revision(p, s, r), Piece: p, Shop: s, Record: r,
		Model: model, Panels: panels, Woods: woods,
	}
	out.Setups = setups(out)
	out.Route = routed(out)
	out.Buying = buying(out, goods(out))
	fitting := fit.Input{Piece: p, Shop: s, Record: r, Model: model, Show: out.Show}
	out.Fit = fit.Make(fitting)
	out.Findings = check.All(check.Input{
		Piece: p, Shop: s, Record: r, Model: model, Panels: panels, Woods: woods, Setups: out.Setups,
		Fit: fit.Findings(fitting, out.Fit), Show: out.Show,
	})
	if out.Price, err = priced(ctx, out, opt); err != nil {
		return Plan{}, err
	}
	out.Findings = append(out.Findings, slices.Concat(out.Route.Findings, out.Price.Findings, price.Unmeasured(out.Shop, uses(out)))...)
	out.locate()
	finding.Sort(out.Findings)
	return out, nil
}

// Show prints a length in the piece's own units.
func (p Plan) Show(l unit.Length) string {
	return l.Format(p.Piece.Units.Leading())
}

// Worst is the gravest level among the findings.
func (p Plan) Worst() finding.Level {
	worst := finding.Note
	for _, f := range p.Findings {
		worst = max(worst, f.Level)
	}
	return worst
}
