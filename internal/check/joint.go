package check

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// Rules for joints: common practice unless said.
const (
	behindMortise = 3 * unit.Millimetre // wood left behind a mortise or blind hole
	wallShare     = 5                   // share of the thickness left each side of a mortise in an edge
)

// joints looks at how deep grooves, mortises and holes are worked, how near to
// an edge, and at joints that hang on end grain.
func joints(in Input) []finding.Finding {
	var out []finding.Finding
	said := map[finding.Finding]bool{}
	add := func(f finding.Finding, ok bool) {
		if ok && !said[f] {
			said[f] = true
			out = append(out, f)
		}
	}
	for i := range in.Model.Parts {
		p := &in.Model.Parts[i]
		for _, f := range p.Features {
			add(tooDeep(in, p, f))
			add(thinWall(in, p, f))
			add(weakPeg(in, p, f))
			add(nearEdge(in, p, f))
		}
	}
	for _, j := range in.Model.Joints {
		add(endGrain(in, j))
	}
	return out
}

// tooDeep: a groove or housing takes a quarter of the thickness, never over a
// third (joint rules as quoted in handbooks); a rebate, and a groove in a
// drawer box, up to half; a mortise or blind hole leaves 3 mm.
func tooDeep(in Input, p *build.Part, f build.Feature) (finding.Finding, bool) {
	t := p.Thickness.Size
	if f.Face == "" || f.Through || f.Depth <= 0 {
		return finding.Finding{}, false
	}
	limit, level, by := t, finding.Care, ""
	switch f.Kind {
	case build.Groove, build.Housing:
		limit, by = t/3, "a third of the thickness, handbook rule as quoted elsewhere"
		if p.Role == build.RoleBoxSide || p.Role == build.RoleBoxEnd {
			limit, by = t/2, "half of a drawer side, common practice"
		} else if f.Depth <= t/2 {
			level = finding.Note
		}
	case build.Rebate:
		limit, by = t/2, "half of the thickness, common practice"
		if p.Role == build.RoleBoxSide || p.Role == build.RoleBoxEnd {
			limit = 2 * t / 3
		}
	case build.Mortise, build.Hole:
		limit, by = t-behindMortise, "3 mm left, common practice"
		if strings.Contains(f.For, "pocket") {
			return finding.Finding{}, false
		}
	default:
		return finding.Finding{}, false
	}
	if f.Depth >= t {
		level = finding.Stop
	}
	if f.Depth <= limit+unit.Millimetre/10 {
		return finding.Finding{}, false
	}
	var fix *finding.Fix
	if b := in.Piece.Back; f.For == "back" && b != nil && b.Depth > 0 {
		fix = setTo(in, "back.depth", limit.RoundDown(step(in)), "Let the back in %s")
	}
	return finding.Finding{
		ID: "worked-too-deep", Level: level, Place: partPlace(p),
		Says:   fmt.Sprintf("The %s for %s is %s deep in %s %s, which is %s thick: %s is left.", f.Kind, f.For, in.Show(f.Depth), p.Name, p.Letter, in.Show(t), in.Show(max(t-f.Depth, 0))),
		Figure: in.Show(f.Depth), Limit: in.Show(limit),
		Advice: fmt.Sprintf("Work it %s less deep.", in.Show(f.Depth-limit)), Source: by, Fix: fix,
	}, true
}

// thinWall: a mortise or hole in an edge leaves a fifth of the thickness each
// side.
func thinWall(in Input, p *build.Part, f build.Feature) (finding.Finding, bool) {
	if f.On == "" || f.Kind != build.Mortise && f.Kind != build.Hole && f.Kind != build.Groove {
		return finding.Finding{}, false
	}
	b := f.Region.Bounds()
	t := p.Thickness.Size
	wall, limit := min(b.Min.Y, t-b.Max.Y), t/wallShare
	if wall >= limit-unit.Millimetre/10 {
		return finding.Finding{}, false
	}
	level := finding.Care
	if wall <= 0 {
		level = finding.Stop
	}
	return finding.Finding{
		ID: "thin-wall", Level: level, Place: partPlace(p),
		Says:   fmt.Sprintf("The %s for %s leaves %s of wood beside it in the %s of %s %s.", f.Kind, f.For, in.Show(max(wall, 0)), f.On, p.Name, p.Letter),
		Figure: in.Show(max(wall, 0)), Limit: in.Show(limit),
		Advice: fmt.Sprintf("Make it %s thinner, or set it in the middle of the thickness.", in.Show(min(2*(limit-wall), b.Height()))), Source: "a fifth of the thickness each side, common practice, no source",
	}, true
}

