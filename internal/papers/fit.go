package papers

import (
	"sort"

	"casewright/internal/drawing"
	"casewright/internal/unit"
)

// The scales of drawings that need not be measured from, such as layouts: a
// finer series, so that they fill the sheet.
var (
	metricFine = []drawing.Scale{{Num: 1, Den: 1}, {Num: 1, Den: 2}, {Num: 1, Den: 3}, {Num: 1, Den: 4}, {Num: 1, Den: 5}, {Num: 1, Den: 6}, {Num: 1, Den: 8}, {Num: 1, Den: 10}, {Num: 1, Den: 12}, {Num: 1, Den: 15}, {Num: 1, Den: 20}, {Num: 1, Den: 25}, {Num: 1, Den: 30}, {Num: 1, Den: 40}, {Num: 1, Den: 50}, {Num: 1, Den: 100}, {Num: 1, Den: 200}}
	inchFine   = []drawing.Scale{{Num: 1, Den: 1}, {Num: 1, Den: 2}, {Num: 1, Den: 3}, {Num: 1, Den: 4}, {Num: 1, Den: 6}, {Num: 1, Den: 8}, {Num: 1, Den: 12}, {Num: 1, Den: 16}, {Num: 1, Den: 24}, {Num: 1, Den: 32}, {Num: 1, Den: 48}, {Num: 1, Den: 64}, {Num: 1, Den: 128}, {Num: 1, Den: 256}}
)

// freeScales are for pictures that state no scale: steps of a twentieth.
var freeScales = func() []drawing.Scale {
	var out []drawing.Scale
	for den := 1000.0; den < 200_000; den *= 1.05 {
		out = append(out, drawing.Scale{Num: 1000, Den: int(den)})
	}
	return out
}()

func (s *set) fineScales() []drawing.Scale {
	if s.draw.Units == unit.Imperial {
		return inchFine
	}
	return metricFine
}

const captionRoom = 7.0

// measure is the rectangle that a view takes at a scale with all around it,
// counted from the upper left corner of what is drawn.
func measure(v drawing.View, o drawing.Options, sc drawing.Scale) drawing.Rect {
	return outer(v).FitAt(&drawing.Sheet{}, drawing.Pt{}, o, sc)
}

// outer is a view that takes the same room and is quick to lay out: its lines
// and hatchings are replaced by the rectangle about them.
func outer(v drawing.View) drawing.View {
	items := []drawing.Item{drawing.Box(drawing.PenThin, v.Bounds())}
	for _, it := range v.Items {
		if t, ok := it.(drawing.Text); ok {
			items = append(items, t)
		}
	}
	v.Items, v.Hatches = items, nil
	return v
}

// scaleIn is the largest of the scales at which the view has room in r with
// its caption, and what it then takes.
func scaleIn(r drawing.Rect, v drawing.View, o drawing.Options, scales []drawing.Scale) (sc drawing.Scale, box drawing.Rect) {
	if v.Title != "" {
		r.H -= captionRoom
	}
	v = outer(v)
	fits := func(i int) bool {
		sc, box = scales[i], v.FitAt(&drawing.Sheet{}, drawing.Pt{}, o, scales[i])
		return box.W <= r.W && box.H <= r.H
	}
	// The scales fall; figures that are moved out may make a smaller scale take
	// more room than a larger one, so the one found is tried on its own.
	last := len(scales) - 1
	for i := sort.Search(last, fits); !fits(i) && i < last; i++ {
	}
	return sc, box
}

// fit draws the view in the middle of r at the largest of the scales at which
// it has room, its caption under it.
func fit(sheet *drawing.Sheet, v drawing.View, r drawing.Rect, o drawing.Options, scales []drawing.Scale) drawing.Scale {
	sc, box := scaleIn(r, v, o, scales)
	title, room := v.Title, r
	if title != "" {
		room.H -= captionRoom
	}
	p := drawing.Pt{X: room.X + (room.W-box.W)/2, Y: room.Y + (room.H-box.H)/2}
	v.Title = ""
	v.FitAt(sheet, p.Add(-box.X, -box.Y), o, sc)
	if title != "" {
		caption(sheet, title, sc, drawing.Pt{X: room.X + room.W/2, Y: p.Y + box.H + 5})
	}
	return sc
}

