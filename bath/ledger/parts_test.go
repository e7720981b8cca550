package ledger

import (
	"fmt"
	"math"
	"testing"

	"blackbath/bath/water"
)

// still is more keys of a bath from which nothing evaporates.
const still = `"lid_factor": 0, "room": {"rh_pct": 100},`

// madeUp is a facts file of parts, all at the make-up.
func madeUp(parts string, facts ...string) string {
	text := `{"id": "m", "at": "2026-01-05T08:00:00Z", "kind": "make_up", "temp_c": 20, "parts": [` + parts + `]}`
	for i, f := range facts {
		text += fmt.Sprintf(`, {"id": "f%d", "at": "2026-01-05T08:00:00Z", %s}`, i, f)
	}
	return file(still, text)
}

const (
	water10kg = `{"kind": "water", "mass_g": 10000}`
	salt1500g = `{"kind": "salt", "salt": "ammonium-chloride", "mass_g": 1500, "assay_pct": 100}`
)

// What each part brings and how sure it is, from the masses, molar masses and doubts by hand.
func TestParts(t *testing.T) {
	s := replayed(t, madeUp(`{"kind": "water", "litres": 10, "water_temp_c": 60}`))
	closeTo(t, "10 L of water at 60 °C (Kell: 0.98320 kg/L), g", float64(s.Water.Value), 9832.0, 1e-4)
	closeTo(t, "its sd", float64(s.Water.SD), 98.320, 1e-4)

	s = replayed(t, madeUp(`{"kind": "earth", "mass_g": 1120, "moisture_pct": 12, "carbonate_pct": 0}`))
	closeTo(t, "dry earth, g", float64(s.EarthDry.Value), 1000, 1e-12)
	closeTo(t, "its water, g", float64(s.Water.Value), 120, 1e-12)
	closeTo(t, "sd of the dry earth", float64(s.EarthDry.SD), 20, 1e-12)
	closeTo(t, "the water takes the same grams with the opposite sign", s.estimate.p[earthAt][waterAt], -400, 1e-12)
	s = replayed(t, madeUp(`{"kind": "earth", "mass_g": 1120}`))
	closeTo(t, "an earth of unknown moisture counts as dry, ± 10 %", float64(s.EarthDry.SD), 112, 1e-12)

	s = replayed(t, madeUp(water10kg+`,{"kind": "salt", "salt": "copper-sulfate-pentahydrate", "mass_g": 500, "assay_pct": 98}`))
	mol := 490 / (159.602 + 5*18.015)
	closeTo(t, "copper of 490 g of pure pentahydrate, g", float64(s.Ions["copper"].Value), mol*63.546, 1e-12)
	closeTo(t, "sulfate, g", float64(s.Ions["sulfate"].Value), mol*96.056, 1e-12)
	closeTo(t, "crystal water counts as water, g", float64(s.Water.Value), 10_000+mol*5*18.015, 1e-12)
	closeTo(t, "sd of the copper", float64(s.Ions["copper"].SD), 0.01*mol*63.546, 1e-12)
	s = replayed(t, madeUp(water10kg+`,{"kind": "salt", "salt": "aluminium-chloride-hexahydrate", "mass_g": 1000}`))
	closeTo(t, "3 chlorides to an aluminium, ± 3 % without assay", float64(s.Ions["chloride"].SD), 0.03*3*1000/(133.332+6*18.015)*35.45, 1e-12)
}

