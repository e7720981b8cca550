package ledger

import (
	"math"

	"blackbath/bath/unit"
)

type gaugeKind int

const (
	densityGauge gaugeKind = iota
	conductivityGauge
	gaugeCount
	stick = gaugeCount
)

// A gauge foretells what an instrument would read in a bath of given amounts.
type gauge struct {
	kind     gaugeKind
	tC       float64
	dilution float64
}

// foretell is the reading of a gauge: L of mud, kg/L of liquor, mS/cm of diluted liquor at 25 °C.
func (m *model) foretell(g *gauge, x *amounts) float64 {
	switch g.kind {
	case densityGauge:
		l := m.liquor(x)
		return l.DensityKgL(g.tC)
	case conductivityGauge:
		return conductivityMSCm(x, g.dilution)
	}
	return m.volumeL(x, g.tC)
}

// conductivityMSCm is that of settled liquor of which 1 g was made up to dilution g, at 25 °C: Kohlrausch's law with the square
// root of the ionic strength, sum(lambda |z| c) (1 - 0.57 sqrt(I)). The factor is an engineering choice: within 6 % for
// chlorides, 15 % high for sulfates.
func conductivityMSCm(x *amounts, dilution float64) float64 {
	liquorG := x[waterAt]
	for i := range ions {
		liquorG += x[ionsAt+i] * ions[i].molarMass
	}
	const kgPerL = 0.997 // of water at 25 °C, as the diluted liquor nearly is
	perMol := kgPerL * 1000 / (liquorG * dilution)
	sum, strength := 0.0, 0.0
	for i := range ions {
		c := x[ionsAt+i] * perMol
		sum += ions[i].conductivity * ions[i].charge * c
		strength += ions[i].charge * ions[i].charge * c / 2
	}
	return sum * (1 - 0.57*math.Sqrt(strength))
}

// gradient is the derivative of a foretold reading by the amounts, by central differences; forward where an amount is too small
// to take the step away. Central, because the pairing of ions has a kink exactly where they are neutral: taking an ion out
// breaks a pair, putting one in leaves a stray. Only the mean of the two sums, over a salt's ions, to that salt's own effect:
// with e the effect of the pair and s that of its ions as strays, backward gives 2e - s, forward s. Backward alone would say of
// a bath of ammonium chloride that a denser liquor is a weaker one.
func (m *model) gradient(g *gauge, x *amounts) (h amounts) {
	for i := range x {
		was := x[i]
		step := max(1e-4*was, 0.001)
		x[i] = was + step
		more, apart := m.foretell(g, x), 2*step
		if was > step {
			x[i] = was - step
		} else {
			x[i], apart = was, step
		}
		h[i] = (more - m.foretell(g, x)) / apart
		x[i] = was
	}
	return h
}

// read books a reading: level, density, conductivity, pH, in that order.
func (r *replay) read(f *Reading, id string) {
	if r.x[waterAt] > 0 {
		if f.Level != nil {
			r.readLevel(f, id)
		}
		if f.Density != nil && r.x[waterAt] > 0 {
			r.readDensity(f, id)
		}
		if f.ConductivityMSCm != nil && r.x[waterAt] > 0 {
			r.readConductivity(f, id)
		}
	}
	if f.PH != nil {
		tC := r.tempC()
		if f.PHTemp != nil {
			tC = float64(*f.PHTemp)
		}
		r.ammoniaShare, r.phKnown = freeAmmonia(*f.PH, tC), true
	}
}

// stickVariance is that of a level in L², with a small floor.
func (r *replay) stickVariance(level unit.Centimetre, sd *unit.Centimetre) float64 {
	litres := r.stickError(level, sd) / 1000
	return litres*litres + levelVarianceL2
}

// stickError is how much mud one standard deviation of the stick is, cm³.
func (r *replay) stickError(level unit.Centimetre, sd *unit.Centimetre) float64 {
	cm := levelSDCM
	if sd != nil {
		cm = float64(*sd)
	}
	return cm * float64(r.tank.SurfaceAt(level))
}

// correct takes a reading in and books what it moves; it returns the water that it added.
func (r *replay) correct(g *gauge, gap, variance float64) (waterG float64) {
	h := r.gradient(g, &r.x)
	return r.correctBy(&h, gap, variance)
}

