package bath

import (
	"fmt"

	"blackbath/bath/salt"
	"blackbath/bath/unit"

	"pgregory.net/rapid"
)

// oneOfEachShape are tanks of a workshop's size.
func oneOfEachShape() []Tank {
	return []Tank{
		{Name: "trough", Shape: Box, Length: 60, Width: 40, Height: 35, Freeboard: 5},
		{Name: "pot", Shape: Cylinder, Diameter: 36, Height: 32, Freeboard: 6},
		{Name: "bucket", Shape: Cone, BottomDiameter: 24, TopDiameter: 30, Height: 30, Freeboard: 4},
		{Name: "funnel", Shape: Cone, BottomDiameter: 0, TopDiameter: 30, Height: 30, Freeboard: 4},
		{Name: "pan", Shape: Bowl, RimDiameter: 50, Depth: 15, Freeboard: 3},
		{Name: "drum", Shape: Drum, Diameter: 40, Length: 80, Freeboard: 10},
		{Name: "beaten pan", Shape: Marks, MarkTable: []Mark{{0, 0}, {5, 2.0}, {10, 7.9}, {15, 16.5}}, Freeboard: 3},
	}
}

// drawTank draws a tank from a cup of 5 cm to a vat of 3 m, with room under its fill line.
func drawTank(t *rapid.T) Tank {
	size := func(name string) unit.Centimetre { return unit.Centimetre(rapid.Float64Range(5, 300).Draw(t, name)) }
	tank := Tank{Name: "drawn", Shape: rapid.SampledFrom(Shapes).Draw(t, "shape")}
	switch tank.Shape {
	case Box:
		tank.Length, tank.Width, tank.Height = size("length"), size("width"), size("height")
	case Cylinder:
		tank.Diameter, tank.Height = size("diameter"), size("height")
	case Cone:
		tank.TopDiameter, tank.Height = size("top"), size("height")
		tank.BottomDiameter = unit.Centimetre(rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 300)).Draw(t, "bottom"))
	case Bowl:
		tank.RimDiameter = size("rim diameter")
		tank.Depth = tank.RimDiameter / 2 * unit.Centimetre(rapid.OneOf(rapid.Just(1.0), rapid.Float64Range(0.05, 1)).Draw(t, "depth over radius"))
	case Drum:
		tank.Diameter, tank.Length = size("diameter"), size("length")
	case Marks:
		tank.MarkTable = []Mark{{}}
		for i := range rapid.IntRange(1, 8).Draw(t, "marks") {
			last := tank.lastMark()
			tank.MarkTable = append(tank.MarkTable, Mark{
				Level:  last.Level + unit.Centimetre(rapid.Float64Range(0.5, 20).Draw(t, fmt.Sprintf("rise %d", i))),
				Volume: last.Volume + unit.Litre(rapid.Float64Range(0.1, 50).Draw(t, fmt.Sprintf("more %d", i))),
			})
		}
	}
	tank.Freeboard = tank.RimHeight() * unit.Centimetre(rapid.Float64Range(0, 0.6).Draw(t, "freeboard over depth"))
	if rapid.Bool().Draw(t, "heated") {
		tank.HeaterKW = ptr(unit.Kilowatt(rapid.Float64Range(0, 30).Draw(t, "heater")))
	}
	return tank
}

// drawRecipe draws a recipe that a workshop could mix: no more than 0.36 kg of salt and 1.2 kg of dry earth per kg of water,
// and never more water in earth and crystals than the recipe takes.
func drawRecipe(t *rapid.T) Recipe {
	optional := func(name string, lo, hi float64) *float64 {
		if rapid.Bool().Draw(t, name+" known") {
			return ptr(rapid.Float64Range(lo, hi).Draw(t, name))
		}
		return nil
	}
	r := Recipe{Name: "drawn"}
	water := 0.0
	for i := range rapid.IntRange(1, 2).Draw(t, "waters") {
		m := rapid.Float64Range(200, 20_000).Draw(t, fmt.Sprintf("water %d", i))
		water += m
		r.Parts = append(r.Parts, Part{Kind: Water, Mass: unit.Gram(m)})
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "earths") {
		p := Part{Kind: Earth, Name: rapid.SampledFrom([]string{"north bank", "lower cut", ""}).Draw(t, fmt.Sprintf("earth %d", i))}
		p.Mass = unit.Gram(water * rapid.Float64Range(0.001, 0.4).Draw(t, "earth per water"))
		p.MoisturePct = optional("moisture", 0, 40)
		if d := optional("grain density", 1.3, 4.5); d != nil {
			p.ParticleDensity = ptr(unit.GramPerCM3(*d))
		}
		r.Parts = append(r.Parts, p)
	}
	all := salt.All()
	for i := range rapid.IntRange(0, 4).Draw(t, "salts") {
		p := Part{Kind: Salt, Salt: all[rapid.IntRange(0, len(all)-1).Draw(t, fmt.Sprintf("salt %d", i))].ID}
		p.Mass = unit.Gram(water * rapid.Float64Range(0.0005, 0.09).Draw(t, "salt per water"))
		p.AssayPct = optional("assay", 60, 100)
		r.Parts = append(r.Parts, p)
	}
	target := rapid.Float64Range(30, 120).Draw(t, "target")
	r.Temp = TempWindow{
		Min:    unit.Celsius(rapid.Float64Range(0, target).Draw(t, "min")),
		Target: unit.Celsius(target),
		Max:    unit.Celsius(rapid.Float64Range(target, 150).Draw(t, "max")),
	}
	return r
}

// drawConditions draws the day and the place, with a load that leaves at least half of the tank to the mud.
func drawConditions(t *rapid.T, tank Tank) Conditions {
	c := DefaultConditions()
	c.Load = tank.VolumeAt(tank.FillLine()).CubicCM() * unit.CubicCM(rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 0.5)).Draw(t, "load"))
	c.Altitude = unit.Metre(rapid.Float64Range(-500, 9000).Draw(t, "altitude"))
	c.WaterTemp = unit.Celsius(rapid.Float64Range(0, 100).Draw(t, "water temperature"))
	c.Step = rapid.SampledFrom([]unit.Gram{0.01, 0.1, 0.5, 1, 2, 5, 10, 50, 1000}).Draw(t, "step")
	if rapid.Bool().Draw(t, "bucket known") {
		c.Bucket = ptr(unit.Litre(rapid.Float64Range(0.2, 30).Draw(t, "bucket")))
	}
	return c
}
