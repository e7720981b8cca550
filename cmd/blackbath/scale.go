package main

import (
	"errors"
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
	recipe, err := readFile(cmd.Recipe, "--recipe", input.LargestFileBytes, s.in, bath.ParseRecipe)
	problems, err = gather(problems, err)
	if err != nil {
		return err
	}
	tank, err := readFile(cmd.Tank, "--tank", input.LargestFileBytes, s.in, bath.ParseTank)
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
	return printJSON(s.out, answer)
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
