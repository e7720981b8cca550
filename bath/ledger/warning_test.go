package ledger

import (
	"slices"
	"testing"
)

// Every code is given by one history and not by its neighbour.
func TestEveryWarning(t *testing.T) {
	hot := func(facts string) string { return plainFile(20, "", facts) }
	salted := func(facts ...string) string { return madeUp(water10kg+","+salt1500g, facts...) }
	heated := func(text, kw string) string {
		return replaceOnce(t, text, `"freeboard_cm": 6`, `"freeboard_cm": 6, "heater_kw": `+kw)
	}
	boiling := hot(`{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on", "temp_c": 100}, {"id": "r", "at": "2026-01-05T09:00:00Z", "kind": "reading", "temp_c": 100}`)
	toBoil := func(until string) string {
		return heated(hot(`{"id": "h", "at": "2026-01-05T08:00:00Z", "kind": "heat_on", "temp_c": 100}, {"id": "r", "at": "2026-01-05T`+until+`:00Z", "kind": "reading", "temp_c": 100}`), "3")
	}
	spent := salt1500g + `, {"kind": "salt", "salt": "copper-sulfate", "mass_g": 10, "assay_pct": 100}`
	dampLot := func(pct string) string {
		return replaceOnce(t, madeUp(water10kg+","+salt1500g+`,{"kind": "earth", "mass_g": 3000, "moisture_pct": 0, "carbonate_pct": 0}`), still, still+`"lots": [{"kind": "earth", "moisture_pct": `+pct+`}],`)
	}
	type pairOfFiles struct {
		given, not string
		facts      []string // of the given one
		advised    bool
	}
	for code, tt := range map[WarningCode]pairOfFiles{
		AboveBoiling:         {hot(kindAt("r", "reading", `"temp_c": 102.1`)), hot(kindAt("r", "reading", `"temp_c": 101.9`)), []string{"r"}, false},
		AboveFill:            {fillFile(27), fillFile(25), nil, true},
		AboveMark:            {salted(`"kind": "top_up", "to_level_cm": 9`), salted(`"kind": "top_up", "to_level_cm": 12`), []string{"f0"}, false},
		AssayAssumed:         {madeUp(`{"kind": "salt", "salt": "sodium-chloride", "mass_g": 10}`), salted(), []string{"m"}, false},
		BoiledDry:            {toBoil("11:00"), toBoil("10:00"), nil, false},
		CarbonateNotFollowed: {madeUp(water10kg + `,{"kind": "earth", "mass_g": 10, "moisture_pct": 0, "carbonate_pct": 2}`), madeUp(water10kg + `,{"kind": "earth", "mass_g": 10, "moisture_pct": 0, "carbonate_pct": 0}`), []string{"m"}, false},
		CarbonateUnknown:     {madeUp(water10kg + "," + salt1500g + `,{"kind": "earth", "mass_g": 10, "moisture_pct": 0}`), madeUp(water10kg + `,{"kind": "earth", "mass_g": 10, "moisture_pct": 0}`), []string{"m"}, false},
		ClockInDoubt:         {salted(`"kind": "lid_on", "clock_in_doubt": true`), salted(`"kind": "lid_on", "clock_in_doubt": false`), []string{"f0"}, false},
		ConductivityNotUsed:  {salted(`"kind": "reading", "conductivity_ms_cm": 11.5`), salted(`"kind": "reading", "conductivity_ms_cm": 11.5, "dilution": 26`), []string{"f0"}, false},
		DampEarth:            {dampLot("170"), dampLot("160"), nil, true},
		DoesNotDissolve:      {madeUp(`{"kind": "water", "mass_g": 1000},` + salt1500g), madeUp(`{"kind": "water", "mass_g": 4100},` + salt1500g), []string{"m"}, false},
		NearSaturation:       {madeUp(`{"kind": "water", "mass_g": 4900},` + salt1500g), madeUp(`{"kind": "water", "mass_g": 5100},` + salt1500g), []string{"m"}, false},
		DragOutUnknown:       {salted(ended("")), salted(ended(`, "area_dm2": 1`)), []string{"f0"}, false},
		HeaterUnknown:        {boiling, heated(boiling, "3"), nil, false},
		LevelContradicts:     {salted(`"kind": "reading", "level_cm": 8`), salted(`"kind": "reading", "level_cm": 11`), []string{"f0"}, false},
		NegativeEvaporation:  {salted(`"kind": "reading", "level_cm": 14`), salted(`"kind": "reading", "level_cm": 11`), []string{"f0"}, false},
		LoadUnknown:          {salted(`"kind": "soak"`, `"kind": "reading", "level_cm": 11`), salted(`"kind": "soak", "metal_g": 9`, `"kind": "reading", "level_cm": 11`), []string{"f1"}, false},
		MoistureAssumed:      {madeUp(water10kg + `,{"kind": "earth", "mass_g": 10}`), madeUp(water10kg + `,{"kind": "earth", "mass_g": 10, "moisture_pct": 0}`), []string{"m"}, false},
		OutsideLife:          {hot(kindAt("h", "heat_on", `"at": "2026-01-05T07:59:59Z"`)), hot(kindAt("h", "heat_on", "")), []string{"h"}, false},
		Overflows:            {madeUp(`{"kind": "water", "mass_g": 33000}`), madeUp(`{"kind": "water", "mass_g": 32000}`), []string{"m"}, false},
		PHUnknown:            {saltFile("", ""), saltFile(`{"id": "p", "at": "2026-01-05T08:00:00Z", "kind": "reading", "ph": 5},`, ""), nil, false},
		ReadingContradicts:   {salted(`"kind": "reading", "density_kg_l": 1.1`), salted(`"kind": "reading", "density_kg_l": 1.036`), []string{"f0"}, false},
		SpentUnknown:         {madeUp(water10kg+","+spent, ended(`, "area_dm2": 1`)), salted(ended(`, "area_dm2": 1`)), []string{"f0"}, false},
		TemperatureAssumed:   {hot(kindAt("h", "heat_on", "") + "," + kindAt("l", "lid_on", `"at": "2026-01-05T09:00:00Z"`)), boiling, []string{"h"}, false},
		ThinnedByMark:        {salted(`"kind": "dump", "share_pct": 2.1`, `"kind": "top_up", "to_level_cm": 12`), salted(`"kind": "dump", "share_pct": 1.9`, `"kind": "top_up", "to_level_cm": 12`), []string{"f1"}, false},
		ZincUnknown:          {salted(ended(`, "area_dm2": 1`)), salted(ended(`, "area_dm2": 1, "metal_loss_g": 0.5`)), []string{"f0"}, false},
	} {
		look := func(text string) (facts []string, is bool) {
			s := replayed(t, text)
			a := Advise(s)
			answer := NewAnswer(s, nil)
			if tt.advised {
				answer = NewAnswer(s, &a)
			}
			for _, w := range answer.Warnings {
				if w.Code == code {
					return w.Facts, true
				}
			}
			return nil, false
		}
		facts, is := look(tt.given)
		if !is || !slices.Equal(facts, tt.facts) || is && facts == nil {
			t.Errorf("%s: given %v with %v, want %v", code, is, facts, tt.facts)
		}
		if _, is := look(tt.not); is {
			t.Errorf("%s without cause", code)
		}
	}
	if len(Words) != 26 {
		t.Errorf("%d codes have words; look whether each stands in this table", len(Words))
	}
}

// kindAt is a fact an hour after the make-up's start, unless the further keys say when.
func kindAt(id, kind, more string) string {
	at := `"at": "2026-01-05T08:00:00Z", `
	if len(more) > 4 && more[:4] == `"at"` {
		at = ""
	}
	if more != "" {
		more = ", " + more
	}
	return `{"id": "` + id + `", ` + at + `"kind": "` + kind + `"` + more + `}`
}

func TestAWarningStandsOnce(t *testing.T) {
	w := newWarnings(nil)
	w.add(ZincUnknown, "a")
	w.add(BoiledDry)
	w.add(ZincUnknown, "b", "a")
	if len(w.list) != 2 || !slices.Equal(w.list[0].Facts, []string{"a", "b"}) || w.list[1].Facts == nil {
		t.Errorf("%+v", w.list)
	}
}
