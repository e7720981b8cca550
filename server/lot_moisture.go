package server

import (
	"math"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/form"
)

// sameFigure is how far a figure may be from the stored one that it was written from, as a share of it.
const sameFigure = 1e-9

// moistureFields ask how damp an earth is in one of three ways: two weighings, which are the best, the figure on the dry basis,
// or what a meter shows. Only one may be filled in: two that differ would leave it open which was meant. What was stored before
// and is not touched gives way to a new measurement.
func moistureFields(f *form.Form, dst **float64) {
	var damp, dry *unit.Gram
	var meter *float64
	held := *dst
	form.Optional(f, &damp, form.Field{Name: "damp_g", Label: input.Say("Sample, damp"), Unit: unit.G})
	form.Optional(f, &dry, form.Field{Name: "dry_g", Label: input.Say("Same sample, dry"), Unit: unit.G})
	form.Optional(f, dst, form.Field{Name: "moisture_pct", Label: input.Say("Or: water per dry earth"), Unit: unit.Pct, Suffix: input.Say("% of dry")})
	form.Optional(f, &meter, form.Field{Name: "meter_pct", Label: input.Say("Or: a meter shows"), Unit: unit.Pct, Suffix: input.Say("% of damp")})
	if !f.Sent() {
		return
	}
	stored := held != nil && *dst != nil && math.Abs(**dst-*held) <= sameFigure**held
	direct := !emptyField(f, "moisture_pct") && !stored
	weighed := !emptyField(f, "damp_g") || !emptyField(f, "dry_g")
	one := input.Say("nothing here: one way is enough, and another one is filled in")
	if weighed && direct {
		f.Refuse("moisture_pct", f.Get("moisture_pct").Typed, one)
	}
	if (weighed || direct) && !emptyField(f, "meter_pct") {
		f.Refuse("meter_pct", f.Get("meter_pct").Typed, one)
	}
	var pct float64
	var ps input.Problems
	switch {
	case damp != nil && dry != nil:
		pct, ps = bath.MoistureFromWeighings(*damp, *dry)
	case weighed:
		for _, name := range []string{"damp_g", "dry_g"} {
			if emptyField(f, name) {
				f.Refuse(name, "", input.Say("the mass of the same sample, or leave both empty"))
			}
		}
		return
	case meter != nil:
		pct, ps = bath.MoistureFromMeter(*meter)
	default:
		return
	}
	f.Add(withTyped(f, ps))
	*dst = &pct
}
