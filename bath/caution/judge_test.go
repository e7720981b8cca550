package caution

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// brief writes a caution as one line: id, severity, state, marks, reasons.
func brief(a Answer) []string {
	var lines []string
	for _, c := range a.Cautions {
		mark := ""
		if c.Refuse {
			mark += " refuse"
		}
		if c.Acknowledge {
			mark += " acknowledge"
		}
		lines = append(lines, fmt.Sprintf("%s %s %s%s: %s", c.ID, c.Severity, c.State, mark, strings.Join(c.Why, "; ")))
	}
	return lines
}

// Worked by hand from the rules of the package: three values, sets, covering, refusal, order.
func TestJudge(t *testing.T) {
	for _, tt := range []struct {
		name  string
		facts string
		want  []string
	}{
		{"a recipe with an untested earth",
			`{"step": "recipe", "bath": {"temp_c": 92}, "recipe": {"substances": ["ammonium-chloride"], "earths": [{"name": "north bank"}]}}`,
			[]string{
				"R-29 danger fires acknowledge: bath.temp_c = 92",
				"R-02 danger not_known acknowledge: recipe.earths[0].ph not known; recipe.earths[0].fizz not known; bath.temp_c = 92",
				"R-61 warning fires: R-02",
			}},
		{"the same cold: a warning, so nothing dangerous is open",
			`{"step": "recipe", "bath": {"temp_c": 20}, "recipe": {"substances": ["ammonium-chloride"], "earths": [{"name": "north bank"}]}}`,
			[]string{"R-02 warning not_known: recipe.earths[0].ph not known; recipe.earths[0].fizz not known"}},
		{"danger when is itself open",
			`{"step": "recipe", "recipe": {"substances": ["ammonium-chloride", "wood-ash"], "earths": []}}`,
			[]string{
				"R-02 danger fires acknowledge: incoming: wood-ash; liquor: ammonium-chloride; incoming: ammonium-chloride; liquor: wood-ash; bath.temp_c not known",
				"R-29 danger not_known acknowledge: bath.temp_c not known",
				"R-61 warning fires: R-29",
				"R-60 warning not_known: bath.temp_c not known",
			}},
		{"one test of an earth settles its group, the other is not asked for",
			`{"step": "recipe", "bath": {"temp_c": 20}, "recipe": {"substances": ["ammonium-chloride"], "earths": [{"ph": 8.6}, {"name": "cellar", "fizz": "lively", "ph": 8.5}]}}`,
			[]string{"R-02 warning fires: recipe.earths[0] ph = 8.6; cellar fizz = lively; liquor: ammonium-chloride; incoming: ammonium-chloride"}},
		{"a known and harmless recipe",
			`{"step": "recipe", "bath": {"temp_c": 20}, "recipe": {"substances": ["sodium-chloride", "water"], "earths": []}}`,
			nil},
		{"a plan refuses",
			`{"step": "recipe", "bath": {"temp_c": 20}, "recipe": {"substances": ["potassium-chlorate", "ammonium-chloride"], "earths": []}}`,
			[]string{"R-10 danger fires refuse: liquor: potassium-chlorate; liquor: ammonium-chloride"}},
		{"a record never refuses",
			`{"purpose": "record", "step": "recipe", "bath": {"temp_c": 20}, "recipe": {"substances": ["potassium-chlorate", "ammonium-chloride"], "earths": []}}`,
			[]string{"R-10 danger fires acknowledge: liquor: potassium-chlorate; liquor: ammonium-chloride"}},
		{"a release fails closed: an unidentified salt in a recipe",
			`{"step": "recipe", "bath": {"temp_c": 20}, "recipe": {"substances": ["unidentified"], "earths": []}}`,
			[]string{
				"R-10 danger not_known refuse: recipe.substances: unidentified not known",
				"R-12 danger not_known refuse: recipe.substances: unidentified not known",
				"R-14 warning fires refuse: incoming: unidentified",
				"R-01 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-06 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-07 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-08 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-09 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-46 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-47 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-48 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-49 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-57 danger not_known acknowledge: recipe.substances: unidentified not known",
				"R-61 warning fires: R-01; R-06; R-07; R-08; R-09; R-10; R-12; R-46; R-47; R-48; R-49; R-57",
				"R-16 warning not_known: recipe.substances: unidentified not known",
			}},
		{"covering where one fires and one is open: both stand",
			// Chlorate fires R-11; whether ammonium is in the liquor is open, so R-10 is open and covers nothing that fires.
			`{"step": "heat", "purpose": "record", "bath": {"substances": ["potassium-chlorate", "unidentified"], "earths": [], "temp_c": 20,
			  "ph": 5, "tank_material": "glass", "lid": "none", "idle_h": 1}, "place": {"enclosed": false, "children_near": false},
			  "person": {"count": 2}, "power": {"kind": "wood", "heater_covered": true, "cut": false}}`,
			[]string{
				"R-11 danger fires acknowledge: around: potassium-chlorate",
				"R-06 danger not_known acknowledge: bath.substances: unidentified not known",
				"R-07 danger not_known acknowledge: bath.substances: unidentified not known",
				"R-08 danger not_known acknowledge: bath.substances: unidentified not known",
				"R-10 danger not_known acknowledge: bath.substances: unidentified not known",
				"R-49 danger not_known acknowledge: bath.substances: unidentified not known",
				"R-57 danger not_known acknowledge: bath.substances: unidentified not known",
				"R-61 warning fires: R-06; R-07; R-08; R-10; R-49; R-57",
			}},
		{"covering goes by the states as found: R-54 takes R-01 and R-02 away, although R-01 covers R-02 too",
			`{"step": "dump", "bath": {"substances": ["ammonium-chloride"]}, "add": {"substances": ["calcium-hydroxide", "wood-ash"]}, "place": {"children_near": false}}`,
			[]string{
				"R-53 danger fires acknowledge: step = dump",
				"R-54 danger fires acknowledge: step = dump; liquor: ammonium-chloride; incoming: calcium-hydroxide; incoming: wood-ash",
			}},
		{"a tank of unknown make: R-21 stands for the metals after it",
			`{"step": "make_up", "bath": {"temp_c": 20, "fill_fraction": 0.5}, "recipe": {"substances": ["sodium-chloride"], "earths": []}, "place": {"children_near": false}}`,
			[]string{
				"R-21 danger not_known acknowledge: bath.tank_material not known",
				"R-61 warning fires: R-21",
			}},
		{"free ammonia covers less free ammonia",
			`{"step": "lift", "bath": {"substances": ["ammonium-chloride"], "ph": 8, "temp_c": 25}, "place": {"children_near": false}, "person": {"count": 2}, "power": {"kind": "wood"}}`,
			[]string{
				"R-04 warning fires: liquor: ammonium-chloride; bath.ph = 8; bath.temp_c = 25",
				"R-62 warning fires: liquor: ammonium-chloride; bath.ph = 8; bath.temp_c = 25",
			}},
		{"an unknown pH is itself the reason",
			`{"purpose": "record", "step": "soak", "bath": {"substances": ["ammonium-chloride"], "earths": [], "temp_c": 50, "lid": "none"},
			  "piece": {"hollow": false, "inlaid": false}, "place": {"enclosed": false, "children_near": false}, "person": {"count": 2},
			  "power": {"kind": "wood"}}`,
			[]string{
				"R-03 danger not_known acknowledge: bath.ph not known",
				"R-30 warning fires: bath.temp_c = 50",
				"R-61 warning fires: R-03",
				"R-62 warning not_known: bath.ph not known",
			}},
		{"a recipe that is given at another step is in no set",
			`{"step": "rinse", "power": {"kind": "wood"}, "recipe": {"substances": ["potassium-chlorate", "ammonium-chloride"]}}`,
			nil},
		{"a fact counts where no one asks for it",
			`{"step": "rinse", "power": {"kind": "wood"}, "bath": {"temp_c": 61}, "add": {"substances": ["ammonia-water", "sodium-hydroxide"]}}`,
			[]string{
				"R-01 danger fires acknowledge: incoming: sodium-hydroxide; liquor: ammonia-water; incoming: ammonia-water; liquor: sodium-hydroxide",
				"R-29 danger fires acknowledge: bath.temp_c = 61",
			}},
		{"an unidentified salt is not water",
			`{"purpose": "record", "step": "paste", "add": {"substances": ["unidentified"], "earths": [{"ph": 7, "fizz": "none", "nitrate_mg_kg": 0, "smell": "none"}]}, "piece": {"surface_temp_c": 40}, "bath": {"temp_c": 95}}`,
			[]string{
				"R-29 danger fires acknowledge: bath.temp_c = 95",
				"R-01 danger not_known acknowledge: add.substances: unidentified not known",
				"R-06 danger not_known acknowledge: add.substances: unidentified not known",
				"R-07 danger not_known acknowledge: add.substances: unidentified not known",
				"R-08 danger not_known acknowledge: add.substances: unidentified not known",
				"R-09 danger not_known acknowledge: add.substances: unidentified not known",
				"R-10 danger not_known acknowledge: add.substances: unidentified not known",
				"R-12 danger not_known acknowledge: add.substances: unidentified not known",
				"R-46 danger not_known acknowledge: add.substances: unidentified not known",
				"R-47 danger not_known acknowledge: add.substances: unidentified not known",
				"R-48 danger not_known acknowledge: add.substances: unidentified not known",
				"R-49 danger not_known acknowledge: add.substances: unidentified not known",
				"R-57 danger not_known acknowledge: add.substances: unidentified not known",
				"R-14 warning fires: incoming: unidentified",
				"R-61 warning fires: R-01; R-06; R-07; R-08; R-09; R-10; R-12; R-46; R-47; R-48; R-49; R-57",
				"R-16 warning not_known: add.substances: unidentified not known",
			}},
		{"not known, outside a release: acknowledged and not refused",
			`{"step": "clean", "add": {"substances": []}, "near": {"substances": ["zinc-dust", "ammonium-chloride", "unidentified"]}, "spill": {"substances": []}, "person": {"count": 2}}`,
			[]string{
				"R-06 danger not_known acknowledge: near.substances: unidentified not known",
				"R-07 danger not_known acknowledge: near.substances: unidentified not known",
				"R-08 danger not_known acknowledge: near.substances: unidentified not known",
				"R-11 danger not_known acknowledge: near.substances: unidentified not known",
				"R-18 danger not_known acknowledge: near.substances: unidentified not known",
				"R-49 danger not_known acknowledge: near.substances: unidentified not known",
				"R-57 danger not_known acknowledge: near.substances: unidentified not known",
				"R-45 warning fires: step = clean; around: zinc-dust",
				"R-61 warning fires: R-06; R-07; R-08; R-11; R-18; R-49; R-57",
			}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, brief(judge(t, tt.facts))); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

func TestTexts(t *testing.T) {
	for _, tt := range []struct {
		name, facts, id, want string
	}{
		{"fires", `{"step": "taste"}`, "R-42",
			"Taste tells salt and coolness, not safety. Old ground can hold lead, metal dust and germs. Use a strip or a cup test."},
		{"missing", `{"step": "melt"}`, "R-33",
			"Not known: whether ladle, mould and scrap are dry. Water in molten metal explodes. Dry and warm every ladle, mould and scrap first."},
		{"two missing", `{"step": "heat"}`, "R-03",
			"Not known: what has ever gone into the bath, the bath's pH, the bath's temperature. At this heat and pH the bath gives off much ammonia. Heat off, stay out of the steam, let it cool. Do not carry it hot."},
		{"tests of an earth", `{"step": "recipe", "recipe": {"substances": ["ammonium-chloride"], "earths": [{"name": "north\nbank"}]}}`, "R-02",
			"Not known: north bank's pH, north bank's fizz. Ash, soda or limy earth sets ammonia free, more when hot. Add it cold, outdoors, a little at a time; test the pH before heating."},
		{"tests of two nameless earths, asked once", `{"step": "recipe", "recipe": {"substances": ["copper-sulfate"], "earths": [{}, {}]}}`, "R-16",
			"Not known: the earth's fizz. It will froth. Heat off, bath below half full, a spoonful at a time."},
		{"refused", `{"step": "weigh", "add": {"substances": ["unidentified"]}}`, "R-14",
			"Refused. Which salt is it? Pick it from the list by formula and CAS number. 'Chloride' or 'salt' is not a name."},
		{"refused until known", `{"step": "mix", "add": {"substances": ["unidentified"]}}`, "R-12",
			"Not known: which salt it is. Refused until it is known. Anhydrous aluminium chloride bursts into heat and acid fume in water or damp earth. Do not add it. Ask for another salt."},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, ok := find(judge(t, tt.facts), tt.id)
			if !ok {
				t.Fatalf("%s is not in the answer", tt.id)
			}
			if c.Text != tt.want {
				t.Errorf("got  %q\nwant %q", c.Text, tt.want)
			}
		})
	}
}

