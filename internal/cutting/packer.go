package cutting

import "slices"

// A packer rebuilds trees after parts were taken out. It is scratch space, not
// state.
type packer struct {
	loose   bool // the rest beside what the root holds stays in its strips
	settled bool // while pressing: what was not touched since a packer wrote it is as it would write it

	most int // stages of cuts; 0: any number
	run  Run // of the strips that the root is cut into
	src  []node
	need []size
	dst  *bin
}

type size struct{ w, h int64 }

// rebuild sets dst to the tree of src (whose taken-out parts are marked
// freeLeaf) pressed together: every strip is as narrow as its widest part, and
// rests are gathered at the far end of their split. At the root, where a rest
// can lie along the top or along the right, wrap decides.
func (p *packer) rebuild(dst *bin, src *bin, wrap bool) {
	p.write(dst, src, wrap)
}

// press is rebuild, in less time, of a tree that a packer wrote and that only
// insert and search.clear have changed since: what they did not touch is copied.
func (p *packer) press(dst *bin, src *bin, wrap bool) {
	p.settled = p.most == 0 // stages are counted all the way down
	p.write(dst, src, wrap)
	p.settled = false
}

func (p *packer) write(dst *bin, src *bin, wrap bool) {
	p.dst = dst
	root := src.n[0]
	dst.sheet, dst.used = src.sheet, 0
	dst.n, dst.free, dst.owner = slices.Grow(dst.n[:0], len(src.n)), dst.free[:0], nil
	if p.measure(src.n).w == 0 {
		dst.reset(src.sheet, root.w, root.h)
		return
	}
	c := p.only(0)
	p.place(c, -1, root.w, root.h, wrap)
	dst.gauge()
}

// needed is a copy of a sheet without the parts that are asked for no longer,
// pressed together when there are any; what it holds is taken off demand.
func (p *packer) needed(tree *bin, demand []int) *bin {
	b := &bin{}
	b.copyFrom(tree)
	over := false
	for i := range b.n {
		if t := b.n[i].typ; t >= 0 {
			if demand[t] > 0 {
				demand[t]--
			} else {
				b.n[i].typ = freeLeaf
				over = true
			}
		}
	}
	if over {
		c := &bin{}
		p.rebuild(c, b, true)
		b = c
	}
	return b
}

// measure finds the least size of the parts below each node, 0 x 0 when there
// are none, and returns that of all. Nodes come after those that they lie in, so
// one way back through them is enough.
func (p *packer) measure(src []node) size {
	if cap(p.need) < len(src) {
		p.need = make([]size, 2*len(src))
	}
	p.src, p.need = src, p.need[:len(src)]
	need := p.need
	clear(need)
	for i := len(src) - 1; i >= 0; i-- {
		n, s := &src[i], need[i]
		if n.typ >= 0 {
			s = size{n.w, n.h}
			need[i] = s
		}
		if n.parent < 0 {
			continue
		}
		of := &need[n.parent]
		if src[n.parent].vert {
			of.w, of.h = of.w+s.w, max(of.h, s.h)
		} else {
			of.w, of.h = max(of.w, s.w), of.h+s.h
		}
	}
	return need[0]
}

// only follows splits with a single filled child down to what they hold.
func (p *packer) only(i int32) int32 {
	for p.src[i].typ == splitAt {
		filled := int32(-1)
		for c := p.src[i].first; c >= 0; c = p.src[c].next {
			if p.need[c].w == 0 {
				continue
			}
			if filled >= 0 {
				return i
			}
			filled = c
		}
		i = filled
	}
	return i
}

// fits reports whether a child of a split of w x h was not touched and reaches
// across it as before; along it, it is as narrow as can be.
func (p *packer) fits(n *node, vert bool, w, h int64) bool {
	return p.settled && n.span > 0 && (vert && n.h == h || !vert && n.w == w)
}

