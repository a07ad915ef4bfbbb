package station

import (
	"slices"

	"casewright/internal/drawing"
)

// sawLabel is words in a run of the piece.
type sawLabel struct {
	from, to float64
	says     string
	most     float64 // size of type
}

// label keeps words for a run of the piece; words sets them over all lines.
func (d *sawDrawing) label(from, to float64, says string, most float64) {
	if says != "" {
		d.labels = append(d.labels, sawLabel{from, to, says, most})
	}
}

// words sets the labels, each as large as it fits beside the rail; where it
// does not fit it stands beside, with a leader.
func (d *sawDrawing) words() {
	for _, l := range d.labels {
		r := clear(d.rect(l.from, l.to), d.rail)
		t := drawing.Text{S: l.says, Size: l.most, Weight: drawing.Bold, Anchor: drawing.Middle, Plain: true}
		for ; t.Size >= sawSmall-0.01; t.Size -= 0.4 {
			if t.Width()+2 <= r.W && t.Size <= r.H {
				t.At = drawing.Pt{X: r.X + r.W/2, Y: r.Y + r.H/2 + t.Size*drawing.CapHeight/2}
				break
			}
			if t.Size <= r.W && t.Width()+2 <= r.H {
				t.Turn = 90
				t.At = drawing.Pt{X: r.X + r.W/2 + t.Size*drawing.CapHeight/2, Y: r.Y + r.H/2}
				break
			}
		}
		if t.Size < sawSmall-0.01 {
			if l.says == "waste" {
				continue
			}
			t.Size = sawType
			d.beside(l, t)
			continue
		}
		d.sheet.Add(t)
	}
}

// beside sets words beside the piece, with a leader, clear of those there
// already: two thin strips side by side have their names one above the other.
func (d *sawDrawing) beside(l sawLabel, t drawing.Text) {
	out, farther := 10.0, t.Size*1.4
	if d.du.X != 0 {
		out, farther = t.Width()/2+6, t.Width()+3
	}
	var r drawing.Rect
	var thin drawing.Pt
	places := []float64{0.8, 0.6, 0.4, 0.2, 0.95}
	for i := range 3 * len(places) {
		v := places[i%len(places)]
		thin = d.at((l.from+l.to)/2, d.long*v)
		mid := d.beyond(d.at(l.to, d.long*v), out+float64(i/len(places))*farther, 0)
		t.At = mid.Add(0, t.Size*drawing.CapHeight/2)
		r = drawing.Rect{X: mid.X - t.Width()/2, Y: mid.Y - t.Size/2, W: t.Width(), H: t.Size}
		if !slices.ContainsFunc(d.names, r.Overlaps) {
			break
		}
	}
	d.names = append(d.names, r)
	d.sheet.Add(drawing.Segment(drawing.PenMedium, thin, t.At.Add(0, -t.Size*drawing.CapHeight/2)), drawing.Disc(drawing.Black, thin, 0.9), t.Knock(0.8), t)
}

// clear is the larger part of r that the rail leaves.
func clear(r, rail drawing.Rect) drawing.Rect {
	if !r.Overlaps(rail) {
		return r
	}
	best := drawing.Rect{}
	for _, x := range []drawing.Rect{
		{X: r.X, Y: r.Y, W: rail.X - r.X, H: r.H},
		{X: rail.Right(), Y: r.Y, W: r.Right() - rail.Right(), H: r.H},
		{X: r.X, Y: r.Y, W: r.W, H: rail.Y - r.Y},
		{X: r.X, Y: rail.Bottom(), W: r.W, H: r.Bottom() - rail.Bottom()},
	} {
		if x.W > 0 && x.H > 0 && x.W*x.H > best.W*best.H {
			best = x
		}
	}
	return best
}
