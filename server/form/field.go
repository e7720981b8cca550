package form

import (
	"strings"

	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// A Kind says how a field is drawn.
type Kind string

// The kinds of field.
const (
	KindText     Kind = "text"
	KindQuantity Kind = "quantity"
	KindChoice   Kind = "choice"
	KindDate     Kind = "date"
	KindLong     Kind = "long" // several lines
	KindTick     Kind = "tick"
)

// A Field is one thing that is asked. The writer of a page fills the upper half; the form fills the lower.
type Field struct {
	Name         string     // as it is sent: "water_boils_at_c", "parts[1].mass_g"
	Label        input.Text // "Water boils here at"
	Help         input.Text // a short line under the field; may be empty
	Required     bool
	Autocomplete string // HTML's name for what is asked; empty: off

	// Quantity. What may be written is Min to Max, ends included; Above leaves Min itself out.
	Unit     unit.Unit  // shown in the field; the zero Unit is a plain number
	Kept     unit.Unit  // what the destination counts in; the zero Unit: Unit
	Suffix   input.Text // shown in the field in place of the unit's sign: "% of dry"
	Min, Max float64    // in Unit; both 0: no limit
	Above    bool

	// Text.
	Longest int // in characters; 0: 200, for several lines 4000

	// Choice.
	Options []Option

	Kind    Kind
	Typed   string  // what stands in the field; for a tick "yes" or ""
	theirs  *string // what somebody else saved meanwhile, where it differs
	problem *input.Problem
	outside bool // a number was read, but it is not in the range
}

// An Option is one choice.
type Option struct {
	Value string
	Label input.Text
}

// ID is the field's id in the page.
func (f *Field) ID() string {
	return strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '_', r == '-':
			return r
		}
		return '-'
	}, f.Name), "-")
}

// Bad says whether something must be put right in the field.
func (f *Field) Bad() bool { return f.problem != nil }

// Wrong is the sentence under the field: what to write instead.
func (f *Field) Wrong() input.Text {
	if f.problem == nil {
		return input.Text{}
	}
	if f.Kind == KindTick {
		return input.Say("Tick this %s.", f.problem.Allowed)
	}
	if f.problem.Hint.IsZero() {
		return input.Say("Write %s.", f.problem.Allowed)
	}
	return input.Text{Format: "%s %s", Args: []any{input.Say("Write %s.", f.problem.Allowed), f.problem.Hint}}
}

// Summary is the line about the field at the head of the page: its name, what was read, what to write instead.
func (f *Field) Summary() input.Text {
	if f.problem == nil {
		return input.Text{}
	}
	if f.Kind == KindTick {
		return input.Say("Not ticked: %s", f.Label)
	}
	if f.problem.Got == "" {
		return input.Say("%s: nothing is written", f.Label)
	}
	if f.outside {
		return input.Say("%s: %s is not %s", f.Label, shorten(f.problem.Got), f.problem.Allowed)
	}
	return input.Say("%s: “%s” can't be used", f.Label, shorten(f.problem.Got))
}

// Theirs is what somebody else saved in this field meanwhile; empty when it is the same or nobody did.
func (f *Field) Theirs() input.Text {
	if f.theirs == nil {
		return input.Text{}
	}
	for _, o := range f.Options {
		if o.Value == *f.theirs {
			return input.Say("Saved meanwhile by somebody else: %s", o.Label)
		}
	}
	switch {
	case f.Kind == KindTick && *f.theirs != "":
		return input.Say("Saved meanwhile by somebody else: ticked")
	case *f.theirs == "":
		return input.Say("Saved meanwhile by somebody else: empty")
	}
	return input.Say("Saved meanwhile by somebody else: %s", f.withSign(*f.theirs))
}

// Describes lists the ids of the lines under the field, for aria-describedby.
func (f *Field) Describes() string {
	var ids []string
	if !f.Help.IsZero() {
		ids = append(ids, f.ID()+"-h")
	}
	if f.theirs != nil {
		ids = append(ids, f.ID()+"-m")
	}
	if f.Bad() {
		ids = append(ids, f.ID()+"-e")
	}
	return strings.Join(ids, " ")
}

// Sign is what stands inside the field after the number.
func (f *Field) Sign() input.Text {
	if !f.Suffix.IsZero() {
		return f.Suffix
	}
	return input.Text{Format: f.Unit.Symbol}
}

// longestShown keeps the page readable when somebody pastes a letter into a field.
const longestShown = 60

func shorten(s string) string {
	r := []rune(s)
	if len(r) <= longestShown {
		return s
	}
	return string(r[:longestShown]) + "…"
}
