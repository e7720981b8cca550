package ledger

import (
	"fmt"
	"math"
	"testing"

	"blackbath/bath/water"
)

// plainFile is a pot of plain water, 10 kg, without earth or salt, made up at a temperature; the facts follow.
func plainFile(tempC float64, more, facts string) string {
	makeUp := fmt.Sprintf(`{"id": "m", "at": "2026-01-05T08:00:00Z", "kind": "make_up", "temp_c": %g, "parts": [{"kind": "water", "mass_g": 10000}]}`, tempC)
	if facts != "" {
		makeUp += ","
	}
	return fmt.Sprintf(pot, "", "", more, makeUp+facts)
}

const potM2 = math.Pi / 4 * 0.36 * 0.36

// Plain water of 90 °C in still air of 25 °C and 50 % loses 13.9 kg/(m² h), of 60 °C 2.9 (M. M. Shah, ASHRAE Trans. 120(2)
// (2014), as tabulated for those conditions).
func TestEvaporationOfPlainWater(t *testing.T) {
	for _, tt := range []struct{ tempC, perM2H float64 }{{90, 13.9}, {80, 8.6}, {60, 2.9}, {50, 1.52}} {
		s := replayed(t, plainFile(tt.tempC, "", fmt.Sprintf(`{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"},
			{"id": "r", "at": "2026-01-05T10:00:00Z", "kind": "reading", "temp_c": %g}`, tt.tempC)))
		closeTo(t, fmt.Sprintf("evaporated in 2 h at %g °C, g", tt.tempC), float64(s.Evaporation.EvaporatedG), 2000*potM2*tt.perM2H, 0.01)
		// One relative doubt of 30 % on all of it, and 1 % of the water that was poured.
		closeTo(t, "its sd, g", float64(s.Water.SD), math.Hypot(0.3*float64(s.Evaporation.EvaporatedG), 100), 1e-9)
	}
}

func TestEvaporationByRoomLidAndFactor(t *testing.T) {
	const held = `{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"}, %s {"id": "r", "at": "2026-01-05T09:00:00Z", "kind": "reading", "temp_c": 80}`
	gone := func(more, lid string) float64 {
		return float64(replayed(t, plainFile(80, more, fmt.Sprintf(held, lid))).Evaporation.EvaporatedG)
	}
	plain := gone("", "")
	closeTo(t, "with a draught of 1 m/s (ASHRAE pool equation: 0.88 per m/s)", gone(`"room": {"air_m_s": 1},`, ""), 1.88*plain, 1e-9)
	lid := `{"id": "l", "at": "2026-01-05T08:00:00Z", "kind": "lid_on"},`
	closeTo(t, "under the lid", gone("", lid), 0.2*plain, 1e-9)
	closeTo(t, "under a lid of another factor", gone(`"lid_factor": 0.5,`, lid), 0.5*plain, 1e-9)
	closeTo(t, "with the lid off again half way", gone("", lid+`{"id": "k", "at": "2026-01-05T08:30:00Z", "kind": "lid_off"},`), (0.2+1)/2*plain, 1e-9)
	closeTo(t, "by learned ratios 0.8 and 0.9", gone(`"learned": {"evaporation_ratios": [0.8, 0.9]},`, ""), 0.85*plain, 1e-9)
	// A room as wet as the bath takes nothing: it would add water.
	if got := gone(`"room": {"temp_c": 60, "rh_pct": 100},`, ""); !(got > 0 && got < plain) {
		t.Errorf("into a wet hot room %g g, into a dry cool one %g g", got, plain)
	}
	cold := replayed(t, plainFile(10, `"room": {"temp_c": 30, "rh_pct": 100},`, `{"id": "r", "at": "2026-01-06T08:00:00Z", "kind": "reading", "temp_c": 10}`))
	if cold.Evaporation.EvaporatedG != 0 || cold.Water.Value != 10_000 {
		t.Errorf("a cold bath in a damp room: %+v", cold.Evaporation)
	}
}

