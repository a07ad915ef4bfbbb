package station

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// hardwareKinds are the kinds in the order of the work, as one would ask for
// them.
var hardwareKinds = []Choice{
	{"side-runner", "side runners"},
	{"under-runner", "concealed runners"},
	{"corner-runner", "bottom corner runners"},
	{"wooden-runner", "wooden runners"},
	{"cup-hinge", "cup hinges"},
	{"pull", "pulls and knobs"},
	{"pin", "shelf pins"},
	{"leg-plate", "leg plates"},
	{"caster", "casters"},
	{"foot", "feet"},
	{"screw", "wood screws"},
	{"machine-screw", "machine screws"},
	{"dowel", "dowels"},
	{"loose-tenon", "loose tenons"},
}

func hardwareName(kind string) string {
	for _, c := range hardwareKinds {
		if c.Value == kind {
			return c.Says
		}
	}
	return shop.Words(kind)
}

func (r *room) hardware() ShopSection {
	out := ShopSection{
		Key: "hardware", Title: "Hardware", Says: "Sizes and clearances as the box of each states them.",
		Empty: "No hardware yet. Add what you have bought, and copy its sizes off the box.",
	}
	for _, k := range keys(r.s.Hardware) {
		h := r.s.Hardware[k]
		needs, takes, _ := shop.Fits(h.Kind)
		e := ShopEntry{
			Path: "hardware." + k, Key: k, Title: document.Capital(shop.Called(h.Name, k)),
			Needs: append([]string{"name", "kind", "price", "pack"}, needs...), Takes: append(takes, "rated-kg"),
		}
		e.Says = document.Capital(hardwareName(h.Kind))
		pack := ""
		if h.Pack > 1 {
			pack = fmt.Sprintf(" for %d", h.Pack)
		}
		e.Says += ", " + r.price(h.Price, pack)
		if h.RatedKg > 0 {
			e.Says += ", carries " + unit.Mass(h.RatedKg).Stated(r.s.Units)
		}
		e.Says += "."
		out.Entries = append(out.Entries, e)
	}
	for _, kind := range hardwareKinds {
		needs, takes, _ := shop.Fits(kind.Value)
		n := ShopNew{
			Label: "Add " + kind.Says, Path: "hardware." + freeKey(r.s.Hardware, kind.Value), Keyed: true,
			Says:  "Copy the sizes off the box; leave out what it does not say.",
			Fixed: fixed("kind", kind.Value),
			Asks:  asks(shop.Hardware{}, append(append(append([]string{"name"}, needs...), "price", "pack", "rated-kg"), takes...)...),
		}
		need(n.Asks, needs...)
		out.New = append(out.New, n)
	}
	return out
}

