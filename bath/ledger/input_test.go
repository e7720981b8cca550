package ledger

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"blackbath/bath/input"
	"blackbath/bath/salt"
)

// Every fault is told by field, value and what is allowed; nothing of the bath is kept.
func TestBadInput(t *testing.T) {
	fact := func(rest string) string {
		return file("", strings.TrimSuffix(goodMakeUp, "}")+`}, {"id": "x", "at": "2026-01-05T09:00:00Z", `+rest+`}`)
	}
	part := func(rest string) string { return fact(`"kind": "addition", "parts": [{` + rest + `}]`) }
	top := func(more string) string { return file(more, goodMakeUp) }
	recipe := func(salts, earth string) string {
		return strings.Replace(strings.Replace(top(""), salAmmoniac, salts, 1), earthWindow, earth, 1)
	}
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "", "facts file"},
		{"no bath", strings.Replace(top(""), `"bath": "B12",`, "", 1), "bath: nothing was given"},
		{"no tank", `{"bath": "B", "recipe": {"salts": [], "temp_c": {"target": 90}}, "facts": []}`, "tank: nothing was given"},
		{"a tank without size", strings.Replace(top(""), `"height_cm": 32,`, "", 1), "tank.height_cm"},
		{"no recipe", strings.Replace(top(""), `"recipe"`, `"x"`, 1), "recipe: nothing was given"},
		{"no salts", strings.Replace(top(""), `"salts": [`+salAmmoniac+`],`, "", 1), "recipe.salts"},
		{"no temperature", strings.Replace(top(""), `"temp_c": {"min": 85, "target": 92, "max": 97}`, `"name": "x"`, 1), "recipe"},
		{"unknown key", top(`"colour": 1,`), "colour: an unknown key"},
		{"unknown key in the room", top(`"room": {"temp": 1},`), "room.temp: an unknown key"},
		{"unknown key in a part", part(`"kind": "water", "mass_g": 1, "x": 1`), "facts[1].parts[0].x"},
		{"unknown key for its kind", fact(`"kind": "heat_on", "parts": []`), "facts[1].parts"},
		{"a key twice", top(`"altitude_m": 1, "altitude_m": 2,`), "altitude_m"},
		{"a number as text", top(`"altitude_m": "1",`), "altitude_m"},
		{"overflow", top(`"altitude_m": 1e999,`), "altitude_m"},
		{"NaN", top(`"altitude_m": NaN,`), "facts file"},
		{"altitude", top(`"altitude_m": 10000,`), "altitude_m: 10000 is not allowed; allowed: -500 to 9000 m"},
		{"water boils", top(`"water_boils_at_c": 40,`), "water_boils_at_c"},
		{"room too hot", top(`"room": {"temp_c": 61},`), "room.temp_c"},
		{"damp", top(`"room": {"rh_pct": 101},`), "room.rh_pct"},
		{"air", top(`"room": {"air_m_s": 21},`), "room.air_m_s"},
		{"lid", top(`"lid_factor": 1.1,`), "lid_factor"},
		{"cooling", top(`"cooling_h": 0,`), "cooling_h"},
		{"ratio", top(`"learned": {"evaporation_ratios": [1, 0]},`), "learned.evaporation_ratios[1]"},
		{"ratio as text", top(`"learned": {"evaporation_ratios": ["1"]},`), "learned.evaporation_ratios[0]"},
		{"learned drag-out", top(`"learned": {"dragout_l_m2": 0},`), "learned.dragout_l_m2"},
		{"learned zinc", top(`"learned": {"zinc_g_m2": -1},`), "learned.zinc_g_m2"},
		{"lot of water", top(`"lots": [{"kind": "water"}],`), "lots[0].kind"},
		{"lot of nothing", top(`"lots": [{"kind": "salt", "salt": "chloride"}],`), "lots[0].salt"},
		{"assay of a lot", top(`"lots": [{"kind": "salt", "salt": "sodium-chloride", "assay_pct": 101}],`), "lots[0].assay_pct"},
		{"load", top(`"load_cm3": 100000,`), "load_cm3"},
		{"step", top(`"step_g": 0,`), "step_g"},
		{"bucket", top(`"bucket_l": 0,`), "bucket_l"},
		{"water too hot", top(`"water_temp_c": 101,`), "water_temp_c"},
		{"coldest", top(`"coldest_c": -21,`), "coldest_c"},
		{"window upside down", recipe(`{"salt": "ammonium-chloride", "g_per_kg_water": {"min": 160, "target": 150}}`, ""), "recipe.salts[0].g_per_kg_water.min"},
		{"window without target", recipe(`{"salt": "ammonium-chloride", "g_per_kg_water": {"min": 160}}`, ""), "recipe.salts[0].g_per_kg_water.target: nothing was given"},
		{"no window", recipe(`{"salt": "ammonium-chloride"}`, ""), "recipe.salts[0].g_per_kg_water: nothing was given"},
		{"unknown salt", recipe(`{"salt": "salt", "g_per_kg_water": {"target": 1}}`, ""), "recipe.salts[0].salt"},
		{"earth below nothing", recipe(salAmmoniac, `"earth_dry_g_per_kg_water": {"target": -1},`), "recipe.earth_dry_g_per_kg_water.target"},
		{"a ring", recipe(ringOfSalts, ""), "recipe.salts: ammonium-chloride, sodium-nitrate, sodium-chloride, ammonium-nitrate"},
		{"one salt in two forms", recipe(`{"salt": "copper-sulfate", "g_per_kg_water": {"target": 1}}, {"salt": "copper-sulfate-pentahydrate", "g_per_kg_water": {"target": 1}}`, ""), "recipe.salts"},
		{"crystals wetter than the bath", recipe(`{"salt": "zinc-sulfate-heptahydrate", "g_per_kg_water": {"target": 3000}}`, ""), "recipe.salts"},
		{"least level above the rim", strings.Replace(top(""), `"name": "black"`, `"name": "black", "level_min_cm": 33`, 1), "recipe.level_min_cm"},

		{"no facts", file("", ""), "facts: 0 facts of kind make_up is not allowed; allowed: exactly one make_up"},
		{"two make-ups", fact(`"kind": "make_up", "parts": [{"kind": "water", "mass_g": 1}]`), "facts: 2 facts of kind make_up"},
		{"an id twice", file("", goodMakeUp+","+goodMakeUp), "facts[1].id: m"},
		{"no id", file("", strings.Replace(goodMakeUp, `"id": "m", `, "", 1)), "facts[0].id: nothing was given"},
		{"no time", file("", strings.Replace(goodMakeUp, `"at": "2026-01-05T08:00:00Z", `, "", 1)), "facts[0].at: nothing was given"},
		{"a time without offset", file("", strings.Replace(goodMakeUp, `08:00:00Z`, "08:00:00", 1)), "facts[0].at: 2026-01-05T08:00:00 is not allowed"},
		{"a year that nobody means", file("", strings.Replace(goodMakeUp, `2026`, "2206", 1)), "facts[0].at"},
		{"unknown kind", fact(`"kind": "stir"`), "facts[1].kind: stir"},
		{"no kind", fact(`"note": "x"`), "facts[1].kind"},
		{"temperature", fact(`"kind": "heat_on", "temp_c": 151`), "facts[1].temp_c"},
		{"a doubt that is no truth", fact(`"kind": "heat_on", "clock_in_doubt": "yes"`), "facts[1].clock_in_doubt"},
		{"an addition of nothing", fact(`"kind": "addition"`), "facts[1].parts"},
		{"a part of unknown kind", part(`"kind": "sand", "mass_g": 1`), "facts[1].parts[0].kind"},
		{"water without amount", part(`"kind": "water"`), "facts[1].parts[0].mass_g: nothing was given"},
		{"water with two amounts", part(`"kind": "water", "mass_g": 1, "litres": 1`), "facts[1].parts[0].mass_g: mass_g and litres both"},
		{"mass", part(`"kind": "water", "mass_g": 0`), "facts[1].parts[0].mass_g"},
		{"litres", part(`"kind": "water", "litres": -1`), "facts[1].parts[0].litres"},
		{"water temperature", part(`"kind": "water", "litres": 1, "water_temp_c": 120`), "facts[1].parts[0].water_temp_c"},
		{"earth without mass", part(`"kind": "earth", "moisture_pct": 3`), "facts[1].parts[0].mass_g"},
		{"moisture", part(`"kind": "earth", "mass_g": 1, "moisture_pct": -1`), "facts[1].parts[0].moisture_pct"},
		{"grain", part(`"kind": "earth", "mass_g": 1, "particle_density_g_cm3": 1`), "facts[1].parts[0].particle_density_g_cm3"},
		{"carbonate", part(`"kind": "earth", "mass_g": 1, "carbonate_pct": 101`), "facts[1].parts[0].carbonate_pct"},
		{"carbonate upside down", part(`"kind": "earth", "mass_g": 1, "carbonate_lo_pct": 3, "carbonate_hi_pct": 2`), "facts[1].parts[0].carbonate_lo_pct"},
		{"half a range", part(`"kind": "earth", "mass_g": 1, "carbonate_lo_pct": 3`), "facts[1].parts[0].carbonate_hi_pct: nothing was given"},
		{"the other half", part(`"kind": "earth", "mass_g": 1, "carbonate_hi_pct": 3`), "facts[1].parts[0].carbonate_lo_pct: nothing was given"},
		{"figure and range", part(`"kind": "earth", "mass_g": 1, "carbonate_pct": 2, "carbonate_hi_pct": 3`), "facts[1].parts[0].carbonate_pct"},
		{"assay", part(`"kind": "salt", "salt": "sodium-chloride", "mass_g": 1, "assay_pct": 0`), "facts[1].parts[0].assay_pct"},
		{"chloride alone", part(`"kind": "salt", "salt": "chloride", "mass_g": 1`), "facts[1].parts[0].salt: chloride"},
		{"mud of an unknown salt", part(`"kind": "mud", "litres": 1, "salt_g_per_kg_water": {"x": 1}`), "facts[1].parts[0].salt_g_per_kg_water: x"},
		{"mud of less than nothing", part(`"kind": "mud", "litres": 1, "salt_g_per_kg_water": {"sodium-chloride": -1}`), "facts[1].parts[0].salt_g_per_kg_water.sodium-chloride"},
		{"mud in the make-up", file("", strings.Replace(goodMakeUp, `{"kind": "water", "mass_g": 10000}`, `{"kind": "mud", "litres": 1}`, 1)), "facts[0].parts[0].kind: mud"},
		{"a mark in the make-up", file("", strings.Replace(goodMakeUp, `"parts"`, `"to_level_cm": 3, "parts"`, 1)), "facts[0].to_level_cm"},
		{"a top-up of neither", fact(`"kind": "top_up"`), "facts[1].parts: nothing was given"},
		{"a top-up of both", fact(`"kind": "top_up", "to_level_cm": 3, "parts": [{"kind": "water", "mass_g": 1}]`), "facts[1].parts: parts and to_level_cm both"},
		{"a mark above the rim", fact(`"kind": "top_up", "to_level_cm": 33`), "facts[1].to_level_cm"},
		{"a reading of nothing", fact(`"kind": "reading", "dilution": 30`), "facts[1].kind: reading"},
		{"a level above the rim", fact(`"kind": "reading", "level_cm": 33`), "facts[1].level_cm: 33"},
		{"a level of 0", fact(`"kind": "reading", "level_cm": 0`), "facts[1].level_cm"},
		{"a stick without doubt", fact(`"kind": "reading", "level_cm": 3, "level_sd_cm": 0`), "facts[1].level_sd_cm"},
		{"pH 72", fact(`"kind": "reading", "ph": 72`), "facts[1].ph: 72 is not allowed; allowed: 0 to 14"},
		{"pH temperature", fact(`"kind": "reading", "ph": 7, "ph_temp_c": 400`), "facts[1].ph_temp_c"},
		{"density", fact(`"kind": "reading", "density_kg_l": 1060`), "facts[1].density_kg_l: 1060"},
		{"density sd", fact(`"kind": "reading", "density_kg_l": 1.06, "density_sd_kg_l": 0`), "facts[1].density_sd_kg_l"},
		{"conductivity", fact(`"kind": "reading", "conductivity_ms_cm": 0`), "facts[1].conductivity_ms_cm"},
		{"conductivity sd", fact(`"kind": "reading", "conductivity_ms_cm": 1, "conductivity_sd_pct": 0`), "facts[1].conductivity_sd_pct"},
		{"dilution", fact(`"kind": "reading", "conductivity_ms_cm": 1, "dilution": 0.5`), "facts[1].dilution"},
		{"out before in", fact(`"kind": "soak", "out_at": "2026-01-05T08:59:00Z"`), "facts[1].out_at: 2026-01-05T08:59:00Z"},
		{"out at no time", fact(`"kind": "soak", "out_at": ""`), "facts[1].out_at"},
		{"area", fact(`"kind": "soak", "area_dm2": 0`), "facts[1].area_dm2"},
		{"metal", fact(`"kind": "soak", "metal_g": 0`), "facts[1].metal_g"},
		{"two kinds of drag-out", fact(`"kind": "soak", "dragout_g": 1, "dragout_l": 1`), "facts[1].dragout_g: dragout_g and dragout_l both"},
		{"trapped", fact(`"kind": "soak", "trapped_l": 0`), "facts[1].trapped_l"},
		{"loss", fact(`"kind": "soak", "metal_loss_g": 0`), "facts[1].metal_loss_g"},
		{"pieces as text", fact(`"kind": "soak", "pieces": "five"`), "facts[1].pieces"},
		{"a dump of neither", fact(`"kind": "dump"`), "facts[1].litres: nothing was given"},
		{"a dump of both", fact(`"kind": "dump", "litres": 1, "share_pct": 1`), "facts[1].litres: litres and share_pct both"},
		{"a share", fact(`"kind": "dump", "share_pct": 101`), "facts[1].share_pct"},
		{"a dump of what", fact(`"kind": "dump", "litres": 1, "what": "foam"`), "facts[1].what: foam"},
		{"a correction of nothing", fact(`"kind": "correction"`), "facts[1].replaces: nothing was given"},
		{"a correction of a later fact", fact(`"kind": "correction", "replaces": "y"}, {"id": "y", "at": "2026-01-05T09:00:00Z", "kind": "heat_on"`), "facts[1].replaces: y"},
		{"a correction of itself", fact(`"kind": "correction", "replaces": "x"`), "facts[1].replaces: x"},
		{"a correction of a correction", fact(`"kind": "heat_on"}, {"id": "c", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "x", "fact": {"kind": "heat_off"}}, {"id": "d", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "c"`), "facts[3].replaces: c"},
		{"a correction of what was struck out", fact(`"kind": "heat_on"}, {"id": "c", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "x"}, {"id": "d", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "x"`), "facts[3].replaces: x"},
		{"a struck make-up", fact(`"kind": "correction", "replaces": "m"`), "facts[1].fact"},
		{"a make-up corrected by something else", fact(`"kind": "correction", "replaces": "m", "fact": {"kind": "heat_on"}`), "facts[1].fact.kind"},
		{"something else corrected by a make-up", fact(`"kind": "heat_on"}, {"id": "c", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "x", "fact": {"kind": "make_up", "parts": [{"kind": "water", "mass_g": 1}]}`), "facts[2].fact.kind"},
		{"a correction by a correction", fact(`"kind": "heat_on"}, {"id": "c", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "x", "fact": {"kind": "correction", "replaces": "m"}`), "facts[2].fact.kind"},
		{"a correction with an id inside", fact(`"kind": "heat_on"}, {"id": "c", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "x", "fact": {"id": "z", "kind": "heat_on"}`), "facts[2].fact.id"},
		{"out before the time it keeps", fact(`"kind": "heat_on"}, {"id": "c", "at": "2026-01-05T09:00:00Z", "kind": "correction", "replaces": "x", "fact": {"kind": "soak", "out_at": "2026-01-05T08:30:00Z"}`), "facts[2].fact.out_at"},
	} {
		b, err := ParseFile([]byte(tt.text))
		var ps input.Problems
		if !errors.As(err, &ps) {
			t.Errorf("%s: error %v, want problems", tt.name, err)
			continue
		}
		if !reflect.DeepEqual(b, Bath{}) {
			t.Errorf("%s: half a bath is kept", tt.name)
		}
		if !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, err, tt.want)
		}
	}
}

