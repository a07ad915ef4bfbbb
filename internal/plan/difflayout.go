package plan

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"casewright/internal/cutting"
	"casewright/internal/finding"
	"casewright/internal/yard"
)

// laid is how parts lie on panels or boards.
type laid struct {
	what    string // panel or board
	job     cutting.Job
	letters []string
	result  cutting.Result
}

func layoutsOf(p yard.Panel) laid { return laid{"panel", p.Job, p.Letters, p.Result} }

func woodLayouts(w yard.Wood) laid {
	l := laid{what: "board", letters: w.Letters}
	if w.Job != nil {
		l.job = *w.Job
	}
	if w.Result != nil {
		l.result = *w.Result
	}
	return l
}

// layouts compares panel by panel, and says which part lies on another.
func (d *differ) layouts(s spot, a, b laid) {
	both := [2]laid{a, b}
	var on [2]map[string][]string // panels of a part
	var order []string
	named := map[string]string{}
	for side, l := range both {
		on[side] = map[string][]string{}
		for _, p := range l.panels() {
			for _, item := range p.items() {
				letter := l.letters[item.index]
				key := d.part(side, letter)
				if named[key] == "" {
					order = append(order, key)
				}
				named[key] = letter
				if id, ok := d.parts[side][letter]; ok {
					named[key] = id.named
				}
				on[side][key] = append(on[side][key], fmt.Sprintf("%d on %s", item.count, p.name))
			}
		}
	}
	for _, key := range order {
		old, now := strings.Join(on[0][key], ", "), strings.Join(on[1][key], ", ")
		if old != now {
			d.add(s.in("Layouts", "part "+named[key]).of(key, ""), Text, old, now)
		}
	}
	pa, pb := a.panels(), b.panels()
	for i := range max(len(pa), len(pb)) {
		old, now, name := "", "", ""
		if i < len(pa) {
			old, name = d.layout(0, a, pa[i]), pa[i].name
		}
		if i < len(pb) {
			now, name = d.layout(1, b, pb[i]), pb[i].name
		}
		if old != now {
			d.add(s.in("Layouts", name+", layout").of(fmt.Sprint(i+1), ""), Size, old, now)
		}
	}
	d.short(s, both)
	if a.result.Proven != b.result.Proven || a.result.Why != b.result.Why {
		d.add(s.in("Why", "how good the layout is"), Text, proven(a), proven(b))
	}
}

func proven(l laid) string {
	why := l.result.Because(l.what)
	if l.result.Proven {
		return comma("no better layout is possible", why)
	}
	return comma("best that was found", why)
}

// onePanel is a layout with the numbers of its panels.
type onePanel struct {
	name   string
	layout cutting.Layout
}

type item struct{ index, count int }

func (l laid) panels() []onePanel {
	var out []onePanel
	n := 1
	for _, x := range l.result.Layouts {
		name := fmt.Sprintf("%s %d", l.what, n)
		if x.Copies > 1 {
			name = fmt.Sprintf("%ss %d to %d", l.what, n, n+x.Copies-1)
		}
		n += x.Copies
		out = append(out, onePanel{name, x})
	}
	return out
}

// items are the parts on a panel, with how many on all panels cut alike.
func (p onePanel) items() []item {
	var out []item
	for _, x := range p.layout.Parts {
		i := slices.IndexFunc(out, func(it item) bool { return it.index == x.Item })
		if i < 0 {
			out = append(out, item{x.Item, 0})
			i = len(out) - 1
		}
		out[i].count += p.layout.Copies
	}
	return out
}

