package papers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/check"
	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// delivery is the note that goes with the piece: what is handed over, how to
// care for it, what it carries, how it is fixed, and what its materials say
// of themselves. Without a customer there is nobody to hand it to.
func (s *set) delivery() {
	c := s.p.Piece.Customer
	if c == nil {
		return
	}
	mass := check.Mass(s.p.Model, s.p.Shop)
	f := s.flow(Delivery, "delivery note", false, fmt.Sprintf("Delivery of %s to %s", s.p.Piece.Name, c.Name))
	s.parties(f, "")
	columns := []drawing.Column{{Head: "Handed over", Share: 60, Bold: true}, {Head: "", Share: 116}}
	rows := append(s.handed(), []string{"With it", s.withIt() + ": ……………………………………………"})
	f.table(columns, rows, drawing.TableStyle{Size: 3.2})
	s.points(f, "Carrying", "", s.carrying(mass))
	s.points(f, "What it carries", untested, append(s.limits(), c.Limits...))
	s.points(f, "Fixing to the wall", s.anchorSource(), s.anchoring())
	s.points(f, "Care", "", s.care())
	if declared := s.declared(); len(declared) > 0 {
		s.points(f, "Materials, as entered", repeated, declared)
	}
	s.signatures(f, "Handed over", "Received in good order")
}

// What stands under the lines of the note.
const (
	untested = "As entered and as the boxes of the fittings say; nobody has tested this piece."
	repeated = "This repeats what labels and the maker say. Nothing was tested or judged for it."
)

// withIt is what goes along with the piece: of what it has and what is bought
// for it.
func (s *set) withIt() string {
	var out []string
	locks, spare := false, false
	for _, l := range s.p.Buying {
		locks = locks || lock.MatchString(l.What) || lock.MatchString(l.Key)
		spare = spare || l.Sort == yard.Fittings && !l.Made && l.Spare > 0
	}
	if locks {
		out = append(out, "keys")
	}
	if spare {
		out = append(out, "spare fittings")
	}
	if s.p.Piece.Restrained(s.p.Model.Outside.Z) {
		out = append(out, "tip restraint with its instruction")
	}
	if s.p.Piece.Use.Hung() {
		out = append(out, "wall fixings with their instruction")
	}
	return strings.Join(append(out, "photographs taken on delivery"), ", ")
}

// lock finds what has a key.
var lock = regexp.MustCompile(`(?i)\block\b`)

// handed is what is handed over, each with what it is.
func (s *set) handed() [][]string {
	o, mass := s.p.Model.Outside, check.Mass(s.p.Model, s.p.Shop)
	return [][]string{
		{"Pieces", fmt.Sprint(s.pieces())},
		{"Outside, wide × deep × high", s.sizesText(o.X, o.Y, o.Z)},
		{"Mass of one, wood only", "about " + mass.Both(s.p.Piece.Units, 0) + "; fittings come on top"},
	}
}

func (s *set) anchorSource() string {
	switch {
	case s.p.Piece.Use.Hung():
		return "Statics; else common practice. What the maker of the fixings says, local codes and licensed practice come first."
	case s.p.Piece.Use.Free():
		return "Common practice. Local codes come first."
	}
	return "ASTM F2057-23 and 16 CFR 1261 for storage for clothes; else common practice. The restraint's own instruction, local codes and licensed practice come first."
}

// points sets lines under a heading, with where they come from.
func (s *set) points(f *flow, head, source string, lines []string) {
	h := 0.0
	for _, t := range lines {
		h += blockHeight("• "+t, 2.9, f.r.W, drawing.Regular) + 1
	}
	f.sub(head, min(h, 40))
	for _, t := range lines {
		f.text("• "+t, 2.9, drawing.Regular)
		f.r.Y, f.r.H = f.r.Y-gap+1, f.r.H+gap-1
	}
	if source != "" {
		f.text(source, sizeNote, drawing.Regular)
	}
}

// fills says whether an opening has such a fill.
func (s *set) fills(fill string) bool {
	return slices.ContainsFunc(s.p.Model.Openings, func(o build.Opening) bool { return o.Fill == fill })
}

