package server

import (
	"net/http"
	"testing"

	"blackbath/bath/salt"
	"blackbath/server/store"
)

var storeAll = store.RecipeFilter{IncludeRetired: true}

const (
	tickAmmonium  = "chloride.ammonium-chloride"
	tickAluminium = "chloride.aluminium-chloride-hexahydrate"
	readAloud     = "Read the bag's formula aloud; a second person confirms."
)

func TestRecipeAsksWhichChloride(t *testing.T) {
	c := newShop(t)
	sent := filledRecipe(c)
	sent.Del(tickAmmonium)
	a := c.post("/recipes/new", sent).want(http.StatusUnprocessableEntity)
	a.says("Which chloride is it?", "NH 4 Cl", "AlCl 3 ·6H 2 O", "12125-02-9", "7784-13-6", "In this recipe", "Not in this recipe",
		"Nothing is saved until this is ticked.", "Tick this when you have read formula and CAS number").saysNot(readAloud)
	var bold []string
	for _, n := range a.all("b", "", "") {
		bold = append(bold, textOf(n))
	}
	for _, word := range []string{"ammonium", "aluminium"} {
		found := false
		for _, b := range bold {
			found = found || b == word
		}
		if !found {
			t.Errorf("%q is not in bold", word)
		}
	}
	sent.Set(tickAluminium, "yes") // a tick for the other salt counts for nothing
	c.post("/recipes/new", sent).want(http.StatusUnprocessableEntity)
	sent.Set(tickAmmonium, "yes")
	c.post("/recipes/new", sent).want(http.StatusSeeOther)
}

func TestRecipeWithoutThemIsNotAsked(t *testing.T) {
	c := newShop(t)
	sent := filledRecipe(c)
	sent.Del(tickAmmonium)
	sent.Set("parts[2].salt", "sodium-chloride")
	c.post("/recipes/new", sent).want(http.StatusSeeOther)
}

func TestRecipeWithBothChloridesIsAsked(t *testing.T) {
	c := newShop(t)
	sent := filledRecipe(c)
	sent.Set("parts[3].kind", "salt")
	sent.Set("parts[3].salt", "aluminium-chloride-hexahydrate")
	sent.Set("parts[3].mass_g", "100")
	sent.Set(tickAluminium, "yes")
	a := c.post("/recipes/new", sent).want(http.StatusUnprocessableEntity).says("This recipe brings both of them.", readAloud)
	if _, n, err := c.store.ListRecipes(t.Context(), 1, storeAll); n != 0 || err != nil {
		t.Fatalf("got %d recipes kept, %v; want none", n, err)
	}
	again := a.filled("recipe")
	for _, n := range a.all("input", "type", "checkbox") {
		name, _ := attr(n, "name")
		again.Set(name, "yes")
	}
	c.post("/recipes/new", again).want(http.StatusSeeOther)
}

func TestRecipeWithTheOtherChlorideIsAsked(t *testing.T) {
	c := newShop(t)
	c.use(c.keepRecipe(everyday())) // the last bath had ammonium chloride
	sent := filledRecipe(c)
	sent.Set("parts[2].salt", string(salt.AluminiumChlorideHexahydrate))
	sent.Set(tickAluminium, "yes")
	a := c.post("/recipes/new", sent).want(http.StatusUnprocessableEntity).
		says("The last bath sheet here had ammonium chloride (sal ammoniac), NH4Cl, CAS 12125-02-9.", readAloud)
	again := a.filled("recipe")
	for _, n := range a.all("input", "type", "checkbox") {
		name, _ := attr(n, "name")
		again.Set(name, "yes")
	}
	c.post("/recipes/new", again).want(http.StatusSeeOther)

	same := filledRecipe(c)
	c.post("/recipes/new", same).want(http.StatusSeeOther)
}

func TestVersionWithTheOtherChlorideIsAsked(t *testing.T) {
	c := newShop(t)
	v := c.keepRecipe(everyday()) // no bath yet: only the version before knows
	sent := c.get(recipePath(v.RecipeID) + "/versions/new").filled("recipe")
	sent.Set("parts[2].salt", string(salt.AluminiumChlorideHexahydrate))
	sent.Set(tickAluminium, "yes")
	sent.Set("change", "aluminium chloride")
	sent.Set("why", "a trial")
	c.post(recipePath(v.RecipeID)+"/versions/new", sent).want(http.StatusUnprocessableEntity).says("The version before has ammonium chloride", readAloud)
}