// layout prints the panel, its parts where they lie and what is left. How it
// is cut up is compared with the settings at the saw.
func (d *differ) layout(side int, l laid, p onePanel) string {
	sheet := l.job.Sheets[p.layout.Sheet]
	size := func(w, h, x, y any) string {
		var t []string
		for _, v := range []any{w, h, x, y} {
			own, _ := d.text(side, form{exact: true}, reflect.ValueOf(v))
			t = append(t, own)
		}
		return fmt.Sprintf("%s × %s at %s / %s", t[0], t[1], t[2], t[3])
	}
	var out []string
	for _, x := range p.layout.Parts {
		key := l.letters[x.Item]
		if id, ok := d.parts[side][key]; ok {
			key = strings.SplitN(id.named, " ", 2)[1]
		}
		text := key + " " + size(x.W, x.H, x.X, x.Y)
		if x.Panel > 0 {
			text += fmt.Sprintf(", strip %d of panel %d", x.Strip, x.Panel)
		}
		out = append(out, text)
	}
	for _, x := range p.layout.Offcuts {
		out = append(out, "offcut "+size(x.W, x.H, x.X, x.Y))
	}
	return fmt.Sprintf("%d of %s: %s", p.layout.Copies, d.sizes(side, sheet.W, sheet.H), strings.Join(out, "; "))
}

// short compares the parts that find no place.
func (d *differ) short(s spot, both [2]laid) {
	var said [2]map[string]string
	var order []string
	for side, l := range both {
		said[side] = map[string]string{}
		for _, x := range l.result.Short {
			key := l.letters[x.Item]
			if id, ok := d.parts[side][key]; ok {
				key = id.key
			}
			if !slices.Contains(order, key) {
				order = append(order, key)
			}
			text := fmt.Sprintf("%d without a place", x.Count)
			if x.Over > 0 {
				text += fmt.Sprintf(", %s too long %s", d.sizes(side, x.Over), x.Axis)
			}
			if x.Join.Pieces > 0 {
				text += fmt.Sprintf("; fits in %d pieces of %s", x.Join.Pieces, d.sizes(side, x.Join.Length))
			}
			if x.Least != nil {
				text += "; fits " + d.change(side, *x.Least)
			}
			said[side][key] = text
		}
	}
	for _, key := range order {
		if said[0][key] != said[1][key] {
			d.add(s.in("Short", key).of(key, ""), Count, said[0][key], said[1][key])
		}
	}
}

// findings says which have come, gone or say something else.
func (d *differ) findings(s spot, a, b []finding.Finding) {
	both := [2][]finding.Finding{a, b}
	keys := []func(any) string{
		func(v any) string {
			w := v.(sided)
			return w.v.(finding.Finding).ID + "|" + d.plain(w.side, w.v.(finding.Finding).Place)
		},
		func(v any) string { w := v.(sided); return w.v.(finding.Finding).ID },
	}
	used := map[string]int{}
	for _, p := range pairs(len(a), len(b), keys, func(side, i int) any { return sided{side, both[side][i]} }) {
		var f, g finding.Finding
		at := finding.Finding{}
		if p[0] >= 0 {
			f = a[p[0]]
			at = f
		}
		if p[1] >= 0 {
			g = b[p[1]]
			at = g
		}
		if d.plain(0, wholeFinding(f)) == d.plain(1, wholeFinding(g)) && f.Level == g.Level {
			continue // alike, or only letters passed on
		}
		key := at.ID + " " + at.Place
		if used[key]++; used[key] > 1 {
			key = fmt.Sprintf("%s #%d", key, used[key])
		}
		old, now := f.Says, g.Says
		if old != "" && now != "" && (old == now || f.Level != g.Level) {
			old, now = wholeFinding(f), wholeFinding(g)
		} else {
			old, now = levelled(f), levelled(g)
		}
		d.add(s.of(key, at.Place), Found, old, now)
	}
}

func levelled(f finding.Finding) string {
	if f.Says == "" {
		return ""
	}
	return f.Level.String() + ": " + f.Says
}

func wholeFinding(f finding.Finding) string {
	out := levelled(f)
	for _, more := range []string{f.Place, f.Figure, f.Limit, f.Advice, f.Source} {
		if more != "" {
			out += " " + more
		}
	}
	return out
}
