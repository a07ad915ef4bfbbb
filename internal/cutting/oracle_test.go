package cutting

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// The oracle tries every cut at every whole coordinate, top down, with real
// kerfs: nothing in common with the solver but the rules of the saw.
type oracle struct {
	kerf int
	w, h []int // of each piece
	turn []bool
	memo map[[3]int]bool

	most   int // stages of cuts; 0: any number
	run    Run // of the strips: those along the length are cut off up the sheet
	staged map[[5]int]bool
}

func (o *oracle) fits(w, h, set int) bool {
	if set == 0 {
		return true
	}
	if w <= 0 || h <= 0 {
		return false
	}
	if set&(set-1) == 0 {
		return o.one(w, h, set)
	}
	if o.most > 0 {
		return o.run != Lengthwise && o.within(w, h, set, 0, o.most) || o.run != Crosswise && o.within(w, h, set, 1, o.most)
	}
	k := [3]int{w, h, set}
	if v, ok := o.memo[k]; ok {
		return v
	}
	v := false
	for sub := (set - 1) & set; sub > 0 && !v; sub = (sub - 1) & set {
		for x := 1; x < w && !v; x++ {
			v = o.fits(x, h, sub) && o.fits(w-x-o.kerf, h, set&^sub)
		}
		for y := 1; y < h && !v; y++ {
			v = o.fits(w, y, sub) && o.fits(w, h-y-o.kerf, set&^sub)
		}
	}
	o.memo[k] = v
	return v
}

// one reports whether the only piece of a set fits.
func (o *oracle) one(w, h, set int) bool {
	i := bits.TrailingZeros(uint(set))
	return o.w[i] <= w && o.h[i] <= h || o.turn[i] && o.h[i] <= w && o.w[i] <= h
}

type oracleSheet struct{ w, h, price, stock int }

// least is the least price of sheets for a set, or a large number.
func (o *oracle) least(sheets []oracleSheet, set int) int {
	if set == 0 {
		return 0
	}
	best := math.MaxInt32
	low := set & -set
	for sub := set; sub > 0; sub = (sub - 1) & set {
		if sub&low == 0 {
			continue
		}
		for i, s := range sheets {
			if s.stock == 0 || !o.fits(s.w, s.h, sub) {
				continue
			}
			rest := append([]oracleSheet(nil), sheets...)
			rest[i].stock--
			best = min(best, s.price+o.least(rest, set&^sub))
		}
	}
	return best
}

func drawSmall(t *rapid.T, sheets int) (Job, *oracle, []oracleSheet) {
	n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	o := &oracle{kerf: n(0, 2, "kerf"), memo: map[[3]int]bool{}}
	job := Job{Kerf: unit.Length(o.kerf), Objective: LeastPrice}
	var list []oracleSheet
	for range n(1, sheets, "sheets") {
		s := oracleSheet{n(3, 11, "W"), n(3, 9, "H"), n(1, 9, "price"), n(-1, 3, "stock")}
		list = append(list, s)
		job.Sheets = append(job.Sheets, Sheet{W: unit.Length(s.w), H: unit.Length(s.h), Price: unit.Money(s.price), Stock: s.stock})
	}
	for left := n(1, 5, "pieces"); left > 0; {
		it := Item{W: unit.Length(n(1, 7, "w")), H: unit.Length(n(1, 6, "h")), Qty: n(1, min(left, 3), "qty"), Turn: rapid.Bool().Draw(t, "turn")}
		left -= it.Qty
		job.Items = append(job.Items, it)
		for range it.Qty {
			o.w, o.h, o.turn = append(o.w, int(it.W)), append(o.h, int(it.H)), append(o.turn, it.Turn)
		}
	}
	return job, o, list
}

// The solver agrees with trying everything in hundreds of small cases with kerf
// and grain; so no bound is above the optimum.
func TestAgainstTryingEverything(t *testing.T) {
	for kinds := 1; kinds <= 3; kinds++ {
		t.Run(fmt.Sprint(kinds), func(t *testing.T) { againstAll(t, kinds) })
	}
}

func againstAll(t *testing.T, kinds int) {
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, kinds)
		agrees(t, job, o, sheets)
	})
}

// agrees compares the solver with the oracle.
func agrees(t *rapid.T, job Job, o *oracle, sheets []oracleSheet) {
	want := o.least(sheets, 1<<len(o.w)-1)
	r, err := Solve(context.Background(), job, Budget{Iterations: 300})
	if err != nil {
		t.Fatal(err)
	}
	if want == math.MaxInt32 {
		if len(r.Short) == 0 {
			t.Fatalf("%+v: laid out what cannot be", job)
		}
		return
	}
	if len(r.Short) > 0 && r.pieces() > 0 && o.least(sheets, 1<<len(o.w)-1) < math.MaxInt32 {
		if limited(sheets) {
			return // the search may miss a way when stock is short; it then claims nothing
		}
		t.Fatalf("%+v: %d pieces short", job, r.pieces())
	}
	if r.Value != int64(want) || r.Bound > int64(want) || !r.Proven && !limited(sheets) {
		t.Fatalf("%+v: value %d (bound %d), optimum %d", job, r.Value, r.Bound, want)
	}
}

// oracleHolds reports whether so many of each sheet of the problem hold a set.
func oracleHolds(o *oracle, p *problem, sheets []oracleSheet, lot []int, set int) bool {
	some := append([]oracleSheet(nil), sheets...)
	for i := range some {
		some[i].stock = 0
	}
	for k, s := range p.sheets {
		some[s.job].stock = lot[k]
	}
	return o.least(some, set) < math.MaxInt32
}

func limited(sheets []oracleSheet) bool {
	for _, s := range sheets {
		if s.stock >= 0 {
			return true
		}
	}
	return false
}

