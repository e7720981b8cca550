package bath

import (
	"fmt"
	"math"

	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/bath/water"
)

// Scale works out what to weigh and pour so that the hot bath with the load in stands at the tank's fill line.
//
//	liquid = all water + anhydrous salts,  volume = liquid / density(t) + dry earth / grain density
//	k      = (volume under the fill line - load) / volume of the recipe at working temperature
//
// The load displaces its metal only. Undissolved crystals and entrained air take no room of their own. The working
// temperature is the target, or the bath's own boiling point here where that is lower.
//
// What cannot be scaled is an [input.Problems] with fields named as in the files; what is unwise but true is a warning in
// the answer, never an error.
func Scale(r Recipe, t Tank, c Conditions) (Answer, error) {
	var ps input.Problems
	ps = append(append(append(ps, r.Check()...), t.Check()...), c.Check()...)
	if len(ps) > 0 {
		return Answer{}, ps
	}
	underLine := t.VolumeAt(t.FillLine())
	if c.Load.Litres() >= underLine {
		ps.Add("load_cm3", written(float64(c.Load)), input.Say("less than the tank holds under its fill line, %.4g cm³", float64(underLine.CubicCM())))
		return Answer{}, ps
	}
	s := scaling{recipe: r, tank: t, conditions: c}
	s.addUp()
	if err := s.temperatures(); err != nil {
		return Answer{}, err
	}
	if err := s.fill(underLine); err != nil {
		return Answer{}, err
	}
	s.weigh()
	if s.answer.PourWater.Mass < 0 {
		return Answer{}, s.tooMuchWater()
	}
	s.pour()
	s.compose()
	s.levels()
	s.dissolve()
	s.heat()
	s.judge(underLine)
	return s.answer, nil
}

// A scaling is one Scale under way. Masses of the recipe's own basis are in g.
type scaling struct {
	recipe     Recipe
	tank       Tank
	conditions Conditions
	answer     Answer

	forms     []salt.Salt      // of each part; the zero Salt for water and earth
	dissolved []salt.Dissolved // of each salt part, per kg of all water
	waterG    float64
	earthG    float64
	earthL    float64 // volume of the earth's grains
	saltG     float64 // anhydrous
	k         float64 // scaled / recipe
	estimates estimates
}

// estimates collects why a figure lies outside what was measured.
type estimates struct{ densityTemp, densityMax, boilingTable, boilingRule bool }

func (s *scaling) warn(code WarningCode, format string, args ...any) {
	say := input.Say(format, args...)
	s.answer.Warnings = append(s.answer.Warnings, Warning{Code: code, Text: say.String(), Say: say})
}

// addUp sums the recipe's masses and warns of what had to be assumed.
func (s *scaling) addUp() {
	s.answer.Recipe, s.answer.Tank = s.recipe.Name, s.tank.Name
	s.answer.Warnings = make([]Warning, 0, 4)
	s.forms = make([]salt.Salt, len(s.recipe.Parts))
	s.dissolved = make([]salt.Dissolved, 0, len(s.recipe.Parts))
	for i, p := range s.recipe.Parts {
		g := float64(p.Mass)
		switch p.Kind {
		case Water:
			s.waterG += g
		case Earth:
			s.earthG += g
			s.earthL += g / 1000 / float64(p.grainDensity())
			if p.MoisturePct == nil {
				s.warn(MoistureAssumed, "The moisture of the earth %s is not recorded. It is counted as dry: weigh, dry and weigh a sample.", quoted(p.Name))
			}
		case Salt:
			s.forms[i], _ = salt.Lookup(string(p.Salt)) // Check has found it already
			s.saltG += g * s.forms[i].AnhydrousShare()
			s.dissolved = append(s.dissolved, salt.Dissolved{Salt: p.Salt, GPerKgWater: g})
			if p.AssayPct == nil {
				s.warn(AssayAssumed, "The assay of %s is not recorded. It is counted as pure, 100 %%: read it off the bag.", s.forms[i].Name)
			}
		}
	}
	for i := range s.dissolved {
		s.dissolved[i].GPerKgWater = 1000 * (s.dissolved[i].GPerKgWater / s.waterG)
	}
}

func quoted(name string) string {
	if name == "" {
		return "without a name"
	}
	return "“" + name + "”"
}

func (p Part) grainDensity() unit.GramPerCM3 {
	if p.ParticleDensity == nil {
		return DefaultParticleDensity
	}
	return *p.ParticleDensity
}

// temperatures finds where the bath boils here, and so how hot it can be worked.
func (s *scaling) temperatures() error {
	d := &s.answer.Details
	d.PressurePa = water.StandardPressurePa(float64(s.conditions.Altitude))
	if boil := s.conditions.WaterBoilsAt; boil != nil {
		d.PressurePa = water.VapourPressurePa(float64(*boil))
	}
	b, err := salt.SolutionBoiling(d.PressurePa, s.dissolved)
	if err != nil {
		return fmt.Errorf("bath: where the bath boils: %w", err)
	}
	s.estimates.boilingTable, s.estimates.boilingRule = b.BeyondTable, b.IdealRule
	d.WaterActivity = b.WaterActivity
	s.answer.BoilsAtC = unit.Celsius(b.TempC)
	s.answer.TempC = s.recipe.Temp.Target
	d.WorkingTemp = min(s.recipe.Temp.Target, s.answer.BoilsAtC)
	if s.recipe.Temp.Target > s.answer.BoilsAtC {
		s.warn(AboveBoiling, "The recipe asks for %.4g °C, but this bath boils at about %.1f °C here, give or take 1 °C. It cannot get hotter.",
			float64(s.recipe.Temp.Target), b.TempC)
	}
	d.Coldest = min(s.conditions.WaterTemp, s.recipe.Temp.Min)
	if s.conditions.Coldest != nil {
		d.Coldest = *s.conditions.Coldest
	}
	return nil
}

