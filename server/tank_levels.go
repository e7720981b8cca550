package server

import (
	"fmt"
	"math"
	"slices"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/view"
)

// tankLevels are the levels of the table: every 5 cm or each mark, the fill line, and the rim if its litres are known.
func tankLevels(t bath.Tank) []unit.Centimetre {
	levels := []unit.Centimetre{t.FillLine(), measuredTo(t)}
	if t.Shape == bath.Marks {
		for _, m := range t.MarkTable[1:] {
			levels = append(levels, m.Level)
		}
	} else {
		step := levelStep(t)
		for level := step; level < float64(t.RimHeight()); level += step {
			levels = append(levels, unit.Centimetre(level))
		}
	}
	slices.Sort(levels)
	return slices.CompactFunc(levels, func(a, b unit.Centimetre) bool { return math.Abs(float64(a-b)) < 0.005 })
}

func tankLevelTable(v *visit, t bath.KeptTank, f view.Format) view.Table {
	table := view.Table{
		Caption: v.T("Levels of %s", t.Name),
		CSV:     tankPath(t.ID) + "/levels.csv",
		Columns: []view.Column{
			{Label: v.T("Level above the bottom")}, {Label: v.T("Holds"), Figure: true}, {Label: v.T("Open surface"), Figure: true},
		},
	}
	for _, level := range tankLevels(t.Tank) {
		c := view.Cell{Value: f.Fixed(level, levelDecimals(level), unit.CM.Symbol)}
		switch {
		case math.Abs(float64(level-t.FillLine())) < 0.005:
			c.Small = v.T("fill line")
		case math.Abs(float64(level-t.RimHeight())) < 0.005:
			c.Small = v.T("rim")
		}
		table.Rows = append(table.Rows, view.Row{Cells: []view.Cell{
			c, {Value: f.Litres(t.VolumeAt(level))}, {Value: f.Fixed(t.SurfaceAt(level), 0, "cm²")},
		}})
	}
	return table
}

// levelDecimals keeps a level that was measured finer than a dip stick shows as it was typed.
func levelDecimals(level unit.Centimetre) int {
	if tenths := float64(level) * 10; math.Abs(tenths-math.Round(tenths)) > 1e-6 {
		return 2
	}
	return 1
}

// tankQuestions binds the two questions that can be asked of a tank, and answers what was asked.
func tankQuestions(fm *form.Form, t bath.Tank, f view.Format) []string {
	var level *unit.Centimetre
	var volume *unit.Litre
	form.Optional(fm, &level, form.Field{Name: "level", Label: input.Say("Read on the stick"), Unit: unit.CM})
	form.Optional(fm, &volume, form.Field{Name: "volume", Label: input.Say("Litres in the tank"), Unit: unit.L})
	var answers []string
	if level != nil {
		if top := measuredTo(t); *level < 0 || *level > top {
			fm.Refuse("level", fm.Get("level").Typed, input.Say("a level between 0 and %s", f.Plain(top, unit.CM.Symbol)))
		} else {
			answers = append(answers, f.Say("%s on the stick is %s. The open surface is %s.",
				f.Fixed(*level, levelDecimals(*level), unit.CM.Symbol), f.Litres(t.VolumeAt(*level)), f.Fixed(t.SurfaceAt(*level), 0, "cm²")))
		}
	}
	if volume != nil {
		stands, ok := t.LevelOf(*volume)
		if !ok {
			most := math.Floor(float64(t.MeasuredVolume())*100) / 100
			fm.Refuse("volume", fm.Get("volume").Typed, input.Say("a volume between 0 and %s", f.Plain(most, unit.L.Symbol)))
		} else {
			answers = append(answers, f.Say("%s stands at %s on the stick.", f.Plain(*volume, unit.L.Symbol), f.CM(stands)))
		}
	}
	return answers
}

// tankDoubt says how far the litres can be trusted.
func tankDoubt(v *visit, t bath.Tank, f view.Format) string {
	perMM := f.Litres(float64(t.SurfaceAt(t.FillLine())) * 0.1 / 1000)
	if t.Shape == bath.Marks {
		return v.T("Between two marks a straight line is taken. At the fill line 1 mm on the stick is %s. No other uncertainty is worked out.", perMM)
	}
	return v.T("Worked out from the sizes as if the walls were true. At the fill line 1 mm on the stick is %s. No other uncertainty is worked out.", perMM)
}

func tankPath(id int64) string { return fmt.Sprintf("/tanks/%d", id) }
