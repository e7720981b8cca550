package main

import (
	"errors"
	"time"

	"blackbath/bath/input"
	"blackbath/bath/ledger"
)

type ledgerCommand struct {
	Facts  string `arg:"" name:"facts" placeholder:"FACTS.json" help:"Facts file, or - for stdin."`
	Until  string `placeholder:"TIME" help:"Moment of the answer, with its offset: 2026-01-05T08:00:00+01:00. Later facts are not looked at. Without it: the last fact."`
	Advise bool   `help:"Also work out what to add."`
	JSON   bool   `name:"json" help:"Print the figures as JSON instead of a page."`
}

// Run replays the facts of a bath.
func (cmd *ledgerCommand) Run(s streams) error {
	until, problems := cmd.until()
	b, err := readFile(cmd.Facts, "facts file", ledger.LargestFileBytes, s.in, ledger.ParseFile)
	if problems, err = gather(problems, err); err != nil {
		return err
	}
	if err := problems.Err(); err != nil {
		return err
	}
	state, err := ledger.Replay(b, until)
	if err != nil {
		return asOption(err)
	}
	var advice *ledger.Advice
	if cmd.Advise {
		a := ledger.Advise(state)
		advice = &a
	}
	answer := ledger.NewAnswer(state, advice)
	if !cmd.JSON {
		return ledger.WritePage(s.out, b, answer)
	}
	return printJSON(s.out, answer)
}

func (cmd *ledgerCommand) until() (*time.Time, input.Problems) {
	if cmd.Until == "" {
		return nil, nil
	}
	t, err := ledger.ParseTime(cmd.Until)
	if err != nil {
		return nil, input.Problems{{Field: "--until", Got: cmd.Until, Allowed: ledger.TimeAllowed}}
	}
	return &t, nil
}

// asOption names the option as the command line does.
func asOption(err error) error {
	var problems input.Problems
	if !errors.As(err, &problems) {
		return err
	}
	for i := range problems {
		if problems[i].Field == "until" {
			problems[i].Field = "--until"
		}
	}
	return problems
}
