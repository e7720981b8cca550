package ledger

import (
	"time"

	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// keysOfAll are the keys that every fact may have.
var keysOfAll = []string{"id", "at", "kind", "by", "note", "entered_at", "temp_c", "clock_in_doubt"}

// keysOf are the further keys of each kind.
var keysOf = map[Kind][]string{
	MakeUp:   {"parts"},
	Addition: {"parts"},
	TopUp:    {"parts", "to_level_cm"},
	Read: {"level_cm", "level_sd_cm", "pieces_out", "ph", "ph_temp_c", "density_kg_l", "density_sd_kg_l", "density_temp_c",
		"conductivity_ms_cm", "conductivity_sd_pct", "dilution", "conductivity_temp_c"},
	Soaked: {"out_at", "area_dm2", "metal_g", "pieces", "temp_in_c", "temp_out_c", "dragout_g", "dragout_l", "trapped_l", "metal_loss_g"},
	Dumped: {"litres", "share_pct", "what"},

	Correction: {"replaces", "fact"},
	HeatOn:     nil, HeatOff: nil, LidOn: nil, LidOff: nil, Retire: nil,
}

// fact reads one fact; inside a correction it has no id and may have no time of its own.
func (r reader) fact(o *input.Object, inside bool) Fact {
	f := Fact{Kind: Kind(o.String("kind")), At: r.time(o, "at"), By: o.String("by"), Note: o.String("note"), EnteredAt: o.String("entered_at")}
	f.Temp = number[unit.Celsius](o, "temp_c")
	f.ClockInDoubt = o.Bool("clock_in_doubt")
	known := keysOfAll
	if inside {
		known = known[1:]
	} else {
		f.ID = o.String("id")
	}
	switch f.Kind {
	case MakeUp, Addition:
		f.Parts = r.parts(o)
	case TopUp:
		f.Parts = r.parts(o)
		f.ToLevel = number[unit.Centimetre](o, "to_level_cm")
	case Read:
		f.Reading = reading(o)
	case Soaked:
		f.Soak = r.soak(o)
	case Dumped:
		f.Dump = &Dump{Litres: number[unit.Litre](o, "litres"), SharePct: o.Number("share_pct"), What: o.String("what")}
		if !o.Has("what") {
			f.Dump.What = Stirred
		}
	case Correction:
		f.Replaces = o.String("replaces")
		if inner := o.Object("fact"); inner != nil && !inside {
			instead := r.fact(inner, true)
			f.Fact = &instead
		}
	}
	if further, is := keysOf[f.Kind]; is { // else its kind is the problem, and unknown keys would only hide that
		o.Done(append(known[:len(known):len(known)], further...)...)
	}
	return f
}

func reading(o *input.Object) *Reading {
	return &Reading{
		Level: number[unit.Centimetre](o, "level_cm"), LevelSD: number[unit.Centimetre](o, "level_sd_cm"), PiecesOut: o.Bool("pieces_out"),
		PH: o.Number("ph"), PHTemp: number[unit.Celsius](o, "ph_temp_c"),
		Density: number[unit.GramPerCM3](o, "density_kg_l"), DensitySD: number[unit.GramPerCM3](o, "density_sd_kg_l"),
		DensityTemp:      number[unit.Celsius](o, "density_temp_c"),
		ConductivityMSCm: o.Number("conductivity_ms_cm"), ConductivitySDPct: o.Number("conductivity_sd_pct"),
		Dilution: o.Number("dilution"), ConductivityTemp: number[unit.Celsius](o, "conductivity_temp_c"),
	}
}

func (r reader) soak(o *input.Object) *Soak {
	s := &Soak{
		Area: number[unit.SquareDM](o, "area_dm2"), Metal: number[unit.Gram](o, "metal_g"), Pieces: o.Number("pieces"),
		TempIn: number[unit.Celsius](o, "temp_in_c"), TempOut: number[unit.Celsius](o, "temp_out_c"),
		DragOutG: number[unit.Gram](o, "dragout_g"), DragOutL: number[unit.Litre](o, "dragout_l"), TrappedL: number[unit.Litre](o, "trapped_l"),
		MetalLossG: number[unit.Gram](o, "metal_loss_g"),
	}
	if out := r.time(o, "out_at"); !out.Equal(time.Time{}) {
		s.Out = &out
	}
	return s
}

func (r reader) parts(o *input.Object) []Part {
	var parts []Part
	for _, p := range o.Objects("parts") {
		parts = append(parts, r.part(p))
	}
	return parts
}

func (r reader) part(o *input.Object) Part {
	p := Part{Kind: PartKind(o.String("kind"))}
	mass := func() { p.Mass = number[unit.Gram](o, "mass_g") }
	litres := func() { p.Litres = number[unit.Litre](o, "litres") }
	switch p.Kind {
	case WaterPart:
		mass()
		litres()
		p.WaterTemp = number[unit.Celsius](o, "water_temp_c")
		o.Done("kind", "mass_g", "litres", "water_temp_c")
	case EarthPart:
		mass()
		p.Name = o.String("name")
		p.MoisturePct = o.Number("moisture_pct")
		p.ParticleDensity = number[unit.GramPerCM3](o, "particle_density_g_cm3")
		p.Carbonate = r.carbonate(o)
		o.Done("kind", "name", "mass_g", "moisture_pct", "particle_density_g_cm3", "carbonate_pct", "carbonate_lo_pct", "carbonate_hi_pct")
	case SaltPart:
		mass()
		p.Salt = salt.ID(o.String("salt"))
		p.AssayPct = o.Number("assay_pct")
		o.Done("kind", "salt", "mass_g", "assay_pct")
	case MudPart:
		mass()
		litres()
		if salts := o.Object("salt_g_per_kg_water"); salts != nil {
			p.Salts = []salt.Dissolved{}
			for _, name := range salts.Keys() {
				if !salts.Has(name) {
					continue
				}
				p.Salts = append(p.Salts, salt.Dissolved{Salt: salt.ID(name), GPerKgWater: required[float64](salts, name)})
			}
		}
		p.EarthDry = number[unit.GramPerKG](o, "earth_dry_g_per_kg_water")
		o.Done("kind", "mass_g", "litres", "salt_g_per_kg_water", "earth_dry_g_per_kg_water")
	}
	return p
}

// carbonate reads one figure, or a pair of them.
func (r reader) carbonate(o *input.Object) *Carbonate {
	one, lo, hi := o.Number("carbonate_pct"), o.Number("carbonate_lo_pct"), o.Number("carbonate_hi_pct")
	pair := o.Has("carbonate_lo_pct") || o.Has("carbonate_hi_pct")
	switch {
	case o.Has("carbonate_pct") && pair:
		r.problems.Add(o.Path("carbonate_pct"), "one figure and a range", input.Say("carbonate_pct, or carbonate_lo_pct with carbonate_hi_pct"))
	case one != nil:
		return &Carbonate{*one, *one}
	case lo != nil && hi != nil:
		return &Carbonate{*lo, *hi}
	case pair && !o.Has("carbonate_lo_pct"):
		r.problems.Add(o.Path("carbonate_lo_pct"), "", input.Say("the lower figure, with carbonate_hi_pct"))
	case pair && !o.Has("carbonate_hi_pct"):
		r.problems.Add(o.Path("carbonate_hi_pct"), "", input.Say("the upper figure, with carbonate_lo_pct"))
	}
	return nil
}