func (r *room) supplies() ShopSection {
	out := ShopSection{
		Key: "supplies", Title: "Supplies", Says: "Glue, finish and abrasive by can, bottle and roll; a piece is charged for what it takes.",
		Empty: "No supplies yet. Without them a share of the goods is charged, if the rates say so.",
	}
	for _, k := range keys(r.s.Supplies) {
		s := r.s.Supplies[k]
		said := fmt.Sprintf("%s, %s %s", document.Capital(shop.Words(s.Kind)), decimals(s.Pack, 2), s.Unit)
		if s.Price != nil && *s.Price > 0 {
			said += " for " + r.money(*s.Price)
		} else {
			said += ", " + r.price(s.Price, "")
		}
		takes := []string{"name", "unit", "pack", "price"}
		switch s.Kind {
		case "finish":
			takes = append(takes, "class", "covers-m2")
		case "glue", "abrasive":
			takes = append(takes, "covers-m2")
		default:
			takes = append(takes, "each")
		}
		out.Entries = append(out.Entries, ShopEntry{Path: "supplies." + k, Key: k, Title: document.Capital(shop.Called(s.Name, k)), Says: said + ".", Needs: []string{"kind"}, Takes: takes})
	}
	for _, x := range []struct {
		kind, label, says string
		asks              []string
		need              []string
	}{
		{"glue", "Add a glue", "", []string{"name", "unit", "pack", "price", "covers-m2"}, nil},
		{"finish", "Add a finish", "", []string{"name", "class", "unit", "pack", "price", "covers-m2"}, []string{"class"}},
		{"abrasive", "Add an abrasive", "", []string{"name", "unit", "pack", "price", "covers-m2"}, []string{"covers-m2"}},
		{"wrap", "Add packing", "", []string{"name", "unit", "pack", "price", "each"}, nil},
		{"wall-fixing", "Add wall fixings", "Bought for each piece that hangs, two where nothing else is said.", []string{"name", "price", "each", "unit", "pack"}, nil},
		{"restraint", "Add a tip restraint", "Bought for each piece that is fixed to the wall against tipping.", []string{"name", "price", "each", "unit", "pack"}, nil},
		{"label", "Add a warning label", "Bought for each piece that stores clothes.", []string{"name", "price", "each", "unit", "pack"}, nil},
		{"interlock", "Add an interlock", "Bought for each piece with drawers that stores clothes: it lets one drawer open at a time.", []string{"name", "price", "each", "unit", "pack"}, nil},
		{"other", "Add something else", "Bought only where a piece asks for it.", []string{"name", "unit", "pack", "price", "each"}, nil},
	} {
		n := ShopNew{Label: x.label, Says: x.says, Path: "supplies." + freeKey(r.s.Supplies, x.kind), Keyed: true, Fixed: fixed("kind", x.kind), Asks: asks(shop.Supply{}, x.asks...)}
		need(n.Asks, x.need...)
		out.New = append(out.New, n)
	}
	return out
}

func (r *room) glues() ShopSection {
	out := ShopSection{Key: "glues", Title: "Glues on the shelf", Says: "Times as the label says; what is left out follows the usual figures of its class.", Empty: "No glue named; yellow glue is taken."}
	for _, k := range keys(r.s.Glues) {
		g := r.s.Glues[k]
		said := document.Capital(shop.Words(g.Class))
		if g.Assembly > 0 {
			said += fmt.Sprintf(", %s minutes to assemble", decimals(g.Assembly, 1))
		}
		out.Entries = append(out.Entries, ShopEntry{Path: "glues." + k, Key: k, Title: document.Capital(shop.Called(g.Name, k)), Says: said + ".", Needs: []string{"class"}, Takes: []string{"name", "open-minutes", "assembly-minutes", "clamp-minutes", "full-hours", "coldest-c"}})
	}
	out.New = []ShopNew{{Label: "Add a glue", Path: "glues." + freeKey(r.s.Glues, "glue"), Keyed: true, Asks: asks(shop.Glue{}, "name", "class", "open-minutes", "assembly-minutes", "clamp-minutes", "full-hours", "coldest-c")}}
	return out
}

func (r *room) coats() ShopSection {
	out := ShopSection{Key: "coats", Title: "Finishes as their tins say", Says: "Coats, drying and cover; what is left out follows the usual figures of the class.", Empty: "No tin read yet; the usual figures of each class are taken."}
	for _, k := range keys(r.s.Coats) {
		c := r.s.Coats[k]
		var said []string
		if c.Coats > 0 {
			said = append(said, document.Count(c.Coats, "coat"))
		}
		if c.Recoat > 0 {
			said = append(said, decimals(c.Recoat, 1)+" hours between coats")
		}
		if c.Cure > 0 {
			said = append(said, decimals(c.Cure, 1)+" days to cure")
		}
		if len(said) == 0 {
			said = []string{"as usual for its class"}
		}
		out.Entries = append(out.Entries, ShopEntry{Path: "coats." + k, Key: k, Title: document.Capital(shop.Called(c.Name, k)), Says: document.Capital(strings.Join(said, ", ")) + ".", Takes: []string{"name", "coats", "recoat-hours", "cure-days", "coverage-m2-per-litre"}})
	}
	for _, class := range []string{"oil", "hardwax-oil", "wiping-varnish", "varnish", "shellac", "lacquer", "waterborne"} {
		if _, there := r.s.Coats[class]; !there {
			out.New = append(out.New, ShopNew{Label: "Read a tin of " + shop.Words(class), Path: "coats." + class, Asks: asks(shop.Coat{}, "name", "coats", "recoat-hours", "cure-days", "coverage-m2-per-litre")})
		}
	}
	return out
}

