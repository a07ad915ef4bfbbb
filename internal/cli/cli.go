// Package cli is the command line: thin commands over the use cases of app.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"casewright/internal/app"
)

// version is the version of the program, as the API says it.
const version = "1"

// Exit codes.
const (
	exitOK    = 0
	exitStop  = 1 // a finding says stop
	exitInput = 2 // the input cannot be used
)

// Streams are where a command reads and writes.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// commands is the whole command line; the tags are its help.
type commands struct {
	Serve   serveCmd   `cmd:"" help:"Open the workbench in the browser."`
	Plan    planCmd    `cmd:"" help:"Work a piece out and write all its papers."`
	Check   checkCmd   `cmd:"" help:"Say what to look at before buying and cutting."`
	Fit     fitCmd     `cmd:"" help:"Fit fronts, boxes and packers to openings as measured."`
	Bend    bendCmd    `cmd:"" help:"Work out one kerf bend."`
	Cut     cutCmd     `cmd:"" help:"Solve cutting problems given as JSON lines."`
	New     newCmd     `cmd:"" help:"Print a piece or shop file to start from."`
	Schema  schemaCmd  `cmd:"" help:"Print the JSON Schema of a document, or a built-in table."`
	OpenAPI openAPICmd `cmd:"" name:"openapi" hidden:"" help:"Print the description of the API."`
	Help    helpCmd    `cmd:"" help:"Print this help, or that of one command."`
}

// errStop ends a command whose findings say stop; they were printed already.
var errStop = errors.New("a finding says stop")

// Run runs one command line and returns the exit code. An interrupt stops
// long work, which then gives the best it has.
func Run(args []string, std Streams) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	var cmd commands
	code := -1
	parser, err := cmd.parser(ctx, std, func(c int) { code = c })
	if err != nil {
		fmt.Fprintln(std.Err, err)
		return exitInput
	}
	if len(args) == 0 {
		args = []string{"help"}
	}
	parsed, err := parser.Parse(args)
	if code >= 0 { // help was asked for and printed
		return code
	}
	if err != nil {
		fmt.Fprintf(std.Err, "casewright: %v. See casewright help.\n", err)
		return exitInput
	}
	parsed.Bind(parser)
	switch err := parsed.Run(); {
	case errors.Is(err, errStop):
		return exitStop
	case err != nil:
		fmt.Fprintln(std.Err, err)
		return exitInput
	}
	return exitOK
}

// parser reads command lines into c; exit is called when help was printed.
func (c *commands) parser(ctx context.Context, std Streams, exit func(int)) (*kong.Kong, error) {
	return kong.New(c,
		kong.Name("casewright"),
		kong.Description("From a piece of furniture written down to the papers it is built from. Each command shows an example with --help."),
		kong.Vars{"shapes": strings.Join(app.Shapes(), ", ")},
		kong.Writers(std.Out, std.Err),
		kong.Exit(exit),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true}),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(std),
	)
}

// helpCmd prints help as a command, since people type it so.
type helpCmd struct {
	Command string `arg:"" optional:"" help:"A command."`
}

func (h helpCmd) Run(k *kong.Kong) error {
	args := []string{"--help"}
	if h.Command != "" {
		known := slices.ContainsFunc(k.Model.Children, func(n *kong.Node) bool { return n.Name == h.Command })
		if !known {
			return fmt.Errorf("there is no command %q; casewright help lists them", h.Command)
		}
		args = []string{h.Command, "--help"}
	}
	// Help is printed while parsing; flags that are missing do not matter then.
	_, _ = k.Parse(args)
	return nil
}
