package station

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"casewright/internal/document"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
	"casewright/internal/wood"
)

// ShopRoom is what the page of a shop shows: its tools, stock and rates in
// sections, each entry in words. The fields themselves are those of the
// document's outline, by the paths given here.
type ShopRoom struct {
	Answer   string        `json:"answer"`
	Units    string        `json:"units" enum:"mm,in"`
	Demo     string        `json:"demo,omitempty" doc:"said when the prices are invented"`
	Sections []ShopSection `json:"sections"`
	Learned  []Learned     `json:"learned" doc:"what the records of the pieces made here teach"`
}

// ShopSection is one part of the shop.
type ShopSection struct {
	Key     string      `json:"key" doc:"such as saws; also its path in the document"`
	Title   string      `json:"title"`
	Says    string      `json:"says"`
	Empty   string      `json:"empty,omitempty" doc:"what would be here, said when it is empty"`
	Entries []ShopEntry `json:"entries"`
	New     []ShopNew   `json:"new" doc:"what can be added"`
}

// ShopEntry is one saw, one panel, one fitting.
type ShopEntry struct {
	Path   string     `json:"path"`
	Key    string     `json:"key,omitempty" doc:"by which pieces name it"`
	Title  string     `json:"title"`
	Says   string     `json:"says"`
	Facts  []Figure   `json:"facts" doc:"measured since, by the records"`
	Needs  []string   `json:"needs" doc:"fields that this kind of thing must have, in order"`
	Takes  []string   `json:"takes" doc:"fields that it may have"`
	Lists  []ShopList `json:"lists"`
	Single bool       `json:"single" doc:"there is only one of it"`
}

// ShopList is a list within an entry: the sheets of a panel, the boards of a
// wood, the blades of a saw.
type ShopList struct {
	Path  string    `json:"path"`
	Title string    `json:"title"`
	Empty string    `json:"empty"`
	Rows  []ShopRow `json:"rows"`
	New   []ShopNew `json:"new"`
}

// ShopRow is one entry of a list, and the lists within it: the defects of a
// board.
type ShopRow struct {
	Path  string     `json:"path"`
	Says  string     `json:"says"`
	Lists []ShopList `json:"lists"`
}

// ShopNew is a thing that can be added: the fields to ask for, and those that
// follow from what it is.
type ShopNew struct {
	Label string      `json:"label" doc:"what the button says"`
	Says  string      `json:"says,omitempty"`
	Path  string      `json:"path" doc:"where it goes; a new key is free"`
	Keyed bool        `json:"keyed" doc:"the last step of the path is a key that the maker may choose"`
	Fixed []DocChange `json:"fixed" doc:"what is set besides, relative to the path"`
	Asks  []ShopAsk   `json:"asks"`
}

// ShopAsk is a field to be filled in for a new thing.
type ShopAsk struct {
	Name   string   `json:"name" doc:"relative to the path"`
	Says   string   `json:"says" doc:"what it means"`
	Need   bool     `json:"need"`
	Kind   string   `json:"kind" enum:"size,sizes,angle,money,number,count,words,choice,yes"`
	Choice []Choice `json:"choice,omitempty"`
	Value  string   `json:"value,omitempty" doc:"to begin with"`
}

// Choice is one of the words that a field takes.
type Choice struct {
	Value string `json:"value"`
	Says  string `json:"says"`
}

// Made is a piece made in the shop, with its record.
type Made struct {
	ID, Name string
	Record   record.Record
}

