package view

import (
	"bytes"
	"html/template"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"blackbath/bath"
	"blackbath/bath/unit"
	"blackbath/server/web"
	"blackbath/server/words"
)

func english(t testing.TB) Format {
	t.Helper()
	book, err := words.Load(web.Locales())
	if err != nil {
		t.Fatal(err)
	}
	return Format{Words: book.In(words.English)}
}

// rendered is the drawing as a page has it.
func rendered(t testing.TB, d TankDrawing) string {
	t.Helper()
	tmpl, err := template.ParseFS(web.Templates(), "parts/tank.tmpl")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := tmpl.ExecuteTemplate(&b, "tank", d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var drawn = []struct {
	file string
	tank bath.Tank
}{
	{"box", bath.Tank{Name: "Long box", Shape: bath.Box, Length: 60, Width: 40, Height: 35, Freeboard: 8}},
	{"cylinder", bath.Tank{Name: "Round pot", Shape: bath.Cylinder, Diameter: 36, Height: 32, Freeboard: 6}},
	{"cone", bath.Tank{Shape: bath.Cone, BottomDiameter: 24, TopDiameter: 34, Height: 30, Freeboard: 5}},
	{"bowl", bath.Tank{Name: "Shallow bowl", Shape: bath.Bowl, RimDiameter: 60, Depth: 20, Freeboard: 4}},
	{"drum", bath.Tank{Name: "Drum", Shape: bath.Drum, Diameter: 56, Length: 88, Freeboard: 14}},
	{"marks", bath.Tank{Name: "Beaten pan", Shape: bath.Marks, Freeboard: 4, Rim: at(18),
		MarkTable: []bath.Mark{{Level: 0, Volume: 0}, {Level: 4, Volume: 1.5}, {Level: 8, Volume: 5.5}, {Level: 12, Volume: 11}, {Level: 16, Volume: 17.5}}}},
}

func at(x unit.Centimetre) *unit.Centimetre { return &x }

// levelsOf are the three levels of a scaled bath, close together under the fill line.
func levelsOf(t bath.Tank) []LevelMark {
	full := t.FillLine()
	return []LevelMark{{full, "loaded", LevelLoaded}, {full - 0.6, "hot", LevelHot}, {full - 1.2, "cold", LevelCold}}
}

// The golden files were made once and checked by eye.
func TestDrawTankGolden(t *testing.T) {
	f := english(t)
	for _, tt := range drawn {
		t.Run(tt.file, func(t *testing.T) {
			d := DrawTank(tt.tank, levelsOf(tt.tank), TankOptions{
				Format: f, Mud: tt.tank.FillLine(), Settled: tt.tank.FillLine() * 0.3, Pieces: 3,
			})
			compare(t, tt.file, rendered(t, d))
			compare(t, tt.file+"_small", rendered(t, DrawTank(tt.tank, nil, TankOptions{Format: f, Mud: tt.tank.FillLine(), Small: true})))
		})
	}
}

func compare(t *testing.T, name, got string) {
	t.Helper()
	golden := filepath.Join("testdata", "tanks", name+".golden.svg")
	want, err := os.ReadFile(golden)
	if err == nil && string(want) == got {
		return
	}
	beside := filepath.Join("testdata", "tanks", name+".got.svg")
	if err := os.WriteFile(beside, []byte(got), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Errorf("the drawing differs from %s (%v): look at %s", golden, err, beside)
}

// drawTank is a tank of any shape and size that is fit for use.
func drawTank(t *rapid.T) bath.Tank {
	size := func(name string) unit.Centimetre { return unit.Centimetre(rapid.Float64Range(2, 400).Draw(t, name)) }
	tank := bath.Tank{Shape: rapid.SampledFrom(bath.Shapes).Draw(t, "shape")}
	switch tank.Shape {
	case bath.Box:
		tank.Length, tank.Width, tank.Height = size("length"), size("width"), size("height")
	case bath.Cylinder:
		tank.Diameter, tank.Height = size("diameter"), size("height")
	case bath.Cone:
		tank.BottomDiameter, tank.TopDiameter, tank.Height = size("bottom")-2, size("top"), size("height")
	case bath.Bowl:
		tank.RimDiameter = size("rim")
		tank.Depth = tank.RimDiameter * unit.Centimetre(rapid.Float64Range(0.05, 0.5).Draw(t, "depth"))
	case bath.Drum:
		tank.Diameter, tank.Length = size("diameter"), size("length")
	case bath.Marks:
		m := bath.Mark{}
		tank.MarkTable = []bath.Mark{m}
		for range rapid.IntRange(1, 6).Draw(t, "marks") {
			m.Level += size("rise") / 10
			m.Volume += unit.Litre(size("more"))
			tank.MarkTable = append(tank.MarkTable, m)
		}
	}
	tank.Freeboard = tank.RimHeight() * unit.Centimetre(rapid.Float64Range(0, 0.6).Draw(t, "freeboard"))
	return tank
}

func drawMarks(t *rapid.T, tank bath.Tank) []LevelMark {
	var marks []LevelMark
	for i := range rapid.IntRange(0, 5).Draw(t, "levels") {
		level := tank.FillLine() * unit.Centimetre(rapid.Float64Range(0, 1).Draw(t, "level"))
		marks = append(marks, LevelMark{level, rapid.SampledFrom([]string{"hot", "loaded", "cold"}).Draw(t, "word"),
			[]LevelKind{LevelCold, LevelHot, LevelLoaded}[i%3]})
	}
	return marks
}

func place(t interface{ Fatal(...any) }, s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

var lineOfLevel = regexp.MustCompile(`^M(\S+) (\S+)H(\S+)$`)

// A level of h cm of a rim at H cm stands at the same part of the way from the bottom to the rim, as wide as the surface there.
func TestLevelsAreToScale(t *testing.T) {
	f := english(t)
	rapid.Check(t, func(rt *rapid.T) {
		tank := drawTank(rt)
		marks := drawMarks(rt, tank)
		d := DrawTank(tank, marks, TankOptions{Format: f})
		numbers := regexp.MustCompile(`^M([\d.-]+) ([\d.-]+)V([\d.-]+)`).FindStringSubmatch(d.Scale)
		top, bottom := place(rt, numbers[2]), place(rt, numbers[3])
		for i, m := range allLevels(tank, marks, f) {
			if m.Kind == "" {
				continue
			}
			parts := lineOfLevel.FindStringSubmatch(d.Levels[i].Line)
			if parts == nil {
				rt.Fatalf("got line %q", d.Levels[i].Line)
			}
			got := (bottom - place(rt, parts[2])) / (bottom - top) * float64(tank.RimHeight())
			slack := 0.11 / (bottom - top) * float64(tank.RimHeight()) // places are written to a tenth of a unit
			if want := float64(m.Level); math.Abs(got-want) > slack {
				rt.Errorf("%s: level %.3f cm is drawn at %.3f cm", tank.Shape, want, got)
			}
			perCM := (bottom - top) / float64(tank.RimHeight())
			wide := (place(rt, parts[3]) - place(rt, parts[1])) / perCM
			if want := widthAt(tank, m.Level); tank.Shape != bath.Marks && math.Abs(wide-want) > 0.11/perCM+0.11/(bottom-top)*want {
				rt.Errorf("%s: at %.3f cm it is %.3f cm wide, drawn %.3f cm", tank.Shape, m.Level, want, wide)
			}
		}
	})
}

// widthAt is the width of the cut by school geometry: similar triangles, and Pythagoras in the circle.
func widthAt(t bath.Tank, level unit.Centimetre) float64 {
	h := float64(level)
	switch t.Shape {
	case bath.Box:
		return float64(t.Length)
	case bath.Cylinder:
		return float64(t.Diameter)
	case bath.Cone:
		return float64(t.BottomDiameter) + float64(t.TopDiameter-t.BottomDiameter)*h/float64(t.Height)
	case bath.Drum:
		r := float64(t.Diameter) / 2
		return 2 * math.Sqrt(max(r*r-(r-h)*(r-h), 0))
	case bath.Bowl:
		a, d := float64(t.RimDiameter)/2, float64(t.Depth)
		r := (a*a + d*d) / (2 * d)
		return 2 * math.Sqrt(max(r*r-(r-h)*(r-h), 0))
	}
	return 0
}

func TestLabelsDoNotOverlap(t *testing.T) {
	f := english(t)
	rapid.Check(t, func(rt *rapid.T) {
		tank := drawTank(rt)
		d := DrawTank(tank, drawMarks(rt, tank), TankOptions{Format: f})
		box := strings.Fields(d.ViewBox)
		left, width, height := place(rt, box[0]), place(rt, box[2]), place(rt, box[3])
		before := 0.0
		for i, l := range d.Levels {
			y := place(rt, l.Y)
			if i > 0 && y-before < labelGap-0.11 {
				rt.Errorf("labels %q and %q are %.1f apart, want at least %g", d.Levels[i-1].Word, l.Word, y-before, labelGap)
			}
			if y < numberSize*0.75 || y > height {
				rt.Errorf("label %q stands at %.1f, outside of 0 to %.1f", l.Word, y, height)
			}
			if end := place(rt, l.X) + float64(len(l.Number)+1+len(l.Word))*0.5*textSize; end > left+width {
				rt.Errorf("label %q ends at %.1f, the drawing at %.1f", l.Word, end, left+width)
			}
			before = y
		}
	})
}

func TestSpread(t *testing.T) {
	for _, tt := range []struct{ want, got []float64 }{
		{[]float64{50, 100}, []float64{50, 100}},            // far apart: nothing moves
		{[]float64{100, 100}, []float64{85, 115}},           // both give way alike
		{[]float64{100, 110, 300}, []float64{90, 120, 300}}, // the third stays
		{[]float64{10, 10}, []float64{21, 51}},              // not above the top
	} {
		got := spread(tt.want, 30, 21)
		if !slices.Equal(got, tt.got) {
			t.Errorf("spread(%v): got %v, want %v", tt.want, got, tt.got)
		}
	}
}

func TestTankDrawingSaysItsFigures(t *testing.T) {
	f := english(t)
	pot := bath.Tank{Name: "Round pot", Shape: bath.Cylinder, Diameter: 36, Height: 32, Freeboard: 6}
	d := DrawTank(pot, []LevelMark{{24.8, "cold", LevelCold}}, TankOptions{Format: f})
	want := "Round pot in section. Above the bottom: rim 32.0\u00a0cm, fill line 26.0\u00a0cm, cold 24.8\u00a0cm."
	if d.Label != want {
		t.Errorf("got %q, want %q", d.Label, want)
	}
	if got := rendered(t, DrawTank(bath.Tank{Shape: bath.Box}, nil, TankOptions{Format: f})); strings.TrimSpace(got) != "" {
		t.Errorf("got a drawing of a tank without sizes: %s", got)
	}
	marks := drawn[len(drawn)-1].tank
	if d := DrawTank(marks, nil, TankOptions{Format: f}); !d.Guessed || !strings.Contains(d.Note, "as if the tank were round") {
		t.Errorf("a tank by marks does not say that its outline is worked out: %+v", d.Note)
	}
}

// At 390 px a sheet leaves 330 px for a drawing; type in drawings must come out at 11.3 px or more.
func TestTypeIsLargeEnoughOnAPhone(t *testing.T) {
	if got := textSize * 330 / tankWidth; got < 11.3 {
		t.Errorf("got type of %.1f px at 390 px, want at least 11.3", got)
	}
}
