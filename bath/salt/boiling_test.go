package salt

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath/internal/published"
	"blackbath/bath/water"
)

// The table in the source is the published one (after Gerlach, from memory),
// every row.
func TestBoilingTable(t *testing.T) {
	got, want := map[string][]point{}, map[string][]point{}
	for _, row := range published.Table(t, "boiling_elevation.csv", 62) {
		want[row["salt"]] = append(want[row["salt"]], point{row.Number(t, "g_anhydrous_per_100g_water"), row.Number(t, "value")})
	}
	for _, s := range substances {
		if s.boiling != nil {
			got[s.formula] = s.boiling
		}
	}
	if diff := cmp.Diff(got, want, cmp.AllowUnexported(point{})); diff != "" {
		t.Errorf("boiling (-got +want):\n%s", diff)
	}
}

func TestRiseC(t *testing.T) {
	for _, tt := range []struct {
		id            ID
		gPer100GWater float64
		want          float64
		beyond        bool
	}{
		{AmmoniumChloride, 0, 0, false},
		{AmmoniumChloride, 3.25, 0.5, false}, // half of the first row, 6.5 g for 1 C
		{AmmoniumChloride, 88.5, 15, false},  // the last row
		{AmmoniumChloride, 200, 15, true},
		{AmmoniumChloride, -1, 0, false},
		// Buchanan 1899 saw boiling brine 8.5 C above water; the handbook's
		// saturation line carried on past 100 C crosses the table at 39.5 g.
		{SodiumChloride, 39.5, 8.5, false},
		// No table: 0.513 x particles x mol per kg.
		{CopperSulfatePentahydrate, 15.9602, 0.513, false},
		{ZincSulfate, 16.1436, 0.513, false},
		{ZincChloride, 13.628, 3 * 0.513, false},
		{AluminiumChlorideHexahydrate, 13.3332, 4 * 0.513, false},
	} {
		got, beyond := find(t, tt.id).RiseC(tt.gPer100GWater)
		if math.Abs(got-tt.want) > 1e-9 || beyond != tt.beyond {
			t.Errorf("%s %v g: got %v %v, want %v %v", tt.id, tt.gPer100GWater, got, beyond, tt.want, tt.beyond)
		}
	}
}

// Kb = R T^2 M / dHvap with the gas constant 8.314463 J/(mol K), the boiling point
// 373.12 K and 40.65 kJ/mol (CRC Handbook).
func TestBoilingConstant(t *testing.T) {
	want := 8.314463 * 373.12 * 373.12 * 18.015e-3 / 40650
	if math.Abs(BoilingConstant-want) > 5e-4 {
		t.Errorf("got %v, want %v", BoilingConstant, want)
	}
}

// J. Y. Buchanan, "On Steam and Brines", Trans. R. Soc. Edinburgh 1899: steam
// and common salt boil about 8.5 C above water at 760 mmHg, 8.0 C at 560 mmHg.
func TestBuchananBrine(t *testing.T) {
	const mmHg = 133.322
	brine := []Dissolved{{SodiumChloride, 395}}
	for _, tt := range []struct{ pressurePa, want, tol float64 }{
		{760 * mmHg, 8.5, 0.02},
		{560 * mmHg, 8.0, 0.1},
	} {
		got, err := SolutionBoiling(tt.pressurePa, brine)
		if err != nil {
			t.Fatal(err)
		}
		if rise := got.TempC - water.BoilingC(tt.pressurePa); math.Abs(rise-tt.want) > tt.tol {
			t.Errorf("at %v Pa: got %v C above water, want %v", tt.pressurePa, rise, tt.want)
		}
	}
}

// Worked by another implementation with the same tables: three salts per kg of
// water, rises of 2.35, 0.61 and 0.03 C, water activity 0.8993.
func TestSolutionBoiling(t *testing.T) {
	mud := []Dissolved{{AmmoniumChloride, 150}, {SodiumChloride, 40}, {CopperSulfate, 10}}
	for _, tt := range []struct{ altitudeM, want, tol float64 }{
		{0, 102.977, 0.001}, {500, 101.28, 0.006}, {1000, 99.59, 0.006}, {2000, 96.198, 0.001},
	} {
		got, err := SolutionBoiling(water.StandardPressurePa(tt.altitudeM), mud)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.TempC-tt.want) > tt.tol {
			t.Errorf("at %v m: got %v, want %v", tt.altitudeM, got.TempC, tt.want)
		}
		if math.Abs(got.WaterActivity-0.8993) > 5e-5 {
			t.Errorf("water activity: got %v, want 0.8993", got.WaterActivity)
		}
		if got.BeyondTable || !got.IdealRule {
			t.Errorf("got beyond %v, ideal %v; want false, true (copper sulfate has no table)", got.BeyondTable, got.IdealRule)
		}
	}
}

