package ledger

// A WarningCode names a kind of warning.
type WarningCode string

// A Warning is something that was assumed, left out or looks wrong. It stands once, with all the facts that it concerns.
type Warning struct {
	Code  WarningCode `json:"code"`
	Facts []string    `json:"facts"` // ids; empty when it concerns no single fact
	Text  string      `json:"text"`
}

const (
	AboveBoiling         WarningCode = "above_boiling"
	AboveFill            WarningCode = "above_fill"
	AboveMark            WarningCode = "above_mark"
	AssayAssumed         WarningCode = "assay_assumed"
	BoiledDry            WarningCode = "boiled_dry"
	CarbonateNotFollowed WarningCode = "carbonate_not_followed"
	CarbonateUnknown     WarningCode = "carbonate_unknown"
	ClockInDoubt         WarningCode = "clock_in_doubt"
	ConductivityNotUsed  WarningCode = "conductivity_not_used"
	DampEarth            WarningCode = "damp_earth"
	DoesNotDissolve      WarningCode = "does_not_dissolve"
	DragOutUnknown       WarningCode = "dragout_unknown"
	HeaterUnknown        WarningCode = "heater_unknown"
	LevelContradicts     WarningCode = "level_contradicts"
	LoadUnknown          WarningCode = "load_unknown"
	MoistureAssumed      WarningCode = "moisture_assumed"
	NearSaturation       WarningCode = "near_saturation"
	NegativeEvaporation  WarningCode = "negative_evaporation"
	OutsideLife          WarningCode = "outside_life"
	Overflows            WarningCode = "overflows"
	PHUnknown            WarningCode = "ph_unknown"
	ReadingContradicts   WarningCode = "reading_contradicts"
	SpentUnknown         WarningCode = "spent_unknown"
	TemperatureAssumed   WarningCode = "temperature_assumed"
	ThinnedByMark        WarningCode = "thinned_by_mark"
	ZincUnknown          WarningCode = "zinc_unknown"
)

// Words is what each warning says.
var Words = map[WarningCode]string{
	AboveBoiling:         "A temperature lies above the point at which this bath boils here. Check the thermometer, or the bath is stronger than thought.",
	AboveFill:            "The bath stands above its fill line, and nothing is to be added. Let it go down before pieces go in.",
	AboveMark:            "The bath stood above the mark already, by this account. No water was booked; read the stick again.",
	AssayAssumed:         "The assay of a salt is not recorded. It is counted as pure, 100 %: read it off the bag.",
	BoiledDry:            "By this account all the water has gone. A dry crust of salts can catch fire when it holds nitrate: heat off.",
	CarbonateNotFollowed: "An earth with lime in it came in before any ammonium. What its lime does to ammonium that comes later is not followed.",
	CarbonateUnknown:     "The lime in an earth is not recorded. Lime drives ammonia off: how much ammonium is left is less sure than it looks.",
	ClockInDoubt:         "The clock was in doubt. The fact counts as right after the one written before it.",
	ConductivityNotUsed:  "A conductivity was not used. Make 1 g of settled liquor up to 20 g or more with clean water, and write both down.",
	DampEarth:            "The earth brings more water than it thickens. Dry it first, or use a drier lot.",
	DoesNotDissolve:      "Not all the salt dissolves: together the salts would take more water than there is. Crystals and crusts form.",
	DragOutUnknown:       "Neither the area of the metal nor the mud carried out is recorded. That mud is not booked.",
	HeaterUnknown:        "The bath boils, and the heater's power is not recorded. The water lost is counted as just below the boil, too little.",
	LevelContradicts:     "The stick contradicts the account by more than three times its doubt. The stick is believed, and the gap put down to water.",
	LoadUnknown:          "The metal in the bath is not recorded, so the level says nothing. Weigh the pieces, or read the stick with them out.",
	MoistureAssumed:      "The moisture of an earth is not recorded. It is counted as dry: weigh, dry and weigh a sample.",
	NearSaturation:       "Near saturation: together the salts take more than 80 % of what the water can hold. Crystals may form.",
	NegativeEvaporation:  "The stick shows more than went in. A top-up was not written down, or the stick was misread.",
	OutsideLife:          "Written for a time before the make-up or after the bath was retired. Kept, not counted.",
	Overflows:            "By this account the bath stands above the rim.",
	PHUnknown:            "No pH is recorded while a hot ammonium bath lost water. The ammonia that left with the steam is not booked.",
	ReadingContradicts:   "A density or conductivity contradicts the account by more than three times its doubt. Not used: read it once more.",
	SpentUnknown:         "Copper and nitrate that the ware used up are not followed. Their figures are the most that can be left.",
	TemperatureAssumed:   "No temperature was read while the heat was on. The recipe's target is assumed.",
	ThinnedByMark:        "Mud has left and water took its place: that thins the bath twice. Top up with ready mud.",
	ZincUnknown:          "How much zinc the ware left in the bath is not known: weigh pieces before and after, or set a figure per area.",
}

// warnings gathers codes in the order in which they first come.
type warnings struct {
	list  []Warning
	place map[WarningCode]int
	seen  map[warned]bool
}

type warned struct {
	code WarningCode
	id   string
}

func newWarnings(list []Warning) warnings {
	w := warnings{place: map[WarningCode]int{}, seen: map[warned]bool{}}
	for _, old := range list {
		w.add(old.Code, old.Facts...)
	}
	return w
}

func (w *warnings) add(code WarningCode, ids ...string) {
	at, known := w.place[code]
	if !known {
		at = len(w.list)
		w.place[code] = at
		w.list = append(w.list, Warning{code, []string{}, Words[code]})
	}
	for _, id := range ids {
		if key := (warned{code, id}); !w.seen[key] {
			w.seen[key] = true
			w.list[at].Facts = append(w.list[at].Facts, id)
		}
	}
}
