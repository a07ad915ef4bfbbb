package drawing

// Pixel is what one pixel of a screen is on paper, in millimetres: so figures
// of 3 mm come out as type of 14 pixels.
const Pixel = 3.0 / 14

// Screen draws the view for a screen: as large as it has room within w by h
// millimetres, at no stated scale, on a sheet as large as the drawing. Where
// words and dimensions alone take more room than there is, the sheet is larger
// and the screen shows it smaller.
func (v View) Screen(o Options, w, h float64) Sheet {
	const edge = 1.0 // so that no pen is cut off
	b := v.Bounds()
	s := Sheet{Title: v.Title}
	if b.W <= 0 || b.H <= 0 {
		return s
	}
	k := min(w/b.W, h/b.H)
	least := k / 4 // below this the drawing would be lost among its figures
	var items []Item
	var box Rect
	for range 40 {
		items, box = v.at(k, o)
		if box.W+2*edge <= w && box.H+2*edge <= h || k <= least {
			break
		}
		k = max(least, k*max(0.8, min(0.99, min(w/(box.W+2*edge), h/(box.H+2*edge)))))
	}
	s.W, s.H = box.W+2*edge, box.H+2*edge
	s.Add(Shift(items, edge-box.X, edge-box.Y)...)
	return s
}
