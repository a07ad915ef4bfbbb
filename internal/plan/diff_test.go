package plan_test

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/cutting"
	"casewright/internal/piece"
	"casewright/internal/plan"
	"casewright/internal/record"
	"casewright/internal/shop"
	"casewright/internal/unit"
)

// edit is a change of a demo as a maker would make it.
type edit struct {
	says string
	do   func(*piece.Piece, *shop.Shop, *record.Record)
}

var edits = []edit{
	{"20 wider", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Case.Width += unit.MM(20) }},
	{"300 wider: another panel", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Case.Width += unit.MM(300) }},
	{"5 deeper", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Case.Depth += unit.MM(5) }},
	{"higher", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Case.Height += unit.In(1) }},
	{"two of it", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Count += 1 }},
	{"in inches", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Units = p.Units.Other() }},
	{"another name", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Name += " for the hall" }},
	{"begun later", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Start = "2027-05-03" }},
	{"no back", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Back = nil }},
	{"no base", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) { p.Base = nil }},
	{"fewer openings", func(p *piece.Piece, _ *shop.Shop, _ *record.Record) {
		if n := len(p.Inside.Columns); n > 1 {
			p.Inside.Columns = p.Inside.Columns[:n-1]
		} else if n := len(p.Inside.Rows); n > 1 {
			p.Inside.Rows = p.Inside.Rows[:n-1]
		}
	}},
	{"a thicker kerf", func(_ *piece.Piece, s *shop.Shop, _ *record.Record) {
		for k, w := range s.Saws {
			w.Kerf += unit.MM(0.3)
			s.Saws[k] = w
		}
	}},
	{"panels dearer", func(_ *piece.Piece, s *shop.Shop, _ *record.Record) {
		for k, x := range s.Panels {
			for i := range x.Sheets {
				x.Sheets[i].Price = new(*x.Sheets[i].Price + 100)
			}
			s.Panels[k] = x
		}
	}},
	{"a higher wage", func(_ *piece.Piece, s *shop.Shop, _ *record.Record) { r := *s.Rates; r.Wage += 500; s.Rates = &r }},
	{"no rates", func(_ *piece.Piece, s *shop.Shop, _ *record.Record) { s.Rates = nil }},
	{"first part cut", func(_ *piece.Piece, _ *shop.Shop, r *record.Record) { r.Cut = []record.Cut{{Part: "A", Count: 1}} }},
	{"panel measured thin", func(p *piece.Piece, _ *shop.Shop, r *record.Record) {
		r.Thicknesses = map[string][]unit.Length{p.Materials["case"]: {unit.MM(17.4)}}
	}},
}

