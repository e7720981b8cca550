package server

import (
	"blackbath/bath/caution"
	"blackbath/bath/input"
	"blackbath/server/view"
)

// cautions turns an answer of the rules into what a page shows.
func (v *visit) cautions(a caution.Answer) []view.Caution {
	translate := func(s string) string { return v.text(input.Text{Format: s}) }
	out := make([]view.Caution, 0, len(a.Cautions))
	for _, c := range a.Cautions {
		out = append(out, view.Caution{Severity: string(c.Severity), Word: translate(c.Severity.Label()), Text: c.TextIn(translate)})
	}
	return out
}
