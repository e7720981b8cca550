package bath

import (
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// A PartKind says what a part of a recipe is.
type PartKind string

const (
	Water PartKind = "water"
	Earth PartKind = "earth"
	Salt  PartKind = "salt"
)

// PartKinds lists the kinds in the order in which a recipe is read.
var PartKinds = []PartKind{Water, Earth, Salt}

// A Part is one line of a recipe together with what is known of today's lot of it.
type Part struct {
	Kind PartKind
	// Name tells one earth from another; salts are named by Salt, water needs no name.
	Name string
	Salt salt.ID // for a salt: the very form that is weighed, hydrate and all
	// Mass is on the recipe's own basis: all liquid water of the bath, dry earth, pure salt in the named form.
	// Only ratios matter.
	Mass unit.Gram

	// MoisturePct is the lot's water per dry earth, in percent (dry basis, ISO 11465). Nil: not known.
	MoisturePct *float64
	// AssayPct is the mass fraction of the named form in what is weighed, in percent. Nil: not known.
	AssayPct *float64
	// ParticleDensity of the earth's grains. Nil: [DefaultParticleDensity].
	ParticleDensity *unit.GramPerCM3
}

// DefaultParticleDensity is that of mineral earth: quartz 2.66, clay mineral 2.65 (De Vries, Thermal properties of soils,
// 1963).
const DefaultParticleDensity unit.GramPerCM3 = 2.65

// A TempWindow is the range that a recipe allows for the bath's temperature, Min <= Target <= Max.
type TempWindow struct{ Min, Target, Max unit.Celsius }

// A SoakWindow is the range that a recipe allows for the soak, Min <= Target <= Max.
type SoakWindow struct{ Min, Target, Max unit.Minute }

// A Recipe is what a bath should be. Its masses are ratios: the bath fills whatever tank it is scaled to.
type Recipe struct {
	Name  string
	Parts []Part
	Temp  TempWindow
	Soak  *SoakWindow // nil: not written down
}
