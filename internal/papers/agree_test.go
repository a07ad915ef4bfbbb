package papers

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// number is a figure as papers set it.
const number = `(\d+(?:\.\d+)?)`

// find gives what the pattern's groups catch first on a paper.
func find(paper, pattern string) []string {
	return regexp.MustCompile(pattern).FindStringSubmatch(paper)
}

// sum adds the figures that the pattern's first group catches.
func sum(paper, pattern string) float64 {
	total := 0.0
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(paper, -1) {
		total += figure(m[1])
	}
	return total
}

func figure(t string) float64 {
	v, _ := strconv.ParseFloat(t, 64)
	return v
}

// titled finds the name of a paper in its title block, the first line of it.
var titled = regexp.MustCompile(`(?m)(?:^|  )((?:Desk|Yard|Saw|Bench|Glue-up|Finish|Delivery): \S+(?: \S+)*)`)

// disagreements are the contradictions between the papers of a set, read as a
// customer or a maker would: nothing is known here but the words on them. What
// is not found is a disagreement too.
func disagreements(pages []string) []string {
	var out []string
	miss := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	raw := map[string]string{}
	for _, page := range pages {
		if m := titled.FindAllStringSubmatch(page, -1); m != nil { // the title block stands last
			raw[m[len(m)-1][1]] += page + "\f"
		}
	}
	paper := func(name string) string { return squeeze(raw[name]) }
	start := func(prefix string) string {
		var names []string
		for name := range raw {
			if strings.HasPrefix(name, prefix) {
				names = append(names, name)
			}
		}
		slices.Sort(names)
		all := ""
		for _, name := range names {
			all += raw[name]
		}
		return all
	}
	same := func(what string, a, b []string) {
		switch {
		case len(a) < 2:
			miss("%s: not found on the first paper", what)
		case len(b) < 2:
			miss("%s: not found on the second paper, %s on the first", what, a[1])
		case a[1] != b[1]:
			miss("%s: %s and %s", what, a[1], b[1])
		}
	}
	close := func(what string, a, b, within float64) {
		if a-b > within || b-a > within || a == 0 {
			miss("%s: %v and %v", what, a, b)
		}
	}
	desk, quote, note := paper("Desk: views and findings"), paper("Desk: quote"), paper("Delivery: delivery note")
	parts, calc, buy := paper("Desk: parts list"), paper("Desk: shop calculation"), paper("Yard: what to buy")
	order := paper("Desk: order of work")

	// The size over all.
	size := `((?:≈?[\d.⁄ ]+ × )+≈?[\d.⁄ ]+ (?:mm|in) \([^)]*\))`
	over := find(desk, `: `+size)
	same("size on desk and quote", over, find(quote, `high: `+size))
	same("size on desk and delivery note", over, find(note, `wide × deep × high `+size))

	// Parts: the head of the list, its lines, the saw's letters.
	pieces := 1.0
	if m := find(desk, `, (\d+) of them`); m != nil {
		pieces = figure(m[1])
	}
	heads := find(parts, number+` parts of (\d+) kinds`)
	line := `(?m)^ +([A-Z]{1,2}) +[A-Z][a-z][a-z ]*? +(\d+) `
	listed := map[string]float64{}
	count := 0.0
	for _, m := range regexp.MustCompile(line).FindAllStringSubmatch(raw["Desk: parts list"], -1) {
		listed[m[1]] = figure(m[2])
		count += figure(m[2])
	}
	if heads == nil || figure(heads[1]) != count || figure(heads[2]) != float64(len(listed)) {
		miss("parts list: head %q, lines of %v parts of %d kinds", heads, count, len(listed))
	}
	finished := map[string]bool{}
	for _, m := range regexp.MustCompile(`Finished: ([A-Z, and]+)\.`).FindAllStringSubmatch(squeeze(start("Saw: ")), -1) {
		for _, l := range regexp.MustCompile(`[A-Z]+`).FindAllString(m[1], -1) {
			finished[l] = true
		}
	}
	for l := range listed {
		if !finished[l] {
			miss("part %s is on the parts list and never finished at the saw", l)
		}
	}
	for l := range finished {
		if listed[l] == 0 {
			miss("part %s is finished at the saw and not on the parts list", l)
		}
	}

	// Layouts and board lists: as many of each letter as the parts list asks
	// for, at most; a part that is glued up is there as its strips.
	laid, boards := map[string]float64{}, map[string]float64{}
	for name, text := range raw {
		if !strings.HasPrefix(name, "Yard: panels") {
			continue
		}
		for _, page := range strings.Split(text, "\f") {
			copies := 1.0
			if m := find(page, `panels (\d+) to (\d+), all alike`); m != nil {
				copies = figure(m[2]) - figure(m[1]) + 1
			}
			for _, m := range regexp.MustCompile(`\b([A-Z]{1,2}): (\d+) × [a-z]`).FindAllStringSubmatch(page, -1) {
				laid[m[1]] += copies * figure(m[2])
			}
		}
	}
	for l, n := range laid {
		if n != listed[l]*pieces {
			miss("part %s: %v on the layouts, %v on the parts list", l, n, listed[l]*pieces)
		}
	}
	if len(laid) == 0 {
		miss("no part is on the layouts")
	}

	for _, m := range regexp.MustCompile(`\b([A-Z]{1,2}): (\d+) × [a-z]`).FindAllStringSubmatch(squeeze(start("Yard: boards")), -1) {
		boards[m[1]] += figure(m[2])
	}
	for l, n := range boards {
		if all := listed[l] * pieces; all == 0 || int(n)%int(all) != 0 {
			miss("part %s: %v on the boards, %v on the parts list", l, n, all)
		}
	}

	// Panels: desk, yard, shop calculation, and the sheets drawn.
	onDesk := sum(desk[:strings.Index(desk+" at the saw", " at the saw")], `(?:of| |,)\b(\d+) panels? of `)
	close("panels on desk and buying list", onDesk, sum(buy, ` (\d+) panels? `), 0)
	close("panels on desk and shop calculation", onDesk, sum(calc, ` (\d+) panels? `), 0)
	drawn := 0.0
	for name, text := range raw {
		if strings.HasPrefix(name, "Yard: panels") {
			drawn += float64(len(regexp.MustCompile(`, panel \d+: `).FindAllString(text, -1)))
			for _, m := range regexp.MustCompile(`, panels (\d+) to (\d+), all alike`).FindAllStringSubmatch(text, -1) {
				drawn += figure(m[2]) - figure(m[1]) + 1
			}
		}
	}
	close("panels on desk and as drawn", onDesk, drawn, 0)

	// Settings: the desk's sum, the heads at the saw, and the boxes to tick.
	settings := find(desk, number+` settings? at the saw`)
	saws := 0.0
	kerfSettings := 0.0
	for name, text := range raw {
		if n := sum(text, `(?m): (\d+) settings?\s*$`); strings.HasPrefix(name, "Saw: ") {
			saws += n
			if strings.HasPrefix(name, "Saw: Kerfs") {
				kerfSettings += n
			}
		}
	}
	if settings == nil || figure(settings[1]) != saws {
		miss("settings: desk %q, saw %v", settings, saws)
	}

	// Hours: head, table, overhead of the shop calculation, lines of work.
	hours := find(order, number+` h of work`)
	same("hours, head and table", hours, find(order, ` All `+number))
	same("hours, order of work and shop calculation", hours, find(calc, `Overhead `+number+` hours`))
	if hours != nil {
		byLine := sum(calc, number+` hours? [\d.]+ [\d.]+ (?:[\d.]+ )?setup`)
		close("hours, order of work and lines of the shop calculation", figure(hours[1]), byLine, 0.11)
	}

	// Money: net and gross on quote and shop calculation; what is paid in parts.
	net := find(calc, `price [A-Z]{3} `+number)
	same("net price", net, find(quote, ` [\d.]+ [\d.]+ ?`+`(?:|.{0,60}?)`+`(\d+\.\d\d) (?:VAT|[Ss]ales tax|One alone|To be paid|To pay)`))
	toPay := find(quote, `To pay in all (\d+\.\d\d)`)
	if toPay == nil {
		toPay = net
	} else {
		same("price to pay", toPay, find(calc, `To pay (\d+\.\d\d)`))
	}
	if toPay != nil {
		close("payments", figure(toPay[1]), sum(quote, `\d+ % (\d+\.\d\d)\b`)-sum(quote, `(?:VAT|tax),? [\d.]+ % (\d+\.\d\d)\b`), 0.001)
	}

	// Mass: the delivery note against a finding that names it.
	mass := find(note, `about (?:\d+ lb \()?(\d+) kg`)
	if mass == nil {
		miss("no mass on the delivery note")
	}
	if m := find(desk, `weighs about (?:\d+ lb \()?(\d+) kg`); m != nil {
		same("mass", mass, m)
	} else if mass != nil && figure(mass[1]) > 23 {
		miss("no finding names the mass of %s kg", mass[1])
	}

	// Screws: the table, and what is bought less the spare.
	table := paper("Bench: joints and screws")
	said := find(table, number+` screws? in`)
	if i := strings.Index(raw["Bench: joints and screws"], "Screws\n"); i < 0 {
		miss("no screw table")
	} else {
		rows := sum(raw["Bench: joints and screws"][i:], `(?m)^ +[A-Z][a-z, ]+? +(\d+) (?:no\. )?\d[\d.]* × `)
		if said == nil || figure(said[1]) != rows {
			miss("screws: head %q, lines %v", said, rows)
		}
		close("screws, table and buying list", rows, sum(buy, `screw, [^A-Z]*? \d+ packs? of \d+ (\d+)`), 0)
	}

	// Kerfs: bend card, the lines of its centres, the saw's settings.
	kerfs := 0.0
	for name, text := range raw {
		if !strings.HasPrefix(name, "Bench: bend card") {
			continue
		}
		m := find(text, `(\d+) kerfs at a pitch`)
		figures := find(text, `(?m)^ +Kerfs +(\d+) `)
		same("kerfs on the bend card", m, figures)
		if m == nil {
			continue
		}
		kerfs += figure(m[1])
	}
	if kerfs > 0 {
		// Two bends that are mirrored share each setting.
		groups := find(desk, `(\d+) kerf groups? in (\d+) kind`)
		cut := find(order, `Kerfing kerf `+number)
		if groups == nil || cut == nil {
			miss("kerfs: no groups on the desk, or none in the order of work")
		} else {
			close("kerf settings, head and lines", kerfSettings, float64(len(regexp.MustCompile(`(?m)^ +\d+ .*\ba\d+\b.*□`).FindAllString(start("Saw: Kerfs"), -1))), 0)
			close("kerfs, bend card and order of work", kerfs*figure(groups[1])/figure(groups[2])*sum(start("Saw: Kerfs"), `(\d+) × [A-Z]+, shell\. Kerf`)/pieces, figure(cut[1]), 0)
		}
	}

	// Finish: each litre on the card is needed on the buying list.
	card := paper("Finish: finish card")
	needed := sum(buy, `litres? `+number+` litres?`)
	close("finish on the card and on the buying list", sum(card, number+` l\)? for all coats`), needed, 0.06)
	return out
}

