package ledger

import (
	"math"
	"time"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// LargestFileBytes is the most that [ParseFile] reads: a fact has some 150 bytes, so there is room for 100 000.
const LargestFileBytes = 16 << 20

// absent marks a number that has to be there and was not given. JSON cannot hold it, and Check names it as missing.
var absent = math.NaN()

// ParseFile reads a facts file and checks it. The error is an [input.Problems]; the bath is then empty.
func ParseFile(data []byte) (Bath, error) {
	var ps input.Problems
	o, ok := input.ParseObjectUpTo(LargestFileBytes, "facts file", data, &ps)
	if !ok {
		return Bath{}, ps
	}
	r := reader{problems: &ps}
	b := r.bath(o)
	ps = ps.Merge(b.Check())
	if err := ps.Err(); err != nil {
		return Bath{}, err
	}
	return b, nil
}

// A reader reads the pieces of a facts file.
type reader struct{ problems *input.Problems }

func (r reader) bath(o *input.Object) Bath {
	b := Defaults()
	b.Name = o.String("bath")
	if t := o.Object("tank"); t != nil {
		b.Tank = bath.ReadTank(t)
	} else if !o.Has("tank") {
		r.problems.Add("tank", "", input.Say("a tank, as in a tank file"))
	}
	set(&b.Altitude, o, "altitude_m")
	b.WaterBoilsAt = number[unit.Celsius](o, "water_boils_at_c")
	if room := o.Object("room"); room != nil {
		set(&b.Room.Temp, room, "temp_c")
		set(&b.Room.RHPercent, room, "rh_pct")
		set(&b.Room.AirMPerS, room, "air_m_s")
		room.Done("temp_c", "rh_pct", "air_m_s")
	}
	b.Recipe = r.recipe(o)
	if l := o.Object("learned"); l != nil {
		b.Learned.EvaporationRatios = l.Numbers("evaporation_ratios")
		b.Learned.DragOutLPerM2 = l.Number("dragout_l_m2")
		b.Learned.ZincGPerM2 = number[unit.Gram](l, "zinc_g_m2")
		l.Done("evaporation_ratios", "dragout_l_m2", "zinc_g_m2")
	}
	set(&b.LidFactor, o, "lid_factor")
	set(&b.CoolingH, o, "cooling_h")
	for _, l := range o.Objects("lots") {
		b.Lots = append(b.Lots, lot(l))
	}
	set(&b.Load, o, "load_cm3")
	set(&b.Step, o, "step_g")
	b.Bucket = number[unit.Litre](o, "bucket_l")
	set(&b.WaterTemp, o, "water_temp_c")
	b.Coldest = number[unit.Celsius](o, "coldest_c")
	for _, f := range o.Objects("facts") {
		b.Facts = append(b.Facts, r.fact(f, false))
	}
	o.Done("bath", "tank", "altitude_m", "water_boils_at_c", "room", "recipe", "learned", "lid_factor", "cooling_h", "lots",
		"load_cm3", "step_g", "bucket_l", "water_temp_c", "coldest_c", "facts")
	return b
}

func (r reader) recipe(parent *input.Object) Recipe {
	// Until a temperature is read, the whole window counts as missing.
	none := Recipe{Temp: bath.TempWindow{Min: unit.Celsius(absent), Target: unit.Celsius(absent), Max: unit.Celsius(absent)}}
	o := parent.Object("recipe")
	if o == nil {
		if !parent.Has("recipe") {
			r.problems.Add("recipe", "", input.Say("a recipe with salts and temp_c"))
		}
		return none
	}
	rec := none
	rec.Name = o.String("name")
	if !o.Has("salts") {
		r.problems.Add(o.Path("salts"), "", input.Say("a list of salts; it may be empty: []"))
	}
	for _, s := range o.Objects("salts") {
		w, given := window(s, "g_per_kg_water")
		if !given && !s.Has("g_per_kg_water") {
			r.problems.Add(s.Path("g_per_kg_water"), "", input.Say("a window with its target"))
		}
		rec.Salts = append(rec.Salts, SaltWindow{salt.ID(s.String("salt")), w})
		s.Done("salt", "g_per_kg_water")
	}
	if w, given := window(o, "earth_dry_g_per_kg_water"); given {
		rec.EarthDry = &w
	}
	if w, given := window(o, "temp_c"); given {
		rec.Temp = bath.TempWindow{Min: unit.Celsius(w.Min), Target: unit.Celsius(w.Target), Max: unit.Celsius(w.Max)}
	}
	rec.LevelMin = number[unit.Centimetre](o, "level_min_cm")
	o.Done("name", "salts", "earth_dry_g_per_kg_water", "temp_c", "level_min_cm")
	return rec
}

func lot(o *input.Object) Lot {
	l := Lot{Kind: bath.PartKind(o.String("kind")), Name: o.String("name")}
	switch l.Kind {
	case bath.Earth:
		l.MoisturePct = o.Number("moisture_pct")
		o.Done("kind", "name", "moisture_pct")
	case bath.Salt:
		l.Salt = salt.ID(o.String("salt"))
		l.AssayPct = o.Number("assay_pct")
		o.Done("kind", "name", "salt", "assay_pct")
	}
	return l
}

// window reads min, target and max; min and max default to the target.
func window(parent *input.Object, key string) (w Window, given bool) {
	o := parent.Object(key)
	if o == nil {
		return Window{}, false
	}
	w.Target = required[unit.GramPerKG](o, "target")
	w.Min, w.Max = w.Target, w.Target
	set(&w.Min, o, "min")
	set(&w.Max, o, "max")
	o.Done("min", "target", "max")
	return w, true
}

// number returns a number in its unit, or nil when it is absent.
func number[T ~float64](o *input.Object, key string) *T {
	x := o.Number(key)
	if x == nil {
		return nil
	}
	v := T(*x)
	return &v
}

// set changes a default when the number is given.
func set[T ~float64](to *T, o *input.Object, key string) {
	if x := o.Number(key); x != nil {
		*to = T(*x)
	}
}

// required returns a number, or the mark of an absent one.
func required[T ~float64](o *input.Object, key string) T {
	if x := o.Number(key); x != nil {
		return T(*x)
	}
	return T(absent)
}

// time reads a moment with its offset; the zero time when it is absent or no time.
func (r reader) time(o *input.Object, key string) time.Time {
	before := len(*r.problems)
	text := o.String(key)
	if !o.Has(key) || len(*r.problems) > before { // absent, or no text at all
		return time.Time{}
	}
	t, err := ParseTime(text)
	if err != nil {
		r.problems.Add(o.Path(key), text, TimeAllowed)
		return time.Time{}
	}
	return t
}

// TimeAllowed says what a time has to look like.
var TimeAllowed = input.Say("a date and time with its offset from UTC, as 2026-01-05T08:00:00+01:00, from 1900 to 2079")

// ParseTime reads RFC 3339 with offset.
func ParseTime(text string) (time.Time, error) {
	t, err := time.Parse(time.RFC3339, text)
	if err == nil && (t.UTC().Year() < firstYear || t.UTC().Year() > lastYear) {
		err = errYear
	}
	return t.UTC(), err
}
