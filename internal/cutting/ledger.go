package cutting

// A ledger notes which lots of sheets are too little for all parts.
type ledger struct {
	p     *problem
	needs []need  // that lots have to meet
	out   [][]int // lots ruled out one by one
}

func (p *problem) newLedger() ledger {
	l := ledger{p: p}
	if len(p.sheets) > 1 {
		l.needs = append(l.needs, p.areaNeed())
	}
	return l
}

// next is the cheapest lot of at least so much that is not ruled out.
func (l *ledger) next(low int64) (price int64, lot []int, steps int) {
	return l.p.nextLot(max(low, 1), l.out, l.needs)
}

// exclude notes that a lot is too little, and what shows it of other lots.
func (l *ledger) exclude(b *bound, lot []int, by ...need) {
	l.needs = append(l.needs, by...)
	l.out = append(l.out, lot) // by name too: prices may miss it by rounding
	if len(l.p.sheets) == 1 {
		b.raise(bound{int64(lot[0]+1) * l.p.sheets[0].price, whyFewer(lot[0])})
	}
}

// copied is one that goes on by itself.
func (l *ledger) copied() *ledger {
	return &ledger{l.p, l.needs[:len(l.needs):len(l.needs)], l.out[:len(l.out):len(l.out)]}
}

// add takes in what another notes from a place on.
func (l *ledger) add(o *ledger, needs, out int) {
	l.needs = append(l.needs, o.needs[needs:]...)
	l.out = append(l.out, o.out[out:]...)
}
