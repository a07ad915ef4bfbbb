package document_test

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/piece"
	"casewright/internal/record"
	"casewright/internal/shop"
)

// same are the fields where a typed 0 is the same as left out, and why.
var same = map[string]string{
	"Leg.flat": "told: neither a flat nor a bend", "Leg.bend": "told: neither a flat nor a bend",
	"Seam.offset": "in the middle", "Slab.front": "no overhang", "Slab.sides": "no overhang", "Slab.back": "no overhang",
	"Shelves.fixed": "a height of 0 is a height", "Shelves.on-pins": "none", "Back.chamfer": "none", "Base.splay": "none", "Base.block": "none",
	"Use.load-kg": "nothing is put in", "Customer.delivery-km": "none", "Customer.packing": "none",
	"Panel.trim": "none", "Sheet.on-hand": "none", "Wood.class-prices": "costs nothing",
	"Board.tone": "not looked at, as the words say", "Defect.from-end": "at the end", "Defect.from-edge": "at the edge",
	"Hardware.plate": "no height", "Hardware.centres": "one hole",
	"Habits.board-ends": "none", "Habits.overbend": "none",
	"Rates.wage": "not known", "Rates.overhead-per-year": "none", "Rates.contingency-percent": "none", "Rates.consumables-percent": "none",
	"Rates.round-up-to": "to the nearest cent", "Rates.offcut-credit-percent": "none", "Tax.percent": "none",
	"Supply.each": "none", "Time.setup": "no minutes", "Time.run": "no minutes",
	"MeasuredOpening.corners": "square", "Bought.count": "not known", "Bought.paid": "not known",
	"Change.material": "none", "Change.hours": "none", "Change.days": "none",
}

// kept are the fields with a default where a typed 0 stays a 0.
var kept = map[string]string{
	"Frame.oversize": "trimmed to nothing", "Drawer.gap": "no gap", "Door.gap": "no gap", "Shelves.setback": "flush",
	"Base.inset-side": "flush", "Base.inset-front": "flush", "Home.temperature-c": "freezing",
	"Saw.bevel": "square", "Saw.least": "none", "Wood.waste-percent": "none", "Habits.board-edge": "none", "Habits.further-strips": "none",
	"Habits.spares-percent": "none", "Working.day-starts": "midnight", "Working.temperature-c": "freezing", "Working.humidity-percent": "dry",
}