func (r *replay) correctBy(h *amounts, gap, variance float64) (waterG float64) {
	was := r.x
	r.kalman(gap, h, variance)
	for i := range was {
		r.flows[flowAdjusted][i] += r.x[i] - was[i]
	}
	return r.x[waterAt] - was[waterAt]
}

func (r *replay) readLevel(f *Reading, id string) {
	metal := 0.0
	if !f.PiecesOut {
		var known bool
		if metal, known = r.loadG(); !known {
			r.warns.add(LoadUnknown, id)
			return
		}
	}
	g := gauge{kind: stick, tC: r.tempC()}
	h := r.gradient(&g, &r.x)
	gap := r.litresUnder(*f.Level, metal) - r.foretell(&g, &r.x)
	variance := r.stickVariance(*f.Level, f.LevelSD)
	contradicts := math.Abs(gap) > contradictsAt*math.Sqrt(r.variance(&h)+variance)
	if contradicts && h[waterAt] != 0 { // the stick is believed
		r.p[waterAt][waterAt] += (gap / h[waterAt]) * (gap / h[waterAt])
	}
	found := r.spell.booked - r.correctBy(&h, gap, variance)
	switch {
	case contradicts && found < 0:
		r.warns.add(NegativeEvaporation, id)
	case contradicts:
		r.warns.add(LevelContradicts, id)
	case !r.spell.lid && !r.spell.boiled && r.spell.plain > 0 && r.spell.plain >= leastMarginTimes*r.stickError(*f.Level, f.LevelSD):
		r.learning.keep(found / r.spell.plain)
	}
	r.startSpell()
}

// startSpell begins after a level reading or a top-up to a mark: the doubt of evaporation starts anew.
func (r *replay) startSpell() {
	r.spell = spell{}
	r.setDoubt(doubtEvaporation, r.learning.doubt)
}

func (r *replay) readDensity(f *Reading, id string) {
	g := gauge{kind: densityGauge, tC: 20}
	if f.DensityTemp != nil {
		g.tC = float64(*f.DensityTemp)
	}
	sd := densitySDKgL
	if f.DensitySD != nil {
		sd = float64(*f.DensitySD)
	}
	r.readLiquor(&g, float64(*f.Density), sd, id)
}

func (r *replay) readConductivity(f *Reading, id string) {
	tC, pct := 25.0, conductivityPct
	if f.ConductivityTemp != nil {
		tC = float64(*f.ConductivityTemp)
	}
	if f.ConductivitySDPct != nil {
		pct = *f.ConductivitySDPct
	}
	at25 := *f.ConductivityMSCm * (1 + 0.02*(25-tC)) // G. E. Rayment and D. J. Lyons, "Soil Chemical Methods" 2011, 3A1
	if f.Dilution == nil || *f.Dilution < leastDilution || at25 <= 0 {
		r.warns.add(ConductivityNotUsed, id)
		return
	}
	r.readLiquor(&gauge{kind: conductivityGauge, dilution: *f.Dilution}, at25, pct/100*at25, id)
}

// readLiquor takes in a density or a conductivity. One that contradicts is not used; the second running of the same kind and
// sign is believed.
func (r *replay) readLiquor(g *gauge, reading, sd float64, id string) {
	h := r.gradient(g, &r.x)
	gap := reading - r.foretell(g, &r.x)
	sign := 0.0
	if math.Abs(gap) > contradictsAt*math.Sqrt(r.variance(&h)+sd*sd) {
		sign = math.Copysign(1, gap)
		if r.contradicted[g.kind] != sign {
			r.contradicted[g.kind] = sign
			r.warns.add(ReadingContradicts, id)
			return
		}
		r.doubtSalts()
	}
	r.contradicted[g.kind] = 0
	r.correctBy(&h, gap, sd*sd)
}

// doubtSalts doubts each salt of the bath by itself.
func (r *replay) doubtSalts() {
	l := r.liquor(&r.x)
	for i := range r.order {
		s := &r.order[i]
		if mol := l.SaltG[s.substance] / s.molarMass; mol > 0 {
			var err amounts
			err[ionsAt+s.cation], err[ionsAt+s.anion] = believedDoubt*mol*s.cations, believedDoubt*mol*s.anions
			r.addAmounts(&err)
		}
	}
}
