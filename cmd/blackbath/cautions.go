package main

import (
	"fmt"
	"io"

	"blackbath/bath/caution"
	"blackbath/bath/input"
)

type cautionsCommand struct {
	Facts string `arg:"" name:"facts" placeholder:"FACTS.json" help:"Facts of one step, or - for stdin."`
	JSON  bool   `name:"json" help:"Print the cautions as JSON instead of text."`
}

// Run judges the facts of one step.
func (cmd *cautionsCommand) Run(s streams) error {
	facts, err := readFile(cmd.Facts, "facts file", input.LargestFileBytes, s.in, caution.ParseFacts)
	if err != nil {
		return err
	}
	answer := caution.Judge(facts)
	if cmd.JSON {
		return printJSON(s.out, answer)
	}
	if _, err := io.WriteString(s.out, answer.Text()); err != nil {
		return fmt.Errorf("write the cautions: %w", err)
	}
	return nil
}