// At the boil the heater sets the evaporation: 1.60 kg/h for each kW (hfg 2256.4 kJ/kg at 100 °C, CRC Handbook).
func TestBoilingBath(t *testing.T) {
	boil := func(heater, heat string) State {
		text := plainFile(100, "", heat+`{"id": "r", "at": "2026-01-05T09:00:00Z", "kind": "reading", "temp_c": 100}`)
		if heater != "" {
			text = replaceOnce(t, text, `"freeboard_cm": 6`, `"freeboard_cm": 6, "heater_kw": `+heater)
		}
		return replayed(t, text)
	}
	on := `{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"}, {"id": "l", "at": "2026-01-05T08:00:00Z", "kind": "lid_on"},`
	closeTo(t, "3 kW under a lid for an hour, g", float64(boil("3", on).Evaporation.EvaporatedG), 3*3600/2256.4*1000, 1e-3)
	if boil("3", "").Evaporation.EvaporatedG != boil("3", on).Evaporation.EvaporatedG {
		t.Error("before any heat fact a bath that boils is heated")
	}
	// 0.97 of the air's pressure is the most that the formula is asked for.
	s := boil("", `{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"},`)
	p := water.SeaLevelPa
	want := 1000 * potM2 * water.SurfaceEvaporationKgPerM2H(0.97*p, water.BoilingC(p), p, 0.5*water.VapourPressurePa(25), 25, 0)
	closeTo(t, "without a known heater", float64(s.Evaporation.EvaporatedG), want, 1e-6)
	if _, is := s.warned(HeaterUnknown); !is {
		t.Error("no heater_unknown")
	}
	for _, kw := range []string{"3", "0.5"} {
		if _, is := boil(kw, on).warned(HeaterUnknown); is {
			t.Error("heater_unknown with a heater")
		}
	}
}

func TestBoiledDry(t *testing.T) {
	text := replaceOnce(t, plainFile(100, "", `{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"}, {"id": "r", "at": "2026-01-05T16:00:00Z", "kind": "reading", "temp_c": 100, "level_cm": 3}`),
		`"freeboard_cm": 6`, `"freeboard_cm": 6, "heater_kw": 3`)
	s := replayed(t, text)
	if s.Water.Value != 0 || s.VolumeL != 0 || s.BoilsAtC != nil || s.Earth != nil || len(s.Strengths) != 0 {
		t.Errorf("after 8 h: %g g of water, %g L, boils at %v", s.Water.Value, s.VolumeL, s.BoilsAtC)
	}
	if _, is := s.warned(BoiledDry); !is {
		t.Error("no boiled_dry")
	}
	if a := Advise(s); a.Verdict != RetireIt || len(a.Reasons) != 1 || a.Reasons[0] != "boiled_dry" {
		t.Errorf("advice %+v", a)
	}
	// 10 kg at 4.80 kg/h last 2.08 h.
	until := moment(t, "2026-01-05T10:04:00Z")
	s, err := Replay(parsed(t, text), &until)
	if err != nil {
		t.Fatal(err)
	}
	if _, is := s.warned(BoiledDry); is || s.Water.Value < 10 {
		t.Errorf("dry too soon: %g g", s.Water.Value)
	}
}

// The power of the steam rule: a = 29.6 at 25 °C and 16.1 at 90 °C, worked by hand from Sander 2023 and the vapour pressure.
func TestAmmoniaOverSteam(t *testing.T) {
	closeTo(t, "25 °C", ammoniaOverSteam(25, 3169.7), 29.6, 2e-3)
	closeTo(t, "90 °C", ammoniaOverSteam(90, 70182), 16.1, 3e-3)
}

// Emerson 1975 at pH 9 and 7, as tabulated; Trussell 1972: 20 °C pH 8 3.83 %.
func TestFreeAmmonia(t *testing.T) {
	for _, tt := range []struct{ ph, tC, want, within float64 }{{9, 25, 0.362, 2e-3}, {7, 90, 0.198, 3e-3}, {6, 50, 0.0029, 1e-2}, {8, 20, 0.0383, 1e-2}} {
		closeTo(t, fmt.Sprintf("pH %g at %g °C", tt.ph, tt.tC), freeAmmonia(tt.ph, tt.tC), tt.want, tt.within)
	}
}

// saltFile is a pot with 10 kg of water and 1500 g of sal ammoniac, held at 90 °C for four hours.
func saltFile(reading, earth string) string {
	return file("", fmt.Sprintf(`{"id": "m", "at": "2026-01-05T08:00:00Z", "kind": "make_up", "temp_c": 90, "parts": [%s {"kind": "water", "mass_g": 10000},
		{"kind": "salt", "salt": "ammonium-chloride", "mass_g": 1500, "assay_pct": 100}]},
		{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"}, %s
		{"id": "r", "at": "2026-01-05T12:00:00Z", "kind": "reading", "temp_c": 90}`, earth, reading))
}