func (r *room) rates() ShopSection {
	out := ShopSection{Key: "rates", Title: "Rates and terms", Says: "What an hour is to earn, what the shop costs, what is earned on it."}
	if p := r.s.Rates; p != nil {
		said := r.money(p.Wage) + " an hour"
		if p.Overhead > 0 {
			said += fmt.Sprintf(", overhead %s a year over %d hours", r.money(p.Overhead), p.Billable)
		}
		switch {
		case p.Margin != nil:
			said += ", margin " + shop.Percent(*p.Margin) + " % of the price"
		case p.Markup != nil:
			said += ", markup " + shop.Percent(*p.Markup) + " % on the cost"
		}
		out.Entries = append(out.Entries, ShopEntry{
			Path: "rates", Title: "Rates", Says: said + ".", Single: true, Needs: []string{"wage"},
			Takes: []string{"overhead-per-year", "billable-hours", "margin-percent", "markup-percent", "contingency-percent", "consumables-percent", "km", "round-up-to", "offcut-credit-percent"},
		})
	} else {
		n := ShopNew{Label: "Put in your rates", Says: "Without them no price is worked out.", Path: "rates", Asks: asks(shop.Rates{}, "wage", "overhead-per-year", "billable-hours", "margin-percent", "contingency-percent", "km")}
		need(n.Asks, "wage")
		out.New = append(out.New, n)
	}
	if t := r.s.Tax; t != nil {
		out.Entries = append(out.Entries, ShopEntry{Path: "tax", Title: "Tax", Says: fmt.Sprintf("%s, %s %%.", t.Name, shop.Percent(t.Percent)), Single: true, Needs: []string{"name"}, Takes: []string{"percent"}})
	} else {
		out.New = append(out.New, ShopNew{Label: "Add a tax", Path: "tax", Asks: asks(shop.Tax{}, "name", "percent")})
	}
	terms := ShopEntry{Path: "terms", Title: "Terms of a quote", Says: fmt.Sprintf("A quote holds for %d days; %s, %s.", r.s.Terms.Valid, document.Count(len(r.s.Terms.Payments), "payment"), document.Count(len(r.s.Terms.Lines), "further term")), Single: true, Takes: []string{"valid-days", "lines"}}
	pay := ShopList{Path: "terms.payments", Title: "What is paid when", Empty: "Half with the order, half before delivery."}
	for i, p := range r.s.Terms.Payments {
		pay.Rows = append(pay.Rows, ShopRow{Path: fmt.Sprintf("terms.payments[%d]", i), Says: shop.Percent(p.Percent) + " % " + p.When})
	}
	pay.New = []ShopNew{{Label: "Add a payment", Path: fmt.Sprintf("terms.payments[%d]", len(r.s.Terms.Payments)), Asks: asks(shop.Payment{}, "percent", "when")}}
	terms.Lists = []ShopList{pay}
	out.Entries = append(out.Entries, terms)
	return out
}

func (r *room) working() ShopSection {
	w := r.s.Working
	days := map[string]string{"mon-fri": "Monday to Friday", "mon-sat": "Monday to Saturday", "all": "every day"}[w.Days]
	out := ShopSection{Key: "working", Title: "Working hours", Says: "Who works when, and in what air."}
	said := fmt.Sprintf("%s, %s hours a day from %s o'clock, %s; %s °C, %s %% humidity.", document.Count(w.People, "person"), decimals(w.Hours, 1), decimals(w.Starts, 1), days, decimals(w.Temperature, 1), decimals(w.Humidity, 0))
	said = strings.Replace(said, "persons", "people", 1)
	out.Entries = []ShopEntry{{Path: "working", Title: "The working week", Says: said, Single: true, Takes: []string{"people", "hours-per-day", "day-starts", "days", "closed", "temperature-c", "humidity-percent"}}}
	for _, k := range keys(r.s.Times) {
		t := r.s.Times[k]
		out.Entries = append(out.Entries, ShopEntry{Path: "times." + k, Key: k, Title: "Time for " + shop.Words(k), Says: fmt.Sprintf("%s minutes to set up, %s for each.", decimals(t.Setup, 1), decimals(t.Run, 1)), Takes: []string{"setup", "run"}})
	}
	for _, op := range operations {
		if _, there := r.s.Times[op]; !there {
			out.New = append(out.New, ShopNew{Label: "Add your time for " + shop.Words(op), Says: "Minutes; without it a first guess is taken.", Path: "times." + op, Asks: asks(shop.Time{}, "setup", "run")})
		}
	}
	return out
}

