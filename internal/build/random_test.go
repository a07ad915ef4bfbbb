package build

import (
	"pgregory.net/rapid"

	"casewright/internal/piece"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// workshop is a shop with one of everything that random pieces name.
func workshop() shop.Shop {
	mm := unit.Millimetre
	sheets := []shop.Sheet{{Length: 2440 * mm, Width: 1220 * mm}}
	return shop.Shop{
		Saws: map[string]shop.Saw{
			"table": {Kind: "table", Kerf: unit.MM(3.2), Depth: 80 * mm, Reach: 700 * mm, Blades: []shop.Blade{{Name: "thin", Kerf: unit.MM(2.4)}}},
			"track": {Kind: "track", Kerf: unit.MM(2.2), Depth: 55 * mm, Reach: 2700 * mm},
		},
		Panels: map[string]shop.Panel{
			"ply-18": {Kind: "veneered-ply", Thickness: 18 * mm, Tolerance: unit.MM(0.2), Trim: 10 * mm, Sheets: sheets},
			"ply-12": {Kind: "birch-ply", Thickness: 12 * mm, Trim: 10 * mm, Sheets: sheets},
			"ply-6":  {Kind: "birch-ply", Thickness: unit.MM(6.4), Trim: 10 * mm, Sheets: sheets},
			"mdf-16": {Kind: "mdf", Thickness: 16 * mm, Trim: 10 * mm, Sheets: sheets},
		},
		Woods: map[string]shop.Wood{"oak": {Species: "white-oak", Widest: 150 * mm}, "cherry": {Species: "black-cherry", Widest: 8 * unit.Inch}},
		Bands: map[string]shop.Band{
			"within": {Thickness: mm, Before: true}, "on-top": {Thickness: unit.MM(0.6)},
		},
		Hardware: map[string]shop.Hardware{
			"side":   {Kind: "side-runner", Thickness: unit.MM(12.7), Lengths: []unit.Length{250 * mm, 300 * mm, 350 * mm, 400 * mm}, SideMin: unit.MM(12.9), SideMax: unit.MM(13.2), Behind: new(3 * mm)},
			"under":  {Kind: "under-runner", Lengths: []unit.Length{250 * mm, 300 * mm, 350 * mm, 400 * mm}, Inside: 42 * mm, SideMost: 16 * mm, Above: new(6 * mm), Below: new(14 * mm), Behind: new(3 * mm), Recess: new(13 * mm)},
			"hinge":  {Kind: "cup-hinge", Cup: 35 * mm, CupDepth: 11 * mm, Boring: 4 * mm, Fixed: new(13 * mm), Plate: 0, Setback: 37 * mm},
			"pin":    {Kind: "pin", Diameter: 5 * mm, Depth: 12 * mm},
			"plate":  {Kind: "leg-plate", Length: 75 * mm, Width: 75 * mm, Thickness: unit.MM(2.5), Screws: 4, Gauge: 8},
			"caster": {Kind: "caster", Length: 60 * mm, Width: 60 * mm, Thickness: unit.MM(2.5), Screws: 4, Height: 75 * mm},
			"tenon":  {Kind: "loose-tenon", Name: "loose tenon 8 × 22 × 40", Thickness: 8 * mm, Width: 22 * mm, Length: 40 * mm},
		},
	}
}

// sensible draws a piece that a maker might mean; most of them can be built.
func sensible(t *rapid.T) piece.Piece {
	length := func(name string, lo, hi int) unit.Length {
		return unit.Length(rapid.IntRange(lo, hi).Draw(t, name)) * unit.Millimetre
	}
	word := func(name string, words ...string) string { return rapid.SampledFrom(words).Draw(t, name) }
	yes := func(name string) bool { return rapid.Bool().Draw(t, name) }

	p := piece.Piece{
		Format: 1, Name: "random", Count: 1,
		Materials: map[string]string{
			"case": word("case", "ply-18", "ply-18", "ply-12"), "frame": "oak", "back": "ply-6", "base": "oak",
			"boxes": "ply-12", "bottoms": "ply-6", "packers": "ply-12", "fronts": "ply-18", "inside": "ply-18", "top": "cherry",
		},
		Thicknesses: map[string]unit.Length{"top": 20 * unit.Millimetre},
		Case: piece.Case{
			Width: length("width", 500, 1800), Height: length("height", 300, 1200), Depth: length("depth", 330, 600),
			Edges: word("edges", "", "within", "on-top"),
		},
	}
	c := &p.Case
	if yes("shell") {
		c.Kind, c.Shape = "shell", word("shape", "closed", "closed", "u", "l")
		c.Open, c.Corner = word("open", "bottom", "top", "left", "right"), word("corner", "top-left", "top-right", "bottom-left", "bottom-right")
		c.Radius, c.Skin = length("radius", 50, 120), unit.MM(1.5)
		if yes("radii") {
			c.Radii = map[string]unit.Length{"top-left": length("top-left", 50, 120)}
		}
		if yes("seamed") && c.Shape == "closed" {
			for _, at := range []string{"bottom", "top"} {
				c.Seams = append(c.Seams, piece.Seam{
					At: at, Offset: length("offset", -40, 40), Joint: word("seam", "strip", "scarf", "butt"),
					Strip: length("strip", 20, 60), Held: word("held", "loose-tenon", "dowel", "spline", "glue"), Slope: 8,
				})
			}
		}
		c.Grain = word("grain", "round", "along")
	} else {
		c.Kind, c.Through = "carcass", word("through", "sides", "top-bottom")
		joints := []string{"butt", "housing", "rebate", "mitre", "loose-tenon", "dowel", "pocket-screw"}
		c.Joints = map[string]string{"top": word("top joint", joints...), "bottom": word("bottom joint", joints...)}
		if yes("slab") {
			c.Top = &piece.Slab{Front: length("over front", 0, 30), Sides: length("over sides", 0, 30), Back: length("over back", 0, 10), Held: word("top held", "buttons", "slots", "glue")}
		}
	}
	if yes("frame") && c.Shape != "l" {
		p.Frame = &piece.Frame{
			Thickness: length("frame", 18, 25), Stile: length("stile", 30, 70), TopRail: length("top rail", 30, 70), BottomRail: length("bottom rail", 30, 70),
			Rail: 30 * unit.Millimetre, Divider: 30 * unit.Millimetre,
			Inner: word("inner", "square", "follow"), Joint: word("frame joint", "mortise-tenon", "loose-tenon", "dowel", "pocket-screw"), Oversize: unit.Millimetre,
			ToFloorBase: yes("to the floor"),
		}
	}
	if c.Shape != "l" && c.Open != "left" && c.Open != "right" {
		p.Inside = random(t, 0)
	}
	if yes("back") {
		p.Back = &piece.Back{Fit: word("back fit", "rebated", "grooved", "overlaid"), Chamfer: unit.Deg(45)}
	}
	switch word("base", "none", "legs", "plinth", "casters") {
	case "legs":
		p.Base = &piece.Base{Kind: "legs", Height: length("legs", 80, 250), Hardware: "plate", Splay: unit.Deg(rapid.Float64Range(0, 15).Draw(t, "splay")), Thick: 40 * unit.Millimetre, InsetX: 60 * unit.Millimetre, InsetY: 40 * unit.Millimetre, Block: length("block", 0, 30)}
	case "plinth":
		p.Base = &piece.Base{Kind: "plinth", Height: length("plinth", 50, 150), Thick: 20 * unit.Millimetre, InsetX: length("inset", 0, 60), InsetY: length("inset front", 0, 60)}
	case "casters":
		p.Base = &piece.Base{Kind: "casters", Height: 75 * unit.Millimetre, Hardware: "caster", InsetX: 30 * unit.Millimetre, InsetY: 30 * unit.Millimetre}
	}
	return p
}

// random is a space, split at most twice.
func random(t *rapid.T, depth int) piece.Opening {
	switch n := rapid.IntRange(0, 5).Draw(t, "inside"); {
	case n == 0 && depth < 2:
		return piece.Opening{Columns: []piece.Opening{random(t, depth+1), random(t, depth+1)}}
	case n == 1 && depth < 2:
		return piece.Opening{Rows: []piece.Opening{random(t, depth+1), random(t, depth+1)}}
	case n == 2:
		return piece.Opening{Drawer: &piece.Drawer{Runner: rapid.SampledFrom([]string{"side", "under"}).Draw(t, "runner"), Front: "inset", Gap: 2 * unit.Millimetre, Corner: "rebate"}}
	case n == 3:
		return piece.Opening{Shelves: &piece.Shelves{OnPins: rapid.IntRange(1, 3).Draw(t, "shelves"), Pin: "pin", Holes: 5, Setback: 2 * unit.Millimetre, Joint: "housing"}}
	case n == 4:
		return piece.Opening{Door: &piece.Door{Hinge: "hinge", Hung: "left", Front: rapid.SampledFrom([]string{"inset", "overlaid"}).Draw(t, "door"), Gap: 2 * unit.Millimetre}}
	}
	return piece.Opening{}
}
