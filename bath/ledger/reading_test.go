package ledger

import (
	"fmt"
	"math"
	"testing"

	"blackbath/bath/water"
)

// The conductivity formula by hand: 0.5 % of NH4Cl is 5/53.489 × 0.997 = 0.0932 mol/L, (73.5 + 76.3) × 0.0932 × (1 - 0.57 ×
// sqrt(0.0932)) = 11.53 mS/cm. CRC Handbook, conductivity at 20 °C: NH4Cl 10.5, NaCl 8.2, KCl 8.2 mS/cm at 0.5 %, times 1.1 to
// 25 °C.
func TestConductivity(t *testing.T) {
	for _, tt := range []struct {
		name          string
		cation, anion int
		molarMass     float64
		crc           float64
	}{
		{"NH4Cl", ammonium, chloride, 53.489, 10.5 * 1.1},
		{"NaCl", sodium, chloride, 58.44, 8.2 * 1.1},
		{"KCl", potassium, chloride, 74.548, 8.2 * 1.1},
	} {
		var x amounts // 10 % liquor, 1 g made up to 20 g
		x[waterAt], x[ionsAt+tt.cation], x[ionsAt+tt.anion] = 900, 100/tt.molarMass, 100/tt.molarMass
		closeTo(t, tt.name, conductivityMSCm(&x, 20), tt.crc, 0.07)
	}
	var x amounts
	x[waterAt], x[ionsAt+ammonium], x[ionsAt+chloride] = 900, 100/53.489, 100/53.489
	closeTo(t, "NH4Cl by hand", conductivityMSCm(&x, 20), 11.53, 1e-3)
}

// One reading of one uncertain water: plain water of known temperature, poured ± 1 % (100 g), against the stick ± 0.2 cm
// (0.2 × 1017.88 cm² = 203.6 mL = 203.2 g at 20 °C). The gain is 100² / (100² + 203.2²).
func TestLevelReadingOfPlainWater(t *testing.T) {
	s := replayed(t, plainFile(20, still, `{"id": "r", "at": "2026-01-05T08:00:00Z", "kind": "reading", "level_cm": 10}`))
	rho := water.DensityKgM3(20)
	read := math.Pi / 4 * 36 * 36 * 10 / 1000 * rho
	sd := 0.2 * math.Pi / 4 * 36 * 36 / 1000 * rho
	gain := 100 * 100 / (100*100 + sd*sd)
	closeTo(t, "water, g", float64(s.Water.Value), 10_000+gain*(read-10_000), 1e-9)
	closeTo(t, "sd, g", float64(s.Water.SD), 100*math.Sqrt(1-gain), 1e-6)
	closeTo(t, "adjusted, g", s.Balance.Water.Adjusted, gain*(read-10_000), 1e-9)
	coarse := replayed(t, plainFile(20, still, `{"id": "r", "at": "2026-01-05T08:00:00Z", "kind": "reading", "level_cm": 10, "level_sd_cm": 1}`))
	if coarse.Water.Value >= s.Water.Value || coarse.Water.SD <= s.Water.SD {
		t.Errorf("a coarse stick moved the water to %g ± %g, a fine one to %g ± %g", coarse.Water.Value, coarse.Water.SD, s.Water.Value, s.Water.SD)
	}
}

func TestLevelReadingWithPieces(t *testing.T) {
	at := func(soak, keys string) State {
		return replayed(t, plainFile(20, still, soak+`{"id": "r", "at": "2026-01-05T08:00:00Z", "kind": "reading", "level_cm": 10`+keys+`}`))
	}
	soak := func(keys string) string {
		return `{"id": "s", "at": "2026-01-05T08:00:00Z", "kind": "soak"` + keys + `},`
	}
	none := at("", "")
	// 720 g of metal are 0.1 L, 0.09824 cm of the pot.
	with := at(soak(`, "metal_g": 720`), "")
	lower := replayed(t, plainFile(20, still, fmt.Sprintf(`{"id": "r", "at": "2026-01-05T08:00:00Z", "kind": "reading", "level_cm": %.12f}`, 10-100/(math.Pi/4*36*36))))
	closeTo(t, "pieces of 720 g in the bath", float64(with.Water.Value), float64(lower.Water.Value), 1e-9)
	if got := at(soak(`, "metal_g": 720`), `, "pieces_out": true`); got.Water != none.Water {
		t.Errorf("with the pieces out: %+v, want %+v", got.Water, none.Water)
	}
	if got := at(soak(`, "metal_g": 720, "out_at": "2026-01-05T08:00:00Z"`), ""); got.Water.Value >= none.Water.Value {
		t.Log("the soak has carried mud out") // and its pieces are no longer in
	}
	unknown := at(soak(""), "")
	if facts, is := unknown.warned(LoadUnknown); !is || facts != "r" || unknown.Water.Value != 10_000 {
		t.Errorf("a load of unknown weight: %q %v, %g g", facts, is, unknown.Water.Value)
	}
	if _, is := at(soak(""), `, "pieces_out": true`).warned(LoadUnknown); is {
		t.Error("load_unknown with the pieces out")
	}
}

