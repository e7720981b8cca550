package ledger

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// Beyond these a figure is taken for a slip of the pen or of the unit.
const (
	largestAmount = 1e9  // g, L, cm³, dm²
	largestSpread = 1e6  // of a standard deviation, a ratio, a rate per area
	smallest      = 1e-9 // of what has to be above 0
	lowestAssay   = 1e-6

	// Times are counted in int64 nanoseconds, which end in 2262: the longest soak may still be moved to the last year.
	firstYear = 1900
	lastYear  = 2079
)

var errYear = errors.New("the year is out of range")

// A checker gathers problems. Its paths are built only when there is one.
type checker struct {
	problems input.Problems
	path     func(key string) string
}

// within checks a number that may be missing.
func within[T ~float64](c *checker, key string, x *T, lo, hi float64, symbol string) {
	if x != nil && !(float64(*x) >= lo && float64(*x) <= hi) {
		c.problems.Add(c.path(key), written(float64(*x)), input.Say("%g to %g %s", lo, hi, symbol))
	}
}

// above0 checks a number that may be missing.
func above0[T ~float64](c *checker, key string, x *T, hi float64, symbol string) {
	if x != nil && !(float64(*x) >= smallest && float64(*x) <= hi) {
		c.problems.Add(c.path(key), written(float64(*x)), input.Say("more than 0 and at most %g %s", hi, symbol))
	}
}

// temp checks a temperature of the bath, of a reading or of the place.
func (c *checker) temp(key string, t *unit.Celsius) { within(c, key, t, -20, 150, "°C") }

