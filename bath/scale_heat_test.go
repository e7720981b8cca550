package bath

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"blackbath/bath/internal/published"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// Plain water boils where the standard atmosphere and the saturation line meet (US Standard Atmosphere 1976; Wagner and Pruss
// 1993).
func TestBoilsAtAltitude(t *testing.T) {
	n := 0
	for _, row := range published.Table(t, "altitude_boiling.csv", 22) {
		if row["quantity"] != "boiling_point_pure_water" {
			continue
		}
		n++
		c := DefaultConditions()
		c.Altitude = unit.Metre(row.Number(t, "altitude_m_geometric"))
		a := mustScale(t, waterWith(80), plainPan(), c)
		if want := row.Number(t, "value"); math.Abs(float64(a.BoilsAtC)-want) > 0.001 {
			t.Errorf("at %v m: %v °C, want %v", c.Altitude, a.BoilsAtC, want)
		}
	}
	if n == 0 {
		t.Fatal("no rows")
	}
}

// A boil that was measured beats the altitude.
func TestMeasuredBoil(t *testing.T) {
	for _, altitude := range []unit.Metre{0, 3000} {
		c := DefaultConditions()
		c.Altitude, c.WaterBoilsAt = altitude, ptr(unit.Celsius(95))
		a := mustScale(t, waterWith(80), plainPan(), c)
		if math.Abs(float64(a.BoilsAtC)-95) > 1e-9 || !near(a.Details.PressurePa, saturation(95), 1e-12) {
			t.Errorf("altitude %v m: boils at %v °C under %v Pa, want 95 °C under %v Pa", altitude, a.BoilsAtC, a.Details.PressurePa, saturation(95))
		}
	}
}

// Gerlach's table, in the Smithsonian Physical Tables (from memory): 24.7 g NH4Cl and 21.5 g NaCl per 100 g of water raise the
// boiling point by 4 °C each. A table is held at its last row; a salt without one takes 0.513 °C for each mol of particles, of
// which zinc sulfate and copper sulfate count one.
func TestBoilingRise(t *testing.T) {
	sea := boilingAt(101325)
	together := boilingAt(101325 * math.Pow(saturation(sea+4)/101325, 2)) // the two activities multiplied
	for _, tt := range []struct {
		name  string
		parts []Part
		want  float64
	}{
		{"NH4Cl", []Part{pure(salt.AmmoniumChloride, 247)}, sea + 4},
		{"NaCl, by two lots", []Part{pure(salt.SodiumChloride, 115), pure(salt.SodiumChloride, 100)}, sea + 4},
		{"both", []Part{pure(salt.AmmoniumChloride, 247), pure(salt.SodiumChloride, 215)}, together},
		{"NaCl beyond 40.7 g", []Part{pure(salt.SodiumChloride, 600)}, sea + 8.8},
		{"ZnSO4, 1 mol/kg", []Part{pure(salt.ZincSulfate, 161.44)}, sea + 0.513},
		{"ZnSO4·7H2O, 1 mol/kg", []Part{pure(salt.ZincSulfateHeptahydrate, 287.54)}, sea + 0.513},
		{"CuSO4·5H2O, 1 mol/kg", []Part{pure(salt.CopperSulfatePentahydrate, 249.68)}, sea + 0.513},
		{"AlCl3·6H2O, 1 mol/kg, four ions", []Part{pure(salt.AluminiumChlorideHexahydrate, 241.42)}, sea + 4*0.513},
		{"earth", []Part{{Kind: Earth, Mass: 700, MoisturePct: ptr(0.0)}}, sea},
	} {
		a := mustScale(t, waterWith(80, tt.parts...), plainPan(), DefaultConditions())
		if math.Abs(float64(a.BoilsAtC)-tt.want) > 0.001 {
			t.Errorf("%s: boils at %v °C, want %v", tt.name, a.BoilsAtC, tt.want)
		}
	}
}

// A bath cannot be hotter than its boil; the answer repeats the target all the same.
func TestWorkingTemperature(t *testing.T) {
	a := mustScale(t, waterWith(120), plainPan(), DefaultConditions())
	boils := boilingAt(101325)
	if a.TempC != 120 || math.Abs(float64(a.Details.WorkingTemp)-boils) > 1e-6 {
		t.Errorf("target %v °C, worked at %v °C; want 120 and %v", a.TempC, a.Details.WorkingTemp, boils)
	}
	if want := kell(boils) / 1000; !near(float64(a.HotDensity), want, 1e-9) {
		t.Errorf("density %v kg/L, want that at the boil, %v", a.HotDensity, want)
	}
	if a := mustScale(t, waterWith(80), plainPan(), DefaultConditions()); a.Details.WorkingTemp != 80 {
		t.Errorf("worked at %v °C, want 80", a.Details.WorkingTemp)
	}
}

