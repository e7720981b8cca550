// Package ledger keeps the account of a bath: what went in, what left, and how sure we are of what is there now.
//
// [Replay] goes through the facts of a bath and gives its [State]: sixteen numbers with one covariance, corrected by every
// reading. [Advise] says what to add. Both are pure; the clock is the caller's.
package ledger

import (
	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// A Bath is one bath with its facts and what the sum takes from the workshop. Take the defaults from [Defaults].
type Bath struct {
	Name         string
	Tank         bath.Tank
	Altitude     unit.Metre    // height above the sea; WaterBoilsAt beats it
	WaterBoilsAt *unit.Celsius // where plain water boils here, measured. Nil: from Altitude
	Room         Room
	Recipe       Recipe
	Learned      Learned
	LidFactor    float64 // evaporation under the lid over that without, 0 to 1. Open estimate; no source
	CoolingH     float64 // hours in which the bath's warmth over the room's falls to 1/e
	Lots         []Lot   // today's, for the advice; the first of a kind counts

	Load      unit.CubicCM // metal of the next load, for the advice
	Step      unit.Gram    // smallest step of the balance
	Bucket    *unit.Litre  // nil: water is not counted in buckets
	WaterTemp unit.Celsius // of the water that the advice pours
	Coldest   *unit.Celsius

	Facts []Fact
}

// Room is the air that the bath stands in.
type Room struct {
	Temp      unit.Celsius
	RHPercent float64
	AirMPerS  float64 // over the bath
}

// A Window is what a recipe allows, Min <= Target <= Max, in g per kg of all liquid water: a salt in its named form, earth dry.
type Window struct{ Min, Target, Max unit.GramPerKG }

// A SaltWindow is one salt of a recipe.
type SaltWindow struct {
	Salt salt.ID
	Window
}

// A Recipe is what the bath should be.
type Recipe struct {
	Name     string
	Salts    []SaltWindow
	EarthDry *Window // nil: the earth has no window
	Temp     bath.TempWindow
	LevelMin *unit.Centimetre // of the mud without pieces, hot
}

// Learned is what earlier baths of this tank and recipe have taught.
type Learned struct {
	EvaporationRatios []float64  // found over foretold, oldest first
	DragOutLPerM2     *float64   // mud that a load carries out
	ZincGPerM2        *unit.Gram // zinc that a load leaves
}

// A Lot is what the advice weighs from. What a pointer leaves nil was not recorded.
type Lot struct {
	Kind        bath.PartKind // Earth or Salt
	Name        string
	MoisturePct *float64 // earth: water per dry earth
	Salt        salt.ID
	AssayPct    *float64
}

// Defaults are those of a facts file without the optional keys.
func Defaults() Bath {
	return Bath{
		Room:      Room{Temp: 25, RHPercent: 50},
		LidFactor: 0.2,
		CoolingH:  2.5,
		Step:      1,
		WaterTemp: 20,
	}
}

// coldest that the bath will be: as told, or the lower of the room and the window.
func (b *Bath) coldest() unit.Celsius {
	if b.Coldest != nil {
		return *b.Coldest
	}
	return min(b.Room.Temp, b.Recipe.Temp.Min)
}
