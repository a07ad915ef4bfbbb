package drawing

import "slices"

// Pixel is what one pixel of a screen is on paper, in millimetres: so figures
// of 3 mm come out as type of 14 pixels.
const Pixel = 3.0 / 14

// Screen draws the view for a screen: as large as it has room within w by h
// millimetres, at no stated scale, on a sheet as large as the drawing. Rows of
// dimensions that would crowd the drawing into a corner are left out; one over
// all stays on each side. Where words alone take more
// room than there is, the sheet is larger and the screen shows it smaller.
func (v View) Screen(o Options, w, h float64) Sheet {
	const edge = 1.0 // so that no pen is cut off
	b := v.Bounds()
	s := Sheet{Title: v.Title}
	if b.W <= 0 || b.H <= 0 {
		return s
	}
	whole := min(w/b.W, h/b.H)
	var items []Item
	var box Rect
	for {
		k := whole
		for range 40 {
			items, box = v.at(k, o)
			if box.W+2*edge <= w && box.H+2*edge <= h || k <= whole*leastShare {
				break
			}
			k = max(whole*leastShare, k*max(0.8, min(0.99, min(w/(box.W+2*edge), h/(box.H+2*edge)))))
		}
		thinned, ok := thin(v.Chains)
		if k > whole*goodShare || !ok {
			break
		}
		v.Chains = thinned
	}
	s.W, s.H = box.W+2*edge, box.H+2*edge
	s.Add(Shift(items, edge-box.X, edge-box.Y)...)
	return s
}

// Of the size that a drawing would have without dimensions: what is good, and
// what is the least.
const (
	goodShare  = 0.55
	leastShare = 0.25
)

// thin leaves out a row of the side with the most rows: the chain through all
// stops first, then the inner ones from the outside in, for those of the case
// itself come first. The last row of each side stays.
func thin(chains []Chain) ([]Chain, bool) {
	var n [4]int
	for _, c := range chains {
		n[c.Side]++
	}
	most := slices.Index(n[:], slices.Max(n[:]))
	if n[most] < 2 {
		return chains, false
	}
	out, at := -1, 0
	for i, c := range chains {
		if c.Side != Side(most) {
			continue
		}
		if at++; at == n[most] {
			break
		}
		out = i
		if c.Spare {
			break
		}
	}
	return slices.Delete(slices.Clone(chains), out, out+1), true
}
