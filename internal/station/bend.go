package station

import (
	"fmt"
	"slices"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/build"
	"casewright/internal/document"
	"casewright/internal/plan"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Bending is what the page of the bends shows: each bend of the shell, those
// cut alike together.
type Bending struct {
	Answer string        `json:"answer"`
	Units  string        `json:"units" enum:"mm,in"`
	Bends  []BendKind    `json:"bends"`
	Empty  string        `json:"empty,omitempty" doc:"why there is no bend to see, and what would make one"`
	Panel  string        `json:"panel,omitempty" doc:"key of the shell's panel in the shop"`
	Saw    string        `json:"saw,omitempty" doc:"key of the saw that cuts the kerfs"`
	Kerf   string        `json:"kerf,omitempty" doc:"said when the record has the kerf of that saw, which goes before the shop's"`
	Tests  []TestReading `json:"tests" doc:"test bends of this panel on this saw, as the record has them"`
}

// BendKind is one design with all bends made by it.
type BendKind struct {
	N       int      `json:"n" doc:"counts from 0; names the bend when a test is tried"`
	Names   []string `json:"names"`
	Parts   []string `json:"parts" doc:"letters of the parts it is cut in"`
	Answer  string   `json:"answer"`
	Panel   string   `json:"panel"`
	Saw     string   `json:"saw"`
	Outside bool     `json:"outside" doc:"the kerfs lie outside and open"`
	Form    bool     `json:"form"`

	Drawing  BendDrawing   `json:"drawing"`
	Fan      []FanLine     `json:"fan" doc:"where the free leg may come to lie when the kerfs are closed"`
	Designs  []BendDesign  `json:"designs" doc:"the one in the plan first, then by rank"`
	Figures  []Figure      `json:"figures"`
	Slopes   []BendSlope   `json:"slopes" doc:"what a tenth of a millimetre changes"`
	Bench    string        `json:"bench" doc:"the count by the bench rule, and the lifted board"`
	Closing  string        `json:"closing" doc:"how the kerfs close, one after the other"`
	Centres  []Size        `json:"centres" doc:"kerf centres from the tangent point on the flat panel"`
	Test     *TestStrip    `json:"test,omitempty" doc:"the test strip to cut; none for kerfs that open"`
	Findings []BendFinding `json:"findings"`
}

// BendFinding is what the check of a bend has to say.
type BendFinding struct {
	Level  string `json:"level" enum:"note,care,stop"`
	Place  string `json:"place"`
	Says   string `json:"says"`
	Advice string `json:"advice,omitempty"`
	Source string `json:"source,omitempty"`
}

// Figure is one number with the sum it came from.
type Figure struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Other string `json:"other,omitempty" doc:"in the other unit"`
	Why   string `json:"why,omitempty"`
}

// BendDesign is one workable way to make a bend, as it stands beside others.
type BendDesign struct {
	Name    string    `json:"name"`
	Chosen  bool      `json:"chosen" doc:"the one in the plan"`
	Rank    int       `json:"rank,omitempty" doc:"1 is the cheapest; left out for a count given by the piece"`
	Count   int       `json:"count"`
	Passes  int       `json:"passes"`
	Kerf    Size      `json:"kerf"`
	Blade   string    `json:"blade,omitempty"`
	Skin    Size      `json:"skin"`
	Pitch   Size      `json:"pitch"`
	Land    Size      `json:"land"`
	Zone    Size      `json:"zone"`
	Facet   string    `json:"facet"`
	Gap     string    `json:"gap"`
	Strain  string    `json:"strain"`
	Force   string    `json:"force,omitempty"`
	Closes  string    `json:"closes,omitempty"`
	Low     string    `json:"low,omitempty" doc:"5 bends in 100 close before this"`
	High    string    `json:"high,omitempty"`
	Verdict string    `json:"verdict"`
	Reasons []string  `json:"reasons"`
	Ranked  string    `json:"ranked,omitempty" doc:"what it is ranked by"`
	Points  []float64 `json:"points" doc:"its section at the wanted turn, x and y in turn, mm"`
	Put     *PutIn    `json:"put,omitempty"`
}

