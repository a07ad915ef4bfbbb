package papers

import (
	"casewright/internal/drawing"
)

// caution is one thing to mind at an operation. Sources of the kind "common
// practice" have no document behind them.
type caution struct {
	Says   string
	Source string
}

// operation is work that has cautions of its own.
type operation string

const (
	tableSaw   operation = "table saw"
	trackSaw   operation = "track saw"
	handGuide  operation = "hand-held saw"
	kerfing    operation = "kerfing"
	crosscuts  operation = "cuts against a stop"
	sheets     operation = "full panels"
	bending    operation = "bending"
	drilling   operation = "drilling"
	routing    operation = "routing"
	milling    operation = "milling solid wood"
	wetSkin    operation = "softening with hot water"
	screwing   operation = "screws"
	wideStocks operation = "solid wood"
)

// common marks what every workshop teaches and no document seen here states.
const common = "common practice, no source"

// cautions are those of each operation. They are the usual ones, not all; see
// lastWord.
var cautions = map[operation][]caution{
	tableSaw: {
		{"Guard, riving knife and anti-kickback device in place for every through cut.", "29 CFR 1910.213(c)"},
		{"Riving knife within 8 mm of the blade, thicker than its plate, thinner than its kerf.", "HSE woodworking sheet 16"},
		{"Push stick of at least 450 mm for the last 300 mm of a cut. Never reach over the blade.", "HSE woodworking sheet 16"},
		{"Never cross-cut against the rip fence without a stop block: the piece turns, jams and comes back.", common},
		{"Hearing and eye protection, dust extraction at the saw. Wood dust harms the lungs; limits are those of your country.", "29 CFR 1910.1000; HSE sheet 23"},
		{"Blade change and set-up with the plug out.", "29 CFR 1910.213(b)"},
	},
	trackSaw: {
		{"Clamp the rail or press it down on clean wood. Both hands on the saw, cord and hose clear of the edge.", common},
		{"Support both halves right up to the cut, so that the kerf cannot close on the blade.", common},
		{"Let the blade stop before the saw is put down.", common},
		{"Hearing and eye protection, extraction on the saw. Wood dust harms the lungs; limits are those of your country.", "29 CFR 1910.1000; HSE sheet 23"},
		{"Blade change and set-up with the plug out.", "29 CFR 1910.213(b)"},
	},
	handGuide: {
		{"Clamp the guide at both ends and the piece on supports right up to the cut, so that the kerf cannot close on the blade.", common},
		{"The lower guard must spring back by itself. Let the blade stop before the saw is put down.", common},
		{"Hearing and eye protection, extraction or a mask. Wood dust harms the lungs; limits are those of your country.", "29 CFR 1910.1000; HSE sheet 23"},
		{"Blade change and set-up with the plug out.", "29 CFR 1910.213(b)"},
	},
	kerfing: {
		{"A kerf is a cut that does not go through. If guard and riving knife come off for it, use a guard made for such cuts; put both back before the next through cut.", "29 CFR 1910.213(c); HSE woodworking sheet 16"},
		{"Hold the panel flat on the saw over its whole width: where it lifts, the skin stays too thick, where dust lies under it, too thin.", common},
		{"A kerfed panel is weak. Carry it on edge with a board along it, two people over 1.2 m, and store it flat.", common},
	},
	crosscuts: {
		{"At the stop: piece held by the sled or mitre gauge, nothing between the off-cut and a fixed fence, hands clear of the line of the blade.", common},
	},
	sheets: {
		{"Panels are heavy: a cart or two people. Weigh before you lift; guidance limits are near 25 kg close to the body.", "NIOSH lifting equation 23 kg; HSE manual handling filter 25 and 16 kg"},
		{"Use panels whose label states a formaldehyde class; cut them with extraction and air the new piece.", "40 CFR 770"},
	},
	bending: {
		{"A bent panel is a spring. Clamp before gluing, keep your face out of its way, release slowly: a strap that slips lets it fly open.", common},
		{"If it cracks while bending, stop and let it back. Do not force it on.", common},
	},
	wetSkin: {
		{"Hot water and steam scald: gloves that keep it out, steam led away from you, and no mains plug near the wet.", common},
	},
	drilling: {
		{"Clamp small work. No gloves, loose sleeves or long hair at a turning bit. A stop on the bit where a face must not be pierced.", common},
	},
	routing: {
		{"Feed against the turn of the cutter: hand-held, outside edges anticlockwise, inside edges clockwise. Never trap work between cutter and fence.", common},
	},
	milling: {
		{"Keep to your machine's shortest and thinnest piece; where the manual is silent, nothing under 305 mm (12 in) through the planer. Push blocks at the jointer.", "machine manuals; " + common},
		{"Guards of jointer and planer in place, knives at most 3 mm (1/8 in) out of the head.", "29 CFR 1910.213(j)"},
	},
	screwing: {
		{"Drill every pilot with a stop on the bit. Try one screw in a scrap of the same stack first: it must not show and must not strip.", common},
	},
	wideStocks: {
		{"Some woods irritate skin or lungs; read up on yours before you sand it.", common},
	},
}

