package cutting

import (
	"cmp"
	"encoding/binary"
	"slices"
	"strconv"
	"strings"

	"casewright/internal/unit"
)

// A drafter turns the search's trees back into sheets with kerfs and trims.
type drafter struct {
	job  *Job
	p    *problem
	next [][]lot // of each type: the items still to be given out
	lay  *Layout
	b    *bin
}

// layouts drafts all sheets, those cut alike together.
func (p *problem) layouts(job *Job, bins []*bin) []Layout {
	d := drafter{job: job, p: p, next: make([][]lot, len(p.types))}
	for i, t := range p.types {
		d.next[i] = slices.Clone(t.items)
	}
	type marked struct {
		b    *bin
		mark string
	}
	order := make([]marked, len(bins))
	for i, b := range bins {
		order[i] = marked{b, b.mark()}
	}
	slices.SortStableFunc(order, func(a, b marked) int {
		return cmp.Or(cmp.Compare(a.b.sheet, b.b.sheet), cmp.Compare(b.b.used, a.b.used), strings.Compare(a.mark, b.mark))
	})
	var out []Layout
	seen := map[string]int{}
	for _, m := range order {
		l := d.draft(m.b)
		k := l.key()
		if at, ok := seen[k]; ok {
			out[at].Copies++
			continue
		}
		seen[k] = len(out)
		out = append(out, l)
	}
	return out
}

// key is the same for sheets whose parts are the same and lie alike.
func (l *Layout) key() string {
	k := binary.AppendVarint(nil, int64(l.Sheet))
	for _, p := range l.Parts {
		for _, v := range [...]int64{int64(p.Item), int64(p.X), int64(p.Y), int64(p.W), int64(p.H), int64(p.Group), int64(p.Panel), int64(p.Strip)} {
			k = binary.AppendVarint(k, v)
		}
		k = strconv.AppendBool(k, p.Turned)
	}
	return string(k)
}

// mark names a tree so that equal trees sort together.
func (b *bin) mark() string {
	var s []byte
	var walk func(i int32)
	walk = func(i int32) {
		n := &b.n[i]
		s = strconv.AppendInt(s, int64(n.typ), 10)
		s = strconv.AppendBool(append(s, ','), n.vert)
		s = strconv.AppendBool(append(s, ','), n.rot)
		s = append(s, '(')
		for c := n.first; c >= 0; c = b.n[c].next {
			walk(c)
		}
		s = append(s, ')')
	}
	walk(0)
	return string(s)
}

func (d *drafter) draft(b *bin) Layout {
	d.b = b
	d.lay = &Layout{Sheet: d.p.sheets[b.sheet].job, Copies: 1}
	s := d.job.Sheets[d.lay.Sheet]
	d.lay.Root = d.trim(s)
	slices.SortStableFunc(d.lay.Offcuts, func(a, b Node) int {
		return cmp.Compare(b.W.Metres()*b.H.Metres(), a.W.Metres()*a.H.Metres())
	})
	return *d.lay
}

// trim lays out what is left of a sheet inside its trims.
func (d *drafter) trim(s Sheet) Node {
	w, h := s.Usable()
	return d.trimmed(s, d.node(0, s.Trim.Left, s.Trim.Bottom, w, h))
}

// trimmed is the whole sheet: the edges are cut off, the long ones first.
func (d *drafter) trimmed(s Sheet, inner Node) Node {
	w, h := s.Usable()
	t := s.Trim
	if s.W >= s.H {
		return d.edges(0, 0, s.W, s.H, false, t.Bottom, t.Top, d.edges(0, t.Bottom, s.W, h, true, t.Left, t.Right, inner))
	}
	return d.edges(0, 0, s.W, s.H, true, t.Left, t.Right, d.edges(t.Left, 0, w, s.H, false, t.Bottom, t.Top, inner))
}

