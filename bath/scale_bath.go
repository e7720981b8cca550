package bath

import (
	"math"
	"strings"

	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/bath/water"
)

// compose works out the recipe that rounding really gives.
func (s *scaling) compose() {
	c := &s.answer.Composition
	c.SaltGPerKgWater = make(map[salt.ID]unit.GramPerKG, len(s.dissolved))
	c.DeviationPercent = make(map[string]float64, len(s.dissolved)+1)
	allWater, earthDry := float64(s.answer.PourWater.Rounded), 0.0
	for _, w := range s.answer.Weigh {
		p := s.recipe.Parts[w.Part]
		if w.Rounded == 0 {
			s.warn(RoundsToNothing, "%s rounds to nothing: %.3g g is less than half a step of the balance, %.3g g.",
				p.label(), float64(w.Mass), float64(s.conditions.Step))
		}
		switch w.Kind {
		case Earth:
			dry := float64(w.Rounded) / (1 + p.moisture())
			earthDry += dry
			allWater += float64(w.Rounded) - dry
		case Salt:
			pure := float64(w.Rounded) * p.assay()
			c.SaltGPerKgWater[w.Salt] += unit.GramPerKG(pure)
			allWater += pure * s.forms[w.Part].CrystalWaterShare()
		}
	}
	if s.answer.PourWater.Rounded == 0 && s.answer.PourWater.Mass > 0 {
		s.warn(RoundsToNothing, "The water rounds to nothing: %.3g g is less than half a step of the balance, %.3g g.",
			float64(s.answer.PourWater.Mass), float64(s.conditions.Step))
	}
	if allWater <= 0 { // no bath is left to have a composition
		clear(c.SaltGPerKgWater)
		return
	}
	c.EarthDryGPerKg = unit.GramPerKG(1000 * earthDry / allWater)
	if s.earthG > 0 {
		c.DeviationPercent["earth"] = 100 * (earthDry/allWater/(s.earthG/s.waterG) - 1)
	}
	for id, pure := range c.SaltGPerKgWater {
		c.SaltGPerKgWater[id] = 1000 * pure / unit.GramPerKG(allWater)
		c.DeviationPercent[string(id)] = 100 * (float64(c.SaltGPerKgWater[id])/s.wanted(id) - 1)
	}
}

// wanted is what the recipe asks of a salt in the named form, g per kg of all water.
func (s *scaling) wanted(id salt.ID) float64 {
	sum := 0.0
	for _, d := range s.dissolved {
		if d.Salt == id {
			sum += d.GPerKgWater
		}
	}
	return sum
}

// label names a part for a sentence.
func (p Part) label() string {
	switch {
	case p.Kind == Salt:
		return string(p.Salt)
	case p.Name == "":
		return string(p.Kind)
	default:
		return string(p.Kind) + " " + quoted(p.Name)
	}
}

func (s *scaling) levels() {
	l, d := &s.answer.Levels, &s.answer.Details
	l.Rim, l.Loaded = s.tank.RimHeight(), s.tank.FillLine()
	if h, ok := s.tank.LevelOf(s.answer.HotBathL); ok {
		l.Hot = &h
	}
	if h, ok := s.tank.LevelOf(d.ColdBathL); ok {
		l.Cold = &h
	} else {
		s.warn(ColdOverflows, "Cold, the bath is %.4g L, more than is known to fit below the rim. Make it up warm, or leave more free height.", float64(d.ColdBathL))
	}
	// Filled cold to the loaded line without the pieces, the mud would be this much more than planned when hot.
	if cold := float64(d.ColdBathL); cold > 0 {
		underLine := float64(s.answer.HotBathL + s.answer.LoadL)
		d.OverfillL = unit.Litre(underLine*float64(s.answer.HotBathL)/cold - float64(s.answer.HotBathL))
	}
}

// dissolve finds what stays as crystals: each salt alone in all the water.
func (s *scaling) dissolve() {
	d := &s.answer.Details
	s.answer.Undissolved = s.undissolved(d.Coldest)
	d.UndissolvedHot = s.undissolved(d.WorkingTemp)
	// The ids and amounts were accepted by SolutionBoiling already.
	d.SaturationCold, _ = salt.SaturationLoad(float64(d.Coldest), s.dissolved)
	d.SaturationHot, _ = salt.SaturationLoad(float64(d.WorkingTemp), s.dissolved)
	load, at := d.SaturationCold, d.Coldest
	if d.SaturationHot > load { // zinc sulfate dissolves less in a hot bath than in a warm one
		load, at = d.SaturationHot, d.WorkingTemp
	}
	switch {
	case load > 1:
		s.warn(DoesNotDissolve, "Not all the salt dissolves at %.4g °C: together the salts would take %.2f times the water there is, give or take 4 %%. Crystals and crusts form.", float64(at), load)
	case load > 0.8:
		s.warn(NearSaturation, "Near saturation at %.4g °C: together the salts take %.0f %% of what the water can hold, give or take 4 %%. Crystals may form.", float64(at), 100*load)
	}
}

