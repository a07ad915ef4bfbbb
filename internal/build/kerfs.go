package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/finding"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// designBends works out every bend of the shell: which saw, how many kerfs,
// how deep. Alike bends share one design.
func (b *builder) designBends(s *shell) bool {
	material, ok := b.bendMaterial(s.stock)
	if !ok {
		return false
	}
	key, saw, ok := b.kerfSaw(s.stock.thickness - s.skin)
	if !ok {
		return false
	}
	done := map[bend.Arc]Bend{}
	for i := range s.runs {
		r := &s.runs[i]
		if !r.bends() {
			continue
		}
		like := r.arc(s.stock.thickness, 0)
		d, ok := done[like]
		if !ok {
			spec := b.bendSpec(s, *r, material, key, saw)
			if d, ok = b.design(spec, saw); !ok {
				return false
			}
			done[like] = d
		}
		d.Name, d.Saw = r.name, key
		r.bend, r.length = len(b.m.Bends), d.Design.Result.Zone
		b.m.Bends = append(b.m.Bends, d)
		for _, f := range d.Design.Result.Findings {
			f.Fix = b.moreKerfs(f, d.Design.Result)
			b.once(f)
		}
	}
	return true
}

// bendMaterial is the panel as package bend knows it.
func (b *builder) bendMaterial(s stock) (bend.Material, bool) {
	kind, _ := wood.FindPanel(s.panel.Kind)
	m, ok := bend.MaterialByKey(kind.Bend(b.piece.Case.Grain != "along"))
	if !ok {
		b.problem("materials.case", "materials.case is %q, %s: not a panel to bend by kerfs. Name a plywood or a fibreboard.", s.key, cmp.Or(kind.Name, s.panel.Kind))
	}
	return m, ok
}

// kerfSaw is the saw that cuts the kerfs: the one named, else the first by
// key that cuts deep enough.
func (b *builder) kerfSaw(depth unit.Length) (string, shop.Saw, bool) {
	if len(b.shop.Saws) == 0 {
		b.problem("case.saw", "the shop has no saw to cut kerfs with. Add one to the shop, with its measured kerf.")
		return "", shop.Saw{}, false
	}
	try := sorted(b.shop.Saws)
	if k := b.piece.Case.Saw; k != "" {
		try = []string{k}
	}
	var deepest unit.Length
	for _, k := range try {
		saw := b.shop.Saws[k]
		if saw.Depth == 0 {
			saw.Depth = 55 * unit.Millimetre
		}
		if w := b.record.Kerfs[k]; w > 0 {
			saw.Kerf = w
		}
		if saw.Depth >= depth {
			return k, saw, true
		}
		deepest = max(deepest, saw.Depth)
	}
	b.problem("case.saw", "the kerfs are %s deep, but the deepest cut of %s is %s. Use a thinner panel, or another saw.", b.show(depth), strings.Join(try, " and "), b.show(deepest))
	return "", shop.Saw{}, false
}

// bendSpec is one bend as package bend is asked for it.
func (b *builder) bendSpec(s *shell, r run, m bend.Material, key string, saw shop.Saw) bend.Spec {
	c := b.piece.Case
	spec := bend.Spec{
		Place: "case, " + r.called(), Material: m,
		Thickness: s.stock.thickness, Skin: s.skin, Kerf: saw.Kerf,
		Radius: r.uncut(s.stock.thickness), Angle: unit.Angle(math.Abs(r.angle)), Outside: r.outside,
		Form: c.Form, Width: b.hull.depth, Sheen: sheens[cmp.Or(b.piece.Finish.Sheen, "satin")],
		DepthFrom: bend.FromKerfedFace, Draws: b.draws, Units: b.piece.Units,
	}
	if saw.Tooth == "alternate" {
		spec.Tooth = bend.Tooth{Form: bend.BevelTooth, Bevel: saw.Bevel}
		if saw.Bevel == 0 {
			spec.Tooth.Bevel = unit.Deg(15)
		}
	}
	scatter := bend.ShopScatter()
	if t := b.thicknessSpread(s.stock); t > 0 {
		scatter.Thickness = min(t/2, 5*unit.Millimetre)
	}
	spec.Scatter = &scatter
	return spec.Calibrated(b.tested(spec, s.stock.key, key)...)
}

var sheens = map[string]bend.Sheen{"matt": bend.Matt, "satin": bend.Satin, "gloss": bend.Gloss}

