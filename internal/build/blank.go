package build

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/unit"
)

// Blank is what comes off a panel larger than its part will be, since the
// panel is cut up before the openings are measured. All parts that were
// planned alike come out of alike blanks, whatever their openings measure.
type Blank struct {
	Letter   string      `json:"letter"` // of the part as planned; the record counts blanks by it
	Name     string      `json:"name"`
	Material string      `json:"material"`
	Length   unit.Length `json:"length"` // of the blank
	Width    unit.Length `json:"width"`
	Over     unit.Length `json:"over"`              // longer and wider than the part as planned
	For      []string    `json:"for"`               // letters of the parts that can come out of it
	Need     int         `json:"need"`              // for all pieces: of these parts, those not cut to size yet
	Off      int         `json:"off_saw,omitempty"` // that many lie there, by the record
}

// OffSaw is blanks of a part that lie there: its last cut can be of any size
// up to theirs.
type OffSaw struct {
	Of     string      `json:"of"`    // letter of the blank
	Count  int         `json:"count"` // for all pieces
	Length unit.Length `json:"length"`
	Width  unit.Length `json:"width"`
}

func (o *OffSaw) count() int {
	if o == nil {
		return 0
	}
	return o.Count
}

// IsBlank says that a part is cut twice: it comes off its panel as a blank, or
// blanks of it lie there.
func (p Part) IsBlank() bool { return p.Oversize.Blank > 0 || p.OffSaw != nil }

// Unbegun is the model as if nothing were sawn yet: all blanks are still to
// come off their panels.
func (m Model) Unbegun() Model {
	m.Parts = slices.Clone(m.Parts)
	for i := range m.Parts {
		p := &m.Parts[i]
		p.OffSaw = nil
		for _, k := range m.Blanks {
			if p.Oversize.Blank == 0 && slices.Contains(k.For, p.Letter) {
				p.leave(k.Over, "")
			}
		}
	}
	return m
}

// leave makes a part a blank.
func (p *Part) leave(over unit.Length, why string) {
	p.ToMeasure = true
	p.Oversize.Blank = over
	p.Oversize.Length += over
	p.Oversize.Width += over
	if p.Oversize.Why != "" && why != "" {
		why += "; "
	}
	p.Oversize.Why = why + p.Oversize.Why
}

// blanks finds what comes as blanks where twice says so, and gives those that
// lie there to the parts that can come out of them: first to those that were
// fitted to their openings, since they can be cut now.
// Where a material is not among early, all that shares it is cut.
func (b *builder) blanks(twice func(Part) bool, early map[string]bool) {
	for _, p := range b.m.Parts {
		base := b.planned[p.Letter]
		if !twice(p) || slices.ContainsFunc(b.m.Blanks, func(k Blank) bool { return k.Letter == base }) {
			continue
		}
		was := b.asPlanned(p)
		over := b.over(was)
		if over == 0 {
			continue
		}
		k := Blank{Letter: base, Name: p.Name, Material: p.Material, Length: was.FitLength() + over, Width: was.FitWidth() + over, Over: over}
		for _, c := range b.record.Blanks {
			if c.Part == base {
				k.Off += c.Count
			}
		}
		b.give(&k)
		if k.Off < k.Need && !early[k.Material] {
			b.unsaidBlanks(k)
		}
		b.m.Blanks = append(b.m.Blanks, k)
	}
	b.unknownBlanks()
}

// asPlanned is a part before it was fitted to its measured opening.
func (b *builder) asPlanned(p Part) Part {
	if b.before != nil {
		for _, q := range b.before.m.Parts {
			if q.Letter == b.planned[p.Letter] {
				return q
			}
		}
	}
	return p
}

// give gives the blanks that lie there to parts.
func (b *builder) give(k *Blank) {
	left := k.Off
	to := func(fitted bool) {
		for i := range b.m.Parts {
			p := &b.m.Parts[i]
			if b.planned[p.Letter] != k.Letter || fitted != (p.Letter != k.Letter) {
				continue
			}
			k.For = append(k.For, p.Letter)
			n := b.need(*p)
			k.Need += n
			if p.FitLength() > k.Length || p.FitWidth() > k.Width {
				if left > 0 && n > 0 {
					b.smallBlank(*p, *k)
				}
				continue
			}
			if n = min(n, left); n > 0 {
				p.OffSaw = &OffSaw{Of: k.Letter, Count: n, Length: k.Length, Width: k.Width}
				left -= n
			}
		}
	}
	to(true)
	to(false)
}

func (b *builder) smallBlank(p Part, k Blank) {
	var by []string
	if d := p.FitLength() - k.Length; d > 0 {
		by = append(by, b.show(d)+" too short")
	}
	if d := p.FitWidth() - k.Width; d > 0 {
		by = append(by, b.show(d)+" too narrow")
	}
	size := func(l, w unit.Length) string { return b.show(l) + " × " + b.show(w) }
	b.note(finding.Finding{
		ID: "blank-small", Level: finding.Stop, Place: p.named(),
		Says: fmt.Sprintf("%s wants %s to fit its measured opening; its blank, which is off the saw, is %s: %s.",
			p.named(), size(p.FitLength(), p.FitWidth()), size(k.Length, k.Width), strings.Join(by, " and ")),
		Figure: size(p.FitLength(), p.FitWidth()), Limit: size(k.Length, k.Width), Source: "the record; the opening as measured",
		Advice: "Measure the opening once more. Then cut a new part, as the layout has it, or glue a lip on the blank and count it as cut when it fits",
	})
}

// unsaidBlanks asks for blanks where all that shares their panel is cut, and
// nothing is said of them.
func (b *builder) unsaidBlanks(k Blank) {
	missing := document.Count(k.Need-k.Off, "blank")
	panel := b.shop.StockCalled(k.Material)
	b.note(finding.Finding{
		ID: "blank-unsaid", Level: finding.Care, Place: "record.blanks",
		Says:   fmt.Sprintf("The record has all parts of the case that share %s with %s %s as cut, but not %s of it, so these are laid out anew.", panel, k.Letter, k.Name, missing),
		Figure: fmt.Sprint(k.Off), Limit: fmt.Sprint(k.Need), Source: "the record",
		Advice: fmt.Sprintf("If they came off with the others, write them down under blanks: part %s", k.Letter),
	})
}

// unknownBlanks are those in the record of parts that are never blanks.
func (b *builder) unknownBlanks() {
	for i, c := range b.record.Blanks {
		if slices.ContainsFunc(b.m.Blanks, func(k Blank) bool { return k.Letter == c.Part }) {
			continue
		}
		b.note(finding.Finding{
			ID: "blank-unknown", Level: finding.Care, Place: fmt.Sprintf("record.blanks[%d]", i),
			Says:   fmt.Sprintf("The record has blanks of %s, which does not come off a panel as a blank in this piece.", c.Part),
			Source: "the record", Advice: "Name the part by its letter as planned, or count it under cut when it has its size",
		})
	}
}
