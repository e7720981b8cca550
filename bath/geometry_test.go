package bath

import (
	"math"
	"testing"

	"blackbath/bath/internal/published"
	"blackbath/bath/unit"

	"pgregory.net/rapid"
)

func TestPublishedGeometry(t *testing.T) {
	for _, row := range published.Table(t, "geometry.csv", 9) {
		size := func(column string) unit.Centimetre {
			if row[column] == "" { // of another shape
				return 0
			}
			return unit.Centimetre(row.Number(t, column))
		}
		tank := Tank{Shape: Shape(row["shape"])}
		switch tank.Shape {
		case Box:
			tank.Length, tank.Width, tank.Height = size("length_cm"), size("width_cm"), size("depth_cm")
		case Cylinder:
			tank.Diameter, tank.Height = size("diameter_cm"), size("depth_cm")
		case Cone:
			tank.BottomDiameter, tank.TopDiameter, tank.Height = size("bottom_diameter_cm"), size("diameter_cm"), size("depth_cm")
		case Bowl:
			tank.RimDiameter, tank.Depth = size("diameter_cm"), size("depth_cm")
		case Drum:
			tank.Diameter, tank.Length = size("diameter_cm"), size("length_cm")
		default:
			t.Fatalf("shape %q", tank.Shape)
		}
		if got := tank.RimHeight(); got != size("depth_cm") {
			t.Errorf("%s: rim at %v cm, want %v cm", tank.Shape, got, size("depth_cm"))
		}
		got, level := 0.0, size("level_cm")
		switch row["quantity"] {
		case "volume":
			got = float64(tank.VolumeAt(level))
		case "surface_radius":
			got = math.Sqrt(float64(tank.SurfaceAt(level)) / math.Pi)
		}
		if want := row.Number(t, "value"); math.Abs(got-want) > 5.1e-5 { // the table's last digit
			t.Errorf("%s, %s at %v cm: got %.6f %s, want %.4f", tank.Shape, row["quantity"], level, got, row["unit"], want)
		}
	}
}

// dipStick is a table of poured litres against the stick. Its figures between marks are linear by hand:
// 12 cm -> 7.9 + 2/5 × (16.5 - 7.9) = 11.34 L.
func dipStick() Tank {
	return Tank{Shape: Marks, MarkTable: []Mark{{0, 0}, {5, 2.0}, {10, 7.9}, {15, 16.5}}}
}

func TestDipStick(t *testing.T) {
	tank := dipStick()
	for _, tt := range []struct {
		level   unit.Centimetre
		litres  unit.Litre
		surface unit.SquareCM // dV/dh of the stretch below, by hand
	}{
		{0, 0, 400}, {2.5, 1, 400}, {5, 2, 400}, {7.5, 4.95, 1180}, {10, 7.9, 1180}, {12, 11.34, 1720}, {15, 16.5, 1720},
	} {
		if got := tank.VolumeAt(tt.level); !near(float64(got), float64(tt.litres), 1e-14) {
			t.Errorf("VolumeAt(%v cm) = %v L, want %v", tt.level, got, tt.litres)
		}
		if got := tank.SurfaceAt(tt.level); !near(float64(got), float64(tt.surface), 1e-12) {
			t.Errorf("SurfaceAt(%v cm) = %v cm², want %v", tt.level, got, tt.surface)
		}
		got, ok := tank.LevelOf(tt.litres)
		if !ok || !near(float64(got), float64(tt.level), 1e-13) {
			t.Errorf("LevelOf(%v L) = %v cm, %v; want %v", tt.litres, got, ok, tt.level)
		}
	}
	// Above the last mark nothing was measured: the table is not continued, also where the rim is higher.
	tank.Rim = ptr(unit.Centimetre(20))
	if got, ok := tank.LevelOf(16.51); ok {
		t.Errorf("LevelOf(16.51 L) = %v cm; want none, for the last mark is 16.5 L", got)
	}
	if got := tank.RimHeight(); got != 20 {
		t.Errorf("RimHeight() = %v, want 20", got)
	}
	if got := tank.MeasuredVolume(); got != 16.5 {
		t.Errorf("MeasuredVolume() = %v, want 16.5", got)
	}
}

