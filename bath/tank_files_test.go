package bath

import (
	"errors"
	"math"
	"strings"
	"testing"

	"blackbath/bath/input"
	"blackbath/bath/unit"

	"github.com/google/go-cmp/cmp"
)

// soundTanks are tank files without a fault, one a shape.
var soundTanks = map[Shape]string{
	Box:      `{"name": "trough", "shape": "box", "length_cm": 60, "width_cm": 40, "height_cm": 35, "freeboard_cm": 5, "heater_kw": 3, "wall": "stoneware"}`,
	Cylinder: `{"name": "pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 6}`,
	Cone:     `{"name": "bucket", "shape": "cone", "bottom_diameter_cm": 24, "top_diameter_cm": 30, "height_cm": 30, "freeboard_cm": 4}`,
	Bowl:     `{"name": "pan", "shape": "bowl", "rim_diameter_cm": 50, "depth_cm": 15, "freeboard_cm": 3}`,
	Drum:     `{"name": "drum", "shape": "drum", "diameter_cm": 40, "length_cm": 80, "freeboard_cm": 10}`,
	Marks:    `{"name": "beaten pan", "shape": "marks", "marks": [{"level_cm": 0, "litres": 0}, {"level_cm": 5, "litres": 2}, {"level_cm": 15, "litres": 16.5}], "rim_cm": 18, "freeboard_cm": 3.5}`,
}

func TestSoundTanks(t *testing.T) {
	want := map[Shape]Tank{
		Box:      {Name: "trough", Shape: Box, Length: 60, Width: 40, Height: 35, Freeboard: 5, HeaterKW: ptr(unit.Kilowatt(3)), Wall: "stoneware"},
		Cylinder: {Name: "pot", Shape: Cylinder, Diameter: 36, Height: 32, Freeboard: 6},
		Cone:     {Name: "bucket", Shape: Cone, BottomDiameter: 24, TopDiameter: 30, Height: 30, Freeboard: 4},
		Bowl:     {Name: "pan", Shape: Bowl, RimDiameter: 50, Depth: 15, Freeboard: 3},
		Drum:     {Name: "drum", Shape: Drum, Diameter: 40, Length: 80, Freeboard: 10},
		Marks:    {Name: "beaten pan", Shape: Marks, MarkTable: []Mark{{0, 0}, {5, 2}, {15, 16.5}}, Rim: ptr(unit.Centimetre(18)), Freeboard: 3.5},
	}
	for _, shape := range Shapes {
		got, err := ParseTank([]byte(soundTanks[shape]))
		if diff := cmp.Diff(want[shape], got); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", shape, err, diff)
		}
	}
	// What may be left out or be null: name, heater, wall, the rim of a dip-stick table. A heater of 0 is known, not absent.
	for _, data := range []string{
		`{"shape": "bowl", "rim_diameter_cm": 50, "depth_cm": 25, "freeboard_cm": 0, "name": null, "heater_kw": null, "wall": null}`,
		`{"shape": "cone", "bottom_diameter_cm": 0, "top_diameter_cm": 50, "height_cm": 25, "freeboard_cm": 24.9, "heater_kw": 0}`,
		"\xEF\xBB\xBF" + `{"shape": "marks", "marks": [{"level_cm": 0, "litres": 0}, {"level_cm": 1, "litres": 1}], "rim_cm": null, "freeboard_cm": 0}`,
	} {
		if got, err := ParseTank([]byte(data)); err != nil || (got.HeaterKW != nil) != strings.Contains(data, `"heater_kw": 0`) {
			t.Errorf("%s: %+v, %v", data, got, err)
		}
	}
}

