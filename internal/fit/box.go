package fit

import (
	"fmt"
	"slices"

	"casewright/internal/build"
	"casewright/internal/finding"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// Customs; common practice, no source.
const (
	boxPlay   = unit.Millimetre / 2 // where a runner states one width, a box may miss it by this in all
	boxPlane  = unit.Millimetre     // most that is planed off each side of a box
	pullLeast = 5 * unit.Millimetre
	pullMost  = 10 * unit.Millimetre
)

// box says what box the opening takes, and what becomes of one that is cut.
func (f *fitting) box() {
	d := f.op.Drawer
	if d == nil {
		return
	}
	s := f.out.Shape
	narrow, low := f.least()
	bx := &Box{
		Verdict: ToMake, Width: d.Width, Height: d.Height, Depth: d.Depth,
		Least: narrow - 2*d.Most, Most: narrow - 2*d.Least, Highest: max(0, low-d.Above-d.BoxUp),
	}
	f.out.Box = bx
	width := d.Width // as it ends up
	if d.InWidth {
		width = f.keepBox(bx)
	}
	// A box that is cut may take up to a quarter of the room above it.
	if over := d.Height - bx.Highest; d.InHigh && over > max(d.Above/4, tenth) {
		if bx.Verdict == ToMake || bx.Verdict == AsIs {
			bx.Verdict = ToPlane
		}
		by := over.RoundUp(f.step())
		f.out.Do = append(f.out.Do, fmt.Sprintf("The box is cut %s high, %s go in. Plane %s off its upper edges.", f.show(d.Height), f.show(bx.Highest), f.show(by)))
	}
	// The runners sit where the opening may be wider than at its narrowest.
	at := s.WidthAt(d.Line)
	bx.Side = ((at - width) / 2).Round(f.step())
	proud := unit.Length(0)
	play := unit.Length(0)
	if d.Least == d.Most {
		play = boxPlay / 2
	}
	if side := (at - width) / 2; side > d.Most+play+tenth/2 || side < d.Least-play-tenth/2 {
		proud = (side - (d.Least+d.Most)/2).Round(f.step())
		bx.Side -= proud
	}
	for i, side := range edgeNames[:2] {
		p := Packer{Side: side, Proud: proud}
		if d.Packers[i] > 0 {
			p.Thickness = max(0, d.Flush[i])
		} else if proud == 0 {
			continue
		}
		f.out.Packers = append(f.out.Packers, p)
	}
	f.keepPackers()
	if proud > 0 {
		f.out.Do = append(f.out.Do, fmt.Sprintf("At the runners the opening is %s wide, the box %s. Shim each runner out %s, beyond the edge of the opening.", f.show(at), f.show(width), f.show(proud)))
	}
}

// least is the narrowest width and the least height of the opening.
func (f *fitting) least() (w, h unit.Length) {
	w, h = f.out.Width, f.out.Height
	if rec, ok := find(f.in.Record, f.op.Name); ok && len(rec.Widths) > 0 && len(rec.Heights) > 0 {
		w, h = slices.Min(rec.Widths), slices.Min(rec.Heights)
	}
	return w, h
}

// keepBox judges a box whose width is cut, and gives the width it ends up
// with.
func (f *fitting) keepBox(bx *Box) unit.Length {
	d := f.op.Drawer
	play := unit.Length(0)
	if bx.Least == bx.Most {
		play = boxPlay
	}
	bx.Verdict = AsIs
	over, under := d.Width-bx.Most, bx.Least-d.Width
	switch {
	case over > play+tenth:
		each := (over / 2).RoundUp(f.step())
		if each <= boxPlane && d.Kind != "under-runner" {
			bx.Verdict = ToPlane
			f.out.Do = append(f.out.Do, fmt.Sprintf("The box is cut %s wide, at most %s go in. Plane %s off each side.", f.show(d.Width), f.show(bx.Most), f.show(each)))
			f.boxFinding(finding.Care, over, bx.Most, fmt.Sprintf("Plane %s off each side of the box.", f.show(each)))
			return d.Width - 2*each
		}
		bx.Verdict = ToRemake
		advice := fmt.Sprintf("Make new box ends and a new bottom for a box %s wide; the sides can be used again.", f.show(bx.Most))
		f.out.Do = append(f.out.Do, fmt.Sprintf("The box is cut %s wide, at most %s go in. %s", f.show(d.Width), f.show(bx.Most), advice))
		f.boxFinding(finding.Stop, over, bx.Most, advice+" Then take them out of the record's cut parts.")
		return bx.Most
	case under > play+tenth:
		bx.Verdict = ToShim
		f.boxFinding(finding.Care, under, bx.Least, fmt.Sprintf("Shim the runner at each side out by %s.", f.show(((bx.Least+bx.Most)/2-d.Width).Scale(0.5).Round(f.step()))))
	}
	return d.Width
}

func (f *fitting) boxFinding(level finding.Level, by, limit unit.Length, advice string) {
	word := "narrower than the runner takes"
	if f.op.Drawer.Width > limit {
		word = "too wide"
	}
	f.find(finding.Finding{
		ID: "fit-box", Level: level,
		Says:   fmt.Sprintf("%s: its box is cut %s wide, %s by %s.", f.op.Name, f.show(f.op.Drawer.Width), word, f.show(by)),
		Figure: f.show(f.op.Drawer.Width), Limit: f.show(limit), Advice: advice, Source: "the opening as measured; the runner's entry in the shop",
	})
}

// keepPackers says what to do with packers that are cut already.
func (f *fitting) keepPackers() {
	for i, p := range f.out.Packers {
		part, ok := f.partAt(build.RolePacker, "", f.op.Name+" "+p.Side)
		if !ok || !f.isCut(part.Letter) || p.Thickness == 0 {
			continue
		}
		have := f.op.Drawer.Packers[i]
		switch off := p.Thickness - have; {
		case off > tenth:
			f.out.Do = append(f.out.Do, fmt.Sprintf("Packer %s at the %s is cut %s thick; %s make it flush with the edge. Shim it by %s.", part.Letter, p.Side, f.show(have), f.show(p.Thickness), f.show(off)))
		case off < -tenth:
			f.out.Do = append(f.out.Do, fmt.Sprintf("Packer %s at the %s is cut %s thick; %s make it flush with the edge. Plane %s off.", part.Letter, p.Side, f.show(have), f.show(p.Thickness), f.show(-off)))
		}
	}
}

func (f *fitting) isCut(letter string) bool {
	for _, c := range f.in.Record.Cut {
		if c.Part == letter {
			return true
		}
	}
	return false
}

// spacers are the strips that things are set by.
func (f *fitting) spacers() {
	add := func(what string, l unit.Length) {
		if l = l.Round(f.step()); l > 0 {
			f.out.Spacers = append(f.out.Spacers, Spacer{what, l})
		}
	}
	if d := f.op.Drawer; d != nil {
		if d.Packers != [2]unit.Length{} {
			add("under the packers", d.PackUp)
		}
		switch h := f.in.Shop.Hardware[d.Runner].Height; {
		case d.Kind == "side-runner" && h > 0:
			add("under the runners", d.Line-h/2)
		case d.Kind == "side-runner":
			add("to the runners' middle line", d.Line)
		default:
			add("under the runners", d.Line)
		}
	}
	if fr := f.out.Front; fr != nil && len(fr.Gaps) == 4 {
		at := func(edge int) unit.Length { return min(fr.Gaps[edge].Ends[0], fr.Gaps[edge].Ends[1]) }
		add("under the front", at(2))
		add("beside the front", min(at(0), at(1)))
		add("over the front, to check", at(3))
	}
}

// screws finds their lengths from the stacks as they are.
func (f *fitting) screws() {
	front, ok := f.part(f.op.Front)
	if !ok {
		return
	}
	stack := front.Thickness.Size
	if f.op.Drawer != nil {
		end, ok := f.partAt(build.RoleBoxEnd, "box front", f.op.Name)
		if !ok {
			return
		}
		stack += end.Thickness.Size
		tip := f.in.Shop.Habits.TipClearance
		if tip == 0 {
			tip = 3 * unit.Millimetre
		}
		if s, err := wood.ScrewLength(wood.Stack{Fastened: end.Thickness.Size, Holding: front.Thickness.Size, Sunk: wood.HeadUnder}, tip, f.in.Shop.Units); err == nil {
			f.out.Screws = append(f.out.Screws, Screw{"front, from inside the box", stack, s.Length, s.Tip})
		}
	}
	if slices.ContainsFunc(front.Features, func(x build.Feature) bool { return x.For == "pull" }) {
		if l, ok := wood.MachineLength(stack, pullLeast, pullMost, f.in.Shop.Units); ok {
			f.out.Screws = append(f.out.Screws, Screw{"pull, machine screw", stack, l, 0})
		}
	}
}
