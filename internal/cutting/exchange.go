package cutting

import (
	"context"
	"math"
	"slices"
)

// An exchange looks for cheaper layouts by exchanging some sheets at a time for
// others, where few parts lie on a sheet. By the prices of the parts in the
// program over patterns every pattern loses something: what its sheet costs above
// what it holds. The losses of all sheets make up what a layout costs above the
// program's value. A pattern is drawn and put in; the sheets that it takes parts
// from, and some that lose much, are taken apart, and the patterns that hold
// their parts and lose the least together are picked outright: few patterns lose
// so little. As in the search, a change is kept unless it is worse than some
// changes ago.
type exchange struct {
	p      *problem
	rng    rng
	worth  []float64 // of each type
	scarce []float64 // of each kind of sheet: what one left in stock is worth
	pats   []exchanged

	now      []placed
	spare    []int // sheets left in stock, of each kind
	loss     float64
	price    int64
	least    int64 // of the best layout
	hist     []float64
	tries    int
	vain     int      // since the last cheaper layout
	lowest   float64  // loss since it began anew
	stuck    int      // tries since then
	patience int      // and at most
	base     []placed // a layout of all parts
	some     float64  // a piece is worth so much at least, where one begins anew
	width    float64  // sheets taken apart at one time
	work     int
	picker   exchangePicker
}

// An exchanged pattern may be put in.
type exchanged struct {
	pattern
	set  int32 // of a table, until it is drawn; -1: none
	loss float64
}

// placed is a pattern of the layout, less what others hold.
type placed struct {
	pat  *exchanged
	use  []run
	loss float64
}

// takeOff takes what a pattern holds off what is needed.
func takeOff(pat *exchanged, loss float64, need []int32) placed {
	p := placed{pat: pat, loss: loss}
	for _, u := range pat.use {
		if n := min(int32(u.n), need[u.typ]); n > 0 {
			p.use = append(p.use, run{u.typ, int(n)})
			need[u.typ] -= n
		}
	}
	return p
}

// Limits of exchanges, chosen by trial on drawn jobs.
const (
	exchangeBack  = 20   // changes that a change is compared with
	exchangeNodes = 200  // of one exchange
	exchangeStuck = 1000 // exchanges without a better layout, before it begins anew; twice as many each time
	exchangeLot   = 0.1  // share by which luck makes a pattern worse, as it does
	exchangeFree  = 0.1  // share of exchanges without a pattern drawn
	exchangeLeast = 3    // sheets at a time
	exchangeShare = 5e-3 // of the loss of all sheets, that each counts for when some are drawn
)

// newExchange may put in the patterns given, those that lose the least first.
func newExchange(p *problem, r rng, worth, scarce []float64, pats []exchanged) *exchange {
	x := &exchange{p: p, rng: r, worth: worth, scarce: scarce, pats: pats, width: exchangeLeast + 1, patience: exchangeStuck}
	x.picker.x = x
	return x
}

// loses is what a pattern loses by the prices of the program.
func loses(p *problem, worth, scarce []float64, pat pattern) float64 {
	v := float64(p.sheets[pat.sheet].price) + scarce[pat.sheet]
	for _, u := range pat.use {
		v -= worth[u.typ] * float64(u.n)
	}
	return v
}

// lost is what it loses where only some pieces are needed.
func (x *exchange) lost(pat *exchanged, need []int32) float64 {
	v := pat.loss
	for _, u := range pat.use {
		if over := int32(u.n) - need[u.typ]; over > 0 {
			v += x.worth[u.typ] * float64(over)
		}
	}
	return v
}

// run exchanges until so much work is done, or so many exchanges were in vain, or
// there is a cheaper layout, which it returns.
func (x *exchange) run(ctx context.Context, work, vain int) (list []pattern) {
	for stop := x.work + work; x.work < stop && x.vain < vain && ctx.Err() == nil && len(x.now) > 0 && len(x.pats) > 0; {
		x.vain++
		if x.once(); x.price < x.least {
			x.least, x.vain = x.price, 0
			for _, s := range x.now {
				list = append(list, s.pat.pattern)
			}
			return list
		}
	}
	return nil
}

// once tries one exchange.
func (x *exchange) once() {
	x.tries++
	if x.stuck++; x.stuck > x.patience {
		x.patience *= 2
		x.anew()
	}
	x.work += 20 + len(x.now)
	k := &x.picker
	var in *exchanged
	if x.rng.float() >= exchangeFree {
		v := x.rng.float()
		in = &x.pats[int(v*v*float64(len(x.pats)))]
	}
	out := x.choose(in)
	if out == nil {
		return
	}
	// What the sheets taken apart lose, with what may be lost more.
	limit := max(x.loss, x.hist[x.tries%len(x.hist)]) - x.loss
	if !k.set(out) {
		x.width = max(exchangeLeast, x.width-1)
		return
	}
	for s := range k.stock {
		k.stock[s] += x.spare[s]
		limit += x.scarce[s] * float64(x.spare[s])
	}
	for _, o := range out {
		limit += x.now[o].loss
	}
	base := 0.0
	if in != nil {
		base = x.lost(in, k.need)
		if base >= limit || k.stock[in.sheet] == 0 {
			return
		}
	}
	if k.pick(in, base, limit) {
		x.change(out)
	}
	h := &x.hist[x.tries%len(x.hist)]
	*h = min(*h, x.loss)
	if k.nodes > exchangeNodes {
		x.width = max(exchangeLeast, x.width-0.05)
	} else {
		x.width = min(float64(len(x.now)), x.width+0.01)
	}
}

// choose draws the sheets to be taken apart: those that hold parts of the
// pattern that comes in, and some that lose much.
func (x *exchange) choose(in *exchanged) (out []int) {
	taken := make([]bool, len(x.now))
	if in != nil {
		for _, s := range x.now {
			if s.pat == in {
				return nil
			}
		}
		for _, u := range in.use {
			need := u.n
			for i := range x.now {
				for _, v := range x.now[i].use {
					if v.typ == u.typ && need > 0 {
						need -= v.n
						if !taken[i] {
							taken[i] = true
							out = append(out, i)
						}
					}
				}
			}
		}
	}
	n := int(x.width) + x.rng.below(2)
	if in != nil {
		n = max(n, len(out)+x.rng.below(2))
	}
	share := 1.0
	all := 0.0
	for _, s := range x.now {
		all += max(0, s.loss)
	}
	if all > 0 {
		share = all * exchangeShare
	}
	all += share * float64(len(x.now))
	for n = min(n, len(x.now)); len(out) < n; {
		v := x.rng.float() * all
		for i, s := range x.now {
			if v -= max(0, s.loss) + share; v <= 0 || i == len(x.now)-1 {
				if !taken[i] {
					taken[i] = true
					out = append(out, i)
				}
				break
			}
		}
	}
	return out
}

// change puts in what was picked for the sheets taken apart.
func (x *exchange) change(out []int) {
	slices.Sort(out)
	for k := len(out) - 1; k >= 0; k-- {
		o := &x.now[out[k]]
		x.price -= x.p.sheets[o.pat.sheet].price
		x.spare[o.pat.sheet]++
		x.now[out[k]] = x.now[len(x.now)-1]
		x.now = x.now[:len(x.now)-1]
	}
	for _, p := range x.picker.best {
		x.price += x.p.sheets[p.pat.sheet].price
		x.spare[p.pat.sheet]--
		x.now = append(x.now, p)
	}
	x.weigh()
	if x.loss < x.lowest-1e-9*math.Abs(x.lowest) {
		x.lowest, x.stuck = x.loss, 0
	}
}
