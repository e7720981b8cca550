package unit

import (
	"fmt"
	"strings"
	"unicode"
)

// A Dimension is what a quantity measures.
type Dimension int

const (
	Mass Dimension = iota
	Volume
	Length
	Temperature
	Power
	Duration
	Area
	Percent
	Density
)

// A Unit is one way to write a quantity: value in base unit = number × Factor + Offset.
type Unit struct {
	Symbol    string
	Dimension Dimension
	Factor    float64
	Offset    float64
}

// The units in which the program keeps quantities.
var (
	G      = Unit{"g", Mass, 1, 0}
	L      = Unit{"L", Volume, 1, 0}
	CM     = Unit{"cm", Length, 1, 0}
	M      = Unit{"m", Length, 100, 0}
	C      = Unit{"°C", Temperature, 1, 0}
	KW     = Unit{"kW", Power, 1, 0}
	Min    = Unit{"min", Duration, 1, 0}
	DM2    = Unit{"dm²", Area, 1, 0}
	Pct    = Unit{"%", Percent, 1, 0}
	GPerML = Unit{"g/cm³", Density, 1, 0}
	KG     = Unit{"kg", Mass, 1000, 0}
	CM3    = Unit{"cm³", Volume, 0.001, 0}
)

// spellings are the units as people write them, in lower case. Pounds and ounces are the international ones (1959 yard and
// pound agreement: 453.59237 g); a gallon is ambiguous between countries and so is not here.
var spellings = map[string]Unit{
	"g": G, "gram": G, "grams": G, "gr": G, "gm": G, "gms": G,
	"kg": KG, "kilo": KG, "kilos": KG, "kgs": KG, "kilogram": KG, "kilograms": KG,
	"mg": {"mg", Mass, 0.001, 0}, "lb": {"lb", Mass, 453.59237, 0}, "lbs": {"lb", Mass, 453.59237, 0}, "oz": {"oz", Mass, 28.349523125, 0},
	"l": L, "litre": L, "litres": L, "liter": L, "liters": L, "ltr": L,
	"ml": {"mL", Volume, 0.001, 0}, "cm3": CM3, "cm³": CM3, "cc": CM3, "dl": {"dL", Volume, 0.1, 0},
	"cm": CM, "mm": {"mm", Length, 0.1, 0}, "m": M, "in": {"in", Length, 2.54, 0}, "inch": {"in", Length, 2.54, 0}, "inches": {"in", Length, 2.54, 0},
	"ft": {"ft", Length, 30.48, 0}, "feet": {"ft", Length, 30.48, 0},
	"°c": C, "c": C, "degc": C, "celsius": C, "°f": {"°F", Temperature, 5.0 / 9, -160.0 / 9}, "f": {"°F", Temperature, 5.0 / 9, -160.0 / 9},
	"kw": KW, "w": {"W", Power, 0.001, 0}, "watt": {"W", Power, 0.001, 0},
	"min": Min, "minute": Min, "minutes": Min, "s": {"s", Duration, 1.0 / 60, 0}, "sec": {"s", Duration, 1.0 / 60, 0}, "h": {"h", Duration, 60, 0}, "hours": {"h", Duration, 60, 0},
	"dm2": DM2, "dm²": DM2, "cm2": {"cm²", Area, 0.01, 0}, "cm²": {"cm²", Area, 0.01, 0}, "m2": {"m²", Area, 100, 0}, "m²": {"m²", Area, 100, 0},
	"%": Pct, "percent": Pct,
	"g/cm3": GPerML, "g/cm³": GPerML, "g/ml": GPerML, "kg/l": GPerML,
}

// from converts a number written in u to one in v, which measures the same.
func (u Unit) from(x float64, v Unit) float64 {
	if u == v {
		return x // exact: what was typed is what is kept
	}
	return (x*u.Factor + u.Offset - v.Offset) / v.Factor
}

// Parse reads a quantity in a field that shows its unit: "12,5" is in that unit, "2 kg" in a field of grams is 2000.
// It returns the number in field's unit. The error is a *[ParseError].
func Parse(text string, field Unit) (float64, error) {
	x, u, found, err := split(text)
	if err != nil {
		return 0, err
	}
	if !found {
		return x, nil
	}
	if u.Dimension != field.Dimension {
		return 0, &ParseError{Text: text, Problem: WrongUnit, Readings: []string{field.Symbol}}
	}
	return finite(text, u.from(x, field))
}

// ParseWithUnit reads a quantity that must name its own unit, and returns the number in whichever of the accepted units
// measures the same, with that unit. The error is a *[ParseError].
func ParseWithUnit(text string, accepted ...Unit) (float64, Unit, error) {
	symbols := make([]string, len(accepted))
	for i, a := range accepted {
		symbols[i] = a.Symbol
	}
	x, u, found, err := split(text)
	if err != nil {
		return 0, Unit{}, err
	}
	if !found {
		return 0, Unit{}, &ParseError{Text: text, Problem: NoUnit, Readings: symbols}
	}
	for _, a := range accepted {
		if a.Dimension == u.Dimension {
			y, err := finite(text, u.from(x, a))
			return y, a, err
		}
	}
	return 0, Unit{}, &ParseError{Text: text, Problem: WrongUnit, Readings: symbols}
}

// split separates "2,5 kg" into its number and its unit.
func split(text string) (x float64, u Unit, hasUnit bool, err error) {
	t := strings.TrimSpace(text)
	cut := strings.IndexFunc(t, func(r rune) bool {
		return (unicode.IsLetter(r) && r != 'e' && r != 'E') || r == '°' || r == '%'
	})
	if cut < 0 {
		x, err = Number(t)
		return x, Unit{}, false, err
	}
	number, symbol := strings.TrimSpace(t[:cut]), strings.ToLower(strings.TrimSpace(t[cut:]))
	if number == "" || number == "+" || number == "-" { // "NaN", "ten", "-inf": not a number with a unit, but no number
		_, err = Number(t)
		return 0, Unit{}, false, err
	}
	if x, err = Number(number); err != nil {
		return 0, Unit{}, false, err
	}
	u, known := spellings[symbol]
	if !known {
		return 0, Unit{}, false, &ParseError{Text: text, Problem: UnknownUnit, Readings: []string{fmt.Sprintf("%q", symbol)}}
	}
	return x, u, true, nil
}
