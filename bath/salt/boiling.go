package salt

import (
	"errors"
	"math"

	"blackbath/bath/water"
)

// BoilingConstant is Kb of water, in C per mol of particles per kg of water:
// R T^2 M / dHvap at 100 C.
const BoilingConstant = 0.513

// Boiling is where a solution boils and how far that can be trusted.
type Boiling struct {
	TempC float64
	// WaterActivity is the share, 0 to 1, of plain water's vapour pressure that
	// the solution keeps.
	WaterActivity float64
	// BeyondTable: a salt is stronger than the last row of its table and is held
	// there; the true boiling point is higher. Estimate.
	BeyondTable bool
	// IdealRule: a salt has no table and takes the ideal rule, which read up to
	// a quarter too high for the chlorides that have both. Estimate.
	IdealRule bool
}

// ErrPressure is the error for an air pressure that is not a positive number.
var ErrPressure = errors.New("air pressure must be above 0 Pa")

// RiseC is how many degrees Celsius the anhydrous salt, gPer100GWater grams of it
// per 100 g of all the water, raises the boiling point of water at 101.325 kPa.
// It is read off the salt's table, linear between the rows and held at the last
// row, where beyondTable turns true; a salt without a table takes the ideal rule.
func (s Salt) RiseC(gPer100GWater float64) (riseC float64, beyondTable bool) {
	return substances[s.parent].rise(gPer100GWater)
}

// BoilingTableEnd is the last row of the salt's boiling table, in g of anhydrous
// salt per 100 g of all the water; ok is false when the salt has no table.
func (s Salt) BoilingTableEnd() (gPer100GWater float64, ok bool) {
	rows := substances[s.parent].boiling
	if len(rows) == 0 {
		return 0, false
	}
	return rows[len(rows)-1].x, true
}

func (s *substance) rise(gPer100GWater float64) (riseC float64, beyondTable bool) {
	if len(s.boiling) == 0 {
		molPerKg := 10 * gPer100GWater / s.molarMassGPerMol
		return BoilingConstant * float64(s.particles) * molPerKg, false
	}
	last := s.boiling[len(s.boiling)-1]
	return interpolate(s.boiling, gPer100GWater), gPer100GWater > last.x
}

// seaLevelBoilingC is where plain water boils at 101.325 kPa: 99.974 C.
var seaLevelBoilingC = water.BoilingC(water.SeaLevelPa)

// SolutionBoiling is where the liquid of a bath boils under pressurePa,
// everything counted as dissolved; earth that does not dissolve makes no
// difference. It does not allocate.
//
// Each substance's rise is turned into a water activity, as though it were alone
// in all the water; the activities are multiplied; the bath boils where plain
// water would under the pressure divided by the product.
//
// An id that is not in the catalogue gives an *UnknownError, a negative or
// infinite amount an *AmountError, a pressure that is not above 0 ErrPressure.
func SolutionBoiling(pressurePa float64, solution []Dissolved) (Boiling, error) {
	if !(pressurePa > 0) || math.IsInf(pressurePa, 1) {
		return Boiling{}, ErrPressure
	}
	m, err := mix(solution)
	if err != nil {
		return Boiling{}, err
	}
	b := Boiling{WaterActivity: 1}
	for p, gPerKg := range m {
		if gPerKg == 0 {
			continue
		}
		riseC, beyond := substances[p].rise(gPerKg / 10)
		b.WaterActivity *= water.SeaLevelPa / water.VapourPressurePa(seaLevelBoilingC+riseC)
		b.BeyondTable = b.BeyondTable || beyond
		b.IdealRule = b.IdealRule || len(substances[p].boiling) == 0
	}
	b.TempC = water.BoilingC(pressurePa / b.WaterActivity)
	return b, nil
}
