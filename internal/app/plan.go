package app

import (
	"context"
	"fmt"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/cutting"
	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/wood"
	"casewright/internal/yard"
)

// Plan works the job out. The error is about the input, with the places in
// the piece's file; progress may be nil.
func (j Job) Plan(ctx context.Context, opt plan.Options, progress func(cutting.Progress)) (plan.Plan, error) {
	opt.Cutting.Progress = progress
	p, err := plan.Make(ctx, j.Piece, j.Shop, j.Record, opt)
	if err != nil {
		return plan.Plan{}, j.Placed(err)
	}
	return p, nil
}

// Summary is what a maker wants to know first, in a few lines.
func Summary(p plan.Plan) string {
	var b strings.Builder
	o := p.Model.Outside
	fmt.Fprintf(&b, "%s, revision %s: %s wide, %s deep, %s high", p.Piece.Name, p.Revision, p.Show(o.X), p.Show(o.Y), p.Show(o.Z))
	if p.Piece.Count > 1 {
		fmt.Fprintf(&b, ", %d of them", p.Piece.Count)
	}
	b.WriteString(".\n")
	for _, panel := range p.Panels {
		n, all := 0, 0
		for i := range panel.Job.Sheets {
			n += panel.Used(i)
		}
		for _, it := range panel.Job.Items {
			all += it.Qty
		}
		fmt.Fprintf(&b, "%s: %s.\n", panel.Name, cutOutOf(panel, all, n))
	}
	for _, w := range p.Woods {
		fmt.Fprintf(&b, "%s: %s board feet net, buy %s.\n", w.Called(), yard.Amount(w.Net), yard.Amount(w.Feet()))
	}
	settings := 0
	for _, s := range p.Setups {
		settings += len(s.Setups)
	}
	fmt.Fprintf(&b, "%s at the saw.\n", document.Count(settings, "setting"))
	return b.String()
}

// cutOutOf says how many of all parts come out of n panels, and how many find
// no place on any.
func cutOutOf(p yard.Panel, all, n int) string {
	short := 0
	for _, s := range p.Result.Short {
		short += s.Count
	}
	none := document.Count(short, "part") + " find no place"
	if short == 1 {
		none = "1 part finds no place"
	}
	switch {
	case short >= all && short > 0:
		return none + " on any panel"
	case short > 0:
		return fmt.Sprintf("%d of %s out of %s; %s", all-short, document.Count(all, "part"), document.Count(n, "panel"), none)
	case p.Result.Proven:
		return fmt.Sprintf("%s out of %s, and no fewer will do", document.Count(all, "part"), document.Count(n, "panel"))
	}
	return fmt.Sprintf("%s out of %s", document.Count(all, "part"), document.Count(n, "panel"))
}

// BendMaterial is the bending material of a key: one of package bend, or the
// class of a kind of panel.
func BendMaterial(key string, grainRound bool) (bend.Material, error) {
	if p, ok := wood.FindPanel(key); ok {
		if class := p.Bend(grainRound); class != "" {
			m, _ := bend.MaterialByKey(class)
			return m, nil
		}
		return bend.Material{}, fmt.Errorf("%s is not a panel to bend by kerfs; take a veneered plywood or MDF", p.Name)
	}
	if !grainRound && key == "ply-round" {
		key = "ply-along"
	}
	if m, ok := bend.MaterialByKey(key); ok {
		return m, nil
	}
	var known []string
	for _, m := range bend.Materials() {
		known = append(known, m.Key)
	}
	for _, p := range wood.AllPanels() {
		known = append(known, p.Key)
	}
	hint := ""
	if near, ok := document.Nearest(key, known); ok {
		hint = fmt.Sprintf(", did you mean %s", near)
	}
	return bend.Material{}, fmt.Errorf("%q is no known panel or material%s; known are %s", key, hint, strings.Join(known, ", "))
}
