package bath

import (
	"time"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// A Material is a thing that the workshop stocks: a water, an earth, or one salt by its identity.
type Material struct {
	ID   int64
	Kind PartKind
	Name string
	Salt salt.ID // for a salt
	Edit int64
}

// An AssayBasis says which formula the supplier's assay counts.
type AssayBasis string

const (
	AssayAsNamed     AssayBasis = "as-named"     // mass fraction of the form on the label, crystal water and all
	AssayAsAnhydrous AssayBasis = "as-anhydrous" // mass fraction of the salt without its crystal water
)

// A Lot is one delivery or digging of a material. What a pointer leaves nil was not recorded.
type Lot struct {
	ID       int64
	Material Material
	Name     string // "bag 6", "autumn digging"
	Received time.Time
	From     string // supplier or place of digging
	Batch    string // the supplier's batch number

	AmountG    *unit.Gram // as delivered or dug
	PriceMinor *int64     // for the whole amount, in the smallest unit of the workshop's currency

	MoisturePct     *float64 // earth: water per dry earth, dry basis
	ParticleDensity *unit.GramPerCM3
	AssayPct        *float64 // salt
	AssayBasis      AssayBasis

	Note   string
	UsedUp bool
	Edit   int64
}

// AssayNamedPct is the assay as mass fraction of the named form, in percent; nil when no assay is recorded. A supplier who
// counts a hydrate "as anhydrous" is converted by the ratio of the molar masses.
func (l Lot) AssayNamedPct() *float64 {
	if l.AssayPct == nil || l.AssayBasis != AssayAsAnhydrous {
		return l.AssayPct
	}
	s, err := salt.Lookup(string(l.Material.Salt))
	if err != nil {
		return nil
	}
	named := *l.AssayPct * s.HydrateFactor()
	return &named
}
