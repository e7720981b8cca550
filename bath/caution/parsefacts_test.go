package caution

import (
	"errors"
	"strings"
	"testing"

	"blackbath/bath/input"

	"github.com/google/go-cmp/cmp"
)

func TestParseFacts(t *testing.T) {
	got, err := ParseFacts([]byte(`{
		"purpose": "record", "step": "add",
		"bath": {"substances": [], "earths": [{"name": "north bank", "ph": 7.5, "fizz": "slow", "nitrate_mg_kg": 20, "smell": "none"}, {}],
			"temp_c": -0, "ph": null, "tank_material": "glass"},
		"add": {"substances": ["water", "water"], "state": "liquid"}, "near": null,
		"place": {"enclosed": false}, "person": {"count": 2.0}}`))
	if err != nil {
		t.Fatal(err)
	}
	want := Facts{
		Purpose: Record, Step: StepAdd,
		Bath: Bath{Substances: []string{}, TempC: new(0.0), TankMaterial: "glass",
			Earths: []Earth{{Name: "north bank", PH: new(7.5), Fizz: "slow", NitrateMgKg: new(20.0), Smell: "none"}, {}}},
		Add:    Add{Substances: []string{"water", "water"}, State: "liquid"},
		Place:  Place{Enclosed: new(false)},
		Person: Person{Count: new(2.0)},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestParseEveryFact gives each fact by its name in a file and finds it in its field.
func TestParseEveryFact(t *testing.T) {
	for id := range factCount {
		def := &factList[id]
		value := map[kind]string{numberKind: "1", wholeKind: "1", flagKind: "true", substancesKind: `["water"]`, earthsKind: `[{"ph": 7}]`}[def.kind]
		if def.kind == wordKind {
			value = `"` + def.words[0] + `"`
		}
		file := `"` + def.name + `": ` + value
		if parent, child, isChild := strings.Cut(def.name, "."); isChild {
			file = `"` + parent + `": {"` + child + `": ` + value + `}`
		}
		if id != stepFact {
			file += `, "step": "taste"`
		}
		f, err := ParseFacts([]byte("{" + file + "}"))
		if err != nil {
			t.Errorf("%s: %v", def.name, err)
			continue
		}
		var v view
		v.look(&f)
		if id != purposeFact && id != recipeSubstances && id != recipeEarths && v.values[id].state != factKnown {
			t.Errorf("%s: given and not known", def.name)
		}
	}
}

func TestParseFactsRefuses(t *testing.T) {
	for _, tt := range []struct {
		name, facts         string
		field, got, allowed string // the problem's field, its value, part of what is allowed
	}{
		{"empty", ``, "facts", "an empty file", "one JSON object"},
		{"truncated", `{"step": "heat"`, "facts", "ends in the middle", "JSON object"},
		{"a list", `[]`, "facts", "no object", "one JSON object"},
		{"null", `null`, "facts", "no object", "one JSON object"},
		{"two objects", `{"step": "heat"} {}`, "facts", "after the object", "nothing after it"},
		{"NaN", `{"step": "heat", "bath": {"temp_c": NaN}}`, "facts", "invalid character", "JSON object"},
		{"UTF-16", "\xff\xfe{\x00}\x00", "facts", "UTF-16", "UTF-8"},
		{"Latin-1", "{\"step\": \"\xe9\"}", "facts", "not UTF-8", "UTF-8"},
		{"no step", `{}`, "step", "", "one of recipe, make_up"},
		{"null step", `{"step": null}`, "step", "", "one of recipe"},
		{"empty step", `{"step": ""}`, "step", `""`, "one of recipe"},
		{"unknown step", `{"step": "boil"}`, "step", `"boil"`, "one of recipe"},
		{"step a number", `{"step": 3}`, "step", "3", "one of recipe"},
		{"unknown purpose", `{"step": "heat", "purpose": "try"}`, "purpose", `"try"`, "plan, record"},
		{"unknown key", `{"step": "heat", "lid": "none"}`, "lid", "unknown key", "bath"},
		{"key in capitals", `{"Step": "heat"}`, "Step", "unknown key", "step"},
		{"unknown key below", `{"step": "heat", "bath": {"temp": 92}}`, "bath.temp", "unknown key", "temp_c"},
		{"unknown key of an earth", `{"step": "mix", "add": {"earths": [{"mass": 1}]}}`, "add.earths[0].mass", "unknown key", "fizz"},
		{"a key of an unbuilt rule", `{"step": "dump", "bath": {"cooled": true}}`, "bath.cooled", "unknown key", "temp_c"},
		{"a key twice", `{"step": "heat", "step": "heat"}`, "step", "twice", "once"},
		{"a key twice, once as an escape", `{"step": "heat", "st\u0065p": "heat"}`, "step", "twice", "once"},
		{"a key twice below", `{"step": "heat", "bath": {"ph": 1, "ph": null}}`, "bath.ph", "twice", "once"},
		{"not an object", `{"step": "heat", "bath": 92}`, "bath", "92", "an object with any of substances"},
		{"a number as text", `{"step": "heat", "bath": {"temp_c": "92"}}`, "bath.temp_c", `"92"`, "a number from -20 to 200 °C"},
		{"too cold", `{"step": "heat", "bath": {"temp_c": -20.01}}`, "bath.temp_c", "-20.01", "-20 to 200 °C"},
		{"too hot", `{"step": "heat", "bath": {"temp_c": 201}}`, "bath.temp_c", "201", "-20 to 200 °C"},
		{"overflow", `{"step": "heat", "bath": {"temp_c": 1e999}}`, "bath.temp_c", "1e999", "-20 to 200 °C"},
		{"pH", `{"step": "heat", "bath": {"ph": 14.1}}`, "bath.ph", "14.1", "0 to 14"},
		{"percent as fill", `{"step": "make_up", "bath": {"fill_fraction": 75}}`, "bath.fill_fraction", "75", "0 to 1"},
		{"half a person", `{"step": "lift", "person": {"count": 1.5}}`, "person.count", "1.5", "a whole number from 0 to 1000"},
		{"1 for true", `{"step": "heat", "place": {"enclosed": 1}}`, "place.enclosed", "1", "true or false"},
		{"text for true", `{"step": "heat", "place": {"enclosed": "yes"}}`, "place.enclosed", `"yes"`, "true or false"},
		{"unknown word", `{"step": "heat", "bath": {"tank_material": "galvanised"}}`, "bath.tank_material", `"galvanised"`, "galvanised-steel"},
		{"unknown substance", `{"step": "add", "add": {"substances": ["water", "alum"]}}`, "add.substances[1]", `"alum"`, "potassium-nitrate"},
		{"just chloride", `{"step": "add", "add": {"substances": ["chloride"]}}`, "add.substances[0]", `"chloride"`, "ammonium-chloride"},
		{"null in a list", `{"step": "add", "add": {"substances": [null]}}`, "add.substances[0]", "null", "ammonium-chloride"},
		{"null among earths", `{"step": "add", "add": {"earths": [null]}}`, "add.earths[0]", "null", "an object"},
		{"no list", `{"step": "add", "add": {"substances": "water"}}`, "add.substances", `"water"`, "a list"},
		{"no list of earths", `{"step": "add", "add": {"earths": {}}}`, "add.earths", "an object", "a list"},
		{"earth's pH", `{"step": "add", "add": {"earths": [{}, {"ph": -1}]}}`, "add.earths[1].ph", "-1", "0 to 14"},
		{"earth's fizz", `{"step": "add", "add": {"earths": [{"fizz": "yes"}]}}`, "add.earths[0].fizz", `"yes"`, "none, slow, lively"},
		{"earth's nitrate", `{"step": "add", "add": {"earths": [{"nitrate_mg_kg": 1000001}]}}`, "add.earths[0].nitrate_mg_kg", "1000001", "0 to 1000000 mg/kg"},
		{"earth's smell", `{"step": "add", "add": {"earths": [{"smell": ""}]}}`, "add.earths[0].smell", `""`, "rotten"},
		{"earth's name", `{"step": "add", "add": {"earths": [{"name": 7}]}}`, "add.earths[0].name", "7", "a text"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ParseFacts([]byte(tt.facts))
			var problems input.Problems
			if !errors.As(err, &problems) {
				t.Fatalf("got %v, want input.Problems", err)
			}
			on := problems.On(tt.field)
			if len(on) != 1 {
				t.Fatalf("got %d problems on %s, want 1: %v", len(on), tt.field, err)
			}
			if !strings.Contains(on[0].Got, tt.got) || !strings.Contains(on[0].Allowed.String(), tt.allowed) {
				t.Errorf("got %v, want %q and %q in it", on[0], tt.got, tt.allowed)
			}
		})
	}
}

// TestEveryProblemAtOnce checks that a file with several mistakes names them all.
func TestEveryProblemAtOnce(t *testing.T) {
	_, err := ParseFacts([]byte(`{"bath": {"temp_c": "92", "ph": 15, "substances": [7, "salt"]}, "oil": 3}`))
	for _, want := range []string{"step: nothing was given", "bath.temp_c:", "bath.ph:", "bath.substances[0]: 7", `bath.substances[1]: "salt"`,
		"oil: 3", "by formula and CAS number"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is missing in %v", want, err)
		}
	}
}

func TestCheck(t *testing.T) {
	if err := (Facts{Step: StepHeat, Bath: Bath{TempC: new(92.0), Earths: []Earth{{Name: "bank"}}}}).Check(); err != nil {
		t.Errorf("good facts: %v", err)
	}
	err := Facts{Step: "boil", Person: Person{Count: new(-1.0)}, Near: Near{Substances: []string{"salt"}}}.Check()
	for _, want := range []string{`step: "boil"`, "person.count: -1", `near.substances[0]: "salt"`} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is missing in %v", want, err)
		}
	}
}