// written returns a number as a person would write it, and "" for one that is absent.
func written(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// Check returns everything that keeps a bath from being replayed. Fields are named as in a facts file.
func (b *Bath) Check() input.Problems {
	ps := b.checkSettings()
	ps = append(ps, b.checkFacts()...)
	_, more := b.resolve(nil)
	return ps.Merge(more)
}

func (b *Bath) checkSettings() input.Problems {
	c := &checker{path: func(key string) string { return key }}
	if b.Name == "" {
		c.problems.Add("bath", "", input.Say("the bath's name"))
	}
	tank := b.Tank.Check()
	for _, p := range tank {
		p.Field = "tank." + p.Field
		c.problems = append(c.problems, p)
	}
	within(c, "altitude_m", &b.Altitude, float64(bath.LowestAltitude), float64(bath.HighestAltitude), "m")
	within(c, "water_boils_at_c", b.WaterBoilsAt, 50, 120, "°C")
	within(c, "room.temp_c", &b.Room.Temp, -20, 60, "°C")
	within(c, "room.rh_pct", &b.Room.RHPercent, 0, 100, "%")
	within(c, "room.air_m_s", &b.Room.AirMPerS, 0, 20, "m/s")
	for i := range b.Learned.EvaporationRatios {
		above0(c, fmt.Sprintf("learned.evaporation_ratios[%d]", i), &b.Learned.EvaporationRatios[i], largestSpread, "")
	}
	above0(c, "learned.dragout_l_m2", b.Learned.DragOutLPerM2, largestSpread, "L/m²")
	above0(c, "learned.zinc_g_m2", b.Learned.ZincGPerM2, largestSpread, "g/m²")
	within(c, "lid_factor", &b.LidFactor, 0, 1, "")
	above0(c, "cooling_h", &b.CoolingH, largestSpread, "h")
	for i := range b.Lots {
		c.lot(fmt.Sprintf("lots[%d].", i), &b.Lots[i])
	}
	above0(c, "step_g", &b.Step, float64(bath.LargestStep), "g")
	above0(c, "bucket_l", b.Bucket, float64(bath.LargestBucket), "L")
	within(c, "water_temp_c", &b.WaterTemp, 0, 100, "°C")
	c.temp("coldest_c", b.Coldest)
	if len(tank) == 0 {
		under := b.Tank.VolumeAt(b.Tank.FillLine())
		if !(b.Load >= 0 && b.Load.Litres() < under) {
			c.problems.Add("load_cm3", written(float64(b.Load)),
				input.Say("0 or more, and less than the tank holds under its fill line, %.4g cm³", float64(under.CubicCM())))
		}
		if l := b.Recipe.LevelMin; l != nil && !(*l >= smallest && *l <= b.Tank.RimHeight()) {
			c.problems.Add("recipe.level_min_cm", written(float64(*l)), input.Say("more than 0 and not above the rim, %g cm", float64(b.Tank.RimHeight())))
		}
	}
	c.recipe(&b.Recipe)
	return c.problems
}

func (c *checker) lot(at string, l *Lot) {
	switch l.Kind {
	case bath.Earth:
		within(c, at+"moisture_pct", l.MoisturePct, 0, bath.LargestMoisture, "% of the dry earth's mass")
	case bath.Salt:
		c.salt(at+"salt", l.Salt)
		within(c, at+"assay_pct", l.AssayPct, lowestAssay, 100, "%")
	default:
		c.problems.Add(c.path(at+"kind"), string(l.Kind), input.Say("earth or salt"))
	}
}

// salt checks that a salt is one of the catalogue.
func (c *checker) salt(key string, id salt.ID) bool {
	_, err := salt.Lookup(string(id))
	if err == nil {
		return true
	}
	p := input.Problem{Field: c.path(key), Got: string(id), Allowed: input.Say("one of %s", allSalts()),
		Hint: input.Say("Read the formula and the CAS number on the bag; “chloride” or “salt” alone does not say which")}
	if errors.Is(err, salt.ErrUnsafe) {
		p.Allowed = input.Say("%s, or another salt; anhydrous aluminium chloride is refused", salt.AluminiumChlorideHexahydrate)
		p.Hint, p.Unsafe = input.Say("It bursts into heat and acid fume in water or damp earth. Do not add it"), true
	}
	c.problems = append(c.problems, p)
	return false
}

func allSalts() string {
	var ids []string
	for _, s := range salt.All() {
		ids = append(ids, string(s.ID))
	}
	return strings.Join(ids, ", ")
}

func (c *checker) recipe(r *Recipe) {
	known := true
	crystals := 0.0 // g of crystal water per kg of all water at the targets
	for i := range r.Salts {
		s := &r.Salts[i]
		at := fmt.Sprintf("recipe.salts[%d].", i)
		if !c.salt(at+"salt", s.Salt) {
			known = false
			continue
		}
		c.window(at+"g_per_kg_water", s.Window)
		form, _ := salt.Lookup(string(s.Salt))
		crystals += float64(s.Target) * form.CrystalWaterShare()
	}
	if r.EarthDry != nil {
		c.window("recipe.earth_dry_g_per_kg_water", *r.EarthDry)
	}
	t := r.Temp
	lo, hi := 0.0, float64(bath.HottestTarget)
	if within(c, "recipe.temp_c.target", &t.Target, lo, hi, "°C"); t.Target >= unit.Celsius(lo) && t.Target <= unit.Celsius(hi) {
		within(c, "recipe.temp_c.min", &t.Min, lo, float64(t.Target), "°C")
		within(c, "recipe.temp_c.max", &t.Max, float64(t.Target), hi, "°C")
	}
	if !known {
		return
	}
	if left := ring(r.Salts); len(left) > 0 {
		c.problems = append(c.problems, input.Problem{Field: c.path("recipe.salts"), Got: join(left),
			Allowed: input.Say("salts that can be told apart by their ions"),
			Hint:    input.Say("The same solution has several names in these salts. Leave one of them out, and write each salt once, in one form")})
	}
	if crystals >= 1000 {
		c.problems.Add(c.path("recipe.salts"), written(crystals)+" g of crystal water per kg of all water", input.Say("targets that bring less water than there is, below 1000 g"))
	}
}

func (c *checker) window(field string, w Window) {
	if within(c, field+".target", &w.Target, 0, largestSpread, "g per kg of water"); !(w.Target >= 0 && w.Target <= largestSpread) {
		return
	}
	within(c, field+".min", &w.Min, 0, float64(w.Target), "g per kg of water")
	within(c, field+".max", &w.Max, float64(w.Target), largestSpread, "g per kg of water")
}

func join(ids []salt.ID) string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = string(id)
	}
	return strings.Join(words, ", ")
}