// ShopPage shows a shop with what the records of the pieces made in it say.
func ShopPage(s shop.Shop, made []Made) ShopRoom {
	r := &room{s: s, made: made}
	out := ShopRoom{Units: s.Units.String(), Answer: r.answer(), Learned: r.learned()}
	if strings.HasPrefix(strings.ToLower(s.Name), "demo") {
		out.Demo = "The prices here are invented for the demo. Put in what your yard asks."
	}
	for _, f := range []func() ShopSection{
		r.saws, r.panels, r.woods, r.bands, r.hardware, r.supplies, r.glues, r.coats, r.rates, r.working, r.clamps, r.basics,
	} {
		sec := f()
		if sec.Entries == nil {
			sec.Entries = []ShopEntry{}
		}
		for i := range sec.Entries {
			sec.Entries[i].fill()
		}
		sec.New = plain(sec.New)
		out.Sections = append(out.Sections, sec)
	}
	return out
}

// fill makes empty lists of nil ones, so that a page need not ask.
func (e *ShopEntry) fill() {
	if e.Facts == nil {
		e.Facts = []Figure{}
	}
	if e.Needs == nil {
		e.Needs = []string{}
	}
	if e.Takes == nil {
		e.Takes = []string{}
	}
	if e.Lists == nil {
		e.Lists = []ShopList{}
	}
	fillLists(e.Lists)
}

func fillLists(all []ShopList) {
	for i := range all {
		l := &all[i]
		if l.Rows == nil {
			l.Rows = []ShopRow{}
		}
		l.New = plain(l.New)
		for j := range l.Rows {
			if l.Rows[j].Lists == nil {
				l.Rows[j].Lists = []ShopList{}
			}
			fillLists(l.Rows[j].Lists)
		}
	}
}

// plain does the same for what can be added.
func plain(all []ShopNew) []ShopNew {
	if all == nil {
		return []ShopNew{}
	}
	for i := range all {
		if all[i].Fixed == nil {
			all[i].Fixed = []DocChange{}
		}
	}
	return all
}

// room is a shop being shown.
type room struct {
	s    shop.Shop
	made []Made
}

func (r *room) size(l unit.Length) string { return sizeIn(r.s.Units, l).Own }
func (r *room) fine(l unit.Length) string { return fineIn(r.s.Units, l).Own }

func (r *room) money(m unit.Money) string {
	if r.s.Currency == "" {
		return m.Format()
	}
	return r.s.Currency + " " + m.Format()
}

// price says what one costs; per says of what, where it needs saying.
func (r *room) price(m *unit.Money, per string) string {
	switch {
	case m == nil:
		return "no price yet"
	case *m == 0:
		return "free"
	}
	return r.money(*m) + per
}

func (r *room) answer() string {
	sheets, offcuts, boards := 0, 0, 0
	for _, p := range r.s.Panels {
		for _, x := range p.Sheets {
			if x.Offcut {
				offcuts += x.OnHand
			} else {
				sheets += x.OnHand
			}
		}
	}
	for _, w := range r.s.Woods {
		for _, b := range w.Boards {
			boards += max(b.Count, 1)
		}
	}
	said := fmt.Sprintf("%s, %s, %s, %s of hardware.", document.Count(len(r.s.Saws), "saw"), document.Count(len(r.s.Panels), "panel"), document.Count(len(r.s.Woods), "wood"), document.Count(len(r.s.Hardware), "piece"))
	if sheets+offcuts+boards == 0 {
		return said + " No stock is on hand; everything is bought."
	}
	return said + fmt.Sprintf(" On hand: %s, %s and %s.", document.Count(sheets, "full sheet"), document.Count(offcuts, "offcut"), document.Count(boards, "board"))
}

// freeKey is a key that is not taken: the wanted one, or with a number.
func freeKey[V any](m map[string]V, want string) string {
	key := want
	for n := 2; ; n++ {
		if _, taken := m[key]; !taken {
			return key
		}
		key = fmt.Sprintf("%s-%d", want, n)
	}
}

func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