func TestBadTanks(t *testing.T) {
	with := func(shape Shape, old, by string) string {
		if strings.Count(soundTanks[shape], old) != 1 {
			t.Fatalf("%q is not once in the %s", old, shape)
		}
		return strings.Replace(soundTanks[shape], old, by, 1)
	}
	checkBad(t, ParseTank, wholeFileFaults(soundTanks[Box]))
	checkBad(t, ParseTank, []badFile{
		{"unknown shape", with(Box, `"box"`, `"cube"`), []string{"shape: cube is not allowed; allowed: one of box, cylinder, cone, bowl, drum, marks"}},
		{"no shape", with(Box, `"shape": "box", `, ``), []string{"shape: nothing was given; allowed: one of box"}},
		{"shape is a number", with(Box, `"box"`, `4`), []string{"shape: 4 is not allowed; allowed: a text"}},
		{"length below 0", with(Box, "60", "-60"), []string{"length_cm: -60 is not allowed; allowed: more than 0 and at most 10000 cm"}},
		{"width of 0", with(Box, "40", "0"), []string{"width_cm: 0 is not allowed; allowed: more than 0"}},
		{"height in millimetres of a hall", with(Box, "35", "35000"), []string{"height_cm: 35000 is not allowed; allowed: more than 0 and at most 10000 cm"}},
		{"height too large to hold", with(Box, "35", "1e999"), []string{"height_cm: 1e999 is not allowed"}},
		{"minus that", with(Box, "35", "-1e999"), []string{"height_cm: -1e999 is not allowed"}},
		{"height as text", with(Box, "35", `"35"`), []string{`height_cm: "35" is not allowed; allowed: a number without quotation marks`}},
		{"infinite as text", with(Box, "35", `"Infinity"`), []string{`height_cm: "Infinity" is not allowed; allowed: a number`}},
		{"no height", with(Box, `"height_cm": 35, `, ``), []string{"height_cm: nothing was given; allowed: more than 0"}},
		{"null is absent", with(Box, `"height_cm": 35`, `"height_cm": null`), []string{"height_cm: nothing was given; allowed: more than 0"}},
		{"too small to have a volume", with(Box, `"length_cm": 60, "width_cm": 40`, `"length_cm": 1e-300, "width_cm": 1e-300`), []string{"shape: box is not allowed"}},
		{"key of another shape", with(Box, `"freeboard_cm"`, `"depth_cm": 3, "freeboard_cm"`), []string{"depth_cm: an unknown key is not allowed; allowed: one of name, shape, freeboard_cm, heater_kw, wall, length_cm, width_cm, height_cm"}},
		{"rim of another shape", with(Bowl, `"freeboard_cm"`, `"rim_cm": 3, "freeboard_cm"`), []string{"rim_cm: an unknown key"}},
		{"unknown key", with(Drum, `"freeboard_cm"`, `"lid": true, "freeboard_cm"`), []string{"lid: an unknown key is not allowed"}},
		{"key twice", with(Drum, `"freeboard_cm"`, `"length_cm": 90, "freeboard_cm"`), []string{"length_cm: the same key twice"}},
		{"key twice in a mark", with(Marks, `"litres": 2}`, `"litres": 2, "litres": 2}`), []string{"marks[1].litres: the same key twice"}},
		{"no freeboard", with(Cylinder, `, "freeboard_cm": 6`, ``), []string{"freeboard_cm: nothing was given; allowed: 0 or more, and less than the depth, 32 cm"}},
		{"freeboard below 0", with(Cylinder, `"freeboard_cm": 6`, `"freeboard_cm": -6`), []string{"freeboard_cm: -6 is not allowed; allowed: 0 or more, and less than the depth, 32 cm"}},
		{"freeboard as deep as the tank", with(Cylinder, `"freeboard_cm": 6`, `"freeboard_cm": 32`), []string{"freeboard_cm: 32 is not allowed; allowed: 0 or more, and less than the depth, 32 cm"}},
		{"freeboard of a drum above its diameter", with(Drum, `"freeboard_cm": 10`, `"freeboard_cm": 60`), []string{"freeboard_cm: 60 is not allowed; allowed: 0 or more, and less than the depth, 40 cm"}},
		{"freeboard that leaves the tip of a cone only", with(Cone, `"bottom_diameter_cm": 24, "top_diameter_cm": 30, "height_cm": 30, "freeboard_cm": 4`,
			`"bottom_diameter_cm": 0, "top_diameter_cm": 1, "height_cm": 10, "freeboard_cm": 9.999`), []string{"freeboard_cm: 9.999 is not allowed; allowed: less than the depth, 10 cm, so that there is room"}},
		{"bowl deeper than its radius", with(Bowl, `"depth_cm": 15`, `"depth_cm": 25.1`), []string{"depth_cm: 25.1 is not allowed; allowed: at most half the rim's diameter, 25 cm"}},
		{"cone with a bottom below 0", with(Cone, "24", "-1"), []string{"bottom_diameter_cm: -1 is not allowed; allowed: 0 to 10000 cm"}},
		{"cone with a closed top", with(Cone, `"top_diameter_cm": 30`, `"top_diameter_cm": 0`), []string{"top_diameter_cm: 0 is not allowed; allowed: more than 0"}},
		{"heater below 0", with(Box, `"heater_kw": 3`, `"heater_kw": -1`), []string{"heater_kw: -1 is not allowed; allowed: 0 to 10000 kW"}},
		{"heater in watts", with(Box, `"heater_kw": 3`, `"heater_kw": 30000`), []string{"heater_kw: 30000 is not allowed; allowed: 0 to 10000 kW"}},
		{"unknown wall", with(Box, "stoneware", "wood"), []string{"wall: wood is not allowed; allowed: one of galvanised-steel, aluminium"}},
		{"no marks", with(Marks, `"marks": [{"level_cm": 0, "litres": 0}, {"level_cm": 5, "litres": 2}, {"level_cm": 15, "litres": 16.5}], `, ``), []string{"marks: 0 marks is not allowed; allowed: the bottom"}},
		{"one mark", with(Marks, `, {"level_cm": 5, "litres": 2}, {"level_cm": 15, "litres": 16.5}`, ``), []string{"marks: 1 marks is not allowed"}},
		{"first mark above the bottom", with(Marks, `"level_cm": 0`, `"level_cm": 1`), []string{"marks[0].level_cm: 1 is not allowed; allowed: 0: the first mark is the bottom"}},
		{"first mark not empty", with(Marks, `"litres": 0`, `"litres": 0.5`), []string{"marks[0].litres: 0.5 is not allowed; allowed: 0: the first mark is the bottom"}},
		{"level falls", with(Marks, `"level_cm": 15`, `"level_cm": 4`), []string{"marks[2].level_cm: 4 is not allowed; allowed: more than the mark before, 5 cm"}},
		{"level twice", with(Marks, `"level_cm": 15`, `"level_cm": 5`), []string{"marks[2].level_cm: 5 is not allowed; allowed: more than the mark before, 5 cm"}},
		{"volume falls", with(Marks, `16.5`, `1.5`), []string{"marks[2].litres: 1.5 is not allowed; allowed: more than the mark before, 2 L"}},
		{"volume stays", with(Marks, `16.5`, `2`), []string{"marks[2].litres: 2 is not allowed"}},
		{"volume beyond reason", with(Marks, `16.5`, `1e10`), []string{"marks[2].litres: 1e+10 is not allowed; allowed: more than the mark before, 2 L, and at most 1000000000 L"}},
		{"a mark without its level", with(Marks, `"level_cm": 5, `, ``), []string{"marks[1].level_cm: nothing was given; allowed: more than the mark before, 0 cm"}},
		{"a mark that is none", with(Marks, `{"level_cm": 5, "litres": 2}`, `[5, 2]`), []string{"marks[1]: a list is not allowed; allowed: an object"}},
		{"unknown key in a mark", with(Marks, `"litres": 2}`, `"litres": 2, "litre": 2}`), []string{"marks[1].litre: an unknown key is not allowed; allowed: one of level_cm, litres"}},
		{"rim below the last mark", with(Marks, `"rim_cm": 18`, `"rim_cm": 14`), []string{"rim_cm: 14 is not allowed; allowed: at or above the last mark, 15 cm"}},
		{"fill line above the last mark", with(Marks, `"freeboard_cm": 3.5`, `"freeboard_cm": 2`), []string{"freeboard_cm: 2 is not allowed; allowed: at least 3 cm: the fill line must not stand above the last mark, 15 cm"}},
		{"several at once", `{"shape": "box", "length_cm": -1, "width_cm": "2", "heater_kw": -3, "wall": "ice", "colour": "red", "freeboard_cm": 1}`, []string{
			`width_cm: "2"`, "colour: an unknown key", "length_cm: -1", "height_cm: nothing was given", "heater_kw: -3", "wall: ice"}},
	})
}

