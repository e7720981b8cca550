package bath

import (
	"blackbath/bath/caution"
	"blackbath/bath/salt"
)

// CautionsForRecipe judges a recipe as a plan while it is drawn up, before there is a tank. last is as in
// [Conditions].LastChloride.
func CautionsForRecipe(r Recipe, last salt.ID) caution.Answer { return caution.Judge(r.facts(last)) }

// facts are what a recipe alone decides at the step "recipe": what goes in and the hottest it may get. The earths' tests are
// not part of a recipe, so they stay unknown.
func (r Recipe) facts(last salt.ID) caution.Facts {
	hottest := float64(r.Temp.Max)
	f := caution.Facts{Purpose: caution.Plan, Step: caution.StepRecipe}
	f.Bath.TempC = &hottest
	f.Recipe.LastChloride = string(last)
	f.Recipe.Substances = make([]string, 0, len(r.Parts))
	f.Recipe.Earths = make([]caution.Earth, 0, len(r.Parts))
	for _, p := range r.Parts {
		switch p.Kind {
		case Water:
			f.Recipe.Substances = append(f.Recipe.Substances, "water")
		case Earth:
			f.Recipe.Earths = append(f.Recipe.Earths, caution.Earth{Name: p.Name})
		case Salt:
			f.Recipe.Substances = append(f.Recipe.Substances, string(p.Salt))
		}
	}
	return f
}
