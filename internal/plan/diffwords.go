package plan

import (
	"reflect"
	"strings"

	"casewright/internal/route"
	"casewright/internal/unit"
)

// form says how a value is printed, and what sort of thing it is.
type form struct {
	kind  Kind
	unit  string // behind a bare number
	names []string
	mm    bool // a bare number of millimetres, printed as a length
	exact bool
}

// endings are the units that names of fields end in.
var endings = []struct {
	end string
	form
}{
	{"_n_mm_per_mm", form{kind: Size, unit: "N mm/mm"}},
	{"_g_m2", form{kind: Mass, unit: "g/m²"}},
	{"_m2_per_l", form{kind: Size, unit: "m²/l"}},
	{"_board_feet", form{kind: Count, unit: "board feet"}},
	{"_minutes", form{kind: Time, unit: "min"}},
	{"_hours", form{kind: Time, unit: "h"}},
	{"_hours_soonest", form{kind: Time, unit: "h"}},
	{"_days", form{kind: Time, unit: "days"}},
	{"_percent", form{kind: Count, unit: "%"}},
	{"_newtons", form{kind: Size, unit: "N"}},
	{"_mpa", form{kind: Size, unit: "MPa"}},
	{"_mm2", form{kind: Size, unit: "mm²"}},
	{"_m2", form{kind: Size, unit: "m²"}},
	{"_m3", form{kind: Size, unit: "m³"}},
	{"_mm", form{kind: Size, mm: true}},
	{"_deg", form{kind: Size, unit: "°"}},
	{"_ml", form{kind: Size, unit: "ml"}},
	{"_grams", form{kind: Mass, unit: "g"}},
	{"_n", form{kind: Size, unit: "N"}},
	{"_c", form{kind: Size, unit: "°C"}},
}

// byName are the fields whose unit does not stand in their name.
var byName = map[string]form{
	"hours":             {kind: Time, unit: "h"},
	"learned":           {kind: Time, unit: "min"},
	"litres":            {kind: Size, unit: "l"},
	"litres_per_coat":   {kind: Size, unit: "l"},
	"days":              {kind: Time, unit: "days"},
	"worked_days":       {kind: Time, unit: "days"},
	"hours_a_day":       {kind: Time, unit: "h"},
	"minutes_per_joint": {kind: Time, unit: "min"},
	"start":             {kind: Time},
	"delivery":          {kind: Time},
	"latest_start":      {kind: Time},
	"deliver_by":        {kind: Time},
	"outside":           {names: []string{"width", "depth", "height"}},
	"corners":           {names: []string{"top left", "top right", "bottom right", "bottom left"}},
	"packers":           {names: []string{"left", "right"}},
	"flush":             {names: []string{"left", "right"}},
}

func formOf(t reflect.Type, json string) form {
	f, ok := byName[json]
	for _, e := range endings {
		if !ok && strings.HasSuffix(json, e.end) {
			f, ok = e.form, true
		}
	}
	if f.kind != "" {
		return f
	}
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Array {
		t = t.Elem()
	}
	switch t {
	case reflect.TypeFor[unit.Money]():
		f.kind = Money
	case reflect.TypeFor[unit.Mass]():
		f.kind = Mass
	case reflect.TypeFor[route.Minutes](), reflect.TypeFor[route.Moment]():
		f.kind = Time
	case reflect.TypeFor[unit.Length](), reflect.TypeFor[unit.Angle](), reflect.TypeFor[unit.Area](), reflect.TypeFor[unit.Volume](),
		reflect.TypeFor[unit.Force](), reflect.TypeFor[unit.Stress]():
		f.kind = Size
	default:
		switch t.Kind() {
		case reflect.Int, reflect.Int64, reflect.Float64:
			f.kind = Count
		case reflect.Struct, reflect.Array, reflect.Slice:
			f.kind = Size
		default:
			f.kind = Text
		}
	}
	return f
}

