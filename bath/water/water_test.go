package water_test

import (
	"math"
	"testing"

	"blackbath/bath/internal/published"
	"blackbath/bath/water"
)

// IAPWS-95 and the IAPWS 2008 viscosity, by another implementation, every row.
// The tolerances are what the short formulas are known to keep.
func TestAgainstIAPWS(t *testing.T) {
	checks := map[string]struct {
		compute  func(tC float64) float64
		scale    float64 // from our unit to the table's
		absolute float64
		relative float64
		rows     int
	}{
		"density_101325Pa":           {water.DensityKgM3, 1, 0.02, 0, 16},
		"dynamic_viscosity_101325Pa": {water.ViscosityPaS, 1000, 0, 1e-4, 16},
		"saturation_vapour_pressure": {water.VapourPressurePa, 1e-3, 0, 1e-4, 19},
		"latent_heat_vaporisation":   {water.LatentHeatKJPerKg, 1, 0.1, 0, 15},
		"isobaric_heat_capacity":     {func(float64) float64 { return water.SpecificHeatKJPerKgK }, 1, 0, 0.011, 10},
	}
	seen := map[string]int{}
	for _, row := range published.Table(t, "water_properties.csv", 76) {
		quantity, tC, want := row["quantity"], row.Number(t, "t_C"), row.Number(t, "value")
		c, ok := checks[quantity]
		if !ok {
			t.Errorf("quantity %q has no check", quantity)
			continue
		}
		seen[quantity]++
		got := c.compute(tC) * c.scale
		if math.Abs(got-want) > c.absolute+c.relative*want {
			t.Errorf("%s at %v C: got %v, want %v", quantity, tC, got, want)
		}
	}
	for quantity, c := range checks {
		if seen[quantity] != c.rows {
			t.Errorf("%s: got %d rows, want %d", quantity, seen[quantity], c.rows)
		}
	}
}

func TestDensityKgM3(t *testing.T) {
	tests := []struct {
		tC, want, tolerance float64
	}{
		// Test values of the open implementation github.com/CalebBell/thermo.
		{25, 997.0449, 0.02},
		{50, 988.0363, 0.02},
		// Tanaka et al., Metrologia 38 (2001) 301-309.
		{0, 999.8428, 0.02},
		{10, 999.7027, 0.02},
		{20, 998.2067, 0.02},
		{30, 995.6488, 0.02},
	}
	for _, tt := range tests {
		if got := water.DensityKgM3(tt.tC); math.Abs(got-tt.want) > tt.tolerance {
			t.Errorf("DensityKgM3(%v): got %v, want %v", tt.tC, got, tt.want)
		}
	}
	// The misprint of the denominator, 16.897850e-3, that is in circulation (for
	// example in the online text of Jones and Harris 1992) gives 996.73 at 25 C.
	if got := water.DensityKgM3(25); math.Abs(got-996.73) < 0.2 {
		t.Errorf("DensityKgM3(25): got %v, the value of the misprinted formula", got)
	}
}

func TestViscosityPaS(t *testing.T) {
	// CRC Handbook of Chemistry and Physics: 1.002 mPa.s at 20 C.
	if got, want := water.ViscosityPaS(20), 1.002e-3; math.Abs(got-want) > 0.001e-3 {
		t.Errorf("ViscosityPaS(20): got %v, want %v", got, want)
	}
}

func TestLatentHeatKJPerKg(t *testing.T) {
	// CRC Handbook of Chemistry and Physics: 40.65 kJ/mol at the boiling point,
	// 43.98 kJ/mol at 25 C; 18.015 g/mol.
	for _, tt := range []struct{ tC, kJPerMol float64 }{{100, 40.65}, {25, 43.98}} {
		got, want := water.LatentHeatKJPerKg(tt.tC), tt.kJPerMol/18.015e-3
		if math.Abs(got-want) > 5e-4*want {
			t.Errorf("LatentHeatKJPerKg(%v): got %v, want %v", tt.tC, got, want)
		}
	}
}

func TestNotANumberStaysSo(t *testing.T) {
	nan := math.NaN()
	for name, got := range map[string]float64{
		"DensityKgM3":        water.DensityKgM3(nan),
		"ViscosityPaS":       water.ViscosityPaS(nan),
		"LatentHeatKJPerKg":  water.LatentHeatKJPerKg(nan),
		"VapourPressurePa":   water.VapourPressurePa(nan),
		"BoilingC":           water.BoilingC(nan),
		"StandardPressurePa": water.StandardPressurePa(nan),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s(NaN): got %v, want NaN", name, got)
		}
	}
}