func TestAnswerText(t *testing.T) {
	got := judge(t, `{"step": "rinse"}`).Text()
	want := "Danger R-35: Not known: what heats the bath. Mains near mud and water: 30 mA residual-current breaker, dry hands, no lead on a wet floor, heater off before hands go in.\n" +
		"Warning R-61: Something dangerous could not be checked because facts are missing. Not known is not safe. Ask before going on.\n" +
		"Local law, the supplier's safety data sheet and a trained person come first.\n"
	if got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	if got, want := judge(t, `{"step": "dry"}`).Text(), "No rule matched. That does not say that this step is safe.\n"; got != want {
		t.Errorf("empty answer: got %q, want %q", got, want)
	}
}

func TestAnswerJSON(t *testing.T) {
	for _, tt := range []struct{ facts, want string }{
		{`{"step": "dry"}`, `{"cautions":[],"closing":"No rule matched. That does not say that this step is safe."}`},
		{`{"step": "taste"}`, `{"cautions":[{"id":"R-42","severity":"note","state":"fires","refuse":false,"acknowledge":false,` +
			`"text":"Taste tells salt and coolness, not safety. Old ground can hold lead, metal dust and germs. Use a strip or a cup test.",` +
			`"why":["step = taste"],"source":"section 15.2"}],"closing":"Local law, the supplier's safety data sheet and a trained person come first."}`},
	} {
		var got strings.Builder
		enc := json.NewEncoder(&got)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(judge(t, tt.facts)); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(tt.want+"\n", got.String()); diff != "" {
			t.Errorf("%s: -want +got:\n%s", tt.facts, diff)
		}
	}
}