// variant is a demo, edited.
func variant(t testing.TB, name string, by ...edit) plan.Plan {
	out, err := try(t, name, by...)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func try(t testing.TB, name string, by ...edit) (plan.Plan, error) {
	p, s := open(t, name)
	var r record.Record
	for _, e := range by {
		e.do(&p, &s, &r)
	}
	return plan.Make(context.Background(), p, s, r, plan.Options{Cutting: cutting.Budget{Iterations: 20}})
}

// edited gives every edit of a demo that can be made; not every piece takes
// every one.
func edited(t *testing.T, name string, look func(edit, plan.Plan)) {
	made := 0
	for i, e := range edits {
		if name != demos[0] && i%2 != len(name)%2 {
			continue // half of them each
		}
		if after, err := try(t, name, e); err == nil {
			made++
			look(e, after)
		}
	}
	if made < len(edits)/2-2 {
		t.Errorf("%s: only %d of %d edits can be made", name, made, len(edits))
	}
}

// Nothing changes between a plan and itself, made twice.
func TestDiffOfTheSameIsEmpty(t *testing.T) {
	for _, name := range demos {
		if got := plan.Diff(variant(t, name), variant(t, name)); len(got) != 0 {
			t.Errorf("%s: %d changes, first %+v", name, len(got), got[0])
		}
	}
}

// Every leaf of plan.json whose values are others after an edit is covered by
// a change, or stands in the table of what is said elsewhere. Leaves are
// found by marshalling, without the code under test; values are compared as
// multisets for each path without indices, so that a thing that only moved in
// its list is not asked for.
func TestDiffIsComplete(t *testing.T) {
	for _, name := range demos {
		before := variant(t, name)
		old := leaves(t, before)
		edited(t, name, func(e edit, after plan.Plan) {
			changes := plan.Diff(before, after)
			var covered []string
			for _, c := range changes {
				covered = append(covered, plain.ReplaceAllString(c.Path, ""))
			}
			now := leaves(t, after)
			for _, path := range slices.Sorted(maps.Keys(merged(old, now))) {
				if alike(old[path], now[path]) || within(path, slices.Collect(maps.Keys(plan.Derived))) {
					continue
				}
				if !within(path, covered) {
					t.Errorf("%s, %s: %s changed from %.80v to %.80v and is not told", name, e.says, path, old[path], now[path])
				}
			}
			swapped(t, name+", "+e.says, before, after, changes)
		})
	}
}

// swapped holds that the other way round old and new change places and
// nothing else does.
func swapped(t *testing.T, name string, before, after plan.Plan, changes []plan.Change) {
	var there, back []string
	for _, c := range changes {
		there = append(there, fmt.Sprint(c.Where, c.Kind, c.Old, "|", c.OldOther, "→", c.New, "|", c.NewOther))
	}
	for _, c := range plan.Diff(after, before) {
		back = append(back, fmt.Sprint(c.Where, c.Kind, c.New, "|", c.NewOther, "→", c.Old, "|", c.OldOther))
	}
	slices.Sort(there)
	slices.Sort(back)
	if !slices.Equal(there, back) {
		for _, c := range there {
			if !slices.Contains(back, c) {
				t.Errorf("%s: only one way: %.200s", name, c)
			}
		}
	}
}

// One figure of a plan put off by a little, anywhere, is told. Every sort
// of leaf is tried that is not in the table of what is said elsewhere.
func TestDiffSeesEveryLeaf(t *testing.T) {
	for _, name := range demos {
		p := variant(t, name)
		q := variant(t, name)
		tried := map[string]int{}
		each(reflect.ValueOf(&q).Elem(), "", func(path string, v reflect.Value) {
			if within(path, slices.Collect(maps.Keys(plan.Derived))) {
				return
			}
			if tried[path]++; tried[path] > 2 {
				return // two of each sort are enough
			}
			was := reflect.New(v.Type()).Elem()
			was.Set(v)
			switch v.Kind() {
			case reflect.Int:
				v.SetInt(v.Int() + 1)
			case reflect.Int64: // 20 micrometres, where it is a length
				v.SetInt(v.Int() + 20_000)
			case reflect.Float64:
				v.SetFloat(v.Float()*1.001 + 0.001)
			case reflect.String:
				v.SetString(v.String() + "x")
			case reflect.Bool:
				v.SetBool(!v.Bool())
			}
			if len(plan.Diff(p, q)) == 0 {
				t.Errorf("%s: %s may change unseen", name, path)
			}
			v.Set(was)
		})
		if len(tried) < 150 {
			t.Errorf("%s: only %d sorts of leaves found", name, len(tried))
		}
	}
}

// each visits the exported leaves of a value, by the names of its JSON.
func each(v reflect.Value, path string, visit func(string, reflect.Value)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			each(v.Elem(), path, visit)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			each(v.Index(i), path, visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if !f.IsExported() || name == "-" || strings.HasSuffix(path, ".bend") {
				continue // a bend is told by its report, see TestDiffIsComplete
			}
			if name == "" {
				name = f.Name
			}
			sub := strings.TrimPrefix(path+"."+name, ".")
			if f.Anonymous {
				sub = path
			}
			each(v.Field(i), sub, visit)
		}
	case reflect.Map:
	default:
		if path != "" {
			visit(path, v)
		}
	}
}

// What is said elsewhere is: the findings of the parts of the plan are all
// among those of the plan.
func TestFindingsAreGathered(t *testing.T) {
	for _, name := range demos {
		p := variant(t, name)
		all := map[string]bool{}
		for _, f := range p.Findings {
			all[f.ID+f.Says] = true
		}
		some := slices.Concat(p.Model.Findings, p.Route.Findings, p.Price.Findings)
		for _, b := range p.Model.Bends {
			some = append(some, b.Design.Result.Findings...)
		}
		for _, o := range p.Fit {
			some = append(some, o.Findings...)
		}
		for _, f := range some {
			if !all[f.ID+f.Says] {
				t.Errorf("%s: %s is not among the findings of the plan: %s", name, f.ID, f.Says)
			}
		}
	}
}

