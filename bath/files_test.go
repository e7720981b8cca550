package bath

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"blackbath/bath/input"
	"blackbath/bath/unit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// recipeFile is a sound recipe file; bad cases are made from it by replacing a piece of it.
const recipeFile = `{"name": "Everyday black",
 "parts": [
  {"kind": "water", "mass_g": 10000},
  {"kind": "earth", "name": "north bank", "mass_g": 4000, "moisture_pct": 12.0, "particle_density_g_cm3": 2.65},
  {"kind": "salt", "salt": "ammonium-chloride", "mass_g": 900, "assay_pct": 98.0}],
 "temp_c": {"min": 85, "target": 92, "max": 97},
 "soak_min": {"min": 4, "target": 8, "max": 15}}`

// A badFile is a file with one fault or more: each says names a problem's field, then what was read there and what is allowed,
// as the message has it.
type badFile struct {
	why  string
	data string
	says []string
}

// checkBad runs bad files through a parser: each fault named, in one error, and nothing half-read.
func checkBad[T any](t *testing.T, parse func([]byte) (T, error), files []badFile) {
	t.Helper()
	for _, tt := range files {
		got, err := parse([]byte(tt.data))
		var ps input.Problems
		if !errors.As(err, &ps) {
			t.Errorf("%s: got %v, want problems", tt.why, err)
			continue
		}
		for i, want := range tt.says {
			if i >= len(ps) || !strings.Contains(ps[i].Error(), want) {
				t.Errorf("%s: problem %d of\n%v\nwant %q", tt.why, i, err, want)
			}
		}
		if len(ps) != len(tt.says) {
			t.Errorf("%s: got %d problems, want %d:\n%v", tt.why, len(ps), len(tt.says), err)
		}
		for _, p := range ps {
			if p.Field == "" || p.Allowed.IsZero() {
				t.Errorf("%s: %+v does not name its field and what is allowed", tt.why, p)
			}
		}
		var zero T
		if diff := cmp.Diff(zero, got); diff != "" {
			t.Errorf("%s: something besides the error:\n%s", tt.why, diff)
		}
	}
}

// wholeFileFaults are those of any JSON file. sound is a file without a fault.
func wholeFileFaults(sound string) []badFile {
	utf16File := func(order func(uint16) [2]byte) string {
		var b bytes.Buffer
		for _, u := range append([]uint16{0xFEFF}, utf16.Encode([]rune(sound))...) {
			pair := order(u)
			b.Write(pair[:])
		}
		return b.String()
	}
	return []badFile{
		{"empty", "", []string{"an empty file"}},
		{"blank", " \n\t", []string{"an empty file"}},
		{"only a byte order mark", "\xEF\xBB\xBF", []string{"allowed: one JSON object"}},
		{"2 MB", `{"name": "` + strings.Repeat("x", 2_000_000) + `"}`, []string{"a file of 2000012 bytes is not allowed; allowed: at most 1048576 bytes"}},
		{"truncated", sound[:len(sound)/2], []string{"a file that ends in the middle"}},
		{"the last brace missing", strings.TrimSuffix(sound, "}"), []string{"a file that ends in the middle"}},
		{"UTF-16, little end first", utf16File(func(u uint16) [2]byte { return [2]byte{byte(u), byte(u >> 8)} }), []string{"UTF-16 is not allowed; allowed: text in UTF-8"}},
		{"UTF-16, big end first", utf16File(func(u uint16) [2]byte { return [2]byte{byte(u >> 8), byte(u)} }), []string{"UTF-16 is not allowed; allowed: text in UTF-8"}},
		{"Latin-1", `{"name": "caf` + "\xE9" + `"}`, []string{"not UTF-8"}},
		{"two objects", sound + "\n" + sound, []string{"more text after the object"}},
		{"a word after it", sound + " end", []string{"more text after the object"}},
		{"a list", "[" + sound + "]", []string{"JSON that is no object"}},
		{"a number", "12", []string{"JSON that is no object"}},
		{"null", "null", []string{"JSON that is no object"}},
		{"no JSON", "name = x", []string{"line 1: invalid character"}},
		{"a comma too many", strings.Replace(sound, "}", ",}", 1), []string{"invalid character"}},
		{"a comment", "{ // x\n}", []string{"line 1: invalid character"}},
		{"NaN", `{"name": NaN}`, []string{"invalid character 'N'"}},
		{"a web page", "<html><body>404</body></html>", []string{"invalid character '<'"}},
		{"nested without end", strings.Repeat(`{"a":`, 5000), []string{"nested more than 16 deep"}},
		{"a list nested without end", `{"a":` + strings.Repeat("[", 5000), []string{"nested more than 16 deep"}},
	}
}

