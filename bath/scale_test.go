package bath

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"blackbath/bath/input"
	"blackbath/bath/internal/published"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// Plain water is the one bath that anybody can check with a table: 30 L of it at 80 °C are 29.15 kg.
func TestPlainWater(t *testing.T) {
	table := published.Table(t, "water_properties.csv", 76)
	density := func(tC string) float64 {
		return publishedValue(t, table, "t_C", tC, "quantity", "density_101325Pa")
	}
	a := mustScale(t, waterWith(80), plainPan(), DefaultConditions())
	kg := 30 * density("80") / 1000
	for _, tt := range []struct {
		what      string
		got, want float64
		tolerance float64
	}{
		{"mud, L", float64(a.HotBathL), 30, 1e-12}, // 40 × 30 × (30 - 5) cm³
		{"water, kg", a.PourWater.Mass.Kilograms(), kg, 2e-5},
		{"density hot, kg/L", float64(a.HotDensity), density("80") / 1000, 2e-5},
		{"water at 20 °C, L", float64(a.PourWater.Litres), 1000 * kg / density("20"), 2e-5},
		{"cold level, cm", float64(*a.Levels.Cold), 1000 * kg / density("20") / 1.2, 2e-5},
		{"hot level, cm", float64(*a.Levels.Hot), 25, 1e-12},
		{"loaded level, cm", float64(a.Levels.Loaded), 25, 1e-12},
		{"rim, cm", float64(a.Levels.Rim), 30, 0},
		{"open surface, cm²", float64(a.OpenSurface), 1200, 1e-12},
	} {
		if !near(tt.got, tt.want, tt.tolerance) {
			t.Errorf("%s: got %v, want %v", tt.what, tt.got, tt.want)
		}
	}
	if len(a.Weigh) != 0 || len(a.Undissolved) != 0 || a.Composition.EarthDryGPerKg != 0 {
		t.Errorf("water alone has nothing to weigh: %+v", a)
	}
}

// The mixture of the worked example, its density from Laliberté and Cooper's formula: 1000 g of water, 600 g of dry earth,
// 150 g NH4Cl, 40 g NaCl and 10 g CuSO4 are 1.38702 L at 92 °C.
func TestMudDensity(t *testing.T) {
	w := map[string]float64{"NH4Cl": 150.0 / 1200, "NaCl": 40.0 / 1200, "CuSO4": 10.0 / 1200}
	r, tank, c := example()
	for _, tt := range []struct{ target, water unit.Celsius }{{92, 25}, {60, 10}, {30, 80}} {
		r.Temp = TempWindow{tt.target, tt.target, tt.target}
		c.WaterTemp = tt.water
		a := mustScale(t, r, tank, c)
		hot := 1.2/solutionDensity(t, float64(tt.target), w) + 0.6/2650
		cold := 1.2/solutionDensity(t, float64(tt.water), w) + 0.6/2650 // m³ per kg of water
		if want := 1.8 / hot / 1000; !near(float64(a.HotDensity), want, 1e-6) {
			t.Errorf("at %v °C: got %v kg/L, want %v", tt.target, a.HotDensity, want)
		}
		// The pot is 36 cm wide: all the mud less the load's 0.581 L, hot and cold.
		surface := math.Pi * 18 * 18
		hotL := surface*26/1000 - float64(c.Load)/1000
		for _, level := range []struct {
			name string
			got  *unit.Centimetre
			want float64
		}{{"hot", a.Levels.Hot, hotL * 1000 / surface}, {"cold", a.Levels.Cold, hotL * cold / hot * 1000 / surface}} {
			if !near(float64(*level.got), level.want, 1e-6) {
				t.Errorf("%s level at %v °C: got %v cm, want %v", level.name, tt.target, *level.got, level.want)
			}
		}
	}
}

