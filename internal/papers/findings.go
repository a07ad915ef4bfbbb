package papers

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/finding"
	"casewright/internal/plan"
)

// FindingsText is all findings as plain text, gravest first.
func FindingsText(p plan.Plan) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, revision %s\n\n%s\n", p.Piece.Name, p.Revision, findingsLine(p.Findings))
	for _, f := range p.Findings {
		fmt.Fprintf(&b, "\n%s: %s\n  %s\n", f.Level, f.Place, f.Says)
		if f.Advice != "" {
			fmt.Fprintf(&b, "  %s\n", f.Advice)
		}
		switch {
		case f.Figure != "" && f.Limit != "":
			fmt.Fprintf(&b, "  Figure %s, limit %s.\n", f.Figure, f.Limit)
		case f.Figure != "":
			fmt.Fprintf(&b, "  Figure %s.\n", f.Figure)
		}
		if f.Source != "" {
			fmt.Fprintf(&b, "  Source: %s.\n", strings.TrimSuffix(f.Source, "."))
		}
	}
	return []byte(b.String())
}

// findingsLine is the first line about findings.
func findingsLine(fs []finding.Finding) string {
	var n [3]int
	for _, f := range fs {
		n[f.Level]++
	}
	switch {
	case len(fs) == 0:
		return "Nothing to look at before you buy."
	case n[finding.Stop] > 0:
		return fmt.Sprintf("As drawn it will not work: %s to change, %d to take care of, %s.", document.Count(n[finding.Stop], "thing"), n[finding.Care], document.Count(n[finding.Note], "note"))
	case n[finding.Care] > 0:
		return fmt.Sprintf("%s to look at before you buy, %s.", document.Count(n[finding.Care], "thing"), document.Count(n[finding.Note], "note"))
	}
	return document.Count(n[finding.Note], "note") + ", nothing to change."
}

const findMark = 6.0 // room for the mark

// Sizes of type for findings: the smaller one where it saves a page.
const (
	sizeFind  = 2.8
	sizeTight = 2.5
)

// findingHeight is what a finding takes at the width.
func findingHeight(f finding.Finding, width, size float64) float64 {
	w := width - findMark
	return blockHeight(findHead(f), size, w, drawing.Bold) + blockHeight(findBody(f), size, w, drawing.Regular) + 2
}

func findHead(f finding.Finding) string {
	if f.Place == "" {
		return document.Capital(f.Level.String())
	}
	return document.Capital(f.Level.String()) + ": " + f.Place
}

func findBody(f finding.Finding) string {
	return strings.TrimSpace(sentence(f.Says) + " " + sentence(f.Advice))
}

// finding sets a finding with its mark at the top of r, and gives the rest.
func (s *set) finding(sheet *drawing.Sheet, r drawing.Rect, f finding.Finding, size float64) drawing.Rect {
	findingMark(sheet, drawing.Pt{X: r.X + 2.2, Y: r.Y + 2.2}, f.Level)
	in := drawing.Rect{X: r.X + findMark, Y: r.Y, W: r.W - findMark, H: r.H}
	in = sheet.TextBlock(in, findHead(f), size, drawing.Bold)
	in = sheet.TextBlock(in, findBody(f), size, drawing.Regular)
	return drawing.Rect{X: r.X, Y: in.Y + 2, W: r.W, H: r.Bottom() - in.Y - 2}
}

// findingMark is known by its shape, not by its colour: a filled square, a
// triangle, a ring.
func findingMark(sheet *drawing.Sheet, c drawing.Pt, l finding.Level) {
	mark := func(sign string, grey, drop float64) {
		sheet.Add(drawing.Text{At: c.Add(0, 1.05+drop), S: sign, Size: 3, Weight: drawing.Bold, Anchor: drawing.Middle, Grey: grey, Plain: true})
	}
	switch l {
	case finding.Stop:
		sheet.Add(drawing.Area(drawing.Black, drawing.Rect{X: c.X - 2, Y: c.Y - 2, W: 4, H: 4}))
		mark("×", 1, 0)
	case finding.Care:
		p := drawing.Polyline(drawing.PenMedium, c.Add(0, -2.2), c.Add(2.3, 1.8), c.Add(-2.3, 1.8), c.Add(0, -2.2))
		sheet.Add(p)
		mark("!", 0, 0.3)
	default:
		sheet.Add(drawing.Circle(drawing.PenThin, c, 2))
		mark("i", 0, 0)
	}
}
