package bath

import (
	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// LargestLoadArea is beyond what is taken for a slip of the pen or of the unit.
const LargestLoadArea unit.SquareDM = 1e6

// Check returns everything that keeps a proof from being used, apart from its tank and load, which [Scale] checks. A range is
// named "ranges.<figure>.lo" and "ranges.<figure>.hi".
func (p Proof) Check() input.Problems {
	var ps input.Problems
	if !(p.LoadArea >= 0 && p.LoadArea <= LargestLoadArea) {
		ps.Add("load_area_dm2", written(float64(p.LoadArea)), input.Say("0 to %g dm²", float64(LargestLoadArea)))
	}
	for _, f := range Figures {
		r, stated := p.Ranges[f]
		switch {
		case !stated:
		case !(r.Lo >= 0):
			ps.Add("ranges."+string(f)+".lo", written(r.Lo), input.Say("0 or more"))
		case !(r.Hi >= r.Lo):
			ps.Add("ranges."+string(f)+".hi", written(r.Hi), input.Say("at least the lowest, %g", r.Lo))
		}
	}
	return ps
}
