package server

import (
	"testing"

	"blackbath/bath"
	"blackbath/bath/salt"
)

func TestBrowserRecipes(t *testing.T) {
	for _, tt := range []struct {
		name   string
		width  int
		script bool
	}{{"phone", phone, true}, {"desk", desk, true}, {"small phone without script", 320, false}} {
		t.Run(tt.name, func(t *testing.T) {
			c := newShop(t)
			c.keepTank(recipePot())
			b := c.open(tt.width, tt.script)
			b.visit("/recipes")
			b.fits()
			b.press(".ledge .btn-main")
			b.fits()
			b.shot("new")
			b.write("#name", "Everyday black")
			b.write("#parts-0--mass_g", "10 kg")
			b.write("#parts-1--name", "north bank")
			b.write("#parts-1--mass_g", "4 kg")
			b.write("#parts-2--mass_g", "900")
			b.write("#temp_c-target", "92")
			b.press(`button[name="add"]`)
			if got := b.count(".recipe-part"); got != 4 {
				t.Fatalf("got %d rows, want 4", got)
			}
			b.press(`button[name="remove"][value="3"]`)
			b.press(".ledge .btn-main") // no salt picked yet
			b.fits()
			b.shot("put-right")
			if got := b.count(".field-bad"); got != 1 {
				t.Errorf("got %d fields to put right, want 1: the salt", got)
			}
			if got := b.path(); got != "/recipes/new" {
				t.Fatalf("the page is %s, want /recipes/new", got)
			}

			c.keepRecipe(everyday())
			v := newest(c.recipeBook(1))
			other := everyday()
			other.Parts[2] = bath.Part{Kind: bath.Salt, Salt: salt.AluminiumChlorideHexahydrate, Mass: 1000}
			other.Parts = append(other.Parts, bath.Part{Kind: bath.Salt, Salt: salt.CopperSulfatePentahydrate, Mass: 150})
			c.keepVersion(bath.Version{RecipeID: v.RecipeID, Recipe: other, Change: "another chloride", Why: "a trial"})
			proof := bath.Proof{Tank: recipePot(), Load: 580, LoadArea: 38, Ranges: map[bath.Figure]bath.Range{bath.MudDepth: {Lo: 15, Hi: 28}}}
			if err := c.store.SaveProof(t.Context(), 1, v.ID, v.Edit, proof); err != nil {
				t.Fatal(err)
			}
			for _, page := range []struct{ name, path string }{
				{"list", "/recipes"}, {"newest", recipePath(v.RecipeID)}, {"first", versionPath(v)}, {"edit", versionPath(v) + "/edit"},
				{"next", recipePath(v.RecipeID) + "/versions/new"}, {"compare", recipePath(v.RecipeID) + "/compare"},
				{"proof", versionPath(v) + "/proof"}, {"retire", recipePath(v.RecipeID) + "/retire"},
			} {
				b.visit(page.path)
				b.fits()
				b.shot(page.name)
			}
			b.press(".ledge .btn-main")
			b.visit("/recipes")
			b.press(".recipe-retired button")
			if got := b.path(); got != recipePath(v.RecipeID) {
				t.Errorf("restoring led to %s, want the recipe", got)
			}
		})
	}
}
