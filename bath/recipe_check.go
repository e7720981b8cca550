package bath

import (
	"errors"
	"fmt"
	"math"

	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// Beyond these a figure is taken for a slip of the pen or of the unit.
const (
	LargestMass     unit.Gram    = 1e9 // 1000 t; only ratios matter
	LargestMoisture              = 1000.0
	LowestAssay                  = 1e-6
	HottestTarget   unit.Celsius = 150
	LongestSoak     unit.Minute  = 10_080 // a week
	MostParts                    = 40
	densestGrainGML              = 8.0
	lightestGrain                = 1.0
	leastPerWater                = 1e-12
	mostPerWater                 = 1e6
)

// Check returns everything that keeps a recipe from being scaled. Fields are named as in a recipe file. What is unwise but
// true is no problem here; [Scale] warns of it.
func (r Recipe) Check() input.Problems {
	var ps input.Problems
	waters, water := 0, unit.Gram(0)
	for i, p := range r.Parts {
		if p.Kind == Water {
			waters++
			water += p.Mass
		}
		ps = append(ps, p.check(func(key string) string { return fmt.Sprintf("parts[%d].%s", i, key) })...)
	}
	switch {
	case len(r.Parts) > MostParts:
		ps.Add("parts", fmt.Sprintf("%d parts", len(r.Parts)), input.Say("at most %d parts", MostParts))
	case waters == 0:
		ps.Add("parts", fmt.Sprintf("%d parts, none of them water", len(r.Parts)), input.Say("at least one part of kind water"))
	}
	for i, p := range r.Parts {
		if p.Kind != Water && p.Mass > 0 && water > 0 && !(p.Mass/water >= leastPerWater && p.Mass/water <= mostPerWater) {
			ps.Add(fmt.Sprintf("parts[%d].mass_g", i), written(float64(p.Mass)),
				input.Say("%g to %g times the mass of the water, %g g", leastPerWater, mostPerWater, float64(water)))
		}
	}
	ps = append(ps, checkWindow("temp_c", "°C", float64(r.Temp.Min), float64(r.Temp.Target), float64(r.Temp.Max), 0, float64(HottestTarget))...)
	if r.Soak != nil {
		ps = append(ps, checkWindow("soak_min", "min", float64(r.Soak.Min), float64(r.Soak.Target), float64(r.Soak.Max), 0, float64(LongestSoak))...)
	}
	return ps
}

func (p Part) check(at func(string) string) input.Problems {
	var ps input.Problems
	switch p.Kind {
	case Water, Earth:
	case Salt:
		if _, err := salt.Lookup(string(p.Salt)); err != nil {
			ps = append(ps, saltProblem(at("salt"), string(p.Salt), err))
		}
	default:
		ps.Add(at("kind"), string(p.Kind), input.Say("one of %s", list(PartKinds)))
		return ps
	}
	if !(p.Mass > 0 && p.Mass <= LargestMass) {
		ps.Add(at("mass_g"), written(float64(p.Mass)), input.Say("more than 0 and at most %g g", float64(LargestMass)))
	}
	if m := p.MoisturePct; m != nil && !(*m >= 0 && *m <= LargestMoisture) {
		ps.Add(at("moisture_pct"), written(*m), input.Say("0 to %g %% of the dry earth's mass", LargestMoisture))
	}
	if a := p.AssayPct; a != nil && !(*a >= LowestAssay && *a <= 100) {
		ps.Add(at("assay_pct"), written(*a), input.Say("more than 0, at least %g, and at most 100 %%", LowestAssay))
	}
	if d := p.ParticleDensity; d != nil && !(*d > lightestGrain && *d <= densestGrainGML) {
		ps.Add(at("particle_density_g_cm3"), written(float64(*d)), input.Say("more than %g and at most %g g/cm³", lightestGrain, densestGrainGML))
	}
	return ps
}

// saltProblem says why a name is no salt that can be scaled, and what to write instead.
func saltProblem(field, got string, err error) input.Problem {
	if errors.Is(err, salt.ErrUnsafe) {
		return input.Problem{Field: field, Got: got, Unsafe: true,
			Allowed: input.Say("%s, or another salt; anhydrous aluminium chloride is refused", salt.AluminiumChlorideHexahydrate),
			Hint:    input.Say("It bursts into heat and acid fume in water or damp earth. Do not add it")}
	}
	ids := make([]salt.ID, 0, 16)
	for _, s := range salt.All() {
		ids = append(ids, s.ID)
	}
	return input.Problem{Field: field, Got: got, Allowed: input.Say("one of %s", list(ids)),
		Hint: input.Say("Read the formula and the CAS number on the bag; “chloride” or “salt” alone does not say which")}
}

func checkWindow(field, symbol string, low, target, high, lowest, highest float64) input.Problems {
	var ps input.Problems
	in := func(x float64) bool { return x >= lowest && x <= highest }
	for _, v := range []struct {
		key string
		x   float64
	}{{"min", low}, {"target", target}, {"max", high}} {
		// Min and max default to the target: one fault is told once. NaN is a target that is missing.
		isTarget := v.x == target || math.IsNaN(v.x) && math.IsNaN(target)
		if !in(v.x) && (v.key == "target" || !isTarget) {
			ps.Add(field+"."+v.key, written(v.x), input.Say("%g to %g %s", lowest, highest, symbol))
		}
	}
	if len(ps) > 0 {
		return ps
	}
	if low > target {
		ps.Add(field+".min", written(low), input.Say("at most the target, %g %s", target, symbol))
	}
	if high < target {
		ps.Add(field+".max", written(high), input.Say("at least the target, %g %s", target, symbol))
	}
	return ps
}