// Ready mud of the recipe's target: 150 g of salt and 600 g of earth per kg of water.
func TestReadyMud(t *testing.T) {
	mud := func(keys string) State {
		return replayed(t, madeUp(water10kg, `"kind": "top_up", "parts": [{"kind": "mud", `+keys+`}]`))
	}
	s := mud(`"mass_g": 1750`)
	closeTo(t, "water, g", float64(s.Water.Value), 11_000, 1e-12)
	closeTo(t, "earth, g", float64(s.EarthDry.Value), 600, 1e-12)
	closeTo(t, "ammonium, g", float64(s.Ions["ammonium"].Value), 150*18.039/53.489, 1e-12)
	closeTo(t, "sd of the earth: 3 % of all that is in it", float64(s.EarthDry.SD), 18, 1e-12)
	closeTo(t, "shared with the water", s.estimate.p[earthAt][waterAt], 18*30, 1e-12)
	s = mud(`"mass_g": 1250, "salt_g_per_kg_water": {"sodium-chloride": 50}, "earth_dry_g_per_kg_water": 200`)
	closeTo(t, "sodium, g", float64(s.Ions["sodium"].Value), 50*22.99/58.44, 1e-12)
	if s.Ions["ammonium"].Value != 0 || s.EarthDry.Value != 200 {
		t.Errorf("the whole set replaces the recipe's: %+v", s.Ions["ammonium"])
	}
	// Without salt, a mud of 1 kg of water at 20 °C (0.99821 kg/L) and 530 g of earth of 2.65 g/cm³ has 1.00180 + 0.2 L.
	s = mud(`"litres": 1.2018, "salt_g_per_kg_water": {}, "earth_dry_g_per_kg_water": 530`)
	closeTo(t, "water by litres, g", float64(s.Water.Value), 11_000, 1e-5)
	closeTo(t, "earth by litres, g", float64(s.EarthDry.Value), 530, 1e-4)
}

// The specific volume is the mean of all earth that ever came in: 1000 g of 2.5 and 1000 g of 2.0 g/cm³ are 0.9 L.
func TestVolumeOfMud(t *testing.T) {
	s := replayed(t, madeUp(water10kg+`,{"kind": "earth", "mass_g": 1000, "moisture_pct": 0, "particle_density_g_cm3": 2.5}`,
		`"kind": "addition", "parts": [{"kind": "earth", "mass_g": 1000, "moisture_pct": 0, "particle_density_g_cm3": 2}]`))
	closeTo(t, "volume, L", float64(s.VolumeL), 10/0.99821+0.9, 1e-5)
	// The mud of the published mixture 12.5 % NH4Cl, 3.333 % NaCl, 0.8333 % CuSO4 has a liquor of 1.03394 kg/L at 92 °C.
	made := replayed(t, workedFile())
	closeTo(t, "liquor, kg/L", (1+0.15+0.04+0.01)*float64(made.Water.Value)/1000/(float64(made.VolumeL)-float64(made.EarthDry.Value)/2650), 1.03394, 1e-5)
}

// n mol of carbonate may all react or none: half is booked. 1000 g of earth with 2 % hold 20 g, 0.19983 mol.
func TestCarbonate(t *testing.T) {
	earth := func(carbonate string) string {
		return `{"kind": "earth", "mass_g": 1000, "moisture_pct": 0` + carbonate + `}`
	}
	n := 20 / 100.086
	s := replayed(t, madeUp(water10kg+","+salt1500g+","+earth(`, "carbonate_pct": 2`)))
	closeTo(t, "ammonium reacted, g", s.Balance.Ions["ammonium"].Reacted, -n*18.039, 1e-9)
	closeTo(t, "calcium reacted, g", s.Balance.Ions["calcium"].Reacted, n/2*40.078, 1e-9)
	closeTo(t, "earth reacted, g", s.Balance.EarthDry.Reacted, -10, 1e-9)
	closeTo(t, "sd of the calcium: even between nothing and all, g", float64(s.Ions["calcium"].SD), n/math.Sqrt(12)*40.078, 1e-9)
	s = replayed(t, madeUp(water10kg+","+salt1500g+","+earth(`, "carbonate_lo_pct": 1, "carbonate_hi_pct": 3`)))
	closeTo(t, "of a range the middle", s.Balance.Ions["calcium"].Reacted, n/2*40.078, 1e-9)
	// u = n f with f even on 0..1 and n even on 0.5 n..1.5 n: E u² = n² (1 + 1/12)/3, less (n/2)².
	closeTo(t, "sd of a range", float64(s.Ions["calcium"].SD), n*math.Sqrt((1+1.0/12)/3-0.25)*40.078, 1e-9)

	s = replayed(t, madeUp(water10kg+`,{"kind": "salt", "salt": "ammonium-chloride", "mass_g": 53.489, "assay_pct": 100},`+earth(`, "carbonate_pct": 90`)))
	closeTo(t, "at most all the ammonium, of which half is booked, g", float64(s.Ions["ammonium"].Value), 18.039/2, 1e-9)

	for _, tt := range []struct {
		parts string
		want  WarningCode
	}{
		{water10kg + "," + salt1500g + "," + earth(""), CarbonateUnknown},
		{water10kg + "," + earth(`, "carbonate_pct": 2`), CarbonateNotFollowed},
		{water10kg + "," + earth(""), ""},
		{water10kg + "," + earth(`, "carbonate_pct": 0`), ""},
		{water10kg + "," + salt1500g + "," + earth(`, "carbonate_pct": 2`), ""},
	} {
		s := replayed(t, madeUp(tt.parts))
		for _, code := range []WarningCode{CarbonateUnknown, CarbonateNotFollowed} {
			facts, is := s.warned(code)
			if is != (code == tt.want) || is && facts != "m" {
				t.Errorf("%s: %s %v %q", tt.parts, code, is, facts)
			}
		}
	}
}