// Two earths and two lots of one salt each have their own line, in the recipe's order; what they make adds up by name.
func TestLotsHaveTheirOwnLines(t *testing.T) {
	r := waterWith(92,
		Part{Kind: Salt, Salt: salt.SodiumChloride, Mass: 30, AssayPct: ptr(100.0)},
		Part{Kind: Earth, Name: "north bank", Mass: 200, MoisturePct: ptr(10.0), ParticleDensity: ptr(unit.GramPerCM3(2.65))},
		Part{Kind: Salt, Salt: salt.SodiumChloride, Mass: 60, AssayPct: ptr(50.0)},
		Part{Kind: Earth, Name: "north bank", Mass: 100, MoisturePct: ptr(50.0)},
		Part{Kind: Earth, Name: "lower cut", Mass: 50, MoisturePct: ptr(0.0)})
	c := DefaultConditions()
	c.Step = 0.001
	a := mustScale(t, r, plainPan(), c)
	perKG := func(m unit.Gram) float64 { return 1000 * float64(m) / float64(a.Details.AllWater) }
	for i, want := range []Weigh{
		{Kind: Salt, Salt: salt.SodiumChloride, Mass: 30},
		{Kind: Earth, Name: "north bank", Mass: 220},
		{Kind: Salt, Salt: salt.SodiumChloride, Mass: 120},
		{Kind: Earth, Name: "north bank", Mass: 150},
		{Kind: Earth, Name: "lower cut", Mass: 50},
	} {
		got := a.Weigh[i]
		if got.Kind != want.Kind || got.Name != want.Name || got.Salt != want.Salt || !near(perKG(got.Mass), float64(want.Mass), 1e-12) {
			t.Errorf("line %d: got %s %s%s %.9g g per kg of water, want %+v", i, got.Kind, got.Name, got.Salt, perKG(got.Mass), want)
		}
	}
	if len(a.Weigh) != 5 {
		t.Errorf("%d lines, want 5", len(a.Weigh))
	}
	// Poured: 1000 g less 20 g and 50 g in the damp earths.
	if got := perKG(a.PourWater.Mass); !near(got, 930, 1e-12) {
		t.Errorf("poured %v g per kg of all water, want 930", got)
	}
	if got := a.Composition; !near(float64(got.SaltGPerKgWater[salt.SodiumChloride]), 90, 1e-6) || !near(float64(got.EarthDryGPerKg), 350, 1e-6) || len(got.SaltGPerKgWater) != 1 {
		t.Errorf("composition: %+v; want 90 g of salt and 350 g of earth per kg", got)
	}
	if len(a.Undissolved) != 1 {
		t.Errorf("undissolved: %v, want one salt", a.Undissolved)
	}
}

// Grains of 2.65 g/cm³ where no density is known; heavier ones take less room.
func TestGrainDensity(t *testing.T) {
	perKG := func(d *unit.GramPerCM3) float64 {
		r := waterWith(80, Part{Kind: Earth, Mass: 1000, MoisturePct: ptr(0.0), ParticleDensity: d})
		a := mustScale(t, r, plainPan(), DefaultConditions())
		return float64(a.HotBathL) / a.Details.AllWater.Kilograms() // L of mud per kg of water
	}
	water := 1000 / kell(80)
	if got, want := perKG(nil), water+1/2.65; !near(got, want, 1e-12) {
		t.Errorf("no density: %v L, want %v", got, want)
	}
	if got, want := perKG(ptr(unit.GramPerCM3(4))), water+1/4.0; !near(got, want, 1e-12) {
		t.Errorf("4 g/cm³: %v L, want %v", got, want)
	}
}