// thicknessSpread is half the spread of thickness to expect, taken as two
// standard deviations: as measured, as the shop says, or as the standard of
// the panel's kind allows.
func (b *builder) thicknessSpread(s stock) unit.Length {
	if points := b.record.Thicknesses[s.key]; len(points) > 1 {
		return (slices.Max(points) - slices.Min(points)) / 2
	}
	if s.panel.Tolerance > 0 {
		return s.panel.Tolerance
	}
	kind, _ := wood.FindPanel(s.panel.Kind)
	if plus, minus, _, ok := kind.Tolerance(s.thickness); ok {
		return (plus + minus) / 2
	}
	return 0
}

// tested is what test bends from this panel on this saw found.
func (b *builder) tested(spec bend.Spec, panel, saw string) []bend.Calibration {
	if spec.Outside {
		return nil
	}
	var out []bend.Calibration
	for i, t := range b.record.TestBends {
		if t.Panel != panel || t.Saw != saw {
			continue
		}
		planned := spec
		planned.Count, planned.Form = t.Kerfs, true
		result, err := bend.Evaluate(planned)
		if err != nil {
			continue
		}
		c, err := bend.Calibrate(bend.TestBend{
			Count: t.Kerfs, Turned: t.Angle, Skin: t.Skin,
			Thickness: given(t.Thickness, spec.Thickness), Kerf: given(t.Kerf, spec.Kerf),
		}, result)
		strip := fmt.Sprintf("The test bend of %s on the %s saw", b.shop.StockCalled(panel), shop.Words(saw))
		f := finding.Finding{ID: "test-bend", Level: finding.Care, Place: "test bend", Doc: "record", Path: fmt.Sprintf("test-bends[%d]", i), Source: "derived"}
		if err != nil {
			f.Says, f.Advice = fmt.Sprintf("%s is left out: %s.", strip, err), "Measure the strip again."
			b.once(f)
			continue
		}
		if says := c.Warns(b.piece.Units); says != "" {
			f.Says, f.Advice = fmt.Sprintf("%s closed at %s. %s", strip, degrees(t.Angle), says), "Measure the strip again, or bend another."
			b.once(f)
		}
		out = append(out, c)
	}
	return out
}

// design chooses among the workable designs the best that keeps the blade and
// the skin asked for: closing by itself, or on a form where the piece says
// so. The count of the piece, if given, rules.
func (b *builder) design(spec bend.Spec, saw shop.Saw) (Bend, bool) {
	var blades []bend.Blade
	for _, x := range saw.Blades {
		if x.Tooth != "alternate" && len(blades) < 40 {
			blades = append(blades, bend.Blade{Name: x.Name, Kerf: x.Kerf})
		}
	}
	all, err := bend.Designs(spec, bend.Options{Blades: blades, Most: 6})
	out := Bend{Spec: spec}
	if n := b.piece.Case.Kerfs; n > 0 {
		spec.Count = n
		result, err := bend.Evaluate(spec)
		if err != nil {
			b.problem("case.kerfs", "case.kerfs is %d, which cannot be: %s.", n, err)
			return out, false
		}
		out.Spec = spec
		out.Design = bend.Design{Way: bend.ByClosing, Name: "As the piece says", Result: result}
		if spec.Form {
			out.Design.Way = bend.OnForm
		}
		out.Others = all
		return out, true
	}
	if err != nil {
		b.problem("case.radius", "the bend cannot be made: %s.", err)
		return out, false
	}
	want := []bend.Way{bend.ByClosing, bend.OnForm}
	if spec.Form {
		slices.Reverse(want)
	}
	want = append(want, bend.Opening, bend.ExactDeep)
	chosen := 0
	for _, way := range want {
		i := slices.IndexFunc(all, func(d bend.Design) bool {
			return d.Way == way && d.Blade == "" && d.Result.Spec.Skin == spec.Skin
		})
		if i >= 0 {
			chosen = i
			break
		}
	}
	out.Design = all[chosen]
	out.Others = slices.Delete(slices.Clone(all), chosen, chosen+1)
	return out, true
}

// kerfGroup is a bend on a flat part, starting at its tangent point.
func (b *builder) kerfGroup(r run, start unit.Length) KerfGroup {
	result := b.m.Bends[r.bend].Design.Result
	face := FaceReference
	if r.onPath {
		face = FaceOther
	}
	return KerfGroup{Bend: r.bend, Start: start, Zone: result.Zone, Positions: result.Centres(start), Face: face}
}

// moreKerfs is the fix of a bend that closes short where the piece gives the
// number of kerfs: as many as close by themselves, or one more.
func (b *builder) moreKerfs(f finding.Finding, r bend.Result) *finding.Fix {
	if f.ID != "bend-closes-short" && f.ID != "bend-closes-yielded" || b.piece.Case.Kerfs == 0 {
		return nil
	}
	n := max(r.Count+1, int(r.WantedCount)+1)
	return finding.Set("case.kerfs", strconv.Itoa(n), fmt.Sprintf("Cut %d kerfs", n))
}
