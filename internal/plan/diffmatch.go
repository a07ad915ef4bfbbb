package plan

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"casewright/internal/build"
	"casewright/internal/cutting"
	"casewright/internal/fit"
	"casewright/internal/price"
	"casewright/internal/route"
	"casewright/internal/saw"
	"casewright/internal/yard"
)

func newDiffer(before, after Plan) *differ {
	d := &differ{plan: [2]Plan{before, after}}
	d.parts[0], d.parts[1] = map[string]partID{}, map[string]partID{}
	old, now := before.Model.Parts, after.Model.Parts
	used := map[string]int{}
	for _, p := range pairs(len(old), len(now), partKeys, func(side, i int) any { return [2][]build.Part{old, now}[side][i] }) {
		var part build.Part
		if p[1] >= 0 {
			part = now[p[1]]
		} else {
			part = old[p[0]]
		}
		key := partKeys[0](part)
		if used[key]++; used[key] > 1 {
			key = fmt.Sprintf("%s #%d", key, used[key])
		}
		if p[0] >= 0 {
			d.parts[0][old[p[0]].Letter] = partID{key, old[p[0]].Letter + " " + old[p[0]].Name}
		}
		if p[1] >= 0 {
			d.parts[1][now[p[1]].Letter] = partID{key, now[p[1]].Letter + " " + now[p[1]].Name}
		}
	}
	return d
}

// partKeys say what a part is, strictest first: all its places, then the
// first place, then role and name alone.
var partKeys = []func(any) string{
	func(v any) string {
		p := v.(build.Part)
		var at []string
		for _, q := range p.Places {
			at = append(at, q.Name)
		}
		slices.Sort(at)
		return strings.TrimSuffix(p.Name+", "+strings.Join(slices.Compact(at), " and "), ", ")
	},
	func(v any) string {
		p := v.(build.Part)
		if len(p.Places) == 0 {
			return ""
		}
		return fmt.Sprint(p.Role, "|", p.Name, "|", p.Places[0].Name)
	},
	func(v any) string { p := v.(build.Part); return fmt.Sprint(p.Role, "|", p.Name) },
}

// pairs matches n old things with m new ones: those alike by the first key, in
// order, then of the rest by the second, and so on. -1 stands for none; an
// empty key matches nothing. The pairs stand in the new order, what is gone
// after what stood before it.
func pairs(n, m int, keys []func(any) string, at func(side, i int) any) [][2]int {
	oldOf, newOf := fill(m, -1), fill(n, -1)
	for _, key := range keys {
		waiting := map[string][]int{}
		for i := range n {
			if k := key(at(0, i)); newOf[i] < 0 && k != "" {
				waiting[k] = append(waiting[k], i)
			}
		}
		for j := range m {
			if oldOf[j] >= 0 {
				continue
			}
			k := key(at(1, j))
			if w := waiting[k]; len(w) > 0 {
				oldOf[j], newOf[w[0]] = w[0], j
				waiting[k] = w[1:]
			}
		}
	}
	var out [][2]int
	for i := range n {
		if newOf[i] < 0 && i == 0 {
			out = append(out, [2]int{i, -1})
		}
	}
	for j := range m {
		out = append(out, [2]int{oldOf[j], j})
	}
	for i := 1; i < n; i++ {
		if newOf[i] >= 0 {
			continue
		}
		after := slices.IndexFunc(out, func(p [2]int) bool { return p[0] == i-1 })
		out = slices.Insert(out, after+1, [2]int{i, -1})
	}
	return out
}

func fill(n, v int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = v
	}
	return out
}

// match pairs the things of two lists.
func (d *differ) match(a, b reflect.Value) [][2]int {
	var keys []func(any) string
	keyed := func(f func(side int, v any) string) {
		keys = append(keys, func(v any) string { w := v.(sided); return f(w.side, w.v) })
	}
	for n := range looseness {
		keyed(func(side int, v any) string { return d.key(side, v, n) })
	}
	return pairs(a.Len(), b.Len(), keys, func(side, i int) any {
		return sided{side, [2]reflect.Value{a, b}[side].Index(i).Interface()}
	})
}

type sided struct {
	side int
	v    any
}

// stable is the key of a thing in a path.
func (d *differ) stable(side int, v reflect.Value) string {
	return d.key(side, v.Interface(), 0)
}

// looseness is how many keys a thing has at most.
const looseness = 3

// part is a part's key for its letter, however it is lettered.
func (d *differ) part(side int, letter string) string {
	if id, ok := d.parts[side][letter]; ok {
		return id.key
	}
	return letter
}

func (d *differ) partList(side int, letters []string) string {
	var out []string
	for _, l := range letters {
		out = append(out, d.part(side, l))
	}
	return strings.Join(out, "+")
}

