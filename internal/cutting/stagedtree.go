package cutting

// begins reports whether the first cuts of a sheet may have that way.
func (r Run) begins(vert bool) bool { return r == EitherWay || vert == r.vert() }

// vert is the way of the splits whose children are the strips.
func (r Run) vert() bool { return r == Crosswise }

// strips reports whether what a sheet holds, a rest beside it wide or high, is
// a strip of it: then the cut between the two comes first, so that the rest can
// take other strips.
func (r Run) strips(n *node, wide, high bool) bool {
	switch {
	case r == EitherWay || n.typ == splitAt && n.vert == r.vert():
		return false
	case r == Crosswise:
		return wide
	}
	return high
}

// level is the number of cuts in sequence that free node i.
func (b *bin) level(i int32) int {
	l := 0
	for i = b.n[i].parent; i >= 0; i = b.n[i].parent {
		l++
	}
	return l
}

// within reports whether a part that the free leaf i of a sheet exceeds both
// ways, or not, can be cut from it in the stages there are, and which way the
// first cut must run: vert; on an empty sheet the way of the strips; or in the
// last stage the way of that stage. What is left of a part in its last cut is
// trimmed off, which is no stage; it takes no other part. A sheet that is not
// cut into strips of the run asked for is one strip: its cuts are of the second
// stage.
func (p *problem) within(b *bin, i int32, both, vert bool) (first, ok bool) {
	l := b.level(i)
	if p.run != EitherWay {
		switch {
		case i == 0 && both:
			return p.run.vert(), true
		case i > 0 && b.n[0].vert != p.run.vert():
			l++
		}
	}
	switch {
	case l > p.depth:
		return vert, false
	case l == p.depth && both:
		return b.n[b.n[i].parent].vert, true
	}
	return vert, true
}

// packer is scratch space for the trees of a problem.
func (p *problem) packer() (pk packer) {
	pk.stages(p)
	return pk
}

// stages says how many stages the trees to come may have.
func (p *packer) stages(of *problem) { p.most, p.run = of.depth, of.run }

// wraps reports whether split c may be cut off a sheet by a cut across its own,
// which is a stage more.
func (p *packer) wraps(c int32) bool {
	if p.most == 0 {
		return true
	}
	n := p.nested(c) + 1
	if !p.run.begins(!p.src[c].vert) {
		n++ // the sheet is one strip
	}
	return n <= p.most
}

// nested is the number of stages below i, trims aside.
func (p *packer) nested(i int32) int {
	deep, filled := 0, 0
	for c := p.src[i].first; c >= 0; c = p.src[c].next {
		if p.need[c].w > 0 {
			deep, filled = max(deep, p.nested(c)), filled+1
		}
	}
	return deep + min(1, filled/2)
}
