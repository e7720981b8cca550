package ledger

import (
	"math"
	"time"

	"blackbath/bath/water"
)

// Evaporation goes in equal steps of at most these.
const (
	warmStep = int64(15 * time.Minute)
	coldStep = int64(24 * time.Hour)
)

// A spell runs from the make-up, a level reading or a top-up to a mark to the next level reading. g of water.
type spell struct {
	booked float64 // as evaporated
	plain  float64 // by the formula alone: without factor, lid and doubt
	lid    bool
	boiled bool
}

// runTo lets time pass to the next event.
func (r *replay) runTo(at int64) {
	length := at - r.now
	if length <= 0 {
		return
	}
	c, assumed := r.therm.curve(r.targetC())
	if assumed {
		r.warns.add(TemperatureAssumed, r.therm.spellID)
	}
	from, to := float64(r.now), float64(at)
	step := coldStep
	if c.at(from) >= warmC || c.at(to) >= warmC {
		step = warmStep
	}
	n := (length + step - 1) / step
	each := float64(length) / float64(n)
	for i := range n {
		r.evaporate(c.at(from+(float64(i)+0.5)*each), each/nsPerHour)
	}
	r.now, r.therm.nowC = at, c.at(to)
}

// evaporate lets one step pass at one temperature.
func (r *replay) evaporate(tC, hours float64) {
	if r.x[waterAt] <= 0 {
		if tC >= hotC {
			r.hotH += hours
		}
		return
	}
	l := r.liquor(&r.x)
	tC, plainPa, surfacePa := r.cutBy(l.WaterActivity(), tC)
	if tC >= hotC {
		r.hotH += hours
	}
	most := water.BoilingShare * r.pressurePa
	boiling := surfacePa >= most
	gPerH := 0.0
	if room := &r.bath.Room; r.roomPa < r.pressurePa {
		m2 := r.straightM2
		if m2 == 0 {
			m2 = r.surfaceM2(r.volumeOf(&l, r.x[earthAt], tC))
		}
		gPerH = 1000 * m2 * water.SurfaceEvaporationKgPerM2H(min(surfacePa, most), tC, r.pressurePa, r.roomPa, float64(room.Temp), room.AirMPerS)
	}
	r.spell.plain += gPerH * hours
	gPerH *= r.learning.factor
	if r.lid {
		r.spell.lid = true
		gPerH *= r.bath.LidFactor
	}
	if boiling {
		r.spell.boiled = true
		if r.therm.heat != heatIsOff {
			if kw := r.bath.Tank.HeaterKW; kw != nil {
				gPerH = 1000 * water.BoilOffKgPerH(float64(*kw), tC)
			} else {
				r.warns.add(HeaterUnknown)
			}
		}
	}
	r.steam(gPerH*hours, tC, plainPa)
}

// steam takes water out, foretold g of it before doubt, and the ammonia that goes with it.
func (r *replay) steam(foretoldG, tC, plainPa float64) {
	before := r.x[waterAt]
	trust := 1 + r.doubt(doubtEvaporation)
	gone := min(max(foretoldG*trust, 0), before)
	if gone == 0 {
		return
	}
	after := before - gone
	r.move(flowEvaporated, waterAt, -gone)
	r.spell.booked += gone
	r.row(waterAt, 1, doubtEvaporation, -gone/trust)
	if after == 0 {
		r.warns.add(BoiledDry)
	}
	held := r.x[ionsAt+ammonium]
	switch {
	case r.limed || held == 0:
	case r.phKnown:
		perDoubt := ammoniaOverSteam(tC, plainPa) * r.ammoniaShare
		power := perDoubt * max(1+r.doubt(doubtAmmonia), 0)
		kept, slope := 1.0, 0.0
		if power > 0 {
			log := math.Log(after / before) // -Inf when nothing is left
			kept = math.Exp(power * log)
			if after > 0 {
				slope = held * kept * log * perDoubt
			}
		}
		r.move(flowGassed, ionsAt+ammonium, held*kept-held)
		r.row(ionsAt+ammonium, kept, doubtAmmonia, slope)
	case tC >= hotC:
		r.warns.add(PHUnknown)
	}
}

// ammoniaOverSteam is how many times faster free ammonia leaves a bath than water does, each against what is there:
// rho_w / (M_w H psat), with Henry's solubility H of ammonia in mol/(m3 Pa) of R. Sander, "Compilation of Henry's law constants
// (version 5.0.0) for water as solvent", Atmos. Chem. Phys. 23 (2023) 10901-12440, the recommended row. Beyond 40 °C it is
// extrapolated. plainPa is plain water's vapour pressure.
func ammoniaOverSteam(tC, plainPa float64) float64 {
	const waterKgPerMol = 0.018015
	h := 0.59 * math.Exp(4200*(1/(tC+zeroCelsiusK)-1/298.15))
	return water.DensityKgM3(tC) / (waterKgPerMol * h * plainPa)
}

const zeroCelsiusK = 273.15

// freeAmmonia is the share of all ammonium that is free ammonia: K. Emerson, R. C. Russo, R. E. Lund and R. V. Thurston,
// "Aqueous ammonia equilibrium calculations", J. Fish. Res. Board Can. 32 (1975) 2379-2383. Beyond 50 °C it is extrapolated.
func freeAmmonia(ph, tC float64) float64 {
	pKa := 0.09018 + 2729.92/(tC+zeroCelsiusK)
	return 1 / (1 + math.Pow(10, pKa-ph))
}
