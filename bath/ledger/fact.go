package ledger

import (
	"time"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// A Kind says what happened.
type Kind string

const (
	MakeUp     Kind = "make_up"
	Addition   Kind = "addition"
	TopUp      Kind = "top_up"
	Read       Kind = "reading"
	Soaked     Kind = "soak"
	HeatOn     Kind = "heat_on"
	HeatOff    Kind = "heat_off"
	LidOn      Kind = "lid_on"
	LidOff     Kind = "lid_off"
	Dumped     Kind = "dump"
	Retire     Kind = "retire"
	Correction Kind = "correction"
)

// Kinds lists the kinds in the order in which a form offers them.
var Kinds = []Kind{MakeUp, Addition, TopUp, Read, Soaked, HeatOn, HeatOff, LidOn, LidOff, Dumped, Retire, Correction}

// A Fact is one thing that happened, or a correction of one. Fields that its kind does not use stay empty.
type Fact struct {
	ID   string
	At   time.Time // in a correction's fact the zero time: that of the old one
	Kind Kind

	By, Note, EnteredAt string // kept, not computed with

	Temp         *unit.Celsius // of the bath, measured at that moment. A correction is no moment of the bath: kept, not used
	ClockInDoubt bool          // it happened right after the fact before it, whatever the clock said

	Parts   []Part           // make_up, addition, top_up
	ToLevel *unit.Centimetre // top_up: water, amount unknown, up to this mark
	Reading *Reading
	Soak    *Soak
	Dump    *Dump

	Replaces string // correction: the id of the fact that it replaces
	Fact     *Fact  // correction: what takes its place, without id. Nil: struck out
}

// A PartKind says what was put in.
type PartKind string

const (
	WaterPart PartKind = "water"
	EarthPart PartKind = "earth"
	SaltPart  PartKind = "salt"
	MudPart   PartKind = "mud" // ready mud
)

// PartKinds lists the kinds of parts.
var PartKinds = []PartKind{WaterPart, EarthPart, SaltPart, MudPart}

// A Part is one thing put in, as really weighed. What a pointer leaves nil was not recorded.
type Part struct {
	Kind   PartKind
	Name   string      // of an earth
	Mass   *unit.Gram  // as weighed: damp earth, impure salt. Water and mud: Mass or Litres
	Litres *unit.Litre // water at WaterTemp, mud at the bath's temperature

	WaterTemp *unit.Celsius // nil: 20 °C

	MoisturePct     *float64 // earth: water per dry earth
	ParticleDensity *unit.GramPerCM3
	Carbonate       *Carbonate

	Salt     salt.ID
	AssayPct *float64

	Salts    []salt.Dissolved // mud: the whole set of its salts. Nil: the recipe's targets
	EarthDry *unit.GramPerKG  // mud: dry earth per kg of water. Nil: the recipe's target
}

// Carbonate of an earth, calcium carbonate equivalent in percent of the dry earth, between Lo and Hi.
type Carbonate struct{ Lo, Hi float64 }

// A Reading is any subset of what can be read off a bath.
type Reading struct {
	Level   *unit.Centimetre
	LevelSD *unit.Centimetre // nil: 0.2 cm
	// PiecesOut: the pieces of running soaks were out of the bath when the stick was read.
	PiecesOut bool

	PH     *float64
	PHTemp *unit.Celsius // nil: the bath's

	Density     *unit.GramPerCM3 // of settled liquor, never of mud
	DensitySD   *unit.GramPerCM3 // nil: 0.0025 kg/L
	DensityTemp *unit.Celsius    // nil: 20 °C

	ConductivityMSCm  *float64
	ConductivitySDPct *float64      // nil: 5 %
	Dilution          *float64      // g made up from 1 g of settled liquor
	ConductivityTemp  *unit.Celsius // nil: 25 °C
}

// A Soak is a load from going in to coming out.
type Soak struct {
	Out        *time.Time     // nil: still running
	Area       *unit.SquareDM // of metal
	Metal      *unit.Gram
	Pieces     *float64
	TempIn     *unit.Celsius
	TempOut    *unit.Celsius
	DragOutG   *unit.Gram // mud, weighed; or DragOutL
	DragOutL   *unit.Litre
	TrappedL   *unit.Litre // carried out in hollows
	MetalLossG *unit.Gram  // counted as zinc
}

// What a dump takes.
const (
	Stirred = "stirred" // the whole mud
	Liquor  = "liquor"  // settled liquor, the earth stays
)

// A Dump is what was thrown out: Litres or SharePct, of the stirred mud or of the liquor.
type Dump struct {
	Litres   *unit.Litre
	SharePct *float64
	What     string // Stirred or Liquor
}