func (r *room) saws() ShopSection {
	out := ShopSection{
		Key: "saws", Title: "Saws and blades", Says: "Kerf as measured, how deep it cuts, how far its fence or rail reaches.",
		Empty: "No saw yet. Nothing can be cut without one: add yours and measure its kerf.",
	}
	kinds := map[string]string{"table": "table saw", "track": "track saw", "hand-guide": "saw against a guide"}
	for _, k := range keys(r.s.Saws) {
		saw := r.s.Saws[k]
		e := ShopEntry{Path: "saws." + k, Key: k, Title: document.Capital(shop.Words(k)), Needs: []string{"kind", "kerf"}, Takes: []string{"tooth", "depth"}}
		e.Says = fmt.Sprintf("%s, kerf %s, cuts %s deep", kinds[saw.Kind], r.fine(saw.Kerf), r.size(saw.Depth))
		switch saw.Kind {
		case "table":
			e.Says += ", fence reaches " + r.size(saw.Reach)
			e.Takes = append(e.Takes, "reach", "least")
		case "track":
			e.Says += ", rail " + r.size(saw.Reach)
			e.Takes = append(e.Takes, "reach")
		case "hand-guide":
			e.Needs = append(e.Needs, "guide-offset")
		}
		if saw.Tooth == "alternate" {
			e.Says += ", alternate bevels"
			e.Takes = append(e.Takes, "bevel")
		}
		if saw.Breaks {
			e.Says += ", breaks down full panels"
		}
		e.Takes = append(e.Takes, "breaks-down")
		e.Says = document.Capital(e.Says) + "."
		e.Facts = r.measuredKerfs(k, saw.Kerf)
		blades := ShopList{Path: e.Path + ".blades", Title: "Other blades", Empty: "No other blade. A thin one makes more, finer kerfs; a page of a bend shows what each would do."}
		for i, b := range saw.Blades {
			blades.Rows = append(blades.Rows, ShopRow{Path: fmt.Sprintf("%s[%d]", blades.Path, i), Says: fmt.Sprintf("%s, kerf %s", b.Name, r.fine(b.Kerf))})
		}
		blades.New = []ShopNew{{
			Label: "Add a blade", Path: fmt.Sprintf("%s[%d]", blades.Path, len(saw.Blades)),
			Asks: asks(shop.Blade{}, "name", "kerf", "tooth"),
		}}
		e.Lists = []ShopList{blades}
		out.Entries = append(out.Entries, e)
	}
	for _, kind := range []string{"table", "track", "hand-guide"} {
		names := []string{"kerf", "depth", "reach", "least"}
		switch kind {
		case "track":
			names = []string{"kerf", "depth", "reach"}
		case "hand-guide":
			names = []string{"kerf", "guide-offset", "depth"}
		}
		n := ShopNew{
			Label: "Add a " + kinds[kind], Path: "saws." + freeKey(r.s.Saws, kind), Keyed: true,
			Says:  "Cut one kerf in a scrap and measure it with a caliper, or measure a strip before and after a cut.",
			Fixed: fixed("kind", kind), Asks: asks(shop.Saw{}, names...),
		}
		need(n.Asks, "guide-offset")
		out.New = append(out.New, n)
	}
	return out
}