func TestEvaporationBelowTheBoil(t *testing.T) {
	for _, tt := range []struct {
		target   unit.Celsius
		altitude unit.Metre
		parts    []Part
	}{{60, 0, nil}, {90, 0, nil}, {85, 1500, nil}, {92, 0, []Part{pure(salt.AmmoniumChloride, 247)}}} {
		c := DefaultConditions()
		c.Altitude, c.WaterTemp = tt.altitude, 25
		a := mustScale(t, waterWith(tt.target, tt.parts...), plainPan(), c) // without a heater
		activity := 1.0
		if tt.parts != nil {
			activity = 101325 / saturation(boilingAt(101325)+4)
		}
		h := 6356766 * float64(tt.altitude) / (6356766 + float64(tt.altitude)) // US Standard Atmosphere 1976
		pa := 101325 * math.Pow(1-0.0065*h/288.15, 5.255876)
		kgPerH := shah(float64(tt.target), activity, pa) * 0.12 // 0.12 m²
		if a.Evaporation == nil || !near(float64(*a.Evaporation), kgPerH/kell(25)*1000, 1e-6) {
			t.Errorf("%v °C at %v m: %v L/h, want %v", tt.target, tt.altitude, a.Evaporation, kgPerH/kell(25)*1000)
		}
		if a.HeatUp != nil {
			t.Errorf("%v °C: a time to heat without a heater: %v min", tt.target, *a.HeatUp)
		}
	}
}

// From 0.97 of the air's pressure on, the heater alone sets what boils off: 3600 kJ per kWh over the latent heat.
func TestEvaporationAtTheBoil(t *testing.T) {
	// Water has 0.97 of 101325 Pa at 99.13 °C; where it was seen to boil at 95 °C, 0.97 of that air's pressure at 94.2 °C.
	for _, boils := range []float64{boilingAt(101325), 95} {
		threshold := unit.Celsius(boilingAt(0.97 * saturation(boils)))
		for _, tt := range []struct {
			target  unit.Celsius
			boiling bool
		}{{threshold - 0.01, false}, {threshold + 0.01, true}, {120, true}} {
			tank, c := plainPan(), DefaultConditions()
			c.WaterBoilsAt = ptr(unit.Celsius(boils))
			if a := mustScale(t, waterWith(tt.target), tank, c); (a.Evaporation == nil) != tt.boiling {
				t.Errorf("%v °C without a heater: evaporation known is %v, want %v", tt.target, a.Evaporation != nil, !tt.boiling)
			}
			tank.HeaterKW = ptr(unit.Kilowatt(3))
			a := mustScale(t, waterWith(tt.target), tank, c)
			works := min(float64(tt.target), boils)
			want := 3600 * 3 / latentHeat(works) / kell(20) * 1000
			if a.Evaporation == nil || near(float64(*a.Evaporation), want, 1e-6) != tt.boiling {
				t.Errorf("%v °C with 3 kW: %v L/h; at the boil it would be %v", tt.target, a.Evaporation, want)
			}
			if tt.boiling { // 0.6 of the heater heats, for 0.4 of what boils off at last is lost on the way
				minutes := 4.184 * a.Details.AllWater.Kilograms() * (works - 20) / (60 * 3 * 0.6)
				if a.HeatUp == nil || !near(float64(*a.HeatUp), minutes, 1e-6) {
					t.Errorf("%v °C: %v min, want %v", tt.target, a.HeatUp, minutes)
				}
			}
		}
	}
}