func TestTopUpToAMark(t *testing.T) {
	// 1017.88 cm² of pot: 12 cm are 12.2145 L, of plain water at 20 °C (Kell 0.998203 kg/L) 12 192.6 g.
	s := replayed(t, madeUp(water10kg, `"kind": "top_up", "to_level_cm": 12`))
	want := 12 * math.Pi / 4 * 36 * 36 * water.DensityKgM3(20) / 1000
	closeTo(t, "water, g", float64(s.Water.Value), want, 1e-9)
	closeTo(t, "counted as in, g", s.Balance.Water.In, want, 1e-9)
	// The mark is as sure as the stick: 0.2 cm.
	closeTo(t, "sd, g", float64(s.Water.SD), 0.2*math.Pi/4*36*36*0.9982, 3e-3)
	if *s.LevelCM < 12-1e-9 || *s.LevelCM > 12+1e-9 {
		t.Errorf("level %.12g", *s.LevelCM)
	}
	// Pieces that are in take their room: 7200 g are 1 L.
	in := replayed(t, madeUp(water10kg, `"kind": "soak", "metal_g": 7200`, `"kind": "top_up", "to_level_cm": 12`))
	closeTo(t, "water with pieces in, g", float64(in.Water.Value), want-water.DensityKgM3(20), 1e-9)
	for _, tt := range []struct {
		name string
		code WarningCode
		s    State
	}{
		{"above the mark", AboveMark, replayed(t, madeUp(water10kg, `"kind": "top_up", "to_level_cm": 9`))},
		{"pieces in, of unknown weight", LoadUnknown, replayed(t, madeUp(water10kg, `"kind": "soak"`, `"kind": "top_up", "to_level_cm": 12`))},
	} {
		if _, is := tt.s.warned(tt.code); !is || tt.s.Water.Value != 10_000 {
			t.Errorf("%s: %s %v, %g g of water", tt.name, tt.code, is, tt.s.Water.Value)
		}
	}
	for _, code := range []WarningCode{AboveMark, LoadUnknown, ThinnedByMark} {
		if _, is := in.warned(code); is {
			t.Errorf("%s without cause", code)
		}
	}
}

// Every salt in all shapes of tank: the root is found to a millionth of a gram.
func TestWaterToAMarkOfANearlyDryBath(t *testing.T) {
	s := replayed(t, madeUp(`{"kind": "water", "mass_g": 1},`+salt1500g, `"kind": "top_up", "to_level_cm": 20`))
	if *s.LevelCM < 20-1e-8 || *s.LevelCM > 20+1e-8 {
		t.Errorf("level %.12g, want 20", *s.LevelCM)
	}
}
