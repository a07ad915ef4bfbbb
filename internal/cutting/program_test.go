package cutting_test

import (
	"bufio"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"casewright/internal/cutting"
)

// An integer program of guillotine cutting: how often is each plate (a
// rectangle met while cutting) cut at each place, and how often is it trimmed
// to a part? After Furini, Malaguti, Thomopulos (2016) INFORMS J. Comput. 28,
// 736-751, from memory. It has nothing in common with the solver but the rules
// of the saw, and counts real kerfs.
type program struct {
	kerf   int
	parts  []programPart
	stages int // 0: any number

	rows  map[plate]*strings.Builder // what is made of a plate, less what is used of it
	order []plate
	vars  int
	ask   []strings.Builder // of each part: the plates trimmed to it
	ints  strings.Builder
}

type programPart struct {
	w, h, qty int
	turn      bool
}

// A plate knows its size and, where stages are limited, how its cuts run and
// in which stage it is.
type plate struct {
	w, h  int
	stage int
	vert  bool
}

// variable adds a whole number and returns its name.
func (m *program) variable() string {
	m.vars++
	name := fmt.Sprintf("x%d", m.vars)
	m.ints.WriteString(" " + name)
	return name
}

// worth reports whether some part fits a plate.
func (m *program) worth(p plate) bool {
	return slices.ContainsFunc(m.parts, func(i programPart) bool { return i.fits(p) })
}

func (i programPart) fits(p plate) bool {
	return i.w <= p.w && i.h <= p.h || i.turn && i.h <= p.w && i.w <= p.h
}

// row is the balance of a plate; a new plate gets its cuts and uses too.
func (m *program) row(p plate) *strings.Builder {
	if b, ok := m.rows[p]; ok {
		return b
	}
	b := new(strings.Builder)
	m.rows[p] = b
	m.order = append(m.order, p)
	for i, it := range m.parts {
		if it.fits(p) {
			x := m.variable()
			fmt.Fprintf(b, " - %s", x)
			fmt.Fprintf(&m.ask[i], " + %s", x)
		}
	}
	for _, vert := range []bool{true, false} {
		if m.stages > 0 && vert != p.vert {
			continue
		}
		for _, q := range m.places(p, vert) {
			one, two := p, p
			if vert {
				one.w, two.w = q, p.w-q-m.kerf
			} else {
				one.h, two.h = q, p.h-q-m.kerf
			}
			if !m.worth(one) || !m.worth(two) {
				continue // then it is a trim
			}
			x := m.variable()
			fmt.Fprintf(b, " - %s", x)
			if one == two {
				fmt.Fprintf(m.row(one), " + 2 %s", x)
			} else {
				fmt.Fprintf(m.row(one), " + %s", x)
				fmt.Fprintf(m.row(two), " + %s", x)
			}
		}
	}
	if p.stage < m.stages {
		x := m.variable()
		fmt.Fprintf(b, " - %s", x)
		fmt.Fprintf(m.row(plate{p.w, p.h, p.stage + 1, !p.vert}), " + %s", x)
	}
	return b
}

// places are the sums of parts and kerfs at which a plate is worth cutting.
// The two halves can change places, so the lesser one comes first; and it can
// shrink to what is cut from it.
func (m *program) places(p plate, vert bool) []int {
	most := p.h
	if vert {
		most = p.w
	}
	most = (most - m.kerf) / 2
	if most <= 0 {
		return nil
	}
	var out []int
	sums := make([]bool, most+m.kerf+1) // with one kerf each; a place is one kerf less
	sums[0] = true
	for s := range sums {
		if !sums[s] {
			continue
		}
		for _, it := range m.parts {
			sizes := []int{it.h}
			if vert {
				sizes[0] = it.w
			}
			if it.turn {
				sizes = []int{it.w, it.h}
			}
			for _, l := range sizes {
				if t := s + l + m.kerf; t < len(sums) {
					sums[t] = true
				}
			}
		}
		if s > m.kerf {
			out = append(out, s-m.kerf)
		}
	}
	return out
}

