package bath

import (
	"slices"
	"strings"
	"testing"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// plainPan is a box with 30 L under its fill line and 36 L to the rim: 40 cm × 30 cm, filled to 25 of 30 cm.
func plainPan() Tank {
	return Tank{Name: "pan", Shape: Box, Length: 40, Width: 30, Height: 30, Freeboard: 5}
}

// waterWith is a recipe of 1000 g of water and the parts, to be worked at a temperature.
func waterWith(target unit.Celsius, parts ...Part) Recipe {
	return Recipe{Name: "test", Parts: append([]Part{{Kind: Water, Mass: 1000}}, parts...), Temp: TempWindow{target, target, target}}
}

// pure is a salt of known assay, g per 1000 g of water.
func pure(id salt.ID, g unit.Gram) Part {
	return Part{Kind: Salt, Salt: id, Mass: g, AssayPct: ptr(100.0)}
}

// codes are the warnings of an answer, in its order.
func codes(a Answer) []WarningCode {
	out := make([]WarningCode, len(a.Warnings))
	for i, w := range a.Warnings {
		out[i] = w.Code
	}
	return out
}

// TestWarnings has, for each kind of warning, a case that gives it and a close one that does not.
func TestWarnings(t *testing.T) {
	dry := Part{Kind: Earth, Name: "bank", Mass: 100, MoisturePct: ptr(0.0)}
	type change func(*Recipe, *Tank, *Conditions)
	same := func(*Recipe, *Tank, *Conditions) {}
	for _, tt := range []struct {
		code   WarningCode
		why    string // what decides, in figures
		recipe Recipe
		with   change // gives the warning
		just   change // does not
		says   string // words or figures that the text must have
	}{
		{AboveBoiling, "plain water boils at 99.974 °C at sea level", waterWith(90),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Temp = TempWindow{99.98, 99.98, 99.98} },
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Temp = TempWindow{99.97, 99.97, 99.97} }, "100.0 °C"},
		{AboveBoiling, "plain water boils at 93.32 °C at 2000 m (US Standard Atmosphere 1976)", waterWith(93.4),
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Altitude = 2000 },
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Altitude = 1900 }, "93.3 °C"},
		{AboveBoiling, "plain water was seen to boil at 95 °C", waterWith(96),
			func(_ *Recipe, _ *Tank, c *Conditions) { c.WaterBoilsAt = ptr(unit.Celsius(95)) },
			func(_ *Recipe, _ *Tank, c *Conditions) { c.WaterBoilsAt = ptr(unit.Celsius(97)) }, "95.0 °C"},
		{NearSaturation, "KNO3 takes 31.93 g per 100 g of water at 20 °C (CRC Handbook, 98th ed.); 0.8 of it is 255.4 g per kg", waterWith(92),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.PotassiumNitrate, 256)) },
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.PotassiumNitrate, 255)) }, "20 °C"},
		{NearSaturation, "three salts at 0.27 of their solubility at 20 °C are 0.81 together, at 0.26 they are 0.78", waterWith(92),
			func(r *Recipe, _ *Tank, _ *Conditions) {
				r.Parts = append(r.Parts, pure(salt.PotassiumNitrate, 3.193*27), pure(salt.SodiumChloride, 3.589*27), pure(salt.AmmoniumChloride, 3.749*27))
			},
			func(r *Recipe, _ *Tank, _ *Conditions) {
				r.Parts = append(r.Parts, pure(salt.PotassiumNitrate, 3.193*26), pure(salt.SodiumChloride, 3.589*26), pure(salt.AmmoniumChloride, 3.749*26))
			}, "81 %"},
		{DoesNotDissolve, "more than 319.3 g of KNO3 per kg at 20 °C", waterWith(92),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.PotassiumNitrate, 320)) },
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.PotassiumNitrate, 319)) }, "1.00 times"},
		{DoesNotDissolve, "the coldest night decides: KNO3 takes 213.6 g per kg at 10 °C", waterWith(92, pure(salt.PotassiumNitrate, 220)),
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Coldest = ptr(unit.Celsius(10)) },
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Coldest = ptr(unit.Celsius(12)) }, "10 °C"},
		{RoundsToNothing, "0.3 g in 1000 g of water is some 8.7 g in 29 kg: less than half of 20 g, more than half of 10 g", waterWith(92, pure(salt.CopperSulfate, 0.3)),
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Step = 20 },
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Step = 10 }, "copper-sulfate"},
		{RoundsToNothing, "30 L of water are less than half of a step of 70 kg", waterWith(80),
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Step = 70_000 },
			func(_ *Recipe, _ *Tank, c *Conditions) { c.Step = 50_000 }, "water"},
		{MoistureAssumed, "a moisture of 0 is known, no moisture is not", waterWith(92, dry),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts[1].MoisturePct = nil }, same, "“bank”"},
		{AssayAssumed, "an assay of 100 is known, no assay is not", waterWith(92, pure(salt.SodiumChloride, 50)),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts[1].AssayPct = nil }, same, "sodium chloride"},
		{HeaterTooSmall, "0.12 m² at 90 °C lose some 1.67 kg/h (Shah 2002), which takes 1.06 kW", waterWith(90),
			func(_ *Recipe, tank *Tank, _ *Conditions) { tank.HeaterKW = ptr(unit.Kilowatt(1.0)) },
			func(_ *Recipe, tank *Tank, _ *Conditions) { tank.HeaterKW = ptr(unit.Kilowatt(1.1)) }, "1.1 kW"},
		{HeaterTooSmall, "a heater of 0 kW never boils water", waterWith(105),
			func(_ *Recipe, tank *Tank, _ *Conditions) { tank.HeaterKW = ptr(unit.Kilowatt(0)) },
			func(_ *Recipe, tank *Tank, _ *Conditions) { tank.HeaterKW = ptr(unit.Kilowatt(0.001)) }, "0 kW"},
		{ColdOverflows, "water poured at 90 °C is 3.4 % more than at 20 °C; 0.5 cm of 30 cm are 1.7 %, 2 cm are 7 %", waterWith(20),
			func(_ *Recipe, tank *Tank, c *Conditions) { tank.Freeboard, c.WaterTemp = 0.5, 90 },
			func(_ *Recipe, tank *Tank, c *Conditions) { tank.Freeboard, c.WaterTemp = 2, 90 }, "36."},
		{Estimate, "density of AlCl3 solutions was measured to 25 °C, and they have no boiling table; NaCl has both to 140 °C", waterWith(92),
			func(r *Recipe, _ *Tank, _ *Conditions) {
				r.Parts = append(r.Parts, pure(salt.AluminiumChlorideHexahydrate, 50))
			},
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.SodiumChloride, 50)) }, "ideal rule"},
		{Estimate, "density of (NH4)2SO4 solutions was measured from 15 to 55 °C", waterWith(50, pure(salt.AmmoniumSulfate, 100)),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Temp = TempWindow{56, 56, 56} }, same, "temperatures"},
		{Estimate, "and cold water counts too", waterWith(50, pure(salt.AmmoniumSulfate, 100)),
			func(_ *Recipe, _ *Tank, c *Conditions) { c.WaterTemp = 14 }, same, "temperatures"},
		{Estimate, "density of NH4Cl solutions was measured to 40 % by mass, 667 g per kg of water", waterWith(92),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.AmmoniumChloride, 668)) },
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.AmmoniumChloride, 665)) }, "strongest solution"},
		{Estimate, "the boiling table of NH4Cl ends at 88.5 g per 100 g of water", waterWith(92),
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.AmmoniumChloride, 886)) },
			func(r *Recipe, _ *Tank, _ *Conditions) { r.Parts = append(r.Parts, pure(salt.AmmoniumChloride, 100)) }, "last row"},
	} {
		run := func(c change) Answer {
			r, tank, conditions := tt.recipe, plainPan(), DefaultConditions()
			r.Parts = slices.Clone(r.Parts)
			c(&r, &tank, &conditions)
			return mustScale(t, r, tank, conditions)
		}
		a := run(tt.with)
		at := slices.Index(codes(a), tt.code)
		if at < 0 {
			t.Errorf("%s (%s): got %v, want the warning", tt.code, tt.why, codes(a))
			continue
		}
		if text := a.Warnings[at].Text; !strings.Contains(text, tt.says) {
			t.Errorf("%s (%s): %q does not say %q", tt.code, tt.why, text, tt.says)
		}
		if a := run(tt.just); slices.Contains(codes(a), tt.code) {
			t.Errorf("%s (%s): got %v in the case that is just well", tt.code, tt.why, codes(a))
		}
	}
}

