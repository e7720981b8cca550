package bath

import (
	"math"
	"testing"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// example is an upright pot of 36.0 cm × 32.0 cm with 6.0 cm left free, at 25 °C water, holding 4.20 kg of an alloy of zinc
// with 6 % copper. The recipe is per kg of water: earth 0.600 kg, NH4Cl 0.150, NaCl 0.040, CuSO4 0.010.
func example() (Recipe, Tank, Conditions) {
	cuSO4, _ := salt.Lookup(string(salt.CopperSulfatePentahydrate))
	r := Recipe{
		Name: "worked example",
		Parts: []Part{
			{Kind: Water, Mass: 1000},
			{Kind: Earth, Name: "bank", Mass: 600, MoisturePct: ptr(12.0)},
			{Kind: Salt, Salt: salt.AmmoniumChloride, Mass: 150, AssayPct: ptr(98.5)},
			{Kind: Salt, Salt: salt.SodiumChloride, Mass: 40, AssayPct: ptr(97.0)},
			{Kind: Salt, Salt: salt.CopperSulfatePentahydrate, Mass: unit.Gram(10 * cuSO4.HydrateFactor()), AssayPct: ptr(99.0)},
		},
		Temp: TempWindow{85, 92, 97},
	}
	t := Tank{Name: "pot", Shape: Cylinder, Diameter: 36, Height: 32, Freeboard: 6, HeaterKW: ptr(unit.Kilowatt(3))}
	c := DefaultConditions()
	c.WaterTemp = 25
	c.Load = AlloyVolume(4200, 6)
	return r, t, c
}

// TestWorkedExample checks the twelve steps of a bath worked by hand and reproduced by a separate script, from the published
// formulas for density (Laliberté and Cooper 2004), geometry, boiling (Gerlach's table, water activity) and evaporation (Shah
// 2002). The expected figures are those of the worked example, not of this program.
func TestWorkedExample(t *testing.T) {
	r, tank, c := example()
	a, err := Scale(r, tank, c)
	if err != nil {
		t.Fatal(err)
	}
	boilsAt := func(z unit.Metre) float64 {
		c := c
		c.Altitude = z
		a, err := Scale(r, tank, c)
		if err != nil {
			t.Fatal(err)
		}
		return float64(a.BoilsAtC)
	}
	d := a.Details
	heating := (4.184*d.AllWater.Kilograms() + 0.85*d.EarthDry.Kilograms()) * (92 - 25)
	const potKJ = 2.7 * 67 // 3 kg of aluminium, which this program leaves out
	sum, impurity := a.PourWater.Mass, 0.0
	for _, w := range a.Weigh {
		sum += w.Mass
		if w.Kind == Salt {
			impurity += float64(w.Mass - w.Pure)
		}
	}
	for _, tt := range []struct {
		line      string
		got, want float64
		tolerance float64 // relative
	}{
		{"1 metal of the load, L", float64(c.Load.Litres()), 0.581, 1e-3},
		{"1 mud, L", float64(a.HotBathL), 25.884, 1e-3},
		{"2 mud per kg of water, L", float64(a.HotBathL) / d.AllWater.Kilograms(), 1.38702, 1e-3},
		{"3 all water, kg", d.AllWater.Kilograms(), 18.661, 1e-3},
		{"4 dry earth, kg", d.EarthDry.Kilograms(), 11.197, 1e-3},
		{"4 damp earth to weigh, kg", a.Weigh[0].Mass.Kilograms(), 12.540, 1e-3},
		{"4 water in the earth, kg", a.Weigh[0].WaterInIt.Kilograms(), 1.344, 1e-3},
		{"5 NH4Cl to weigh, kg", a.Weigh[1].Mass.Kilograms(), 2.842, 1e-3},
		{"5 NaCl to weigh, kg", a.Weigh[2].Mass.Kilograms(), 0.76954, 1e-3},
		{"5 CuSO4·5H2O to weigh, kg", a.Weigh[3].Mass.Kilograms(), 0.29488, 1e-3},
		{"5 water in the crystals, kg", a.Weigh[3].WaterInIt.Kilograms(), 0.1053, 1e-3},
		{"6 water to pour, kg", a.PourWater.Mass.Kilograms(), 17.212, 1e-3},
		{"6 water to pour at 25 °C, L", float64(a.PourWater.Litres), 17.26, 1e-3},
		{"7 weighed sum, kg", sum.Kilograms(), 33.659, 1e-3},
		{"7 impurities, kg", impurity / 1000, 0.069, 1e-2}, // printed with two digits
		{"7 mud density hot, kg/L", float64(a.HotDensity), 1.298, 1e-3},
		{"7 mud density cold, kg/L", (sum.Kilograms() - impurity/1000) / float64(d.ColdBathL), 1.331, 1e-3},
		{"8 cold level, cm", float64(*a.Levels.Cold), 24.79, 1e-3},
		{"8 hot level, cm", float64(*a.Levels.Hot), 25.43, 1e-3},
		{"8 loaded level, cm", float64(a.Levels.Loaded), 26.00, 1e-12},
		{"8 overfill when filled cold to the hot mark, L", float64(unit.CubicCM(math.Pi / 4 * 36 * 36 * (25.43 - 24.79)).Litres()), 0.65, 1e-2},
		{"9 solubility load at 25 °C is below that at 20 °C", d.SaturationCold / 0.56, 1, 0.06},
		{"9 solubility load at 92 °C is below that at 80 °C", d.SaturationHot / 0.35, 1, 0.10},
		{"10 boils at sea level, °C", boilsAt(0), 102.98, 1e-3},
		{"10 boils at 500 m, °C", boilsAt(500), 101.28, 1e-3},
		{"10 boils at 1000 m, °C", boilsAt(1000), 99.59, 1e-3},
		{"10 boils at 2000 m, °C", boilsAt(2000), 96.20, 1e-3},
		{"10 water activity", d.WaterActivity, 0.8993, 1e-3},
		{"11 heat with the pot, kJ", heating + potKJ, 6050, 1e-2},
		{"11 heating at 3 kW with evaporation, min", float64(*a.HeatUp), 38 * heating / (heating + potKJ), 1e-2},
		{"12 evaporation, kg/h", float64(*a.Evaporation) * 0.997, 1.35, 1e-2},
		{"12 evaporation, kW", d.EvaporationKW, 0.86, 1e-2},
	} {
		if math.Abs(tt.got-tt.want) > tt.tolerance*math.Abs(tt.want) {
			t.Errorf("line %s: got %.6g, want %.6g within %g", tt.line, tt.got, tt.want, tt.tolerance)
		}
	}
}

// At 20 and 80 °C the worked example prints the summed load itself.
func TestWorkedExampleSaturation(t *testing.T) {
	r, tank, c := example()
	r.Temp = TempWindow{80, 80, 80}
	c.Coldest = ptr(unit.Celsius(20))
	a, err := Scale(r, tank, c)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(a.Details.SaturationCold-0.56) > 0.005 || math.Abs(a.Details.SaturationHot-0.35) > 0.005 {
		t.Errorf("summed load %.4f at 20 °C and %.4f at 80 °C; want 0.56 and 0.35", a.Details.SaturationCold, a.Details.SaturationHot)
	}
}
