package ledger

import (
	"fmt"
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// checkFacts checks each fact by itself; what they say of each other is checked by resolve.
func (b *Bath) checkFacts() input.Problems {
	i, inside := 0, ""
	c := &checker{path: func(key string) string { return fmt.Sprintf("facts[%d].%s%s", i, inside, key) }}
	for i = range b.Facts {
		f := &b.Facts[i]
		if strings.TrimSpace(f.ID) == "" {
			c.problems.Add(c.path("id"), f.ID, input.Say("a text that no other fact has"))
		}
		c.fact(f, b, false)
		if f.Kind == Correction && f.Fact != nil {
			inside = "fact."
			c.fact(f.Fact, b, true)
			inside = ""
		}
	}
	return c.problems
}

func (c *checker) fact(f *Fact, b *Bath, inside bool) {
	if year := f.At.UTC().Year(); (year < firstYear || year > lastYear) && !(inside && f.At.IsZero()) {
		got := ""
		if !f.At.IsZero() {
			got = f.At.String()
		}
		c.problems.Add(c.path("at"), got, TimeAllowed)
	}
	c.temp("temp_c", f.Temp)
	switch f.Kind {
	case MakeUp, Addition:
		c.parts(f)
	case TopUp:
		if (len(f.Parts) > 0) == (f.ToLevel != nil) {
			c.problems.Add(c.path("parts"), both(f.ToLevel != nil, "parts and to_level_cm"), input.Say("parts, or to_level_cm: one of the two"))
			return
		}
		if f.ToLevel != nil {
			c.level("to_level_cm", f.ToLevel, b.Tank)
			return
		}
		c.parts(f)
	case Read:
		c.reading(f, b.Tank)
	case Soaked:
		c.soak(f.Soak)
	case Dumped:
		c.dump(f.Dump)
	case HeatOn, HeatOff, LidOn, LidOff, Retire:
	case Correction:
		if inside {
			c.problems.Add(c.path("kind"), string(f.Kind), input.Say("the kind of what happened; to correct a correction, replace the same fact again"))
		}
	default:
		c.problems.Add(c.path("kind"), string(f.Kind), input.Say("one of %s", list(Kinds)))
	}
}

func list(kinds []Kind) string {
	words := make([]string, len(kinds))
	for i, k := range kinds {
		words[i] = string(k)
	}
	return strings.Join(words, ", ")
}

// both says what was given where one of two is wanted.
func both(given bool, words string) string {
	if given {
		return words + " both"
	}
	return ""
}

// level checks a height on the stick. A dip-stick table is not continued above its last mark.
func (c *checker) level(key string, l *unit.Centimetre, t bath.Tank) {
	top, word := t.RimHeight(), "the rim"
	if t.Shape == bath.Marks && len(t.MarkTable) > 0 {
		top, word = t.MarkTable[len(t.MarkTable)-1].Level, "the last mark of the tank's table"
	}
	if l != nil && !(*l >= smallest && *l <= top) {
		c.problems.Add(c.path(key), written(float64(*l)), input.Say("more than 0 and not above %s, %g cm", word, float64(top)))
	}
}

func (c *checker) parts(f *Fact) {
	if len(f.Parts) == 0 {
		c.problems.Add(c.path("parts"), "", input.Say("at least one part"))
	}
	if len(f.Parts) > bath.MostParts {
		c.problems.Add(c.path("parts"), fmt.Sprintf("%d parts", len(f.Parts)), input.Say("at most %d parts", bath.MostParts))
		return
	}
	outer := c.path
	i := 0
	c.path = func(key string) string { return outer(fmt.Sprintf("parts[%d].%s", i, key)) }
	for i = range f.Parts {
		c.part(&f.Parts[i], f.Kind == MakeUp)
	}
	c.path = outer
}

func (c *checker) part(p *Part, makeUp bool) {
	switch {
	case !slices.Contains(PartKinds, p.Kind):
		c.problems.Add(c.path("kind"), string(p.Kind), input.Say("water, earth, salt or mud"))
		return
	case p.Kind == MudPart && makeUp:
		c.problems.Add(c.path("kind"), string(p.Kind), input.Say("water, earth or salt: a make_up is what the bath was made from; ready mud is an addition or a top_up"))
		return
	case p.Kind == WaterPart || p.Kind == MudPart:
		if (p.Mass != nil) == (p.Litres != nil) {
			c.problems.Add(c.path("mass_g"), both(p.Mass != nil, "mass_g and litres"), input.Say("mass_g or litres: one of the two"))
		}
	case p.Mass == nil:
		c.problems.Add(c.path("mass_g"), "", input.Say("what was weighed, in g"))
	}
	above0(c, "mass_g", p.Mass, largestAmount, "g")
	above0(c, "litres", p.Litres, largestAmount/1000, "L")
	within(c, "water_temp_c", p.WaterTemp, 0, 100, "°C")
	within(c, "moisture_pct", p.MoisturePct, 0, bath.LargestMoisture, "% of the dry earth's mass")
	if d := p.ParticleDensity; d != nil && !(*d > 1 && *d <= 8) {
		c.problems.Add(c.path("particle_density_g_cm3"), written(float64(*d)), input.Say("more than 1 and at most 8 g/cm³"))
	}
	if k := p.Carbonate; k != nil {
		c.carbonate(*k)
	}
	if p.Kind == SaltPart {
		c.salt("salt", p.Salt)
	}
	within(c, "assay_pct", p.AssayPct, lowestAssay, 100, "%")
	for j := range p.Salts {
		d := &p.Salts[j]
		if c.salt("salt_g_per_kg_water", d.Salt) {
			within(c, "salt_g_per_kg_water."+string(d.Salt), &d.GPerKgWater, 0, largestSpread, "g per kg of water")
		}
	}
	within(c, "earth_dry_g_per_kg_water", p.EarthDry, 0, largestSpread, "g per kg of water")
}

func (c *checker) carbonate(k Carbonate) {
	lo, hi := "carbonate_lo_pct", "carbonate_hi_pct"
	if k.Lo == k.Hi {
		lo = "carbonate_pct"
	}
	before := len(c.problems)
	within(c, lo, &k.Lo, 0, 100, "% of the dry earth's mass")
	if k.Lo != k.Hi {
		within(c, hi, &k.Hi, 0, 100, "% of the dry earth's mass")
	}
	if len(c.problems) == before && k.Lo > k.Hi {
		c.problems.Add(c.path(lo), written(k.Lo), input.Say("at most carbonate_hi_pct, %g %%", k.Hi))
	}
}

func (c *checker) reading(f *Fact, t bath.Tank) {
	r := f.Reading
	if r == nil {
		r = &Reading{}
	}
	if f.Temp == nil && r.Level == nil && r.PH == nil && r.Density == nil && r.ConductivityMSCm == nil {
		c.problems.Add(c.path("kind"), string(Read), input.Say("a reading of at least one of temp_c, level_cm, ph, density_kg_l, conductivity_ms_cm"))
	}
	c.level("level_cm", r.Level, t)
	above0(c, "level_sd_cm", r.LevelSD, largestSpread, "cm")
	within(c, "ph", r.PH, 0, 14, "")
	c.temp("ph_temp_c", r.PHTemp)
	within(c, "density_kg_l", r.Density, 0.9, 2, "kg/L")
	above0(c, "density_sd_kg_l", r.DensitySD, largestSpread, "kg/L")
	c.temp("density_temp_c", r.DensityTemp)
	above0(c, "conductivity_ms_cm", r.ConductivityMSCm, largestSpread, "mS/cm")
	above0(c, "conductivity_sd_pct", r.ConductivitySDPct, largestSpread, "%")
	within(c, "dilution", r.Dilution, 1, largestSpread, "")
	c.temp("conductivity_temp_c", r.ConductivityTemp)
}

func (c *checker) soak(s *Soak) {
	if s == nil {
		return
	}
	if s.Out != nil && (s.Out.UTC().Year() < firstYear || s.Out.UTC().Year() > lastYear) {
		c.problems.Add(c.path("out_at"), s.Out.String(), TimeAllowed)
	}
	above0(c, "area_dm2", s.Area, largestAmount, "dm²")
	above0(c, "metal_g", s.Metal, largestAmount, "g")
	within(c, "pieces", s.Pieces, 0, largestAmount, "")
	c.temp("temp_in_c", s.TempIn)
	c.temp("temp_out_c", s.TempOut)
	if s.DragOutG != nil && s.DragOutL != nil {
		c.problems.Add(c.path("dragout_g"), "dragout_g and dragout_l both", input.Say("dragout_g or dragout_l: one of the two"))
	}
	above0(c, "dragout_g", s.DragOutG, largestAmount, "g")
	above0(c, "dragout_l", s.DragOutL, largestAmount/1000, "L")
	above0(c, "trapped_l", s.TrappedL, largestAmount/1000, "L")
	above0(c, "metal_loss_g", s.MetalLossG, largestAmount, "g")
}

func (c *checker) dump(d *Dump) {
	if d == nil {
		d = &Dump{}
	}
	if (d.Litres != nil) == (d.SharePct != nil) {
		c.problems.Add(c.path("litres"), both(d.Litres != nil, "litres and share_pct"), input.Say("litres or share_pct: one of the two"))
	}
	above0(c, "litres", d.Litres, largestAmount/1000, "L")
	above0(c, "share_pct", d.SharePct, 100, "%")
	if d.What != Stirred && d.What != Liquor {
		c.problems.Add(c.path("what"), d.What, input.Say("%s or %s", Stirred, Liquor))
	}
}
