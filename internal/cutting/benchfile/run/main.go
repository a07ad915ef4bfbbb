// Command run solves the cutting problems of JSON lines files and prints how
// the answers compare with the best values known, and with the sums that
// papers print where those are given. Time is that of the processor, so that
// other work on the machine does not count, but where a case has two cores.
//
// With -keep what is done is written down case by case; a run that was stopped
// goes on from there when it is started again with the same program and
// budget.
//
//	run [-seconds 1] [-tier core] [-only EXPR] [-seed N] [-cores N] [-keep FILE] [-published CSV] [-v] FILE...
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"casewright/internal/cutting"
	"casewright/internal/cutting/benchfile"
)

// A runner solves case after case.
type runner struct {
	seconds float64
	moves   int
	seed    uint64
	cores   int
	clock   func() time.Duration
	tier    string
	only    *regexp.Regexp
	verbose bool
	kept    *kept
	cells   *published
}

func main() {
	var r runner
	flag.Float64Var(&r.seconds, "seconds", 1, "budget for each case")
	flag.StringVar(&r.tier, "tier", "core", "core, or all; a file without core instances is run whole")
	only := flag.String("only", "", "only instances whose name and case match this expression")
	flag.BoolVar(&r.verbose, "v", false, "a line for each case")
	flag.IntVar(&r.moves, "iterations", math.MaxInt, "budget in counted steps for each case: the same answers on any machine")
	flag.Uint64Var(&r.seed, "seed", 1, "seed of the search")
	flag.IntVar(&r.cores, "cores", 1, "cores for each case; with more than one, time is that on the clock")
	keep := flag.String("keep", "", "file that holds what is done; a run goes on from there")
	cells := flag.String("published", "", "sums that papers print (CSV); their instances are run whole")
	flag.Parse()
	if err := r.run(*only, *keep, *cells, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func (r *runner) run(only, keep, cells string, files []string) (err error) {
	if r.only, err = regexp.Compile(only); err != nil {
		return err
	}
	r.clock = used
	if r.cores > 1 {
		began := time.Now()
		r.clock = func() time.Duration { return time.Since(began) }
	}
	if keep != "" {
		if r.kept, err = openKept(keep, budget{program(), r.seconds, r.moves, r.seed}); err != nil {
			return err
		}
		defer r.kept.Close()
	}
	if cells != "" {
		if r.cells, err = readPublished(cells); err != nil {
			return err
		}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	benchfile.Head(os.Stdout)
	bad := false
	for _, name := range files {
		if err := r.file(ctx, name); err != nil {
			if ctx.Err() != nil {
				return err
			}
			fmt.Fprintln(os.Stderr, name+":", err)
			bad = true
		}
	}
	r.cells.write(os.Stdout)
	if bad {
		return errors.New("not every file could be run")
	}
	return nil
}

// read reads all instances of a file.
func read(name string) ([]*benchfile.Instance, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var out []*benchfile.Instance
	for r := benchfile.NewReader(f); ; {
		in, err := r.Next()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		out = append(out, in)
	}
}

// file prints a row for the instances of the tier, and runs what the published
// sums ask for besides.
func (r *runner) file(ctx context.Context, name string) error {
	list, err := read(name)
	if err != nil {
		return err
	}
	tier := func(in *benchfile.Instance) bool { return r.tier == "all" || in.Tier == "" || in.Tier == r.tier }
	whole := true
	for _, in := range list {
		whole = whole && !tier(in)
	}
	var t benchfile.Tally
	base := strings.TrimSuffix(filepath.Base(name), ".jsonl")
	for _, in := range list {
		inTier := whole || tier(in)
		if !inTier && !r.cells.has(in.Cell) {
			continue
		}
		for _, c := range in.Cases {
			if !r.only.MatchString(in.Name + " " + c.ID) {
				continue
			}
			a, err := r.solve(ctx, base, in, c)
			if err != nil {
				return err
			}
			r.cells.add(in.Cell, c.ID, a)
			if inTier {
				t.Add(c, a.plan(), a.Valid)
			}
			if r.verbose {
				verbose(in, c, a)
			}
		}
	}
	if t.Cases > 0 {
		t.Row(os.Stdout, base)
	}
	return nil
}

// solve answers a case, or takes the answer kept. The error is that of being
// stopped.
func (r *runner) solve(ctx context.Context, file string, in *benchfile.Instance, c benchfile.Case) (answer, error) {
	key := caseKey{file, in.Name, c.ID}
	if a, ok := r.kept.find(key); ok {
		return a, nil
	}
	limited, stop := context.WithCancel(ctx)
	defer stop()
	start := r.clock()
	go r.watch(limited, stop, start+time.Duration(r.seconds*float64(time.Second)))
	p, err := benchfile.Solve(limited, in, c, r.seed, cutting.Budget{Iterations: r.moves, Cores: cutting.NewCores(r.cores - 1)})
	if ctx.Err() != nil {
		return answer{}, errors.New("stopped; what is done is kept where -keep names a file")
	}
	a := answer{caseKey: key, Valid: err == nil, Value: p.Value, Bound: p.Bound, Proven: p.Proven, Seconds: (r.clock() - start).Seconds()}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	return a, r.kept.add(a)
}

// watch calls stop when a case has used its time.
func (r *runner) watch(ctx context.Context, stop func(), until time.Duration) {
	for ctx.Err() == nil {
		left := until - r.clock()
		if left <= 0 {
			stop()
			return
		}
		time.Sleep(min(left, 20*time.Millisecond))
	}
}

func verbose(in *benchfile.Instance, c benchfile.Case, a answer) {
	best := math.NaN()
	if c.Best != nil {
		best = *c.Best
	}
	mark := ""
	if a.Value > best+1e-4 {
		mark = "worse"
	} else if a.Value < best-1e-4 {
		mark = "BETTER"
	}
	fmt.Printf("  %-28s %s %12.10g best %12.10g bound %12.10g known %12.10g %6.2fs proven=%t %s\n", in.Name, c.ID, a.Value, best, a.Bound, c.Lower, a.Seconds, a.Proven, mark)
}
