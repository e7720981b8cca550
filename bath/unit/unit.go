// Package unit has the quantities of a bath as types, so that the compiler catches a mass handed over as a volume, and
// reads numbers and quantities the way people type them.
package unit

import (
	"math"
	"strconv"
)

type (
	Gram        float64 // mass, g
	Litre       float64 // volume, L
	CubicCM     float64 // volume, cm³
	Celsius     float64 // a temperature, °C; a difference is a plain float64 ending in DeltaC
	Centimetre  float64 // length or depth, cm
	SquareCM    float64 // area, cm²
	SquareDM    float64 // area of metal, dm²
	Metre       float64 // height above the sea, m
	Kilowatt    float64 // power that reaches the bath, kW
	Minute      float64 // duration, min
	GramPerCM3  float64 // density, g/cm³, which is kg/L
	GramPerKG   float64 // content, g per kg of water
	LitrePerH   float64 // rate, L/h
	KilogramPH  float64 // rate, kg/h
	PercentMass float64 // share of a mass, in percent of the stated basis
)

// Litres converts a volume.
func (v CubicCM) Litres() Litre { return Litre(v / 1000) }

// CubicCM converts a volume.
func (v Litre) CubicCM() CubicCM { return CubicCM(v * 1000) }

// Kilograms returns the mass in kg, for formulas and labels.
func (m Gram) Kilograms() float64 { return float64(m) / 1000 }

// FromKilograms returns a mass given in kg.
func FromKilograms(kg float64) Gram { return Gram(kg * 1000) }

// RoundTo returns the mass rounded to the nearest whole number of steps, half up. step must be above 0.
func (m Gram) RoundTo(step Gram) Gram {
	n := math.Floor(float64(m)/float64(step) + 0.5)
	// 0.01 is not held exactly, but 100 steps to the gram are: dividing gives the number that a person would write.
	if perGram := math.Round(1 / float64(step)); perGram > 1 && math.Abs(perGram*float64(step)-1) < 1e-12 {
		return Gram(n / perGram)
	}
	return Gram(n * float64(step))
}

// Label writes a mass to the step of a balance, from 1 kg on in kg: "295" "g", "2.840" "kg". A step of 0 counts as 1 g.
func (m Gram) Label(step Gram) (number, symbol string) {
	s := float64(step)
	if s <= 0 {
		s = 1
	}
	if math.Abs(float64(m)) < 1000-s/2 {
		return strconv.FormatFloat(float64(m), 'f', decimalsOf(s), 64), G.Symbol
	}
	return strconv.FormatFloat(m.Kilograms(), 'f', decimalsOf(s/1000), 64), KG.Symbol
}

// decimalsOf is how many decimals a figure read to that step has: 0.5 has 1, 5 has none.
func decimalsOf(step float64) int {
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}