// Each bound by itself stays at or below the optimum.
func TestBoundsAreBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, o, sheets := drawSmall(t, 2)
		if rapid.Bool().Draw(t, "count") {
			job.Objective = FewestSheets
			for i := range sheets {
				sheets[i].price = 1
			}
		}
		want := o.least(sheets, 1<<len(o.w)-1)
		p, misfits := newProblem(job)
		if want == math.MaxInt32 || len(misfits) > 0 {
			return
		}
		boundsHold(t, job, o, p, sheets, want)
	})
}

// boundsHold compares each bound of a problem with the optimum.
func boundsHold(t *rapid.T, job Job, o *oracle, p *problem, sheets []oracleSheet, want int) {
	check := func(name string, v int64) {
		if v > int64(want) {
			t.Fatalf("%+v: %s says %d, optimum %d", job, name, v, want)
		}
	}
	area := p.areaBound().value
	check("area", area)
	check("dual feasible functions", p.dualBound().value)
	check("lots of sheets", p.leastLot(area))
	for _, steps := range []int64{2, 3, 5} {
		b, _ := p.coarseBound(context.Background(), steps, 1<<20)
		check("coarse pattern model", b.value)
	}
	for _, loose := range []bool{true, false} {
		s := newSearch(p, 1)
		s.start()
		s.bestValue = 1 << 30 // as if nothing good were known
		for _, steps := range []int64{3, 6, 200} {
			v, _ := p.newProver(steps, loose)
			if v == nil {
				continue
			}
			for price := int64(0); price <= int64(want); price++ {
				at, lot := p.nextPrice(price, p.areaNeed())
				if lot == nil || at < int64(want) {
					continue
				}
				if oracleHolds(o, p, sheets, lot, 1<<len(o.w)-1) {
					if too, _ := v.excludes(context.Background(), lot, 1<<20); too {
						t.Fatalf("%+v: sheets %v ruled out, but they hold all parts", job, lot)
					}
					d := sheetDive{p: p, stop: 1 << 20}
					if m := d.begin(context.Background(), s, lot); m != nil && m.tooLittle() != nil {
						t.Fatalf("%+v: a dive rules out sheets %v, but they hold all parts", job, lot)
					}
				}
			}
		}
	}
	if n := newPlanner(p); n != nil {
		d := make([]int, len(p.types))
		for i, ty := range p.types {
			d[i] = ty.qty
		}
		check("pattern model", n.bound(n.relax(context.Background(), d, 1<<20, nil)).value)
	}
}

// Lengths against an integer program solved by glpsol (GNU Linear Programming
// Kit): one binary for each bar, one count for each bar and length.
func TestBarsAgainstIntegerProgram(t *testing.T) {
	glpsol, err := exec.LookPath("glpsol")
	if err != nil {
		t.Skip("glpsol (Debian glpk-utils) is not installed; the comparison with an integer program is left out")
	}
	r := newRNG(7)
	for n := range 40 {
		job := BarJob{Kerf: unit.Length(r.below(5)), Objective: LeastPrice}
		for range 1 + r.below(2) {
			job.Bars = append(job.Bars, Bar{Len: unit.Length(60 + r.below(60)), Price: unit.Money(5 + r.below(20)), Stock: -1})
		}
		for range 2 + r.below(4) {
			job.Items = append(job.Items, BarItem{Len: unit.Length(11 + r.below(48)), Qty: 1 + r.below(3)})
		}
		got, err := SolveBars(context.Background(), job, Budget{})
		if err != nil {
			t.Fatal(err)
		}
		if want := integerProgram(t, glpsol, job); got.Value != want || got.Bound > want {
			t.Errorf("job %d %+v: value %d, bound %d, integer program %d", n, job, got.Value, got.Bound, want)
		}
	}
}

func integerProgram(t *testing.T, glpsol string, job BarJob) int64 {
	pieces := 0
	for _, it := range job.Items {
		pieces += it.Qty
	}
	var cost, rows, whole, binary strings.Builder
	for b, bar := range job.Bars {
		for c := range pieces {
			fmt.Fprintf(&cost, " + %d y_%d_%d", bar.Price, b, c)
			fmt.Fprintf(&binary, " y_%d_%d", b, c)
			for i, it := range job.Items {
				fmt.Fprintf(&rows, " + %d x_%d_%d_%d", it.Len+job.Kerf, i, b, c)
				fmt.Fprintf(&whole, " x_%d_%d_%d", i, b, c)
			}
			fmt.Fprintf(&rows, " - %d y_%d_%d <= 0\n", bar.Len+job.Kerf, b, c)
			if c > 0 {
				fmt.Fprintf(&rows, " y_%d_%d - y_%d_%d <= 0\n", b, c, b, c-1)
			}
		}
	}
	for i, it := range job.Items {
		for b := range job.Bars {
			for c := range pieces {
				fmt.Fprintf(&rows, " + x_%d_%d_%d", i, b, c)
			}
		}
		fmt.Fprintf(&rows, " = %d\n", it.Qty)
	}
	dir := t.TempDir()
	lp, sol := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.txt")
	text := "Minimize\n cost:" + cost.String() + "\nSubject To\n" + rows.String() + "General\n" + whole.String() + "\nBinary\n" + binary.String() + "\nEnd\n"
	if err := os.WriteFile(lp, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(glpsol, "--lp", lp, "-o", sol, "--cuts", "--tmlim", "20").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	out, err := os.ReadFile(sol)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(out), "INTEGER OPTIMAL") {
		t.Skip("glpsol did not finish in time")
	}
	m := regexp.MustCompile(`Objective: +cost = ([0-9.e+]+)`).FindSubmatch(out)
	v, err := strconv.ParseFloat(string(m[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return int64(math.Round(v))
}
