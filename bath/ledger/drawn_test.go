package ledger

import (
	"fmt"
	"time"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"

	"pgregory.net/rapid"
)

func of[T ~float64](x float64) *T {
	v := T(x)
	return &v
}

// drawBath draws a bath of a workshop's size with a history of some weeks, and everything that can happen to it.
func drawBath(t *rapid.T) Bath {
	b := Defaults()
	b.Name = "drawn"
	b.Tank = rapid.SampledFrom([]bath.Tank{
		{Name: "pot", Shape: bath.Cylinder, Diameter: 36, Height: 32, Freeboard: 6, HeaterKW: of[unit.Kilowatt](3)},
		{Name: "trough", Shape: bath.Box, Length: 60, Width: 40, Height: 35, Freeboard: 5},
		{Name: "bucket", Shape: bath.Cone, BottomDiameter: 24, TopDiameter: 30, Height: 30, Freeboard: 4},
		{Name: "pan", Shape: bath.Bowl, RimDiameter: 60, Depth: 25, Freeboard: 3},
		{Name: "beaten pan", Shape: bath.Marks, MarkTable: []bath.Mark{{}, {Level: 5, Volume: 2}, {Level: 10, Volume: 7.9}, {Level: 15, Volume: 16.5}, {Level: 25, Volume: 40}}, Freeboard: 3},
	}).Draw(t, "tank")
	b.Altitude = unit.Metre(rapid.Float64Range(0, 3000).Draw(t, "altitude"))
	b.Recipe = drawRecipe(t)
	if rapid.Bool().Draw(t, "learned") {
		b.Learned.ZincGPerM2 = of[unit.Gram](4)
		b.Learned.DragOutLPerM2 = of[float64](0.25)
		b.Learned.EvaporationRatios = []float64{0.8, 0.9, 1.1}
	}
	for _, s := range b.Recipe.Salts {
		b.Lots = append(b.Lots, Lot{Kind: bath.Salt, Salt: s.Salt, AssayPct: of[float64](rapid.Float64Range(80, 100).Draw(t, "assay of the lot"))})
	}
	b.Lots = append(b.Lots, Lot{Kind: bath.Earth, MoisturePct: of[float64](rapid.Float64Range(0, 40).Draw(t, "moisture of the lot"))})
	fill := float64(b.Tank.VolumeAt(b.Tank.FillLine()))
	b.Facts = []Fact{drawMakeUp(t, &b, fill*rapid.Float64Range(0.3, 0.9).Draw(t, "fill"))}
	at := b.Facts[0].At
	for i := range rapid.IntRange(0, 15).Draw(t, "facts") {
		at = at.Add(time.Duration(rapid.SampledFrom([]int{0, 0, 600, 1800, 7200, 36_000, 200_000}).Draw(t, "seconds later")) * time.Second)
		b.Facts = append(b.Facts, drawFact(t, &b, fmt.Sprintf("f%d", i), at, fill))
	}
	return b
}

// drawRecipe draws what a workshop could want, without rings.
func drawRecipe(t *rapid.T) Recipe {
	r := Recipe{Temp: bath.TempWindow{Min: 80, Target: 90, Max: 97}}
	all := rapid.SampledFrom([][]salt.ID{
		{salt.AmmoniumChloride},
		{salt.AmmoniumChloride, salt.SodiumChloride, salt.CopperSulfatePentahydrate},
		{salt.AmmoniumChloride, salt.PotassiumNitrate},
		{salt.AluminiumChlorideHexahydrate, salt.PotassiumNitrate, salt.AmmoniumChloride},
		{salt.AmmoniumSulfate, salt.AmmoniumChloride},
		{salt.CopperSulfate, salt.ZincSulfateHeptahydrate, salt.SodiumChloride},
		{},
	}).Draw(t, "salts")
	for _, id := range all {
		target := rapid.Float64Range(5, 120).Draw(t, "target")
		r.Salts = append(r.Salts, SaltWindow{id, Window{
			Min:    unit.GramPerKG(target * rapid.Float64Range(0.5, 1).Draw(t, "min over target")),
			Target: unit.GramPerKG(target),
			Max:    unit.GramPerKG(target * rapid.Float64Range(1, 1.5).Draw(t, "max over target")),
		}})
	}
	if rapid.Bool().Draw(t, "earth has a window") {
		r.EarthDry = &Window{400, 600, 700}
	}
	if rapid.Bool().Draw(t, "least level") {
		r.LevelMin = of[unit.Centimetre](8)
	}
	return r
}

