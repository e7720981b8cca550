package ledger

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// fillFile is a bath inside all its windows, of so many litres hot.
func fillFile(litres float64) string {
	// Per kg of water 0.15 kg of salt and 0.6 kg of earth make 1.3427 L of mud at 92 °C (regression figure).
	w := litres / 1.3427 * 1000
	return windowFile("", w, 0.15*w, 0.6*w)
}

// windowFile is a bath of so many g, hot, pure and dry.
func windowFile(more string, waterG, saltG, earthG float64) string {
	return file(still+`"lots": [{"kind": "earth", "moisture_pct": 12}, {"kind": "salt", "salt": "ammonium-chloride", "assay_pct": 98.5}],`+more,
		fmt.Sprintf(`{"id": "m", "at": "2026-01-05T08:00:00Z", "kind": "make_up", "temp_c": 92, "parts": [{"kind": "water", "mass_g": %g},
		{"kind": "salt", "salt": "ammonium-chloride", "mass_g": %g, "assay_pct": 100}, {"kind": "earth", "mass_g": %g, "moisture_pct": 0, "carbonate_pct": 0}]}`, waterG, saltG, earthG))
}

func TestVerdicts(t *testing.T) {
	withLeast := func(text string) string {
		return replaceOnce(t, text, `"name": "black"`, `"name": "black", "level_min_cm": 20`)
	}
	damp := func(text, moisture string) string {
		return replaceOnce(t, text, `"moisture_pct": 12`, `"moisture_pct": `+moisture)
	}
	for _, tt := range []struct {
		name, text string
		verdict    Verdict
		reasons    string
	}{
		{"all inside", windowFile("", 15000, 2250, 9000), AddNothing, ""},
		{"on the edges", windowFile("", 15000, 2550, 7500), AddNothing, ""},
		{"salt low", windowFile("", 15000, 1800, 9000), AddNow, "ammonium-chloride_below"},
		{"salt high", windowFile("", 12000, 2400, 7200), AddNow, "ammonium-chloride_above"},
		{"salt high and earth low", windowFile("", 10000, 2000, 4000), AddNow, "ammonium-chloride_above earth_below"},
		{"both low", windowFile("", 12000, 1200, 4000), AddNow, "ammonium-chloride_below earth_below"},
		{"low in the tank", withLeast(windowFile("", 10000, 1500, 6000)), AddNow, "level_below"},
		{"too full to thin all the way", windowFile("", 16000, 3200, 9600), DumpThenAdd, "ammonium-chloride_above"},
		{"far too strong", windowFile("", 14000, 7000, 7000), RetireIt, "ammonium-chloride_above too_much_to_dump"},
		{"only a damp earth wanted", damp(windowFile("", 15000, 2250, 5000), "170"), Cannot, "earth_below"},
		{"boiled dry", replaceOnce(t, windowFile("", 15000, 2250, 9000), `"carbonate_pct": 0}]}`, `"carbonate_pct": 0}]}, {"id": "d", "at": "2026-01-05T08:00:00Z", "kind": "dump", "what": "liquor", "share_pct": 100}`), RetireIt, "boiled_dry"},
		{"retired", replaceOnce(t, windowFile("", 15000, 2250, 9000), `"carbonate_pct": 0}]}`, `"carbonate_pct": 0}]}, {"id": "d", "at": "2026-01-05T08:00:00Z", "kind": "retire"}`), IsRetired, ""},
		{"too unsure", strings.Replace(windowFile("", 15000, 2250, 9000), `{"min": 130, "target": 150, "max": 170}`, `{"min": 149, "target": 150, "max": 151}`, 1), MeasureFirst, "ammonium-chloride"},
	} {
		a := Advise(replayed(t, tt.text))
		if got := strings.Join(a.Reasons, " "); a.Verdict != tt.verdict || got != tt.reasons || a.Reasons == nil {
			t.Errorf("%s: %s because %q, want %s because %q", tt.name, a.Verdict, got, tt.verdict, tt.reasons)
		}
		if with := a.Verdict == AddNow || a.Verdict == DumpThenAdd; with != (a.Amounts != nil) {
			t.Errorf("%s: amounts %v", tt.name, a.Amounts)
		}
	}
}

// amountOf is the exact mass of a line of the advice.
func amountOf(a Advice, kind, id string) float64 {
	for _, l := range a.Add {
		if string(l.Kind) == kind && string(l.Salt) == id {
			return float64(l.Mass)
		}
	}
	return 0
}

