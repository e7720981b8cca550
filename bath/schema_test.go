package bath

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"blackbath/bath/salt"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

func compiled(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	s, err := c.Compile(filepath.Join("..", "testdata", "schema", name))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// valid says whether a file is JSON and keeps to a schema.
func valid(s *jsonschema.Schema, data []byte) error {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		return err
	}
	return s.Validate(v)
}

// exampleFiles reads a folder of examples and fails unless it holds as many as the test knows of.
func exampleFiles(t *testing.T, folder string, want int) map[string][]byte {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "testdata", "examples", folder, "*.json"))
	if err != nil || len(paths) != want {
		t.Fatalf("%d files in examples/%s (%v), want %d", len(paths), folder, err, want)
	}
	files := map[string][]byte{}
	for _, p := range paths {
		if files[filepath.Base(p)], err = os.ReadFile(p); err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// Every example keeps to its schema, is read by the program, and scales with every other.
func TestExamples(t *testing.T) {
	recipes, tanks := exampleFiles(t, "recipes", 4), exampleFiles(t, "tanks", 6)
	recipeSchema, tankSchema := compiled(t, "recipe.schema.json"), compiled(t, "tank.schema.json")
	shapes := map[Shape]bool{}
	for name, data := range tanks {
		tank, err := ParseTank(data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := valid(tankSchema, data); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		shapes[tank.Shape] = true
		for name, data := range recipes {
			r, err := ParseRecipe(data)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if err := valid(recipeSchema, data); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if _, err := Scale(r, tank, DefaultConditions()); err != nil {
				t.Errorf("%s in %s: %v", name, tank.Name, err)
			}
		}
	}
	if len(shapes) != len(Shapes) {
		t.Errorf("examples of %d shapes, want one of each of the %d", len(shapes), len(Shapes))
	}
}

// The example in the file is the one that the worked figures were made for.
func TestWorkedExampleFile(t *testing.T) {
	r, err := ParseRecipe(exampleFiles(t, "recipes", 4)["worked-example.json"])
	if err != nil {
		t.Fatal(err)
	}
	_, tank, c := example()
	a := mustScale(t, r, tank, c)
	if got := a.PourWater.Mass.Kilograms(); !near(got, 17.212, 1e-3) {
		t.Errorf("water to pour: %v kg, want 17.212 kg", got)
	}
}

// What one of the two refuses, the other refuses too. Faults between several figures are the program's alone and stand in
// files_test.go and tank_files_test.go.
func TestSchemaAndProgramRefuseTheSame(t *testing.T) {
	const parts, temp = `"parts": [{"kind": "water", "mass_g": 1000}]`, `"temp_c": {"target": 90}`
	part := func(p string) string {
		return `{"parts": [{"kind": "water", "mass_g": 1000}, ` + p + `], ` + temp + `}`
	}
	recipes := []string{
		`[]`, `{}`, `null`, `{` + parts + `}`, `{` + temp + `}`, `{` + parts + `, ` + temp + `, "notes": "x"}`, `{"name": 1, ` + parts + `, ` + temp + `}`,
		`{` + parts + `, "temp_c": {"target": -0.1}}`, `{` + parts + `, "temp_c": {"target": 150.1}}`, `{` + parts + `, "temp_c": {"min": 80}}`, `{` + parts + `, "temp_c": 90}`,
		`{` + parts + `, "temp_c": {"target": 90, "lowest": 80}}`, `{` + parts + `, "temp_c": {"target": "90"}}`, `{` + parts + `, "temp_c": {"target": null}}`,
		`{` + parts + `, ` + temp + `, "soak_min": {"target": 10081}}`, `{` + parts + `, ` + temp + `, "soak_min": {}}`, `{` + parts + `, ` + temp + `, "soak_min": 8}`,
		`{"parts": [], ` + temp + `}`, `{"parts": [{"kind": "earth", "mass_g": 1}], ` + temp + `}`,
		`{"parts": [` + strings.Repeat(`{"kind": "water", "mass_g": 1}, `, 40) + `{"kind": "water", "mass_g": 1}], ` + temp + `}`,
		part(`{"kind": "sand", "mass_g": 1}`), part(`{"mass_g": 1}`), part(`"mud"`), part(`null`),
		part(`{"kind": "water"}`), part(`{"kind": "water", "mass_g": 0}`), part(`{"kind": "water", "mass_g": -1}`), part(`{"kind": "water", "mass_g": null}`),
		part(`{"kind": "water", "mass_g": "1"}`), part(`{"kind": "water", "mass_g": 1.1e9}`), part(`{"kind": "water", "mass_g": 1, "moisture_pct": 1}`),
		part(`{"kind": "earth", "mass_g": 1, "moisture_pct": -1}`), part(`{"kind": "earth", "mass_g": 1, "moisture_pct": 1000.1}`), part(`{"kind": "earth", "mass_g": 1, "assay_pct": 98}`),
		part(`{"kind": "earth", "mass_g": 1, "particle_density_g_cm3": 1}`), part(`{"kind": "earth", "mass_g": 1, "particle_density_g_cm3": 8.01}`), part(`{"kind": "earth", "mass_g": 1, "salt": "sodium-chloride"}`),
		part(`{"kind": "salt", "mass_g": 1}`), part(`{"kind": "salt", "salt": "chloride", "mass_g": 1}`), part(`{"kind": "salt", "salt": "salt", "mass_g": 1}`),
		part(`{"kind": "salt", "salt": "aluminium-chloride", "mass_g": 1}`), part(`{"kind": "salt", "salt": null, "mass_g": 1}`),
		part(`{"kind": "salt", "salt": "sodium-chloride", "mass_g": 1, "assay_pct": 0}`), part(`{"kind": "salt", "salt": "sodium-chloride", "mass_g": 1, "assay_pct": 100.1}`),
		part(`{"kind": "salt", "salt": "sodium-chloride", "mass_g": 1, "moisture_pct": 3}`),
	}
	box := func(old, by string) string { return strings.Replace(soundTanks[Box], old, by, 1) }
	tanks := []string{
		`[]`, `{}`, box(`"box"`, `"cube"`), box(`"shape": "box", `, ``), box(`"height_cm": 35, `, ``), box(`35`, `0`), box(`35`, `-1`), box(`35`, `10001`), box(`35`, `"35"`), box(`35`, `null`),
		box(`"freeboard_cm": 5, `, ``), box(`"freeboard_cm": 5`, `"freeboard_cm": -1`), box(`"freeboard_cm": 5`, `"freeboard_cm": null`), box(`"freeboard_cm"`, `"depth_cm": 4, "freeboard_cm"`),
		box(`"freeboard_cm"`, `"colour": "red", "freeboard_cm"`), box(`"heater_kw": 3`, `"heater_kw": -1`), box(`"heater_kw": 3`, `"heater_kw": 10001`), box(`"heater_kw": 3`, `"heater_kw": "3"`),
		box(`stoneware`, `wood`), box(`"stoneware"`, `3`), box(`"trough"`, `3`),
		strings.Replace(soundTanks[Cone], "24", "-1", 1), strings.Replace(soundTanks[Cone], `"top_diameter_cm": 30`, `"top_diameter_cm": 0`, 1),
		strings.Replace(soundTanks[Bowl], `"rim_diameter_cm": 50`, `"diameter_cm": 50`, 1), strings.Replace(soundTanks[Drum], `"length_cm": 80`, `"height_cm": 80`, 1),
		strings.Replace(soundTanks[Cylinder], `"diameter_cm": 36, `, ``, 1), strings.Replace(soundTanks[Bowl], `"depth_cm": 15`, `"depth_cm": 5000.1`, 1),
		`{"shape": "marks", "freeboard_cm": 0}`, `{"shape": "marks", "marks": [], "freeboard_cm": 0}`, `{"shape": "marks", "marks": [{"level_cm": 0, "litres": 0}], "freeboard_cm": 0}`,
		`{"shape": "marks", "marks": {"level_cm": 0, "litres": 0}, "freeboard_cm": 0}`, `{"shape": "marks", "marks": [[0, 0], [1, 1]], "freeboard_cm": 0}`,
		strings.Replace(soundTanks[Marks], `"level_cm": 0`, `"level_cm": 1`, 1), strings.Replace(soundTanks[Marks], `"litres": 0`, `"litres": 1`, 1),
		strings.Replace(soundTanks[Marks], `16.5`, `1.1e9`, 1), strings.Replace(soundTanks[Marks], `"litres": 2}`, `"litres": 0}`, 1), strings.Replace(soundTanks[Marks], `"litres": 2}`, `"litres": 2, "ml": 2}`, 1),
		strings.Replace(soundTanks[Marks], `"level_cm": 15, `, ``, 1), strings.Replace(soundTanks[Marks], `"rim_cm": 18`, `"rim_cm": 0`, 1), strings.Replace(soundTanks[Marks], `"level_cm": 15`, `"level_cm": 10001`, 1),
	}
	if len(recipes) != 45 || len(tanks) != 40 {
		t.Errorf("%d bad recipes and %d bad tanks, want 45 and 40", len(recipes), len(tanks))
	}
	recipeSchema, tankSchema := compiled(t, "recipe.schema.json"), compiled(t, "tank.schema.json")
	for _, s := range recipes {
		if _, err := ParseRecipe([]byte(s)); err == nil {
			t.Errorf("the program takes %s", s)
		}
		if valid(recipeSchema, []byte(s)) == nil {
			t.Errorf("the schema takes %s", s)
		}
	}
	for _, s := range tanks {
		if _, err := ParseTank([]byte(s)); err == nil {
			t.Errorf("the program takes %s", s)
		}
		if valid(tankSchema, []byte(s)) == nil {
			t.Errorf("the schema takes %s", s)
		}
	}
	// And what is sound is sound for both, the ends of the ranges too.
	for _, s := range []string{
		recipeFile, `{` + parts + `, ` + temp + `}`, `{"name": null, ` + parts + `, "temp_c": {"min": null, "target": 0, "max": 150}, "soak_min": null}`,
		part(`{"kind": "water", "name": "rain", "mass_g": 1e9}`), part(`{"kind": "earth", "name": null, "mass_g": 1, "moisture_pct": null, "particle_density_g_cm3": 8}`),
		part(`{"kind": "earth", "mass_g": 1, "moisture_pct": 1000}`), part(`{"kind": "salt", "salt": "zinc-chloride", "mass_g": 1, "assay_pct": 1e-6}`),
	} {
		if _, err := ParseRecipe([]byte(s)); err != nil {
			t.Errorf("%s: %v", s, err)
		}
		if err := valid(recipeSchema, []byte(s)); err != nil {
			t.Errorf("%s: %v", s, err)
		}
	}
	for _, shape := range Shapes {
		if err := valid(tankSchema, []byte(soundTanks[shape])); err != nil {
			t.Errorf("%s: %v", shape, err)
		}
	}
}

// The lists of words in the schemas are those of the program.
func TestSchemaWords(t *testing.T) {
	recipeSchema, tankSchema := compiled(t, "recipe.schema.json"), compiled(t, "tank.schema.json")
	for _, s := range salt.All() {
		if err := valid(recipeSchema, []byte(strings.Replace(recipeFile, "ammonium-chloride", string(s.ID), 1))); err != nil {
			t.Errorf("%s: %v", s.ID, err)
		}
	}
	for _, w := range Walls {
		if err := valid(tankSchema, []byte(strings.Replace(soundTanks[Box], "stoneware", string(w), 1))); err != nil {
			t.Errorf("%s: %v", w, err)
		}
	}
	data, err := os.ReadFile(filepath.Join("..", "testdata", "schema", "recipe.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	ids := make([]string, 0, 13)
	for _, line := range strings.Split(string(data), "\n") {
		if id := strings.Trim(line, ` ",`); slices.ContainsFunc(salt.All(), func(s salt.Salt) bool { return string(s.ID) == id }) {
			ids = append(ids, id)
		}
	}
	if len(ids) != len(salt.All()) {
		t.Errorf("the schema lists %d salts, the program %d", len(ids), len(salt.All()))
	}
}
