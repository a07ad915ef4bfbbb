// Command run solves the cutting problems of JSON lines files and prints how
// the answers compare with the best values known. Time is that of the
// processor, so that other work on the machine does not count.
//
//	run [-seconds 1] [-tier core] [-only EXPR] [-seed N] [-v] FILE...
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"casewright/internal/cutting"
	"casewright/internal/cutting/benchfile"
)

func main() {
	seconds := flag.Float64("seconds", 1, "budget for each case")
	tier := flag.String("tier", "core", "core, or all")
	only := flag.String("only", "", "only instances whose name and case match this expression")
	verbose := flag.Bool("v", false, "a line for each case")
	moves := flag.Int("iterations", math.MaxInt, "budget in counted steps for each case")
	seed := flag.Uint64("seed", 1, "seed of the search")
	flag.Parse()
	match, err := regexp.Compile(*only)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	benchfile.Head(os.Stdout)
	bad := false
	for _, name := range flag.Args() {
		if err := file(name, *seconds, *tier, match, *seed, *moves, *verbose); err != nil {
			fmt.Fprintln(os.Stderr, name+":", err)
			bad = true
		}
	}
	if bad {
		os.Exit(1)
	}
}

// watch calls stop when the process has used its time.
func watch(ctx context.Context, stop func(), until time.Duration) {
	for ctx.Err() == nil {
		left := until - used()
		if left <= 0 {
			stop()
			return
		}
		time.Sleep(min(left, 20*time.Millisecond))
	}
}

func file(name string, seconds float64, tier string, only *regexp.Regexp, seed uint64, moves int, verbose bool) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	r := benchfile.NewReader(f)
	var t benchfile.Tally
	for {
		in, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		if tier != "all" && in.Tier != "" && in.Tier != tier {
			continue
		}
		for _, c := range in.Cases {
			if !only.MatchString(in.Name + " " + c.ID) {
				continue
			}
			ctx, stop := context.WithCancel(context.Background())
			start := used()
			go watch(ctx, stop, start+time.Duration(seconds*float64(time.Second)))
			p, err := benchfile.Solve(ctx, in, c, seed, cutting.Budget{Iterations: moves})
			stop()
			p.Seconds = (used() - start).Seconds()
			if err != nil {
				fmt.Fprintln(os.Stderr, err)
			}
			t.Add(c, p, err == nil)
			if verbose {
				best := math.NaN()
				if c.Best != nil {
					best = *c.Best
				}
				mark := ""
				if p.Value > best+1e-4 {
					mark = "worse"
				} else if p.Value < best-1e-4 {
					mark = "BETTER"
				}
				fmt.Printf("  %-28s %s %12.10g best %12.10g bound %12.10g known %12.10g %6.2fs proven=%t %s\n", in.Name, c.ID, p.Value, best, p.Bound, c.Lower, p.Seconds, p.Proven, mark)
			}
		}
	}
	if t.Cases > 0 {
		t.Row(os.Stdout, strings.TrimSuffix(filepath.Base(name), ".jsonl"))
	}
	return nil
}
