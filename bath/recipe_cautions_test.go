package bath

import (
	"slices"
	"testing"

	"blackbath/bath/caution"
	"blackbath/bath/salt"
)

func TestCautionsForRecipe(t *testing.T) {
	recipe := func(salts ...salt.ID) Recipe {
		r := Recipe{Parts: []Part{{Kind: Water, Mass: 10_000}, {Kind: Earth, Name: "north bank", Mass: 4000}}}
		r.Temp.Max = 97
		for _, id := range salts {
			r.Parts = append(r.Parts, Part{Kind: Salt, Salt: id, Mass: 900})
		}
		return r
	}
	for _, tt := range []struct {
		name   string
		recipe Recipe
		last   salt.ID
		rule   string
		state  caution.State // empty: the rule is not in the answer
	}{
		// From 60 °C skin burns through within seconds (Moritz and Henriques, Am. J. Pathol. 23, 1947, from memory).
		{"hot", recipe(salt.AmmoniumChloride), NoChloride, "R-29", caution.Fires},
		{"untested earth with ammonium", recipe(salt.AmmoniumChloride), NoChloride, "R-02", caution.NotKnown},
		{"untested earth without", recipe(), NoChloride, "R-02", ""},
		{"the other chloride", recipe(salt.AluminiumChlorideHexahydrate), salt.AmmoniumChloride, "R-13", caution.Fires},
		{"the same chloride", recipe(salt.AmmoniumChloride), salt.AmmoniumChloride, "R-13", ""},
		{"the first chloride", recipe(salt.AmmoniumChloride), NoChloride, "R-13", ""},
		{"blue vitriol", recipe(salt.CopperSulfatePentahydrate), NoChloride, "R-46", caution.Fires},
	} {
		answer := CautionsForRecipe(tt.recipe, tt.last)
		i := slices.IndexFunc(answer.Cautions, func(c caution.Caution) bool { return c.ID == tt.rule })
		got := caution.State("")
		if i >= 0 {
			got = answer.Cautions[i].State
		}
		if got != tt.state {
			t.Errorf("%s: got %s %q, want %q", tt.name, tt.rule, got, tt.state)
		}
	}
}
