// Command blackbath scales bath recipes, keeps the account of baths, judges cautions, and serves the workshop's pages.
//
// Exit status: 0 done, 1 failed, 2 bad input. Figures go to stdout, everything else to stderr.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"blackbath/bath/input"
)

// version stands on every bath sheet, beside the figures that it worked out.
const version = "0.1.0"

const (
	exitDone     = 0
	exitFailed   = 1
	exitBadInput = 2
)

type commandLine struct {
	Serve    serveCommand    `cmd:"" help:"Serve the pages of the workshop."`
	Scale    scaleCommand    `cmd:"" help:"Scale a recipe to a tank: what to weigh, and where the levels stand."`
	Cautions cautionsCommand `cmd:"" help:"Judge the facts of one step by the caution rules: what can hurt, and what must be asked first."`
	Ledger   ledgerCommand   `cmd:"" help:"Keep a bath's account: what is in it now, how sure that is, and what to add."`
}

// streams are what a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

// run is main without the process: it returns the exit status.
func run(ctx context.Context, args []string, s streams) int {
	var line commandLine
	exit := -1
	parser, err := kong.New(&line,
		kong.Name("blackbath"),
		kong.Description("Bath recipes for inlaid zinc-alloy ware, scaled to any tank.\n\nLocal law and codes, the supplier's safety data sheet and licensed practice come before anything this program says."),
		kong.Writers(s.out, s.err),
		kong.Exit(func(code int) { exit = code }),
		kong.WithHyphenPrefixedParameters(true), // a height below the sea is a negative number
		kong.UsageOnError(),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
	)
	if err != nil {
		fmt.Fprintln(s.err, "blackbath:", err)
		return exitFailed
	}
	command, err := parser.Parse(args)
	if exit >= 0 { // --help was asked for and shown
		return exit
	}
	if err != nil {
		fmt.Fprintln(s.err, "blackbath:", err)
		return exitBadInput
	}
	command.BindTo(ctx, (*context.Context)(nil))
	if err := command.Run(s); err != nil {
		fmt.Fprintln(s.err, "blackbath:", err)
		if isBadInput(err) {
			return exitBadInput
		}
		return exitFailed
	}
	return exitDone
}

// A badInput is the user's to put right and has no field of its own: a file that cannot be read, two inputs from stdin.
type badInput struct{ error }

func (b badInput) Unwrap() error { return b.error }

func isBadInput(err error) bool {
	var problems input.Problems
	var bad badInput
	return errors.As(err, &problems) || errors.As(err, &bad)
}