// Amounts by hand.
func TestAdvisedAmounts(t *testing.T) {
	// 15 kg of water want 2250 g of salt and have 1800: 450 g pure, 456.85 g at 98.5 %.
	a := Advise(replayed(t, windowFile("", 15000, 1800, 9000)))
	closeTo(t, "salt low: salt", amountOf(a, "salt", "ammonium-chloride"), 450/0.985, 1e-9)
	if len(a.Add) != 1 || a.Aim != ToTarget || a.DumpL != 0 {
		t.Errorf("%+v", a.Amounts)
	}
	// 2400 g of salt want 16 kg of water for 150 g/kg; there are 12. 7200 g of earth are then 450 g/kg, too low: 9600 are wanted.
	// 2400 g of dry earth at 12 % bring 288 g of water: 3712 g are poured.
	a = Advise(replayed(t, windowFile("", 12000, 2400, 7200)))
	closeTo(t, "salt high: earth", amountOf(a, "earth", ""), 2400*1.12, 1e-9)
	closeTo(t, "salt high: water", amountOf(a, "water", ""), 4000-288, 1e-9)
	closeTo(t, "afterwards, salt", float64(a.After.Salts["ammonium-chloride"]), 150, 1e-3)
	// With earth of 60 % moisture, earth short: 10 kg of water, 2 kg of earth: W' = (10 - 2 × 0.6) / (1 - 0.6 × 0.6) = 13.75 kg;
	// at 13.75 kg the 1500 g of salt are 109 g/kg, too low as well: 2062.5 are wanted. Nothing is poured.
	wet := replaceOnce(t, windowFile("", 10000, 1500, 2000), `"moisture_pct": 12`, `"moisture_pct": 60`)
	a = Advise(replayed(t, wet))
	closeTo(t, "damp earth: earth", amountOf(a, "earth", ""), (0.6*13750-2000)*1.6, 1e-9)
	closeTo(t, "damp earth: salt", amountOf(a, "salt", "ammonium-chloride"), (0.15*13750-1500)/0.985, 1e-9)
	if amountOf(a, "water", "") != 0 {
		t.Errorf("damp earth: %g g of water poured", amountOf(a, "water", ""))
	}
	// Half way: 16 kg of water with 3000 g of salt, 187.5 g/kg. To 150 would take 20 kg, too much; to 160 18.75 kg.
	a = Advise(replayed(t, strings.Replace(windowFile("", 16000, 3000, 9600), earthWindow, "", 1)))
	if a.Aim != HalfWay || a.Verdict != AddNow {
		t.Errorf("half way: %s %s", a.Verdict, a.Aim)
	}
	closeTo(t, "half way: water", amountOf(a, "water", ""), 2750, 1e-9)
	// Dump first: what is left and what is added make just the fill line.
	s := replayed(t, windowFile("", 16000, 3200, 9600))
	a = Advise(s)
	fill := float64(s.bath.Tank.VolumeAt(26))
	closeTo(t, "dump: volume afterwards", float64(a.After.VolumeL), fill, 1e-4)
	share := float64(a.DumpL / s.VolumeL)
	closeTo(t, "dump: water", amountOf(a, "water", ""), (1-share)*(3200/0.15-16000)-(1-share)*(0.6*3200/0.15-9600)*0.12, 1e-9)
	// Ready mud fills up to the line, and its salt and earth stand among the lines.
	s = replayed(t, replaceOnce(t, windowFile("", 10000, 1500, 6000), `"name": "black"`, `"name": "black", "level_min_cm": 20`))
	a = Advise(s)
	closeTo(t, "ready mud", float64(a.ReadyMudL), fill-float64(s.VolumeL), 1e-9)
	times := float64(a.ReadyMudL / s.VolumeL)
	closeTo(t, "ready mud: salt", amountOf(a, "salt", "ammonium-chloride"), 1500*times/0.985, 1e-9)
	closeTo(t, "ready mud: earth", amountOf(a, "earth", ""), 6000*times*1.12, 1e-9)
	closeTo(t, "ready mud: water", amountOf(a, "water", ""), 10_000*times-6000*times*0.12, 1e-9)
	// A line of target 0 that is high cannot be thinned away.
	none := strings.Replace(windowFile("", 12000, 2400, 7200), `{"min": 130, "target": 150, "max": 170}`, `{"target": 0}`, 1)
	if a := Advise(replayed(t, none)); a.Verdict != RetireIt || !slices.Contains(a.Reasons, "too_much_to_dump") {
		t.Errorf("target 0: %s %v", a.Verdict, a.Reasons)
	}
}