func TestBadRecipes(t *testing.T) {
	with := func(old, by string) string {
		if strings.Count(recipeFile, old) != 1 {
			t.Fatalf("%q is not once in the recipe", old)
		}
		return strings.Replace(recipeFile, old, by, 1)
	}
	const salts = "ammonium-chloride, ammonium-sulfate, ammonium-nitrate, sodium-chloride, sodium-nitrate, potassium-chloride, potassium-nitrate, " +
		"aluminium-chloride-hexahydrate, copper-sulfate, copper-sulfate-pentahydrate, zinc-chloride, zinc-sulfate, zinc-sulfate-heptahydrate"
	checkBad(t, ParseRecipe, wholeFileFaults(recipeFile))
	checkBad(t, ParseRecipe, []badFile{
		{"unknown salt", with(`"ammonium-chloride"`, `"table-salt"`), []string{"parts[2].salt: table-salt is not allowed; allowed: one of " + salts}},
		{"chloride alone", with(`"ammonium-chloride"`, `"chloride"`), []string{"parts[2].salt: chloride is not allowed; allowed: one of " + salts}},
		{"salt alone", with(`"ammonium-chloride"`, `"salt"`), []string{"parts[2].salt: salt is not allowed; allowed: one of " + salts}},
		{"capitals", with(`"ammonium-chloride"`, `"Ammonium-Chloride"`), []string{"parts[2].salt: Ammonium-Chloride"}},
		{"anhydrous aluminium chloride", with(`"ammonium-chloride"`, `"aluminium-chloride"`), []string{"parts[2].salt: aluminium-chloride is not allowed; allowed: aluminium-chloride-hexahydrate"}},
		{"no salt named", with(`"salt": "ammonium-chloride", `, ``), []string{"parts[2].salt: nothing was given"}},
		{"unknown kind", with(`"kind": "earth"`, `"kind": "sand"`), []string{"parts[1].kind: sand is not allowed; allowed: one of water, earth, salt"}},
		{"no kind", with(`"kind": "earth", `, ``), []string{"parts[1].kind: nothing was given"}},
		{"kind is a number", with(`"kind": "earth"`, `"kind": 7`), []string{"parts[1].kind: 7 is not allowed; allowed: a text in quotation marks"}},
		{"negative mass", with("900", "-900"), []string{"parts[2].mass_g: -900 is not allowed; allowed: more than 0"}},
		{"mass of 0", with("900", "0"), []string{"parts[2].mass_g: 0 is not allowed; allowed: more than 0"}},
		{"mass of minus 0", with("900", "-0"), []string{"parts[2].mass_g: -0 is not allowed"}},
		{"mass too small to hold", with("900", "1e-999"), []string{"parts[2].mass_g: 0 is not allowed"}},
		{"mass beyond reason", with("900", "1e10"), []string{"parts[2].mass_g: 1e+10 is not allowed; allowed: more than 0 and at most 1000000000 g"}},
		{"mass too large to hold", with("900", "1e999"), []string{"parts[2].mass_g: 1e999 is not allowed"}},
		{"mass as text", with("900", `"900"`), []string{`parts[2].mass_g: "900" is not allowed; allowed: a number without quotation marks`}},
		{"NaN as text", with("900", `"NaN"`), []string{`parts[2].mass_g: "NaN" is not allowed; allowed: a number`}},
		{"mass as a list", with("900", `[900]`), []string{`parts[2].mass_g: a list is not allowed; allowed: a number`}},
		{"no mass", with(`"mass_g": 900, `, ``), []string{"parts[2].mass_g: nothing was given; allowed: more than 0"}},
		{"null is absent", with("900", "null"), []string{"parts[2].mass_g: nothing was given; allowed: more than 0"}},
		{"moisture below 0", with("12.0", "-0.1"), []string{"parts[1].moisture_pct: -0.1 is not allowed; allowed: 0 to 1000 %"}},
		{"moisture beyond reason", with("12.0", "1001"), []string{"parts[1].moisture_pct: 1001"}},
		{"assay of 0", with("98.0", "0"), []string{"parts[2].assay_pct: 0 is not allowed; allowed: more than 0, at least 0.000001, and at most 100 %"}},
		{"salt without measure", with(`"mass_g": 10000`, `"mass_g": 0.0001`), []string{"parts[1].mass_g: 4000 is not allowed; allowed: 1e-12 to 1000000 times the mass of the water, 0.0001 g", "parts[2].mass_g: 900"}},
		{"assay above 100", with("98.0", "100.5"), []string{"parts[2].assay_pct: 100.5"}},
		{"grains as light as water", with("2.65", "1"), []string{"parts[1].particle_density_g_cm3: 1 is not allowed; allowed: more than 1 and at most 8 g/cm³"}},
		{"grains in kg/m³", with("2.65", "2650"), []string{"parts[1].particle_density_g_cm3: 2650"}},
		{"target below 0", with(`"target": 92`, `"target": -1`), []string{"temp_c.target: -1 is not allowed; allowed: 0 to 150 °C"}},
		{"target in °F", with(`"target": 92`, `"target": 198`), []string{"temp_c.target: 198 is not allowed; allowed: 0 to 150 °C"}},
		{"min above the target", with(`"min": 85`, `"min": 93`), []string{"temp_c.min: 93 is not allowed; allowed: at most the target, 92 °C"}},
		{"max below the target", with(`"max": 97`, `"max": 91`), []string{"temp_c.max: 91 is not allowed; allowed: at least the target, 92 °C"}},
		{"no target", with(`"target": 92, `, ``), []string{"temp_c.target: nothing was given; allowed: 0 to 150 °C"}},
		{"no target and nothing else", with(`{"min": 85, "target": 92, "max": 97}`, `{}`), []string{"temp_c.target: nothing was given"}},
		{"no temperature", with(` "temp_c": {"min": 85, "target": 92, "max": 97},`, ``), []string{"temp_c.target: nothing was given"}},
		{"temperature is a number", with(`{"min": 85, "target": 92, "max": 97}`, `92`), []string{"temp_c: 92 is not allowed; allowed: an object"}},
		{"soak below 0", with(`"min": 4`, `"min": -4`), []string{"soak_min.min: -4 is not allowed; allowed: 0 to 10080 min"}},
		{"soak without a target", with(`"target": 8, `, ``), []string{"soak_min.target: nothing was given"}},
		{"unknown key", with(`"name": "Everyday black"`, `"nmae": "Everyday black"`), []string{"nmae: an unknown key is not allowed; allowed: one of name, parts, temp_c, soak_min"}},
		{"key of another kind of part", with(`"assay_pct": 98.0`, `"moisture_pct": 2`), []string{"parts[2].moisture_pct: an unknown key is not allowed; allowed: one of kind, name, mass_g, salt, assay_pct"}},
		{"unknown key in a window", with(`"max": 97`, `"maxi": 97`), []string{"temp_c.maxi: an unknown key is not allowed; allowed: one of min, target, max"}},
		{"key twice", with(`"name": "Everyday black",`, `"name": "a", "name": "b",`), []string{"name: the same key twice is not allowed; allowed: each key once"}},
		{"key twice in a part", with(`"mass_g": 900`, `"mass_g": 900, "mass_g": 90`), []string{"parts[2].mass_g: the same key twice"}},
		{"key twice, once escaped", with(`"mass_g": 900`, `"mass_g": 900, "mass\u005fg": 90`), []string{"parts[2].mass_g: the same key twice"}},
		{"no water", with(`{"kind": "water", "mass_g": 10000},`, ``), []string{"parts: 2 parts, none of them water is not allowed; allowed: at least one part of kind water"}},
		{"no parts", `{"name": "x", "temp_c": {"target": 90}}`, []string{"parts: 0 parts"}},
		{"parts is an object", `{"name": "x", "parts": {}, "temp_c": {"target": 90}}`, []string{"parts: an object is not allowed; allowed: a list"}},
		{"41 parts", `{"parts": [` + strings.Repeat(`{"kind": "water", "mass_g": 1},`, 40) + `{"kind": "water", "mass_g": 1}], "temp_c": {"target": 90}}`, []string{"parts: 41 parts is not allowed; allowed: at most 40 parts"}},
		{"a part that is none keeps the others' numbers", with(`{"kind": "water", "mass_g": 10000},`, `{"kind": "water", "mass_g": 10000}, "mud", {"kind": "salt", "salt": "chloride", "mass_g": 1},`), []string{
			`parts[1]: "mud" is not allowed; allowed: an object`, "parts[2].salt: chloride"}},
		{"null is no part", with(`{"kind": "water", "mass_g": 10000},`, `null, {"kind": "water", "mass_g": 10000},`), []string{"parts[0]: null is not allowed"}},
		{"name is a number", with(`"Everyday black"`, `7`), []string{"name: 7 is not allowed; allowed: a text"}},
		{"several at once", `{"name": true, "parts": [{"kind": "water", "mass_g": 0}, {"kind": "salt", "salt": "chloride", "mass_g": "1"}, {"kind": "earth", "mass_g": 5, "wet": 1}], "temp_c": {"target": 200}}`, []string{
			"name: true", `parts[1].mass_g: "1"`, "parts[2].wet", "parts[0].mass_g: 0", "parts[1].salt", "temp_c.target: 200"}},
	})
}

