package store

import (
	"encoding/json"
	"fmt"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// The values that are kept whole, as JSON in one column: nothing searches inside them, and a bath sheet's copies must stay
// as they are. Names are columns of their own.

type recipeJSON struct {
	Parts       []partJSON `json:"parts"`
	TempMinC    float64    `json:"temp_min_c"`
	TempTargetC float64    `json:"temp_target_c"`
	TempMaxC    float64    `json:"temp_max_c"`
	Soak        *soakJSON  `json:"soak,omitempty"`
}

type partJSON struct {
	Kind                   string   `json:"kind"`
	Name                   string   `json:"name,omitempty"`
	Salt                   string   `json:"salt,omitempty"`
	MassG                  float64  `json:"mass_g"`
	MoisturePct            *float64 `json:"moisture_pct,omitempty"`
	AssayPct               *float64 `json:"assay_pct,omitempty"`
	ParticleDensityGPerCM3 *float64 `json:"particle_density_g_per_cm3,omitempty"`
}

type soakJSON struct {
	MinMin    float64 `json:"min_min"`
	TargetMin float64 `json:"target_min"`
	MaxMin    float64 `json:"max_min"`
}

func fromRecipe(r bath.Recipe) recipeJSON {
	j := recipeJSON{
		Parts:    make([]partJSON, len(r.Parts)),
		TempMinC: float64(r.Temp.Min), TempTargetC: float64(r.Temp.Target), TempMaxC: float64(r.Temp.Max),
	}
	for i, p := range r.Parts {
		j.Parts[i] = partJSON{
			Kind: string(p.Kind), Name: p.Name, Salt: string(p.Salt), MassG: float64(p.Mass),
			MoisturePct: p.MoisturePct, AssayPct: p.AssayPct, ParticleDensityGPerCM3: convert[float64](p.ParticleDensity),
		}
	}
	if r.Soak != nil {
		j.Soak = &soakJSON{float64(r.Soak.Min), float64(r.Soak.Target), float64(r.Soak.Max)}
	}
	return j
}

func (j recipeJSON) value(name string) bath.Recipe {
	r := bath.Recipe{
		Name: name, Parts: make([]bath.Part, len(j.Parts)),
		Temp: bath.TempWindow{Min: unit.Celsius(j.TempMinC), Target: unit.Celsius(j.TempTargetC), Max: unit.Celsius(j.TempMaxC)},
	}
	for i, p := range j.Parts {
		r.Parts[i] = bath.Part{
			Kind: bath.PartKind(p.Kind), Name: p.Name, Salt: salt.ID(p.Salt), Mass: unit.Gram(p.MassG),
			MoisturePct: p.MoisturePct, AssayPct: p.AssayPct, ParticleDensity: convert[unit.GramPerCM3](p.ParticleDensityGPerCM3),
		}
	}
	if s := j.Soak; s != nil {
		r.Soak = &bath.SoakWindow{Min: unit.Minute(s.MinMin), Target: unit.Minute(s.TargetMin), Max: unit.Minute(s.MaxMin)}
	}
	return r
}

type tankJSON struct {
	Shape            string     `json:"shape"`
	LengthCM         float64    `json:"length_cm,omitempty"`
	WidthCM          float64    `json:"width_cm,omitempty"`
	HeightCM         float64    `json:"height_cm,omitempty"`
	DiameterCM       float64    `json:"diameter_cm,omitempty"`
	BottomDiameterCM float64    `json:"bottom_diameter_cm,omitempty"`
	TopDiameterCM    float64    `json:"top_diameter_cm,omitempty"`
	RimDiameterCM    float64    `json:"rim_diameter_cm,omitempty"`
	DepthCM          float64    `json:"depth_cm,omitempty"`
	Marks            []markJSON `json:"marks,omitempty"`
	RimCM            *float64   `json:"rim_cm,omitempty"`
	FreeboardCM      float64    `json:"freeboard_cm"`
	HeaterKW         *float64   `json:"heater_kw,omitempty"`
	Wall             string     `json:"wall,omitempty"`
}

type markJSON struct {
	LevelCM float64 `json:"level_cm"`
	VolumeL float64 `json:"volume_l"`
}

func fromTank(t bath.Tank) tankJSON {
	j := tankJSON{
		Shape: string(t.Shape), LengthCM: float64(t.Length), WidthCM: float64(t.Width), HeightCM: float64(t.Height),
		DiameterCM: float64(t.Diameter), BottomDiameterCM: float64(t.BottomDiameter), TopDiameterCM: float64(t.TopDiameter),
		RimDiameterCM: float64(t.RimDiameter), DepthCM: float64(t.Depth), RimCM: convert[float64](t.Rim),
		FreeboardCM: float64(t.Freeboard), HeaterKW: convert[float64](t.HeaterKW), Wall: string(t.Wall),
	}
	for _, m := range t.MarkTable {
		j.Marks = append(j.Marks, markJSON{float64(m.Level), float64(m.Volume)})
	}
	return j
}

func (j tankJSON) value(name string) bath.Tank {
	t := bath.Tank{
		Name: name, Shape: bath.Shape(j.Shape), Length: unit.Centimetre(j.LengthCM), Width: unit.Centimetre(j.WidthCM),
		Height: unit.Centimetre(j.HeightCM), Diameter: unit.Centimetre(j.DiameterCM),
		BottomDiameter: unit.Centimetre(j.BottomDiameterCM), TopDiameter: unit.Centimetre(j.TopDiameterCM),
		RimDiameter: unit.Centimetre(j.RimDiameterCM), Depth: unit.Centimetre(j.DepthCM), Rim: convert[unit.Centimetre](j.RimCM),
		Freeboard: unit.Centimetre(j.FreeboardCM), HeaterKW: convert[unit.Kilowatt](j.HeaterKW), Wall: bath.Wall(j.Wall),
	}
	for _, m := range j.Marks {
		t.MarkTable = append(t.MarkTable, bath.Mark{Level: unit.Centimetre(m.LevelCM), Volume: unit.Litre(m.VolumeL)})
	}
	return t
}

type proofJSON struct {
	TankName    string               `json:"tank_name"`
	Tank        tankJSON             `json:"tank"`
	LoadCM3     float64              `json:"load_cm3"`
	LoadAreaDM2 float64              `json:"load_area_dm2"`
	Ranges      map[string]rangeJSON `json:"ranges,omitempty"` // by figure, whose name says the unit
}

type rangeJSON struct {
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
}

func fromProof(p bath.Proof) proofJSON {
	j := proofJSON{
		TankName: p.Tank.Name, Tank: fromTank(p.Tank), LoadCM3: float64(p.Load), LoadAreaDM2: float64(p.LoadArea),
		Ranges: make(map[string]rangeJSON, len(p.Ranges)),
	}
	for figure, r := range p.Ranges {
		j.Ranges[string(figure)] = rangeJSON(r)
	}
	return j
}

func (j proofJSON) value() bath.Proof {
	p := bath.Proof{Tank: j.Tank.value(j.TankName), Load: unit.CubicCM(j.LoadCM3), LoadArea: unit.SquareDM(j.LoadAreaDM2)}
	for figure, r := range j.Ranges {
		if p.Ranges == nil {
			p.Ranges = make(map[bath.Figure]bath.Range, len(j.Ranges))
		}
		p.Ranges[bath.Figure(figure)] = bath.Range(r)
	}
	return p
}

type conditionsJSON struct {
	LoadCM3     float64  `json:"load_cm3"`
	AltitudeM   float64  `json:"altitude_m"`
	WaterBoilsC *float64 `json:"water_boils_c,omitempty"`
	WaterTempC  float64  `json:"water_temp_c"`
	ColdestC    *float64 `json:"coldest_c,omitempty"`
	StepG       float64  `json:"step_g"`
	BucketL     *float64 `json:"bucket_l,omitempty"`

	LastChloride string `json:"last_chloride,omitempty"`
}

func fromConditions(c bath.Conditions) conditionsJSON {
	return conditionsJSON{
		LoadCM3: float64(c.Load), AltitudeM: float64(c.Altitude), WaterBoilsC: convert[float64](c.WaterBoilsAt),
		WaterTempC: float64(c.WaterTemp), ColdestC: convert[float64](c.Coldest), StepG: float64(c.Step),
		BucketL: convert[float64](c.Bucket), LastChloride: string(c.LastChloride),
	}
}

func (j conditionsJSON) value() bath.Conditions {
	return bath.Conditions{
		Load: unit.CubicCM(j.LoadCM3), Altitude: unit.Metre(j.AltitudeM), WaterBoilsAt: convert[unit.Celsius](j.WaterBoilsC),
		WaterTemp: unit.Celsius(j.WaterTempC), Coldest: convert[unit.Celsius](j.ColdestC), Step: unit.Gram(j.StepG),
		Bucket: convert[unit.Litre](j.BucketL), LastChloride: salt.ID(j.LastChloride),
	}
}

// fromJSON reads a column that holds a whole value.
func fromJSON[T any](text, column string) (T, error) {
	var v T
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		return v, fmt.Errorf("column %s: %w", column, err)
	}
	return v, nil
}
