package water_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"blackbath/bath/internal/published"
	"blackbath/bath/water"
)

func TestVapourPressurePa(t *testing.T) {
	tests := []struct {
		name                string
		tK, want, tolerance float64
	}{
		// Wagner and Pruss 1993 = IAPWS SR1-86, worked by another implementation.
		{"SR1-86", 300, 3536.72, 0.01},
		{"SR1-86", 373.1243, 101325.0, 0.1},
		{"SR1-86", 400, 245765.26, 0.01},
		// The fixed points of the saturation line (Wagner and Pruss 1993).
		{"triple point", 273.16, 611.657, 0.01},
		{"critical point", 647.096, 22.064e6, 1},
		// Verification table of IAPWS-IF97, region 4, another equation (from memory).
		{"IF97", 300, 3536.58941, 3536 * 1e-4},
		{"IF97", 500, 2.63889776e6, 2.64e6 * 1e-3},
		{"IF97", 600, 12.3443146e6, 12.3e6 * 1e-3},
	}
	for _, tt := range tests {
		got := water.VapourPressurePa(tt.tK - 273.15)
		if math.Abs(got-tt.want) > tt.tolerance {
			t.Errorf("%s: VapourPressurePa at %v K: got %v, want %v", tt.name, tt.tK, got, tt.want)
		}
	}
}

func TestVapourPressurePaBeyondTheLine(t *testing.T) {
	if got, want := water.VapourPressurePa(1000), 22.064e6; got != want {
		t.Errorf("above the critical point: got %v, want %v", got, want)
	}
	if got := water.VapourPressurePa(-273.15); got != 0 {
		t.Errorf("at absolute zero: got %v, want 0", got)
	}
	// Supercooled water at -5 C: 421 Pa (Murphy and Koop 2005, from memory).
	if got, want := water.VapourPressurePa(-5), 421.0; math.Abs(got-want) > 2 {
		t.Errorf("at -5 C: got %v, want %v", got, want)
	}
}

func TestBoilingC(t *testing.T) {
	tests := []struct {
		name                        string
		pressurePa, want, tolerance float64
	}{
		// IAPWS SR1-86: the normal boiling point is 373.1243 K, not 100.000 C.
		{"sea level", 101325, 99.9743, 1e-4},
		// Verification table of IAPWS-IF97, region 4 (from memory).
		{"IF97", 0.1e6, 372.755919 - 273.15, 0.01},
		{"IF97", 1e6, 453.035632 - 273.15, 0.02},
		{"IF97", 10e6, 584.149488 - 273.15, 0.05},
	}
	for _, tt := range tests {
		if got := water.BoilingC(tt.pressurePa); math.Abs(got-tt.want) > tt.tolerance {
			t.Errorf("%s: BoilingC(%v): got %v, want %v", tt.name, tt.pressurePa, got, tt.want)
		}
	}
}

func TestBoilingCAbsurdPressures(t *testing.T) {
	tests := []struct{ pressurePa, want float64 }{
		{0, math.NaN()},
		{-101325, math.NaN()},
		{math.Inf(-1), math.NaN()},
		{math.SmallestNonzeroFloat64, water.LowestBoilingC},
		{611, water.LowestBoilingC},
		{22.064e6, water.HighestBoilingC},
		{math.MaxFloat64, water.HighestBoilingC},
		{math.Inf(1), water.HighestBoilingC},
	}
	for _, tt := range tests {
		got := water.BoilingC(tt.pressurePa)
		if got != tt.want && !(math.IsNaN(got) && math.IsNaN(tt.want)) {
			t.Errorf("BoilingC(%v): got %v, want %v", tt.pressurePa, got, tt.want)
		}
	}
}

// BoilingC undoes VapourPressurePa to 1e-9 C. Above 370 C the line ends and one
// rounding of the pressure moves the answer more, so it is left out.
func TestBoilingCUndoesVapourPressure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(0.02, 370).Draw(t, "tC")
		got := water.BoilingC(water.VapourPressurePa(want))
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("BoilingC(VapourPressurePa(%v)): got %v", want, got)
		}
	})
}

// US Standard Atmosphere 1976, and the boiling points that follow; every row.
func TestAltitude(t *testing.T) {
	seen := map[string]int{}
	for _, row := range published.Table(t, "altitude_boiling.csv", 22) {
		altitudeM, want := row.Number(t, "altitude_m_geometric"), row.Number(t, "value")
		pressurePa := water.StandardPressurePa(altitudeM)
		seen[row["quantity"]]++
		switch row["quantity"] {
		case "standard_pressure":
			if math.Abs(pressurePa-want) > 0.06 {
				t.Errorf("StandardPressurePa(%v): got %v, want %v", altitudeM, pressurePa, want)
			}
		case "boiling_point_pure_water":
			if got := water.BoilingC(pressurePa); math.Abs(got-want) > 0.0006 {
				t.Errorf("boiling point at %v m: got %v, want %v", altitudeM, got, want)
			}
		default:
			t.Errorf("quantity %q has no check", row["quantity"])
		}
	}
	if seen["standard_pressure"] != 11 || seen["boiling_point_pure_water"] != 11 {
		t.Errorf("got rows %v, want 11 of each quantity", seen)
	}
	// The printed tables of the US Standard Atmosphere 1976: 79501 Pa at 2000 m;
	// 107478 Pa at -500 m and 30801 Pa at 9000 m (from memory).
	for _, tt := range []struct{ altitudeM, want float64 }{{2000, 79501}, {-500, 107478}, {9000, 30801}} {
		if got := water.StandardPressurePa(tt.altitudeM); math.Abs(got-tt.want) > 1 {
			t.Errorf("StandardPressurePa(%v): got %v, want %v", tt.altitudeM, got, tt.want)
		}
	}
}

func BenchmarkBoilingC(b *testing.B) {
	for b.Loop() {
		water.BoilingC(112000)
	}
}
