package cutting

import (
	"cmp"
	"context"
	"math"
	"slices"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// cutApart cuts rectangles at random, each cut from edge to edge, until there are
// so many.
func cutApart(r *rng, list []size, pieces int) []size {
	for len(list) < pieces {
		i := r.below(len(list))
		s := list[i]
		if vert := r.below(2) == 0; vert && s.w > 1 {
			x := 1 + int64(r.below(int(s.w-1)))
			list[i] = size{x, s.h}
			list = append(list, size{s.w - x, s.h})
		} else if !vert && s.h > 1 {
			y := 1 + int64(r.below(int(s.h-1)))
			list[i] = size{s.w, y}
			list = append(list, size{s.w, s.h - y})
		}
	}
	return list
}

// Small sheets are cut up at random, and as a rule some pieces change a
// strip so that the area stays but the sheets may have come out of joint.
// Joining finds a layout without waste just where trying every cut at every
// whole coordinate does.
func TestNoWaste(t *testing.T) {
	found, none := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		r := newRNG(rapid.Uint64().Draw(t, "seed"))
		kerf := int64(r.below(3))
		sheets := make([]size, 1+r.below(2))
		for i := range sheets {
			sheets[i] = size{int64(4 + r.below(7)), int64(4 + r.below(7))}
		}
		list := cutApart(&r, slices.Clone(sheets), len(sheets)+2+r.below(4))
		for range r.below(8) {
			a, b := &list[r.below(len(list))], &list[r.below(len(list))]
			if a != b && a.w == b.h && b.w > 1 {
				a.h, b.w = a.h+1, b.w-1
			} else if a != b && a.h == b.h && b.w > 1 {
				a.w, b.w = a.w+1, b.w-1
			}
		}
		o := &oracle{kerf: int(kerf), memo: map[[3]int]bool{}}
		job := Job{Kerf: unit.Length(kerf), Objective: LeastPrice}
		turn := r.below(3)
		for _, s := range list {
			if s.w <= kerf || s.h <= kerf {
				return
			}
			it := Item{W: unit.Length(s.w - kerf), H: unit.Length(s.h - kerf), Qty: 1, Turn: turn == 1 || turn == 2 && r.below(2) == 0}
			if it.Turn && r.below(2) == 0 {
				it.W, it.H = it.H, it.W
			}
			job.Items = append(job.Items, it)
			o.w, o.h, o.turn = append(o.w, int(it.W)), append(o.h, int(it.H)), append(o.turn, it.Turn)
		}
		var lot []oracleSheet
		for _, s := range sheets {
			job.Sheets = append(job.Sheets, Sheet{W: unit.Length(s.w - kerf), H: unit.Length(s.h - kerf), Price: 1, Stock: 1})
			lot = append(lot, oracleSheet{int(s.w - kerf), int(s.h - kerf), 1, 1})
		}
		p, misfits := newProblem(job)
		if len(misfits) > 0 || len(p.sheets) < len(sheets) {
			return
		}
		var sum int64 // in steps a sheet may be smaller
		for _, s := range p.sheets {
			sum += s.w * s.h
		}
		if float64(sum) != p.area() {
			return
		}
		targets, _ := p.filled(math.MaxInt64)
		j := newJoiner(p, targets)
		if !j.join(context.Background(), math.MaxInt) {
			t.Fatal("too many rectangles")
		}
		bins, whole := j.deal(targets, math.MaxInt64)
		want := o.least(lot, 1<<len(list)-1) < math.MaxInt32
		if !whole || (bins != nil) != want {
			t.Fatalf("%+v: found %t, trying everything finds %t", job, bins != nil, want)
		}
		if bins == nil {
			none++
			return
		}
		found++
		holds(t, p, bins)
	})
	t.Logf("%d without waste, %d not", found, none)
	if found == 0 || none == 0 {
		t.Errorf("%d jobs without waste, %d others: one kind is not tested", found, none)
	}
}

