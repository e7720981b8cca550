package server

import (
	"math"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/server/view"
)

// figureForms are how each figure of a move is called and written.
var figureForms = map[bath.Figure]struct {
	name     input.Text
	decimals int
	unit     string
}{
	bath.OpenSurfacePerLitre: {input.Say("Open surface"), 0, "cm²\u00a0per\u00a0L"},
	bath.WaterLostPerHour:    {input.Say("Water lost, ±\u00a030\u00a0%"), 2, "L\u00a0per\u00a0h"},
	bath.HeatUp:              {input.Say("Time to heat"), 0, "min"},
	bath.MetalPerLitre:       {input.Say("Metal in one load"), 2, "dm²\u00a0per\u00a0L"},
	bath.MudDepth:            {input.Say("Depth of mud"), 1, "cm"},
	bath.SandSettles:         {input.Say("Fine sand settles in"), 1, "min"},
	bath.SiltSettles:         {input.Say("Fine silt settles in"), 0, "h"},
	bath.FreeHeight:          {input.Say("Free height"), 1, "cm"},
}

// A movePage is what the table says about a move.
type movePage struct {
	v      *visit
	format view.Format
	a      bath.Answer
}

// moved is the table that sets the tank where the recipe was proven beside this one.
func (m movePage) table(lines []bath.MoveLine, proven, now string) view.Table {
	t := view.Table{
		Caption: m.v.T("What the other tank changes"),
		Columns: []view.Column{
			{Label: m.v.T("What")}, {Label: m.v.T("%s, proven", proven), Figure: true}, {Label: now, Figure: true}, {Label: m.v.T("Means")},
		},
		Rows: make([]view.Row, len(lines)),
	}
	for i, l := range lines {
		t.Rows[i].Cells = []view.Cell{
			{Value: m.v.text(figureForms[l.Figure].name)},
			{Value: m.written(l.Figure, l.Proven), Small: m.rangeSaid(l)},
			{Value: m.written(l.Figure, l.Now)},
			m.means(l),
		}
	}
	return t
}

func (m movePage) written(f bath.Figure, x *float64) view.Quantity {
	if x == nil {
		return view.Quantity{Number: m.v.T("not known")}
	}
	how, y := figureForms[f], *x
	if f == bath.SiltSettles { // hours: its minutes run into thousands
		y /= 60
	}
	if math.Abs(y) < 1 && how.decimals < 2 {
		how.decimals++
	}
	return m.format.Fixed(y, how.decimals, how.unit)
}

func (m movePage) rangeSaid(l bath.MoveLine) string {
	switch {
	case l.Side == bath.NotKnown:
		return ""
	case l.Stated:
		return m.v.T("proven %s to %s", m.written(l.Figure, &l.Range.Lo).Number, m.written(l.Figure, &l.Range.Hi))
	default:
		return m.v.T("no range stated: ±\u00a010\u00a0%%, %s to %s", m.written(l.Figure, &l.Range.Lo).Number, m.written(l.Figure, &l.Range.Hi))
	}
}

// means says what a figure comes to. What leaves the proven range says so first, with its mark.
func (m movePage) means(l bath.MoveLine) view.Cell {
	c := view.Cell{Small: m.effect(l)}
	switch l.Side {
	case bath.Above:
		c.State, c.Value = "out", m.v.T("Over the proven %s", m.written(l.Figure, &l.Range.Hi))
	case bath.Below:
		c.State, c.Value = "out", m.v.T("Under the proven %s", m.written(l.Figure, &l.Range.Lo))
	case bath.Inside:
		c.State, c.Value = "in", m.v.T("As proven")
	default:
		c.State, c.Value = "q", m.v.T("Not known whether as proven")
	}
	return c
}

func (m movePage) effect(l bath.MoveLine) string {
	if l.Now == nil {
		return ""
	}
	more := l.Proven != nil && *l.Now > *l.Proven
	changed := l.Proven != nil && math.Abs(*l.Now-*l.Proven) > 0.05*math.Abs(*l.Proven)
	switch l.Figure {
	case bath.OpenSurfacePerLitre:
		if changed && more {
			return m.v.T("Loses water faster")
		} else if changed {
			return m.v.T("Loses water more slowly")
		}
	case bath.WaterLostPerHour:
		if *l.Now > 0 {
			perCM := float64(m.a.OpenSurface) / 1000 // L
			return m.v.T("Falls 1 cm in about %s", m.format.Minutes(60*perCM / *l.Now))
		}
	case bath.HeatUp:
		if changed && more {
			return m.v.T("Light it %s earlier", m.format.Minutes(*l.Now-*l.Proven))
		}
	case bath.MetalPerLitre:
		if changed && more {
			return m.v.T("The salt runs down sooner")
		}
	case bath.SandSettles:
		return m.v.T("Stir before each soak")
	case bath.FreeHeight:
		if changed && !more {
			return m.v.T("Less room for foam")
		}
	}
	return ""
}
