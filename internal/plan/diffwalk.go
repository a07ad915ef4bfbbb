package plan

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"casewright/internal/bend"
	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/finding"
	"casewright/internal/geom"
	"casewright/internal/route"
	"casewright/internal/unit"
	"casewright/internal/yard"
)

// differ compares two plans field by field. Every exported field is looked
// at, so that a field added to the plan cannot be forgotten here.
type differ struct {
	plan  [2]Plan
	parts [2]map[string]partID // by letter
	out   []Change
}

// partID is a part known through both plans.
type partID struct {
	key   string // role, name and place
	named string // "C side"
}

// spot is where the comparison stands.
type spot struct {
	path  string // with keys
	field string // without
	about string // the thing
	what  string // what of it
	json  string // name of the field last entered
}

func (s spot) in(json, words string) spot {
	s.json = json
	s.path, s.field = dotted(s.path, json), dotted(s.field, json)
	if words != "" {
		s.what = comma(s.what, words)
	}
	return s
}

// of enters one of several things.
func (s spot) of(key, label string) spot {
	s.path += "[" + key + "]"
	if s.about == "" {
		s.about, s.what = label, ""
	} else {
		s.what = comma(s.what, label)
	}
	return s
}

func dotted(a, b string) string {
	if a == "" {
		return b
	}
	return a + "." + b
}

func comma(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}

// walk compares a and b, values of one type.
func (d *differ) walk(s spot, a, b reflect.Value) {
	if d.special(s, a, b) {
		return
	}
	switch a.Kind() {
	case reflect.Pointer:
		switch {
		case a.IsNil() && b.IsNil():
		case a.IsNil() || b.IsNil():
			d.comes(s, a, b)
		default:
			d.walk(s, a.Elem(), b.Elem())
		}
	case reflect.Struct:
		if isSingle(a.Type()) {
			d.leaf(s, a, b)
			return
		}
		d.fields(s, a, b)
	case reflect.Slice, reflect.Array:
		if isSingle(a.Type().Elem()) || a.Kind() == reflect.Array {
			d.leaf(s, a, b)
			return
		}
		d.list(s, a, b)
	default:
		d.leaf(s, a, b)
	}
}

// fields compares what a struct holds, embedded structs as if written out.
func (d *differ) fields(s spot, a, b reflect.Value) {
	t := a.Type()
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case !f.IsExported() || name == "-":
			continue
		case name == "" && f.Anonymous:
			d.fields(s, a.Field(i), b.Field(i))
			continue
		case name == "":
			name = f.Name
		}
		sub := s.in(name, wordsOf(t, name))
		if _, skip := derived[sub.field]; skip {
			continue
		}
		d.walk(sub, a.Field(i), b.Field(i))
	}
	switch x := a.Interface().(type) {
	case yard.Panel:
		y := b.Interface().(yard.Panel)
		d.layouts(s.in("result", ""), layoutsOf(x), layoutsOf(y))
	case yard.Wood:
		y := b.Interface().(yard.Wood)
		d.layouts(s.in("result", ""), woodLayouts(x), woodLayouts(y))
	case route.Step:
		d.when(s, x, b.Interface().(route.Step))
	case build.Part:
		if y := b.Interface().(build.Part); x.Letter != y.Letter {
			d.add(s.in("letter", "letter"), Text, x.Letter, y.Letter)
		}
	}
}

// special compares types that are one thing to the maker, however many
// figures they hold.
func (d *differ) special(s spot, a, b reflect.Value) bool {
	switch x := a.Interface().(type) {
	case build.Dim:
		d.dim(s, x, b.Interface().(build.Dim))
	case geom.Outline:
		if y := b.Interface().(geom.Outline); !slices.Equal(x, y) {
			d.add(s, Size, d.vertices(0, x), d.vertices(1, y))
		}
	case geom.Path:
		if y := b.Interface().(geom.Path); !slices.Equal(x, y) {
			d.add(s, Size, d.vertices(0, x), d.vertices(1, y))
		}
	case geom.Frame:
		if y := b.Interface().(geom.Frame); x != y {
			d.add(s, Size, d.frame(0, x), d.frame(1, y))
		}
	case bend.Result:
		y := b.Interface().(bend.Result)
		d.fields(s, reflect.ValueOf(x.Report()), reflect.ValueOf(y.Report()))
	case []bend.Design:
		if y := b.Interface().([]bend.Design); !reflect.DeepEqual(x, y) {
			d.add(s, Text, d.designs(0, x), d.designs(1, y))
		}
	case []finding.Finding:
		d.findings(s, x, b.Interface().([]finding.Finding))
	case cutting.Change:
		if y := b.Interface().(cutting.Change); !reflect.DeepEqual(x, y) {
			d.add(s, Size, d.change(0, x), d.change(1, y))
		}
	default:
		return false
	}
	return true
}

