package water

import "math"

// SeaLevelPa is the standard atmosphere, in Pa (ISO 2533:1975).
const SeaLevelPa = 101325.0

// Critical point and coefficients of the saturation equation: W. Wagner and
// A. Pruss, "International equations for the saturation properties of ordinary
// water substance", J. Phys. Chem. Ref. Data 22 (1993) 783 (IAPWS SR1-86).
const (
	criticalK  = 647.096
	criticalPa = 22.064e6

	satA1 = -7.85951783
	satA2 = 1.84408259
	satA3 = -11.7866497
	satA4 = 22.6807411
	satA5 = -15.9618719
	satA6 = 1.80122502
)

// LowestBoilingC and HighestBoilingC are the ends of the saturation line: the
// triple point and the critical point. BoilingC never answers beyond them.
const (
	LowestBoilingC  = 0.01
	HighestBoilingC = criticalK - zeroCelsiusK
)

// VapourPressurePa is the pressure, in Pa, at which plain water boils at tC
// degrees Celsius: the saturation pressure. It is also the local air pressure
// where plain water has been seen to boil at tC. Valid from 0.01 to 373.946 C;
// held at the critical pressure above that, and carried on smoothly below
// 0.01 C for the air of a cold room.
//
// Formula: Wagner and Pruss 1993.
func VapourPressurePa(tC float64) float64 {
	tK := kelvin(tC)
	switch {
	case tK >= criticalK:
		return criticalPa
	case tK <= 0:
		return 0
	}
	sum, _ := saturationSum(1 - tK/criticalK)
	return criticalPa * math.Exp(criticalK/tK*sum)
}

// saturationSum is the bracket of the saturation equation at v = 1 - T/Tc, and
// its slope d(sum)/dv.
func saturationSum(v float64) (sum, slope float64) {
	r := math.Sqrt(v)
	v2 := v * v
	v3 := v2 * v
	v6 := v3 * v3
	sum = satA1*v + satA2*v*r + satA3*v3 + satA4*v3*r + satA5*v2*v2 + satA6*v6*v*r
	slope = satA1 + 1.5*satA2*r + 3*satA3*v2 + 3.5*satA4*v2*r + 4*satA5*v3 + 7.5*satA6*v6*r
	return sum, slope
}

// Newton's method needs four or five steps over the whole line; the limit only
// guards against a case nobody has thought of.
const (
	boilingSteps      = 40
	boilingToleranceK = 1e-11
)

// BoilingC is the temperature, in degrees Celsius, at which plain water boils
// under pressurePa: VapourPressurePa turned round, good to 1e-9 C. A pressure
// below the triple point or above the critical point gives that end of the
// line, a pressure that is zero, negative or not a number gives NaN.
func BoilingC(pressurePa float64) float64 {
	switch {
	case !(pressurePa > 0):
		return math.NaN()
	case pressurePa <= VapourPressurePa(LowestBoilingC):
		return LowestBoilingC
	case pressurePa >= criticalPa:
		return HighestBoilingC
	}
	// Newton on ln p, which is nearly straight in 1/T, from an Antoine guess.
	// The bracket [low, high] takes over should a step leave it.
	target := math.Log(pressurePa / criticalPa)
	low, high := kelvin(LowestBoilingC), criticalK
	tK := antoineK(pressurePa)
	for range boilingSteps {
		if !(tK > low && tK < high) {
			tK = (low + high) / 2
		}
		sum, slope := saturationSum(1 - tK/criticalK)
		miss := criticalK/tK*sum - target
		if miss > 0 {
			high = tK
		} else {
			low = tK
		}
		// d(ln p)/dT = -((Tc/T) sum + slope) / T, always positive.
		step := miss * tK / (criticalK/tK*sum + slope)
		tK += step
		if math.Abs(step) < boilingToleranceK {
			break
		}
	}
	return tK - zeroCelsiusK
}

// antoineK is a first guess of the boiling point in kelvin: the Antoine equation
// of B. E. Poling et al., "The Properties of Gases and Liquids", 5th ed. 2001.
func antoineK(pressurePa float64) float64 {
	return 42.98 + 1687.537/(10.11564-math.Log10(pressurePa))
}

// StandardPressurePa is the pressure of the standard atmosphere, in Pa, at
// altitudeM metres above sea level (geometric). The formula holds from -2000 to
// 11000 m; the weather moves the true pressure by about 2 kPa either way, which
// moves the boiling point by about 0.6 C.
//
// Formula: US Standard Atmosphere 1976 (NASA-TM-X-74335), the lowest layer.
func StandardPressurePa(altitudeM float64) float64 {
	const (
		earthRadiusM = 6356766
		lapseKPerM   = 0.0065
		seaLevelK    = 288.15
		exponent     = 5.255876
	)
	geopotentialM := earthRadiusM * altitudeM / (earthRadiusM + altitudeM)
	return SeaLevelPa * math.Pow(1-lapseKPerM*geopotentialM/seaLevelK, exponent)
}