// Solubilities are those of the CRC Handbook, 98th ed., g of anhydrous salt per 100 g of water; the ratios for hydrates follow
// from molar masses.
func TestUndissolved(t *testing.T) {
	table := published.Table(t, "solubility.csv", 203)
	at := func(substance, tC string) float64 { return publishedValue(t, table, "salt", substance, "t_C", tC) }
	hydrate := func(s, factor float64) float64 { return 100 * factor * s / (100 - (factor-1)*s) }
	for _, tt := range []struct {
		id      salt.ID
		g       unit.Gram // per 1000 g of all water
		coldest unit.Celsius
		want    float64 // g per 1000 g of all water
	}{
		{salt.PotassiumNitrate, 500, 20, 500 - 10*at("KNO3", "20")},
		{salt.PotassiumNitrate, 300, 20, 0},
		{salt.PotassiumNitrate, 300, 0, 300 - 10*at("KNO3", "0")},
		{salt.PotassiumNitrate, 300, -5, 300 - 10*at("KNO3", "0")}, // held at the last row
		{salt.PotassiumNitrate, 300, 15, 300 - 10*(at("KNO3", "10")+at("KNO3", "20"))/2},
		{salt.CopperSulfate, 300, 20, 300 - 10*at("CuSO4", "20")},
		// 400 g of crystals hold 144.3 g of water, so only 855.7 g are added.
		{salt.CopperSulfatePentahydrate, 400, 20, 400 - hydrate(at("CuSO4", "20"), 249.677/159.602)/100*(1000-400*5*18.015/249.677)},
	} {
		c := DefaultConditions()
		c.Coldest = ptr(tt.coldest)
		a := mustScale(t, waterWith(92, pure(tt.id, tt.g)), plainPan(), c)
		got, there := a.Undissolved[tt.id]
		perKG := 1000 * float64(got) / float64(a.Details.AllWater)
		if !there || math.Abs(perKG-tt.want) > 0.02 { // molar masses are good to 1e-4
			t.Errorf("%v g of %s at %v °C: %v g per kg stay, want %v", tt.g, tt.id, tt.coldest, perKG, tt.want)
		}
	}
}

// The coldest temperature is asked for, or the lower of the water's and the window's lowest.
func TestColdest(t *testing.T) {
	for _, tt := range []struct {
		water, low unit.Celsius
		given      *unit.Celsius
		want       unit.Celsius
	}{{20, 85, nil, 20}, {60, 45, nil, 45}, {60, 45, ptr(unit.Celsius(-3)), -3}, {10, 45, ptr(unit.Celsius(30)), 30}} {
		r := waterWith(92)
		r.Temp.Min = tt.low
		c := DefaultConditions()
		c.WaterTemp, c.Coldest = tt.water, tt.given
		if got := mustScale(t, r, plainPan(), c).Details.Coldest; got != tt.want {
			t.Errorf("water %v, window from %v: %v °C, want %v", tt.water, tt.low, got, tt.want)
		}
	}
}

func TestBuckets(t *testing.T) {
	a := mustScale(t, waterWith(80), plainPan(), DefaultConditions())
	if p := a.PourWater; p.Buckets != nil || p.RemainderL != nil {
		t.Errorf("no bucket: %+v", p)
	}
	litres := float64(a.PourWater.Litres) // some 29.2 L
	for _, tt := range []struct {
		bucket unit.Litre
		want   int
	}{{10, 2}, {29, 1}, {30, 0}, {0.5, 58}, {unit.Litre(litres), 1}} {
		c := DefaultConditions()
		c.Bucket = ptr(tt.bucket)
		p := mustScale(t, waterWith(80), plainPan(), c).PourWater
		if *p.Buckets != tt.want || math.Abs(float64(*p.RemainderL)-(litres-float64(tt.want)*float64(tt.bucket))) > 1e-12 {
			t.Errorf("%v L in buckets of %v L: %d and %v L, want %d", litres, tt.bucket, *p.Buckets, *p.RemainderL, tt.want)
		}
	}
}