// litres returns the volume of the recipe's own masses at a temperature.
func (s *scaling) litres(at unit.Celsius) (float64, error) {
	d, err := salt.SolutionDensity(float64(at), s.dissolved)
	if err != nil {
		return 0, fmt.Errorf("bath: density of the liquid: %w", err)
	}
	s.estimates.densityTemp = s.estimates.densityTemp || d.OutsideTemp
	s.estimates.densityMax = s.estimates.densityMax || d.AboveMax
	return (s.waterG+s.saltG)/d.KgM3 + s.earthL, nil
}

// fill finds how many times the recipe goes into the tank.
func (s *scaling) fill(underLine unit.Litre) error {
	a, d := &s.answer, &s.answer.Details
	hotL, err := s.litres(d.WorkingTemp)
	if err != nil {
		return err
	}
	coldL, err := s.litres(s.conditions.WaterTemp)
	if err != nil {
		return err
	}
	a.LoadL = s.conditions.Load.Litres()
	a.HotBathL = underLine - a.LoadL
	s.k = float64(a.HotBathL) / hotL
	d.AllWater, d.EarthDry = unit.Gram(s.waterG*s.k), unit.Gram(s.earthG*s.k)
	d.ColdBathL = unit.Litre(coldL * s.k)
	d.LiquidHot = unit.GramPerCM3((s.waterG + s.saltG) / 1000 / (hotL - s.earthL))
	a.HotDensity = unit.GramPerCM3((s.waterG + s.saltG + s.earthG) / 1000 / hotL)
	// A ratio of parts beyond all sense, or a density formula driven outside its range, ends here.
	if !(hotL > 0) || !(coldL > 0) || !(s.k > 0) || math.IsInf(s.k, 0) || math.IsInf(float64(d.AllWater+d.EarthDry), 0) {
		return input.Problems{{Field: "parts", Got: "masses whose ratio is out of reach", Allowed: input.Say("parts that make a mud with a volume")}}
	}
	return nil
}

func (s *scaling) weigh() {
	s.answer.Weigh = make([]Weigh, 0, len(s.recipe.Parts))
	pour := s.answer.Details.AllWater
	for i, p := range s.recipe.Parts {
		w := Weigh{Kind: p.Kind, Part: i, Pure: p.Mass * unit.Gram(s.k)}
		switch p.Kind {
		case Water:
			continue
		case Earth:
			w.Name = p.Name
			w.Mass = w.Pure * unit.Gram(1+p.moisture())
			w.WaterInIt = w.Mass - w.Pure
		case Salt:
			w.Salt = p.Salt
			w.Mass = w.Pure / unit.Gram(p.assay())
			w.WaterInIt = w.Pure * unit.Gram(s.forms[i].CrystalWaterShare())
		}
		w.Rounded = w.Mass.RoundTo(s.conditions.Step)
		pour -= w.WaterInIt
		s.answer.Weigh = append(s.answer.Weigh, w)
	}
	if pour < 0 && pour > -sameWater*s.answer.Details.AllWater {
		pour = 0
	}
	s.answer.PourWater.Mass = pour
}

// sameWater is how far apart two sums of the same water may be by rounding: an earth may bring exactly what a recipe takes.
const sameWater = 1e-12

// moisture as a fraction of the dry mass; unknown counts as dry.
func (p Part) moisture() float64 {
	if p.MoisturePct == nil {
		return 0
	}
	return *p.MoisturePct / 100
}

// assay as a fraction; unknown counts as pure.
func (p Part) assay() float64 {
	if p.AssayPct == nil {
		return 1
	}
	return *p.AssayPct / 100
}

// tooMuchWater names the wettest earth, or else the crystals, as what brings more water than the recipe takes.
func (s *scaling) tooMuchWater() error {
	field, got, most := "moisture_pct", "crystals with more water than the recipe takes", 0.0
	for _, w := range s.answer.Weigh {
		if w.Kind == Earth && float64(w.WaterInIt) > most {
			most = float64(w.WaterInIt)
			field, got = fmt.Sprintf("parts[%d].moisture_pct", w.Part), written(*s.recipe.Parts[w.Part].MoisturePct)
		}
	}
	return input.Problems{{Field: field, Got: got,
		Allowed: input.Say("water in earth and crystals up to what the recipe takes, %.4g g here; it is %.4g g too much",
			float64(s.answer.Details.AllWater), -float64(s.answer.PourWater.Mass)),
		Hint: input.Say("Dry the earth, or write more water into the recipe")}}
}

func (s *scaling) pour() {
	p := &s.answer.PourWater
	p.Rounded = p.Mass.RoundTo(s.conditions.Step)
	p.AtTempC = s.conditions.WaterTemp
	p.Litres = unit.Litre(float64(p.Mass) / water.DensityKgM3(float64(p.AtTempC)))
	if b := s.conditions.Bucket; b != nil {
		n := int(float64(p.Litres) / float64(*b))
		p.Buckets, p.RemainderL = &n, ptr(p.Litres-unit.Litre(n)**b)
	}
}