const goodMakeUp = `{"id": "m", "at": "2026-01-05T08:00:00Z", "kind": "make_up", "parts": [{"kind": "water", "mass_g": 10000}]}`

const ringOfSalts = `{"salt": "ammonium-chloride", "g_per_kg_water": {"target": 10}}, {"salt": "sodium-nitrate", "g_per_kg_water": {"target": 10}},
	{"salt": "sodium-chloride", "g_per_kg_water": {"target": 10}}, {"salt": "ammonium-nitrate", "g_per_kg_water": {"target": 10}}`

func TestUnsafeSaltIsTold(t *testing.T) {
	_, err := ParseFile([]byte(strings.Replace(file("", goodMakeUp), "ammonium-chloride", "aluminium-chloride", 1)))
	if !errors.Is(err, input.ErrUnsafe) || !strings.Contains(err.Error(), string(salt.AluminiumChlorideHexahydrate)) {
		t.Errorf("anhydrous aluminium chloride: %v", err)
	}
}

func TestUntilBeforeTheMakeUp(t *testing.T) {
	b := parsed(t, file("", goodMakeUp))
	at := b.Facts[0].At
	if _, err := Replay(b, &at); err != nil {
		t.Errorf("at the make-up: %v", err)
	}
	at = at.Add(-1)
	s, err := Replay(b, &at)
	var ps input.Problems
	if !errors.As(err, &ps) || ps[0].Field != "until" || s.Bath != "" {
		t.Errorf("before the make-up: %v", err)
	}
}

