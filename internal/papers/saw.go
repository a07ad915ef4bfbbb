package papers

import (
	"fmt"
	"strings"

	"casewright/internal/build"
	"casewright/internal/drawing"
	"casewright/internal/saw"
	"casewright/internal/unit"
)

// saw is what is wanted at the saw: every setting in order, in type that is
// read at arm's length.
func (s *set) saw() {
	for _, q := range s.p.Setups {
		if len(q.Setups) == 0 {
			continue
		}
		if q.Part != "" {
			s.kerfing(q)
		} else {
			s.settings(q)
		}
	}
}

// operations of a sequence, for its cautions.
func (s *set) operations(q saw.Sequence) []operation {
	var out []operation
	if q.Part != "" {
		out = append(out, kerfing)
	}
	switch q.Kind {
	case "table":
		out = append(out, tableSaw)
	case "track":
		out = append(out, trackSaw)
	default:
		out = append(out, handGuide)
	}
	for _, st := range q.Setups {
		if st.Way == saw.Stop {
			out = append(out, crosscuts)
			break
		}
	}
	if _, panel := s.p.Shop.Panels[q.Stock]; panel && q.Part == "" {
		out = append(out, sheets)
	}
	if _, solid := s.p.Shop.Woods[q.Stock]; solid {
		out = append(out, milling, wideStocks)
	}
	return out
}

// machineLine says what saw the sequence is for.
func (s *set) machineLine(q saw.Sequence) string {
	kind := map[string]string{"table": "table saw", "track": "track saw on its rail", "hand-guide": "hand-held saw against a guide"}[q.Kind]
	w, ok := s.p.Shop.Saws[q.Saw]
	if !ok {
		return capital(pick(kind, q.Kind))
	}
	kerf := w.Kerf
	if k := s.p.Record.Kerfs[q.Saw]; k > 0 {
		kerf = k
	}
	name := words(q.Saw)
	if strings.Contains(kind, name) {
		name = kind
	} else {
		name += ", " + kind
	}
	return capital(name) + ", kerf " + s.fine(kerf) + ". Measure the kerf first; the settings rest on it."
}

// Measures of the saw's papers.
const (
	sawSetting = 9.0 // type of the setting
	sawOther   = 4.4 // of the other unit's
	sawWords   = 3.9
	sawSmall   = 3.2
	sawNumber  = 15.0 // column of the number
	sawTick    = 11.0 // column of the box to tick
)

// settings sets a sequence, one block for each setting.
func (s *set) settings(q saw.Sequence) {
	head := fmt.Sprintf("%s: %s", capital(q.Title), count(len(q.Setups), "setting"))
	f := s.flow(Saw, q.Title, false, head)
	f.text(s.machineLine(q), sawWords, drawing.Regular)
	if keep := oneKeep(q); keep != "" {
		f.text("The part lies "+keep+".", sawWords, drawing.Regular)
	}
	ops := s.operations(q)
	h := cautionRoom(f.r.W, ops...)
	s.cautions(f.page.sheet, f.foot(h), ops...)
	for _, st := range q.Setups {
		b := s.block(q, st, f.r.W)
		f.need(b.height)
		rest := b.draw(f.page.sheet, f.r)
		f.took(rest)
		f.r.Y, f.r.H = f.r.Y-gap, f.r.H+gap
	}
	f.r.Y, f.r.H = f.r.Y+gap, f.r.H-gap
	s.account(f, q)
}

// oneKeep is the side of the kerf that is kept, when it is the same in every
// setting; then it is said once.
func oneKeep(q saw.Sequence) string {
	for _, st := range q.Setups {
		if st.Keep != q.Setups[0].Keep {
			return ""
		}
	}
	return q.Setups[0].Keep
}

// sawBlock is one setting as it stands on the paper.
type sawBlock struct {
	n              int
	setting, other string
	lines          []sawLine
	height, width  float64 // width of the words
	figures        float64 // width of the figures
}

type sawLine struct {
	text string
	size float64
	bold bool
}

func (l sawLine) weight() drawing.Weight {
	if l.bold {
		return drawing.Bold
	}
	return drawing.Regular
}

