package view

// Settings are the workshop's settings and this phone's light.
type Settings struct {
	Formed
	Lights []Light
}

// A Light is one of the three in which the pages can be shown.
type Light struct {
	Value, Label, Say string
	On                bool
}

// Start is the first page of a new workshop.
type Start struct{ Formed }

// FirstSteps leads to the first bath sheet.
type FirstSteps struct {
	Base
	Steps []Step
}

// A Step is one thing to do before there can be a bath sheet.
type Step struct {
	Name string
	Say  string
	Done bool
	Do   *Link // nil: there is no page for it
}
