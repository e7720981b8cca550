package bath

import (
	"blackbath/bath/caution"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// An Answer is a recipe scaled to a tank. Figures are not rounded, except those named so. What a pointer leaves nil cannot be
// had: no heater is known, a level stands above the rim.
//
// The model's own uncertainty: solution density 0.15 % inside its measured range, solubility 4 %, boiling point 1 °C (weather
// moves it by 0.6), evaporation 30 %. Masses are as sure as the lot's moisture and assay.
type Answer struct {
	Recipe      string          `json:"recipe"`
	Tank        string          `json:"tank"`
	TempC       unit.Celsius    `json:"temp_c"`     // the recipe's target
	BoilsAtC    unit.Celsius    `json:"boils_at_c"` // this bath, here
	HotBathL    unit.Litre      `json:"hot_bath_l"` // the mud alone at working temperature
	LoadL       unit.Litre      `json:"load_l"`
	HotDensity  unit.GramPerCM3 `json:"hot_density_kg_l"` // of the mud
	Weigh       []Weigh         `json:"weigh"`
	PourWater   PourWater       `json:"pour_water"`
	Composition Composition     `json:"composition"`
	Levels      Levels          `json:"levels_cm"`
	Undissolved Grams           `json:"undissolved_g"` // every salt alone in all the water at the coldest temperature; 0 when it dissolves
	OpenSurface unit.SquareCM   `json:"open_surface_cm2"`
	Evaporation *unit.LitrePerH `json:"evaporation_l_per_h,omitempty"` // litres of water at the poured water's temperature
	HeatUp      *unit.Minute    `json:"heat_up_min,omitempty"`
	Cautions    []CautionLine   `json:"cautions"`
	Warnings    []Warning       `json:"warnings"`
	Details     Details         `json:"-"`
	Judged      caution.Answer  `json:"-"` // Cautions whole: why, source, what is refused
}

// Grams is a mass for each salt.
type Grams map[salt.ID]unit.Gram

// Weigh is one line of what to weigh, in the recipe's order.
type Weigh struct {
	Kind    PartKind  `json:"kind"`
	Name    string    `json:"name,omitempty"`
	Salt    salt.ID   `json:"salt,omitempty"`
	Mass    unit.Gram `json:"mass_g"` // as it lies there: damp earth, impure salt
	Rounded unit.Gram `json:"rounded_g"`

	Part      int       `json:"-"` // index in the recipe
	Pure      unit.Gram `json:"-"` // dry earth, or pure salt in the named form
	WaterInIt unit.Gram `json:"-"` // that it brings and that is taken off the water to pour
}

// PourWater is the water to pour.
type PourWater struct {
	Mass       unit.Gram    `json:"mass_g"`
	Rounded    unit.Gram    `json:"rounded_g"`
	Litres     unit.Litre   `json:"litres"` // at AtTempC
	AtTempC    unit.Celsius `json:"at_temp_c"`
	Buckets    *int         `json:"buckets,omitempty"` // whole ones
	RemainderL *unit.Litre  `json:"remainder_l,omitempty"`
}

// Composition is the recipe that rounding really gives.
type Composition struct {
	SaltGPerKgWater  map[salt.ID]unit.GramPerKG `json:"salt_g_per_kg_water"` // named form, per kg of all water
	EarthDryGPerKg   unit.GramPerKG             `json:"earth_dry_g_per_kg_water"`
	DeviationPercent map[string]float64         `json:"deviation_pct"` // per salt, and "earth"
}

// Levels are dip-stick readings above the bottom. A level above the rim, or above the last mark of a dip-stick table, is nil.
type Levels struct {
	Cold   *unit.Centimetre `json:"cold,omitempty"` // at the water's temperature, no pieces
	Hot    *unit.Centimetre `json:"hot,omitempty"`  // at working temperature, no pieces
	Loaded unit.Centimetre  `json:"loaded"`         // the fill line
	Rim    unit.Centimetre  `json:"rim"`
}

// A CautionLine is a caution as the answer carries it.
type CautionLine struct {
	ID       string `json:"id"`
	Severity string `json:"severity"`
	Text     string `json:"text"`
}

// A Warning is a figure that does not hold or was assumed.
type Warning struct {
	Code WarningCode `json:"code"`
	Text string      `json:"text"`
	Say  input.Text  `json:"-"` // Text with its figures apart, for translation
}

// A WarningCode names a kind of warning.
type WarningCode string

const (
	AboveBoiling    WarningCode = "above_boiling"
	NearSaturation  WarningCode = "near_saturation"
	DoesNotDissolve WarningCode = "does_not_dissolve"
	RoundsToNothing WarningCode = "rounds_to_nothing"
	MoistureAssumed WarningCode = "moisture_assumed"
	AssayAssumed    WarningCode = "assay_assumed"
	HeaterTooSmall  WarningCode = "heater_too_small"
	ColdOverflows   WarningCode = "cold_overflows"
	Estimate        WarningCode = "estimate"
)

// Details are further figures of the same sum that pages and paper show.
type Details struct {
	WorkingTemp    unit.Celsius // the target, or the boiling point where that is lower
	Coldest        unit.Celsius
	PressurePa     float64
	WaterActivity  float64
	LiquidHot      unit.GramPerCM3 // density of the liquid between the grains at working temperature
	AllWater       unit.Gram       // poured, in the earth and in crystals
	EarthDry       unit.Gram
	ColdBathL      unit.Litre
	OverfillL      unit.Litre // how far filling cold to the loaded line would run over it when hot
	UndissolvedHot Grams      // as Undissolved, at working temperature
	SaturationCold float64    // summed load of all salts, 1 is saturated
	SaturationHot  float64
	FillFraction   float64 // loaded volume / volume to the rim
	EvaporationKW  float64
	Boiling        bool // the heater, not the air, sets the evaporation
}