func (s *set) block(q saw.Sequence, st saw.Setup, width float64) sawBlock {
	setting := st.Setting
	if st.Way == saw.GuideMark {
		setting = st.Guide
	}
	b := sawBlock{n: st.N, setting: s.size(setting), other: strings.Trim(s.other(setting), "()") + " " + s.draw.Units.Other().String(), figures: 54}
	b.width = width - sawNumber - b.figures - sawTick
	add := func(size float64, bold bool, t string) {
		if t != "" {
			b.lines = append(b.lines, sawLine{t, size, bold})
		}
	}
	way := capital(string(st.Way))
	if st.Way == saw.GuideMark {
		way = "Edge of the guide"
	}
	add(sawWords, true, fmt.Sprintf("%s, from the %s", way, st.Reference))
	if st.Way == saw.GuideMark {
		add(sawSmall, false, fmt.Sprintf("The cut itself lies at %s.", s.dual(st.Setting)))
	}
	if st.Depth > 0 {
		add(sawSmall, true, "Depth "+s.fine(st.Depth)+", not through.")
	}
	for _, t := range s.cutTexts(st.Cuts) {
		add(sawWords, false, t)
	}
	if oneKeep(q) == "" {
		add(sawSmall, false, "The part lies "+st.Keep+".")
	}
	if len(st.Parts) > 0 {
		add(sawSmall, true, "Finished: "+list(st.Parts)+".")
	}
	add(sawSmall, false, "Check: "+s.dual(st.Check)+", "+st.CheckWhat+".")
	if st.Turn != "" {
		add(sawSmall, true, capital(st.Turn)+".")
	}
	if st.Note != "" {
		add(sawSmall, true, capital(strings.TrimSuffix(st.Note, "."))+".")
	}
	h := 0.0
	for _, l := range b.lines {
		h += blockHeight(l.text, l.size, b.width, l.weight()) + 0.5
	}
	b.height = max(h, sawSetting+sawOther+4) + 4
	return b
}

// cutTexts are lines such as "Panel 1: strip 1.1, leaves 355.6 mm"; pieces
// that are cut alike share a line.
func (s *set) cutTexts(cuts []saw.Cut) []string {
	var out []string
	of := map[string][]string{}
	var order []string
	for _, c := range cuts {
		if c.Gives == c.Of || c.Gives == "" { // a part brought to size
			out = append(out, times(c.Times)+s.named(c.Of))
			continue
		}
		t := s.cutText(c)
		if of[t] == nil {
			order = append(order, t)
		}
		of[t] = append(of[t], c.Of)
	}
	for _, t := range order {
		out = append(out, capital(together(of[t]))+": "+t)
	}
	return out
}

func times(n int) string {
	if n > 1 {
		return fmt.Sprintf("%d × ", n)
	}
	return ""
}

// cutText says what comes off and what is left.
func (s *set) cutText(c saw.Cut) string {
	t := times(c.Times) + c.Gives
	if p, ok := s.part(c.Gives); ok {
		t += ", " + p.Name
	}
	rest := c.Rest
	if rest == "offcut" {
		rest = "worth keeping"
	}
	switch {
	case rest != "" && c.Left > 0:
		return t + "; the rest of " + s.size(c.Left) + " is " + rest
	case c.Left > 0:
		return t + ", leaves " + s.size(c.Left)
	}
	return t
}

// together names several pieces: panels 1, 2 and 3.
func together(of []string) string {
	if len(of) == 1 {
		return of[0]
	}
	kind, _, _ := strings.Cut(of[0], " ")
	var numbers []string
	for _, o := range of {
		k, n, ok := strings.Cut(o, " ")
		if !ok || k != kind {
			return list(of)
		}
		numbers = append(numbers, n)
	}
	return strings.TrimSuffix(kind, "s") + "s " + list(numbers)
}

func (b sawBlock) draw(sheet *drawing.Sheet, r drawing.Rect) drawing.Rect {
	c := drawing.Pt{X: r.X + 6, Y: r.Y + 8}
	sheet.Add(drawing.Circle(drawing.PenMedium, c, 5),
		drawing.Text{At: c.Add(0, 1.9), S: fmt.Sprint(b.n), Size: 5.2, Weight: drawing.Bold, Anchor: drawing.Middle, Plain: true})
	size := sawSetting
	setting := drawing.Text{S: b.setting, Size: size, Weight: drawing.Bold}
	for setting.Width() > b.figures-4 && setting.Size > 5 {
		setting.Size -= 0.25
	}
	setting.At = drawing.Pt{X: r.X + sawNumber, Y: r.Y + 2 + sawSetting*0.8}
	sheet.Add(setting, drawing.Text{At: drawing.Pt{X: r.X + sawNumber, Y: r.Y + 3.5 + sawSetting*0.8 + sawOther}, S: b.other, Size: sawOther, Grey: 0.3})
	in := drawing.Rect{X: r.X + sawNumber + b.figures, Y: r.Y + 1.8, W: b.width, H: b.height}
	for _, l := range b.lines {
		in = sheet.TextBlock(in, l.text, l.size, l.weight())
		in.Y += 0.5
	}
	sheet.Add(drawing.Box(drawing.PenMedium, drawing.Rect{X: r.Right() - 7.5, Y: r.Y + 4, W: 7, H: 7}))
	y := r.Y + b.height
	sheet.Add(drawing.Segment(drawing.PenThin, drawing.Pt{X: r.X, Y: y}, drawing.Pt{X: r.Right(), Y: y}))
	return drawing.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}
}

