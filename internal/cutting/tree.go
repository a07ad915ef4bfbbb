package cutting

// The search keeps each sheet as a tree of cuts whose splits are as few as
// can be: no split has a single child, no split has a child split the same
// way, and the rest of a split is its last child.

const (
	freeLeaf = -1 // a rest that may still take parts
	splitAt  = -2
)

type node struct {
	w, h                int64
	parent, first, next int32 // -1: none
	typ                 int32 // type of part, freeLeaf or splitAt
	vert                bool  // of a split: its children lie along X
	rot                 bool
}

// A bin is one sheet under way.
type bin struct {
	sheet int // index into problem.sheets
	n     []node
	free  []room  // its free leaves, in no order
	used  float64 // area of its parts
	stamp int64   // the move that made it
	live  int64   // the last move after which it was in use

	nooks []nook // the best of each type, for the search that owner is
	owner *search
}

// A room is a free leaf: its size and which node it is.
type room struct {
	w, h int64
	at   int32
}

func (b *bin) reset(sheet int, w, h int64) {
	b.sheet, b.used = sheet, 0
	b.n = append(b.n[:0], node{w: w, h: h, parent: -1, first: -1, next: -1, typ: freeLeaf})
	b.free = append(b.free[:0], room{w, h, 0})
	b.owner = nil
}

func (b *bin) copyFrom(o *bin) {
	b.sheet, b.used, b.stamp = o.sheet, o.used, o.stamp
	b.n = append(b.n[:0], o.n...)
	b.free = append(b.free[:0], o.free...)
	b.owner = nil
}

// cutLeaf cuts a free leaf in two and returns the near part, which is neither
// free nor filled yet; the far part is a free leaf. slot is the leaf's place
// in b.free.
func (b *bin) cutLeaf(i int32, vert bool, size int64) int32 {
	f := b.n[i]
	rest := node{w: f.w, h: f.h, parent: f.parent, first: -1, next: -1, typ: freeLeaf}
	if vert {
		rest.w -= size
	} else {
		rest.h -= size
	}
	if f.parent >= 0 && b.n[f.parent].vert == vert {
		rest.next = f.next
		at := int32(len(b.n))
		b.n = append(b.n, rest)
		b.free = append(b.free, room{rest.w, rest.h, at})
		n := &b.n[i]
		n.next = at
		if vert {
			n.w = size
		} else {
			n.h = size
		}
		return i
	}
	near := node{w: f.w, h: f.h, parent: i, first: -1, next: -1, typ: freeLeaf}
	if vert {
		near.w = size
	} else {
		near.h = size
	}
	at := int32(len(b.n))
	near.next = at + 1
	rest.parent = i
	b.n = append(b.n, near, rest)
	b.free = append(b.free, room{rest.w, rest.h, at + 1})
	b.n[i].typ, b.n[i].vert, b.n[i].first = splitAt, vert, at
	return at
}

// insert puts a part of type typ, w x h as placed, at the near corner of the
// free leaf b.free[slot]. Where both cuts are needed, vert says which is first.
func (b *bin) insert(slot int, typ int32, w, h int64, rot, vert bool) {
	i := b.free[slot].at
	last := len(b.free) - 1
	b.free[slot] = b.free[last]
	b.free = b.free[:last]
	if vert {
		if b.n[i].w != w {
			i = b.cutLeaf(i, true, w)
		}
		if b.n[i].h != h {
			i = b.cutLeaf(i, false, h)
		}
	} else {
		if b.n[i].h != h {
			i = b.cutLeaf(i, false, h)
		}
		if b.n[i].w != w {
			i = b.cutLeaf(i, true, w)
		}
	}
	b.n[i].typ, b.n[i].rot = typ, rot
	b.used += float64(w) * float64(h)
}

// A packer rebuilds trees after parts were taken out. It is scratch space, not
// state.
type packer struct {
	loose bool // the rest beside what the root holds stays in its strips

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
	p.src = src.n
	if cap(p.need) < len(src.n) {
		p.need = make([]size, 2*len(src.n))
	}
	p.need = p.need[:len(src.n)]
	p.dst = dst
	root := src.n[0]
	dst.sheet, dst.used = src.sheet, 0
	dst.n, dst.free, dst.owner = dst.n[:0], dst.free[:0], nil
	p.measure(0)
	if p.need[0].w == 0 {
		dst.reset(src.sheet, root.w, root.h)
		return
	}
	c := p.only(0)
	p.place(c, -1, root.w, root.h, wrap)
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

// measure finds the least size of the parts below i; 0 x 0 when there are none.
func (p *packer) measure(i int32) size {
	n := &p.src[i]
	var s size
	switch {
	case n.typ >= 0:
		s = size{n.w, n.h}
	case n.typ == splitAt:
		for c := n.first; c >= 0; c = p.src[c].next {
			t := p.measure(c)
			if n.vert {
				s.w += t.w
				s.h = max(s.h, t.h)
			} else {
				s.h += t.h
				s.w = max(s.w, t.w)
			}
		}
	}
	p.need[i] = s
	return s
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

func (p *packer) add(n node) int32 {
	at := int32(len(p.dst.n))
	n.first, n.next = -1, -1
	p.dst.n = append(p.dst.n, n)
	if n.typ == freeLeaf {
		p.dst.free = append(p.dst.free, room{n.w, n.h, at})
	}
	return at
}

// place writes what c holds into a rectangle w x h as a child of parent and
// returns the node written.
func (p *packer) place(c, parent int32, w, h int64, wrap bool) int32 {
	s, n := p.need[c], p.src[c]
	wide, high := s.w < w, s.h < h
	switch {
	case parent < 0 && p.run.strips(n, wide, high):
		return p.beside(c, parent, w, h, p.run.vert())
	case n.typ >= 0 && !wide && !high:
		p.dst.used += float64(w) * float64(h)
		return p.add(node{w: w, h: h, parent: parent, typ: n.typ, rot: n.rot})
	case n.typ >= 0 && wide && (!high || !wrap):
		return p.beside(c, parent, w, h, true)
	case n.typ >= 0:
		return p.beside(c, parent, w, h, false)
	case parent < 0 && !p.loose && (high && wide && wrap || n.vert && high && !wide || !n.vert && wide && !high) && p.wraps(c):
		// The root's rest across its own direction: keep it in one.
		return p.beside(c, parent, w, h, !n.vert)
	}
	at := p.add(node{w: w, h: h, parent: parent, typ: splitAt, vert: n.vert})
	last := int32(-1)
	left := w
	if !n.vert {
		left = h
	}
	left = p.children(c, at, &last, w, h, left)
	if left > 0 {
		f := node{w: left, h: h, parent: at, typ: freeLeaf}
		if !n.vert {
			f.w, f.h = w, left
		}
		p.link(at, &last, p.add(f))
	}
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
	at := p.add(node{w: w, h: h, parent: parent, typ: splitAt, vert: vert})
	s := p.need[c]
	last := int32(-1)
	f := node{w: w - s.w, h: h, parent: at, typ: freeLeaf}
	var m int32
	if vert {
		m = p.place(c, at, s.w, h, false)
	} else {
		m = p.place(c, at, w, s.h, false)
		f.w, f.h = w, h-s.h
	}
	p.link(at, &last, m)
	p.link(at, &last, p.add(f))
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