// The conditions are typed on a command line or into a form; they are held to their ranges all the same.
func TestBadConditions(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct {
		field string
		set   func(*Conditions, float64)
		good  []float64
		bad   []float64
		says  string
	}{
		{"load_cm3", func(c *Conditions, x float64) { c.Load = unit.CubicCM(x) }, []float64{0, 581}, []float64{-0.1, nan, inf}, "0 cm³ or more"},
		{"altitude_m", func(c *Conditions, x float64) { c.Altitude = unit.Metre(x) }, []float64{-500, 0, 9000}, []float64{-501, 9001, nan, inf}, "-500 to 9000 m"},
		{"water_boils_at_c", func(c *Conditions, x float64) { c.WaterBoilsAt = ptr(unit.Celsius(x)) }, []float64{70, 100, 102}, []float64{-1, 0, 20, 212, nan, inf}, "°C"},
		{"water_temp_c", func(c *Conditions, x float64) { c.WaterTemp = unit.Celsius(x) }, []float64{0, 20, 100}, []float64{-0.1, 100.1, nan, inf}, "0 to 100 °C"},
		{"coldest_c", func(c *Conditions, x float64) { c.Coldest = ptr(unit.Celsius(x)) }, []float64{-20, 0, 60}, []float64{-300, 1000, nan, inf}, "°C"},
		{"step_g", func(c *Conditions, x float64) { c.Step = unit.Gram(x) }, []float64{0.01, 1, 1000}, []float64{0, -1, nan, inf, 1e7}, "more than 0"},
		{"bucket_l", func(c *Conditions, x float64) { c.Bucket = ptr(unit.Litre(x)) }, []float64{0.1, 12}, []float64{0, -1, nan, inf, 1e6}, "more than 0"},
	} {
		check := func(x float64, bad bool) {
			c := DefaultConditions()
			tt.set(&c, x)
			ps := c.Check()
			if bad && (len(ps) != 1 || len(ps.On(tt.field)) != 1 || !strings.Contains(ps.Error(), tt.says)) {
				t.Errorf("%s %v: got %v, want one problem that says %q", tt.field, x, ps, tt.says)
			}
			if _, err := Scale(waterWith(80), plainPan(), c); !bad && (len(ps) > 0 || err != nil) || bad && err == nil {
				t.Errorf("%s %v: Check gives %v, Scale %v", tt.field, x, ps, err)
			}
		}
		for _, x := range tt.good {
			check(x, false)
		}
		for _, x := range tt.bad {
			check(x, true)
		}
	}
	if ps := DefaultConditions().Check(); len(ps) > 0 {
		t.Errorf("the defaults: %v", ps)
	}
	var ps input.Problems
	if _, err := Scale(waterWith(80), plainPan(), Conditions{}); !errors.As(err, &ps) || len(ps.On("step_g")) != 1 {
		t.Errorf("no step: got %v", err)
	}
}
