package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/fit"
	"casewright/internal/plan"
	"casewright/internal/unit"
)

type fitCmd struct {
	inputs
	Opening string `help:"Only this opening, by its name on the papers." placeholder:"NAME"`
	JSON    bool   `help:"The openings as a JSON list, lengths in nanometres."`
}

func (fitCmd) Help() string {
	return "Example:\n  casewright fit chest.yaml --record chest.record.yaml\n\n" +
		"Takes the openings as the record says they were measured and gives fronts, gaps, boxes, packers, spacers and screws; what was not measured is fitted as planned.\n" +
		"Exit code 1 means that a measure looks wrong or a part that is cut cannot be used."
}

func (c fitCmd) Run(ctx context.Context, std Streams) error {
	job, err := c.load()
	if err != nil {
		return err
	}
	p, err := job.Plan(ctx, plan.Options{}, nil)
	if err != nil {
		return err
	}
	var all []fit.Opening
	stop := false
	for _, o := range p.Fit {
		if c.Opening == "" || c.Opening == o.Name {
			all = append(all, o)
			stop = stop || o.Doubt != ""
			for _, f := range o.Findings {
				stop = stop || f.Level == finding.Stop
			}
		}
	}
	if len(all) == 0 && c.Opening != "" {
		return fmt.Errorf("there is no opening %q to fit; leave --opening out to see all", c.Opening)
	}
	if c.JSON {
		text, err := json.MarshalIndent(all, "", "  ")
		if err != nil {
			return err
		}
		fmt.Fprintf(std.Out, "%s\n", text)
	} else {
		printFits(std.Out, p, all)
	}
	if stop {
		return errStop
	}
	return nil
}

func printFits(w io.Writer, p plan.Plan, all []fit.Opening) {
	if len(all) == 0 {
		fmt.Fprintln(w, "No opening takes a drawer or a door.")
	}
	for i, o := range all {
		if i > 0 {
			fmt.Fprintln(w)
		}
		printFit(w, p.Show, o)
	}
}

func printFit(w io.Writer, show func(unit.Length) string, o fit.Opening) {
	line := func(what, format string, args ...any) {
		fmt.Fprintf(w, "  %-24s %s\n", what, fmt.Sprintf(format, args...))
	}
	how := "not measured yet, fitted as planned"
	if o.Measured {
		how = "as measured"
	}
	fmt.Fprintf(w, "%s, planned %s × %s, %s\n", o.Name, show(o.Width), show(o.Height), how)
	if o.Doubt != "" {
		line("Cannot be", "%s", o.Doubt)
		return
	}
	for _, m := range o.Measures {
		off := ""
		if t := show(m.Off); m.Off.Abs() >= unit.Millimetre/10 && strings.TrimPrefix(t, unit.Approx) != show(0) {
			off = ", off " + t
		}
		line(document.Capital(m.Name), "%s%s", show(m.Measured), off)
	}
	if o.Measured {
		signed := func(l unit.Length, more, less string) {
			if l < 0 {
				more = less
			}
			line(more, "%s", show(l.Abs()))
		}
		signed(o.Taper, "Wider at the top", "Wider at the bottom")
		signed(o.Slope, "Higher at the right", "Higher at the left")
		signed(o.Lean, "Leans to the right", "Leans to the left")
	}
	if f := o.Front; f != nil {
		for _, l := range f.Leaves {
			line("Door "+l.Letter+", "+l.Side, "%s × %s, %s", show(l.Width), show(l.Height), l.Verdict)
		}
		if len(f.Leaves) == 0 {
			line("Front "+f.Letter, "%s × %s, %s", show(f.Width), show(f.Height), f.Verdict)
		}
		if f.Corners != [4]unit.Length{} {
			line("  its corners", "R %s, %s, %s, %s from top left, clockwise", show(f.Corners[0]), show(f.Corners[1]), show(f.Corners[2]), show(f.Corners[3]))
		}
		for _, g := range f.Gaps {
			line("  gap at the "+g.Edge, "%s and %s", show(g.Ends[0]), show(g.Ends[1]))
		}
		if f.Between != nil {
			line("  gap where they meet", "%s", show(f.Between.Ends[0]))
		}
	}
	if b := o.Box; b != nil {
		takes := show(b.Most)
		if b.Least < b.Most {
			takes = show(b.Least) + " to " + takes
		}
		line("Box", "%s wide (takes %s), %s high, %s deep, %s", show(b.Width), takes, show(b.Height), show(b.Depth), b.Verdict)
		line("  space at each side", "%s", show(b.Side))
	}
	for _, k := range o.Packers {
		switch {
		case k.Thickness == 0:
			line("Runner at the "+k.Side, "%s", proud(show, k.Proud))
		default:
			line("Packer at the "+k.Side, "%s thick, %s", show(k.Thickness), proud(show, k.Proud))
		}
	}
	for _, s := range o.Spacers {
		line("Spacer "+s.For, "%s", show(s.Size))
	}
	for _, s := range o.Screws {
		line("Screw for "+s.For, "%s long in %s", show(s.Length), show(s.Stack))
	}
	for _, t := range o.Do {
		line("To do", "%s", t)
	}
}

func proud(show func(unit.Length) string, by unit.Length) string {
	switch {
	case by > 0:
		return show(by) + " beyond the edge of the opening"
	case by < 0:
		return show(-by) + " behind the edge of the opening"
	}
	return "flush with the edge of the opening"
}