// The weighing steps and buckets: 3712 g of water at 20 °C (0.998203 kg/L) are 3.71868 L, two buckets of 1.5 L and 0.71868 L.
func TestAdvisedRounding(t *testing.T) {
	a := Advise(replayed(t, windowFile(`"step_g": 5, "bucket_l": 1.5,`, 12000, 2400, 7200)))
	w := a.Add[0]
	if w.Kind != "water" || w.Rounded != 3710 || *w.Buckets != 2 {
		t.Errorf("%+v", w)
	}
	closeTo(t, "litres", float64(*w.Litres), 3.71868, 1e-5)
	closeTo(t, "remainder", float64(*w.RemainderL), 0.71868, 1e-4)
	if e := a.Add[1]; e.Kind != "earth" || e.Rounded != 2690 || e.Litres != nil {
		t.Errorf("%+v", e)
	}
	// What is rounded is what there is afterwards: 3710 g and 2690/1.12 g of dry earth with 288.2 g of water.
	closeTo(t, "afterwards", float64(a.After.Salts["ammonium-chloride"]), 2400/(12+3.710+2.690-2.690/1.12), 1e-9)
	closeTo(t, "earth afterwards", float64(a.After.EarthDry), (7200+2690/1.12)/(12+3.710+2.690-2.690/1.12), 1e-9)
}

func TestAdviceWarns(t *testing.T) {
	has := func(text string, code WarningCode) bool {
		return slices.ContainsFunc(Advise(replayed(t, text)).Warnings, func(w Warning) bool { return w.Code == code })
	}
	low := windowFile("", 15000, 1800, 9000)
	strong := strings.Replace(low, `{"min": 130, "target": 150, "max": 170}`, `{"min": 330, "target": 350, "max": 370}`, 1)
	for _, tt := range []struct {
		name string
		text string
		code WarningCode
		want bool
	}{
		{"no lot", strings.Replace(low, `{"kind": "salt", "salt": "ammonium-chloride", "assay_pct": 98.5}`, `{"kind": "earth"}`, 1), AssayAssumed, true},
		{"a lot", low, AssayAssumed, false},
		{"a lot of another salt", strings.Replace(low, `"salt": "ammonium-chloride", "assay_pct": 98.5`, `"salt": "sodium-chloride", "assay_pct": 98.5`, 1), AssayAssumed, true},
		{"a lot of earth whose moisture is not known", strings.Replace(windowFile("", 15000, 2250, 6000), `"moisture_pct": 12}`, `"name": "bank"}`, 1), MoistureAssumed, true},
		{"one that is not added", strings.Replace(low, `"moisture_pct": 12}`, `"name": "bank"}`, 1), MoistureAssumed, false},
		{"350 g/kg at 20 °C: 93 % of 375", strong, NearSaturation, true},
		{"the same at 10 °C: more than the 335 that dissolve", strings.Replace(strong, still, still+`"coldest_c": 10,`, 1), DoesNotDissolve, true},
		{"150 g/kg", low, NearSaturation, false},
		{"a target above the boiling point", strings.Replace(low, `"target": 92, "max": 97`, `"target": 104, "max": 105`, 1), AboveBoiling, true},
		{"a target below it", low, AboveBoiling, false},
	} {
		if got := has(tt.text, tt.code); got != tt.want {
			t.Errorf("%s: %s %v", tt.name, tt.code, got)
		}
	}
}

func TestAnswerMergesWarnings(t *testing.T) {
	text := strings.Replace(windowFile("", 15000, 1800, 9000), `"assay_pct": 98.5}`, `"name": "x"}`, 1)
	s := replayed(t, strings.Replace(text, `"mass_g": 1800, "assay_pct": 100`, `"mass_g": 1800`, 1))
	a := Advise(s)
	answer := NewAnswer(s, &a)
	if len(answer.Warnings) != 1 || answer.Warnings[0].Code != AssayAssumed || !slices.Equal(answer.Warnings[0].Facts, []string{"m"}) {
		t.Errorf("%+v", answer.Warnings)
	}
	if math.IsNaN(float64(answer.VolumeL)) {
		t.Error("no volume")
	}
}
