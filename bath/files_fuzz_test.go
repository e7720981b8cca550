package bath

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"blackbath/bath/input"
	"blackbath/bath/unit"

	"github.com/google/go-cmp/cmp"
)

// holdsFile checks what any bytes must do: give problems and nothing else, or a value that is written and read back the same.
// ok is false when they gave problems.
func holdsFile[T json.Marshaler](t *testing.T, parse func([]byte) (T, error), data []byte) (v T, ok bool) {
	t.Helper()
	v, err := parse(data)
	if err != nil {
		var ps input.Problems
		if !errors.As(err, &ps) || len(ps) == 0 {
			t.Fatalf("%v is no list of problems", err)
		}
		var zero T
		if diff := cmp.Diff(zero, v); diff != "" {
			t.Fatalf("something besides %v:\n%s", err, diff)
		}
		return v, false
	}
	first, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	back, err := parse(first)
	if err != nil {
		t.Fatalf("%s does not read back: %v", first, err)
	}
	if diff := cmp.Diff(v, back); diff != "" {
		t.Fatalf("read back another:\n%s", diff)
	}
	if second, err := json.Marshal(back); err != nil || string(second) != string(first) {
		t.Fatalf("written again: %s, %v\nbefore: %s", second, err, first)
	}
	return v, true
}

// fatal is what the testing and the rapid package share.
type fatal interface {
	Helper()
	Fatalf(string, ...any)
}

// holdsScaling checks that a scaling gives problems, or an answer in numbers that JSON can hold, and that add up.
func holdsScaling(t fatal, r Recipe, tank Tank, c Conditions) {
	t.Helper()
	a, err := Scale(r, tank, c)
	if err != nil {
		var ps input.Problems
		if !errors.As(err, &ps) || len(ps) == 0 {
			t.Fatalf("%v is no list of problems", err)
		}
		return
	}
	if _, err := json.Marshal(a); err != nil { // JSON has no NaN and no infinity
		t.Fatalf("the answer: %v", err)
	}
	for _, x := range []float64{float64(a.PourWater.Mass), float64(a.PourWater.Rounded), float64(a.HotDensity), float64(a.OpenSurface), float64(a.Details.ColdBathL)} {
		if !(x >= 0) || math.IsInf(x, 0) {
			t.Fatalf("a figure below 0 or beyond all numbers in %+v", a)
		}
	}
	if p := a.PourWater; p.Buckets != nil && (*p.Buckets < 0 || *p.RemainderL < 0) {
		t.Fatalf("%d buckets and %v L", *p.Buckets, *p.RemainderL)
	}
	for _, w := range a.Warnings {
		if strings.Contains(w.Text, "%!") || strings.Contains(w.Text, "NaN") || w.Code == "" {
			t.Fatalf("warning %+v", w)
		}
	}
}

var extremeConditions = []Conditions{
	DefaultConditions(),
	{WaterTemp: 100, Step: LargestStep, Altitude: HighestAltitude, Bucket: ptr(unit.Litre(LargestBucket))},
	{WaterTemp: 0, Step: 0.001, Altitude: LowestAltitude, Coldest: ptr(ColdestWorkshop), WaterBoilsAt: ptr(CoolestBoil), Load: 1, Bucket: ptr(unit.Litre(0.001))},
}

func FuzzParseRecipe(f *testing.F) {
	for _, s := range []string{
		recipeFile,
		`{"parts": [{"kind": "water", "mass_g": 1}], "temp_c": {"target": 150}}`,
		`{"parts": [{"kind": "water", "mass_g": 1e-9}, {"kind": "salt", "salt": "zinc-chloride", "mass_g": 1e9}], "temp_c": {"target": 0}}`,
		`{"parts": [{"kind": "water", "mass_g": 5e-324}, {"kind": "earth", "mass_g": 1e9, "moisture_pct": 1000}], "temp_c": {"target": 92}}`,
		`{"parts": [{"kind": "water", "mass_g": 1000}, {"kind": "salt", "salt": "aluminium-chloride-hexahydrate", "mass_g": 2000, "assay_pct": 1e-300}, {"kind": "salt", "salt": "copper-sulfate", "mass_g": 400}], "temp_c": {"target": 92}}`,
		`{"name": "\u0000\ud800<>&", "parts": [{"kind": "water", "name": null, "mass_g": 1}, "x"], "temp_c": {"target": 1, "min": null}, "soak_min": {"target": 0}}`,
		`{"parts": [], "parts": {}, "temp_c": []}`,
	} {
		f.Add([]byte(s))
	}
	tanks := oneOfEachShape()
	f.Fuzz(func(t *testing.T, data []byte) {
		r, ok := holdsFile(t, ParseRecipe, data)
		if !ok {
			return
		}
		for i, c := range extremeConditions {
			holdsScaling(t, r, tanks[i%len(tanks)], c)
		}
	})
}

func FuzzParseTank(f *testing.F) {
	for _, s := range soundTanks {
		f.Add([]byte(s))
	}
	for _, s := range []string{
		`{"shape": "bowl", "rim_diameter_cm": 1e4, "depth_cm": 1e-9, "freeboard_cm": 0}`,
		`{"shape": "cone", "bottom_diameter_cm": 1e4, "top_diameter_cm": 1e-9, "height_cm": 1e4, "freeboard_cm": 0, "heater_kw": 1e4}`,
		`{"shape": "cone", "bottom_diameter_cm": 0, "top_diameter_cm": 1e-50, "height_cm": 1, "freeboard_cm": 0.999999}`,
		`{"shape": "drum", "diameter_cm": 1e4, "length_cm": 1e-200, "freeboard_cm": 9999.999999999998}`,
		`{"shape": "box", "length_cm": 1e-107, "width_cm": 1e-107, "height_cm": 1e-107, "freeboard_cm": 0, "wall": "glass"}`,
		`{"shape": "marks", "marks": [{"level_cm": 0, "litres": 0}, {"level_cm": 1e-320, "litres": 1e9}], "freeboard_cm": 0, "rim_cm": 1e4}`,
		`{"shape": "marks", "marks": [{"level_cm": -0, "litres": 0}, {"level_cm": 1e4, "litres": 1e-320}, 5], "freeboard_cm": 1}`,
		`{"shape": 1, "wall": [], "freeboard_cm": null, "freeboard_cm": 1}`,
	} {
		f.Add([]byte(s))
	}
	r, _, _ := example()
	recipes := []Recipe{r, waterWith(92), waterWith(0, Part{Kind: Earth, Mass: 1e9})}
	f.Fuzz(func(t *testing.T, data []byte) {
		tank, ok := holdsFile(t, ParseTank, data)
		if !ok {
			return
		}
		for i, c := range extremeConditions {
			holdsScaling(t, recipes[i%len(recipes)], tank, c)
		}
	})
}