// Half a step rounds up, also for the water.
func TestHalfUp(t *testing.T) {
	for _, tt := range []struct{ step, want unit.Gram }{{1, 29_154}, {100, 29_200}, {1000, 29_000}, {58_309, 0}, {58_307, 58_307}} {
		c := DefaultConditions()
		c.Step = tt.step
		p := mustScale(t, waterWith(80), plainPan(), c).PourWater // 30 L of water at 80 °C: 29153.9 g
		if p.Rounded != tt.want {
			t.Errorf("%v g of water in steps of %v g: %v g, want %v g", p.Mass, tt.step, p.Rounded, tt.want)
		}
	}
	for _, tt := range []struct{ mass, step, want unit.Gram }{
		{2.5, 1, 3}, {3.5, 1, 4}, {2.4999, 1, 2}, {25, 10, 30}, {24.9, 10, 20}, {0.375, 0.25, 0.5}, {0, 1, 0},
	} {
		if got := tt.mass.RoundTo(tt.step); got != tt.want {
			t.Errorf("%v g in steps of %v g: %v g, want %v g", tt.mass, tt.step, got, tt.want)
		}
	}
}

// What does not fit is refused, with the field as its writer knows it.
func TestScaleRefuses(t *testing.T) {
	wet := func(pct float64) Part { return Part{Kind: Earth, Name: "bank", Mass: 1000, MoisturePct: ptr(pct)} }
	for _, tt := range []struct {
		why    string
		recipe Recipe
		load   unit.CubicCM
		field  string
		says   string
	}{
		{"a load of all 30 L", waterWith(92), 30_000, "load_cm3", "3e+04 cm³"},
		{"a load below zero", waterWith(92), -1, "load_cm3", "0 cm³ or more"},
		{"a load of no number", waterWith(92), unit.CubicCM(math.NaN()), "load_cm3", "0 cm³ or more"},
		{"1000 g of water and 1010 g in the earth", waterWith(92, wet(101)), 0, "parts[1].moisture_pct", "Dry the earth"},
		{"both earths too wet: the one that brings more", waterWith(92, wet(60), wet(70)), 0, "parts[2].moisture_pct", "70"},
		{"2300 g of crystals hold 1029 g of water", waterWith(92, pure(salt.AluminiumChlorideHexahydrate, 2300)), 0, "moisture_pct", "crystals"},
	} {
		c := DefaultConditions()
		c.Load = tt.load
		a, err := Scale(tt.recipe, plainPan(), c)
		var ps input.Problems
		if !errors.As(err, &ps) || len(ps.On(tt.field)) == 0 || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: got %v, want a problem of %s that says %q", tt.why, err, tt.field, tt.says)
		}
		if a.Recipe != "" || a.Weigh != nil || a.HotBathL != 0 {
			t.Errorf("%s: an answer besides the error: %+v", tt.why, a)
		}
	}
	// All faults of recipe, tank and conditions come at once.
	r, tank, c := waterWith(92), plainPan(), DefaultConditions()
	r.Parts[0].Mass, tank.Height, c.Step = -1, -1, 0
	_, err := Scale(r, tank, c)
	var ps input.Problems
	if !errors.As(err, &ps) || !slices.Equal([]string{ps[0].Field, ps[1].Field, ps[2].Field}, []string{"parts[0].mass_g", "height_cm", "step_g"}) {
		t.Errorf("got %v, want three problems", err)
	}
}

// An earth that brings all the water there is leaves nothing to pour; rounding must not turn that into too much.
func TestAllWaterComesWithTheEarth(t *testing.T) {
	for m := 1.0; m < 300; m += 0.7 {
		earth := Part{Kind: Earth, Name: "slurry", Mass: unit.Gram(1000 / (m / 100)), MoisturePct: ptr(m)}
		a, err := Scale(waterWith(92, earth), plainPan(), DefaultConditions())
		if err != nil {
			t.Fatalf("moisture %v %%: %v", m, err)
		}
		if p := float64(a.PourWater.Mass); p < 0 || p > 1e-9*float64(a.Details.AllWater) {
			t.Fatalf("moisture %v %%: poured %v g, want nothing", m, p)
		}
	}
}