func (s *set) carrying(mass unit.Mass) []string {
	var never, first []string
	p := s.p.Piece
	if p.Frame != nil {
		never = append(never, "its frame")
	}
	if p.Case.Top != nil {
		never = append(never, "its top")
	}
	if s.fills("drawer") {
		never, first = append(never, "drawers"), append(first, "drawers")
	}
	if s.fills("door") {
		never = append(never, "doors")
	}
	if p.Base != nil {
		never = append(never, map[string]string{"legs": "legs", "plinth": "its plinth", "casters": "casters", "feet": "feet"}[p.Base.Kind])
	}
	if slices.ContainsFunc(s.p.Model.Parts, func(p build.Part) bool { return p.Role == build.RoleShelf && p.Name != "fixed shelf" }) {
		first = append(first, "loose shelves")
	}
	t := "Lift it by the case"
	if n := len(never); n > 0 {
		t += ", never by " + strings.Join(never[:n-1], ", ")
		if n > 1 {
			t += " or "
		}
		t += never[n-1]
	}
	if len(first) > 0 {
		t += "; take " + list(first) + " out first"
	}
	out := []string{t + "."}
	if mass > 23 {
		out = append(out, "Two people: guidance limits for one are near "+unit.Mass(23).Both(s.p.Piece.Units, 0)+" close to the body, less away from it (NIOSH lifting equation, HSE manual handling).")
	}
	return out
}

// limits are the load limits that were entered or stand on boxes.
func (s *set) limits() []string {
	p := s.p.Piece
	var out []string
	if p.Use.LoadKg > 0 {
		out = append(out, fmt.Sprintf("Planned for %s in it, in all.", unit.Mass(p.Use.LoadKg).StatedBoth(p.Units)))
	}
	seen := map[string]bool{}
	for _, h := range s.p.Model.Hardware {
		x := s.p.Shop.Hardware[h.Key]
		if x.RatedKg == 0 || seen[h.Key] {
			continue
		}
		seen[h.Key] = true
		each := "each"
		if strings.HasSuffix(x.Kind, "-runner") {
			each = "a pair, box and contents together"
		}
		out = append(out, fmt.Sprintf("%s: rated for %s %s.", document.Capital(shop.Called(x.Name, h.Key)), unit.Mass(x.RatedKg).StatedBoth(p.Units), each))
	}
	if len(out) == 0 {
		out = append(out, "No limit is entered. Ask the maker before loading it.")
	}
	return append(out, "Heavy things low and to the back.")
}

// input is what the checks of the piece's stand work from.
func (s *set) input() check.Input {
	return check.Input{Piece: s.p.Piece, Shop: s.p.Shop, Record: s.p.Record, Model: s.p.Model, Show: s.p.Show}
}

const suitsWall = "Wall fixings must suit the wall: into studs, or plugs made for it. Look for wires and pipes before drilling; if in doubt have it done by a licensed trade."

// anchoring says who fixes it to the wall and how.
func (s *set) anchoring() []string {
	p := s.p.Piece
	drawers := s.fills("drawer")
	heavy := "Heaviest things lowest."
	if drawers {
		heavy = "Heaviest things in the lowest drawers."
	}
	switch {
	case p.Use.Hung():
		return s.hanging()
	case p.Use.Free():
		return s.standing("It is made to stand free; it is not fixed to a wall.", " Where children live or come, have it fixed to a wall, with restraints made for furniture.", heavy, drawers)
	case p.Base != nil && p.Base.Kind == "casters":
		return s.standing("It stands on casters and cannot be fixed to a wall. Lock them where it stands.", "", heavy, drawers)
	}
	who := "The customer fixes it to the wall before it is used"
	if p.Customer.FixedBy == "maker" {
		who = "The maker fixes it to the wall on delivery: done on ……………………… by ………………………"
	} else if p.Restrained(s.p.Model.Outside.Z) {
		who += ", with the restraint that comes with it."
	} else {
		who += ". Restraints do not come with it: take such as are made for furniture."
	}
	out := []string{
		who,
		"One restraint near each end of the back, high up, into the wood of the case and not into the back panel; straps taut, screws as its instruction says.",
	}
	if pull := check.Anchor(s.input()); pull > 0 {
		out = append(out, fmt.Sprintf("By statics alone the restraints have to hold more than %s between them; jerks come on top. Estimate only: take ones rated for several times that.",
			pull.Both(s.p.Piece.Units)))
	}
	out = append(out, suitsWall, heavy+" Nothing that draws a child on top. Nobody climbs, sits or hangs on it.")
	if drawers {
		out = append(out, "Open one drawer at a time.")
	}
	return out
}

