package cutting

import (
	"context"
	"math"
	"slices"
)

// A cover is the mix of a lot of sheets that cost nothing, where what is not
// made counts by its area, as shares of the largest sheet. Its value is the
// area that patterns cut a share of a time leave over; a bound above nothing
// shows that the lot is too little.

// filled is a value of a cover that counts as nothing left over.
const filled = 1e-7

// newCoverMix returns nil where the tables of its patterns are too large.
func newCoverMix(ctx context.Context, p *problem, lot []int) *mix {
	q := *p
	q.sheets = slices.Clone(p.sheets)
	unit := 0.0
	for i := range q.sheets {
		s := &q.sheets[i]
		s.price, s.stock = 0, lot[i]
		unit = max(unit, float64(s.w)*float64(s.h))
	}
	from := newPanelSeeker(&q, nil)
	if from.g == nil {
		return nil
	}
	m := newMix(ctx, &q, from)
	m.cover = true
	for i, t := range q.types {
		m.out[i] = t.area / unit
		m.cols[2*i].price = m.out[i]
	}
	return m
}

// cover adds patterns until all pieces are made, some are shown to be left
// over, or so many pricings are done. Hard tells to look longer for a pattern
// before it is said that none pays.
func (d *sheetDive) cover(m *mix, pricings int, hard bool) {
	f := m.from.(*panelSeeker)
	f.level, f.levels = 0, 0
	if hard {
		f.levels = seekLevels
	}
	d.moves++
	m.relax(func() bool {
		d.count(m)
		pricings--
		return pricings < 0 || d.over(m.ctx) || m.value() <= filled || m.bound > 1e-9 && f.exact()
	})
	d.count(m)
}

// count counts the work done since it was last counted as moves.
func (d *sheetDive) count(m *mix) {
	n := (*m.work - d.counted) / moveWork
	d.moves += n
	d.counted += n * moveWork
}

// tooLittle is what shows that the lot of a cover is too little, or nil.
func (m *mix) tooLittle() *need {
	if m.bound > 0 && m.from.(*panelSeeker).exact() {
		return &m.proof
	}
	return nil
}

// leeway is how much a pattern of a sheet may be worth beyond its dual while
// the parts of a cover, worth low, are still worth more than all sheets.
func (m *mix) leeway(low, scale float64, sh psheet) float64 {
	if !m.from.(*panelSeeker).exact() {
		return 0
	}
	over, all := 0.0, 0.0
	for i, s := range m.p.sheets {
		all += float64(m.stock[i]) * float64(s.w) * float64(s.h)
		if r := m.row[i]; r >= 0 {
			over += float64(m.stock[i]) * max(0, math.Floor(-m.at[r]*scale))
		}
	}
	if low <= over || all == 0 {
		return 0
	}
	return max(0, math.Floor((low-over)*(1-1e-9)*float64(sh.w)*float64(sh.h)/all)-2)
}

// own gives the demand for all types in the numbers of the mix.
func (m *mix) own(demand []int) []int {
	if m.root == nil {
		return slices.Clone(demand)
	}
	out := make([]int, len(m.root))
	for i, t := range m.root {
		out[i] = demand[t]
	}
	return out
}

// used lists the patterns of the mix's answer, with the numbers that types have
// in the whole problem.
func (m *mix) used() []share {
	list := m.shares()
	for i := range list {
		use := slices.Clone(list[i].pat.use)
		for k := range use {
			use[k].typ = m.whole(use[k].typ)
		}
		list[i].pat.use = use
	}
	return list
}