func (r *room) panels() ShopSection {
	out := ShopSection{
		Key: "panels", Title: "Panels and offcuts", Says: "Thickness by caliper, sizes sold with their price, and what lies in the shop.",
		Empty: "No panel yet. Add what your yard sells, with the thickness you measured.",
	}
	for _, k := range keys(r.s.Panels) {
		p := r.s.Panels[k]
		kind, _ := wood.FindPanel(p.Kind)
		e := ShopEntry{Path: "panels." + k, Key: k, Title: document.Capital(shop.Called(p.Name, k)), Needs: []string{"name", "kind", "thickness"}, Takes: []string{"tolerance", "trim", "face-ply", "density-kg-m3", "no-grain"}}
		what := kind.Name
		if what == "" {
			what = p.Kind
		}
		e.Says = fmt.Sprintf("%s, %s thick", document.Capital(what), r.size(p.Thickness))
		onHand := 0
		sheets := ShopList{Path: e.Path + ".sheets", Title: "Sheets and offcuts", Empty: "No sheet. Without a size sold, nothing can be laid out on this panel."}
		for i, x := range p.Sheets {
			onHand += x.OnHand
			sheets.Rows = append(sheets.Rows, ShopRow{Path: fmt.Sprintf("%s[%d]", sheets.Path, i), Says: r.sheetWords(x)})
		}
		if len(p.Sheets) > 0 {
			e.Says += "; " + r.sheetWords(p.Sheets[0])
		}
		if more := len(p.Sheets) - 1; more > 0 {
			e.Says += fmt.Sprintf(" and %s, %d on hand in all", document.Count(more, "more size"), onHand)
		}
		e.Says += "."
		next := fmt.Sprintf("%s[%d]", sheets.Path, len(p.Sheets))
		offcut := asks(shop.Sheet{}, "length", "width", "on-hand")
		for i := range offcut {
			if offcut[i].Name == "on-hand" {
				offcut[i].Value, offcut[i].Need = "1", true
			}
		}
		sheets.New = []ShopNew{
			{Label: "Add an offcut", Path: next, Fixed: fixed("offcut", "yes"), Asks: offcut},
			{Label: "Add a sheet size", Path: next, Asks: asks(shop.Sheet{}, "length", "width", "price", "on-hand")},
		}
		e.Lists = []ShopList{sheets}
		e.Facts = r.measuredThickness(k, p.Thickness)
		out.Entries = append(out.Entries, e)
	}
	n := ShopNew{
		Label: "Add a panel", Path: "panels." + freeKey(r.s.Panels, "panel"), Keyed: true,
		Says:  "Measure it at four corners and four edges; the label's thickness is only a name.",
		Fixed: []DocChange{{Path: "sheets[0]", Do: "insert"}},
		Asks:  asks(shop.Panel{}, "name", "kind", "thickness", "trim"),
	}
	for i := range n.Asks {
		if n.Asks[i].Name == "kind" {
			n.Asks[i].Kind = "choice"
			for _, k := range wood.AllPanels() {
				n.Asks[i].Choice = append(n.Asks[i].Choice, Choice{k.Key, k.Name})
			}
		}
	}
	sheet := asks(shop.Sheet{}, "length", "width", "price")
	for _, a := range sheet {
		a.Name = "sheets[0]." + a.Name
		a.Says = "sheet: " + a.Says
		n.Asks = append(n.Asks, a)
	}
	out.New = []ShopNew{n}
	return out
}

func (r *room) sheetWords(x shop.Sheet) string {
	said := r.size(x.Length) + " × " + r.size(x.Width)
	if x.Offcut {
		return said + fmt.Sprintf(", offcut, %d on hand", x.OnHand)
	}
	said += ", " + r.price(x.Price, "")
	if x.OnHand > 0 {
		said += fmt.Sprintf(", %d on hand", x.OnHand)
	}
	return said
}

