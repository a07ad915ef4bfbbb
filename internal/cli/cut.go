package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"casewright/internal/app"
	"casewright/internal/cutting"
	"casewright/internal/cutting/benchfile"
)

type cutCmd struct {
	File    string  `arg:"" help:"Cutting problems, one JSON object a line."`
	Case    string  `help:"Only this case of each problem." placeholder:"C"`
	Seconds float64 `help:"Time for each case." default:"1"`
	Seed    uint64  `help:"Seed of the search." default:"1"`
	JSON    bool    `help:"Plans as JSON lines."`
}

// holds is what a file of problems must be, for those who give another.
const holds = "each line must hold one JSON object with name, kind, objective, kerf, trim, sheets (or stocks), items and cases; docs/cutting.md shows one under “Problems in a file”"

func (cutCmd) Help() string {
	return "Example:\n  casewright cut parts.jsonl --case R --seconds 2 --json > plans.jsonl\n\n" +
		"Each case is solved until it is proven or its time is over; the bound says how good the plan is at worst. docs/cutting.md shows what a line holds, under “Problems in a file”."
}

func (c cutCmd) Run(ctx context.Context, std Streams) error {
	if !(c.Seconds > 0 && c.Seconds <= 86400) {
		return fmt.Errorf("--seconds is %v; give more than 0, up to 86400", c.Seconds)
	}
	f, err := os.Open(c.File)
	if err != nil {
		return app.Unreadable(c.File, "problem", err)
	}
	defer f.Close()
	r := benchfile.NewReader(f)
	var tally benchfile.Tally
	for {
		in, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		var unread *os.PathError
		switch {
		case errors.As(err, &unread):
			return app.Unreadable(c.File, "problem", err)
		case err != nil:
			return fmt.Errorf("%s: %w; %s", c.File, err, holds)
		}
		for _, k := range in.Cases {
			if c.Case != "" && c.Case != k.ID {
				continue
			}
			if err := c.solve(ctx, std, in, k, &tally); err != nil {
				return err
			}
			if ctx.Err() != nil {
				return errors.New("stopped; the plans so far are printed")
			}
		}
	}
	if tally.Cases == 0 {
		return fmt.Errorf("%s holds no case to solve; leave --case out, or name one of the file's", c.File)
	}
	if !c.JSON {
		fmt.Fprintln(std.Out)
		benchfile.Head(std.Out)
		tally.Row(std.Out, filepath.Base(c.File))
	}
	return nil
}

func (c cutCmd) solve(ctx context.Context, std Streams, in *benchfile.Instance, k benchfile.Case, tally *benchfile.Tally) error {
	limited, cancel := context.WithTimeout(ctx, time.Duration(c.Seconds*float64(time.Second)))
	defer cancel()
	watch := watching(std.Err)
	start := time.Now()
	budget := cutting.Budget{Iterations: math.MaxInt, Progress: watch.cutting, Cores: cutting.NewCores(runtime.GOMAXPROCS(0) - 1)}
	p, err := benchfile.Solve(limited, in, k, c.Seed, budget)
	watch.done()
	p.Seconds = time.Since(start).Seconds()
	tally.Add(k, p, err == nil)
	switch {
	case err != nil:
		fmt.Fprintln(std.Err, err)
	case c.JSON:
		return benchfile.Write(std.Out, p)
	default:
		proven := ""
		if p.Proven {
			proven = "proven best"
		}
		fmt.Fprintf(std.Out, "%-28s %-2s %12.10g  bound %12.10g  %6.2f s  %s\n", in.Name, k.ID, p.Value, p.Bound, p.Seconds, proven)
	}
	return nil
}