// A stick that contradicts is believed: the gap goes to water.
func TestLevelContradicts(t *testing.T) {
	read := func(level float64, hours int) State {
		return replayed(t, plainFile(20, `"room": {"temp_c": 20},`, fmt.Sprintf(`{"id": "r", "at": "2026-01-05T%02d:00:00Z", "kind": "reading", "temp_c": 20, "level_cm": %g}`, 8+hours, level)))
	}
	low := read(7, 1)
	if facts, is := low.warned(LevelContradicts); !is || facts != "r" {
		t.Error("a level 2.8 cm too low does not contradict")
	}
	closeTo(t, "level after a contradiction, cm", float64(*low.LevelCM), 7, 0.01)
	high := read(13, 1)
	if facts, is := high.warned(NegativeEvaporation); !is || facts != "r" {
		t.Error("a level 3.2 cm too high is no top-up that was not written down")
	}
	for _, s := range []State{read(9.8, 1), read(10, 1)} {
		for _, code := range []WarningCode{LevelContradicts, NegativeEvaporation} {
			if _, is := s.warned(code); is {
				t.Errorf("%s at a level within the doubt", code)
			}
		}
	}
}

// A bath of sal ammoniac alone: one reading of density moves salt and water along the only line that it can see.
func TestDensityReading(t *testing.T) {
	made := replayed(t, madeUp(water10kg+","+salt1500g))
	x := made.estimate.x
	foretold := made.model.foretell(&gauge{kind: densityGauge, tC: 20}, &x)
	// 13.04 % of NH4Cl at 20 °C: 1.0363 kg/L, between 1.0286 at 10 % and 1.0567 at 20 % (CRC Handbook).
	closeTo(t, "density of the liquor", foretold, 1.0286+0.304*(1.0567-1.0286), 1e-3)
	read := func(density float64, keys string) State {
		return replayed(t, madeUp(water10kg+","+salt1500g, fmt.Sprintf(`"kind": "reading", "density_kg_l": %.6f%s`, density, keys)))
	}
	same := read(foretold, "")
	closeTo(t, "strength by the reading foretold", float64(same.Strengths[0].GPerKgWater), 150, 1e-6)
	if same.Strengths[0].SD >= made.Strengths[0].SD {
		t.Errorf("the reading took no doubt away: %g, was %g", same.Strengths[0].SD, made.Strengths[0].SD)
	}
	if more := read(foretold+0.002, ""); more.Strengths[0].GPerKgWater <= 150 {
		t.Errorf("a denser liquor is %g g/kg strong", more.Strengths[0].GPerKgWater)
	}
	finer := read(foretold+0.001, `, "density_sd_kg_l": 0.0005`)
	if a, b := finer.Strengths[0].GPerKgWater, read(foretold+0.001, "").Strengths[0].GPerKgWater; a <= b {
		t.Errorf("a finer hydrometer moved it to %g, a coarser to %g", a, b)
	}
	// The same liquor is lighter when warm.
	warm := made.model.foretell(&gauge{kind: densityGauge, tC: 40}, &x)
	if s := read(warm, `, "density_temp_c": 40`); math.Abs(float64(s.Strengths[0].GPerKgWater)-150) > 1e-3 {
		t.Errorf("read at its own temperature: %g", s.Strengths[0].GPerKgWater)
	}
}