func (r *room) woods() ShopSection {
	out := ShopSection{
		Key: "woods", Title: "Woods and boards", Says: "Price, moisture, waste, and boards that lie here or were picked at the yard.",
		Empty: "No wood yet. Frames, legs and drawer sides of solid wood need one.",
	}
	for _, k := range keys(r.s.Woods) {
		w := r.s.Woods[k]
		e := ShopEntry{Path: "woods." + k, Key: k, Title: document.Capital(shop.Words(k)), Needs: []string{"species"}, Takes: []string{"price", "per", "class-prices", "moisture-percent", "waste-percent", "waste-of", "widest"}}
		per := "board foot"
		if w.Per == "cubic-metre" {
			per = "cubic metre"
		}
		e.Says = document.Capital(r.price(w.Price, " a "+per))
		e.Says += fmt.Sprintf(", %s %% moisture, %s %% waste.", decimals(w.Moisture, 1), decimals(w.Waste, 1))
		boards := ShopList{Path: e.Path + ".boards", Title: "Boards on hand", Empty: "No boards typed in; what is needed is bought by volume."}
		for i, b := range w.Boards {
			said := r.size(b.Thickness) + " × " + r.size(b.Width) + " × " + r.size(b.Length)
			if b.Count > 1 {
				said += fmt.Sprintf(", %d alike", b.Count)
			}
			if n := len(b.Defects); n > 0 {
				said += ", " + document.Count(n, "defect")
			}
			row := ShopRow{Path: fmt.Sprintf("%s[%d]", boards.Path, i), Says: said}
			row.Lists = []ShopList{r.defects(row.Path, b)}
			boards.Rows = append(boards.Rows, row)
		}
		boards.New = []ShopNew{{
			Label: "Add a board", Path: fmt.Sprintf("%s[%d]", boards.Path, len(w.Boards)),
			Says: "Usable size: past checks at the ends, sap and wane.",
			Asks: asks(shop.Board{}, "thickness", "width", "length", "count", "straight-edge", "tone", "cut"),
		}}
		e.Lists = []ShopList{boards}
		out.Entries = append(out.Entries, e)
	}
	n := ShopNew{Label: "Add a wood", Path: "woods." + freeKey(r.s.Woods, "wood"), Keyed: true, Asks: asks(shop.Wood{}, "species", "price", "per", "moisture-percent", "waste-percent", "widest")}
	n.Asks[0].Kind = "choice" // by the words of the key, as the wood is called elsewhere
	for _, sp := range wood.AllSpecies() {
		n.Asks[0].Choice = append(n.Asks[0].Choice, Choice{sp.Key, document.Capital(shop.Words(sp.Key))})
	}
	out.New = []ShopNew{n}
	return out
}

// defects are what parts keep clear of on a board.
func (r *room) defects(board string, b shop.Board) ShopList {
	out := ShopList{Path: board + ".defects", Title: "Defects", Empty: "No defect typed in; parts may lie anywhere on it."}
	for i, d := range b.Defects {
		said := fmt.Sprintf("%s, %s × %s, %s from the end and %s from the edge", document.Capital(cmp.Or(d.What, "defect")), r.size(d.Length), r.size(d.Width), r.size(d.FromEnd), r.size(d.FromEdge))
		out.Rows = append(out.Rows, ShopRow{Path: fmt.Sprintf("%s[%d]", out.Path, i), Says: said})
	}
	out.New = []ShopNew{{
		Label: "Add a defect", Path: fmt.Sprintf("%s[%d]", out.Path, len(b.Defects)),
		Says: "A rectangle about it, from one end and from the straight edge.",
		Asks: asks(shop.Defect{}, "what", "from-end", "from-edge", "length", "width"),
	}}
	return out
}

func (r *room) bands() ShopSection {
	out := ShopSection{Key: "bands", Title: "Edge bands", Says: "Thickness as applied, and whether it counts within the size.", Empty: "No edge band yet. Add one to cover the edges of panels."}
	for _, k := range keys(r.s.Bands) {
		b := r.s.Bands[k]
		by, _ := b.SoldBy(r.s.Units)
		said := r.fine(b.Thickness) + " thick"
		if b.Before {
			said += ", within the size"
		}
		said += ", " + r.price(b.Price, " a "+by)
		out.Entries = append(out.Entries, ShopEntry{Path: "bands." + k, Key: k, Title: document.Capital(shop.Called(b.Name, k)), Says: said + ".", Needs: []string{"thickness"}, Takes: []string{"name", "within-size", "price", "per"}})
	}
	out.New = []ShopNew{{Label: "Add an edge band", Path: "bands." + freeKey(r.s.Bands, "edge-band"), Keyed: true, Asks: asks(shop.Band{}, "name", "thickness", "within-size", "price")}}
	return out
}