// standing is what whoever lives with a piece that nothing holds must know.
func (s *set) standing(how, better, heavy string, drawers bool) []string {
	falls := "It can be pulled or pushed over."
	if check.Anchor(s.input()) > 0 {
		falls = "As reckoned, what is open can pull it over forward, more so with somebody on it. That is an estimate by statics; nobody has tested it."
	}
	out := []string{how, falls + better, heavy + " Nothing that draws a child on top. Nobody climbs, sits or hangs on it."}
	if drawers {
		out = append(out, "Open one drawer at a time.")
	}
	return out
}

// hanging is how a piece that hangs is hung.
func (s *set) hanging() []string {
	who := "The customer hangs it on the wall."
	if s.p.Piece.Customer.FixedBy == "maker" {
		who = "The maker hangs it on delivery: done on ……………………… by ………………………"
	}
	out := []string{who}
	if h, ok := check.Hang(s.input()); ok {
		out = append(out, fmt.Sprintf("For its fixings alone it is reckoned with %s in it (%s), which is no limit of what the piece carries: by statics it pulls the upper ones out of the wall by %s and down along it by %s; jerks and whoever leans on it come on top.",
			h.Load.StatedBoth(s.p.Piece.Units), h.LoadBy, check.Newtons(h.Pull, s.p.Piece.Units), check.Newtons(h.Shear, s.p.Piece.Units)), "Estimate only. "+h.Advice(s.p.Piece.Units))
	}
	return append(out, suitsWall, "Heaviest things lowest. Nobody climbs, sits or hangs on it.")
}

// careWords are the usual words for each class of finish. Common practice, no
// source; the finish's own label comes first.
var careWords = map[string]string{
	"oil":            "Wipe with a cloth hardly damp and dry it at once. Renew the oil where it looks dry. Spread oily cloths flat outdoors to dry or soak them in water: left in a heap they take fire by themselves.",
	"hardwax-oil":    "Wipe with a cloth hardly damp and dry it at once. Renew the oil where it looks dry. Spread oily cloths flat outdoors to dry or soak them in water: left in a heap they take fire by themselves.",
	"wiping-varnish": "Wipe with a damp cloth and dry it. No wax with silicone, or it cannot be renewed.",
	"varnish":        "Wipe with a damp cloth and dry it. No wax with silicone, or it cannot be renewed.",
	"shellac":        "Dust dry. Spirits, heat and water standing on it leave marks.",
	"lacquer":        "Wipe with a damp cloth and dry it. Solvents leave marks.",
	"waterborne":     "Wipe with a damp cloth and mild soap, and dry it. Solvents leave marks.",
}

func (s *set) care() []string {
	c := s.p.Piece.Customer
	if len(c.Care) > 0 {
		return c.Care
	}
	sun := "Keep it out of the sun and away from heaters."
	switch doors, drawers := s.fills("door"), s.fills("drawer"); {
	case doors && drawers:
		sun += " Wood moves with the seasons: drawers and doors may run tighter in the damp half of the year."
	case drawers:
		sun += " Wood moves with the seasons: drawers may run tighter in the damp half of the year."
	case doors:
		sun += " Wood moves with the seasons: doors may run tighter in the damp half of the year."
	}
	out := []string{sun, "Nothing hot or wet stands on it without a mat."}
	cure := 0.0
	for _, x := range s.p.Route.Finishes {
		cure = max(cure, x.Class.Cure)
	}
	if cure > 0 {
		out = append(out, fmt.Sprintf("The finish goes on hardening for up to %s days after the last coat; until then only dry cloths, and nothing left standing on it.", decimals(cure, 0)))
	}
	if t, ok := careWords[s.p.Piece.Finish.Kind]; ok {
		out = append(out, t+" The label of the finish comes first.")
	}
	return out
}

// declared repeats what was entered of the materials, word for word; none if
// nothing was.
func (s *set) declared() []string {
	var out []string
	out = append(out, s.p.Piece.Customer.Declares...)
	for _, b := range s.p.Record.Bought {
		if b.Label == "" {
			continue
		}
		t := document.Capital(b.What) + ": " + b.Label
		if b.Lot != "" {
			t += ", lot " + b.Lot
		}
		out = append(out, t)
	}
	return out
}
