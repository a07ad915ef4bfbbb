package yard

import (
	"fmt"
	"math"
	"sort"

	"casewright/internal/build"
	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// Sort says what kind of goods a line is.
type Sort string

// The sorts, in the order of the list.
const (
	PanelGoods  Sort = "panels"
	SolidWood   Sort = "solid wood"
	EdgeBands   Sort = "edge bands"
	Fittings    Sort = "fittings"
	ScrewPacks  Sort = "screws"
	SupplyGoods Sort = "supplies"
)

// Line is one line of the buying list.
type Line struct {
	Sort  Sort       `json:"sort"`
	What  string     `json:"what"`
	Key   string     `json:"key"`
	Count float64    `json:"count"` // to buy
	Unit  string     `json:"unit"`  // panel, board foot, piece, pair, pack, metre, foot
	Need  float64    `json:"need"`  // before spares and packs
	Spare float64    `json:"spare,omitempty"`
	Each  unit.Money `json:"each,omitempty"`
	Free  bool       `json:"free,omitempty"` // a price of nothing was written; without it none is not known
	Price unit.Money `json:"price,omitempty"`
	// Charge is what the pieces are charged: the price, or for cans and
	// bottles that serve more than one piece the share that is used, and for
	// boards not picked yet the net with the shop's waste.
	Charge  unit.Money `json:"charge,omitempty"`
	Charged float64    `json:"charged,omitempty"` // of boards: how much; 0: all
	// Measure is the unit of Need where goods come in packs of a measure, and
	// Measured says that Need follows from areas and joints.
	Measure  string `json:"measure,omitempty"`
	Made     bool   `json:"made,omitempty"` // small things that the shop makes unless its hardware lists them
	Measured bool   `json:"measured,omitempty"`
	Why      string `json:"why"`
}

// ToBuy is how many lines are to be bought: all but what the shop makes.
func ToBuy(lines []Line) int {
	n := 0
	for _, l := range lines {
		if !l.Made {
			n++
		}
	}
	return n
}

// Unpriced says that a line is to be paid for, and its price is not known.
func (l Line) Unpriced() bool { return l.Each == 0 && !l.Free && !l.Made }

// At is the line at a price of the shop, which may not be known.
func (l Line) At(price *unit.Money) Line {
	l.Each, l.Free = Money(price), price != nil && *price == 0
	return l
}

// Money is a price, or nothing where it is not known.
func Money(price *unit.Money) unit.Money {
	if price == nil {
		return 0
	}
	return *price
}

// Total is what the lines come to, and how many of them have no price. What the
// shop makes itself needs none.
func Total(lines []Line) (sum unit.Money, unpriced int) {
	for _, l := range lines {
		sum += l.Price
		if l.Unpriced() {
			unpriced++
		}
	}
	return sum, unpriced
}

// Goods is what the buying list is made from.
type Goods struct {
	Piece  piece.Piece
	Shop   shop.Shop
	Model  build.Model
	Pieces int // how many to buy for; layouts of Panels and Woods are for as many
	Panels []Panel
	Woods  []Wood
	Show   func(unit.Length) string
}

// Buy lists what to buy for all pieces: whole panels, whole boards or volume
// with the shop's waste, edge bands, hardware and screws in whole packs with
// spares.
func Buy(g Goods) []Line {
	var out []Line
	for _, p := range g.Panels {
		for i, sheet := range p.Job.Sheets {
			if n := p.Used(i); n > 0 && sheet.Stock < 0 {
				out = append(out, Line{
					Sort: PanelGoods, What: fmt.Sprintf("%s, %s × %s", p.Name, sold(sheet.W, g.Show), sold(sheet.H, g.Show)), Key: p.Key,
					Count: float64(n), Unit: "panel", Need: float64(n), Why: p.Result.Because("panel"),
				}.At(priceOf(g.Shop, p.Key, sheet.ID)))
			}
		}
	}
	for _, w := range g.Woods {
		out = append(out, w.line(g.Shop.Woods[w.Key], g.Show))
	}
	out = append(out, bands(g)...)
	out = append(out, fittings(g)...)
	out = append(out, screws(g)...)
	for i := range out {
		out[i].Price = Cost(out[i].Each, out[i].Count)
		if out[i].Charge = out[i].Price; out[i].Charged > 0 {
			out[i].Charge = Cost(out[i].Each, out[i].Charged)
		}
	}
	return out
}

// priceOf is the price of a sheet that is bought, by its place in the shop.
func priceOf(s shop.Shop, panel, id string) *unit.Money {
	for i, sheet := range s.Panels[panel].Sheets {
		if fmt.Sprint(i+1) == id {
			return sheet.Price
		}
	}
	return nil
}

// Cost is the price of so many at the price of one, to the nearest cent. The
// count is taken to a thousandth; the sum is exact.
func Cost(each unit.Money, count float64) unit.Money {
	return each.Share(int64(math.Round(count*1000)), 1000)
}

// ceil is the least multiple of 1/parts that is not less than v; what is over
// by a billionth is no reason to buy more.
func ceil(v, parts float64) float64 { return math.Ceil(v*parts-1e-9) / parts }

// Amounts of wood are rounded once and up, so that never too little is bought:
// board feet to tenths, cubic metres to thousandths.
func tenths(feet float64) float64        { return ceil(feet, 10) }
func thousandths(m3 unit.Volume) float64 { return ceil(float64(m3), 1000) }

// Feet and Cubic are what is bought of the wood, as every list and text has it.
func (w Wood) Feet() float64  { return tenths(w.Buy) }
func (w Wood) Cubic() float64 { return thousandths(w.BuyM3) }

// Asked is what the shop's waste makes of the net, in board feet.
func (l Likely) Asked() float64 { return tenths(l.Check) }

func (w Wood) line(stock shop.Wood, show func(unit.Length) string) Line {
	l := Line{Sort: SolidWood, What: w.Called(), Key: w.Key, Need: w.Net, Count: w.Feet(), Unit: "board foot"}.At(w.price(stock))
	cubic := stock.Per == "cubic-metre"
	if cubic {
		l.Need, l.Count, l.Unit = float64(w.NetM3), w.Cubic(), "m³"
	}
	if k := w.Likely; k != nil { // what is left of whole boards is for the next piece
		if l.Charged = min(l.Count, k.Asked()); cubic {
			l.Charged = min(l.Count, thousandths(k.checkM3))
		}
	}
	l.Spare = max(0, l.Count-l.Need)
	switch {
	case w.Likely != nil:
		l.Why = w.why(l, show)
	case w.WasteOf == "boards":
		l.Why = fmt.Sprintf("%d whole boards as laid out, yield %.0f %%", w.Boards, 100-w.Waste)
	case w.WasteOf == "net":
		l.Why = fmt.Sprintf("net and %g %% of it for waste, rounded up", w.Waste)
	default:
		l.Why = fmt.Sprintf("net / %s, rounded up: %g %% of the purchase is lost", kept(w.Waste), w.Waste)
	}
	return l
}

// kept is what a waste of the purchase leaves of it.
func kept(waste float64) string { return fmt.Sprintf("%g", math.Round(1000-10*waste)/1000) }

// why says which boards to ask for, what share of them becomes parts, and what
// the shop's waste makes of the net: that is what the pieces are charged, in
// figures from which it can be worked out again.
func (w Wood) why(l Line, show func(unit.Length) string) string {
	k := w.Likely
	t := fmt.Sprintf("%s, yield %.0f %%", k.Says(k.Buy, show), k.Yield)
	if k.Buy > k.Boards {
		t = fmt.Sprintf("%s; clear, %d would do, yield %.0f %%", k.Says(k.Buy, show), k.Boards, k.Yield)
	}
	net := trimmed(l.Need, 2)
	if l.Unit == "m³" {
		net = trimmed(l.Need, 4)
	}
	how := fmt.Sprintf("net %s / %s, %g %% lost", net, kept(w.Waste), w.Waste)
	if w.WasteOf == "net" {
		how = fmt.Sprintf("net %s and %g %% added", net, w.Waste)
	}
	return fmt.Sprintf("%s; charged: %s, rounded up: %s %s", t, how, Much(l.Charged, l.Unit), Plural(l.Unit, l.Charged))
}

// OnHand are the panels that come from the shop's own stock: nothing to buy,
// but the pieces are charged for them where the shop gives a price.
func OnHand(panels []Panel, s shop.Shop, show func(unit.Length) string) []Line {
	var out []Line
	for _, p := range panels {
		var stock []shop.Sheet // the sheets of the job that are on hand, in its order
		for _, sheet := range s.Panels[p.Key].Sheets {
			if sheet.OnHand > 0 || sheet.Offcut {
				stock = append(stock, sheet)
			}
		}
		for i, at := 0, 0; i < len(p.Job.Sheets); i++ {
			sheet := p.Job.Sheets[i]
			if sheet.Stock < 0 || at >= len(stock) {
				continue
			}
			if n := p.Used(i); n > 0 {
				out = append(out, Line{
					Sort: PanelGoods, What: fmt.Sprintf("%s, %s × %s, from stock", p.Name, sold(sheet.W, show), sold(sheet.H, show)), Key: p.Key, Count: float64(n), Unit: "panel",
					Need: float64(n), Charge: Money(stock[at].Price) * unit.Money(n), Why: "lies in the shop",
				}.At(stock[at].Price))
			}
			at++
		}
	}
	return out
}

// bands measures the edges to be banded; a tenth more for joints and ends
// (common practice, no source).
func bands(g Goods) []Line {
	long := map[string]unit.Length{}
	for _, p := range g.Model.Parts {
		for _, b := range p.Bands {
			size := p.Length.Size
			if b.Edge == build.EdgeX0 || b.Edge == build.EdgeX1 {
				size = p.Width.Size
			}
			long[b.Key] += size * unit.Length(p.Count*g.Pieces)
		}
	}
	var out []Line
	for _, key := range sorted(long) {
		b := g.Shop.Bands[key]
		by, one := b.SoldBy(g.Shop.Units)
		need := float64(long[key]) / float64(one)
		name := g.Shop.BandCalled(key)
		n := ceil(need*1.1, 1)
		out = append(out, Line{
			Sort: EdgeBands, What: name, Key: key, Count: n, Unit: by, Need: need, Spare: n - need,
			Why: "edges to be banded and a tenth for joints and ends",
		}.At(b.Price))
	}
	return out
}

// sold is a size by which goods are asked for: whole millimetres that are no
// fraction of an inch on a ruler are metric goods, and stay so in a shop that
// works in inches.
func sold(l unit.Length, show func(unit.Length) string) string {
	if l%unit.Millimetre == 0 && l%(unit.Inch/32) != 0 {
		return l.Format(unit.TenthMM)
	}
	return show(l)
}

func fittings(g Goods) []Line {
	type kind struct {
		key, name string
		length    unit.Length
	}
	need := map[kind]int{}
	for _, f := range g.Model.Hardware {
		need[kind{f.Key, f.Name, f.Length}] += f.Count * g.Pieces
	}
	kinds := make([]kind, 0, len(need))
	for k := range need {
		kinds = append(kinds, k)
	}
	sort.Slice(kinds, func(i, j int) bool {
		a, b := kinds[i], kinds[j]
		switch {
		case a.key != b.key:
			return a.key < b.key
		case a.length != b.length:
			return a.length < b.length
		}
		return a.name < b.name
	})
	var out []Line
	for _, k := range kinds {
		h := g.Shop.Hardware[k.key]
		l := Line{Sort: Fittings, What: k.name, Key: k.key, Need: float64(need[k]), Unit: "piece", Why: "counted from the parts"}.At(h.Price)
		if h.Kind == "" { // tenons, dowels, buttons
			l.Made, l.Why = true, "made here; bought ones go under hardware"
		}
		switch h.Kind { // small things get lost, and break
		case "pin", "screw", "machine-screw", "dowel", "loose-tenon", "":
			l.Spare = ceil(l.Need*g.Shop.Habits.Spares/100, 1)
		case "side-runner", "under-runner", "corner-runner", "wooden-runner":
			l.Unit = "pair"
			if k.length > 0 {
				l.What += ", " + sold(k.length, g.Show)
			}
		case "pull":
			if k.length > 0 {
				l.What += ", " + sold(k.length, g.Show) + " centres"
			}
		}
		l.pack(h.Pack)
		out = append(out, l)
	}
	return out
}

// pack turns a need with spares into whole packs. What is left in the last
// pack serves as spare too, so the count of packs says nothing more.
func (l *Line) pack(size int) {
	l.Count = l.Need + l.Spare
	if size > 1 {
		l.Count, l.Unit = ceil(l.Count/float64(size), 1), fmt.Sprintf("pack of %d", size)
	}
}

// screws adds up the screw table by size, in the packs of the shop where it
// has a screw of that size.
func screws(g Goods) []Line {
	type size struct {
		diameter, length unit.Length
		machine          bool
	}
	need := map[size]int{}
	gauge := map[size]int{}
	for _, u := range g.Model.Screws {
		k := size{u.Diameter, u.Length, u.Machine}
		need[k] += u.Count * g.Pieces
		gauge[k] = u.Gauge
	}
	sizes := make([]size, 0, len(need))
	for k := range need {
		sizes = append(sizes, k)
	}
	sort.Slice(sizes, func(i, j int) bool {
		if sizes[i].diameter != sizes[j].diameter {
			return sizes[i].diameter < sizes[j].diameter
		}
		if sizes[i].length != sizes[j].length {
			return sizes[i].length < sizes[j].length
		}
		return sizes[j].machine
	})
	var out []Line
	for _, k := range sizes {
		kind, what := "screw", "Wood screw"
		if k.machine {
			kind, what = "machine-screw", "Machine screw"
		}
		name := g.Show(k.diameter)
		if gauge[k] > 0 {
			name = fmt.Sprintf("no. %d", gauge[k])
		}
		l := Line{
			Sort: ScrewPacks, What: fmt.Sprintf("%s %s × %s", what, name, g.Show(k.length)), Key: kind, Unit: "piece",
			Need: float64(need[k]), Why: "screw table",
		}
		l.Spare = ceil(l.Need*g.Shop.Habits.Spares/100, 1)
		pack := 1
		if key, h, ok := screwOf(g.Shop, kind, k.diameter, k.length); ok {
			l, pack = l.At(h.Price), h.Pack
			l.Key = key
			if h.Name != "" {
				l.What = h.Name
			}
		}
		l.pack(pack)
		out = append(out, l)
	}
	return out
}

// screwOf finds the shop's screw of a size: as long, and as thick as a
// millimetre size and the gauge nearest to it differ (a no. 8 of 4.17 mm is
// sold as 4 mm).
func screwOf(s shop.Shop, kind string, diameter, length unit.Length) (string, shop.Hardware, bool) {
	const alike, same = unit.Millimetre / 4, unit.Millimetre / 2
	for _, key := range sorted(s.Hardware) {
		h := s.Hardware[key]
		if h.Kind != kind || (h.Length-length).Abs() > same {
			continue
		}
		d := h.Diameter
		if d == 0 {
			d = unit.In(0.060 + 0.013*float64(h.Gauge)) // gauge n, see wood screws
		}
		if (d - diameter).Abs() <= alike {
			return key, h, true
		}
	}
	return "", shop.Hardware{}, false
}