// falsified are one wrong figure each, on one paper: what is found there is
// replaced.
var falsified = []struct{ paper, find, wrong string }{
	{"Desk: quote", `high:`, "high: 9"},
	{"Delivery: delivery note", `(deep × high +)\S+`, "${1}77"},
	{"Desk: parts list", `(?m)^( +A +Shell +)\d+`, "${1}7"},
	{"Desk: parts list", `\d+ parts of`, "3 parts of"},
	{"Saw: ", `Finished: A\b`, "Finished: ZZ"},
	{"Yard: panels", `: 4 × `, ": 5 × "},
	{"Yard: boards", `: 2 × `, ": 3 × "},
	{"Yard: panels", `, panel 1: `, ", panels 1 to 2, all alike: "},
	{"Yard: what to buy", `1 panel\b`, "3 panels"},
	{"Desk: shop calculation", `1 panel\b`, "2 panels"},
	{"Saw: ", `: \d+ settings\b`, ": 99 settings"},
	{"Desk: views and findings", `\d+ settings at`, "98 settings at"},
	{"Desk: order of work", `[\d.]+ h of work`, "12.3 h of work"},
	{"Desk: order of work", `(?m)^( +All +)[\d.]+`, "${1}1.5"},
	{"Desk: shop calculation", `[\d.]+ hours`, "0.25 hours"},
	{"Desk: shop calculation", `price (EUR|USD) \d`, "price $1 9"},
	{"Desk: quote", `(To pay in all +)\d`, "${1}8"},
	{"Desk: quote", `(50 % +)\d`, "${1}7"},
	{"Delivery: delivery note", `about (\d+ lb \()?\d+ kg`, "about 99 kg"},
	{"Bench: joints and screws", `\d+ screws in`, "1 screws in"},
	{"Yard: what to buy", `(packs? of 100 +)\d+`, "${1}7"},
	{"Bench: bend card", `\d+ kerfs at`, "5 kerfs at"},
	{"Saw: Kerfs", `□`, ""},
	{"Finish: finish card", `[\d.]+ l\)? for all`, "9.9 l for all"},
	{"Yard: what to buy", `[\d.]+ litres`, "0.01 litres"},
}

// TestPapersAgree reads whole sets back from the PDF with poppler and holds
// every paper to the others; then it falsifies one figure after another and
// expects to be told.
func TestPapersAgree(t *testing.T) {
	tried := make([]bool, len(falsified))
	for _, name := range demoNames {
		pages := pdfText(t, composed(t, name, Options{Paper: "a4", Units: demo(t, name).Piece.Units.String()}))
		for _, d := range disagreements(pages) {
			t.Errorf("%s: %s", name, d)
		}
		for i, f := range falsified {
			wrong, changed := slices.Clone(pages), false
			old := regexp.MustCompile(f.find)
			for j, page := range pages {
				if strings.Contains(page, f.paper) {
					wrong[j] = old.ReplaceAllString(page, f.wrong)
					changed = changed || wrong[j] != page
				}
			}
			if !changed {
				continue
			}
			if tried[i] = true; len(disagreements(wrong)) == 0 {
				t.Errorf("%s: nothing is said of %q for %q on %s", name, f.wrong, f.find, f.paper)
			}
		}
	}
	for i, f := range falsified {
		if !tried[i] {
			t.Errorf("no paper has %q on %s", f.find, f.paper)
		}
	}
}
