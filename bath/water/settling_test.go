package water_test

import (
	"math"
	"testing"

	"blackbath/bath/internal/published"
	"blackbath/bath/water"
)

const mineralKgM3 = 2650

// Stokes' law with the viscosity of Huber et al. 2009 and the density of Kell
// 1975, worked by another implementation; every row. The table is rounded to
// 0.1 s.
func TestSettlingPublished(t *testing.T) {
	for _, row := range published.Table(t, "stokes_settling.csv", 24) {
		d, tC, fall, want := row.Number(t, "diameter_mm"), row.Number(t, "t_C"), row.Number(t, "fall_cm"), row.Number(t, "value")
		got := water.SettlingSeconds(d, fall, mineralKgM3, water.DensityKgM3(tC), water.ViscosityPaS(tC))
		if math.Abs(got-want) > 0.05+1e-6*want {
			t.Errorf("%v mm at %v C over %v cm: got %v, want %v", d, tC, fall, got, want)
		}
	}
}

// ISO 11277 prints for 100 mm at 20 C: 4 min 38 s for 0.02 mm and 7 h 44 min 16 s
// for 0.002 mm (from memory).
func TestSettlingISO11277(t *testing.T) {
	for _, tt := range []struct{ diameterMM, want float64 }{{0.02, 4*60 + 38}, {0.002, 7*3600 + 44*60 + 16}} {
		got := water.SettlingSeconds(tt.diameterMM, 10, mineralKgM3, water.DensityKgM3(20), water.ViscosityPaS(20))
		if math.Abs(got-tt.want) > 2e-3*tt.want {
			t.Errorf("%v mm: got %v, want %v", tt.diameterMM, got, tt.want)
		}
	}
}

func TestSettlingReynolds(t *testing.T) {
	reynolds := func(diameterMM, tC float64) float64 {
		return water.SettlingReynolds(diameterMM, mineralKgM3, water.DensityKgM3(tC), water.ViscosityPaS(tC))
	}
	// Worked by hand: v = 9.80665 x 1651.8 x 0.05e-3^2 / (18 x 1.0016e-3) = 2.246e-3 m/s,
	// Re = 998.2 x 2.246e-3 x 0.05e-3 / 1.0016e-3 = 0.112.
	if got, want := reynolds(0.05, 20), 0.112; math.Abs(got-want) > 0.001 {
		t.Errorf("0.05 mm at 20 C: got %v, want %v", got, want)
	}
	// In hot water even the finest sand is past the law: it sinks more slowly.
	if got := reynolds(0.063, 92); got < water.StokesReynoldsLimit {
		t.Errorf("0.063 mm at 92 C: got %v, want above %v", got, water.StokesReynoldsLimit)
	}
	if got := reynolds(0.02, 92); got > water.StokesReynoldsLimit {
		t.Errorf("0.02 mm at 92 C: got %v, want below %v", got, water.StokesReynoldsLimit)
	}
}

func TestSettlingNeverForALightGrain(t *testing.T) {
	for _, density := range []float64{900, 1000} {
		if got := water.SettlingSeconds(0.02, 10, density, 1000, 1e-3); !math.IsInf(got, 1) {
			t.Errorf("a grain of %v kg/m3 in 1000: got %v, want +Inf", density, got)
		}
	}
}