// BendPage shows the bends of a plan.
func BendPage(p plan.Plan) Bending {
	out := Bending{Units: p.Piece.Units.String(), Bends: []BendKind{}, Tests: []TestReading{}}
	kinds := bendKinds(p.Model.Bends)
	if len(kinds) == 0 {
		out.Answer = "Nothing is bent in this piece."
		out.Empty = "A case of kind shell is bent from one strip of panel; its bends would be here, drawn as they close. Make case.kind a shell at the desk, with a shape, a radius and a skin."
		return out
	}
	first := p.Model.Bends[kinds[0][0]]
	out.Panel, out.Saw = p.Piece.Materials["case"], first.Saw
	if w := p.Record.Kerfs[first.Saw]; w > 0 {
		out.Kerf = fmt.Sprintf("The record has the kerf of the %s saw at %s; it goes before the shop's.", shop.Words(first.Saw), fine(p, w).Own)
	}
	for n, k := range kinds {
		out.Bends = append(out.Bends, bendKind(p, n, k, len(kinds)))
	}
	out.Answer = out.Bends[0].Answer
	if len(kinds) > 1 {
		out.Answer = fmt.Sprintf("%s of %s.", document.Count(len(p.Model.Bends), "bend"), document.Count(len(kinds), "kind")) + " " + out.Answer
	}
	out.Tests = testReadings(p, first)
	return out
}

// bendKinds gathers the indices of bends that are cut alike.
func bendKinds(bends []build.Bend) [][]int {
	type key struct {
		count                   int
		kerf, skin, thick, face unit.Length
		turn                    unit.Angle
		outside                 bool
	}
	at := map[key]int{}
	var out [][]int
	for i, b := range bends {
		r := b.Design.Result
		k := key{r.Count, r.Kerf, r.Spec.Skin, r.Spec.Thickness, r.FaceRadius, r.Turn, r.Spec.Outside}
		j, ok := at[k]
		if !ok {
			j = len(out)
			at[k] = j
			out = append(out, nil)
		}
		out[j] = append(out[j], i)
	}
	return out
}

func bendKind(p plan.Plan, n int, alike []int, kinds int) BendKind {
	b := p.Model.Bends[alike[0]]
	r := b.Design.Result
	k := BendKind{
		N: n, Panel: p.Shop.StockCalled(p.Piece.Materials["case"]), Saw: b.Saw, Outside: r.Spec.Outside, Form: r.Spec.Form,
		Answer: bendAnswer(r), Drawing: bendDrawing(p, r), Fan: bendFan(p, r),
		Figures: bendFigures(p, r, len(testsOf(p, b)) > 0), Slopes: bendSlopes(p, r), Bench: benchWords(p, r), Closing: closingWords(p, r),
		Test: testStrip(p, b), Findings: []BendFinding{},
		Centres: []Size{}, Parts: []string{},
	}
	for _, f := range r.Findings {
		k.Findings = append(k.Findings, BendFinding{f.Level.String(), f.Place, f.Says, f.Advice, f.Source})
	}
	for _, i := range alike {
		k.Names = append(k.Names, p.Model.Bends[i].Name)
	}
	for _, part := range p.Model.Parts {
		if slices.ContainsFunc(part.Kerfs, func(g build.KerfGroup) bool { return slices.Contains(alike, g.Bend) }) {
			k.Parts = append(k.Parts, part.Letter)
		}
	}
	for _, c := range r.Centres(0) {
		k.Centres = append(k.Centres, sized(p, c))
	}
	k.Designs = bendDesigns(p, b, kinds)
	return k
}

// bendAnswer is the first line: how many kerfs, when they close, how sure.
func bendAnswer(r bend.Result) string {
	kerfs := document.Count(r.Count, "kerf")
	soften := map[bend.Verdict]string{
		bend.SoftenFirst: " Soften the skin first.", bend.Marginal: " The skin is near its limit: bend a coupon first.", bend.WillCrack: " The skin will crack.",
	}[r.Verdict]
	if r.Spec.Outside {
		return fmt.Sprintf("%s outside open to turn %s; the form stops them.%s", kerfs, degrees(r.Turn), soften)
	}
	said := fmt.Sprintf("%s close at %s; 5 bends in 100 close before %s, and %s is wanted.", kerfs, degrees(r.ClosesAt), degrees(r.Band.AngleP05), degrees(r.Turn))
	if r.Count == 1 {
		said = strings.Replace(said, "close at", "closes at", 1)
	}
	return said + soften
}

