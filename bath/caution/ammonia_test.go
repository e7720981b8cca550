package caution

import (
	"math"
	"testing"
)

// Percent free ammonia in fresh water: R. P. Trussell, J. Fish. Res. Board Can. 29 (1972) 1505 (pages from memory), as
// printed in the manuals of two water test kits. It is older than the equation used here, by other measurements, so the two
// need not agree better than they do: Trussell's pKa at 25 °C lies 0.009 above.
func TestFreeAmmoniaTrussell(t *testing.T) {
	for _, tt := range []struct {
		ph, tempC, want float64
	}{
		{7, 10, 0.19}, {7, 15, 0.27}, {7, 20, 0.40}, {7, 25, 0.55},
		{7.5, 10, 0.59}, {7.5, 15, 0.85}, {7.5, 20, 1.24}, {7.5, 25, 1.73},
		{8, 10, 1.83}, {8, 15, 2.65}, {8, 20, 3.83}, {8, 25, 5.28},
		{8.5, 10, 5.55}, {8.5, 15, 7.98}, {8.5, 20, 11.18}, {8.5, 25, 14.97},
	} {
		got := freeAmmoniaPct(tt.ph, tt.tempC)
		if math.Abs(got-tt.want) > 0.025*tt.want+0.005 { // 2.5 %, and half the last digit
			t.Errorf("pH %g, %g °C: got %.3f %%, want %g %%", tt.ph, tt.tempC, got, tt.want)
		}
	}
}

// The worked figures that SAFETY.md prints, in section 6: by hand from K. Emerson et al., J. Fish. Res. Board Can. 32
// (1975), extended above the 50 °C at which their measurements end. Each to half of its last digit.
func TestFreeAmmoniaEmerson(t *testing.T) {
	phs := []float64{5, 6, 7, 7.5, 8, 9}
	for _, tt := range []struct {
		tempC float64
		want  []float64
		half  []float64
	}{
		{25, []float64{0.01, 0.06, 0.6, 1.8, 5, 36}, []float64{0.005, 0.005, 0.05, 0.05, 0.5, 0.5}},
		{60, []float64{0.05, 0.5, 5, 14, 34, 84}, []float64{0.005, 0.05, 0.5, 0.5, 0.5, 0.5}},
		{80, []float64{0.15, 1.5, 13, 32, 60, 94}, []float64{0.005, 0.05, 0.5, 0.5, 0.5, 0.5}},
		{95, []float64{0.3, 3, 24, 50, 76, 97}, []float64{0.05, 0.5, 0.5, 0.7, 0.5, 0.5}},
	} {
		for i, ph := range phs {
			if got := freeAmmoniaPct(ph, tt.tempC); math.Abs(got-tt.want[i]) > tt.half[i] {
				t.Errorf("pH %g, %g °C: got %.3f %%, want %g %%", ph, tt.tempC, got, tt.want[i])
			}
		}
	}
}

// The rules of the ammonia share turn over where the equation says: at 60 °C pKa = 0.09018 + 2729.92/333.15 = 8.2845 by
// hand, so 10 % is reached at pH 8.2845 - log10(9) = 7.3302 and 2 % at 8.2845 - log10(49) = 6.5943.
func TestAmmoniaLimits(t *testing.T) {
	for _, tt := range []struct {
		ph   float64
		want string
	}{{6.594, ""}, {6.595, "R-04"}, {7.330, "R-04"}, {7.331, "R-03"}} {
		a := Judge(Facts{Step: StepSoak, Bath: Bath{Substances: []string{"ammonium-chloride"}, TempC: new(60.0), PH: &tt.ph}})
		got := ""
		for _, id := range []string{"R-03", "R-04"} {
			if _, ok := find(a, id); ok {
				got += id
			}
		}
		if got != tt.want {
			t.Errorf("pH %g at 60 °C: got %q, want %q", tt.ph, got, tt.want)
		}
	}
}
