package view

import (
	"html/template"

	"blackbath/bath/input"
)

// A LotList is the lots of the workshop.
type LotList struct {
	Base
	Empty  *Empty // nothing yet; nil: there are lots
	Filter LotFilter
	Table  Table
	Pager  *Pager
}

// A LotFilter is what narrows the list of lots.
type LotFilter struct {
	Filter
	Kinds  []Choice
	UsedUp bool // those are shown as well
}

// A Choice is one of a few.
type Choice struct {
	Value, Label string
	On           bool
}

// A LotChoose asks what a new lot is: the first step.
type LotChoose struct {
	Base
	Refused *Caution // what was asked for cannot be chosen
	Unclear string   // why a word alone is not enough; may be empty
	Kinds   []LotKind
	Filter  Filter
	Salts   []LotSalt
	Never   *LotSalt // the one that must not go into a bath; nil: not among what is looked for
}

// A LotKind is a kind of material that is chosen at once.
type LotKind struct{ Label, Say, Href string }

// A LotSalt is one salt to choose.
type LotSalt struct {
	Name      template.HTML
	TradeName string // empty: none
	Formula   string
	CAS       string
	Severity  string // danger, warning or empty
	Signal    string // the word on the label, translated
	Href      string
	Why       string // why it cannot be chosen; empty: it can
}

// A LotForm asks for the fields of a lot: the second step, and any change later.
type LotForm struct {
	Formed
	Action   string
	New      bool
	Kind     string // water, earth or salt
	Salt     string // its id
	Identity []Fact
	Another  *Link     // back to the first step
	Pair     []SaltTag // the two chlorides; empty: it is neither
	Tick     string    // name of the field that says that the formula was read
}

// A SaltTag is one of the two chlorides that must never be mixed up.
type SaltTag struct {
	Mark      string // what stands in its drawing: "NH"
	MarkSmall string // set smaller and lower after it: "4"
	Hexagon   bool   // the drawing is a hexagon, else a disc
	Tag       string // "blue disc"
	Name      template.HTML
	TradeName string
	Formula   string
	CAS       string
	Spoken    string
	Chosen    Cell  // the state word
	Other     *Link // nil: it is the chosen one
}

// A LotShow is one lot.
type LotShow struct {
	Base
	ID       int64
	UsedUp   bool
	Facts    []Fact
	Note     string
	Weighing []string // what it means at the balance
	Doubt    string   // how sure that is
	Todo     string   // what should be measured first; may be empty
	Hazard   *LotHazard
}

// A LotHazard is what the label of a salt warns of.
type LotHazard struct {
	Signal   *Caution // nil: not classified
	Codes    []HazardCode
	Basis    string
	MoreCare bool // part of it is from memory
	First    string
	More     Link
}

// A LotUseUp asks before a lot is marked as used up.
type LotUseUp struct {
	Base
	ID int64
}

// LotName names a lot by its material and its own name.
func LotName(material, lot string) template.HTML {
	return SaltName(material) + ", " + template.HTML(template.HTMLEscapeString(lot))
}

// AssayBasisName says what an assay counts.
func AssayBasisName(basis string) input.Text {
	if basis == "as-anhydrous" {
		return input.Say("counted without crystal water")
	}
	return input.Say("of the crystals as labelled")
}

// KindName is a kind of material in a word.
func KindName(kind string) input.Text {
	switch kind {
	case "water":
		return input.Say("water")
	case "earth":
		return input.Say("earth")
	}
	return input.Say("salt")
}
