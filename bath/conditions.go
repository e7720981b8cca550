package bath

import (
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// Conditions are what a scaling takes from the day and the place: the load, the height above the sea, the water, the
// balance and the bucket.
type Conditions struct {
	Load         unit.CubicCM  // metal of the load; a hollow piece displaces its metal only
	Altitude     unit.Metre    // height above the sea; WaterBoilsAt beats it
	WaterBoilsAt *unit.Celsius // where plain water boils here, measured. Nil: from Altitude
	WaterTemp    unit.Celsius  // of the water that is poured
	Coldest      *unit.Celsius // coldest that the bath will be. Nil: the lower of WaterTemp and the window's Min
	Step         unit.Gram     // smallest step of the balance
	Bucket       *unit.Litre   // nil: water is not counted in buckets

	// LastChloride is the chloride that this workshop used before: ammonium or aluminium chloride, or [NoChloride]. Empty:
	// not asked, as on the command line. It touches no figure, only the cautions.
	LastChloride salt.ID
}

// NoChloride says that the workshop has used neither of the chlorides that are mixed up.
const NoChloride salt.ID = "none"

// DefaultConditions are those of `blackbath scale` without options: no load, sea level, water at 20 °C, a step of 1 g and no
// bucket.
func DefaultConditions() Conditions { return Conditions{WaterTemp: 20, Step: 1} }

// Beyond these a condition is taken for a slip of the pen or of the unit.
const (
	LowestAltitude  unit.Metre   = -500
	HighestAltitude unit.Metre   = 9000
	SmallestStep    unit.Gram    = 1e-6
	LargestStep     unit.Gram    = 1e6
	SmallestBucket  unit.Litre   = 1e-3
	LargestBucket   unit.Litre   = 1e5
	CoolestBoil     unit.Celsius = 60  // plain water at about 12 000 m
	HottestBoil     unit.Celsius = 110 // deeper than any mine
	ColdestWorkshop unit.Celsius = -60
)

// Check returns everything that keeps conditions from being used. Fields are named as the options of the command line.
// The load is checked against the tank by [Scale].
func (c Conditions) Check() input.Problems {
	var ps input.Problems
	within := func(field string, x, lo, hi float64, symbol string) {
		if !(x >= lo && x <= hi) {
			ps.Add(field, written(x), input.Say("%g to %g %s", lo, hi, symbol))
		}
	}
	if !(c.Load >= 0 && c.Load <= 1e12) {
		ps.Add("load_cm3", written(float64(c.Load)), input.Say("0 cm³ or more, and less than the tank holds under its fill line"))
	}
	within("altitude_m", float64(c.Altitude), float64(LowestAltitude), float64(HighestAltitude), "m")
	if c.WaterBoilsAt != nil {
		within("water_boils_at_c", float64(*c.WaterBoilsAt), float64(CoolestBoil), float64(HottestBoil), "°C")
	}
	within("water_temp_c", float64(c.WaterTemp), 0, 100, "°C")
	if c.Coldest != nil {
		within("coldest_c", float64(*c.Coldest), float64(ColdestWorkshop), float64(HottestTarget), "°C")
	}
	if !(c.Step >= SmallestStep && c.Step <= LargestStep) {
		ps.Add("step_g", written(float64(c.Step)), input.Say("more than 0, at least %g g, and at most %g g", float64(SmallestStep), float64(LargestStep)))
	}
	if c.Bucket != nil && !(*c.Bucket >= SmallestBucket && *c.Bucket <= LargestBucket) {
		ps.Add("bucket_l", written(float64(*c.Bucket)), input.Say("more than 0, at least %g L, and at most %g L", float64(SmallestBucket), float64(LargestBucket)))
	}
	return ps
}