// edges is a rectangle with two opposite edges trimmed.
func (d *drafter) edges(x, y, w, h unit.Length, vert bool, near, far unit.Length, inner Node) Node {
	if near == 0 && far == 0 {
		return inner
	}
	n := Node{X: x, Y: y, W: w, H: h, Kind: Split, Vertical: vert}
	if near > d.p.kerf {
		e := Node{X: x, Y: y, W: w, H: near - d.p.kerf, Kind: Waste}
		if vert {
			e.W, e.H = near-d.p.kerf, h
		}
		n.Children = append(n.Children, e)
	}
	n.Children = append(n.Children, inner)
	if far > d.p.kerf {
		e := Node{X: x, Y: y + h - far + d.p.kerf, W: w, H: far - d.p.kerf, Kind: Waste}
		if vert {
			e = Node{X: x + w - far + d.p.kerf, Y: y, W: far - d.p.kerf, H: h, Kind: Waste}
		}
		n.Children = append(n.Children, e)
	}
	return n
}

// real is the length of n steps less the kerf.
func (d *drafter) real(steps int64, vert bool) unit.Length {
	if vert {
		return unit.Length(steps)*d.p.unitX - d.p.kerf
	}
	return unit.Length(steps)*d.p.unitY - d.p.kerf
}

// node drafts tree node i into the rectangle given, which is as large as the
// node or less than a step larger.
func (d *drafter) node(i int32, x, y, w, h unit.Length) Node {
	n := d.b.n[i]
	switch {
	case n.typ == freeLeaf:
		return d.rest(x, y, w, h)
	case n.typ >= 0:
		return d.part(n, x, y, w, h)
	}
	out := Node{X: x, Y: y, W: w, H: h, Kind: Split, Vertical: n.vert}
	var filled []int32
	for c := n.first; c >= 0; c = d.b.n[c].next {
		if d.b.n[c].typ != freeLeaf {
			filled = append(filled, c)
		}
	}
	slices.SortStableFunc(filled, func(a, b int32) int { // equal settings follow one another
		if n.vert {
			return cmp.Compare(d.b.n[b].w, d.b.n[a].w)
		}
		return cmp.Compare(d.b.n[b].h, d.b.n[a].h)
	})
	at, end := y, y+h
	if n.vert {
		at, end = x, x+w
	}
	for _, c := range filled {
		if n.vert {
			l := d.real(d.b.n[c].w, true)
			out.Children = append(out.Children, d.node(c, at, y, l, h))
			at += l + d.p.kerf
		} else {
			l := d.real(d.b.n[c].h, false)
			out.Children = append(out.Children, d.node(c, x, at, w, l))
			at += l + d.p.kerf
		}
	}
	if at < end {
		if n.vert {
			out.Children = append(out.Children, d.rest(at, y, end-at, h))
		} else {
			out.Children = append(out.Children, d.rest(x, at, w, end-at))
		}
	}
	return out
}

// part drafts a part, freed from less than a step of waste where the sheet is
// not a whole number of steps.
func (d *drafter) part(n node, x, y, w, h unit.Length) Node {
	pw, ph := d.real(n.w, true), d.real(n.h, false)
	if w > pw {
		out := Node{X: x, Y: y, W: w, H: h, Kind: Split, Vertical: true, Children: []Node{d.part(n, x, y, pw, h)}}
		if over := w - pw - d.p.kerf; over > 0 {
			out.Children = append(out.Children, d.rest(x+pw+d.p.kerf, y, over, h))
		}
		return out
	}
	if h > ph {
		out := Node{X: x, Y: y, W: w, H: h, Kind: Split, Children: []Node{d.part(n, x, y, w, ph)}}
		if over := h - ph - d.p.kerf; over > 0 {
			out.Children = append(out.Children, d.rest(x, y+ph+d.p.kerf, w, over))
		}
		return out
	}
	item := d.give(int(n.typ))
	turned := pw != d.job.Items[item].W
	d.lay.Parts = append(d.lay.Parts, Placed{Item: item, X: x, Y: y, W: pw, H: ph, Turned: turned})
	return Node{X: x, Y: y, W: pw, H: ph, Kind: Part, Item: item, Turned: turned}
}

// give hands out the next item of a type.
func (d *drafter) give(t int) int {
	l := &d.next[t][0]
	item := l.item
	if l.qty--; l.qty == 0 {
		d.next[t] = d.next[t][1:]
	}
	return item
}

// rest drafts what is left over.
func (d *drafter) rest(x, y, w, h unit.Length) Node {
	n := Node{X: x, Y: y, W: w, H: h, Kind: Waste}
	if d.job.keeps(w, h) {
		n.Kind = Offcut
		d.lay.Offcuts = append(d.lay.Offcuts, n)
	}
	return n
}
