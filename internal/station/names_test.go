package station

import (
	"context"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/drawing"
	"casewright/internal/papers"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
)

// addressed are the fields of pages that hold keys and paths, by which a page
// asks for things; they are not shown.
var addressed = regexp.MustCompile(`^(key|path|stock|value|saw|place|panel|id|layout|file|drawing|href|of|seams|href|fix|changes|record|fixed|operation)$`)

// said is every text of a page that is shown, with the fields it lies in.
func said(t *testing.T, page any) map[string]string {
	t.Helper()
	b, err := json.Marshal(page)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	var walk func(at string, v any)
	walk = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, x := range v {
				if !addressed.MatchString(k) {
					walk(at+"."+k, x)
				}
			}
		case []any:
			for i, x := range v {
				walk(fmt.Sprintf("%s[%d]", at, i), x)
			}
		case string:
			out[at] = v
		}
	}
	walk("", v)
	return out
}

// A stock, fitting or band without a name is called by its key as it is read,
// and by nothing else: on no page and no paper does the key stand as the shop
// file has it.
func TestAThingHasOneName(t *testing.T) {
	for _, name := range []string{"record-cabinet", "chest", "clinic-cabinet"} {
		p := demo(t, name, "")
		s := p.Shop
		for k, v := range s.Panels {
			v.Name = ""
			s.Panels[k] = v
		}
		for k, v := range s.Bands {
			v.Name = ""
			s.Bands[k] = v
		}
		for k, v := range s.Hardware {
			v.Name = ""
			s.Hardware[k] = v
		}
		p, err := plan.Make(context.Background(), p.Piece, s, record.Record{}, plan.Options{Cutting: cutting.Budget{Iterations: 300}})
		if err != nil {
			t.Fatal(err)
		}
		var keys []string
		for k := range s.Panels {
			keys = append(keys, k)
		}
		for k := range s.Woods {
			keys = append(keys, k)
		}
		for k := range s.Bands {
			keys = append(keys, k)
		}
		for k := range s.Hardware {
			keys = append(keys, k)
		}
		raw := map[string]*regexp.Regexp{}
		for _, k := range keys {
			if strings.Contains(k, "-") {
				raw[k] = regexp.MustCompile(`(^|[^\w-])` + regexp.QuoteMeta(k) + `($|[^\w-])`)
			}
		}
		check := func(where, text string) {
			for k, r := range raw {
				if r.MatchString(strings.ToLower(text)) {
					t.Errorf("%s, %s: %q has the key %s; it is called %s", name, where, text, k, shop.Words(k))
				}
			}
		}
		for where, page := range map[string]any{
			"desk": DeskPage(p), "yard": YardPage(context.Background(), p), "saw": SawPage(p, nil), "bench": BenchPage(p, nil),
			"bend": BendPage(p), "glue-up": GluePage(p, nil), "finish": FinishPage(p, nil), "delivery": DeliveryPage(p, nil),
			"record": RecordPage(p), "shop": ShopPage(s, nil), "card": CardOf(p), "line": Line(p),
		} {
			for at, text := range said(t, page) {
				check(where+" "+at, text)
			}
		}
		set, err := papers.Set(p, papers.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, paper := range set {
			for _, sheet := range paper.Sheets {
				for _, w := range words(sheet.Items) {
					check("paper "+paper.Name, w)
				}
			}
		}
	}
}

// words are all texts of a sheet.
func words(items []drawing.Item) []string {
	var out []string
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Text:
			out = append(out, it.S)
		case drawing.Group:
			out = append(out, words(it.Items)...)
		}
	}
	return out
}
