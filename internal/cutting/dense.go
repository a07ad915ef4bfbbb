package cutting

import "slices"

// A dense collects the fullest sheets that a search meets: good patterns for
// the pattern model.
type dense struct {
	p     *problem
	floor []float64 // of each kind of sheet: area of parts to be of interest
	seen  map[uint64]bool
	bins  [][]*bin
}

const mostDense = 300 // kept of each kind of sheet

func newDense(p *problem) *dense {
	d := &dense{p: p, seen: map[uint64]bool{}, bins: make([][]*bin, len(p.sheets))}
	for _, s := range p.sheets {
		d.floor = append(d.floor, 0.7*float64(s.w)*float64(s.h))
	}
	return d
}

// like is an empty one for sheets as full as these.
func (d *dense) like() *dense {
	if d == nil {
		return nil
	}
	return &dense{p: d.p, floor: slices.Clone(d.floor), seen: map[uint64]bool{}, bins: make([][]*bin, len(d.bins))}
}

// copied is what has been collected by now.
func (d *dense) copied() *dense {
	c := d.like()
	for s, list := range d.bins {
		c.bins[s] = slices.Clone(list)
	}
	return c
}

// merge takes over what another has collected.
func (d *dense) merge(o *dense) {
	if d == nil {
		return
	}
	for s, list := range o.bins {
		for _, b := range list {
			d.look(b)
		}
		o.bins[s] = list[:0]
	}
}

// look keeps a copy of a sheet that is fuller than most and not known yet.
func (d *dense) look(b *bin) {
	if b.used <= d.floor[b.sheet] {
		return
	}
	var h uint64
	for i := range b.n {
		if t := b.n[i].typ; t >= 0 {
			r := newRNG(uint64(t))
			h += r.next() // a sum: the order of parts does not matter
		}
	}
	h = h*uint64(len(d.p.sheets)) + uint64(b.sheet)
	if d.seen[h] {
		return
	}
	d.seen[h] = true
	c := &bin{}
	c.copyFrom(b)
	list := append(d.bins[b.sheet], c)
	if len(list) == 2*mostDense {
		slices.SortStableFunc(list, func(a, b *bin) int {
			switch {
			case a.used > b.used:
				return -1
			case a.used < b.used:
				return 1
			}
			return 0
		})
		d.floor[b.sheet] = list[mostDense].used
		list = list[:mostDense]
	}
	d.bins[b.sheet] = list
}

// pattern is what a sheet holds, types in the order of their numbers.
func (p *problem) pattern(b *bin) pattern {
	n := make([]int, len(p.types))
	for i := range b.n {
		if t := b.n[i].typ; t >= 0 {
			n[t]++
		}
	}
	pat := pattern{sheet: b.sheet, tree: b}
	for t, k := range n {
		if k > 0 {
			pat.use = append(pat.use, run{t, k})
		}
	}
	return pat
}