// TestZeroIsNotLeftOut: every number of a document says what a typed 0 is: by
// its least value or by zero:"no" it is refused, a field that may be left out
// apart from 0 is a pointer, or it stands in one of the tables above.
func TestZeroIsNotLeftOut(t *testing.T) {
	used := map[string]bool{}
	for _, root := range []any{piece.Piece{}, shop.Shop{}, record.Record{}} {
		zeros(t, reflect.TypeOf(root), map[reflect.Type]bool{}, used)
	}
	for _, name := range slices.Sorted(maps.Keys(same)) {
		if !used[name] {
			t.Errorf("%s is in the table, but is no such field", name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(kept)) {
		if !used[name] {
			t.Errorf("%s is in the table, but is no such field with a default", name)
		}
	}
}

func zeros(t *testing.T, typ reflect.Type, seen map[reflect.Type]bool, used map[string]bool) {
	if seen[typ] {
		return
	}
	seen[typ] = true
	for _, f := range document.FieldsOf(typ) {
		of := inner(f.Type)
		if of.Kind() == reflect.Array {
			of = of.Elem()
		}
		switch of.Kind() {
		case reflect.Struct:
			zeros(t, of, seen, used)
			continue
		case reflect.String, reflect.Bool:
			continue
		}
		name := typ.Name() + "." + f.Name
		least := strings.TrimLeft(f.Min, "-0.")
		takes := f.Min == "" || strings.HasPrefix(f.Min, "-") || least == "" || !strings.ContainsAny(least[:1], "123456789") // 0 is within the limits
		table := same
		if f.Default != "" {
			table = kept
		}
		_, told := table[name]
		used[name] = used[name] || told
		free := !takes || f.Some || f.Type.Kind() == reflect.Pointer || name == "Piece.units" || f.Name == "units"
		if free == told {
			t.Errorf("%s (least %q, left out %q): a typed 0 is not refused, and not told apart from left out: %t; in a table: %t", name, f.Min, f.Default, !free, told)
		}
		if f.Some && f.Type.Kind() == reflect.Pointer {
			t.Errorf("%s tells 0 from left out and refuses it", name)
		}
	}
}

// What a maker reads where a 0 is refused: what, where and what to do.
func TestZeroIsRefused(t *testing.T) {
	const head = "format: 1\nname: x\nunits: mm\nmaterials: {case: ply}\ncase: {kind: carcass, width: 600, height: 400, depth: 300}\n"
	for _, c := range []struct{ text, says string }{
		{"frame: {thickness: 20, stile: 30, top-rail: 0}", "frame.top-rail is 0 mm; it must be more than 0. Write a size, or leave it out (left out: as the stile)."},
		{"frame: {thickness: 20, stile: 30, bottom-rail: 0}", "frame.bottom-rail is 0 mm; it must be more than 0. Write a size, or leave it out (left out: as the stile)."},
		{"frame: {thickness: 20, stile: 30, divider: 0 in}", "frame.divider is 0 in; it must be more than 0. Write a size, or leave it out (left out: as the stile)."},
		{"frame: {thickness: 20, stile: 30, rail: 0}", "frame.rail is 0 mm; it must be more than 0. Write a size, or leave it out (left out: as the divider)."},
		{"back: {fit: grooved, depth: 0}", "back.depth is 0 mm; it must be more than 0. Write a size, or leave it out (left out: a groove 6 mm, at most a third of the panel, a rebate 10 mm for its screws, at most half)."},
		{"back: {fit: grooved, set-in: 0}", "back.set-in is 0; a groove at the very edge is a rebate. Write fit: rebated, or a size such as 10 mm."},
		{"inside: {drawer: {runner: r, box-depth: 0}}", "inside.drawer.box-depth is 0 mm; it must be more than 0. Write a size, or leave it out (left out: the runner's length)."},
		{"inside: {drawer: {runner: r, front: overlaid, overlay: 0}}", "inside.drawer.overlay is 0 mm; it must be more than 0. Write a size, or leave it out."},
		{"inside: {shelves: {fixed: [100], load-kg-per-m: 0}}", "inside.shelves.load-kg-per-m is 0; it must be more than 0. Write a number, or leave it out."},
		{"finish: {kind: oil, coats: 0}", "finish.coats is 0; it must be more than 0. Write a number, or leave it out (left out: as usual for its class)."},
		{"inside: {rows: [{height: 0}, {}]}", "inside.rows[0].height is 0 mm; it must be more than 0. Write a size, or leave it out (left out: an equal share of what the others leave)."},
	} {
		_, err := piece.Decode("p", strings.NewReader(head+c.text+"\n"))
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Count(err.Error(), "\n") > 0 {
			t.Errorf("%s:\n got %v\nwant %s", c.text, err, c.says)
		}
	}
	const shopHead = "format: 1\nunits: mm\nsaws: {track: {kind: track, kerf: 2}}\npanels: {ply: {kind: plywood, thickness: 18, sheets: [{length: 2440, width: 1220}]}}\n"
	for _, c := range []struct{ text, says string }{
		{"hardware: {r: {kind: side-runner, lengths: [400], side-min: 0, side-max: 13}}", "hardware.r.side-min is 0 mm; it must be more than 0. Write a size, or leave it out."},
		{"habits: {tip-clearance: 0}", "habits.tip-clearance is 0 mm; it must be more than 0. Write a size, or leave it out (left out: 3 mm)."},
		{"habits: {rough-width: 0}", "habits.rough-width is 0 mm; it must be more than 0. Write a size, or leave it out (left out: 1/4 in)."},
	} {
		_, err := shop.Decode("s", strings.NewReader(shopHead+c.text+"\n"))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s:\n got %v\nwant %s", c.text, err, c.says)
		}
	}
}