// operations are those whose time can be given, in the order of the work.
var operations = []string{"design", "break-down", "kerf", "bend", "band", "rough-cut", "mill", "size", "joint", "drill", "shape", "sand", "dry-fit", "glue-up", "flush", "fit", "finish", "assemble", "deliver"}

func (r *room) clamps() ShopSection {
	out := ShopSection{Key: "clamps", Title: "Clamps and machines", Says: "Clamps on the wall; what planer and jointer take by their manuals."}
	walls := ShopEntry{Path: "clamps", Title: "Clamps", Single: true}
	rack := ShopList{Path: "clamps", Title: "On the wall", Empty: "No clamps counted; the glue-up is not checked against them."}
	all := 0
	for i, c := range r.s.Clamps {
		all += c.Count
		rack.Rows = append(rack.Rows, ShopRow{Path: fmt.Sprintf("clamps[%d]", i), Says: fmt.Sprintf("%s: %d, open to %s", document.Capital(c.Name), c.Count, r.size(c.Opens))})
	}
	walls.Says = document.Count(all, "clamp") + "."
	rack.New = []ShopNew{{Label: "Add clamps", Path: fmt.Sprintf("clamps[%d]", len(r.s.Clamps)), Asks: asks(shop.Clamp{}, "name", "count", "opens", "reach", "force-n")}}
	walls.Lists = []ShopList{rack}
	m := r.s.Milling()
	out.Entries = []ShopEntry{walls, {
		Path: "machines", Title: "Planer and jointer", Single: true,
		Says:  fmt.Sprintf("Shortest through the planer %s, over the jointer %s.", r.size(m.PlanerShortest), r.size(m.JointerShortest)),
		Takes: []string{"planer-shortest", "planer-thinnest", "planer-widest", "jointer-shortest", "jointer-thinnest"},
	}}
	return out
}

func (r *room) basics() ShopSection {
	h := r.s.Habits
	paper := map[string]string{"a4": "A4", "letter": "Letter"}[r.s.Paper]
	cuts := "panels are cut as the layout has it"
	if h.StripsFirst {
		first, stages := "panels are ripped into strips first", "three"
		if run := h.StripsRun; run == "lengthwise" || run == "crosswise" {
			first = "panels are ripped into " + run + " strips first"
		}
		if h.StripStages == 2 {
			stages = "two"
		}
		cuts = first + ", in " + stages + " stages of cuts"
	}
	return ShopSection{Key: "", Title: "Shop and habits", Says: "Name, units, paper, and how this shop works.", Entries: []ShopEntry{
		{Path: "", Title: document.Capital(shop.Called(r.s.Name, "shop")), Says: fmt.Sprintf("Bare numbers are %s; papers on %s.", map[string]string{"mm": "millimetres", "in": "inches"}[r.s.Units.String()], paper), Single: true, Takes: []string{"name", "units", "currency", "paper"}},
		{Path: "habits", Title: "Habits", Single: true, Says: fmt.Sprintf("Solid parts are rough cut %s longer and %s wider; %s; offcuts from %s × %s are kept.", r.size(h.RoughLength), r.size(h.RoughWidth), cuts, r.size(h.LeastOffcut[0]), r.size(h.LeastOffcut[1])), Takes: []string{"rough-length", "rough-width", "rough-thickness", "board-ends", "board-edge", "boards-cut", "strips-first", "strip-stages", "strips-run", "glued-strips", "further-strips", "least-strip", "least-offcut", "tip-clearance", "spares-percent", "overbend", "bend-dry"}},
	}}
}
