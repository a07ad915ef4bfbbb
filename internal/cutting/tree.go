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
	span                int32 // nodes from here on that are it and all below it, as a packer left them; 0: changed since
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

	thick, long int64 // the largest smaller side of a room, and the largest of all sides

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
	b.thick, b.long = min(w, h), max(w, h)
	b.owner = nil
}

func (b *bin) copyFrom(o *bin) {
	b.sheet, b.used, b.stamp = o.sheet, o.used, o.stamp
	b.n = append(b.n[:0], o.n...)
	b.free = append(b.free[:0], o.free...)
	b.thick, b.long = o.thick, o.long
	b.owner = nil
}

// gauge measures the rooms anew.
func (b *bin) gauge() {
	b.thick, b.long = 0, 0
	for i := range b.free {
		f := &b.free[i]
		b.thick, b.long = max(b.thick, min(f.w, f.h)), max(b.long, f.w, f.h)
	}
}

// hang makes a node the next child of parent, after last or as the first, and
// returns its number.
func (b *bin) hang(parent, last int32, n node) int32 {
	at := int32(len(b.n))
	n.parent, n.first, n.next = parent, -1, -1
	b.n = append(b.n, n)
	if last < 0 {
		b.n[parent].first = at
	} else {
		b.n[last].next = at
	}
	return at
}

// touch marks node i and all that it lies in as changed.
func (b *bin) touch(i int32) {
	for ; i >= 0 && b.n[i].span > 0; i = b.n[i].parent {
		b.n[i].span = 0
	}
}

// put appends a node without children. Its fields are set where it lies: to put
// a node together first and copy it takes several times as long.
func (b *bin) put(w, h int64, parent, typ int32) *node {
	b.n = append(b.n, node{})
	n := &b.n[len(b.n)-1]
	n.w, n.h = w, h
	n.parent, n.first, n.next = parent, -1, -1
	n.typ = typ
	return n
}

// cutLeaf cuts a free leaf in two and returns the near part, which is neither
// free nor filled yet; the far part is a free leaf. slot is the leaf's place
// in b.free.
func (b *bin) cutLeaf(i int32, vert bool, size int64) int32 {
	w, h, parent, next := b.n[i].w, b.n[i].h, b.n[i].parent, b.n[i].next
	restW, restH := w, h
	if vert {
		w, restW = size, w-size
	} else {
		h, restH = size, h-size
	}
	at := int32(len(b.n))
	if parent >= 0 && b.n[parent].vert == vert {
		b.put(restW, restH, parent, freeLeaf).next = next
		b.free = append(b.free, room{restW, restH, at})
		n := &b.n[i]
		n.w, n.h, n.next = w, h, at
		return i
	}
	b.put(w, h, i, freeLeaf).next = at + 1
	b.put(restW, restH, i, freeLeaf)
	b.free = append(b.free, room{restW, restH, at + 1})
	n := &b.n[i]
	n.typ, n.vert, n.first = splitAt, vert, at
	return at
}

// insert puts a part of type typ, w x h as placed, at the near corner of the
// free leaf b.free[slot]. Where both cuts are needed, vert says which is first.
func (b *bin) insert(slot int, typ int32, w, h int64, rot, vert bool) {
	i := b.free[slot].at
	last := len(b.free) - 1
	b.free[slot] = b.free[last]
	b.free = b.free[:last]
	b.touch(i)
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
	b.gauge()
	b.n[i].typ, b.n[i].rot = typ, rot
	b.used += float64(w) * float64(h)
}