// copy writes node k, which was not touched, and all below it as a child of at.
func (p *packer) copy(k, at int32) int32 {
	to := int32(len(p.dst.n))
	src := p.src[k : k+p.src[k].span]
	p.dst.n = append(p.dst.n, src...)
	by := to - k
	for i := range src {
		n := &p.dst.n[int(to)+i]
		n.parent += by
		if n.first >= 0 {
			n.first += by
		}
		if n.next >= 0 {
			n.next += by
		}
		if n.typ >= 0 {
			p.dst.used += float64(n.w) * float64(n.h)
		} else if n.typ == freeLeaf {
			p.dst.free = append(p.dst.free, room{n.w, n.h, to + int32(i)})
		}
	}
	p.dst.n[to].parent, p.dst.n[to].next = at, -1
	return to
}

// add writes a part or a split, rest a free leaf.
func (p *packer) add(w, h int64, parent, typ int32, vert, rot bool) int32 {
	at := int32(len(p.dst.n))
	n := p.dst.put(w, h, parent, typ)
	n.span, n.vert, n.rot = 1, vert, rot
	return at
}

func (p *packer) rest(w, h int64, parent int32) int32 {
	at := int32(len(p.dst.n))
	p.dst.put(w, h, parent, freeLeaf).span = 1
	p.dst.free = append(p.dst.free, room{w, h, at})
	return at
}

// place writes what c holds into a rectangle w x h as a child of parent and
// returns the node written.
func (p *packer) place(c, parent int32, w, h int64, wrap bool) int32 {
	s, n := p.need[c], &p.src[c]
	wide, high := s.w < w, s.h < h
	switch {
	case parent < 0 && p.run.strips(n, wide, high):
		return p.beside(c, parent, w, h, p.run.vert())
	case n.typ >= 0 && !wide && !high:
		p.dst.used += float64(w) * float64(h)
		return p.add(w, h, parent, n.typ, false, n.rot)
	case n.typ >= 0 && wide && (!high || !wrap):
		return p.beside(c, parent, w, h, true)
	case n.typ >= 0:
		return p.beside(c, parent, w, h, false)
	case parent < 0 && !p.loose && (high && wide && wrap || n.vert && high && !wide || !n.vert && wide && !high) && p.wraps(c):
		// The root's rest across its own direction: keep it in one.
		return p.beside(c, parent, w, h, !n.vert)
	}
	at := p.add(w, h, parent, splitAt, n.vert, false)
	last := int32(-1)
	left := w
	if !n.vert {
		left = h
	}
	left = p.children(c, at, &last, w, h, left)
	if left > 0 {
		if n.vert {
			w = left
		} else {
			h = left
		}
		p.link(at, &last, p.rest(w, h, at))
	}
	p.dst.n[at].span = int32(len(p.dst.n)) - at
	return at
}

// children writes the filled children of split c as children of at, joining in
// those of splits of the same direction, and returns what is left.
func (p *packer) children(c, at int32, last *int32, w, h, left int64) int64 {
	vert := p.dst.n[at].vert
	for k := p.src[c].first; k >= 0; k = p.src[k].next {
		if p.need[k].w == 0 {
			continue
		}
		if n := &p.src[k]; p.fits(n, vert, w, h) {
			if vert {
				left -= n.w
			} else {
				left -= n.h
			}
			p.link(at, last, p.copy(k, at))
			continue
		}
		g := p.only(k)
		if p.src[g].typ == splitAt && p.src[g].vert == vert {
			left = p.children(g, at, last, w, h, left)
			continue
		}
		var m int32
		if vert {
			m = p.place(g, at, p.need[g].w, h, false)
			left -= p.need[g].w
		} else {
			m = p.place(g, at, w, p.need[g].h, false)
			left -= p.need[g].h
		}
		p.link(at, last, m)
	}
	return left
}

// beside writes c and one rest as the two children of a new split.
func (p *packer) beside(c, parent int32, w, h int64, vert bool) int32 {
	at := p.add(w, h, parent, splitAt, vert, false)
	s := p.need[c]
	last := int32(-1)
	if vert {
		p.link(at, &last, p.place(c, at, s.w, h, false))
		w -= s.w
	} else {
		p.link(at, &last, p.place(c, at, w, s.h, false))
		h -= s.h
	}
	p.link(at, &last, p.rest(w, h, at))
	p.dst.n[at].span = int32(len(p.dst.n)) - at
	return at
}

func (p *packer) link(at int32, last *int32, m int32) {
	if *last < 0 {
		p.dst.n[at].first = m
	} else {
		p.dst.n[*last].next = m
	}
	*last = m
}