// lastWord stands under every list of cautions.
const lastWord = "These are the usual cautions, not all of them. Your codes, the machine's manual and licensed practice come first."

// cautionRoom is the height that the cautions of the operations take at the
// width.
func cautionRoom(width float64, ops ...operation) float64 {
	h := 0.0
	columns := cautionColumns(width)
	for _, c := range columns.split(ops) {
		h = max(h, columns.height(c))
	}
	return h + 9 + blockHeight(lastWord, sizeNote, width-4, drawing.Regular)
}

// caution sets the cautions of the operations in r, in columns.
func (s *set) cautions(sheet *drawing.Sheet, r drawing.Rect, ops ...operation) {
	sheet.Add(drawing.Box(drawing.PenMedium, r))
	in := r.Inset(2)
	sheet.Add(drawing.Text{At: drawing.Pt{X: in.X, Y: in.Y + 2.6}, S: "Mind", Size: sizeSub, Weight: drawing.Bold})
	columns := cautionColumns(r.W)
	x := in.X
	for _, col := range columns.split(ops) {
		y := in.Y + 4.2
		for _, c := range col {
			dot := drawing.Pt{X: x + 0.8, Y: y + sizeNote*0.62}
			sheet.Add(drawing.Disc(drawing.Black, dot, 0.5))
			box := drawing.Rect{X: x + 2.6, Y: y, W: columns.width - 2.6, H: 1}
			y = sheet.TextBlock(box, c.text(), sizeNote, drawing.Regular).Y + 0.7
		}
		x += columns.width + columns.gap
	}
	h := blockHeight(lastWord, sizeNote, in.W, drawing.Bold)
	sheet.TextBlock(drawing.Rect{X: in.X, Y: in.Bottom() - h, W: in.W, H: h}, lastWord, sizeNote, drawing.Bold)
}

const sizeSub = 3.2

func (c caution) text() string {
	if c.Source == common {
		return c.Says
	}
	return c.Says + " [" + c.Source + "]"
}

// columnSet is how cautions stand side by side.
type columnSet struct {
	n          int
	width, gap float64
}

func cautionColumns(width float64) columnSet {
	c := columnSet{n: 2, gap: 5}
	if width > 230 {
		c.n = 3
	}
	c.width = (width - 4 - c.gap*float64(c.n-1)) / float64(c.n)
	return c
}

func (c columnSet) height(list []caution) float64 {
	h := 0.0
	for _, x := range list {
		h += blockHeight(x.text(), sizeNote, c.width-2.6, drawing.Regular) + 0.7
	}
	return h
}

// split spreads the cautions over the columns in order, so that the tallest
// column is as short as can be.
func (c columnSet) split(ops []operation) [][]caution {
	var all []caution
	total := 0.0
	for _, op := range ops {
		all = append(all, cautions[op]...)
	}
	total = c.height(all)
	for limit := total / float64(c.n); ; limit += 1 {
		out := make([][]caution, 1, c.n)
		h := 0.0
		for _, x := range all {
			one := c.height([]caution{x})
			if h > 0 && h+one > limit {
				out, h = append(out, nil), 0
			}
			out[len(out)-1] = append(out[len(out)-1], x)
			h += one
		}
		if len(out) <= c.n {
			return out
		}
	}
}