// Half a sphere and a full drum have figures that anybody can look up: 2/3 π r³ and π r² L.
func TestFullShapes(t *testing.T) {
	for _, tt := range []struct {
		name string
		tank Tank
		want float64 // L
	}{
		{"half a sphere of 30 cm", Tank{Shape: Bowl, RimDiameter: 60, Depth: 30}, 2.0 / 3 * math.Pi * 27},
		{"drum of 40 cm by 80 cm", Tank{Shape: Drum, Diameter: 40, Length: 80}, math.Pi * 4 * 8},
		{"cone on its tip", Tank{Shape: Cone, TopDiameter: 30, Height: 40}, math.Pi * 2.25 * 4 / 3},
		{"cone on its base", Tank{Shape: Cone, BottomDiameter: 60, TopDiameter: 30, Height: 40}, math.Pi * 4 / 3 * (9 + 4.5 + 2.25)},
		{"cone with equal ends", Tank{Shape: Cone, BottomDiameter: 40, TopDiameter: 40, Height: 30}, math.Pi * 4 * 3},
	} {
		if got := float64(tt.tank.MeasuredVolume()); !near(got, tt.want, 1e-14) {
			t.Errorf("%s: got %v L, want %v", tt.name, got, tt.want)
		}
	}
}

func TestLevelOfRefuses(t *testing.T) {
	for _, tank := range oneOfEachShape() {
		full := tank.MeasuredVolume()
		for _, v := range []unit.Litre{full * (1 + 1e-12), 2 * full, -1e-12, unit.Litre(math.NaN()), unit.Litre(math.Inf(1)), unit.Litre(math.Inf(-1))} {
			if got, ok := tank.LevelOf(v); ok || got != 0 {
				t.Errorf("%s of %v L: LevelOf(%v) = %v, %v; want 0, false", tank.Shape, full, v, got, ok)
			}
		}
		for _, tt := range []struct {
			v    unit.Litre
			want unit.Centimetre
		}{{0, 0}, {full, tank.RimHeight()}} {
			got, ok := tank.LevelOf(tt.v)
			if !ok || math.Abs(float64(got-tt.want)) > levelTolerance(tank, tt.want) {
				t.Errorf("%s: LevelOf(%v L) = %v, %v; want %v", tank.Shape, tt.v, got, ok, tt.want)
			}
		}
	}
}

// A level outside the tank is taken at the nearer end.
func TestLevelsOutsideTheTank(t *testing.T) {
	for _, tank := range oneOfEachShape() {
		if got := tank.VolumeAt(-1); got != 0 {
			t.Errorf("%s: VolumeAt(-1) = %v, want 0", tank.Shape, got)
		}
		if got, want := tank.VolumeAt(2*tank.RimHeight()), tank.MeasuredVolume(); got != want {
			t.Errorf("%s: VolumeAt(twice the depth) = %v, want %v", tank.Shape, got, want)
		}
	}
}

// Volume is the sum of surfaces, so SurfaceAt has to be the slope of VolumeAt. A central difference over 2 d is off by about
// d²/6 of the third derivative; with d = 1e-4 of the depth, kept away from both ends, that is below 1e-5 of the full tank's
// mean surface, and rounding adds 1e-16 / 1e-4.
func TestSurfaceIsSlopeOfVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawTank(t)
		depth := float64(tank.RimHeight())
		h, d := depth*rapid.Float64Range(0.01, 0.99).Draw(t, "level"), depth*1e-4
		if tank.Shape == Marks { // a mark bends the line
			for _, m := range tank.MarkTable {
				if math.Abs(float64(m.Level)-h) <= 2*d {
					return
				}
			}
		}
		rise := tank.VolumeAt(unit.Centimetre(h+d)) - tank.VolumeAt(unit.Centimetre(h-d))
		want := float64(rise.CubicCM()) / (2 * d)
		got := float64(tank.SurfaceAt(unit.Centimetre(h)))
		mean := float64(tank.MeasuredVolume().CubicCM()) / depth
		if math.Abs(got-want) > 1e-5*mean+1e-9*want {
			t.Fatalf("surface at %v cm: got %v cm², want %v by difference", h, got, want)
		}
	})
}

func TestVolumeRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawTank(t)
		depth := float64(tank.RimHeight())
		low := rapid.Float64Range(0, 1).Draw(t, "low")
		high := rapid.Float64Range(low, 1).Draw(t, "high")
		a, b := tank.VolumeAt(unit.Centimetre(low*depth)), tank.VolumeAt(unit.Centimetre(high*depth))
		full := tank.MeasuredVolume()
		if a > b+full*1e-15 || a < 0 || b > full*(1+1e-15) {
			t.Fatalf("%v L at %v of the depth and %v L at %v, of %v L", a, low, b, high, full)
		}
		if high-low > 1e-3 && a >= b {
			t.Fatalf("no more at %v of the depth than at %v: %v L", high, low, a)
		}
	})
}

// levelTolerance is how near a level can be found again from its volume. A volume in floating point is good to some 1e-15 of
// the full tank at the top; the level's error is that over the surface. Where the surface shrinks to a point the error is the
// cube root of 1e-15, 1e-5 of the depth, and no method can do better; near the bottom volumes are small and exact, so 1e-12 of
// the depth is plenty there.
func levelTolerance(tank Tank, level unit.Centimetre) float64 {
	depth := float64(tank.RimHeight())
	slack := 1e-14 * float64(tank.VolumeAt(level).CubicCM()) / float64(tank.SurfaceAt(level))
	if !(slack < 2e-5*depth) {
		slack = 2e-5 * depth
	}
	return slack + 1e-12*depth
}

func TestLevelOfInvertsVolumeAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawTank(t)
		depth := float64(tank.RimHeight())
		share := rapid.OneOf(rapid.Float64Range(0, 1), rapid.Float64Range(0, 1e-6), rapid.Float64Range(1-1e-6, 1)).Draw(t, "share of the depth")
		h := unit.Centimetre(share * depth)
		v := tank.VolumeAt(h)
		got, ok := tank.LevelOf(v)
		if !ok {
			t.Fatalf("LevelOf(%v L) gives no level; the tank holds %v L", v, tank.MeasuredVolume())
		}
		if math.Abs(float64(got-h)) > levelTolerance(tank, h) {
			t.Fatalf("level of %v L: got %.17g cm, want %.17g", v, got, h)
		}
		// Some last digits of the volume, and 1e-20 of the tank for levels within an atom of the bottom.
		if back := tank.VolumeAt(got); math.Abs(float64(back-v)) > 4e-15*float64(v)+1e-20*float64(tank.MeasuredVolume()) {
			t.Fatalf("volume at the level found: got %.17g L, want %.17g", back, v)
		}
	})
}

// drumVolume is the form that handbooks print, r² acos((r-h)/r) - (r-h) sqrt(2rh - h²), worked in another way than the code.
func drumVolume(r, length, h float64) float64 {
	return length * (r*r*math.Acos((r-h)/r) - (r-h)*math.Sqrt(2*r*h-h*h)) / 1000
}

func TestDrumAgreesWithTheHandbookForm(t *testing.T) {
	for h := 0.5; h < 40; h += 0.5 {
		tank := Tank{Shape: Drum, Diameter: 40, Length: 80}
		if got, want := float64(tank.VolumeAt(unit.Centimetre(h))), drumVolume(20, 80, h); !near(got, want, 1e-12) {
			t.Errorf("drum at %v cm: got %v L, want %v", h, got, want)
		}
	}
	// Near the bottom the circle is a parabola: V = L × 4/3 × sqrt(2r) × h^1.5, to h/r.
	tank := Tank{Shape: Drum, Diameter: 40, Length: 80}
	if got, want := float64(tank.VolumeAt(1e-9)), 80*4.0/3*math.Sqrt(40)*math.Pow(1e-9, 1.5)/1000; !near(got, want, 1e-9) {
		t.Errorf("drum at 1e-9 cm: got %v L, want %v", got, want)
	}
}