func (s *scaling) undissolved(at unit.Celsius) Grams {
	out := make(Grams, len(s.dissolved))
	allWater := float64(s.answer.Details.AllWater)
	for i, p := range s.recipe.Parts {
		if p.Kind != Salt {
			continue
		}
		if _, done := out[p.Salt]; done {
			continue
		}
		mass := s.wanted(p.Salt) * allWater / 1000
		out[p.Salt] = unit.Gram(s.forms[i].Undissolved(mass, allWater, float64(at)))
	}
	return out
}

// Specific heats, kJ/(kg K). Salt counts as nothing, tank and pieces are left out.
const (
	waterHeat = 4.184 // at 20 °C; within 1 % from 0 to 100 °C
	earthHeat = 0.85  // between quartz 0.80 and clay mineral 0.90 (De Vries, Thermal properties of soils, 1963)
	// evaporationShare is the mean evaporation while heating up over that at working temperature (common practice).
	evaporationShare = 0.4
)

// heat works out the water lost in an hour and the time to heat the bath.
func (s *scaling) heat() {
	a, d := &s.answer, &s.answer.Details
	a.OpenSurface = s.tank.SurfaceAt(s.tank.FillLine())
	tC := float64(d.WorkingTemp)
	hfg := water.LatentHeatKJPerKg(tC)
	heater := s.tank.HeaterKW
	d.Boiling = d.WaterActivity*water.VapourPressurePa(tC) >= water.BoilingShare*d.PressurePa
	kgPerH := 0.0
	switch {
	case d.Boiling && heater == nil:
		return // the heater sets it, and none is known
	case d.Boiling:
		kgPerH = water.BoilOffKgPerH(float64(*heater), tC)
	default:
		perM2, _ := water.EvaporationKgPerM2H(tC, d.WaterActivity, d.PressurePa, water.DefaultRoomC, water.DefaultRoomRH, 0)
		kgPerH = perM2 * float64(a.OpenSurface) / 10_000
	}
	a.Evaporation = ptr(unit.LitrePerH(kgPerH / water.DensityKgM3(float64(s.conditions.WaterTemp)) * 1000))
	d.EvaporationKW = kgPerH * hfg / 3600
	if heater == nil {
		return
	}
	rise := tC - float64(s.conditions.WaterTemp)
	if rise <= 0 {
		a.HeatUp = ptr(unit.Minute(0))
		return
	}
	kJ := (waterHeat*d.AllWater.Kilograms() + earthHeat*d.EarthDry.Kilograms()) * rise
	power := float64(*heater) - evaporationShare*d.EvaporationKW
	minutes := kJ / 60 / power
	// At the boil evaporation takes what the heater gives, but for rounding. A heater of next to nothing takes for ever.
	if power <= 0 || !d.Boiling && float64(*heater) < d.EvaporationKW || math.IsInf(minutes, 0) {
		s.warn(HeaterTooSmall, "The heater is too small: evaporation alone takes %.2g kW at %.4g °C, and it gives %.3g kW.", d.EvaporationKW, tC, float64(*heater))
		return
	}
	a.HeatUp = ptr(unit.Minute(minutes))
}

// judge adds what lies outside the measured ranges, and the cautions.
func (s *scaling) judge(underLine unit.Litre) {
	e := s.estimates
	var why []string
	if e.densityTemp {
		why = append(why, "the density lies outside the temperatures at which a salt's solutions were measured (good to about 0.5 %)")
	}
	if e.densityMax {
		why = append(why, "the density lies above the strongest solution that was measured")
	}
	if e.boilingTable {
		why = append(why, "the boiling point lies beyond the last row of a salt's table and is higher than shown")
	}
	if e.boilingRule {
		why = append(why, "the boiling point of a salt without a table follows the ideal rule, up to a quarter off")
	}
	if len(why) > 0 {
		s.warn(Estimate, "Estimate: %s.", strings.Join(why, "; "))
	}
	s.answer.Details.FillFraction = float64(underLine / s.tank.volumeToRim())
	s.answer.Judged = caution.Judge(s.facts())
	s.answer.Cautions = make([]CautionLine, len(s.answer.Judged.Cautions))
	for i, c := range s.answer.Judged.Cautions {
		s.answer.Cautions[i] = CautionLine{ID: c.ID, Severity: string(c.Severity), Text: c.Text}
	}
}

// volumeToRim continues a dip-stick table at its last slope where the rim stands above the last mark: for a caution on
// fullness a near figure is better than none.
func (t Tank) volumeToRim() unit.Litre {
	v := t.MeasuredVolume()
	if above := t.RimHeight() - t.measuredTo(); above > 0 {
		v += unit.CubicCM(float64(above) * float64(t.SurfaceAt(t.measuredTo()))).Litres()
	}
	return v
}

// facts are what a scaling knows of the step "recipe": what the recipe decides, and the tank.
func (s *scaling) facts() caution.Facts {
	f := s.recipe.facts(s.conditions.LastChloride)
	f.Bath.FillFraction = &s.answer.Details.FillFraction
	f.Bath.TankMaterial = string(s.tank.Wall)
	return f
}
