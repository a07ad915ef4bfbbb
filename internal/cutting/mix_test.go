package cutting

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/unit"

	"pgregory.net/rapid"
)

// drawLengths draws a job of lengths with kerf, several bars and short stock.
func drawLengths(t *rapid.T, kinds, pieces int) BarJob {
	n := func(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	job := BarJob{Kerf: unit.Length(n(0, 3, "kerf")), Objective: LeastPrice}
	for range n(1, kinds, "bars") {
		job.Bars = append(job.Bars, Bar{Len: unit.Length(n(10, 40, "length")), Price: unit.Money(n(1, 12, "price")), Stock: n(-1, 4, "stock")})
	}
	for left := n(1, pieces, "pieces"); left > 0; {
		it := BarItem{Len: unit.Length(n(2, 25, "piece")), Qty: n(1, min(left, 3), "qty")}
		left -= it.Qty
		job.Items = append(job.Items, it)
	}
	return job
}

// Lots are all lots of bars within the limit that are long enough and to which
// no bar can be added.
func TestLotsAgainstCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, _ := newProblem(flatJob(drawLengths(t, 3, 8)))
		limit := rapid.Int64Range(0, 30).Draw(t, "limit")
		var length int64
		for _, ty := range p.types {
			length += ty.w * int64(ty.qty)
		}
		var want []string
		lot := make([]int, len(p.sheets))
		var count func(k int)
		count = func(k int) {
			if k < len(lot) {
				for lot[k] = 0; lot[k] <= p.sheets[k].stock; lot[k]++ {
					count(k + 1)
				}
				return
			}
			left, sum := limit, int64(0)
			for i, s := range p.sheets {
				left, sum = left-int64(lot[i])*s.price, sum+int64(lot[i])*s.w
			}
			for i, s := range p.sheets {
				if lot[i] < s.stock && s.price <= left {
					return
				}
			}
			if left >= 0 && sum >= length {
				want = append(want, fmt.Sprint(lot))
			}
		}
		count(0)
		list, whole := p.lots(limit)
		var got []string
		for _, l := range list {
			got = append(got, fmt.Sprint(l))
		}
		slices.Sort(got)
		slices.Sort(want)
		if whole && !slices.Equal(got, want) || !whole {
			t.Fatalf("lots %v (whole: %v), by counting %v", got, whole, want)
		}
	})
}

// The mix comes to the value of the linear program over every pattern, listed
// one by one and solved by glpsol (GNU Linear Programming Kit); so does the
// part of it that is left after some pieces are made.
func TestMixAgainstLinearProgram(t *testing.T) {
	glpsol, err := exec.LookPath("glpsol")
	if err != nil {
		t.Skip("glpsol (Debian glpk-utils) is not installed; the comparison with a linear program is left out")
	}
	r := newRNG(11)
	for n := range 60 {
		job := BarJob{Kerf: unit.Length(r.below(4)), Objective: LeastPrice}
		for range 1 + r.below(3) {
			job.Bars = append(job.Bars, Bar{Len: unit.Length(50 + r.below(60)), Price: unit.Money(5 + r.below(20)), Stock: -1})
		}
		for i := range job.Bars[1:] {
			job.Bars[i+1].Stock = 1 + r.below(4)
		}
		for range 3 + r.below(6) {
			job.Items = append(job.Items, BarItem{Len: unit.Length(9 + r.below(40)), Qty: 1 + r.below(5)})
		}
		p, _ := newProblem(flatJob(job))
		m := newMix(context.Background(), p, newFiller(p))
		end := func(m *mix, what string, demand, stock []int) {
			m.relax(func() bool { return false })
			want := everyPattern(t, glpsol, p, demand, stock)
			if math.Abs(m.value()-want) > 1e-5*want+1e-6 || m.bound > want+1e-5*want+1e-6 || m.bound < want-1e-3*want-1e-6 {
				t.Errorf("job %d, %s: value %.6f, bound %.6f, linear program %.6f: %+v", n, what, m.value(), m.bound, want, job)
			}
		}
		demand, stock := slices.Clone(m.demand), slices.Clone(m.stock)
		end(m, "whole", demand, stock)
		for i := range demand {
			if demand[i] = r.below(demand[i] + 1); i == 0 {
				demand[i] = 0
			}
		}
		if done(demand) {
			continue
		}
		m.ask(demand, stock)
		end(m, "less asked for", demand, stock)
		if c := m.part(demand, stock); c != nil {
			c.ask(slices.Clone(c.demand), slices.Clone(c.stock))
			end(c, "part", demand, stock)
		}
	}
}

// everyPattern is the value of the linear program over all patterns that hold
// no more of a piece than is asked for.
func everyPattern(t *testing.T, glpsol string, p *problem, demand, stock []int) float64 {
	var cost strings.Builder
	made := make([]strings.Builder, len(p.types))
	have := make([]strings.Builder, len(p.sheets))
	vars := 0
	for k, s := range p.sheets {
		use := make([]int, len(p.types))
		var list func(i int, room int64)
		list = func(i int, room int64) {
			if i < len(use) {
				for use[i] = 0; use[i] <= demand[i] && int64(use[i])*p.types[i].w <= room; use[i]++ {
					list(i+1, room-int64(use[i])*p.types[i].w)
				}
				return
			}
			vars++
			fmt.Fprintf(&cost, " + %d x%d\n", s.price, vars)
			fmt.Fprintf(&have[k], " + x%d\n", vars)
			for i, n := range use {
				if n > 0 {
					fmt.Fprintf(&made[i], " + %d x%d\n", n, vars)
				}
			}
		}
		list(0, s.w)
	}
	text := "Minimize\n cost:" + cost.String() + "Subject To\n"
	for i := range demand {
		if demand[i] > 0 {
			text += made[i].String() + fmt.Sprintf(" >= %d\n", demand[i])
		}
	}
	for k := range stock {
		text += have[k].String() + fmt.Sprintf(" <= %d\n", stock[k])
	}
	dir := t.TempDir()
	lp, sol := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.txt")
	if err := os.WriteFile(lp, []byte(text+"End\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(glpsol, "--lp", lp, "-w", sol, "--tmlim", "20").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	out, err := os.ReadFile(sol)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(out)) {
		// The line of the answer: s bas ROWS COLUMNS STATUS STATUS VALUE.
		if f := strings.Fields(line); len(f) == 7 && f[0] == "s" && f[1] == "bas" && f[4] == "f" && f[5] == "f" {
			v, err := strconv.ParseFloat(f[6], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
	}
	t.Fatalf("no answer: %.300s", out)
	return 0
}
