package server

import (
	"math"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/view"
)

// A tankSize is one inner size of a tank; its name is that of a tank file.
type tankSize struct {
	name  string
	label input.Text
	of    func(*bath.Tank) *unit.Centimetre
}

var (
	lengthInside = tankSize{"length_cm", input.Say("Length inside"), func(t *bath.Tank) *unit.Centimetre { return &t.Length }}
	widthInside  = tankSize{"width_cm", input.Say("Width inside"), func(t *bath.Tank) *unit.Centimetre { return &t.Width }}
	heightInside = tankSize{"height_cm", input.Say("Height inside, bottom to rim"), func(t *bath.Tank) *unit.Centimetre { return &t.Height }}
	diameter     = tankSize{"diameter_cm", input.Say("Diameter inside"), func(t *bath.Tank) *unit.Centimetre { return &t.Diameter }}
	diameterLow  = tankSize{"bottom_diameter_cm", input.Say("Diameter at the bottom"), func(t *bath.Tank) *unit.Centimetre { return &t.BottomDiameter }}
	diameterHigh = tankSize{"top_diameter_cm", input.Say("Diameter at the rim"), func(t *bath.Tank) *unit.Centimetre { return &t.TopDiameter }}
	diameterBowl = tankSize{"rim_diameter_cm", input.Say("Diameter at the rim"), func(t *bath.Tank) *unit.Centimetre { return &t.RimDiameter }}
	depthInside  = tankSize{"depth_cm", input.Say("Depth in the middle"), func(t *bath.Tank) *unit.Centimetre { return &t.Depth }}
)

// tankSizes are the sizes that a shape asks for; one by marks has none.
func tankSizes(s bath.Shape) []tankSize {
	switch s {
	case bath.Box:
		return []tankSize{lengthInside, widthInside, heightInside}
	case bath.Cylinder:
		return []tankSize{diameter, heightInside}
	case bath.Cone:
		return []tankSize{diameterLow, diameterHigh, heightInside}
	case bath.Bowl:
		return []tankSize{diameterBowl, depthInside}
	case bath.Drum:
		return []tankSize{diameter, lengthInside}
	}
	return nil
}

// measuredTo is the highest level whose litres are known: the rim, or the last mark.
func measuredTo(t bath.Tank) unit.Centimetre {
	if n := len(t.MarkTable); t.Shape == bath.Marks && n > 0 {
		return t.MarkTable[n-1].Level
	}
	return t.RimHeight()
}

// litresToRim are not recorded where the marks end below the rim.
func litresToRim(t bath.Tank) *unit.Litre {
	if measuredTo(t) < t.RimHeight() {
		return nil
	}
	full := t.MeasuredVolume()
	return &full
}

// tankFacts is all that is kept of a tank, and what follows from it.
func tankFacts(v *visit, t bath.Tank, f view.Format) []view.Fact {
	facts := []view.Fact{{Name: v.T("Shape"), Value: v.text(view.ShapeName(t.Shape))}}
	add := func(name string, value any) { facts = append(facts, view.Fact{Name: name, Value: value}) }
	for _, s := range tankSizes(t.Shape) {
		add(v.text(s.label), f.Plain(*s.of(&t), unit.CM.Symbol))
	}
	if t.Shape == bath.Marks {
		add(v.T("Rim above the bottom"), f.Plain(t.RimHeight(), unit.CM.Symbol))
	}
	add(v.T("Free height left for foam"), f.Plain(t.Freeboard, unit.CM.Symbol))
	full := t.VolumeAt(t.FillLine())
	surface := t.SurfaceAt(t.FillLine())
	add(v.T("Holds to the fill line"), f.Litres(full))
	add(v.T("Holds to the rim"), f.Litres(litresToRim(t)))
	add(v.T("Open surface at the fill line"), v.T("%s, %s",
		f.Fixed(surface, 0, "cm²"), f.Fixed(float64(surface)/float64(full), 0, v.T("cm² per L"))))
	add(v.T("Heater, power that reaches the bath"), f.Plain(t.HeaterKW, unit.KW.Symbol))
	add(v.T("Wall"), v.text(view.WallName(t.Wall)))
	return facts
}

// levelStep parts a tank into at most 60 rows, by 5 cm where it is a usual one.
func levelStep(t bath.Tank) float64 {
	rim := float64(t.RimHeight())
	if rim < 15 {
		return math.Max(1, math.Ceil(rim/20))
	}
	step := 5.0
	for rim/step > 60 {
		step *= 2
	}
	return step
}
