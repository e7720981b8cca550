package view

import "html/template"

// A SheetShow is a bath sheet: on paper what hangs by the tank, on a screen that paper with a bar above it.
type SheetShow struct {
	Base
	Paper  string // "a4", "letter" or "a5"
	Fit    int    // size of the type in percent, so that all fits one page
	Papers []PaperKey
	Files  []Link
	// Command works out the same figures from the two files of the sheet.
	Command string

	Head     string // "Bath sheet 31"
	Recipe   string // with its version
	Lines    []string
	Weigh    []SheetLine
	Makes    string
	Levels   []SheetLevel
	NotTo    string
	Drawing  TankDrawing
	Order    []string
	Holds    []string // what does not hold or was assumed
	First    string   // who comes before every rule
	Fires    []Caution
	Ask      []string // boxes to fill
	Closing  string
	Rows     []int // of the table of loads
	Foot     []string
	MadeUpBy string // empty: a line to write on
}

// A PaperKey is one size of paper to choose.
type PaperKey struct {
	Label, Href string
	On          bool
}

// A SheetLine is one part to weigh or pour.
type SheetLine struct {
	Number int
	Name   template.HTML
	Small  template.HTML
	Amount Quantity
}

// A SheetLevel is one reading of the stick.
type SheetLevel struct{ Name, Level string }

// A SheetList is the list of bath sheets.
type SheetList struct {
	Base
	Filter Filter
	Table  Table
	Pager  *Pager // nil: all fit
	Empty  *Empty // nil: there is something to show
}
