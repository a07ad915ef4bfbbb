package station

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"casewright/internal/document"
	"casewright/internal/shop"
)

// one of everything that a shop file can hold.
const oneOfAll = `format: 1
units: mm
saws:
  table: {kind: table, kerf: 3, tooth: alternate, blades: [{name: thin, kerf: 2}]}
  track: {kind: track, kerf: 2}
  guide: {kind: hand-guide, kerf: 2, guide-offset: 100}
panels: {ply: {kind: birch-ply, thickness: 12, sheets: [{length: 1500, width: 1500}]}}
woods: {oak: {species: white-oak, boards: [{thickness: 27, width: 200, length: 3000, defects: [{what: knot, length: 30, width: 20}]}]}}
bands: {edge: {thickness: 1}}
rates: {wage: 40}
tax: {name: VAT}
terms: {payments: [{percent: 100, when: with the order}]}
clamps: [{name: bar, count: 4, opens: 800}]
glues: {yellow: {class: pva-yellow}}
coats: {oil: {coats: 2}}
times: {kerf: {run: 1}}
habits: {strips-first: true}
working: {people: 1}
machines: {planer-widest: 300}
`

// Whatever the file of a shop can say, its page can: every field of the
// document is one of an entry or of a line in a list, and every kind of saw,
// hardware and supply can be added.
func TestTheShopPageCanSayAll(t *testing.T) {
	text := oneOfAll + "hardware:\n"
	h, _ := reflect.TypeFor[shop.Hardware]().FieldByName("Kind")
	kinds := strings.Split(h.Tag.Get("one"), "|")
	for _, kind := range kinds {
		text += "  " + kind + ": {kind: " + kind
		needs, _, _ := shop.Fits(kind)
		for _, n := range needs {
			v := "20"
			if n == "lengths" {
				v = "[300]"
			}
			text += ", " + n + ": " + v
		}
		text += "}\n"
	}
	u, _ := reflect.TypeFor[shop.Supply]().FieldByName("Kind")
	supplies := strings.Split(u.Tag.Get("one"), "|")
	text += "supplies:\n"
	for _, kind := range supplies {
		more := map[string]string{"finish": ", class: oil", "abrasive": ", covers-m2: 2"}[kind]
		text += "  " + kind + ": {kind: " + kind + more + "}\n"
	}
	s, err := shop.Decode("", bytes.NewReader([]byte(text)))
	if err != nil {
		t.Fatal(err)
	}
	page := ShopPage(s, nil)
	can, lists, offered := map[string]bool{}, map[string]bool{}, map[string]bool{}
	var row func(l ShopList)
	row = func(l ShopList) {
		lists[l.Path] = true
		for _, r := range l.Rows {
			lists[r.Path] = true // all its fields are shown
			for _, in := range r.Lists {
				row(in)
			}
		}
		if len(l.New) == 0 {
			t.Errorf("nothing can be added to %s", l.Path)
		}
	}
	for _, sec := range page.Sections {
		for _, e := range sec.Entries {
			for _, n := range append(slices.Clone(e.Needs), e.Takes...) {
				can[strings.TrimPrefix(e.Path+"."+n, ".")] = true
			}
			for _, l := range e.Lists {
				row(l)
			}
		}
		for _, n := range sec.New {
			for _, a := range n.Asks {
				can[n.Path+"."+a.Name] = true
			}
			for _, f := range n.Fixed {
				if f.Path == "kind" {
					offered[sec.Key+" "+f.Value] = true
				}
			}
		}
	}
	for _, k := range kinds {
		if !offered["hardware "+k] {
			t.Errorf("hardware of kind %s cannot be added", k)
		}
	}
	for _, k := range supplies {
		if !offered["supplies "+k] {
			t.Errorf("a supply of kind %s cannot be added", k)
		}
	}
	checked := 0
	var walk func(f document.Field, parent string)
	walk = func(f document.Field, parent string) {
		path := strings.Split(f.Path, ".")
		switch {
		case f.Path == "format", can[f.Path]:
			checked++
			return
		case f.Kind == "group" || f.Kind == "map" || f.Kind == "list" && lists[f.Path]:
			for _, c := range f.Children {
				walk(c, f.Path)
			}
			return
		case lists[parent] && f.Kind != "list":
			checked++
			return
		case path[0] == "hardware", path[0] == "supplies", path[0] == "saws":
			return // the fields of another kind; what each takes is tested where it is told
		}
		t.Errorf("%s (%s) cannot be typed on the page", f.Path, f.Kind)
	}
	walk(document.Outline(shop.Doc, shop.Shop{}, []byte(text)), "")
	if checked < 120 {
		t.Errorf("only %d fields were looked at", checked)
	}
	// What a kind of hardware takes, its entry has.
	for _, k := range kinds {
		needs, takes, _ := shop.Fits(k)
		for _, n := range append(append(needs, takes...), "name", "price", "pack", "rated-kg") {
			if !can[fmt.Sprintf("hardware.%s.%s", k, n)] {
				t.Errorf("%s of a %s cannot be typed", n, k)
			}
		}
	}
	for _, f := range []string{"saws.table.least", "saws.table.bevel", "saws.track.reach", "saws.guide.guide-offset", "supplies.finish.class", "supplies.wall-fixing.each", "supplies.glue.covers-m2"} {
		if !can[f] {
			t.Errorf("%s cannot be typed", f)
		}
	}
}

// The page tells a price of nothing from one that is not known, and loads in
// the unit the shop works in: 15 kg are 33 lb.
func TestPricesAndLoadsOfTheShop(t *testing.T) {
	for units, want := range map[string]string{
		"mm": "Shelf pins, free, carries 15 kg. Pulls and knobs, no price yet. Wood screws, 4.50 for 100.",
		"in": "Shelf pins, free, carries 33.1 lb (15 kg). Pulls and knobs, no price yet. Wood screws, 4.50 for 100.",
	} {
		s, err := shop.Decode("", strings.NewReader("format: 1\nunits: "+units+"\nsaws: {track: {kind: track, kerf: 2 mm}}\n"+
			"hardware:\n  a: {kind: pin, diameter: 5 mm, depth: 12 mm, price: 0, rated-kg: 15}\n  b: {kind: pull}\n  c: {kind: screw, gauge: 8, length: 25 mm, price: 4.50, pack: 100}\n"))
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, sec := range ShopPage(s, nil).Sections {
			for _, e := range sec.Entries {
				if sec.Key == "hardware" {
					said = append(said, e.Says)
				}
			}
		}
		if got := strings.Join(said, " "); got != want {
			t.Errorf("%s: %q", units, got)
		}
	}
}