// Changes read as words and figures: nothing of the code's names, both
// systems for a size, the figure that a size follows from.
func TestDiffReads(t *testing.T) {
	before, after := variant(t, "record-cabinet"), variant(t, "record-cabinet", edits[0])
	changes := plan.Diff(before, after)
	code := regexp.MustCompile(`[a-z]_[a-z]|[a-z][A-Z]|%!|\bmodel\b|\bjson\b`)
	for _, c := range changes {
		if bad := code.FindString(c.What + c.Why); bad != "" || c.What == "" || c.Where == "" || c.About == "" {
			t.Errorf("%q in %+v", bad, c)
		}
		if c.Old == c.New {
			t.Errorf("told as changed, and reads alike: %+v", c)
		}
	}
	i := slices.IndexFunc(changes, func(c plan.Change) bool { return c.What == "opening column 1 row 1, width" })
	if i < 0 {
		t.Fatal("the width of the first opening is not told")
	}
	want := plan.Change{
		Where: "desk", About: "opening column 1 row 1", What: "opening column 1 row 1, width", Path: "model.openings[column 1 row 1].width", Kind: plan.Size,
		Old: "464 mm", OldOther: "≈18-9/32 in", New: "470.7 mm", NewOther: "≈18-17/32 in", Why: "outside width 1500 mm → 1520 mm",
	}
	if changes[i] != want {
		t.Errorf("%+v\nwant %+v", changes[i], want)
	}
	sum := 0
	for _, g := range plan.Grouped(changes) {
		sum += g.Count
	}
	if sum != len(changes) {
		t.Errorf("%d in groups, %d in all", sum, len(changes))
	}
}

// A part keeps its key when its letter passes to another.
func TestDiffOfLetters(t *testing.T) {
	before, after := variant(t, "chest"), variant(t, "chest", edits[8])
	for _, c := range plan.Diff(before, after) {
		if strings.HasPrefix(c.Path, "model.parts[drawer front") && c.Kind == plan.Size {
			t.Errorf("a front is not touched by the back: %+v", c)
		}
	}
}

var plain = regexp.MustCompile(`\[[^\]]*\]`)

// alike says that leaves read the same: no text differs but in letters of
// parts, which are told once, and no figure by more than a micrometre.
func alike(a, b []string) bool {
	near := func(a, b string) bool {
		if letter.ReplaceAllString(a, "") == letter.ReplaceAllString(b, "") {
			return true
		}
		x, err := strconv.ParseFloat(a, 64)
		y, err2 := strconv.ParseFloat(b, 64)
		return err == nil && err2 == nil && math.Abs(x) > 0.5 && math.Abs(x-y) <= 0.001
	}
	return slices.EqualFunc(a, b, near)
}

var letter = regexp.MustCompile(`\b[A-Z]{1,2}\b`)

// within says that a path lies at or under one of the others.
func within(path string, of []string) bool {
	for _, p := range of {
		if path == p || strings.HasPrefix(path, p+".") {
			return true
		}
	}
	return false
}

func merged(a, b map[string][]string) map[string]bool {
	out := map[string]bool{}
	for k := range a {
		out[k] = true
	}
	for k := range b {
		out[k] = true
	}
	return out
}

// leaves are the values of plan.json by path without indices, sorted.
func leaves(t testing.TB, p plan.Plan) map[string][]string {
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	out := map[string][]string{}
	var visit func(string, any)
	visit = func(path string, v any) {
		switch x := v.(type) {
		case map[string]any:
			for k, sub := range x {
				visit(strings.TrimPrefix(path+"."+k, "."), sub)
			}
		case []any:
			for _, sub := range x {
				visit(path, sub)
			}
		default:
			out[path] = append(out[path], fmt.Sprint(v))
		}
	}
	visit("", v)
	for _, vs := range out {
		slices.Sort(vs)
	}
	return out
}

func BenchmarkDiff(b *testing.B) {
	before, after := variant(b, "record-cabinet"), variant(b, "record-cabinet", edits[0])
	for b.Loop() {
		plan.Diff(before, after)
	}
}