// text is the whole program in the LP format, for a job whose lengths are
// counted in steps.
func text(job cutting.Job, step int64) string {
	m := &program{kerf: int(int64(job.Kerf) / step), rows: map[plate]*strings.Builder{}}
	for _, it := range job.Items {
		m.parts = append(m.parts, programPart{int(int64(it.W) / step), int(int64(it.H) / step), it.Qty, it.Turn})
	}
	m.ask = make([]strings.Builder, len(m.parts))
	m.stages = job.Stages
	var cost, stock strings.Builder
	for _, s := range job.Sheets {
		w, h := s.Usable()
		price := int64(s.Price)
		if job.Objective == cutting.FewestSheets {
			price = 1
			if s.Offcut {
				price = 0
			}
		}
		p := plate{w: int(int64(w) / step), h: int(int64(h) / step)}
		starts := []plate{p}
		if m.stages > 0 {
			starts = starts[:0]
			for _, vert := range []bool{true, false} {
				if job.Run == cutting.EitherWay || vert == (job.Run == cutting.Crosswise) {
					starts = append(starts, plate{p.w, p.h, 1, vert})
				}
			}
		}
		for k, from := range starts {
			x := m.variable()
			fmt.Fprintf(&cost, " + %d %s", price, x)
			if w > 0 && h > 0 {
				fmt.Fprintf(m.row(from), " + %s", x)
			}
			fmt.Fprintf(&stock, " + %s", x)
			if k == len(starts)-1 {
				n := s.Stock
				if n < 0 {
					n = 1000
				}
				fmt.Fprintf(&stock, " <= %d\n", n)
			}
		}
	}
	var b strings.Builder
	b.WriteString("Minimize\n cost:" + cost.String() + "\nSubject To\n" + stock.String())
	for _, p := range m.order {
		if r := m.rows[p].String(); r != "" {
			b.WriteString(r + " >= 0\n")
		}
	}
	for i := range m.parts {
		switch r := m.ask[i].String(); {
		case m.parts[i].qty == 0:
		case r == "":
			return "" // it fits nowhere
		default:
			fmt.Fprintf(&b, "%s >= %d\n", r, m.parts[i].qty)
		}
	}
	return b.String() + "General\n" + m.ints.String() + "\nEnd\n"
}

// errNone says that a program has no answer.
var errNone = errors.New("no answer")

// findGLPSOL finds the general solver (GNU Linear Programming Kit, Debian's
// glpk-utils); empty where it is not installed.
func findGLPSOL() (string, error) { return exec.LookPath("glpsol") }

// glpsol is the solver; the test is skipped where it is not installed.
func glpsol(t testing.TB) string {
	path, err := findGLPSOL()
	if err != nil {
		t.Skip("glpsol (Debian glpk-utils) is not installed; the comparison with an integer program is left out")
	}
	return path
}

// optimum solves a program. It reports errNone when there is no answer, and
// another error when the solver did not finish.
func optimum(glpsol, dir, text string) (int64, error) {
	lp, sol := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.txt")
	if err := os.WriteFile(lp, []byte(text), 0o600); err != nil {
		return 0, err
	}
	out, err := exec.Command(glpsol, "--lp", lp, "-w", sol, "--tmlim", "5").CombinedOutput()
	if err != nil {
		return 0, fmt.Errorf("%w: %s", err, out)
	}
	f, err := os.Open(sol)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		// The line of the answer: s mip ROWS COLUMNS STATUS VALUE.
		if f := strings.Fields(lines.Text()); len(f) == 6 && f[0] == "s" && f[1] == "mip" {
			switch {
			case f[4] == "n", strings.Contains(string(out), "NO PRIMAL FEASIBLE"), strings.Contains(string(out), "NO FEASIBLE"):
				return 0, errNone
			case f[4] == "o":
				v, err := strconv.ParseFloat(f[5], 64)
				return int64(math.Round(v)), err
			}
			break
		}
	}
	return 0, fmt.Errorf("not finished: %.300s", out[max(0, len(out)-300):])
}