// holds checks that bins hold all pieces and have no rest.
func holds(t *rapid.T, p *problem, bins []*bin) {
	left := make([]int, len(p.types))
	for i, ty := range p.types {
		left[i] = ty.qty
	}
	for _, b := range bins {
		if len(b.free) > 0 {
			t.Fatalf("a rest of %v", b.free[0])
		}
		for _, n := range b.n {
			if n.typ >= 0 {
				left[n.typ]--
				asked(t, p, &n)
			}
		}
	}
	for i, n := range left {
		if n != 0 {
			t.Fatalf("%d pieces of part %d left", n, i)
		}
	}
}

// asked checks that a part has the size, and lies the way, that is asked for.
func asked(t *rapid.T, p *problem, n *node) {
	if ty := p.types[n.typ]; n.rot && (n.w != ty.h || n.h != ty.w || !ty.turn) || !n.rot && (n.w != ty.w || n.h != ty.h) {
		t.Fatalf("a part of %d x %d is cut %d x %d", ty.w, ty.h, n.w, n.h)
	}
}

// Two sheets, the larger one cut again and again until there are forty pieces,
// are put together again at once, with and without turning.
func TestNoWasteLarge(t *testing.T) {
	r := newRNG(4)
	for turn := range 2 {
		for range 5 {
			job := Job{Sheets: []Sheet{{W: 1000, H: 700, Stock: -1, Price: 7}, {W: 1000, H: 300, Stock: -1, Price: 4}}, Objective: LeastPrice}
			list := []size{{1000, 700}, {1000, 300}}
			for len(list) < 40 {
				slices.SortStableFunc(list, func(a, b size) int { return cmp.Compare(b.w*b.h, a.w*a.h) })
				s := &list[0]
				if s.w > s.h {
					x := s.w/4 + int64(r.below(int(s.w/2)))
					list = append(list, size{s.w - x, s.h})
					list[0].w = x
				} else {
					y := s.h/4 + int64(r.below(int(s.h/2)))
					list = append(list, size{s.w, s.h - y})
					list[0].h = y
				}
			}
			for _, s := range list {
				job.Items = append(job.Items, Item{W: unit.Length(s.w), H: unit.Length(s.h), Qty: 1, Turn: turn == 1})
			}
			res, err := Solve(context.Background(), job, Budget{Iterations: 2000})
			if err != nil || res.Value != 11 {
				t.Errorf("value %d (%v), can be cut from one of each for 11", res.Value, err)
			}
		}
	}
}

// The least height is that at which trying every cut finds a layout, and no
// bound is above it, with areas that just fill a height.
func TestLeastHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := newRNG(rapid.Uint64().Draw(t, "seed"))
		kerf, turn := r.below(3), r.below(2) == 0
		strip := size{int64(4 + r.below(6)), int64(3 + r.below(5))}
		list := cutApart(&r, []size{strip}, 3+r.below(4))
		if r.below(2) == 0 {
			for i, s := range list { // on end: the area stays
				if s.h <= strip.w && r.below(2) == 0 {
					list[i] = size{s.h, s.w}
				}
			}
		}
		job := Job{Kerf: unit.Length(kerf), Objective: LeastHeight, Sheets: []Sheet{{W: unit.Length(strip.w) - unit.Length(kerf), H: 100, Stock: 1}}}
		o := &oracle{kerf: kerf, memo: map[[3]int]bool{}}
		for _, s := range list {
			if s.w <= int64(kerf) || s.h <= int64(kerf) || strip.w <= int64(kerf) {
				return
			}
			it := Item{W: unit.Length(s.w) - unit.Length(kerf), H: unit.Length(s.h) - unit.Length(kerf), Qty: 1, Turn: turn}
			job.Items = append(job.Items, it)
			o.w, o.h, o.turn = append(o.w, int(it.W)), append(o.h, int(it.H)), append(o.turn, turn)
		}
		want := 1
		for !o.fits(int(job.Sheets[0].W), want, 1<<len(o.w)-1) {
			want++
		}
		res, err := Solve(context.Background(), job, Budget{Iterations: 3000})
		if err != nil || res.Bound > int64(want) || res.Value != int64(want) {
			t.Fatalf("%+v: value %d, bound %d (%v), trying everything finds %d", job, res.Value, res.Bound, err, want)
		}
	})
}