// place draws a view with all around it from the corner p.
func place(sheet *drawing.Sheet, v drawing.View, p drawing.Pt, o drawing.Options, sc drawing.Scale) {
	box := measure(v, o, sc)
	v.Title = ""
	v.FitAt(sheet, p.Add(-box.X, -box.Y), o, sc)
}

func caption(sheet *drawing.Sheet, title string, sc drawing.Scale, p drawing.Pt) {
	name := drawing.Text{S: title, Size: drawing.SizeText, Weight: drawing.Bold}
	scale := drawing.Text{S: sc.String(), Size: drawing.SizeText, Plain: true}
	w := name.Width() + 2.5 + scale.Width()
	name.At, scale.At = p.Add(-w/2, 0), p.Add(w/2-scale.Width(), 0)
	sheet.Add(name, scale)
}

// three sets front, side and top at one scale, the side beside the front or
// under it, and gives the scale and the corner that stays free.
type three struct {
	sheet            *drawing.Sheet
	front, side, top drawing.View
	o                drawing.Options
}

const viewGap = 8.0

// beside sets the side view right of the front view and the top view below;
// under sets the three under one another. Free is what is left at the lower
// right; ok is false when it is too small or the views have no room.
func (t three) beside(r drawing.Rect, sc drawing.Scale, draw bool) (free drawing.Rect, ok bool) {
	f, s, p := measure(t.front, t.o, sc), measure(t.side, t.o, sc), measure(t.top, t.o, sc)
	row := max(f.H, s.H) + captionRoom
	wide := max(f.W, p.W)
	free = drawing.Rect{X: r.X + wide + viewGap, Y: r.Y + row + 3, W: r.W - wide - viewGap, H: r.H - row - 3}
	ok = max(f.W, p.W)+viewGap+s.W <= r.W && row+p.H+captionRoom <= r.H && free.W >= 78 && free.H >= 45
	if ok && draw {
		// Front and top share their left edge, front and side the floor.
		left := max(-f.X, -p.X)
		t.one(t.front, drawing.Pt{X: r.X + left + f.X, Y: r.Y + row - captionRoom - f.H}, sc, f)
		sx := r.X + wide + viewGap + max(0, (r.W-wide-viewGap-s.W)/3)
		t.one(t.side, drawing.Pt{X: sx, Y: r.Y + row - captionRoom - s.H}, sc, s)
		t.one(t.top, drawing.Pt{X: r.X + left + p.X, Y: r.Y + row}, sc, p)
	}
	return free, ok
}

func (t three) under(r drawing.Rect, sc drawing.Scale, draw bool) (free drawing.Rect, ok bool) {
	f, s, p := measure(t.front, t.o, sc), measure(t.side, t.o, sc), measure(t.top, t.o, sc)
	y2 := f.H + captionRoom + 2
	y3 := y2 + p.H + captionRoom + 2
	free = drawing.Rect{X: r.X + s.W + viewGap, Y: r.Y + y3, W: r.W - s.W - viewGap, H: r.H - y3}
	ok = max(f.W, p.W) <= r.W && y3+s.H+captionRoom <= r.H && free.W >= 78 && free.H >= 45
	if ok && draw {
		left := max(-f.X, -p.X) + (r.W-max(f.W, p.W))/2
		t.one(t.front, drawing.Pt{X: r.X + left + f.X, Y: r.Y}, sc, f)
		t.one(t.top, drawing.Pt{X: r.X + left + p.X, Y: r.Y + y2}, sc, p)
		t.one(t.side, drawing.Pt{X: r.X, Y: r.Y + y3}, sc, s)
	}
	return free, ok
}

func (t three) one(v drawing.View, p drawing.Pt, sc drawing.Scale, box drawing.Rect) {
	place(t.sheet, v, p, t.o, sc)
	caption(t.sheet, v.Title, sc, drawing.Pt{X: p.X + box.W/2, Y: p.Y + box.H + 5})
}