// TestTextIn checks that every part of an answer goes through the translation, each text whole and one that Texts lists.
func TestTextIn(t *testing.T) {
	all := Texts()
	a := judge(t, `{"step": "add", "add": {"substances": ["unidentified", "aluminium-chloride"], "earths": [{"name": "bank"}, {}]}, "oil": {"kind": "wax"}}`)
	got := a.TextIn(func(s string) string {
		if !slices.Contains(all, s) {
			t.Errorf("%q is not in Texts", s)
		}
		return "<" + s + ">"
	})
	for _, line := range strings.Split(got, "\n") {
		if line != "" && !strings.HasPrefix(line, "<") {
			t.Errorf("untranslated start: %q", line)
		}
	}
	for _, want := range []string{"<bank's smell>", "<the earth's fizz>", "<Refused. >", "<Refused until it is known. >"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
}

// TestCarelessFacts checks that facts that were never checked err toward more cautions.
func TestCarelessFacts(t *testing.T) {
	a := Judge(Facts{Step: StepAdd, Add: Add{Substances: []string{"chloride"}}, Bath: Bath{TempC: new(math.NaN())}})
	if c, _ := find(a, "R-14"); c.State != Fires || !c.Refuse {
		t.Errorf("a substance that nobody knows: R-14 got %q, refuse %v, want it to refuse", c.State, c.Refuse)
	}
	if c, _ := find(a, "R-29"); c.State != NotKnown {
		t.Errorf("a NaN: R-29 got %q, want %q", c.State, NotKnown)
	}
}

func BenchmarkJudge(b *testing.B) {
	for _, bb := range []struct{ name, facts string }{
		{"recipe", `{"step": "recipe", "bath": {"temp_c": 92, "fill_fraction": 0.8, "tank_material": "aluminium"}, "recipe":
			{"substances": ["water", "ammonium-chloride", "potassium-nitrate", "copper-sulfate-pentahydrate", "sodium-chloride"],
			"earths": [{"name": "north bank"}]}}`},
		{"nothing known", `{"step": "add"}`},
	} {
		b.Run(bb.name, func(b *testing.B) {
			f, err := ParseFacts([]byte(bb.facts))
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				Judge(f)
			}
		})
	}
}
