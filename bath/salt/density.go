package salt

import (
	"math"

	"blackbath/bath/water"
)

// Density is the density of a solution and how far it can be trusted. Inside the
// ranges of the fit the standard deviation is 1.4 kg/m3 (Laliberte and Cooper
// 2004).
type Density struct {
	KgM3 float64
	// OutsideTemp: the temperature lies outside the measured range of a salt of
	// the solution. Estimate, good to about 0.5 %.
	OutsideTemp bool
	// AboveMax: the solution holds more salt than the strongest one measured for
	// a salt of it. Estimate of unknown error.
	AboveMax bool
}

// fit holds the coefficients of one salt and where they were fitted.
type fit struct {
	c0, c1, c2, c3, c4 float64
	minC, maxC         float64
	maxFraction        float64
	// holdFraction, when not 0, is the salt fraction above which the formula is
	// held, because its divisor c0 W + c1 reaches zero.
	holdFraction float64
}

// DensityFit is where the density of this salt's solutions was measured: from
// minC to maxC degrees Celsius, and up to maxFraction of anhydrous salt by mass
// of the liquid.
func (s Salt) DensityFit() (minC, maxC, maxFraction float64) {
	f := &substances[s.parent].density
	return f.minC, f.maxC, f.maxFraction
}

// SolutionDensity is the density of the liquid of a bath at tC degrees Celsius,
// everything counted as dissolved. It does not allocate.
//
// An id that is not in the catalogue gives an *UnknownError, a negative or
// infinite amount an *AmountError.
//
// Formula: M. Laliberte and W. E. Cooper, "Model for calculating the density of
// aqueous electrolyte solutions", J. Chem. Eng. Data 49 (2004) 1141-1151:
//
//	1/rho = (1-W)/rho_water + sum w_i v_i
//	v_i   = (W + c2 + c3 t) / ((c0 W + c1) exp(1e-6 (t + c4)^2))
//
// with W the sum of all the mass fractions w_i of the liquid. v_i may be a
// little negative: ions shrink the water.
func SolutionDensity(tC float64, solution []Dissolved) (Density, error) {
	m, err := mix(solution)
	if err != nil {
		return Density{}, err
	}
	var salts float64
	for _, gPerKg := range m {
		salts += gPerKg
	}
	total := salts / (1000 + salts)
	waterKgM3 := water.DensityKgM3(tC)
	d := Density{}
	volume := (1 - total) / waterKgM3
	for p, gPerKg := range m {
		if gPerKg == 0 {
			continue
		}
		f := &substances[p].density
		volume += gPerKg / (1000 + salts) * f.apparentM3PerKg(tC, total, waterKgM3)
		d.OutsideTemp = d.OutsideTemp || tC < f.minC || tC > f.maxC
		// The formula takes the total, so the total decides, not this salt's part.
		d.AboveMax = d.AboveMax || total > f.maxFraction
	}
	d.KgM3 = 1 / volume
	return d, nil
}

// apparentM3PerKg is the apparent volume of 1 kg of the salt in a liquid of
// total salt fraction W. Outside the measured temperatures the dissolved salt is
// taken to expand like water from the nearest end on: the raw formula is 3 % off
// for aluminium chloride at 90 C, this rule below 0.5 % for the salts that have
// hot data.
func (f *fit) apparentM3PerKg(tC, total, waterKgM3 float64) float64 {
	if f.holdFraction > 0 {
		total = min(total, f.holdFraction)
	}
	if at := min(max(tC, f.minC), f.maxC); at != tC {
		return f.formula(at, total) * water.DensityKgM3(at) / waterKgM3
	}
	return f.formula(tC, total)
}

func (f *fit) formula(tC, total float64) float64 {
	shift := tC + f.c4
	return (total + f.c2 + f.c3*tC) / ((f.c0*total + f.c1) * math.Exp(1e-6*shift*shift))
}
