package view

import (
	"html/template"

	"blackbath/server/form"
)

// A ScaleShow is the page on which a recipe is scaled to a tank.
type ScaleShow struct {
	Formed
	Again    string       // address at which the typed values are worked out again
	Make     string       // address that makes a bath sheet of them
	Groups   []FieldGroup // the form
	Hidden   []Hidden     // what the page remembers of itself
	Chloride *Asked       // nil: nothing to be read aloud
	Result   ScaleResult
}

// A FieldGroup is a few fields under one heading.
type FieldGroup struct {
	Heading string
	Fields  []*form.Field
	Pairs   bool // what is chosen, and beside it a figure of it
}

// A Hidden field is sent along unseen.
type Hidden struct{ Name, Value string }

// An Asked is a danger that a second person confirms by name.
type Asked struct {
	Caution Caution
	Field   *form.Field
}

// A ScaleResult is what the sum gives, or why there is no sum.
type ScaleResult struct {
	Heading string // for a plan without figures
	Say     string // empty: there are figures
	Refused []Caution

	Weigh     []WeighLine
	WeighWarn []string // what does not hold beside the amounts
	Summary   string
	Rounding  Table

	Levels Levels
	Bath   []Fact
	// BathWarn and DissolveWarn are what does not hold beside those figures.
	BathWarn     []string
	Dissolve     []Fact
	DissolveWarn []string

	Move     *Table // nil: the recipe is not proven in any tank
	MoveSay  string
	MoveNote string

	Cautions Cautions
	Status   string // one line for a reader who can't see the page change
}

// A WeighLine is one part to weigh or pour.
type WeighLine struct {
	Name   template.HTML
	Amount Quantity
	Small  string
}

// Levels are what the stick shows.
type Levels struct {
	Big     *Quantity // the cold level; nil: it overflows or is not known
	BigName string
	Say     []string
	Warn    []string
	Drawing any
}

// Cautions are the blocks of what fires and the questions that are open.
type Cautions struct {
	First   string // who comes before every rule here
	Fires   []Caution
	Heading string // over the questions
	Ask     []Question
	Closing string
}

// A Question is a fact that nobody has given, with the rules that hang on it.
type Question struct {
	Ask    string
	First  RuleLine
	Others []RuleLine
	Folded bool // there are notes only
}

// A RuleLine is a rule's word and text on one line.
type RuleLine struct{ Severity, Word, Text string }