// Anhydrous aluminium chloride is refused as what could hurt somebody; any other word only as unknown.
func TestUnsafeSalt(t *testing.T) {
	for _, tt := range []struct {
		salt string
		want bool
	}{{"aluminium-chloride", true}, {"aluminum-chloride", true}, {"chloride", false}, {"salt", false}} {
		_, err := ParseRecipe([]byte(strings.Replace(recipeFile, "ammonium-chloride", tt.salt, 1)))
		if err == nil || errors.Is(err, input.ErrUnsafe) != tt.want {
			t.Errorf("%s: got %v; want unsafe %v", tt.salt, err, tt.want)
		}
		if tt.want && !strings.Contains(err.Error(), "aluminium-chloride-hexahydrate") {
			t.Errorf("%s: %v does not name the hexahydrate", tt.salt, err)
		}
	}
}

// null is absent, and the byte order mark that some editors write is no fault.
func TestSoundRecipes(t *testing.T) {
	plain, err := ParseRecipe([]byte(`{"name": "x", "parts": [{"kind": "water", "mass_g": 1}], "temp_c": {"target": 92}}`))
	if err != nil {
		t.Fatal(err)
	}
	if plain.Temp != (TempWindow{92, 92, 92}) || plain.Soak != nil {
		t.Errorf("got %+v and %v; want min and max at the target and no soak", plain.Temp, plain.Soak)
	}
	for _, tt := range []struct{ why, data string }{
		{"null", `{"name": "x", "parts": [{"kind": "water", "name": null, "mass_g": 1}], "temp_c": {"min": null, "target": 92, "max": null}, "soak_min": null}`},
		{"byte order mark", "\xEF\xBB\xBF" + `{"name": "x", "parts": [{"kind": "water", "mass_g": 1}], "temp_c": {"target": 92}}`},
		{"another order", ` { "temp_c" : { "target" : 9.2e1 } , "parts" : [ { "mass_g" : 1.0 , "kind" : "water" } ] , "name" : "\u0078" } ` + "\r\n"},
	} {
		got, err := ParseRecipe([]byte(tt.data))
		if diff := cmp.Diff(plain, got); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", tt.why, err, diff)
		}
	}
}

// What is written as a file reads back the same.
func TestFilesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, tank := drawRecipe(t), drawTank(t)
		if rapid.Bool().Draw(t, "soak known") {
			soak := unit.Minute(rapid.Float64Range(0, 100).Draw(t, "soak"))
			r.Soak = &SoakWindow{Min: soak / 3, Target: soak, Max: 2 * soak}
			r.Name = rapid.String().Draw(t, "name")
		}
		tank.Wall = rapid.SampledFrom(append(slices.Clone(Walls), "")).Draw(t, "wall")
		data, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var back Recipe
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatalf("%s: %v", data, err)
		}
		if diff := cmp.Diff(r, back); diff != "" {
			t.Fatal(diff)
		}
		if data, err = json.Marshal(tank); err != nil {
			t.Fatal(err)
		}
		var tankBack Tank
		if err := json.Unmarshal(data, &tankBack); err != nil {
			t.Fatalf("%s: %v", data, err)
		}
		if diff := cmp.Diff(tank, tankBack); diff != "" {
			t.Fatal(diff)
		}
	})
}