// account proves that nothing is lost: parts, kerfs, trims, offcuts and waste
// make up every panel and strip.
func (s *set) account(f *flow, q saw.Sequence) {
	if len(q.Account) == 0 {
		return
	}
	columns := []drawing.Column{{Head: "Of", Share: 40}}
	for _, h := range []string{"Parts, strips", "Kerfs", "Trims", "Offcut", "Waste", "Sum", "Whole"} {
		columns = append(columns, drawing.Column{Head: h, Share: 20, Right: true})
	}
	columns[7].Bold = true
	var rows [][]string
	for _, a := range q.Account {
		row := []string{capital(a.Of)}
		for _, l := range []unit.Length{a.Parts, a.Kerfs, a.Trims, a.Offcut, a.Waste} {
			row = append(row, blank(s.fig(l)))
		}
		rows = append(rows, append(row, s.fig(a.Sum()), s.fig(a.Whole)))
	}
	st := drawing.TableStyle{Size: 2.8}
	f.sub("What becomes of every panel and strip, in "+s.draw.Units.String(), min(drawing.TableHeight(f.r.W, columns, rows, st), 150))
	f.table(columns, rows, st)
}

// kerfing sets the kerfs of one part as a table of settings.
func (s *set) kerfing(q saw.Sequence) {
	p, _ := s.part(q.Part)
	head := fmt.Sprintf("%s: %s", q.Title, count(len(q.Setups), "setting"))
	f := s.flow(Saw, q.Title, false, head)
	if t := s.machineLine(q); t != "" {
		f.text(t, sawWords, drawing.Regular)
	}
	f.text(s.kerfLine(p, q), 4.2, drawing.Bold)
	ops := s.operations(q)
	s.cautions(f.page.sheet, f.foot(cautionRoom(f.r.W, ops...)), ops...)
	f.text(s.sameLine(q), sawSmall, drawing.Regular)
	short, legend := s.kerfNames(p)
	f.text(legend, sawSmall, drawing.Bold)
	turned := false
	for _, st := range q.Setups {
		turned = turned || len(st.Cuts) > 1
	}
	columns := []drawing.Column{
		{Head: "", Share: 9, Bold: true},
		{Head: "Setting, " + s.draw.Units.String(), Share: 30, Right: true, Bold: true},
		{Head: s.draw.Units.Other().String(), Share: 28, Light: true},
		{Head: "From", Share: 18},
		{Head: "Kerf", Share: 18, Bold: true},
		{Head: "Centre at", Share: 26, Right: true},
	}
	if turned {
		columns = append(columns, drawing.Column{Head: "and turned", Share: 26, Right: true, Bold: true}, drawing.Column{Head: "Centre at", Share: 26, Right: true})
	}
	columns = append(columns, drawing.Column{Head: "Done", Share: 15, Right: true})
	var rows [][]string
	for _, st := range q.Setups {
		master, other := s.draw.Size(st.Setting)
		row := []string{fmt.Sprint(st.N), master, strings.Trim(other, "()"), strings.TrimSuffix(st.Reference, " end")}
		for i := range 2 {
			switch {
			case i < len(st.Cuts):
				row = append(row, short.Replace(st.Cuts[i].Kerf), s.fig(st.Cuts[i].Centre))
			case turned:
				row = append(row, "", "")
			}
		}
		rows = append(rows, append(row, "□"))
	}
	f.table(columns, rows, drawing.TableStyle{Size: 4.4, Rows: true})
	s.account(f, q)
}

// kerfNames shortens the names of a part's bends to small letters, and says
// which is which.
func (s *set) kerfNames(p build.Part) (*strings.Replacer, string) {
	var pairs, says []string
	for i, g := range p.Kerfs {
		name, short := s.p.Model.Bends[g.Bend].Name, string(rune('a'+i%26))
		pairs = append(pairs, name+" ", short)
		says = append(says, short+" is "+name)
	}
	if len(says) == 0 {
		return strings.NewReplacer(), ""
	}
	return strings.NewReplacer(pairs...), "Kerfs are counted from the near end: " + strings.Join(says, ", ") + "."
}

// kerfLine gives blade, depth and skin.
func (s *set) kerfLine(p build.Part, q saw.Sequence) string {
	if len(p.Kerfs) == 0 {
		return fmt.Sprintf("Depth %s.", s.fine(q.Setups[0].Depth))
	}
	r := s.p.Model.Bends[p.Kerfs[0].Bend].Design
	t := fmt.Sprintf("%d × %s. Kerf %s, depth %s, skin left %s.", p.Count*s.pieces(), s.named(p.Letter), s.fine(r.Result.Spec.Kerf), s.fine(r.Result.Depth), s.fine(r.Result.Spec.Skin))
	if r.Blade != "" {
		t += " Blade: " + r.Blade + "."
	}
	return t
}

// sameLine says once what holds for every line of the table.
func (s *set) sameLine(q saw.Sequence) string {
	st := q.Setups[0]
	t := fmt.Sprintf("Set the depth on a scrap of the same panel and measure the skin. Face down: the show face. Settings are to the near side of the kerf, each by itself from its end (%s); never step from kerf to kerf. Cut the largest first.", st.Way)
	notes := map[string]bool{}
	for _, st := range q.Setups {
		if st.Note != "" && !notes[st.Note] {
			notes[st.Note] = true
			t += " " + capital(st.Note) + "."
		}
	}
	for _, st := range q.Setups {
		if st.Turn != "" {
			t += " Where two kerfs are named: " + strings.TrimPrefix(st.Turn, "then ") + "."
			break
		}
	}
	return t
}