// dim compares a size, and its sum where the size stands.
func (d *differ) dim(s spot, a, b build.Dim) {
	if a.Size == b.Size && slices.Equal(a.Why, b.Why) {
		return
	}
	if a.Size == b.Size {
		d.add(s.in("why", "its sum"), Text, a.Text(d.plan[0].Show), b.Text(d.plan[1].Show))
		return
	}
	n := len(d.out)
	d.leaf(s, reflect.ValueOf(a.Size), reflect.ValueOf(b.Size))
	for i := n; i < len(d.out); i++ {
		d.out[i].Why = d.because(a, b)
	}
}

// because names the steps of a sum that differ.
func (d *differ) because(a, b build.Dim) string {
	var said []string
	for _, y := range b.Why {
		i := slices.IndexFunc(a.Why, func(x build.Term) bool { return x.What == y.What && (x.Over > 0) == (y.Over > 0) })
		if i < 0 {
			if y.Over == 0 {
				said = append(said, fmt.Sprintf("%s %s comes in", y.What, d.plan[1].Show(y.Each)))
			}
			continue
		}
		switch x := a.Why[i]; {
		case x.Over != y.Over:
			said = append(said, fmt.Sprintf("%d %s → %d", x.Over, y.What, y.Over))
		case x.Each != y.Each:
			said = append(said, fmt.Sprintf("%s %s → %s", y.What, d.plan[0].Show(x.Each), d.plan[1].Show(y.Each)))
		case x.Times != y.Times:
			said = append(said, fmt.Sprintf("%s, %d times → %d times", y.What, abs(x.Times), abs(y.Times)))
		}
	}
	return strings.Join(said, "; ")
}

func abs(n int) int { return max(n, -n) }

// leaf compares single values and lists of them.
func (d *differ) leaf(s spot, a, b reflect.Value) {
	if reflect.DeepEqual(a.Interface(), b.Interface()) {
		return
	}
	f := formOf(a.Type(), s.json)
	old, oldOther := d.text(0, f, a)
	now, nowOther := d.text(1, f, b)
	if old == now { // finer than it is shown
		f.exact = true
		old, oldOther = d.text(0, f, a)
		now, nowOther = d.text(1, f, b)
	}
	if old == now && oldOther == nowOther {
		return // nil and empty, or less than a micrometre
	}
	if f.kind == Text && d.plain(0, old) == d.plain(1, now) {
		return // only letters passed on, which is said with each part
	}
	d.add(s, f.kind, old, now)
	last := &d.out[len(d.out)-1]
	last.OldOther, last.NewOther = oldOther, nowOther
}

// add notes a change.
func (d *differ) add(s spot, k Kind, old, now string) {
	about := s.about
	if about == "" {
		about = wholeOf(s.field)
	}
	where := placeOf(s.field)
	if k == Size && strings.HasPrefix(s.field, "setups") {
		k = Setting
	}
	d.out = append(d.out, Change{Where: where, About: about, What: comma(s.about, s.what), Path: s.path, Kind: k, Old: old, New: now})
}

// wholeOf names what a figure belongs to that is of no single thing.
func wholeOf(field string) string {
	for _, w := range []struct{ path, name string }{{"price.one", "price of one made alone"}, {"price", "the price"}, {"route.calendar", "the calendar"}} {
		if field == w.path || strings.HasPrefix(field, w.path+".") {
			return w.name
		}
	}
	return "the piece"
}

// comes says what has come or gone; the other of the two is a nil pointer, or
// no value.
func (d *differ) comes(s spot, a, b reflect.Value) {
	old, now := "", ""
	if a.IsValid() && !(a.Kind() == reflect.Pointer && a.IsNil()) {
		old = d.describe(0, a)
	}
	if b.IsValid() && !(b.Kind() == reflect.Pointer && b.IsNil()) {
		now = d.describe(1, b)
	}
	d.add(s, kindOf(s.field), old, now)
}