// closingWords tell which kerf closes first, and with how much to spare.
func closingWords(p plan.Plan, r bend.Result) string {
	if r.Spec.Outside {
		return fmt.Sprintf("Each kerf opens to %s at its mouth.", fine(p, r.Gap).Own)
	}
	said := fmt.Sprintf("Each kerf closes when it has turned %s; at %s in all it stays open by %s at its mouth.", degrees2(r.ClosingEach), degrees(r.Turn), fine(p, max(r.Gap, 0)).Own)
	if r.Spec.Form || r.Count < 2 {
		return said
	}
	return said + fmt.Sprintf(" Bent by hand, the kerf next to the clamp turns %s times as much as the one next to the hand, so it closes first; hold it closed and the others follow.", decimals(r.HandShare, 2))
}

// benchWords set the plan beside the rules of the bench.
func benchWords(p plan.Plan, r bend.Result) string {
	if r.Spec.Outside {
		return "The bench rule is for kerfs that close; here the count is the least whose skin stands the bend."
	}
	return fmt.Sprintf("The bench rule (angle × depth ÷ kerf) gives %s kerfs; it takes the bottom of the kerf for the hinge, though the skin bends about its own middle, and so counts too few. "+
		"Lifted board: cut one kerf, clamp the board on one side of it, lift the other side until the kerf closes; %s from the kerf it stands %s off the bench. At that pitch the kerfs would close with nothing to spare; the plan has %s.",
		decimals(r.BenchCount, 1), sized(p, r.FaceRadius).Own, fine(p, r.Lift).Own, fine(p, r.Pitch).Own)
}

// bendDesigns are the design in the plan and the others, by rank.
func bendDesigns(p plan.Plan, b build.Bend, kinds int) []BendDesign {
	all := append([]bend.Design{b.Design}, b.Others...)
	ranks := map[float64]int{}
	var costs []float64
	for _, d := range all {
		if len(d.Charges) > 0 {
			costs = append(costs, d.Cost)
		}
	}
	slices.Sort(costs)
	for i, c := range costs {
		if _, ok := ranks[c]; !ok {
			ranks[c] = i + 1
		}
	}
	var out []BendDesign
	for i, d := range all {
		x := bendDesign(p, b, d)
		x.Chosen = i == 0
		if len(d.Charges) > 0 {
			x.Rank = ranks[d.Cost]
		}
		if i > 0 {
			x.Put = putIn(p, b, d, kinds)
		}
		out = append(out, x)
	}
	return out
}

func bendDesign(p plan.Plan, b build.Bend, d bend.Design) BendDesign {
	r := d.Result
	x := BendDesign{
		Name: d.Name, Count: r.Count, Passes: 1 + len(r.Spec.Passes), Blade: d.Blade,
		Kerf: fine(p, r.Kerf), Skin: fine(p, r.Spec.Skin), Pitch: fine(p, r.Pitch), Land: fine(p, r.Land), Zone: sized(p, r.Zone),
		Facet: decimals(r.Facet.MM(), 3) + " mm", Gap: fine(p, max(r.Gap, 0)).Own, Strain: percent(r.Strain),
		Verdict: r.Verdict.String(), Reasons: d.Reasons, Ranked: chargeWords(d),
		Points: flatten(r.SectionPoints(r.Turn, legOf(r), 2)),
	}
	if x.Reasons == nil {
		x.Reasons = []string{"The piece gives this count itself (case.kerfs); take it out to have one chosen."}
	}
	if r.Force > 0 {
		x.Force = forceWords(p, r.Force)
	}
	if !r.Spec.Outside {
		x.Closes, x.Low, x.High = degrees(r.ClosesAt), degrees(r.Band.AngleP05), degrees(r.Band.AngleP95)
	}
	return x
}

// chargeWords are what a design is ranked by: "13 kerfs + 12 softening = 25
// cuts".
func chargeWords(d bend.Design) string {
	var terms []string
	for _, c := range d.Charges {
		terms = append(terms, decimals(c.Cuts, 1)+" "+c.For)
	}
	if len(terms) == 0 {
		return ""
	}
	return strings.Join(terms, " + ") + " = " + decimals(d.Cost, 1) + ", counted in cuts"
}

func degrees(a unit.Angle) string  { return decimals(a.Deg(), 1) + "°" }
func degrees2(a unit.Angle) string { return decimals(a.Deg(), 2) + "°" }
func percent(f float64) string     { return decimals(100*f, 2) + " %" }

// forceWords is a force in newtons or pounds.
func forceWords(p plan.Plan, f unit.Force) string {
	if p.Piece.Units == unit.Imperial {
		return decimals(float64(f/unit.PoundForce), 0) + " lbf"
	}
	return decimals(float64(f), 0) + " N"
}
