package bath

import (
	"fmt"
	"math"
	"testing"

	"blackbath/bath/salt"
	"blackbath/bath/unit"

	"pgregory.net/rapid"
)

// drawWild draws a number above 0 from all that a range allows, most of them beyond any sense.
func drawWild(t *rapid.T, name string, highest float64) float64 {
	x := rapid.OneOf(rapid.Just(-1074.0), rapid.Float64Range(-1074, math.Log2(highest)), rapid.Float64Range(-20, math.Log2(highest))).Draw(t, name)
	return min(math.Exp2(x), highest)
}

// Whatever passes the checks is scaled or refused with problems: no panic, no endless loop, no figure that is no number.
func TestScaleAtTheEndsOfTheRanges(t *testing.T) {
	all := salt.All()
	rapid.Check(t, func(t *rapid.T) {
		r := Recipe{}
		for i := range rapid.IntRange(1, 6).Draw(t, "parts") {
			p := Part{Kind: Water, Mass: unit.Gram(drawWild(t, fmt.Sprintf("mass %d", i), float64(LargestMass)))}
			if i > 0 {
				p.Kind = rapid.SampledFrom(PartKinds).Draw(t, "kind")
			}
			switch p.Kind {
			case Earth:
				p.MoisturePct = ptr(drawWild(t, "moisture", LargestMoisture))
				p.ParticleDensity = ptr(unit.GramPerCM3(rapid.SampledFrom([]float64{math.Nextafter(1, 2), 2.65, 8}).Draw(t, "grain")))
			case Salt:
				p.Salt = all[rapid.IntRange(0, len(all)-1).Draw(t, "salt")].ID
				p.AssayPct = ptr(drawWild(t, "assay", 100))
			}
			r.Parts = append(r.Parts, p)
		}
		target := unit.Celsius(rapid.Float64Range(0, float64(HottestTarget)).Draw(t, "target"))
		r.Temp = TempWindow{0, target, HottestTarget}

		size := func(name string) unit.Centimetre { return unit.Centimetre(drawWild(t, name, float64(LargestSize))) }
		tank := Tank{Shape: rapid.SampledFrom(Shapes).Draw(t, "shape")}
		for _, s := range []*unit.Centimetre{&tank.Length, &tank.Width, &tank.Height, &tank.Diameter, &tank.BottomDiameter, &tank.TopDiameter, &tank.RimDiameter} {
			*s = size("size")
		}
		tank.Depth = tank.RimDiameter / 2 * unit.Centimetre(drawWild(t, "depth", 1))
		tank.MarkTable = []Mark{{}, {size("level"), unit.Litre(drawWild(t, "litres", float64(LargestVolume)))}}
		tank.Freeboard = tank.RimHeight() * unit.Centimetre(1-drawWild(t, "freeboard", 1))
		if rapid.Bool().Draw(t, "heated") {
			tank.HeaterKW = ptr(unit.Kilowatt(drawWild(t, "heater", float64(LargestHeater))))
		}

		c := Conditions{
			WaterTemp: unit.Celsius(rapid.Float64Range(0, 100).Draw(t, "water")),
			Altitude:  unit.Metre(rapid.Float64Range(-500, 9000).Draw(t, "altitude")),
			Step:      unit.Gram(max(1e-6, drawWild(t, "step", float64(LargestStep)))),
			Bucket:    ptr(unit.Litre(max(1e-6, drawWild(t, "bucket", float64(LargestBucket))))),
		}
		if rapid.Bool().Draw(t, "loaded") {
			c.Load = unit.CubicCM(drawWild(t, "load", 1e12))
		}
		holdsScaling(t, r, tank, c)
	})
}