// By hand: 10 kg of water and 5 kg of dry earth from 20 to 90 °C take (41.84 + 4.25) × 70 = 3226 kJ.
func TestHeatUp(t *testing.T) {
	r := waterWith(90, Part{Kind: Earth, Mass: 500, MoisturePct: ptr(0.0)})
	tank := plainPan()
	tank.HeaterKW = ptr(unit.Kilowatt(2))
	a := mustScale(t, r, tank, DefaultConditions())
	kJ := 3226.3 * a.Details.AllWater.Kilograms() / 10
	lostKW := shah(90, 1, 101325) * 0.12 * latentHeat(90) / 3600
	if want := kJ / 60 / (2 - 0.4*lostKW); a.HeatUp == nil || !near(float64(*a.HeatUp), want, 1e-5) {
		t.Errorf("got %v min, want %v", a.HeatUp, want)
	}
	// A wet earth's water has to be heated just the same.
	r.Parts[1].MoisturePct = ptr(30.0)
	if b := mustScale(t, r, tank, DefaultConditions()); *b.HeatUp != *a.HeatUp {
		t.Errorf("with damp earth: %v min, want %v", *b.HeatUp, *a.HeatUp)
	}
	for _, kw := range []unit.Kilowatt{0, 2} { // already warm: no time, and no word on the heater
		tank.HeaterKW = ptr(kw)
		for _, water := range []unit.Celsius{90, 95} {
			c := DefaultConditions()
			c.WaterTemp = water
			if a := mustScale(t, r, tank, c); a.HeatUp == nil || *a.HeatUp != 0 || slices.Contains(codes(a), HeaterTooSmall) {
				t.Errorf("water of %v °C, %v kW: %v min and %v; want 0 min", water, kw, a.HeatUp, codes(a))
			}
		}
	}
	tank.HeaterKW = ptr(unit.Kilowatt(0.5))
	if a := mustScale(t, r, tank, DefaultConditions()); a.HeatUp != nil {
		t.Errorf("a heater that is too small: %v min, want none", *a.HeatUp)
	}
}

// The levels of each shape: the rim is its depth, the fill line that less the freeboard, and the surface that of the line.
func TestLevels(t *testing.T) {
	rims := map[string]unit.Centimetre{"trough": 35, "pot": 32, "bucket": 30, "funnel": 30, "pan": 15, "drum": 40, "beaten pan": 15}
	for _, tank := range oneOfEachShape() {
		c := DefaultConditions()
		c.Load = tank.VolumeAt(tank.FillLine()).CubicCM() / 10
		a := mustScale(t, waterWith(90, pure(salt.AmmoniumChloride, 150)), tank, c)
		l := a.Levels
		if l.Rim != rims[tank.Name] || l.Loaded != l.Rim-tank.Freeboard {
			t.Errorf("%s: rim %v, loaded %v cm; want %v and %v less", tank.Name, l.Rim, l.Loaded, rims[tank.Name], tank.Freeboard)
		}
		if !(0 < *l.Cold && *l.Cold < *l.Hot && *l.Hot < l.Loaded) {
			t.Errorf("%s: cold %v, hot %v, loaded %v cm; want them in that order", tank.Name, *l.Cold, *l.Hot, l.Loaded)
		}
		if a.OpenSurface != tank.SurfaceAt(l.Loaded) {
			t.Errorf("%s: open surface %v cm², want that of the fill line", tank.Name, a.OpenSurface)
		}
		if got := tank.VolumeAt(*l.Hot); !near(float64(got), float64(a.HotBathL), 1e-12) {
			t.Errorf("%s: %v L under the hot level, want %v L", tank.Name, got, a.HotBathL)
		}
	}
	tank := plainPan()
	tank.Freeboard = 0.5
	c := DefaultConditions()
	c.WaterTemp = 90
	if a := mustScale(t, waterWith(20), tank, c); a.Levels.Cold != nil || a.Levels.Hot == nil {
		t.Errorf("a bath that overflows cold: %+v; want no cold level", a.Levels)
	}
	rim := unit.Centimetre(20)
	stick := dipStick()
	stick.Rim, stick.Freeboard = &rim, 5
	if l := mustScale(t, waterWith(90), stick, DefaultConditions()).Levels; l.Rim != 20 || l.Loaded != 15 {
		t.Errorf("dip-stick table with a rim: %+v; want rim 20 and loaded 15", l)
	}
}

