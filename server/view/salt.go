package view

import "html/template"

// A SaltList is the catalogue of salts.
type SaltList struct {
	Base
	Filter Filter
	Table  Table
}

// A SaltShow is one salt.
type SaltShow struct {
	Base
	Name      string
	TradeName string // empty: none
	Formula   string
	CAS       string
	Facts     []Fact

	Signal   *Caution // the word on the label with its statements; nil: not classified
	Codes    []HazardCode
	Basis    string
	MoreCare bool // part of the classification is from memory

	Solubility Table
	Density    []Fact
	Boiling    []Fact
	IdealRule  bool // no table of boiling points: the ideal rule
}

// A HazardCode is one statement of the label.
type HazardCode struct{ Code, Statement string }

// SaltName sets the two names in bold that must never be mixed up.
func SaltName(name string) template.HTML { return bold(name, "ammonium", "aluminium") }
