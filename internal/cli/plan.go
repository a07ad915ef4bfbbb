package cli

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"casewright/internal/app"
	"casewright/internal/document"
	"casewright/internal/finding"
	"casewright/internal/papers"
	"casewright/internal/plan"
)

// inputs are the flags that name the maker's files.
type inputs struct {
	Piece  string `arg:"" help:"The piece file."`
	Shop   string `help:"The shop file; without it NAME.shop.yaml or shop.yaml beside the piece." placeholder:"FILE"`
	Record string `help:"What was measured and cut; without it NAME.record.yaml beside the piece, if there is one." placeholder:"FILE"`
	Units  string `help:"Units shown first; without it the piece's own." enum:",mm,in" default:"" placeholder:"mm|in"`
}

func (in inputs) load() (app.Job, error) {
	return app.Load(app.Sources{Piece: in.Piece, Shop: in.Shop, Record: in.Record, Units: in.Units})
}

type planCmd struct {
	inputs
	Out   string `help:"Folder for the papers; without it NAME-papers." placeholder:"DIR"`
	Paper string `help:"Paper size; without it the shop's." enum:",a4,letter" default:"" placeholder:"a4|letter"`
	Date  string `help:"Date to print; without it a line to write it on." placeholder:"TEXT"`
	Start string `help:"Day on which the work begins; without it the piece's own." placeholder:"YYYY-MM-DD"`
}

func (planCmd) Help() string {
	return "Example:\n  casewright plan chest.yaml --shop my.yaml --out chest-papers --units in\n\n" +
		"Writes the papers as PDF, the 1:1 templates, each drawing as SVG, each outline and layout as DXF, the parts as CSV, and plan.json.\n" +
		"Exit code 1 means that a finding says stop; the papers are written all the same."
}

func (c planCmd) Run(ctx context.Context, std Streams) error {
	job, err := c.load()
	if err != nil {
		return err
	}
	if c.Start != "" {
		if !document.IsDate(c.Start) {
			return fmt.Errorf("--start is “%s”, which is not a date; write it as year, month, day: 2027-03-01", c.Start)
		}
		job.Piece.Start = c.Start
	}
	watch := watching(std.Err)
	p, err := job.Plan(ctx, plan.Options{}, watch.cutting)
	watch.done()
	if err != nil {
		return err
	}
	out := c.Out
	if out == "" {
		base := filepath.Base(c.Piece)
		out = strings.TrimSuffix(base, filepath.Ext(base)) + "-papers"
	}
	files, err := papers.Files(p, papers.Options{Paper: c.Paper, Date: c.Date})
	if err != nil {
		return err
	}
	if err := app.Write(out, files); err != nil {
		return err
	}
	fmt.Fprint(std.Out, app.Summary(p))
	printFindings(std.Out, p.Findings)
	fmt.Fprintf(std.Out, "Papers, drawings and tables are in %s (%d files); print %s first.\n", out, len(files), filepath.Join(out, "papers.pdf"))
	return stopIf(p)
}

type checkCmd struct {
	inputs
	JSON bool `help:"Findings as JSON lines."`
}

func (checkCmd) Help() string {
	return "Example:\n  casewright check chest.yaml --shop my.yaml\n\nExit code 1 means that a finding says stop."
}

func (c checkCmd) Run(ctx context.Context, std Streams) error {
	job, err := c.load()
	if err != nil {
		return err
	}
	p, err := job.Plan(ctx, plan.Options{}, nil)
	if err != nil {
		return err
	}
	if c.JSON {
		if err := jsonLines(std.Out, p.Findings); err != nil {
			return err
		}
		return stopIf(p)
	}
	fmt.Fprint(std.Out, app.Summary(p))
	printFindings(std.Out, p.Findings)
	return stopIf(p)
}

func stopIf(p plan.Plan) error {
	if p.Worst() == finding.Stop {
		return errStop
	}
	return nil
}

// marks stand before a finding; the word follows, so that neither is needed.
var marks = map[finding.Level]string{finding.Note: "·", finding.Care: "!", finding.Stop: "✕"}

func printFindings(w io.Writer, all []finding.Finding) {
	if len(all) == 0 {
		fmt.Fprintln(w, "Nothing to look at.")
		return
	}
	for _, f := range all {
		fmt.Fprintf(w, "%s %-4s  %s\n", marks[f.Level], f.Level, f.Says)
		if f.Advice != "" {
			fmt.Fprintf(w, "          %s\n", f.Advice)
		}
		var tail []string
		if f.Place != "" {
			tail = append(tail, f.Place)
		}
		if f.Limit != "" {
			tail = append(tail, "limit "+f.Limit)
		}
		if f.Source != "" {
			tail = append(tail, "source: "+f.Source)
		}
		if len(tail) > 0 {
			fmt.Fprintf(w, "          (%s)\n", strings.Join(tail, "; "))
		}
	}
}
