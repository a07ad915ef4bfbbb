package cutting

// recall learns how a layout is cut.
func (l *ripping) recall(bins []*bin) {
	for _, b := range bins {
		for i, w := range l.ways {
			if w.sheet == b.sheet {
				l.read(b, i)
			}
		}
	}
}

// read learns a sheet's strips, as if it were ripped that way: a sheet that is
// not is one strip, if it fits so.
func (l *ripping) read(b *bin, way int) {
	w := &l.ways[way]
	made := make([]int, len(l.kinds))
	var across int64
	for _, i := range b.strips(w.vert) {
		c, wide := l.strip(b, i, w)
		if len(c.use) == 0 {
			continue
		}
		if across += wide; c.kind < 0 || across > w.across || !l.fits(c) {
			return
		}
		l.learn(c)
		made[c.kind]++
	}
	c := ripCol{way: way}
	for k, n := range made {
		if n > 0 {
			c.use = append(c.use, run{k, n})
		}
	}
	l.learn(c)
}

// strips are the nodes of a sheet's strips that run one way.
func (b *bin) strips(vert bool) (at []int32) {
	root := &b.n[0]
	if root.typ != splitAt || root.vert != vert {
		return []int32{0}
	}
	for c := root.first; c >= 0; c = b.n[c].next {
		at = append(at, c)
	}
	return at
}

// strip is what lies below a node, as a strip just wide enough; its kind is
// below 0 where there is none.
func (l *ripping) strip(b *bin, i int32, w *ripWay) (c ripCol, wide int64) {
	count := make([]int, len(l.p.types))
	var walk func(i int32)
	walk = func(i int32) {
		n := &b.n[i]
		if n.typ >= 0 {
			_, across := l.p.types[n.typ].lies(w.vert, n.rot)
			wide = max(wide, across)
			count[n.typ]++
		}
		if n.typ == splitAt {
			for k := n.first; k >= 0; k = b.n[k].next {
				walk(k)
			}
		}
	}
	walk(i)
	c = ripCol{way: -1, kind: -1}
	for t, n := range count {
		if n > 0 {
			c.use = append(c.use, run{t, n})
		}
	}
	for _, k := range w.kinds {
		if l.widths[l.kinds[k].width].wide == wide {
			c.kind = k
		}
	}
	return c, wide
}

// fits reports whether a strip's parts lie in it end to end.
func (l *ripping) fits(c ripCol) bool {
	k := l.kinds[c.kind]
	w := &l.widths[k.width]
	var sum int64
	for _, u := range c.use {
		t := &l.p.types[u.typ]
		rot, ok := t.turned(w.vert, w.wide)
		if !ok {
			return false
		}
		along, _ := t.lies(w.vert, rot)
		sum += along * int64(u.n)
	}
	return sum <= k.room
}

// bins cuts sheets into strips, and those into parts; both are columns.
func (l *ripping) bins(strips, sheets []int) []*bin {
	p := l.p
	of := make([][]int, len(l.kinds))
	for _, i := range strips {
		of[l.cols[i].kind] = append(of[l.cols[i].kind], i)
	}
	left := make([]int, len(p.types))
	for i, t := range p.types {
		left[i] = t.qty
	}
	pk := p.packer()
	var out []*bin
	for _, i := range sheets {
		w := &l.ways[l.cols[i].way]
		var src bin
		src.reset(w.sheet, p.sheets[w.sheet].w, p.sheets[w.sheet].h)
		src.n[0].typ, src.n[0].vert = splitAt, w.vert
		last := int32(-1)
		for _, u := range l.cols[i].use {
			for range min(u.n, len(of[u.typ])) {
				c := &l.cols[of[u.typ][0]]
				of[u.typ] = of[u.typ][1:]
				last = src.hang(0, last, node{typ: splitAt, vert: !w.vert})
				in := int32(-1)
				for _, v := range c.use {
					t := &p.types[v.typ]
					rot, _ := t.turned(w.vert, l.widths[l.kinds[c.kind].width].wide)
					n := node{w: t.w, h: t.h, typ: int32(v.typ), rot: rot}
					if rot {
						n.w, n.h = t.h, t.w
					}
					for range v.n {
						in = src.hang(last, in, n)
					}
				}
			}
		}
		b := &bin{}
		pk.rebuild(b, &src, true)
		out = append(out, pk.needed(b, left))
	}
	return out
}