// weakPeg: a tenon is as long as three times its thickness, and from a quarter
// to half as thick as the stock; a dowel stands one and a half times its
// diameter in a face and twice in an edge (handbook rules as quoted elsewhere,
// and common practice). Mortises and holes are worked 1.5 mm deeper.
func weakPeg(in Input, p *build.Part, f build.Feature) (finding.Finding, bool) {
	const deeper = 3 * unit.Millimetre / 2
	b := f.Region.Bounds()
	thick, deep, times, what := min(b.Width(), b.Height()), f.Depth, unit.Length(6), "tenon"
	switch {
	case f.Kind == build.Tenon:
	case f.Kind == build.Mortise && f.For != "button":
		deep -= deeper
		if f.Face != "" { // the panel's thickness bounds it
			times = 3
		}
	case f.Kind == build.Hole && (f.On != "" || strings.HasSuffix(f.For, "dowel")) && !f.Through:
		deep, times, what = deep-deeper, 4, "dowel"
		if f.Face != "" {
			times = 3
		}
	default:
		return finding.Finding{}, false
	}
	limit := times * thick / 2
	t := p.Thickness.Size
	switch {
	case deep < limit-unit.Millimetre/10:
		return finding.Finding{
			ID: "peg-short", Level: finding.Note, Place: partPlace(p),
			Says:   fmt.Sprintf("The %s of %s for %s stands %s in the %s %s; it holds less than it might.", what, in.Show(thick), f.For, in.Show(max(deep, 0)), p.Name, p.Letter),
			Figure: in.Show(max(deep, 0)), Limit: in.Show(limit),
			Advice: fmt.Sprintf("Let it in %s deeper, or take one %s thick, and put glue on all of it.", in.Show(limit-deep), in.Show(2*max(deep, 0)/times)), Source: "three times the thickness of a tenon, half of that in a face; dowels twice, in a face one and a half times: handbook rules as quoted elsewhere",
		}, true
	case what == "tenon" && f.On != "" && thick < t/4:
		return finding.Finding{
			ID: "peg-thin", Level: finding.Care, Place: partPlace(p),
			Says:   fmt.Sprintf("The tenon for %s is %s thick in %s %s of %s.", f.For, in.Show(thick), p.Name, p.Letter, in.Show(t)),
			Figure: in.Show(thick), Limit: in.Show(t / 4),
			Advice: fmt.Sprintf("Make it a third of the stock, %s.", in.Show(t/3)), Source: "a third of the stock, handbook rule as quoted elsewhere; a quarter at the least, common practice",
		}, true
	}
	return finding.Finding{}, false
}

// nearEdge: the middle of a screw's hole in a face lies one and a half
// diameters from an edge at the least, that of a dowel or pin a diameter.
func nearEdge(in Input, p *build.Part, f build.Feature) (finding.Finding, bool) {
	if f.Face == "" || f.Kind != build.Hole {
		return finding.Finding{}, false
	}
	for _, big := range []string{"cup", "slack", "slotted", "pocket"} {
		if strings.Contains(f.For, big) {
			return finding.Finding{}, false
		}
	}
	b := f.Region.Bounds()
	d := min(b.Width(), b.Height())
	x, y := (b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2
	edge := min(x, y, p.Length.Size-x, p.Width.Size-y)
	limit, by := d, "a diameter for dowels and pins"
	if f.Through {
		limit, by = 3*d/2, "one and a half diameters for screws"
	}
	if edge >= limit {
		return finding.Finding{}, false
	}
	level := finding.Care
	if edge < d/2 {
		level = finding.Stop
	}
	return finding.Finding{
		ID: "hole-near-edge", Level: level, Place: partPlace(p),
		Says:   fmt.Sprintf("A hole of %s for %s lies %s from the edge of %s %s and may split it.", fine(in, d), f.For, in.Show(edge), p.Name, p.Letter),
		Figure: in.Show(edge), Limit: in.Show(limit),
		Advice: fmt.Sprintf("Move it %s inward.", in.Show(limit-edge)), Source: by + ", common practice, no source",
	}, true
}

// endGrain finds solid parts that are only glued, or screwed, by their end
// grain: glue there holds a tenth of what it holds along the grain or less,
// and design rules allow no pull on screws in it.
func endGrain(in Input, j build.Joint) (finding.Finding, bool) {
	screwed := j.Kind == "screwed" || j.Kind == "pocket screw"
	if !screwed && (j.Kind != "butt" || j.With != "glue") {
		return finding.Finding{}, false
	}
	a, b := partOf(in.Model, j.A), partOf(in.Model, j.B)
	if a == nil || b == nil || a == b {
		return finding.Finding{}, false
	}
	for _, pa := range a.Places {
		for _, pb := range b.Places {
			m, ok := meets(a, pa, b, pb)
			if !ok {
				continue
			}
			end, other := a, b
			switch {
			case b.Solid && along(grainDir(b, pb), m.normal):
				end, other = b, a
			case !screwed && a.Solid && along(grainDir(a, pa), m.normal):
			default:
				return finding.Finding{}, false
			}
			f := finding.Finding{
				ID: "end-grain", Level: finding.Care, Place: fmt.Sprintf("joint %s to %s, %s", j.A, j.B, j.Kind),
				Says:   fmt.Sprintf("%s %s is only glued by its end grain to %s %s, over %s.", document.Capital(end.Name), end.Letter, other.Name, other.Letter, in.Show(m.length)),
				Figure: in.Show(m.length), Limit: "no joint on end grain alone",
				Advice: "Take dowels, loose tenons or a housing.", Source: "common practice, no source",
			}
			if screwed {
				f.Says = fmt.Sprintf("The screws from %s %s go into the end grain of %s %s, over %s.", other.Name, other.Letter, end.Name, end.Letter, in.Show(m.length))
				f.Limit, f.Advice = "no pull on screws in end grain", "Let a dowel of hardwood across the grain into it for the screws to hold in, or take dowels or loose tenons."
				f.Source = "NDS 2018 12.2.2, as quoted elsewhere"
			}
			return f, true
		}
	}
	return finding.Finding{}, false
}