// Ammonium goes with (W'/W)^(a f), step by step the same as over all of it, since neither a nor f changes at one temperature.
func TestAmmoniaLeavesWithTheSteam(t *testing.T) {
	s := replayed(t, saltFile(`{"id": "p", "at": "2026-01-05T08:00:00Z", "kind": "reading", "ph": 6},`, ""))
	kept := math.Pow(float64(s.Water.Value)/10_000, ammoniaOverSteam(90, water.VapourPressurePa(90))*freeAmmonia(6, 90))
	closeTo(t, "ammonium, g", float64(s.Ions["ammonium"].Value), 1500*18.039/53.489*kept, 1e-9)
	closeTo(t, "gassed, g", s.Balance.Ions["ammonium"].Gassed, -1500*18.039/53.489*(1-kept), 1e-6)
	closeTo(t, "chloride, g", float64(s.Ions["chloride"].Value), 1500*35.45/53.489, 1e-12)
	if _, is := s.warned(PHUnknown); is {
		t.Error("ph_unknown with a pH")
	}
	// A cold sample's pH is taken at its own temperature.
	cold := replayed(t, saltFile(`{"id": "p", "at": "2026-01-05T08:00:00Z", "kind": "reading", "ph": 6, "ph_temp_c": 25},`, ""))
	kept = math.Pow(float64(cold.Water.Value)/10_000, ammoniaOverSteam(90, water.VapourPressurePa(90))*freeAmmonia(6, 25))
	closeTo(t, "ammonium by a cold sample, g", float64(cold.Ions["ammonium"].Value), 1500*18.039/53.489*kept, 1e-9)
}

func TestAmmoniaRuleIsOff(t *testing.T) {
	none := replayed(t, saltFile("", ""))
	if _, is := none.warned(PHUnknown); !is || none.Balance.Ions["ammonium"].Gassed != 0 {
		t.Error("without a pH nothing is booked, and that is told")
	}
	earth := `{"kind": "earth", "mass_g": 1000, "moisture_pct": 0, "carbonate_pct": 2},`
	limed := replayed(t, saltFile(`{"id": "p", "at": "2026-01-05T08:00:00Z", "kind": "reading", "ph": 7},`, earth))
	if limed.Balance.Ions["ammonium"].Gassed != 0 {
		t.Error("one ammonia is counted twice: by lime and by steam")
	}
	if _, is := replayed(t, saltFile("", earth)).warned(PHUnknown); is {
		t.Error("ph_unknown while the lime rule stands alone")
	}
}

// Where plain water boils beats the altitude, and lowers both the boiling point and the air that holds the steam back.
func TestWaterBoilsAt(t *testing.T) {
	at := func(more string) State {
		return replayed(t, plainFile(80, more, `{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"}, {"id": "r", "at": "2026-01-05T09:00:00Z", "kind": "reading", "temp_c": 80}`))
	}
	if got := float64(*at(`"altitude_m": 2000,`).BoilsAtC); math.Abs(got-93.32) > 0.01 { // US Standard Atmosphere 1976
		t.Errorf("at 2000 m plain water boils at %.3f °C, want 93.32", got)
	}
	s := at(`"water_boils_at_c": 93.32, "altitude_m": 0,`)
	if math.Abs(float64(*s.BoilsAtC)-93.32) > 1e-6 {
		t.Errorf("boils at %.4f °C", *s.BoilsAtC)
	}
	closeTo(t, "evaporation as at 2000 m", float64(s.Evaporation.EvaporatedG), float64(at(`"altitude_m": 2000,`).Evaporation.EvaporatedG), 1e-3)
}

// A bath that loses nothing by the formula and is a cone: the open surface is that of the level.
func TestOpenSurfaceOfACone(t *testing.T) {
	cone := replaceOnce(t, plainFile(80, "", `{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"}, {"id": "r", "at": "2026-01-05T08:15:00Z", "kind": "reading", "temp_c": 80}`),
		`"shape": "cylinder", "diameter_cm": 36`, `"shape": "cone", "bottom_diameter_cm": 0, "top_diameter_cm": 64`)
	s := replayed(t, cone)
	// 10 kg at 80 °C (Kell 0.97180 kg/L) are 10.290 L; in a cone as wide as twice its depth V = pi h³/3, h = 21.42 cm.
	h := math.Cbrt(3 * 10_000 / 0.97180 / math.Pi)
	closeTo(t, "evaporated in a quarter of an hour, g", float64(s.Evaporation.EvaporatedG), 0.25*1000*8.6*math.Pi*h*h/1e4, 0.01)
}