// TestAnswerJSON holds the answer to its keys: those that are always there, and those that are left out when unknown.
func TestAnswerJSON(t *testing.T) {
	keys := func(v any) string {
		var out []string
		for k := range v.(map[string]any) {
			out = append(out, k)
		}
		slices.Sort(out)
		return strings.Join(out, " ")
	}
	read := func(r Recipe, tank Tank, c Conditions) map[string]any {
		data, err := json.Marshal(mustScale(t, r, tank, c))
		if err != nil {
			t.Fatal(err)
		}
		var m map[string]any
		if err := json.Unmarshal(data, &m); err != nil {
			t.Fatal(err)
		}
		return m
	}
	r, tank, c := example()
	c.Bucket = ptr(unit.Litre(10))
	full := read(r, tank, c)
	tank.HeaterKW, tank.Freeboard, c.Bucket, c.WaterTemp, c.Load = nil, 0, nil, 100, 0
	r.Temp = TempWindow{30, 30, 30}
	sparse := read(r, tank, c)
	boiling := read(waterWith(110), tank, DefaultConditions())
	for _, tt := range []struct {
		what string
		got  any
		want string
	}{
		{"answer", full, "boils_at_c cautions composition evaporation_l_per_h heat_up_min hot_bath_l hot_density_kg_l levels_cm load_l open_surface_cm2 pour_water recipe tank temp_c undissolved_g warnings weigh"},
		{"weigh, earth", full["weigh"].([]any)[0], "kind mass_g name rounded_g"},
		{"weigh, salt", full["weigh"].([]any)[1], "kind mass_g rounded_g salt"},
		{"pour_water", full["pour_water"], "at_temp_c buckets litres mass_g remainder_l rounded_g"},
		{"composition", full["composition"], "deviation_pct earth_dry_g_per_kg_water salt_g_per_kg_water"},
		{"deviation_pct", full["composition"].(map[string]any)["deviation_pct"], "ammonium-chloride copper-sulfate-pentahydrate earth sodium-chloride"},
		{"levels_cm", full["levels_cm"], "cold hot loaded rim"},
		{"undissolved_g", full["undissolved_g"], "ammonium-chloride copper-sulfate-pentahydrate sodium-chloride"},
		{"caution", full["cautions"].([]any)[0], "id severity text"},
		{"warning", full["warnings"].([]any)[0], "code text"},
		{"without a heater and a bucket, overflowing", sparse, "boils_at_c cautions composition evaporation_l_per_h hot_bath_l hot_density_kg_l levels_cm load_l open_surface_cm2 pour_water recipe tank temp_c undissolved_g warnings weigh"},
		{"its pour_water", sparse["pour_water"], "at_temp_c litres mass_g rounded_g"},
		{"its levels_cm", sparse["levels_cm"], "hot loaded rim"},
		{"water boiling without a heater", boiling, "boils_at_c cautions composition hot_bath_l hot_density_kg_l levels_cm load_l open_surface_cm2 pour_water recipe tank temp_c undissolved_g warnings weigh"},
	} {
		if got := keys(tt.got); got != tt.want {
			t.Errorf("%s has keys\n%s\nwant\n%s", tt.what, got, tt.want)
		}
	}
	for _, key := range []string{"weigh", "warnings", "cautions"} { // empty lists are lists
		if _, isList := boiling[key].([]any); !isList {
			t.Errorf("%s is %v, want a list", key, boiling[key])
		}
	}
	// Above 60 °C a splash burns; the word is in lower case.
	for _, line := range full["cautions"].([]any) {
		if line := line.(map[string]any); line["id"] == "R-29" && line["severity"] == "danger" && line["text"] != "" {
			return
		}
	}
	t.Errorf("no R-29 of severity danger among %v", full["cautions"])
}

// The caution on fullness is by volume at the loaded level: a bowl that is three quarters deep is not three quarters full.
func TestFillCautionIsByVolume(t *testing.T) {
	has := func(tank Tank) bool {
		return slices.ContainsFunc(mustScale(t, waterWith(90), tank, DefaultConditions()).Cautions, func(c CautionLine) bool { return c.ID == "R-25" })
	}
	box, bowl := plainPan(), Tank{Shape: Bowl, RimDiameter: 60, Depth: 30}
	box.Freeboard, bowl.Freeboard = 7.5, 7.5
	// Box: exactly 0.75, which is quiet. Half a sphere at 22.5 of 30 cm: 22.5² × (90 - 22.5) / (30² × 60) = 0.633.
	if has(box) || has(bowl) {
		t.Errorf("box %v, bowl %v at three quarters of the depth; want quiet", has(box), has(bowl))
	}
	box.Freeboard, bowl.Freeboard = 7.4, 5 // bowl: 25² × 65 / 54000 = 0.752
	if !has(box) || !has(bowl) {
		t.Errorf("box %v, bowl %v; want a caution", has(box), has(bowl))
	}
	// A cone that narrows upwards holds most of it below: at half its height, 1 - (1/2)³ = 0.875.
	if tip := (Tank{Shape: Cone, BottomDiameter: 40, TopDiameter: 0.001, Height: 30, Freeboard: 15}); !has(tip) {
		t.Error("a cone on its base at half its height: want a caution")
	}
}