// Null is absent, and a record that is merely unlikely is kept.
func TestUnlikelyIsNotRefused(t *testing.T) {
	for _, facts := range []string{
		`{"id": "x", "at": "2026-01-05T08:00:00Z", "kind": "heat_on", "note": null, "temp_c": null, "by": "the master", "entered_at": "from a slate"}`,
		`{"id": "x", "at": "2026-01-05T08:00:00Z", "kind": "reading", "temp_c": 149}`,
		`{"id": "x", "at": "2026-01-05T08:00:00Z", "kind": "dump", "litres": 1e6}`,
		`{"id": "x", "at": "1999-01-05T08:00:00Z", "kind": "heat_on"}`,
		`{"id": "x", "at": "2026-01-05T08:00:00Z", "kind": "soak", "area_dm2": 1e6, "trapped_l": 1000, "out_at": "2026-01-05T09:00:00Z"}`,
		`{"id": "x", "at": "2026-01-05T08:00:00Z", "kind": "addition", "parts": [{"kind": "water", "litres": 500}]}`,
	} {
		replayed(t, file("", goodMakeUp+","+facts))
	}
}

// Whatever the file, there is no panic, nothing is kept on an error, and the answer can be written: no NaN, no infinity.
func FuzzFactsFile(f *testing.F) {
	f.Add([]byte(workedFile(loads(2)...)))
	f.Add([]byte(file("", goodMakeUp)))
	f.Add([]byte(plainFile(100, `"learned": {"evaporation_ratios": [1e-9, 1e6]}, "cooling_h": 1e-9,`, `{"id": "h", "at": "2026-01-06T08:00:00Z", "kind": "reading", "temp_c": 150, "level_cm": 1, "level_sd_cm": 1e-9, "ph": 14}`)))
	f.Add([]byte(madeUp(water10kg+","+salt1500g, `"kind": "reading", "conductivity_ms_cm": 1e6, "dilution": 1e6, "conductivity_sd_pct": 1e-9`, `"kind": "dump", "share_pct": 100`, `"kind": "top_up", "to_level_cm": 32`)))
	f.Add([]byte(madeUp(`{"kind": "salt", "salt": "copper-sulfate", "mass_g": 1e9}`, `"kind": "reading", "level_cm": 1e-9, "density_kg_l": 2`, `"kind": "soak", "out_at": "2026-01-05T08:00:00Z", "area_dm2": 1e9, "trapped_l": 1e6`)))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := ParseFile(data)
		if err != nil {
			if !reflect.DeepEqual(b, Bath{}) {
				t.Fatal("half a bath is kept beside an error")
			}
			return
		}
		s, err := Replay(b, nil)
		if err != nil {
			t.Fatalf("a file without fault does not replay: %v", err)
		}
		a := Advise(s)
		if _, err := json.Marshal(NewAnswer(s, &a)); err != nil {
			t.Fatalf("marshal: %v", err)
		}
	})
}