// R. A. Robinson and R. H. Stokes, "Electrolyte Solutions": sodium chloride of
// 3 mol/kg has a water activity of 0.893 at 25 C (from memory); it hardly changes
// up to boiling.
func TestWaterActivity(t *testing.T) {
	got, err := SolutionBoiling(water.SeaLevelPa, []Dissolved{{SodiumChloride, 3 * 58.44}})
	if err != nil {
		t.Fatal(err)
	}
	if want := 0.893; math.Abs(got.WaterActivity-want) > 0.006 {
		t.Errorf("got %v, want %v", got.WaterActivity, want)
	}
	if got.BeyondTable || got.IdealRule {
		t.Errorf("got beyond %v, ideal %v; want neither", got.BeyondTable, got.IdealRule)
	}
}

// Two forms of one substance are one strength, read off the table once: the
// table bends, so that half and half would come out differently.
func TestSolutionBoilingAddsBeforeTheTable(t *testing.T) {
	whole, err := SolutionBoiling(water.SeaLevelPa, []Dissolved{{SodiumChloride, 300}})
	if err != nil {
		t.Fatal(err)
	}
	halves, err := SolutionBoiling(water.SeaLevelPa, []Dissolved{{SodiumChloride, 150}, {SodiumChloride, 150}})
	if err != nil {
		t.Fatal(err)
	}
	if whole != halves {
		t.Errorf("got %v, want %v", halves, whole)
	}
}

func TestSolutionBoilingEdges(t *testing.T) {
	strong, err := SolutionBoiling(water.SeaLevelPa, []Dissolved{{AmmoniumChloride, 2000}})
	if err != nil {
		t.Fatal(err)
	}
	// Held at the last row: 15 C above water.
	if want := 99.974 + 15; !strong.BeyondTable || math.Abs(strong.TempC-want) > 0.001 {
		t.Errorf("got %+v, want %v and beyond the table", strong, want)
	}
	// One salt beyond its table marks the mixture, wherever it stands.
	mixed, err := SolutionBoiling(water.SeaLevelPa, []Dissolved{{ZincChloride, 10}, {AmmoniumChloride, 2000}, {PotassiumNitrate, 10}})
	if err != nil || !mixed.BeyondTable || !mixed.IdealRule {
		t.Errorf("mixture: got %+v %v, want beyond the table and by the ideal rule", mixed, err)
	}
	plain, err := SolutionBoiling(water.SeaLevelPa, nil)
	if err != nil || plain.WaterActivity != 1 || math.Abs(plain.TempC-99.974) > 0.001 {
		t.Errorf("no salt: got %+v %v", plain, err)
	}
	for _, pressurePa := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := SolutionBoiling(pressurePa, nil); !errors.Is(err, ErrPressure) {
			t.Errorf("SolutionBoiling(%v): got %v, want ErrPressure", pressurePa, err)
		}
	}
}

func TestRangesForMessages(t *testing.T) {
	// Laliberte 2009 and the table after Gerlach.
	if minC, maxC, maxFraction := find(t, CopperSulfatePentahydrate).DensityFit(); minC != 10 || maxC != 60 || maxFraction != 0.2844 {
		t.Errorf("copper sulfate: got %v, %v, %v", minC, maxC, maxFraction)
	}
	if got, ok := find(t, SodiumChloride).BoilingTableEnd(); !ok || got != 40.7 {
		t.Errorf("sodium chloride: got %v %v, want 40.7", got, ok)
	}
	if got, ok := find(t, ZincChloride).BoilingTableEnd(); ok {
		t.Errorf("zinc chloride: got %v, want no table", got)
	}
}

func BenchmarkSolutionBoiling(b *testing.B) {
	for b.Loop() {
		if _, err := SolutionBoiling(90000, sixSalts); err != nil {
			b.Fatal(err)
		}
	}
}