// A reading that contradicts is not used; the second running of the same kind and sign is.
func TestReadingContradicts(t *testing.T) {
	density := func(x float64) string { return fmt.Sprintf(`"kind": "reading", "density_kg_l": %g`, x) }
	conductivity := func(x float64) string {
		return fmt.Sprintf(`"kind": "reading", "conductivity_ms_cm": %g, "dilution": 26.09`, x)
	}
	for _, tt := range []struct {
		name  string
		facts []string
		warns string
		moved bool
	}{
		{"one", []string{density(1.1)}, "f0", false},
		{"two of the same sign", []string{density(1.1), density(1.1)}, "f0", true},
		{"two of different signs", []string{density(1.1), density(1.0)}, "f0 f1", false},
		{"two of different kinds", []string{density(1.1), conductivity(20)}, "f0 f1", false},
		{"a good one between", []string{density(1.1), density(1.0363), density(1.1)}, "f0 f2", false},
		{"another kind between", []string{density(1.1), conductivity(11.5), density(1.1)}, "f0", true},
		{"believed, and then the count begins anew", []string{density(1.1), density(1.1), density(1.3)}, "f0 f2", true},
		{"none", []string{density(1.0363), conductivity(11.5)}, "", false},
	} {
		s := replayed(t, madeUp(water10kg+","+salt1500g, tt.facts...))
		if got, _ := s.warned(ReadingContradicts); got != tt.warns {
			t.Errorf("%s: reading_contradicts %q, want %q", tt.name, got, tt.warns)
		}
		if moved := s.Strengths[0].GPerKgWater > 170; moved != tt.moved {
			t.Errorf("%s: strength %g", tt.name, s.Strengths[0].GPerKgWater)
		}
	}
}

func TestConductivityNotUsed(t *testing.T) {
	for _, tt := range []struct {
		keys string
		used bool
	}{
		{`"conductivity_ms_cm": 11.5, "dilution": 26.09`, true},
		{`"conductivity_ms_cm": 11.5, "dilution": 19.9`, false},
		{`"conductivity_ms_cm": 230`, false},
		{`"conductivity_ms_cm": 11.5, "dilution": 26.09, "conductivity_temp_c": 80`, false},
		{`"conductivity_ms_cm": 10.45, "dilution": 26.09, "conductivity_temp_c": 20`, true},
	} {
		s := replayed(t, madeUp(water10kg+","+salt1500g, `"kind": "reading", `+tt.keys))
		_, is := s.warned(ConductivityNotUsed)
		sure := replayed(t, madeUp(water10kg+","+salt1500g)).Strengths[0].SD
		if used := s.Strengths[0].SD < sure; is == tt.used || used != tt.used {
			t.Errorf("%s: conductivity_not_used %v, used %v", tt.keys, is, used)
		}
	}
}

// A dry bath takes no readings of level, density or conductivity.
func TestDryBathTakesNoReadings(t *testing.T) {
	s := replayed(t, madeUp(water10kg+","+salt1500g, `"kind": "dump", "share_pct": 100`, `"kind": "reading", "level_cm": 5, "density_kg_l": 1.05, "conductivity_ms_cm": 10, "dilution": 30, "ph": 7`))
	if len(s.Warnings) != 0 || s.Water.Value != 0 {
		t.Errorf("%g g of water, warnings %+v", s.Water.Value, s.Warnings)
	}
	if a := Advise(s); a.Verdict != RetireIt {
		t.Errorf("advice %s", a.Verdict)
	}
}

func TestLearnedFactor(t *testing.T) {
	for _, tt := range []struct {
		name          string
		ratios        []float64
		factor, doubt float64
	}{
		{"none", nil, 1, 0.3},
		{"one", []float64{0.8}, 0.8, 0.3},
		{"two: their mean", []float64{0.8, 0.9}, 0.85, 0.3},
		{"three that agree: the doubt is held at 0.1", []float64{0.8, 0.8, 0.8}, 0.8, 0.1},
		{"three: 1.4826 × 0.125", []float64{0.7, 0.8, 0.9}, 0.8, 1.4826 * 0.125},
		{"three that do not agree: held at 0.3", []float64{0.5, 1, 2}, 1, 0.3},
		{"only the last nine", []float64{5, 5, 5, 5, 5, 5, 5, 5, 5, 1, 1, 1, 1, 1}, 1, 0.1},
	} {
		var l learning
		l.start(tt.ratios)
		if math.Abs(l.factor-tt.factor) > 1e-12 || math.Abs(l.doubt-tt.doubt) > 1e-12 {
			t.Errorf("%s: factor %g, doubt %g; want %g, %g", tt.name, l.factor, l.doubt, tt.factor, tt.doubt)
		}
	}
}

