package ledger

import (
	"math"
	"time"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

func celsius(x float64) unit.Celsius { return unit.Celsius(x) }
func litre(x float64) unit.Litre     { return unit.Litre(x) }
func gram(x float64) unit.Gram       { return unit.Gram(x) }

// A Second is a moment in UTC, written in whole seconds.
type Second struct{ time.Time }

func second(ns int64) Second { return Second{time.Unix(0, ns).UTC()} }

// MarshalJSON writes the moment as 2026-01-05T17:00:00Z.
func (s Second) MarshalJSON() ([]byte, error) { return []byte(`"` + s.String() + `"`), nil }

func (s Second) String() string { return s.UTC().Format("2006-01-02T15:04:05Z") }

// A Place says where a figure stands against its window.
type Place string

const (
	Below  Place = "below"
	Inside Place = "inside"
	Above  Place = "above"
)

// A Strength is one salt of the recipe, g of its named form per kg of all liquid water.
type Strength struct {
	Salt        salt.ID        `json:"salt"`
	GPerKgWater unit.GramPerKG `json:"g_per_kg_water"`
	SD          unit.GramPerKG `json:"sd"`
	Place       Place          `json:"place"`
}

// An EarthStrength is the dry earth per kg of all liquid water.
type EarthStrength struct {
	DryGPerKgWater unit.GramPerKG `json:"dry_g_per_kg_water"`
	SD             unit.GramPerKG `json:"sd"`
	Place          Place          `json:"place,omitempty"` // "": the recipe has no window for it
}

// Evaporation is what is known of this bath's.
type Evaporation struct {
	Factor      float64   `json:"factor"` // found over foretold by the formula, of this tank
	Doubt       float64   `json:"doubt"`  // one relative standard deviation
	Ratios      []float64 `json:"ratios"` // that this bath has taught
	EvaporatedG unit.Gram `json:"evaporated_g"`
}

// Soaks sums up the loads. Count and areas are of those that have ended.
type Soaks struct {
	Count        int           `json:"count"`
	Running      []string      `json:"running"`
	AreaDM2      unit.SquareDM `json:"area_dm2"`
	AreaDM2PerL  float64       `json:"area_dm2_per_l"`
	ZincTakenUpG *GramEstimate `json:"zinc_taken_up_g,omitempty"` // nil: no soak has a figure
}

// AtSoak is the state when the pieces went in.
type AtSoak struct {
	ID       string                     `json:"id"`
	At       Second                     `json:"at"`
	TempC    unit.Celsius               `json:"temp_c"`
	VolumeL  unit.Litre                 `json:"volume_l"`
	Strength map[salt.ID]unit.GramPerKG `json:"strength,omitzero"` // nil: no water
}

// A State is a bath at a moment. Figures are not rounded; what a pointer leaves nil cannot be had.
type State struct {
	Bath         string               `json:"bath"`
	AsOf         Second               `json:"as_of"`
	Retired      bool                 `json:"retired"`
	TempC        unit.Celsius         `json:"temp_c"`
	BoilsAtC     *unit.Celsius        `json:"boils_at_c,omitempty"`
	VolumeL      unit.Litre           `json:"volume_l"`           // mud alone at TempC
	LevelCM      *unit.Centimetre     `json:"level_cm,omitempty"` // nil: above the rim
	AgeH         float64              `json:"age_h"`
	HotH         float64              `json:"hot_h"` // at 60 °C or more
	Water        GramEstimate         `json:"water_g"`
	EarthDry     GramEstimate         `json:"earth_dry_g"`
	Ions         map[Ion]GramEstimate `json:"ions_g"`
	Strengths    []Strength           `json:"strength"`
	Earth        *EarthStrength       `json:"earth,omitempty"`
	TempPlace    Place                `json:"temp_place"`
	Evaporation  Evaporation          `json:"evaporation"`
	DragOutDoubt Estimate             `json:"dragout_doubt"`
	Soaks        Soaks                `json:"soaks"`
	AtSoaks      []AtSoak             `json:"at_soaks"`
	Balance      Balances             `json:"balance"`
	Warnings     []Warning            `json:"-"`

	bath     *Bath
	model    model
	estimate estimate
}

// sameStrength is how far apart two strengths may be by rounding: a bath made up to a window without width is inside.
const sameStrength = 1e-9

func placeOf(x, low, high float64) Place {
	switch {
	case x < low*(1-sameStrength):
		return Below
	case x > high*(1+sameStrength):
		return Above
	}
	return Inside
}

// state is the replay's answer.
func (r *replay) state(l *life) State {
	tC := r.tempC()
	v := r.volumeL(&r.x, tC)
	s := State{
		Bath: r.bath.Name, AsOf: second(l.end), Retired: l.retired, TempC: celsius(tC), VolumeL: litre(v),
		AgeH: float64(l.end-r.madeAt) / nsPerHour, HotH: r.hotH,
		Water:        GramEstimate{gram(r.x[waterAt]), gram(r.sd(waterAt))},
		EarthDry:     GramEstimate{gram(r.x[earthAt]), gram(r.sd(earthAt))},
		Ions:         make(map[Ion]GramEstimate, ionCount),
		Strengths:    r.strengths(&r.estimate),
		TempPlace:    placeOf(tC, float64(r.bath.Recipe.Temp.Min), float64(r.bath.Recipe.Temp.Max)),
		Evaporation:  Evaporation{r.learning.factor, r.sd(doubtEvaporation), r.learning.own(), gram(max(0, -r.flows[flowEvaporated][waterAt]))},
		DragOutDoubt: Estimate{r.doubt(doubtDragOut), r.sd(doubtDragOut)},
		Soaks: Soaks{
			Count: r.soaks.count, Running: []string{}, AreaDM2: unit.SquareDM(r.soaks.areaDM2), AreaDM2PerL: r.soaks.areaPerLitre, ZincTakenUpG: r.zincTakenUp(),
		},
		AtSoaks: append([]AtSoak{}, r.soaks.atIn...),
		Balance: r.balances(), Warnings: r.warns.list,
		bath: r.bath, model: r.model, estimate: r.estimate,
	}
	if level, ok := r.tank.LevelOf(unit.Litre(v)); ok {
		s.LevelCM = &level
	}
	for i := range ions {
		m := ions[i].molarMass
		s.Ions[ions[i].name] = GramEstimate{gram(r.x[ionsAt+i] * m), gram(r.sd(ionsAt+i) * m)}
	}
	for _, e := range r.soaks.running {
		s.Soaks.Running = append(s.Soaks.Running, e.id)
	}
	if w := r.x[waterAt]; w > 0 {
		boils := celsius(r.boilsAtC(&r.x))
		s.BoilsAtC = &boils
		s.Earth = r.earthStrength()
	}
	return s
}

// strengths are the recipe's salts in a bath with water; none without.
func (m *model) strengthsOf(x *amounts) (gPerKg []float64, by []combination) {
	by = make([]combination, len(m.recipe))
	m.split(x, by)
	gPerKg = make([]float64, len(m.recipe))
	for i := range by {
		gPerKg[i] = 1000 * by[i].of(x) * m.forms[i].MolarMassGPerMol / x[waterAt]
	}
	return gPerKg, by
}

func (r *replay) strengths(e *estimate) []Strength {
	out := []Strength{}
	w := e.x[waterAt]
	if w <= 0 {
		return out
	}
	gPerKg, by := r.strengthsOf(&e.x)
	for i, s := range r.bath.Recipe.Salts {
		var g amounts
		for k, c := range by[i] {
			g[ionsAt+k] = 1000 * c * r.forms[i].MolarMassGPerMol / w
		}
		g[waterAt] = -gPerKg[i] / w
		value := max(gPerKg[i], 0)
		out = append(out, Strength{s.Salt, unit.GramPerKG(value), unit.GramPerKG(math.Sqrt(e.variance(&g))), placeOf(value, float64(s.Min), float64(s.Max))})
	}
	return out
}

// strengthsOnly are the strengths without their doubts; nil without water.
func (r *replay) strengthsOnly() map[salt.ID]unit.GramPerKG {
	if r.x[waterAt] <= 0 {
		return nil
	}
	gPerKg, _ := r.strengthsOf(&r.x)
	out := make(map[salt.ID]unit.GramPerKG, len(gPerKg))
	for i, g := range gPerKg {
		out[r.forms[i].ID] = unit.GramPerKG(max(g, 0))
	}
	return out
}

func (r *replay) earthStrength() *EarthStrength {
	w := r.x[waterAt]
	value := 1000 * r.x[earthAt] / w
	var g amounts
	g[earthAt], g[waterAt] = 1000/w, -value/w
	s := &EarthStrength{DryGPerKgWater: unit.GramPerKG(value), SD: unit.GramPerKG(math.Sqrt(r.variance(&g)))}
	if win := r.bath.Recipe.EarthDry; win != nil {
		s.Place = placeOf(value, float64(win.Min), float64(win.Max))
	}
	return s
}
