package bath

import "blackbath/bath/unit"

// A Workshop is where the baths stand: what its figures are rounded to and how hot its water boils.
type Workshop struct {
	ID       int64
	Name     string
	Invented bool // the demo workshop: every page says that it is invented

	// WaterBoilsAt is where plain water boils here on the workshop's own thermometer. It beats Altitude. Nil: not measured.
	WaterBoilsAt *unit.Celsius
	Altitude     *unit.Metre // height above the sea. Nil: not known, counted as 0

	Currency    string // ISO 4217 code
	TimeZone    string // IANA name
	Language    string // BCP 47 tag of a catalogue
	BalanceStep unit.Gram
	Bucket      *unit.Litre // nil: water is not counted in buckets

	Edit int64 // counts changes; a save that saw an older one is refused
}