// key says what a thing is, the strictest key first; "" from there on where
// there is none looser.
func (d *differ) key(side int, v any, n int) string {
	var keys []string
	switch x := v.(type) {
	case build.Part:
		keys = []string{d.part(side, x.Letter)}
	case build.Band:
		keys = []string{string(x.Edge)}
	case build.Feature:
		where := fmt.Sprint(x.Kind, " ", x.Place, " ", x.Face, x.On)
		keys = []string{where + " for " + d.plain(side, x.For), where}
	case build.KerfGroup:
		keys = []string{d.plan[side].Model.Bends[x.Bend].Name}
	case build.Place:
		keys = []string{x.Name}
	case build.Bend:
		keys = []string{d.part(side, x.Part) + ": " + x.Name, d.part(side, x.Part)}
	case build.Joint:
		a, b := d.part(side, x.A), d.part(side, x.B)
		keys = []string{fmt.Sprint(x.Kind, " of ", a, " and ", b), fmt.Sprint(a, "+", b)}
	case build.Fitting:
		keys = []string{x.Key + " " + x.Name + " for " + d.plain(side, x.For), x.Key + " for " + d.plain(side, x.For), x.Key}
	case build.ScrewUse:
		keys = []string{fmt.Sprint(d.plain(side, x.Where), ", ", x.Stack), d.plain(side, x.Where)}
	case build.Opening:
		keys = []string{x.Name}
	case yard.Panel:
		keys = []string{x.Key}
	case yard.Wood:
		keys = []string{x.Key + " " + x.Class}
	case yard.Line:
		keys = []string{fmt.Sprint(x.Sort, " ", x.Key, " ", x.What), fmt.Sprint(x.Sort, " ", x.Key)}
	case saw.Sequence:
		keys = []string{strings.TrimSpace(x.Stock + " " + d.part(side, x.Part) + kindOfWork(x))}
	case saw.Setup:
		gives := []string{}
		for _, c := range x.Cuts {
			gives = append(gives, d.gives(side, c))
		}
		about := fmt.Sprint(x.Way, ", ", x.Reference, ", ", strings.Join(slices.Compact(gives), "+"))
		keys = []string{fmt.Sprint(about, ", ", x.Setting), about}
	case saw.Cut:
		keys = []string{fmt.Sprint(d.plain(side, x.Of), " ", x.Kerf, " ", d.gives(side, x)), fmt.Sprint(x.Of, d.gives(side, x))}
	case saw.Row:
		keys = []string{x.Of}
	case fit.Opening:
		keys = []string{x.Name}
	case route.Step:
		parts := d.partList(side, x.Parts)
		keys = []string{fmt.Sprint(x.Op, ": ", d.plain(side, x.Title), ", ", parts), fmt.Sprint(x.Op, ": ", d.plain(side, x.Title)), fmt.Sprint(x.Op, ", ", parts)}
	case route.GlueUp:
		keys = []string{d.plain(side, x.Name)}
	case route.Schedule:
		keys = []string{x.Name}
	case route.Hours:
		keys = []string{string(x.Op)}
	case route.Stick:
		keys = []string{d.part(side, x.Letter)}
	case route.Tick:
		keys = []string{x.What, "tick"}
	case route.ClampLine:
		keys = []string{x.On}
	case price.Line:
		keys = []string{fmt.Sprint(x.Group, " ", x.Key, " ", x.What), fmt.Sprint(x.Group, " ", x.Key)}
	case price.Payment:
		keys = []string{x.When, "payment"}
	case price.Change:
		keys = []string{x.What}
	case price.WorkAfter:
		keys = []string{x.Operation}
	case price.GoodsAfter:
		keys = []string{x.Key + " " + x.What}
	case fit.Measure:
		keys = []string{x.Name}
	case fit.Gap:
		keys = []string{x.Edge}
	case fit.Leaf:
		keys = []string{x.Side}
	case fit.Packer:
		keys = []string{x.Side}
	case fit.Spacer:
		keys = []string{x.For}
	case fit.Screw:
		keys = []string{x.For}
	case cutting.Shortfall:
		keys = []string{fmt.Sprint(x.Item)}
	default:
		keys = []string{nameless}
	}
	switch {
	case n >= len(keys):
		return ""
	case n == 0 && keys[0] == "":
		return nameless
	}
	return keys[n]
}

// nameless is the key of a thing that is known only by its place in a list.
const nameless = "one"

// kindOfWork tells sawing a panel up from kerfing and from sizing.
func kindOfWork(s saw.Sequence) string {
	if s.Part != "" {
		return " kerfs"
	}
	if s.After {
		return " after measuring"
	}
	return ""
}

func (d *differ) gives(side int, c saw.Cut) string {
	return d.plain(side, c.Gives) + d.plain(side, c.Rest)
}

// plain puts the keys of parts in place of their letters, where a letter
// stands as a word of its own.
func (d *differ) plain(side int, text string) string {
	words := strings.Split(text, " ")
	for i, w := range words {
		bare := strings.TrimRight(w, ",;:.")
		if id, ok := d.parts[side][bare]; ok {
			words[i] = "<" + id.key + ">" + w[len(bare):]
		}
	}
	return strings.Join(words, " ")
}
