package caution

// Facts are what is known about one step. Only Step is required. A field left at its zero value (nil or "") is absent:
// unknown where the step asks for it, beside the point elsewhere. A list that is empty but not nil is known to be empty.
//
// Facts that [Facts.Check] has a complaint about are not worth judging: [Judge] takes an unknown substance for an
// unidentified one and a NaN for an unknown fact, and an unknown word meets no rule.
type Facts struct {
	Purpose   Purpose // "" is Plan
	Step      Step
	Bath      Bath
	Add       Add
	Recipe    Recipe
	Near      Near
	Spill     Spill
	Piece     Piece
	Place     Place
	Person    Person
	Power     Power
	Container Container
	Alloy     Alloy
	Melt      Melt
	Oil       Oil
}

// A Bath is the bath before this step.
type Bath struct {
	Substances   []string // everything ever added and not dumped
	Earths       []Earth  // every lot ever added
	TempC        *float64 // planned: the highest it will reach; recorded: as measured; °C
	PH           *float64 // as read, at whatever temperature
	FillFraction *float64 // mud with the load in / tank to the rim, by volume
	TankMaterial string
	Lid          string   // none, loose, tight
	IdleH        *float64 // how long it has stood, h
}

// An Add is what goes in, is weighed, put away or cleaned with now.
type Add struct {
	Substances []string
	Earths     []Earth
	State      string // dry, damp, liquid
}

// A Recipe is what is drawn up or made up.
type Recipe struct {
	Substances []string
	Earths     []Earth
	// LastChloride is the chloride used before this one in this workshop: a salt id or "none".
	LastChloride string
}

// Near is what else stands on the same shelf, bench, floor or sink.
type Near struct{ Substances []string }

// A Spill is what soaked into cloth, wood or sack.
type Spill struct{ Substances []string }

// A Piece is the load: any piece of it, the hottest, the heaviest lifted at once.
type Piece struct {
	Hollow       *bool
	Vented       *bool // every hollow one open top and bottom
	Inlaid       *bool
	SurfaceTempC *float64 // °C
	MassKg       *float64 // kg
}

// A Place is where the step is done.
type Place struct {
	Enclosed     *bool // neither outdoors nor two sides open
	ChildrenNear *bool
}

// A Person is who is there.
type Person struct {
	Count   *float64 // whole: within call, the worker counted
	OpenCut *bool
}

// A Power is what heats the bath.
type Power struct {
	Kind          string // mains, battery, gas, wood, charcoal, other, none
	HeaterCovered *bool  // true also for a heater outside the liquor
	Cut           *bool
}

// A Container is the vessel in hand.
type Container struct {
	Labelled   *bool
	FoodVessel *bool
}

// An Alloy is the metal of the pieces.
type Alloy struct {
	PbPct *float64 // lead, % by mass
}

// A Melt is the casting corner.
type Melt struct {
	AllDry *bool // ladle, mould and scrap
}

// An Oil is the oil for the finished pieces and its rags.
type Oil struct {
	Kind string
	Rags string // none, some (used, not heaped), heap
}
