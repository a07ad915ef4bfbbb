package opening

import (
	"fmt"
	"math"

	"casewright/internal/unit"
)

// Doubt says that the measures contradict each other.
type Doubt struct {
	Measure int         // the one that looks wrong; less than 0: no single one explains it
	Reads   unit.Length // what it was measured as
	Asks    unit.Length // what the others ask for
	sum     bool        // the diagonals, taken together, against widths and heights
}

// DoubtOver is how far one measure may be from what the others ask for before
// it is doubted (common practice, no source: a rule or pinch rod is read to
// half a millimetre).
const DoubtOver = 2 * unit.Millimetre

// Says is the doubt as a sentence, with what to do.
func (d Doubt) Says(show func(unit.Length) string) string {
	off := (d.Reads - d.Asks).Abs()
	switch {
	case d.sum:
		return fmt.Sprintf("The diagonals do not go with widths and heights: their mean reads %s, and %s would fit.", show(d.Reads), show(d.Asks))
	case d.Measure < 0:
		return "The measures contradict each other, and no single one explains it."
	case d.Measure == WidthMiddle || d.Measure == HeightMiddle:
		way := "belly in"
		if d.Reads > d.Asks {
			way = "are hollow"
		}
		what := "sides"
		if d.Measure == HeightMiddle {
			what = "top and bottom"
		}
		return fmt.Sprintf("The %s reads %s, the others ask for %s: either the %s %s by %s in all, or it was misread.", Names[d.Measure], show(d.Reads), show(d.Asks), what, way, show(off))
	}
	return fmt.Sprintf("The %s reads %s; with the other measures it would be about %s. It looks wrong by %s.", Names[d.Measure], show(d.Reads), show(d.Asks), show(off))
}

// Advice is what to do about it.
func (d Doubt) Advice() string {
	if d.Measure < 0 {
		return "Measure all of them again before you cut anything to this opening."
	}
	return fmt.Sprintf("Measure the %s again before you cut anything to this opening.", Names[d.Measure])
}

// doubt looks for the measure without which the others agree best on a figure
// that is nearly a rectangle. There is none where all agree.
func (p *problem) doubt(m Measures, all unknowns, found bool) *Doubt {
	fits := true
	for _, r := range p.residuals(all) {
		fits = fits && math.Abs(r) <= reading.MM()
	}
	if fits && found {
		return nil
	}
	best, least, second := -1, math.Inf(1), math.Inf(1)
	var asks float64
	for i := range p.m {
		if !p.use[i] {
			continue
		}
		p.use[i] = false
		u, ok := p.solve()
		if ok {
			switch s := p.score(u); {
			case s < least:
				best, least, second, asks = i, s, least, p.predict(u)[i]
			case s < second:
				second = s
			}
		}
		p.use[i] = true
	}
	if best < 0 {
		return &Doubt{Measure: -1}
	}
	off := math.Abs(p.m[best] - asks)
	if found && off <= DoubtOver.MM() && least < worstScore {
		return nil
	}
	if least < worstScore && (least < 0.5*second || second < 2) {
		return &Doubt{Measure: best, Reads: unit.MM(p.m[best]), Asks: unit.MM(asks)}
	}
	if d := p.doubtDiagonals(); d != nil {
		return d
	}
	if least < worstScore {
		return &Doubt{Measure: best, Reads: unit.MM(p.m[best]), Asks: unit.MM(asks)}
	}
	return &Doubt{Measure: -1}
}

// worstScore is that of a figure whose measures disagree by a millimetre and
// a half throughout, or that is out of true by as much as hardly any is.
const worstScore = 60.0

// score is how badly the measures that are used agree, in units of half a
// millimetre, and how far the figure is from a rectangle, in units of 3 mm.
func (p *problem) score(u unknowns) float64 {
	c := u.corners()
	lean := (c[TopLeft].x + c[TopRight].x - c[BottomRight].x) / 2
	f := p.predict(u)
	taper, slope := f[WidthTop]-f[WidthBottom], f[HeightLeft]-f[HeightRight]
	return squares(p.residuals(u))/(0.5*0.5) + (lean*lean+taper*taper+slope*slope)/(3*3)
}

// doubtDiagonals compares the two together with what widths and heights ask
// for.
func (p *problem) doubtDiagonals() *Doubt {
	if p.tied {
		return nil
	}
	q := *p
	q.use[DiagonalTopLeft], q.use[DiagonalTopRight], q.tied = false, false, true
	u, ok := q.solve()
	if !ok || squares(q.residuals(u)) > worstScore*0.25 {
		return nil
	}
	f := q.predict(u)
	asks := (f[DiagonalTopLeft] + f[DiagonalTopRight]) / 2
	reads := (p.m[DiagonalTopLeft] + p.m[DiagonalTopRight]) / 2
	if math.Abs(asks-reads) <= DoubtOver.MM()/2 {
		return nil
	}
	return &Doubt{Measure: -1, Reads: unit.MM(reads), Asks: unit.MM(asks), sum: true}
}
