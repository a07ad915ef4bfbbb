package cutting

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// An exchangePicker picks the patterns that hold some parts and lose least.
type exchangePicker struct {
	x     *exchange
	need  []int32 // of each type
	bit   []uint8 // of each type needed
	types []int   // of each bit
	open  uint64  // types needed still
	stock []int
	cands []candidate // of the nodes from the first down to the one at hand
	picks []placed
	best  []placed
	limit float64 // of what all may lose
	nodes int
}

// A candidate is a pattern that may be picked, and what it loses.
type candidate struct {
	pat   *exchanged
	holds uint64 // types needed
	loss  float64
	tried bool
}

// exchangeTypes is how many types may be needed.
const exchangeTypes = 64

// set asks for the parts of some sheets; it is false where they are too many.
func (k *exchangePicker) set(out []int) bool {
	x := k.x
	if k.need == nil {
		k.need, k.bit = make([]int32, len(x.p.types)), make([]uint8, len(x.p.types))
	}
	k.stock = slices.Grow(k.stock[:0], len(x.p.sheets))[:len(x.p.sheets)]
	clear(k.need)
	clear(k.stock)
	k.open, k.types = 0, k.types[:0]
	for _, o := range out {
		for _, u := range x.now[o].use {
			if k.need[u.typ] == 0 {
				if len(k.types) == exchangeTypes {
					return false
				}
				k.bit[u.typ] = uint8(len(k.types))
				k.open |= 1 << len(k.types)
				k.types = append(k.types, u.typ)
			}
			k.need[u.typ] += int32(u.n)
		}
		k.stock[x.now[o].pat.sheet]++
	}
	return true
}

// pick looks for patterns, with one that is in, that lose less than limit.
func (k *exchangePicker) pick(in *exchanged, base, limit float64) bool {
	x := k.x
	k.limit, k.nodes = limit+1e-9*math.Abs(limit), 0
	k.picks, k.best, k.cands = k.picks[:0], nil, k.cands[:0]
	if in != nil {
		k.take(in, base)
	}
	for i := range x.pats {
		p := &x.pats[i]
		if base+p.loss >= k.limit {
			x.work += 3 * i
			break
		}
		if k.stock[p.sheet] > 0 {
			k.offer(p, base)
		}
	}
	k.node(0, base)
	return k.best != nil
}

// offer makes a pattern a candidate, unless it loses too much.
func (k *exchangePicker) offer(p *exchanged, before float64) {
	loss, holds := p.loss, uint64(0)
	for _, u := range p.use {
		n := k.need[u.typ]
		if n > 0 {
			holds |= 1 << k.bit[u.typ]
		}
		if over := int32(u.n) - n; over > 0 {
			if loss += k.x.worth[u.typ] * float64(over); before+loss >= k.limit {
				return
			}
		}
	}
	if holds != 0 {
		k.cands = append(k.cands, candidate{p, holds, loss, false})
	}
}

// take picks a pattern, and tells the types that it takes pieces of; back undoes
// that.
func (k *exchangePicker) take(pat *exchanged, loss float64) (took uint64) {
	p := takeOff(pat, loss, k.need)
	for _, u := range p.use {
		b := uint64(1) << k.bit[u.typ]
		took |= b
		if k.need[u.typ] == 0 {
			k.open &^= b
		}
	}
	k.stock[pat.sheet]--
	k.picks = append(k.picks, p)
	return took
}

func (k *exchangePicker) back() {
	p := k.picks[len(k.picks)-1]
	for _, u := range p.use {
		k.need[u.typ] += int32(u.n)
		k.open |= 1 << k.bit[u.typ]
	}
	k.stock[p.pat.sheet]++
	k.picks = k.picks[:len(k.picks)-1]
}

// node covers what is needed with the candidates from a place on.
func (k *exchangePicker) node(from int, loss float64) {
	x := k.x
	if k.open == 0 {
		for s, n := range k.stock {
			loss += x.scarce[s] * float64(n)
		}
		if loss < k.limit {
			k.limit, k.best = loss, slices.Clone(k.picks)
		}
		return
	}
	if k.nodes++; k.nodes > exchangeNodes {
		return
	}
	to := len(k.cands)
	typ, least := k.fewest(from)
	if loss+least >= k.limit {
		x.work += 6 * (to - from)
		return
	}
	var order []int
	for i := from; i < to; i++ {
		if k.cands[i].holds>>typ&1 > 0 {
			order = append(order, i)
		}
	}
	x.work += 6 * (to - from)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(k.cands[a].loss, k.cands[b].loss) })
	for _, i := range order {
		c := k.cands[i]
		if loss+c.loss >= k.limit {
			break
		}
		took := k.take(c.pat, c.loss)
		k.narrow(from, to, took, loss+c.loss)
		k.node(to, loss+c.loss)
		k.cands = k.cands[:to]
		k.back()
		k.cands[i].tried = true
		if k.nodes > exchangeNodes {
			return
		}
	}
}

// fewest is the type needed that the fewest candidates hold. It tells as well
// what is lost at least: the types of a pattern bear the same share of what it
// loses each, and each type needed bears some share.
func (k *exchangePicker) fewest(from int) (typ int, least float64) {
	var count [exchangeTypes]int
	var share [exchangeTypes]float64
	for i := from; i < len(k.cands); i++ {
		c := &k.cands[i]
		part := c.loss / float64(bits.OnesCount64(c.holds))
		for v := c.holds; v != 0; v &= v - 1 {
			b := bits.TrailingZeros64(v)
			if count[b] == 0 || part < share[b] {
				share[b] = part
			}
			count[b]++
		}
	}
	typ = bits.TrailingZeros64(k.open)
	for v := k.open; v != 0; v &= v - 1 {
		b := bits.TrailingZeros64(v)
		if least += share[b]; count[b] < count[typ] {
			typ = b
		}
	}
	return typ, least
}

// narrow lists the candidates of a node that are left after a pick that took
// pieces of some types.
func (k *exchangePicker) narrow(from, to int, took uint64, loss float64) {
	k.x.work += 2 * (to - from)
	for i := from; i < to; i++ {
		c := &k.cands[i]
		if c.tried || loss+c.loss >= k.limit || k.stock[c.pat.sheet] == 0 {
			continue
		}
		switch gone := c.holds & took &^ k.open; {
		case c.holds&took == 0:
			k.cands = append(k.cands, *c)
		case gone == 0 || loss+c.loss+k.x.worth[k.types[bits.TrailingZeros64(gone)]] < k.limit:
			k.offer(c.pat, loss)
		}
	}
}
