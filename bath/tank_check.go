package bath

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// Beyond these a size is taken for a slip of the pen or of the unit.
const (
	LargestSize    unit.Centimetre = 10_000 // 100 m
	LargestHeater  unit.Kilowatt   = 10_000
	LargestVolume  unit.Litre      = 1e9  // of a mark: a cube of 100 m
	SmallestVolume unit.Litre      = 1e-6 // a cube of 1 mm
)

// absent marks a number that has to be there and was not given. JSON cannot hold it, and Check names it as missing.
var absent = math.NaN()

// written returns a number as a person would write it, and "" for one that is absent.
func written(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// Check returns everything that keeps a tank from being used. Fields are named as in a tank file.
func (t Tank) Check() input.Problems {
	var ps input.Problems
	positive := func(field string, x unit.Centimetre) {
		if !(x > 0 && x <= LargestSize) {
			ps.Add(field, written(float64(x)), input.Say("more than 0 and at most %g cm", float64(LargestSize)))
		}
	}
	switch t.Shape {
	case Box:
		positive("length_cm", t.Length)
		positive("width_cm", t.Width)
		positive("height_cm", t.Height)
	case Cylinder:
		positive("diameter_cm", t.Diameter)
		positive("height_cm", t.Height)
	case Cone:
		if !(t.BottomDiameter >= 0 && t.BottomDiameter <= LargestSize) {
			ps.Add("bottom_diameter_cm", written(float64(t.BottomDiameter)), input.Say("0 to %g cm", float64(LargestSize)))
		}
		positive("top_diameter_cm", t.TopDiameter)
		positive("height_cm", t.Height)
	case Bowl:
		positive("rim_diameter_cm", t.RimDiameter)
		positive("depth_cm", t.Depth)
		if len(ps) == 0 && t.Depth > t.RimDiameter/2 {
			ps = append(ps, input.Problem{Field: "depth_cm", Got: written(float64(t.Depth)),
				Allowed: input.Say("at most half the rim's diameter, %g cm", float64(t.RimDiameter/2)),
				Hint:    input.Say("A deeper pan has straight walls above its bowl: give it as marks, pouring known litres and reading the stick")})
		}
	case Drum:
		positive("diameter_cm", t.Diameter)
		positive("length_cm", t.Length)
	case Marks:
		ps = append(ps, t.checkMarks()...)
	default:
		ps.Add("shape", string(t.Shape), input.Say("one of %s", list(Shapes)))
	}
	if len(ps) == 0 {
		ps = append(ps, t.checkFreeboard()...)
	}
	if t.HeaterKW != nil && !(*t.HeaterKW >= 0 && *t.HeaterKW <= LargestHeater) {
		ps.Add("heater_kw", written(float64(*t.HeaterKW)), input.Say("0 to %g kW", float64(LargestHeater)))
	}
	if t.Wall != "" && !slices.Contains(Walls, t.Wall) {
		ps.Add("wall", string(t.Wall), input.Say("one of %s", list(Walls)))
	}
	return ps
}

func (t Tank) checkMarks() input.Problems {
	var ps input.Problems
	if len(t.MarkTable) < 2 {
		ps.Add("marks", fmt.Sprintf("%d marks", len(t.MarkTable)), input.Say("the bottom, 0 cm and 0 L, and at least one mark above it"))
		return ps
	}
	var before Mark
	for i, m := range t.MarkTable {
		at := func(key string) string { return fmt.Sprintf("marks[%d].%s", i, key) }
		level, litres := float64(m.Level), float64(m.Volume)
		switch {
		case i == 0 && level != 0:
			ps.Add(at("level_cm"), written(level), input.Say("0: the first mark is the bottom"))
		case i > 0 && !(level > float64(before.Level) && m.Level <= LargestSize):
			ps.Add(at("level_cm"), written(level), input.Say("more than the mark before, %g cm, and at most %g cm", float64(before.Level), float64(LargestSize)))
		}
		switch {
		case i == 0 && litres != 0:
			ps.Add(at("litres"), written(litres), input.Say("0: the first mark is the bottom"))
		case i > 0 && !(litres > float64(before.Volume) && m.Volume <= LargestVolume):
			ps.Add(at("litres"), written(litres), input.Say("more than the mark before, %g L, and at most %g L: a higher level holds more", float64(before.Volume), float64(LargestVolume)))
		}
		if !math.IsNaN(level) { // else the next mark is held against the last one that is known
			before.Level = m.Level
		}
		if !math.IsNaN(litres) {
			before.Volume = m.Volume
		}
	}
	if len(ps) == 0 && t.Rim != nil && !(*t.Rim >= t.lastMark().Level && *t.Rim <= LargestSize) {
		ps.Add("rim_cm", written(float64(*t.Rim)), input.Say("at or above the last mark, %g cm, and at most %g cm", float64(t.lastMark().Level), float64(LargestSize)))
	}
	return ps
}

func (t Tank) checkFreeboard() input.Problems {
	var ps input.Problems
	rim := t.RimHeight()
	full := t.MeasuredVolume()
	switch {
	case !(full >= SmallestVolume) || math.IsInf(float64(full), 0) || slices.ContainsFunc(t.MarkTable, func(m Mark) bool { return math.IsInf(float64(t.SurfaceAt(m.Level)), 0) }):
		ps.Add("shape", string(t.Shape), input.Say("sizes that give a volume of %g L or more", float64(SmallestVolume)))
	case t.Freeboard < 0:
		ps = append(ps, input.Problem{Field: "freeboard_cm", Got: written(float64(t.Freeboard)),
			Allowed: input.Say("0 or more, and less than the depth, %g cm", float64(rim)),
			Hint:    input.Say("The fill line would stand above the rim")})
	case !(t.Freeboard >= 0 && t.Freeboard < rim):
		ps.Add("freeboard_cm", written(float64(t.Freeboard)), input.Say("0 or more, and less than the depth, %g cm", float64(rim)))
	case t.Shape == Marks && t.FillLine() > t.lastMark().Level:
		ps = append(ps, input.Problem{Field: "freeboard_cm", Got: written(float64(t.Freeboard)),
			Allowed: input.Say("at least %g cm: the fill line must not stand above the last mark, %g cm", float64(rim-t.lastMark().Level), float64(t.lastMark().Level)),
			Hint:    input.Say("Or measure one more mark higher up")})
	case t.FillLine() <= 0 || t.VolumeAt(t.FillLine()) < SmallestVolume:
		ps.Add("freeboard_cm", written(float64(t.Freeboard)), input.Say("less than the depth, %g cm, so that there is room for a bath", float64(rim)))
	}
	return ps
}

func list[S ~string](words []S) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return strings.Join(out, ", ")
}
