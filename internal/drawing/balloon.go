package drawing

import (
	"math"
	"sort"
)

const (
	balloonRadius = 3.4
	balloonGap    = 1.6 // between neighbours
	balloonOut    = 7.0 // from the view to the balloons' near edge
)

// slot is a place where a balloon may stand.
type slot struct {
	at   Pt
	side Side
}

// placeBalloons stands the balloons round box, on the sides given, with
// straight leaders that do not cross: the sum of the leaders' lengths is made
// least by swapping pairs, and two crossing leaders are always longer than
// the same two uncrossed.
func placeBalloons(balloons []Balloon, m mapping, box Rect, sides []Side, live bool) ([]Item, Rect) {
	if len(sides) == 0 {
		sides = []Side{LeftOf, Above, RightOf, Below}
	}
	points := make([]Pt, len(balloons))
	for i, b := range balloons {
		points[i] = m.pt(b.At)
	}
	ring := slots(box, sides, len(balloons))
	taken := assign(points, ring)
	var lines, rounds []Item
	for i, b := range balloons {
		c := ring[taken[i]].at
		d := math.Hypot(points[i].X-c.X, points[i].Y-c.Y)
		edge := c
		if d > 0 {
			edge = c.Add((points[i].X-c.X)/d*balloonRadius, (points[i].Y-c.Y)/d*balloonRadius)
		}
		lines = append(lines, Segment(PenThin, edge, points[i]), Disc(Black, points[i], 0.55))
		size := SizeLarge
		if len(b.Letter) > 1 {
			size = SizeText
		}
		round := []Item{
			Disc(White, c, balloonRadius), Circle(PenMedium, c, balloonRadius),
			Text{At: c.Add(0, size*CapHeight/2), S: b.Letter, Size: size, Weight: Bold, Anchor: Middle, Plain: true},
		}
		if live {
			round = []Item{Group{Part: b.Letter, Items: round}}
		}
		rounds = append(rounds, round...)
	}
	items := append(lines, rounds...)
	return items, around(items, box)
}

// slots gives places round box, at least n of them, evenly along each side.
func slots(box Rect, sides []Side, n int) []slot {
	const pitch = 2*balloonRadius + balloonGap
	out := balloonOut + balloonRadius
	var all []slot
	// A box that is no number of millimetres gets what slots there are.
	for grow, try := 0.0, 0; ; grow, try = grow+pitch, try+1 {
		all = all[:0]
		for _, s := range sides {
			length, start := box.W+grow, box.X-grow/2
			if s == LeftOf || s == RightOf {
				length, start = box.H+grow, box.Y-grow/2
			}
			k := max(1, int(min(length, 1e4)/(pitch/2))) // half steps, so that leaders can run straight
			for i := range k {
				t := start + length*(float64(i)+0.5)/float64(k)
				p := [...]Pt{
					Below: {t, box.Bottom() + out}, LeftOf: {box.X - out, t},
					Above: {t, box.Y - out}, RightOf: {box.Right() + out, t},
				}[s]
				all = append(all, slot{p, s})
			}
		}
		// Half steps: of neighbours only every second can be used.
		if len(all) >= 3*n+4 || try > 500 {
			return all
		}
	}
}

// assign gives each point a slot, no two too close together.
func assign(points []Pt, ring []slot) []int {
	dist := func(i, s int) float64 { return math.Hypot(points[i].X-ring[s].at.X, points[i].Y-ring[s].at.Y) }
	taken := make([]int, len(points))
	for i := range taken {
		taken[i] = -1
	}
	free := func(i, s int) bool {
		for j, t := range taken {
			if j != i && t >= 0 && math.Hypot(ring[t].at.X-ring[s].at.X, ring[t].at.Y-ring[s].at.Y) < 2*balloonRadius+balloonGap/2 {
				return false
			}
		}
		return true
	}
	best := func(i int) (slot int) {
		slot = -1
		for s := range ring {
			if (slot < 0 || dist(i, s) < dist(i, slot)-1e-9) && free(i, s) {
				slot = s
			}
		}
		return slot
	}
	// Those nearest the edge choose first.
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	near := func(i int) float64 {
		d := math.Inf(1)
		for s := range ring {
			d = min(d, dist(i, s))
		}
		return d
	}
	sort.SliceStable(order, func(a, b int) bool { return near(order[a]) < near(order[b]) })
	for n, i := range order {
		if taken[i] = best(i); taken[i] < 0 {
			taken[i] = n % len(ring)
		}
	}
	for pass := 0; pass < 50; pass++ {
		changed := false
		for i := range points {
			old := taken[i]
			if s := best(i); s >= 0 && dist(i, s) < dist(i, old)-1e-9 {
				taken[i], changed = s, true
			}
			for j := range i {
				if dist(i, taken[j])+dist(j, taken[i]) < dist(i, taken[i])+dist(j, taken[j])-1e-9 {
					taken[i], taken[j] = taken[j], taken[i]
					changed = true
				}
			}
		}
		if !changed {
			break
		}
	}
	return taken
}
