package bath

import (
	"slices"
	"strings"

	"blackbath/bath/caution"
	"blackbath/bath/salt"
)

// A SheetCautions is what the paper by the tank has to say: every danger and warning that fires for this bath at one of the
// steps that it will go through, and every fact that nobody has given yet, as a box to fill.
type SheetCautions struct {
	Fires []caution.Caution
	Ask   []caution.Missing // each question once, in the order of the steps
	// Refused is true when a rule forbids this bath as a plan.
	Refused bool
	Closing string
}

// sheetSteps are what a bath goes through once its sheet hangs by the tank.
var sheetSteps = []caution.Step{caution.StepMakeUp, caution.StepAdd, caution.StepHeat, caution.StepSoak, caution.StepLift, caution.StepDump}

// gapsRemain is the rule that says that facts are missing. On paper the boxes to fill say it.
const gapsRemain = "R-61"

// CautionsForSheet judges a scaled bath at every step that its sheet is read at. Facts of the place and the people are not part
// of a scaling, so they come out as questions.
func CautionsForSheet(r Recipe, t Tank, c Conditions, a Answer) SheetCautions {
	var out SheetCautions
	s := scaling{recipe: r, tank: t, conditions: c, answer: a}
	for _, step := range sheetSteps {
		judged := caution.Judge(s.factsAt(step))
		out.Closing = judged.Closing
		for _, found := range judged.Cautions {
			out.Refused = out.Refused || found.Refuse && found.State == caution.Fires
			if found.State == caution.Fires && found.Severity != caution.Note && found.ID != gapsRemain {
				if !slices.ContainsFunc(out.Fires, func(c caution.Caution) bool { return c.ID == found.ID }) {
					out.Fires = append(out.Fires, found)
				}
			}
			for _, m := range found.Missing {
				if !slices.ContainsFunc(out.Ask, func(q caution.Missing) bool { return q.String() == m.String() }) {
					out.Ask = append(out.Ask, m)
				}
			}
		}
	}
	slices.SortStableFunc(out.Fires, func(a, b caution.Caution) int { // dangers first, else in the order of the steps
		return strings.Compare(string(a.Severity), string(b.Severity)) // "danger" < "warning"
	})
	return out
}

// factsAt are what a scaling knows of a later step: what the bath will hold and how hot it will be. What goes in by an addition
// is not known; it is taken to be more of the same.
func (s *scaling) factsAt(step caution.Step) caution.Facts {
	f := s.facts()
	f.Step = step
	if step == caution.StepMakeUp {
		return f
	}
	f.Bath.Substances, f.Bath.Earths = f.Recipe.Substances, f.Recipe.Earths
	f.Recipe = caution.Recipe{LastChloride: s.chloride(f.Recipe.LastChloride)}
	f.Bath.FillFraction = nil
	if step == caution.StepAdd {
		f.Add.Substances, f.Add.Earths = f.Bath.Substances, f.Bath.Earths
	}
	if step == caution.StepDump { // it is dumped cold, and nothing goes in
		f.Bath.TempC = nil
		f.Add.Substances = []string{}
	}
	return f
}

// chloride is the one that was used last once this bath is made up: its own, or the one before where it has neither.
func (s *scaling) chloride(before string) string {
	for _, p := range s.recipe.Parts {
		if p.Salt == salt.AmmoniumChloride || p.Salt == salt.AluminiumChlorideHexahydrate {
			return string(p.Salt)
		}
	}
	return before
}
