package cutting

import (
	"fmt"
	"math"
	"strings"

	"casewright/internal/unit"
)

// The words a bound is told in. Each is a clause without a full stop, to follow
// "No layout needs less:". What is cut from is called a sheet; Because puts the
// word that suits.

// Because is Why with the word for what is cut from: panel, board.
func (r Result) Because(noun string) string { return strings.ReplaceAll(r.Why, "sheet", noun) }

// What no bound is needed for, and what needs no figure.
const (
	whyNothing = "there is nothing to cut"
	whyFree    = "the sheets on hand that cost nothing might be enough"
	whyAll     = "every way to cut these parts was weighed; none is better"
	whyNoWaste = "less would leave no waste at all, and the parts cannot be joined that way"
	whyHeight  = "side by side without a gap, the parts with their kerfs are this high"
	whyHighest = "the highest part is this high"
	whyStacked = "the parts too long to lie end to end make a stack this high"

	fractions = "even mixing layouts in fractions"
	anyStrips = "however many strips of each width are ripped"
)

// How a dual feasible function counts sizes.
const (
	asTheyAre = "%[1]ss as they are"
	asWhole   = "%[2]s parts as filling the whole %[1]s"
	inARow    = "%[1]ss by how many fit in a row"
)

// counted reports whether the job's value can be told in sheets.
func (p *problem) counted() bool {
	return p.value == FewestSheets || len(p.sheets) == 1 && p.sheets[0].price > 0
}

// count is a value in sheets.
func (p *problem) count(v float64) float64 {
	if p.value == FewestSheets {
		return v
	}
	return v / float64(p.sheets[0].price)
}

// so is a number of sheets with what follows from it.
func (p *problem) so(v float64) string {
	n := ceilSafe(v)
	s := amount(v) + " sheets"
	switch {
	case amount(v) == "1":
		s = "one sheet"
	case n <= 1:
		s = amount(v) + " of a sheet"
	}
	if n == 1 && len(p.sheets) == 1 {
		s += ", and one is the least"
	} else if n > 1 {
		s += fmt.Sprintf(", so %d cannot be enough", n-1)
	}
	if p.free() {
		s += ", offcuts not counted"
	}
	return s
}

// free reports whether some sheet costs nothing.
func (p *problem) free() bool {
	for _, s := range p.sheets {
		if s.price == 0 {
			return true
		}
	}
	return false
}

// amount prints a number of sheets so that it is not taken for another whole
// number than it stands for.
func amount(v float64) string {
	n := math.Round(v)
	switch d := v - n; {
	case math.Abs(d) >= 0.005:
		return fmt.Sprintf("%.2f", v)
	case d > 1e-6:
		return fmt.Sprintf("a little more than %.0f", n)
	case d < -1e-6:
		return fmt.Sprintf("nearly %.0f", n)
	}
	return fmt.Sprintf("%.0f", n)
}

func money(v float64) string { return unit.Money(ceilSafe(v)).Format() }

// whyArea tells of parts whose area comes to v.
func (p *problem) whyArea(v float64) string {
	switch {
	case p.counted() && len(p.sheets) == 1 && p.strip():
		return "a strip of every sheet is left over in any layout, and of the rest the parts fill " + p.so(p.count(v))
	case p.counted() && len(p.sheets) == 1:
		return "the parts with their kerfs alone fill " + p.so(p.count(v))
	case p.counted():
		return "measured by the largest sheet, the parts with their kerfs alone fill " + p.so(v)
	}
	return "at the price of the sheet that is cheapest for its size, the parts with their kerfs alone cost " + money(v)
}

// whyClear tells of parts that need the clear wood of sheets that come to v.
func (p *problem) whyClear(v float64) string {
	if p.value != FewestSheets {
		return "the clear wood that the parts with their kerfs need costs " + money(v) + " or more"
	}
	s := "the parts with their kerfs need the clear wood of " + amount(v) + " sheets"
	if n := ceilSafe(v); n == 1 {
		s = "the parts with their kerfs need the clear wood of one sheet at least"
	} else if n > 1 {
		s += fmt.Sprintf(", so %d cannot be enough", n-1)
	}
	return s
}

// whyCounted tells of parts that come to v sheets when lengths and widths are
// counted as the names say.
func (p *problem) whyCounted(lengths, widths string, v float64) string {
	if lengths == inARow && widths == inARow {
		return "counting by how many fit in a row, the parts fill " + p.so(v)
	}
	what := func(how, side, kind string) string {
		return strings.NewReplacer("%[1]s", side, "%[2]s", kind).Replace(how)
	}
	return fmt.Sprintf("counting %s and %s, the parts fill %s", what(lengths, "length", "long"), what(widths, "width", "wide"), p.so(v))
}

// strip reports whether some of the sheet is left over because all sizes of
// the parts are multiples of one step.
func (p *problem) strip() bool {
	s := p.sheets[0]
	return float64(s.w)*float64(s.h) < 0.995*s.full
}

// whyPatterns tells of parts that come to v when layouts are mixed.
func (p *problem) whyPatterns(v float64) string {
	s := "laid out as well as can be, " + fractions + ", the parts "
	if p.counted() {
		return s + "need " + p.so(p.count(v))
	}
	return s + "cost " + money(v)
}

// whyLots tells of sheets with the area of the parts, of which v is the least.
func (p *problem) whyLots(v int64) string {
	switch {
	case len(p.sheets) == 1:
		return p.whyArea(p.areaPrice())
	case p.counted():
		return fmt.Sprintf("every mix of sheets with the area of the parts takes %s or more%s", sheets(int(v)), p.apart())
	}
	return fmt.Sprintf("every mix of sheets with the area of the parts costs %s or more", unit.Money(v).Format())
}

// whyMixes tells that no mix of sheets of less than v will do.
func (p *problem) whyMixes(v int64) string {
	if p.counted() {
		return fmt.Sprintf("fewer than %s cannot hold all parts%s, %s", sheets(int(p.count(float64(v)))), p.apart(), fractions)
	}
	return fmt.Sprintf("no mix of sheets for less than %s holds all parts, %s", unit.Money(v).Format(), fractions)
}

// whyFewer tells that n sheets, all of one size, will not do.
func whyFewer(n int) string {
	return fmt.Sprintf("%s cannot hold all parts, %s", sheets(n), fractions)
}

// whyStrips tells of panels cut into strips.
func (p *problem) whyStrips(v int64) string {
	if p.counted() {
		return fmt.Sprintf("fewer than %s cannot hold all parts%s, %s", sheets(int(p.count(float64(v)))), p.apart(), anyStrips)
	}
	return fmt.Sprintf("no mix of sheets for less than %s holds all parts, %s", unit.Money(v).Format(), anyStrips)
}

// inStages says of a reason that goes by how parts can be laid out that stages
// are limited; what goes by sizes alone holds anyhow.
func (p *problem) inStages(why string) string {
	if p.depth == 0 {
		return why
	}
	n := fmt.Sprintf(" in %d stages of cuts", p.depth)
	if p.run != EitherWay {
		n += " with strips " + p.run.String()
	}
	return strings.NewReplacer("every way to cut these parts", "every way to cut these parts"+n,
		"laid out as well as can be", "laid out as well as can be"+n, "hold all parts", "hold all parts"+n, "holds all parts", "holds all parts"+n).Replace(why)
}

func (p *problem) apart() string {
	if p.free() {
		return ", offcuts not counted"
	}
	return ""
}

func sheets(n int) string {
	if n == 1 {
		return "one sheet"
	}
	return fmt.Sprintf("%d sheets", n)
}
