package salt

import "blackbath/bath/water"

// SubstanceCount is how many anhydrous substances the catalogue's forms are made of.
const SubstanceCount = int(parentCount)

// Substance is the place of this form's anhydrous salt in a [Liquor]; both forms of a hydrate share it.
func (s Salt) Substance() int { return int(s.parent) }

// A Liquor is the liquid of a bath in grams, everything counted as dissolved. Unlike a []Dissolved it may be nearly dry: its
// formulas are held where they would leave all sense.
type Liquor struct {
	WaterG float64                 // all liquid water, crystal water counted
	SaltG  [SubstanceCount]float64 // anhydrous, by [Salt.Substance]
	// StrayG are ions without a partner. They count as sodium chloride in volume and boiling, and not at all in saturation.
	StrayG float64
}

// Where a liquor's formulas are held, so that a nearly dry bath does not divide by zero.
const (
	heldFraction = 0.4  // the salt fraction inside the apparent volumes
	heldRiseC    = 30.0 // the boiling rise of one salt
)

// MassG is the mass of the liquid.
func (l *Liquor) MassG() float64 {
	sum := l.WaterG + l.StrayG
	for _, g := range l.SaltG {
		sum += g
	}
	return sum
}

// counted is the salt with the stray ions as sodium chloride.
func (l *Liquor) counted() [SubstanceCount]float64 {
	m := l.SaltG
	m[sodiumChloride] += l.StrayG
	return m
}

// VolumeL is the volume of the liquid at tC degrees Celsius, by the formula of [SolutionDensity] with the salt fraction
// inside the apparent volumes held at 0.4. It does not allocate.
func (l *Liquor) VolumeL(tC float64) float64 {
	mass := l.MassG()
	if !(mass > 0) {
		return 0
	}
	fraction := min((mass-l.WaterG)/mass, heldFraction)
	waterKgM3 := water.DensityKgM3(tC)
	volume := l.WaterG / waterKgM3 // g over g/L
	for p, g := range l.counted() {
		if g > 0 {
			volume += g * substances[p].density.apparentM3PerKg(tC, fraction, waterKgM3)
		}
	}
	return volume
}

// DensityKgL is the density of the liquid at tC degrees Celsius.
func (l *Liquor) DensityKgL(tC float64) float64 { return l.MassG() / l.VolumeL(tC) / 1000 }

// WaterActivity is the share, 0 to 1, of plain water's vapour pressure that the liquid keeps, as in [SolutionBoiling], one
// salt's boiling rise held at 30 C. WaterG must be above 0.
func (l *Liquor) WaterActivity() float64 {
	activity := 1.0
	for p, g := range l.counted() {
		if g > 0 {
			riseC, _ := substances[p].rise(100 * g / l.WaterG)
			activity *= water.SeaLevelPa / water.VapourPressurePa(seaLevelBoilingC+min(riseC, heldRiseC))
		}
	}
	return activity
}

// SaturationLoad is that of [SaturationLoad] at tC degrees Celsius; stray ions do not count. WaterG must be above 0.
func (l *Liquor) SaturationLoad(tC float64) float64 {
	load := 0.0
	for p, g := range l.SaltG {
		if g > 0 {
			load += 100 * g / l.WaterG / interpolate(substances[p].solubility, tC)
		}
	}
	return load
}