// said are the words for fields whose name is not one a maker would use, by
// type and name; "" for fields that need none.
var said = map[string]string{
	"Plan.model": "", "Plan.panels": "", "Plan.woods": "", "Plan.setups": "", "Plan.buying": "", "Plan.fit": "", "Plan.route": "", "Plan.price": "", "Plan.findings": "",
	"Model.parts": "", "Model.joints": "", "Model.hardware": "", "Model.openings": "", "Model.bends": "", "Model.screws": "", "Model.outside": "outside",
	"Route.steps": "", "Route.glue_ups": "", "Route.finishes": "", "Route.sticks": "", "Route.hours": "", "Route.calendar": "calendar", "Route.pieces": "pieces made together",
	"Price.one": "price of one made alone", "Price.all": "price", "Price.payments": "", "Price.changes": "", "Price.after": "after-calculation", "Price.profit": "profit", "Price.known": "price known",
	"Sum.lines": "", "Sum.profit": "earned", "Sum.each": "net price of one", "Sum.net": "net price", "Sum.round_up": "rounded up by", "Sum.material": "goods, supplies and outside work",
	"Sequence.setups": "", "Sequence.account": "account", "Sequence.kind": "kind of saw", "Setup.cuts": "", "Setup.way": "how it is set",
	"Setup.keep": "part that is kept", "Setup.check_what": "what to measure", "Setup.turn": "turning the work",
	"Cut.of": "cut from", "Cut.times": "number of cuts", "Cut.long": "length of the cut", "Cut.left": "what is left", "Cut.gives": "what comes off", "Cut.rest": "what the rest is",
	"Part.features": "", "Part.kerfs": "", "Part.bands": "edge", "Part.places": "place", "Part.oversize": "left over for trimming", "Part.rough": "rough", "Part.bent": "bent", "Part.solid": "solid wood",
	"Part.to_measure": "cut once the openings are measured", "Sequence.after_measuring": "once the openings are measured", "Sequence.sizes": "", "Oversize.blank": "left until the openings are measured",
	"Model.blanks": "blank", "Part.off_saw": "blanks off the saw", "OffSaw.of": "blank", "Blank.for": "parts that come out of it", "Blank.need": "wanted", "Blank.off_saw": "off the saw", "Blank.over": "left over", "Setup.blanks": "blanks that come off",
	"Oversize.why": "reason", "Rough.class": "bought as", "Rough.strips": "strips glued up",
	"Place.frame": "where it stands", "Place.name": "name",
	"KerfGroup.start": "start of the bend", "KerfGroup.zone": "length of the kerfed zone", "KerfGroup.positions": "kerf positions", "KerfGroup.face": "kerfed face",
	"Feature.in": "in from the shaped edge", "Feature.on": "edge", "Feature.for": "what goes there", "Feature.region": "outline",
	"Bent.left":   "side of its path",
	"Bend.design": "", "Bend.others": "other ways to make it", "Design.bend": "", "Design.way": "way of making it", "Design.reasons": "for and against", "Design.cost": "rank",
	"Joint.a": "first part", "Joint.b": "second part", "Joint.with": "fastened with",
	"Fitting.at": "where it sits", "Fitting.for": "what it is for",
	"ScrewUse.clearance": "wood left before the face", "ScrewUse.stack": "wood screwed through", "ScrewUse.under_head": "what is screwed on", "ScrewUse.into": "screwed into", "ScrewUse.machine": "machine screw", "ScrewUse.where": "what it is for",
	"Opening.X": "left edge from the left of the piece", "Opening.Z": "lower edge from the floor", "Opening.path": "place in the piece", "Opening.storage_m3": "clear room", "Opening.fit": "",
	"Opening.kept": "parts kept as cut", "Opening.drawer": "box", "Opening.shape": "as fitted", "Opening.what_to_do": "what to do", "Opening.measures": "",
	"DrawerFit.above": "room above", "DrawerFit.box_up": "box up from the opening", "DrawerFit.runner_line": "line of the runner", "DrawerFit.packer_up": "packer up from the opening",
	"DrawerFit.width_fixed": "width fixed by parts cut", "DrawerFit.height_fixed": "height fixed by parts cut", "DrawerFit.flush": "packers flush with the opening",
	"Shape.Off": "measured less fitted", "Shape.Fitted": "measures as fitted", "Shape.Corner": "corners", "Shape.Radius": "radii", "Shape.Squared": "a true rectangle", "Shape.Assumed": "taken as upright", "Shape.Bare": "diagonals past the corners",
	"Front.gaps": "gap", "Front.leaves": "leaf", "Front.between": "gap where they meet", "Panel.saving": "smallest change that saves a panel", "Panel.saw": "saw that breaks it down",
	"Wood.net_board_feet": "net", "Wood.buy_board_feet": "to buy", "Wood.buy_m3": "to buy", "Wood.net_m3": "net", "Wood.rough": "thickness bought", "Wood.glued": "glued up from strips", "Wood.waste_of": "how waste is counted",
	"Extreme.letter": "part",
	"Line.each":      "price of one", "Line.need": "needed", "Line.charge": "charged to the piece", "Line.made": "made in the shop", "Line.measured": "measured from the piece", "Line.no_price": "without a price", "Line.amount": "cost", "Line.count": "count",
	"Step.operation": "operation", "Step.units": "amount of work", "Step.each_minutes": "run of one piece", "Step.run_minutes": "run", "Step.setup_minutes": "setup", "Step.wait_minutes": "waiting",
	"Step.whole": "in one go", "Step.mind": "cautions", "Step.setups": "number of setups", "Step.what": "what to do", "Step.time_source": "where the time comes from", "Step.makes": "what is there then", "Step.uses": "what must be there",
	"Hours.each_minutes": "run of one piece", "Hours.units": "amount of work", "Hours.setup_minutes": "setup", "Hours.estimated_minutes": "estimate", "Hours.actual_minutes": "taken", "Hours.learned_run_minutes": "run, as the record has it",
	"GlueUp.at_once": "joints spread at once", "GlueUp.clock": "clock", "GlueUp.clamps": "clamps on", "GlueUp.need_minutes": "time from first spread to last clamp", "GlueUp.clamp_opens": "clamps open to", "GlueUp.rack_limit": "how far it may rack",
	"GlueUp.rack_why": "reason for the limit", "GlueUp.diagonal_between": "diagonals between", "GlueUp.diagonal_limit": "difference of diagonals allowed", "GlueUp.joints": "number of joints",
	"Tick.at_minutes": "after", "Tick.what": "what to do", "ClampLine.on": "where", "ClampLine.lines": "lines alike", "ClampLine.opens": "open to", "ClampLine.each": "clamps on one line", "ClampLine.total_newtons": "force", "ClampLine.clamp_newtons": "force of one clamp",
	"Stick.parts_in_each": "parts from each", "Stick.carrier": "on a carrier board",
	"Schedule.coat_steps": "", "Schedule.area_m2": "area", "Class.cleaned_with": "cleaned with", "Class.oily": "oily rags", "Class.raises_grain": "raises the grain",
	"Calendar.latest_start": "last day to begin", "Calendar.deliver_by": "to be delivered by", "Calendar.days": "days in all", "Calendar.worked_days": "days of work", "Calendar.work_minutes": "work", "Calendar.start": "first day",
	"Change.new_net": "net price with it", "Change.new_total": "total with it", "Change.days": "days more",
	"Report.angle_p025_deg": "least angle of 95 bends in 100", "Report.angle_p975_deg": "most angle of 95 bends in 100", "Report.angle_p05_deg": "angle that 95 of 100 reach", "Report.angle_p95_deg": "angle that 5 of 100 pass",
	"Report.angle_sd_deg": "spread of the angle", "Report.closed_radius_p05_mm": "least closed radius, 95 of 100", "Report.closed_radius_p95_mm": "most closed radius, 95 of 100", "Report.strain_p05": "least strain, 95 of 100", "Report.strain_p95": "most strain, 95 of 100",
	"Report.closes_at_deg": "closes at", "Report.closes_at_low_deg": "closes at, at the least", "Report.closes_at_high_deg": "closes at, at the most", "Report.closes_at_yielded_deg": "closes at, skin yielded", "Report.count": "number of kerfs", "Report.count_exact": "kerfs needed exactly",
	"Report.void_each_mm2": "space left in each kerf", "Report.void_ml": "space left in all kerfs", "Report.glue_ml": "glue to fill them", "Report.lift_mm": "lift of the trial strip", "Report.bench_rule_count": "kerfs by the bench rule", "Report.reaches": "share that reaches the angle",
	"Report.outside": "kerfs outside", "Report.movement_deg": "later movement", "Report.zone_mm": "kerfed length", "Report.strain": "strain of the skin", "Report.hand_share": "turn at the clamp over that at the hand", "Report.borderline": "close to call", "Report.verdict": "what the skin stands",
	"Report.glued_springback_deg": "springback after gluing", "Report.closing_angle_each_deg": "each kerf closes at", "Report.angle_each_deg": "each kerf turns by",
}

// wordsOf are the words for a field: its own where it has some, else its name
// without the unit.
func wordsOf(t reflect.Type, json string) string {
	if w, ok := said[t.Name()+"."+json]; ok {
		return w
	}
	for _, e := range endings {
		json = strings.TrimSuffix(json, e.end)
	}
	return strings.ToLower(strings.ReplaceAll(json, "_", " "))
}

// listWords name a list whose order changed.
func listWords(json string) string {
	switch json {
	case "setups":
		return "settings"
	case "glue_ups":
		return "glue-ups"
	}
	return strings.ReplaceAll(json, "_", " ")
}
