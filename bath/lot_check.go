package bath

import (
	"strings"

	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// Check returns everything that keeps a lot from being kept. Fields are "name", "kind", "salt", "amount_g", "price_minor",
// "moisture_pct", "particle_density_g_cm3", "assay_pct" and "assay_basis". Moisture, density, assay and mass may be what
// they may be in a [Part]: a lot that can be kept can be weighed.
func (l Lot) Check() input.Problems {
	var ps input.Problems
	if strings.TrimSpace(l.Name) == "" {
		ps.Add("name", l.Name, input.Say("at least one letter"))
	}
	part := l.part()
	if l.AmountG != nil {
		part.Mass = *l.AmountG
	}
	ps = append(ps, part.check(func(key string) string {
		if key == "mass_g" {
			return "amount_g"
		}
		return key
	})...)
	if p := l.PriceMinor; p != nil && *p < 0 {
		ps.Add("price_minor", written(float64(*p)), input.Say("0 or more"))
	}
	return append(ps, l.checkAssay()...)
}

// part is the line of a recipe that takes 1 g of the lot's material.
func (l Lot) part() Part {
	return Part{
		Kind: l.Material.Kind, Name: l.Material.Name, Salt: l.Material.Salt, Mass: 1,
		MoisturePct: l.MoisturePct, AssayPct: l.AssayPct, ParticleDensity: l.ParticleDensity,
	}
}

// checkAssay asks for the basis where it makes a difference, and keeps an assay below what pure crystals hold.
func (l Lot) checkAssay() input.Problems {
	form, err := salt.Lookup(string(l.Material.Salt))
	if l.Material.Kind != Salt || l.AssayPct == nil || err != nil || form.CrystalWaters == 0 {
		return nil
	}
	var ps input.Problems
	switch l.AssayBasis {
	case AssayAsNamed:
	case AssayAsAnhydrous:
		if most := 100 * form.AnhydrousShare(); *l.AssayPct > most && *l.AssayPct <= 100 {
			ps = append(ps, input.Problem{Field: "assay_pct", Got: written(*l.AssayPct),
				Allowed: input.Say("more than 0 and at most %.2f %%, which pure crystals of %s hold without their water", most, form.Formula),
				Hint:    input.Say("If the bag says more, it counts the crystals as labelled.")})
		}
	default:
		ps.Add("assay_basis", string(l.AssayBasis), input.Say("whether the assay counts the crystals as labelled or the salt without crystal water"))
	}
	return ps
}

// MoistureFromWeighings returns water per dry earth in percent, as ISO 11465 counts it: (damp - dry) / dry of one sample before
// and after drying to constant mass at 105 °C. Problems name the fields "damp_g" and "dry_g".
func MoistureFromWeighings(damp, dry unit.Gram) (pct float64, ps input.Problems) {
	switch {
	case !(dry > 0):
		ps.Add("dry_g", written(float64(dry)), input.Say("a mass of more than 0 g"))
	case !(damp >= dry):
		ps = append(ps, input.Problem{Field: "damp_g", Got: written(float64(damp)),
			Allowed: input.Say("at least what it weighs dry, %g g", float64(dry)), Hint: input.Say("Are the two the wrong way round?")})
	case !(damp <= dry*(1+LargestMoisture/100)):
		ps.Add("damp_g", written(float64(damp)), input.Say("at most %g g: 0 to %g %% of the dry earth's mass",
			float64(dry)*(1+LargestMoisture/100), LargestMoisture))
	default:
		pct = 100 * float64(damp-dry) / float64(dry)
	}
	return pct, ps
}

// MoistureFromMeter turns what kitchen and moisture meters show, u percent of the damp earth (wet basis), into percent of the
// dry earth: u / (1 - u). Problems name the field "meter_pct".
func MoistureFromMeter(wetPct float64) (pct float64, ps input.Problems) {
	const most = 100 * LargestMoisture / (100 + LargestMoisture)
	if !(wetPct >= 0 && wetPct <= most) {
		ps.Add("meter_pct", written(wetPct), input.Say("0 to %.1f %% of the damp earth's mass", most))
		return 0, ps
	}
	return 100 * wetPct / (100 - wetPct), nil
}
