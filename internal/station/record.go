package station

import (
	"fmt"
	"slices"

	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Recorded is what the page of a record shows: what was measured, bent, cut
// and spent on a piece, beside what was planned.
type Recorded struct {
	Answer string          `json:"answer"`
	Units  string          `json:"units" enum:"mm,in" doc:"of the record: a bare number is read so"`
	Panels []MeasuredPanel `json:"panels" doc:"those the piece is made of"`
	Saws   []MeasuredSaw   `json:"saws"`
	Tests  []TestReading   `json:"tests"`
	Strip  *TestStrip      `json:"strip,omitempty" doc:"the test strip to cut, where something is bent"`
	Parts  []CutPart       `json:"parts"`
	Blanks []CutPart       `json:"blanks" doc:"what comes off panels larger and has its last cut once the openings are measured: how many lie there"`
	Hours  []SpentHours    `json:"hours"`
	Work   []Choice        `json:"work" doc:"operations that time can be spent on"`
}

// MeasuredPanel is a panel with the points at which it was measured.
type MeasuredPanel struct {
	Key    string          `json:"key"`
	Title  string          `json:"title"`
	Path   string          `json:"path" doc:"of the list of points in the record"`
	Shop   Size            `json:"shop" doc:"thickness by the shop"`
	Says   string          `json:"says"`
	Points []MeasuredPoint `json:"points"`
}

// MeasuredPoint is one measure.
type MeasuredPoint struct {
	Path string `json:"path"`
	Size Size   `json:"size"`
}

// MeasuredSaw is a saw with its kerf as measured now.
type MeasuredSaw struct {
	Key   string `json:"key"`
	Title string `json:"title"`
	Path  string `json:"path"`
	Shop  Size   `json:"shop" doc:"kerf by the shop"`
	Kerf  *Size  `json:"kerf,omitempty" doc:"as measured; none: the shop's is taken"`
	Says  string `json:"says"`
}

// CutPart is a part with how many of it are cut.
type CutPart struct {
	Letter string `json:"letter"`
	Name   string `json:"name"`
	Sizes  string `json:"sizes"`
	For    string `json:"for,omitempty" doc:"parts that come out of a blank, where they have letters of their own"`
	Need   int    `json:"need" doc:"for all pieces; of blanks, those whose parts are not cut yet"`
	Cut    int    `json:"cut"`
	Path   string `json:"path" doc:"of its entry in the record, or of the place for one"`
	There  bool   `json:"there" doc:"it has an entry"`
}

// SpentHours is the time of one operation.
type SpentHours struct {
	Operation string      `json:"operation"`
	Title     string      `json:"title"`
	Guess     string      `json:"guess" doc:"hours estimated, for all pieces"`
	Spent     string      `json:"spent,omitempty"`
	Done      bool        `json:"done"`
	Entries   []SpentLine `json:"entries"`
}

// SpentLine is one entry of hours.
type SpentLine struct {
	Path string `json:"path"`
	Says string `json:"says"`
}

// RecordPage shows the record of a plan's piece.
func RecordPage(p plan.Plan) Recorded {
	out := Recorded{
		Units: p.Record.Units.String(), Panels: measuredPanels(p), Saws: measuredSaws(p), Tests: []TestReading{},
		Parts: cutParts(p), Blanks: cutBlanks(p), Hours: spentHours(p),
	}
	if len(p.Model.Bends) > 0 {
		out.Tests = testReadings(p, p.Model.Bends[0])
		out.Strip = testStrip(p, p.Model.Bends[0])
	}
	for _, h := range p.Route.Hours {
		out.Work = append(out.Work, Choice{string(h.Op), h.Name})
	}
	if out.Work == nil {
		out.Work = []Choice{}
	}
	out.Answer = out.answer()
	return out
}

func (r Recorded) answer() string {
	points, kerfs, cut, need, hours, blanks := 0, 0, 0, 0, 0, 0
	for _, p := range r.Panels {
		points += len(p.Points)
	}
	for _, s := range r.Saws {
		if s.Kerf != nil {
			kerfs++
		}
	}
	for _, p := range r.Parts {
		need += p.Need
		cut += min(p.Cut, p.Need)
	}
	for _, p := range r.Blanks {
		blanks += p.Cut
	}
	for _, h := range r.Hours {
		hours += len(h.Entries)
	}
	if points+kerfs+len(r.Tests)+cut+hours+blanks == 0 {
		return "Nothing is written down yet. Measure the panels first: the plan takes what you measure before what the shop says."
	}
	off := fmt.Sprintf("%d of %s cut", cut, document.Count(need, "part"))
	if blanks > 0 {
		off += fmt.Sprintf(", %s to be cut to measure", document.Count(blanks, "blank"))
	}
	return fmt.Sprintf("%s of thickness, %s, %s, %s, %s of hours.",
		document.Count(points, "measure"), document.Count(kerfs, "kerf"), document.Count(len(r.Tests), "test bend"), off, document.Count(hours, "entry"))
}

// measuredPanels are the panels that parts are cut of, and those measured.
func measuredPanels(p plan.Plan) []MeasuredPanel {
	used := map[string]bool{}
	for _, part := range p.Model.Parts {
		if !part.Solid {
			used[part.Material] = true
		}
	}
	for k := range p.Record.Thicknesses {
		used[k] = true
	}
	out := []MeasuredPanel{}
	for _, k := range keys(used) {
		stock, known := p.Shop.Panels[k]
		x := MeasuredPanel{Key: k, Title: document.Capital(p.Shop.StockCalled(k)), Path: "thicknesses." + k, Shop: sized(p, stock.Thickness), Points: []MeasuredPoint{}}
		points := p.Record.Thicknesses[k]
		for i, l := range points {
			x.Points = append(x.Points, MeasuredPoint{fmt.Sprintf("%s[%d]", x.Path, i), fine(p, l)})
		}
		switch {
		case !known:
			x.Says = "The shop has no such panel any more."
		case len(points) == 0:
			x.Says = fmt.Sprintf("Not measured; the shop says %s.", x.Shop.Own)
		default:
			mean := meanOf(points)
			x.Says = fmt.Sprintf("%s on average of %s, %s to %s; the shop says %s.", fine(p, mean).Own, document.Count(len(points), "point"), fine(p, slices.Min(points)).Own, fine(p, slices.Max(points)).Own, x.Shop.Own)
			if off := mean - stock.Thickness; off.Abs() >= unit.Millimetre/20 {
				x.Says += fmt.Sprintf(" All joints and kerfs follow the %s.", fine(p, mean).Own)
			}
		}
		out = append(out, x)
	}
	return out
}

func measuredSaws(p plan.Plan) []MeasuredSaw {
	out := []MeasuredSaw{}
	for _, k := range keys(p.Shop.Saws) {
		x := MeasuredSaw{Key: k, Title: document.Capital(shop.Words(k)) + " saw", Path: "kerfs." + k, Shop: fine(p, p.Shop.Saws[k].Kerf)}
		if w := p.Record.Kerfs[k]; w > 0 {
			size := fine(p, w)
			x.Kerf, x.Says = &size, fmt.Sprintf("Measured %s; the shop says %s.", size.Own, x.Shop.Own)
		} else {
			x.Says = fmt.Sprintf("Not measured for this piece; the shop says %s.", x.Shop.Own)
		}
		out = append(out, x)
	}
	return out
}

func cutParts(p plan.Plan) []CutPart {
	out := []CutPart{}
	for _, part := range p.Model.Parts {
		x := CutPart{
			Letter: part.Letter, Name: part.Name, Need: part.Count * max(p.Piece.Count, 1),
			Sizes: sized(p, part.FitLength()).Own + " × " + sized(p, part.FitWidth()).Own + " × " + sized(p, part.Thickness.Size).Own,
			Path:  fmt.Sprintf("cut[%d]", len(p.Record.Cut)),
		}
		if part.IsBlank() {
			x.Sizes += ", after the last cut"
		}
		if i := slices.IndexFunc(p.Record.Cut, func(c record.Cut) bool { return c.Part == part.Letter }); i >= 0 {
			x.Cut, x.Path, x.There = p.Record.Cut[i].Count, fmt.Sprintf("cut[%d]", i), true
		}
		out = append(out, x)
	}
	return out
}

func cutBlanks(p plan.Plan) []CutPart {
	out := []CutPart{}
	for _, k := range p.Model.Blanks {
		x := CutPart{
			Letter: k.Letter, Name: k.Name, Need: k.Need, Cut: k.Off, Path: fmt.Sprintf("blanks[%d]", len(p.Record.Blanks)),
			Sizes: sized(p, k.Length).Own + " × " + sized(p, k.Width).Own,
		}
		if !slices.Equal(k.For, []string{k.Letter}) {
			x.For = list(k.For)
		}
		if i := slices.IndexFunc(p.Record.Blanks, func(c record.Blanks) bool { return c.Part == k.Letter }); i >= 0 {
			x.Path, x.There = fmt.Sprintf("blanks[%d]", i), true
		}
		if x.Need > 0 || x.There {
			out = append(out, x)
		}
	}
	return out
}

func spentHours(p plan.Plan) []SpentHours {
	out := []SpentHours{}
	for _, h := range p.Route.Hours {
		x := SpentHours{Operation: string(h.Op), Title: document.Capital(h.Name), Guess: decimals(h.Estimated.Hours(), 1) + " h", Done: h.Done, Entries: []SpentLine{}}
		if h.Actual > 0 {
			x.Spent = decimals(h.Actual.Hours(), 1) + " h"
		}
		for i, s := range p.Record.Hours {
			if s.Operation != string(h.Op) {
				continue
			}
			said := decimals(s.Hours, 2) + " h"
			if s.Done {
				said += ", done"
			}
			if s.Note != "" {
				said += ": " + s.Note
			}
			x.Entries = append(x.Entries, SpentLine{fmt.Sprintf("hours[%d]", i), said})
		}
		out = append(out, x)
	}
	return out
}
