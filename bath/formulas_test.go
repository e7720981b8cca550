package bath

import (
	"math"
	"testing"

	"blackbath/bath/internal/published"
)

// The published formulas once more, written for the tests from the papers and fed from the tables of testdata/published, so
// that figures of a scaling can be checked without the packages that made them.

// kell is the density of water in kg/m³. G. S. Kell, J. Chem. Eng. Data 20 (1975) 97-105.
func kell(t float64) float64 {
	return (999.83952 + 16.945176*t - 7.9870401e-3*t*t - 46.170461e-6*t*t*t + 105.56302e-9*t*t*t*t - 280.54253e-12*t*t*t*t*t) /
		(1 + 16.879850e-3*t)
}

// saturation is the vapour pressure of water in Pa. W. Wagner and A. Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783.
func saturation(t float64) float64 {
	const tc, pc = 647.096, 22.064e6
	v := 1 - (t+273.15)/tc
	return pc * math.Exp(tc/(t+273.15)*(-7.85951783*v+1.84408259*math.Pow(v, 1.5)-11.7866497*math.Pow(v, 3)+
		22.6807411*math.Pow(v, 3.5)-15.9618719*math.Pow(v, 4)+1.80122502*math.Pow(v, 7.5)))
}

// boilingAt turns saturation round by bisection.
func boilingAt(pa float64) float64 {
	lo, hi := 0.01, 200.0
	for range 80 {
		if mid := (lo + hi) / 2; saturation(mid) < pa {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// latentHeat is that of water in kJ/kg: a cubic through figures of IAPWS-95, good to 0.06 kJ/kg from 0 to 110 °C.
func latentHeat(t float64) float64 {
	return 2500.930 - 2.376917*t + 5.754875e-4*t*t - 1.260414e-5*t*t*t
}

// solutionDensity is that of a liquid with w[salt] kg of anhydrous salt per kg, in kg/m³. M. Laliberté and W. E. Cooper,
// J. Chem. Eng. Data 49 (2004) 1141-1151, coefficients of M. Laliberté 2009. Outside the temperatures of a salt it expands
// like water from the nearest end on.
func solutionDensity(t *testing.T, tC float64, w map[string]float64) float64 {
	t.Helper()
	table := published.Table(t, "density_coefficients.csv", 99)
	total := 0.0
	for _, x := range w {
		total += x
	}
	volume := (1 - total) / kell(tC)
	for salt, x := range w {
		c := func(name string) float64 { return publishedValue(t, table, "salt", salt, "parameter", name) }
		at := min(max(tC, c("t_min")), c("t_max"))
		apparent := (total + c("c2") + c("c3")*at) / ((c("c0")*total + c("c1")) * math.Exp(1e-6*(at+c("c4"))*(at+c("c4"))))
		volume += x * apparent * kell(at) / kell(tC)
	}
	return 1 / volume
}

// shah is the water that an open bath loses below boiling into still air of 25 °C and half its moisture, in kg/(m² h).
// M. M. Shah, HVAC&R Research 8(1) (2002) 125-131.
func shah(tC, activity, pa float64) float64 {
	ps, pr := activity*saturation(tC), 0.5*saturation(25)
	ws, wr := 0.62198*ps/(pa-ps), 0.62198*pr/(pa-pr)
	ds, dr := (pa-ps)/(287.055*(tC+273.15)), (pa-pr)/(287.055*(25+273.15))
	return 35 * ds * math.Cbrt(dr-ds) * (ws - wr)
}
