package cutting

import "slices"

// An album holds the patterns known, with their trees, each once.
type album struct {
	list []pattern
	seen map[uint64]bool
}

const mostKnown = 4_000

func newAlbum() album { return album{seen: map[uint64]bool{}} }

// name tells patterns apart by what they hold.
func (pat pattern) name() uint64 {
	r := newRNG(uint64(pat.sheet) << 40)
	h := r.next()
	for _, u := range pat.use {
		r := newRNG(uint64(u.typ)<<20 + uint64(u.n))
		h += r.next() // a sum: the order of parts does not matter
	}
	return h
}

func (a *album) learn(pat pattern) {
	if k := pat.name(); !a.seen[k] {
		a.seen[k] = true
		a.list = append(a.list, pat)
	}
}

// forget drops the patterns known longest when they are too many.
func (a *album) forget() {
	if len(a.list) <= mostKnown {
		return
	}
	old := len(a.list) - mostKnown/2
	for _, pat := range a.list[:old] {
		delete(a.seen, pat.name())
	}
	a.list = slices.Delete(a.list, 0, old)
}
