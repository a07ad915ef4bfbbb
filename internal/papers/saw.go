package papers

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/route"
	"casewright/internal/saw"
	"casewright/internal/shop"
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
	s.accounts()
}

// operations of a sequence, for its cautions.
func (s *set) operations(q saw.Sequence) []route.Work {
	var out []route.Work
	if q.Part != "" {
		out = append(out, route.Kerfing)
	}
	switch q.Kind {
	case "table":
		out = append(out, route.TableSaw)
	case "track":
		out = append(out, route.TrackSaw)
	default:
		out = append(out, route.HandGuide)
	}
	for _, st := range q.Setups {
		if st.Way == saw.Stop {
			out = append(out, route.Crosscuts)
			break
		}
	}
	if _, panel := s.p.Shop.Panels[q.Stock]; panel && q.Part == "" && !q.Sizes {
		out = append(out, route.Sheets)
	}
	if _, solid := s.p.Shop.Woods[q.Stock]; solid {
		out = append(out, route.Milling, route.SolidWood)
	}
	return out
}

// machineLine says what saw the sequence is for.
func (s *set) machineLine(q saw.Sequence) string {
	kind := map[string]string{"table": "table saw", "track": "track saw on its rail", "hand-guide": "hand-held saw against a guide"}[q.Kind]
	w, ok := s.p.Shop.Saws[q.Saw]
	if !ok {
		return document.Capital(pick(kind, q.Kind))
	}
	kerf := w.Kerf
	if k := s.p.Record.Kerfs[q.Saw]; k > 0 {
		kerf = k
	}
	name := shop.Words(q.Saw)
	if strings.Contains(kind, name) {
		name = kind
	} else {
		name += ", " + kind
	}
	return document.Capital(name) + ", kerf " + s.fine(kerf) + ". Measure the kerf first; the settings rest on it."
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

// afterMeasuring is said of what is sawn once the openings are measured.
const afterMeasuring = "Wait until the openings are measured. The settings here are for what was planned, or for what the record has as measured: where the fitting card asks for another size, that one holds."

// settings sets a sequence, one block for each setting.
func (s *set) settings(q saw.Sequence) {
	head := fmt.Sprintf("%s: %s", document.Capital(q.Title), document.Count(len(q.Setups), "setting"))
	f := s.flow(Saw, q.Title, false, head)
	f.text(s.machineLine(q), sawWords, drawing.Regular)
	if q.After {
		f.text(afterMeasuring, sawWords, drawing.Bold)
	}
	if keep := oneKeep(q); keep != "" {
		f.text("The part lies "+keep+".", sawWords, drawing.Regular)
	}
	said := map[string]bool{}
	for _, st := range q.Setups {
		if at := sameNote(q, st.Note); len(at) > 1 && !said[st.Note] {
			said[st.Note] = true
			f.text("Settings "+list(at)+": "+strings.TrimSuffix(st.Note, ".")+".", sawSmall, drawing.Bold)
		}
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

// sameNote is which settings a note is for; one that is for several is said
// once, above them.
func sameNote(q saw.Sequence, note string) []string {
	var at []string
	for _, st := range q.Setups {
		if note != "" && st.Note == note {
			at = append(at, fmt.Sprint(st.N))
		}
	}
	return at
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
	way := document.Capital(string(st.Way))
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
	if len(st.Parts) > 0 {
		add(sawSmall, true, "Finished: "+list(st.Parts)+".")
	}
	check := "Check: " + s.dual(st.Check) + ", " + st.CheckWhat + "."
	if oneKeep(q) == "" {
		check = document.Capital(st.Keep) + ". " + check
	}
	add(sawSmall, false, check)
	if st.Turn != "" {
		add(sawSmall, true, document.Capital(st.Turn)+".")
	}
	if st.Note != "" && len(sameNote(q, st.Note)) == 1 {
		add(sawSmall, true, document.Capital(strings.TrimSuffix(st.Note, "."))+".")
	}
	h := 0.0
	for _, l := range b.lines {
		h += blockHeight(l.text, l.size, b.width, l.weight()) + 0.5
	}
	b.height = max(h, sawSetting+sawOther+4) + 3
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
		out = append(out, document.Capital(together(of[t]))+": "+t)
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
	var kind string
	var numbers []string
	for i, o := range of {
		k, n, ok := strings.Cut(o, " ")
		if k = strings.TrimSuffix(k, "s"); i == 0 {
			kind = k
		}
		if !ok || k != kind {
			return list(of)
		}
		numbers = append(numbers, n)
	}
	return kind + "s " + list(numbers)
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

// accounts proves that nothing is lost: parts, kerfs, trims, offcuts and waste
// make up every panel, strip and kerfed part.
func (s *set) accounts() {
	var rows [][]string
	for _, q := range s.p.Setups {
		if len(q.Account) > 0 {
			rows = append(rows, []string{document.Capital(q.Title)})
			rows = append(rows, s.account(q)...)
		}
	}
	if len(rows) == 0 {
		return
	}
	f := s.flow(Saw, "what becomes of it", false, "What becomes of every panel and strip, in "+s.unitWord())
	columns := []drawing.Column{{Head: "Of", Share: 56}}
	for _, h := range []string{"Parts, strips", "Kerfs", "Trims", "Offcut", "Waste", "Sum", "Whole"} {
		columns = append(columns, drawing.Column{Head: h, Share: 18, Right: true})
	}
	columns[7].Bold = true
	f.tight(columns, rows, drawing.TableStyle{Size: 2.8})
}

// account is the lines of one sequence.
func (s *set) account(q saw.Sequence) [][]string {
	var rows [][]string
	for _, a := range q.Account {
		row := []string{"   " + document.Capital(a.Of)}
		for _, l := range []unit.Length{a.Parts, a.Kerfs, a.Trims, a.Offcut, a.Waste} {
			row = append(row, blank(s.fig(l)))
		}
		rows = append(rows, append(row, s.fig(a.Sum()), s.fig(a.Whole)))
	}
	return rows
}