// Nothing that is wrong with the salts refuses a bath, and the two words on saturation never come together.
func TestTooMuchSaltIsNoError(t *testing.T) {
	for _, g := range []unit.Gram{250, 300, 400, 2000} {
		a := mustScale(t, waterWith(92, pure(salt.PotassiumNitrate, g)), plainPan(), DefaultConditions())
		if n := slices.Contains(codes(a), NearSaturation); n && slices.Contains(codes(a), DoesNotDissolve) {
			t.Errorf("%v g/kg: %v", g, codes(a))
		}
	}
}

// A bath without a fault has no warning; its list is empty, not absent.
func TestNoWarnings(t *testing.T) {
	r, tank, c := example()
	r.Parts = r.Parts[:4] // without copper sulfate, which was not measured this hot
	if a := mustScale(t, r, tank, c); a.Warnings == nil || len(a.Warnings) != 0 {
		t.Errorf("got %v, want an empty list", a.Warnings)
	}
}

// At the boil evaporation takes exactly what the heater gives, whatever its figure: no heater is too small by a rounding.
func TestBoilingHeaterIsNotTooSmall(t *testing.T) {
	for kw := unit.Kilowatt(0.1); kw < 40; kw += 0.1 {
		for _, target := range []unit.Celsius{99.5, 105} {
			tank := plainPan()
			tank.HeaterKW = ptr(kw)
			a := mustScale(t, waterWith(target), tank, DefaultConditions())
			if slices.Contains(codes(a), HeaterTooSmall) || a.HeatUp == nil {
				t.Fatalf("%v kW at the boil: %v", kw, codes(a))
			}
		}
	}
}
