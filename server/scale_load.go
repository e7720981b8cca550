package server

import (
	"errors"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// loadVolume reads the metal of the load: "0.581 L", "581 cm³" or "4.2 kg". Nothing written is no load. A number alone is
// refused: whether it is litres or kilograms decides how the tank is filled.
func loadVolume(text string, copperPct float64) (unit.CubicCM, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	x, u, err := unit.ParseWithUnit(text, unit.CM3, unit.L, unit.KG)
	if err != nil {
		return 0, err
	}
	if u == unit.KG {
		return bath.AlloyVolume(unit.FromKilograms(x), copperPct), nil
	}
	return unit.CubicCM(x), nil
}

// loadAllowed says what to write as the load in place of what could not be read.
func loadAllowed(err error) input.Text {
	var p *unit.ParseError
	if errors.As(err, &p) && p.Problem != unit.NotANumber && p.Problem != unit.NoUnit {
		return p.Allowed()
	}
	return input.Say("a number with its unit: 0.581 L, 581 cm³ or 4.2 kg")
}
