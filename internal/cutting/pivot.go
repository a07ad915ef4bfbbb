package cutting

import "math"

// values computes x afresh.
func (m *mix) values() {
	for k, row := range m.inv {
		v := 0.0
		for r, b := range m.rhs {
			v += row[r] * b
		}
		m.x[k] = v
	}
	*m.work += m.rows * m.rows / 2
}

func (m *mix) cost(j int) float64 {
	if m.loose[j] && !m.firm {
		return m.miss
	}
	return m.cols[j].price
}

// duals computes y afresh.
func (m *mix) duals() {
	clear(m.y)
	for k, j := range m.basis {
		if c := m.cost(int(j)); c != 0 {
			for r, v := range m.inv[k] {
				m.y[r] += c * v
			}
		}
	}
	*m.work += m.rows * m.rows / 2
}

// value is the value of the program as it stands.
func (m *mix) value() float64 {
	v := 0.0
	for k, j := range m.basis {
		v += m.cost(int(j)) * max(0, m.x[k])
	}
	return v
}

// reduced is what a unit of column j adds to the value.
func (m *mix) reduced(j int) float64 {
	c := &m.cols[j]
	v := m.cost(j)
	for i, r := range c.idx {
		v -= m.y[r] * c.val[i]
	}
	return v
}

// run solves the program over the columns known, and reports whether it came
// to an end.
func (m *mix) run() bool {
	m.steps = 0
	for m.dualStep() {
		if !m.tick(50*m.rows + 1000) {
			return false
		}
	}
	m.steps = 0
	for j := range m.weight {
		m.weight[j] = 1
	}
	m.reduce()
	for m.primalStep() {
		if !m.tick(m.cap) {
			return false
		}
	}
	return true
}

func (m *mix) tick(most int) bool {
	if m.steps++; m.steps%100 == 0 {
		if m.ctx.Err() != nil {
			return false
		}
		m.values()
		m.duals()
		m.reduce()
	}
	return m.steps < most
}

// dualStep takes out the number that is farthest off: below nothing or, where
// columns that are shut keep their price, above it of one of those.
func (m *mix) dualStep() bool {
	out, top := -1, 0.0
	for k, v := range m.x {
		if v >= -1e-7 && !(m.firm && v > 1e-7 && m.loose[m.basis[k]]) {
			continue
		}
		long := 0.0
		for _, r := range m.inv[k] {
			long += r * r
		}
		*m.work += m.rows
		if v = v * v / long; v > top {
			out, top = k, v
		}
	}
	if out < 0 {
		return false
	}
	sign := 1.0
	if m.x[out] > 0 {
		sign = -1
	}
	rho := m.inv[out]
	in, ratio, size := -1, math.Inf(1), 0.0
	for j := range m.cols {
		if m.where[j] >= 0 || m.loose[j] {
			continue
		}
		c := &m.cols[j]
		a := 0.0
		for i, r := range c.idx {
			a += rho[r] * c.val[i]
		}
		a *= sign
		if a > -1e-6 {
			continue
		}
		g := max(0, m.reduced(j)) / -a
		if g < ratio-1e-10 || g <= ratio+1e-10 && -a > size {
			in, ratio, size = j, min(ratio, g), -a
		}
	}
	*m.work += 6 * len(m.cols)
	if in < 0 {
		m.x[out] = 0 // cannot be: a piece may be left out
		return true
	}
	m.direction(in)
	m.pivot(in, out)
	return true
}

// primalStep brings in the column that pays best for the length of its way
// (Harris 1973).
func (m *mix) primalStep() bool {
	in, top := -1, 0.0
	for j, g := range m.rc {
		if g < -1e-7*m.top && m.where[j] < 0 && !m.loose[j] {
			if v := g * g / m.weight[j]; v > top {
				in, top = j, v
			}
		}
	}
	if in < 0 {
		return false
	}
	m.direction(in)
	out, ratio := -1, math.Inf(1)
	for k, d := range m.d {
		if d <= 1e-6 {
			continue
		}
		t := max(0, m.x[k]) / d
		if t < ratio-1e-10 || t <= ratio+1e-10 && d > m.d[out] {
			out, ratio = k, min(t, ratio)
		}
	}
	if out < 0 {
		return false // cannot be: every price is positive
	}
	m.carry(in, out)
	m.pivot(in, out)
	return true
}

// carry carries reduced prices and weights over a pivot.
func (m *mix) carry(in, out int) {
	rho := m.inv[out]
	piv := m.d[out]
	g := m.rc[in] / piv
	w := m.weight[in] / (piv * piv)
	for j := range m.cols {
		if m.where[j] >= 0 {
			continue
		}
		c := &m.cols[j]
		a := 0.0
		for i, r := range c.idx {
			a += rho[r] * c.val[i]
		}
		if a == 0 {
			continue
		}
		m.rc[j] -= g * a
		if v := a * a * w; v > m.weight[j] {
			m.weight[j] = v
		}
	}
	j := m.basis[out]
	m.rc[j] = -g
	m.weight[j] = max(w, 1)
	m.rc[in] = 0
	*m.work += 4 * len(m.cols)
}

// reduce computes reduced prices afresh.
func (m *mix) reduce() {
	for j := range m.cols {
		m.rc[j] = 0
		if m.where[j] < 0 {
			m.rc[j] = m.reduced(j)
		}
	}
	*m.work += 4 * len(m.cols)
}

// direction is column j in terms of the basis.
func (m *mix) direction(j int) {
	c := &m.cols[j]
	for k, row := range m.inv {
		v := 0.0
		for i, r := range c.idx {
			v += row[r] * c.val[i]
		}
		m.d[k] = v
	}
}

// pivot brings column in, whose direction is set, into place out of the basis.
func (m *mix) pivot(in, out int) {
	gain := m.reduced(in)
	piv := m.inv[out]
	f := 1 / m.d[out]
	m.nz = m.nz[:0]
	for r, v := range piv {
		if v != 0 {
			if v *= f; math.Abs(v) < 1e-13 {
				v = 0
			} else {
				m.nz = append(m.nz, int32(r))
			}
			piv[r] = v
		}
	}
	t := m.x[out] * f
	dense := len(m.nz)*3 > len(piv)
	for k, g := range m.d {
		if k == out || g > -1e-12 && g < 1e-12 {
			continue
		}
		row := m.inv[k]
		if dense {
			row = row[:len(piv)]
			for r, v := range piv {
				row[r] -= g * v
			}
			*m.work += len(piv)
		} else {
			for _, r := range m.nz {
				row[r] -= g * piv[r]
			}
			*m.work += len(m.nz)
		}
		if m.x[k] -= t * g; m.x[k] < 0 && m.x[k] > -1e-9 {
			m.x[k] = 0
		}
	}
	m.x[out] = t
	for _, r := range m.nz {
		m.y[r] += gain * piv[r]
	}
	m.where[m.basis[out]] = -1
	m.basis[out], m.where[in] = int32(in), int32(out)
}
