package salt

import (
	"math"
	"testing"

	"blackbath/bath/water"
)

// liquorOf turns a solution into a liquor with so much water.
func liquorOf(t *testing.T, waterG float64, solution []Dissolved) Liquor {
	t.Helper()
	l := Liquor{WaterG: waterG}
	for _, d := range solution {
		s, err := Lookup(string(d.Salt))
		if err != nil {
			t.Fatal(err)
		}
		l.SaltG[s.Substance()] += d.GPerKgWater * s.AnhydrousShare() * waterG / 1000
	}
	return l
}

// Where nothing is held, a liquor is a solution counted in grams.
func TestLiquorAgreesWithTheSolution(t *testing.T) {
	solution := []Dissolved{{AmmoniumChloride, 150}, {SodiumChloride, 40}, {CopperSulfatePentahydrate, 15.6}, {PotassiumNitrate, 25}}
	l := liquorOf(t, 18_661, solution)
	for _, tC := range []float64{4, 25, 60, 92} {
		d, err := SolutionDensity(tC, solution)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := l.DensityKgL(tC), d.KgM3/1000; math.Abs(got-want) > 1e-12 {
			t.Errorf("density at %g °C %.15g kg/L, want %.15g", tC, got, want)
		}
		load, err := SaturationLoad(tC, solution)
		if err != nil {
			t.Fatal(err)
		}
		if got := l.SaturationLoad(tC); math.Abs(got-load) > 1e-12 {
			t.Errorf("load at %g °C %.15g, want %.15g", tC, got, load)
		}
	}
	b, err := SolutionBoiling(water.SeaLevelPa, solution)
	if err != nil {
		t.Fatal(err)
	}
	if got := l.WaterActivity(); math.Abs(got-b.WaterActivity) > 1e-12 {
		t.Errorf("water activity %.15g, want %.15g", got, b.WaterActivity)
	}
}

// Laliberté and Cooper's formula is linear in the salts' masses when the fraction inside the apparent volumes is held, so a
// liquor far above 0.4 has the apparent volume of one at 0.4.
func TestLiquorIsHeldWhenNearlyDry(t *testing.T) {
	at := liquorOf(t, 600, []Dissolved{{AmmoniumChloride, 400.0 / 0.6}}) // fraction 0.4
	dry := at
	dry.WaterG = 1
	perG := func(l Liquor) float64 {
		return (l.VolumeL(90) - l.WaterG/water.DensityKgM3(90)) / 400
	}
	if got, want := perG(dry), perG(at); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("apparent volume of the nearly dry salt %.9g L/g, want %.9g", got, want)
	}
	// 1 kg of aluminium chloride in 1 g of water has an ideal rise beyond all sense.
	l := Liquor{WaterG: 1}
	l.SaltG[aluminiumChloride] = 1000
	if got, want := l.WaterActivity(), water.SeaLevelPa/water.VapourPressurePa(seaLevelBoilingC+30); got != want {
		t.Errorf("water activity %g, want %g, a rise of 30 °C", got, want)
	}
	var none Liquor
	if none.VolumeL(20) != 0 {
		t.Error("nothing has a volume")
	}
}

func TestStrayIonsCountAsSodiumChloride(t *testing.T) {
	stray := Liquor{WaterG: 1000, StrayG: 50}
	var paired Liquor
	paired.WaterG, paired.SaltG[sodiumChloride] = 1000, 50
	if stray.VolumeL(20) != paired.VolumeL(20) || stray.WaterActivity() != paired.WaterActivity() {
		t.Error("stray ions do not count as sodium chloride in volume or boiling")
	}
	if stray.SaturationLoad(20) != 0 || paired.SaturationLoad(20) == 0 {
		t.Error("stray ions count in the saturation")
	}
}
