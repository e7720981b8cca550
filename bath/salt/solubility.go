package salt

import "math"

// SolubilityUncertainty is what two handbooks may differ by, as a fraction: the
// second sources lie within 3.5 % of the table for the seven salts that have
// one.
const SolubilityUncertainty = 0.04

// SolubilityGPer100G is the grams of the anhydrous salt that dissolve in 100 g of
// all the water at tC degrees Celsius, the salt being alone in it. Linear between
// the rows of the table, held at its ends (0 or 10 C, and 100 C).
func (s Salt) SolubilityGPer100G(tC float64) float64 {
	return interpolate(substances[s.parent].solubility, tC)
}

// HydrateSolubilityGPer100G is the grams of this form that dissolve in 100 g of
// added water, its crystal water not counted, at tC degrees Celsius. It equals
// SolubilityGPer100G for an anhydrous form, and is +Inf where the crystals
// dissolve in their own water alone.
func (s Salt) HydrateSolubilityGPer100G(tC float64) float64 {
	return hydrateSolubility(s.HydrateFactor(), s.SolubilityGPer100G(tC))
}

// hydrateSolubility turns a solubility of the anhydrous salt, g per 100 g of all
// water, into g of the hydrate per 100 g of added water. factor is R. Mass
// balance: 100 g of added water plus the crystal water (R-1)/R of the hydrate
// hold S per 100 g. When the crystals bring more water than they need, the
// bracket is no longer positive and any amount dissolves.
func hydrateSolubility(factor, anhydrous float64) float64 {
	left := 100 - (factor-1)*anhydrous
	if left <= 0 {
		return math.Inf(1)
	}
	return 100 * factor * anhydrous / left
}

// Undissolved is the mass of this form that stays as crystals at tC degrees
// Celsius when mass of it, alone, is in allWater of water, crystal water
// counted. The three masses share a unit. Crystals that stay keep their
// crystal water from the solution. Never below 0.
func (s Salt) Undissolved(mass, allWater, tC float64) float64 {
	added := max(0, allWater-mass*s.CrystalWaterShare())
	solubility := s.HydrateSolubilityGPer100G(tC)
	if math.IsInf(solubility, 1) {
		return 0
	}
	return max(0, mass-solubility/100*added)
}

// SaturationLoad adds up, over the substances of a solution, the amount over the
// amount that would dissolve alone in all the water at tC degrees Celsius. 1 is
// full. It is an engineering rule, not a published one: salts that share an ion
// push each other out sooner, others help each other.
//
// An id that is not in the catalogue gives an *UnknownError, a negative or
// infinite amount an *AmountError.
func SaturationLoad(tC float64, solution []Dissolved) (float64, error) {
	m, err := mix(solution)
	if err != nil {
		return 0, err
	}
	load := 0.0
	for p, gPerKg := range m {
		if gPerKg > 0 {
			load += gPerKg / 10 / interpolate(substances[p].solubility, tC)
		}
	}
	return load, nil
}