// kindOf is what sort of thing comes or goes.
func kindOf(field string) Kind {
	for _, k := range []struct {
		path string
		kind Kind
	}{
		{"model.parts", Count},
		{"model.openings", Count},
		{"model.hardware", Count},
		{"model.screws", Count},
		{"setups", Setting},
		{"buying", Money},
		{"price", Money},
		{"route", Time},
	} {
		if field == k.path || strings.HasPrefix(field, k.path+".") {
			return k.kind
		}
	}
	return Text
}

// list compares two lists of things, each with the one that is the same.
func (d *differ) list(s spot, a, b reflect.Value) {
	if reflect.DeepEqual(a.Interface(), b.Interface()) && !d.dated(s) {
		return
	}
	pairs := d.match(a, b)
	used := map[string]int{}
	for _, p := range pairs {
		side, v := 1, reflect.Value{}
		switch {
		case p[1] >= 0:
			v = b.Index(p[1])
		default:
			side, v = 0, a.Index(p[0])
		}
		key := d.stable(side, v)
		if used[key]++; used[key] > 1 {
			key = fmt.Sprintf("%s #%d", key, used[key])
		}
		sub := s.of(key, d.label(side, v))
		switch {
		case p[0] < 0:
			d.comes(sub, reflect.Value{}, b.Index(p[1]))
		case p[1] < 0:
			d.comes(sub, a.Index(p[0]), reflect.Value{})
		default:
			d.walk(sub, a.Index(p[0]), b.Index(p[1]))
		}
	}
	d.order(s, a, b, pairs)
}

// dated says that a list holds times, which read differently when the first
// day is another.
func (d *differ) dated(s spot) bool {
	return strings.HasPrefix(s.field, "route") && d.plan[0].Route.Calendar.On(0) != d.plan[1].Route.Calendar.On(0)
}

// order says when things that stay come in another order.
func (d *differ) order(s spot, a, b reflect.Value, pairs [][2]int) {
	var stay [][2]int
	for _, p := range pairs {
		if p[0] >= 0 && p[1] >= 0 {
			stay = append(stay, p)
		}
	}
	byNew := slices.Clone(stay)
	slices.SortFunc(stay, func(p, q [2]int) int { return p[0] - q[0] })
	slices.SortFunc(byNew, func(p, q [2]int) int { return p[1] - q[1] })
	first, last := 0, len(stay)
	for first < last && stay[first] == byNew[first] {
		first++
	}
	for last > first && stay[last-1] == byNew[last-1] {
		last--
	}
	if first == last {
		return
	}
	names := func(side int, of reflect.Value, ps [][2]int) string {
		var out []string
		for _, p := range ps[first:last] {
			out = append(out, d.label(side, of.Index(p[side])))
		}
		return strings.Join(out, "; ")
	}
	s.what = comma(s.what, "order of "+listWords(s.json))
	d.add(s, Text, names(0, a, stay), names(1, b, byNew))
}

// when compares the times of a step as one thing.
func (d *differ) when(s spot, a, b route.Step) {
	old, now := d.times(0, a), d.times(1, b)
	if old != now {
		d.add(s.in("start", "when"), Time, old, now)
	}
}

func (d *differ) times(side int, s route.Step) string {
	at := func(m route.Moment) string { return d.plan[side].Route.Calendar.On(m) + " " + m.Clock() }
	out := at(s.Start) + " to " + at(s.End)
	if s.Ready != s.End {
		out += ", ready " + at(s.Ready)
	}
	return out
}

// show prints a length in the units of a side's piece, and in the other: as
// papers do, or exact, to a micrometre, which no tool of the trade tells.
func (d *differ) show(side int, l unit.Length, exact bool) (own, other string) {
	p := d.plan[side]
	if exact {
		mm, in := l.Round(unit.Micrometre).Exact(unit.Metric), number(math.Round(l.In()*1e4)/1e4, true)+" in"
		if p.Piece.Units == unit.Imperial {
			return in, mm
		}
		return mm, in
	}
	return p.Show(l), l.Format(p.Piece.Units.Other().Following())
}
