package unit

// Round is the multiple of step nearest to l, halves away from zero. A step
// that is not positive leaves l as it is.
func (l Length) Round(step Length) Length {
	if step <= 0 {
		return l
	}
	rest := l % step // has the sign of l
	switch {
	case rest >= step-rest:
		return l - rest + step
	case rest <= -step-rest:
		return l - rest - step
	}
	return l - rest
}

// RoundDown is the greatest multiple of step that is not more than l: the
// size to take when the part must not be larger. A step that is not positive
// leaves l as it is.
func (l Length) RoundDown(step Length) Length {
	if step <= 0 {
		return l
	}
	rest := l % step
	if rest < 0 {
		rest += step
	}
	return l - rest
}

// RoundUp is the least multiple of step that is not less than l: the size to
// take when the part must not be smaller. A step that is not positive leaves l
// as it is.
func (l Length) RoundUp(step Length) Length {
	down := l.RoundDown(step)
	if down == l {
		return l
	}
	return down + step
}
