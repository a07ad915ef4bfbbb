package cutting

// A pieceSet is a set of pieces; of a type with several it holds the first ones.
type pieceSet [4]uint64

// Pieces numbers the pieces of a problem for sets of them.
type pieces struct {
	p    *problem
	at   []int    // of each type: its first piece
	many pieceSet // pieces of types with more than one
}

func newPieces(p *problem) pieces {
	g := pieces{p: p}
	n := 0
	for _, t := range p.types {
		g.at = append(g.at, n)
		for k := range t.qty {
			if t.qty > 1 {
				g.many[(n+k)>>6] |= 1 << ((n + k) & 63)
			}
		}
		n += t.qty
	}
	return g
}

// first is the set of one piece of a type.
func (g *pieces) first(t int) (set pieceSet) {
	set[g.at[t]>>6] = 1 << (g.at[t] & 63)
	return set
}

// union is the pieces of both, unless some piece would be in both.
func (g *pieces) union(a, b *pieceSet) (u pieceSet, ok bool) {
	var both uint64
	for i := range u {
		u[i] = a[i] | b[i]
		if a[i]&b[i]&^g.many[i] != 0 {
			return u, false
		}
		both |= a[i] & b[i]
	}
	if both == 0 {
		return u, true
	}
	for t, at := range g.at {
		n := g.count(b, t)
		if n == 0 {
			continue
		}
		m := g.count(a, t)
		if m+n > g.p.types[t].qty {
			return u, false
		}
		for k := at + m; k < at+m+n; k++ {
			u[k>>6] |= 1 << (k & 63)
		}
	}
	return u, true
}

// count is how many pieces of a type are in a set.
func (g *pieces) count(s *pieceSet, t int) int {
	n := 0
	for k := g.at[t]; n < g.p.types[t].qty && s[k>>6]>>(k&63)&1 > 0; k++ {
		n++
	}
	return n
}