// A spell teaches: a day at 60 °C of plain water, from one stick reading to the next. A spell with a lid, at the boil, too short
// or one that contradicts does not.
func TestSpellsTeach(t *testing.T) {
	spell := func(tempC float64, hours int, level float64, more string) State {
		on := `{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on"},` + more
		return replayed(t, plainFile(tempC, "", on+fmt.Sprintf(`{"id": "r", "at": "2026-01-05T%02d:00:00Z", "kind": "reading", "temp_c": %g, "level_cm": %g, "level_sd_cm": 0.05}`, 8+hours, tempC, level)))
	}
	s := spell(60, 8, 8, "")
	if len(s.Evaporation.Ratios) != 1 {
		t.Fatalf("ratios %v, %+v", s.Evaporation.Ratios, s.Warnings)
	}
	// Ten litres less what is found at 8 cm (8.1430 L, 0.98320 kg/L) against 8 h of 2.9 kg/(m² h).
	found := (10_000 - float64(s.Water.Value)) / (8 * 2.9 * potM2 * 1000)
	closeTo(t, "ratio", s.Evaporation.Ratios[0], found, 0.02)
	closeTo(t, "the doubt starts anew", s.Evaporation.Doubt, 0.3, 1e-12)
	if s.estimate.doubt(doubtEvaporation) != 0 || s.estimate.p[doubtEvaporation][waterAt] != 0 {
		t.Error("mean and cross terms of the doubt do not start anew")
	}
	if s.Evaporation.Factor != s.Evaporation.Ratios[0] {
		t.Errorf("factor %g", s.Evaporation.Factor)
	}
	for name, s := range map[string]State{
		"a lid":                   spell(60, 8, 8, `{"id": "l", "at": "2026-01-05T08:00:00Z", "kind": "lid_on"}, {"id": "k", "at": "2026-01-05T08:10:00Z", "kind": "lid_off"},`),
		"the boil":                spell(100, 1, 9, ""),
		"too short for the stick": spell(50, 1, 9.8, ""),
		"a contradiction":         spell(60, 8, 3, ""),
	} {
		if len(s.Evaporation.Ratios) != 0 {
			t.Errorf("%s taught %v", name, s.Evaporation.Ratios)
		}
	}
	// A top-up to a mark begins a spell and ends none.
	mark := spell(60, 8, 8, `{"id": "t", "at": "2026-01-05T15:50:00Z", "kind": "top_up", "to_level_cm": 12},`)
	if len(mark.Evaporation.Ratios) != 0 {
		t.Errorf("ten minutes after a mark taught %v", mark.Evaporation.Ratios)
	}
}

// A salt's own effect on a reading is the sum over its ions, also where the ions are exactly neutral and the pairing has a kink.
func TestGradientOfANeutralBath(t *testing.T) {
	for name, text := range map[string]string{
		"sal ammoniac alone": madeUp(water10kg + "," + salt1500g),
		"three salts":        workedFile(),
		"after lime":         madeUp(water10kg + "," + salt1500g + `,{"kind": "earth", "mass_g": 3000, "moisture_pct": 0, "carbonate_pct": 5}`),
	} {
		s := replayed(t, text)
		for kind, g := range map[string]gauge{"stick": {kind: stick, tC: 20}, "density": {kind: densityGauge, tC: 20}, "conductivity": {kind: conductivityGauge, dilution: 30}} {
			x := s.estimate.x
			h := s.model.gradient(&g, &x)
			step := 1e-5 * x[ionsAt+ammonium]
			more, less := x, x
			for _, ion := range []int{ammonium, chloride} {
				more[ionsAt+ion] += step
				less[ionsAt+ion] -= step
			}
			own := (s.model.foretell(&g, &more) - s.model.foretell(&g, &less)) / (2 * step)
			closeTo(t, name+", "+kind+": effect of a mole of ammonium chloride", h[ionsAt+ammonium]+h[ionsAt+chloride], own, 1e-3)
		}
	}
}
