package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
)

type scaleCommand struct {
	Recipe        string `required:"" placeholder:"FILE" help:"Recipe file, or - for stdin."`
	Tank          string `required:"" placeholder:"FILE" help:"Tank file, or - for stdin."`
	LoadCM3       string `name:"load-cm3" placeholder:"N" help:"Metal of the load, cm³. A hollow piece displaces its metal only. Without it: no load."`
	AltitudeM     string `name:"altitude-m" placeholder:"N" help:"Height above the sea, m. Without it: 0."`
	WaterBoilsAtC string `name:"water-boils-at-c" placeholder:"N" help:"Where plain water boils here, measured, °C. Beats the altitude."`
	WaterTempC    string `name:"water-temp-c" placeholder:"N" help:"Temperature of the water that is poured, °C. Without it: 20."`
	ColdestC      string `name:"coldest-c" placeholder:"N" help:"Coldest that the bath will be, °C. Without it: the lower of the water's temperature and the recipe's least."`
	StepG         string `name:"step-g" placeholder:"N" help:"Smallest step of the balance, g. Without it: 1."`
	BucketL       string `name:"bucket-l" placeholder:"N" help:"Size of the bucket, L. Without it water is not counted in buckets."`
	JSON          bool   `name:"json" help:"Print the figures as JSON instead of a bath sheet."`
}

// Run scales a recipe file to a tank file.
func (cmd *scaleCommand) Run(s streams) error {
	if cmd.Recipe == "-" && cmd.Tank == "-" {
		return badInput{errors.New("--recipe and --tank are both -; only one of the two can come from stdin")}
	}
	conditions, problems := cmd.conditions()
	recipe, err := readFile(cmd.Recipe, "--recipe", s.in, bath.ParseRecipe)
	problems, err = gather(problems, err)
	if err != nil {
		return err
	}
	tank, err := readFile(cmd.Tank, "--tank", s.in, bath.ParseTank)
	problems, err = gather(problems, err)
	if err != nil {
		return err
	}
	if err := problems.Err(); err != nil {
		return err
	}
	answer, err := bath.Scale(recipe, tank, conditions)
	if err != nil {
		return err
	}
	if !cmd.JSON {
		return bath.WriteSheet(s.out, recipe, tank, conditions, answer)
	}
	enc := json.NewEncoder(s.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(answer); err != nil {
		return fmt.Errorf("write the answer: %w", err)
	}
	return nil
}

// gather adds what is wrong with one file to what is wrong elsewhere, so that all of it is told at once.
func gather(problems input.Problems, err error) (input.Problems, error) {
	var more input.Problems
	if errors.As(err, &more) {
		return append(problems, more...), nil
	}
	return problems, err
}

// readFile reads and parses a file; problems name the option and the file before the field.
func readFile[T any](name, option string, stdin io.Reader, parse func([]byte) (T, error)) (T, error) {
	var none T
	data, err := readAll(name, stdin)
	if err != nil {
		return none, badInput{fmt.Errorf("%s: %w", option, err)}
	}
	v, err := parse(data)
	var problems input.Problems
	if errors.As(err, &problems) {
		for i := range problems {
			problems[i].Field = strings.TrimPrefix(name+": ", "-: ") + problems[i].Field
		}
		return none, problems
	}
	return v, err
}

func readAll(name string, stdin io.Reader) ([]byte, error) {
	r := stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		r = f
	}
	// One byte more than is allowed, so that the parser sees that it is too long.
	data, err := io.ReadAll(io.LimitReader(r, input.LargestFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return data, nil
}

// conditions reads the options as people type numbers: "12,5" is 12.5, and "1,234" is asked about.
func (cmd *scaleCommand) conditions() (bath.Conditions, input.Problems) {
	c := bath.DefaultConditions()
	var problems input.Problems
	read := func(option, text string, u unit.Unit, set func(float64)) {
		if text == "" {
			return
		}
		x, err := unit.Parse(text, u)
		var wrong *unit.ParseError
		if errors.As(err, &wrong) {
			problems.Add(option, text, wrong.Allowed())
			return
		}
		set(x)
	}
	read("--load-cm3", cmd.LoadCM3, unit.CM3, func(x float64) { c.Load = unit.CubicCM(x) })
	read("--altitude-m", cmd.AltitudeM, unit.M, func(x float64) { c.Altitude = unit.Metre(x) })
	read("--water-boils-at-c", cmd.WaterBoilsAtC, unit.C, func(x float64) { c.WaterBoilsAt = ptr(unit.Celsius(x)) })
	read("--water-temp-c", cmd.WaterTempC, unit.C, func(x float64) { c.WaterTemp = unit.Celsius(x) })
	read("--coldest-c", cmd.ColdestC, unit.C, func(x float64) { c.Coldest = ptr(unit.Celsius(x)) })
	read("--step-g", cmd.StepG, unit.G, func(x float64) { c.Step = unit.Gram(x) })
	read("--bucket-l", cmd.BucketL, unit.L, func(x float64) { c.Bucket = ptr(unit.Litre(x)) })
	for _, p := range c.Check() {
		p.Field = "--" + strings.ReplaceAll(p.Field, "_", "-")
		problems = append(problems, p)
	}
	return c, problems
}

func ptr[T any](x T) *T { return &x }