func drawMakeUp(t *rapid.T, b *Bath, litres float64) Fact {
	off := func(name string) float64 { return rapid.Float64Range(0.4, 1.8).Draw(t, name) }
	waterG := litres * 650
	f := Fact{ID: "m", At: time.Date(2026, 1, 5, 8, 0, 0, 0, time.UTC), Kind: MakeUp, Parts: []Part{{Kind: WaterPart, Mass: of[unit.Gram](waterG)}}}
	for _, s := range b.Recipe.Salts {
		f.Parts = append(f.Parts, Part{Kind: SaltPart, Salt: s.Salt, Mass: of[unit.Gram](waterG / 1000 * float64(s.Target) * off("salt")), AssayPct: of[float64](98)})
	}
	earth := Part{Kind: EarthPart, Mass: of[unit.Gram](waterG * 0.6 * off("earth")), MoisturePct: of[float64](rapid.Float64Range(0, 30).Draw(t, "moisture"))}
	switch rapid.IntRange(0, 2).Draw(t, "carbonate") {
	case 1:
		earth.Carbonate = &Carbonate{2, 2}
	case 2:
		earth.Carbonate = &Carbonate{0, 5}
	}
	f.Parts = append(f.Parts, earth)
	return f
}

func drawFact(t *rapid.T, b *Bath, id string, at time.Time, fill float64) Fact {
	f := Fact{ID: id, At: at, Kind: rapid.SampledFrom([]Kind{Addition, TopUp, TopUp, Read, Read, Read, Soaked, Soaked, Soaked, HeatOn, HeatOn, HeatOff, LidOn, LidOff, Dumped}).Draw(t, "kind")}
	if rapid.Bool().Draw(t, "temperature read") {
		f.Temp = of[unit.Celsius](rapid.Float64Range(15, 105).Draw(t, "temperature"))
	}
	level := unit.Centimetre(rapid.Float64Range(0.3, 0.95).Draw(t, "level over rim")) * b.Tank.RimHeight()
	switch f.Kind {
	case Addition:
		f.Parts = []Part{{Kind: WaterPart, Litres: of[unit.Litre](rapid.Float64Range(0.1, 2).Draw(t, "litres"))}}
		if len(b.Recipe.Salts) > 0 {
			f.Parts = append(f.Parts, Part{Kind: SaltPart, Salt: b.Recipe.Salts[0].Salt, Mass: of[unit.Gram](rapid.Float64Range(1, 300).Draw(t, "salt"))})
		}
	case TopUp:
		if rapid.Bool().Draw(t, "to a mark") {
			f.ToLevel = &level
		} else {
			f.Parts = []Part{{Kind: MudPart, Litres: of[unit.Litre](fill * rapid.Float64Range(0.01, 0.1).Draw(t, "mud"))}}
		}
	case Read:
		f.Reading = &Reading{PiecesOut: rapid.Bool().Draw(t, "pieces out")}
		if rapid.Bool().Draw(t, "level read") || f.Temp == nil {
			f.Reading.Level = &level
		}
		if rapid.Bool().Draw(t, "density read") {
			f.Reading.Density = of[unit.GramPerCM3](rapid.Float64Range(0.98, 1.2).Draw(t, "density"))
		}
		if rapid.Bool().Draw(t, "conductivity read") {
			f.Reading.ConductivityMSCm, f.Reading.Dilution = of[float64](rapid.Float64Range(0.5, 20).Draw(t, "conductivity")), of[float64](30)
		}
		if rapid.Bool().Draw(t, "pH read") {
			f.Reading.PH = of[float64](rapid.Float64Range(3, 9).Draw(t, "pH"))
		}
	case Soaked:
		f.Soak = &Soak{}
		if rapid.IntRange(0, 4).Draw(t, "is out") > 0 {
			out := at.Add(time.Duration(rapid.SampledFrom([]int{0, 480, 900, 5000}).Draw(t, "soak")) * time.Second)
			f.Soak.Out = &out
		}
		if rapid.Bool().Draw(t, "area known") {
			f.Soak.Area = of[unit.SquareDM](rapid.Float64Range(1, 60).Draw(t, "area"))
		}
		if rapid.Bool().Draw(t, "metal known") {
			f.Soak.Metal = of[unit.Gram](rapid.Float64Range(100, 5000).Draw(t, "metal"))
		}
		switch rapid.IntRange(0, 3).Draw(t, "drag-out") {
		case 1:
			f.Soak.DragOutG = of[unit.Gram](rapid.Float64Range(10, 300).Draw(t, "dragged g"))
		case 2:
			f.Soak.DragOutL = of[unit.Litre](rapid.Float64Range(0.01, 0.3).Draw(t, "dragged l"))
		}
		if rapid.Bool().Draw(t, "hollow") {
			f.Soak.TrappedL = of[unit.Litre](rapid.Float64Range(0.01, 0.3).Draw(t, "trapped"))
		}
		if rapid.Bool().Draw(t, "loss known") {
			f.Soak.MetalLossG = of[unit.Gram](rapid.Float64Range(0.1, 5).Draw(t, "loss"))
		}
	case Dumped:
		f.Dump = &Dump{Litres: of[unit.Litre](fill * rapid.Float64Range(0.001, 0.3).Draw(t, "dumped")), What: rapid.SampledFrom([]string{Stirred, Liquor}).Draw(t, "what")}
	}
	return f
}
