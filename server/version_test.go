package server

import (
	"fmt"
	"net/http"
	"net/url"
	"testing"

	"blackbath/bath"
	"blackbath/bath/unit"
)

func TestRecipeVersions(t *testing.T) {
	c := newShop(t)
	v := c.keepRecipe(everyday())
	path := recipePath(v.RecipeID)
	sent := c.get(path + "/versions/new").want(http.StatusOK).says("It starts from version 1").filled("recipe")
	if got := sent.Get("parts[2].mass_g") + " " + sent.Get("temp_c.target"); got != "900 92" {
		t.Errorf("it starts from %q, want 900 92", got)
	}
	sent.Set("parts[2].mass_g", "1000")
	sent.Set("chloride.ammonium-chloride", "yes")
	c.post(path+"/versions/new", sent).want(http.StatusUnprocessableEntity).says("What changed: nothing is written", "Why: nothing is written")
	sent.Set("change", "100 g more sal ammoniac")
	sent.Set("why", "greyish at the rims")
	c.post(path+"/versions/new", sent).want(http.StatusSeeOther)
	c.post(path+"/versions/new", sent).want(http.StatusSeeOther) // a double tap
	if got := len(c.recipeBook(v.RecipeID).Versions); got != 2 {
		t.Fatalf("got %d versions, want 2", got)
	}
	c.get(path).says("Version 2, the newest.", "100 g more sal ammoniac", "greyish at the rims", "100 g per kg water")
	c.get(path+"/versions/1").says("An older version", "Version 2 is the newest", "90 g per kg water")

	stale := sent // made when there was one version only
	stale.Set("entry_key", recipeKey())
	stale.Set("parts[2].mass_g", "700")
	a := c.post(path+"/versions/new", stale).want(http.StatusConflict).says("Version 2 was written since you opened this page")
	again := a.filled("recipe")
	if got := again.Get("parts[2].mass_g"); got != "700" {
		t.Errorf("typed mass is shown again as %q", got)
	}
	c.post(path+"/versions/new", again).want(http.StatusSeeOther)
	if got := len(c.recipeBook(v.RecipeID).Versions); got != 3 {
		t.Errorf("got %d versions, want 3", got)
	}
}

func TestRecipeVersionEdit(t *testing.T) {
	c := newShop(t)
	v := c.keepRecipe(everyday())
	sent := c.get(versionPath(v) + "/edit").want(http.StatusOK).filled("recipe")
	sent.Set("chloride.ammonium-chloride", "yes")
	other := url.Values{}
	for name, typed := range sent {
		other[name] = typed
	}
	sent.Set("temp_c.target", "90")
	c.post(versionPath(v)+"/edit", sent).want(http.StatusSeeOther)
	if got := newest(c.recipeBook(v.RecipeID)); got.Recipe.Temp.Target != 90 || got.Number != 1 {
		t.Errorf("got version %d at %v, want version 1 at 90", got.Number, got.Recipe.Temp.Target)
	}
	other.Set("temp_c.target", "88")
	c.post(versionPath(v)+"/edit", other).want(http.StatusConflict).says("Somebody else changed this meanwhile", "Saved meanwhile by somebody else: 90 °C")

	c.use(newest(c.recipeBook(v.RecipeID)))
	c.get(versionPath(v) + "/edit").want(http.StatusConflict).says("A bath used this version")
	c.post(versionPath(v)+"/edit", sent).want(http.StatusConflict).says("A bath used this version")
	c.get(versionPath(v)).says("A bath used it, so it stays as it is.")
}

func TestVersionProof(t *testing.T) {
	c := newShop(t)
	v := c.keepRecipe(everyday())
	c.get(versionPath(v) + "/proof").want(http.StatusOK).says("No tank yet.")
	tank := c.keepTank(recipePot())
	page := c.get(versionPath(v)+"/proof").want(http.StatusOK).says("10 % either way", "dm² per L")
	for _, tt := range []struct{ field, typed, want string }{
		{"load", "0.58", "a number with its unit: 0.581 L, 581 cm³ or 4.2 kg"},
		{"load", "", "Write at least one letter."},
		{"load", "0 L", "more than nothing"},
		{"load", "90 L", "less than the tank holds under its fill line"},
		{"load", "4 m", "a quantity in"},
		{"copper_pct", "", "kg can't be turned into litres"},
		{"tank", "77", "one of the list"},
		{"load_area_dm2", "-3", "0 to"},
		{"ranges.depth_cm.hi", "", "both ends of the range, or neither"},
		{"ranges.depth_cm.hi", "3", "at least the lowest, 15"},
	} {
		sent := page.filled("proof")
		sent.Set("tank", fmt.Sprint(tank))
		sent.Set("load", "4.2 kg")
		sent.Set("ranges.depth_cm.lo", "15")
		sent.Set("ranges.depth_cm.hi", "28")
		sent.Set(tt.field, tt.typed)
		a := c.post(versionPath(v)+"/proof", sent).want(http.StatusUnprocessableEntity).says(tt.want)
		if got := a.filled("proof").Get("load"); got != sent.Get("load") {
			t.Errorf("%s %q: load is shown again as %q", tt.field, tt.typed, got)
		}
	}
	if newest(c.recipeBook(v.RecipeID)).Proof != nil {
		t.Fatal("a proof is kept that was refused")
	}
	sent := page.filled("proof")
	sent.Set("tank", fmt.Sprint(tank))
	sent.Set("load", "4.2 kg")
	sent.Set("load_area_dm2", "38")
	sent.Set("ranges.depth_cm.lo", "15")
	sent.Set("ranges.depth_cm.hi", "28")
	c.post(versionPath(v)+"/proof", sent).want(http.StatusSeeOther)
	got := newest(c.recipeBook(v.RecipeID)).Proof
	// 4.2 kg of zinc with 6 % copper: 4200 (0.94/7.14 + 0.06/8.96) cm³, densities of the CRC Handbook of Chemistry and Physics.
	if want := 4200 * (0.94/7.14 + 0.06/8.96); got == nil || float64(got.Load) < want-0.01 || float64(got.Load) > want+0.01 {
		t.Fatalf("got proof %+v, want a load of %.2f cm³", got, want)
	}
	if got.Tank.Name != "Round pot" || got.LoadArea != unit.SquareDM(38) || got.Ranges[bath.MudDepth] != (bath.Range{Lo: 15, Hi: 28}) || len(got.Ranges) != 1 {
		t.Errorf("got %+v", got)
	}
	c.get(versionPath(v)).says("Round pot", "0.581 L", "38 dm²", "proven 15.0 to 28.0 cm", "no range stated: ± 10 %")
	c.get("/recipes").says("Round pot")
	c.use(newest(c.recipeBook(v.RecipeID)))
	c.get(versionPath(v)).says("Bath sheets lean on it, so it stays as it is.")
	c.post(versionPath(v)+"/proof", sent).want(http.StatusSeeOther) // the same once more changes nothing
	sent.Set("load_area_dm2", "40")
	c.post(versionPath(v)+"/proof", sent).want(http.StatusConflict).says("A bath used this version")
	c.get(versionPath(v) + "/proof").want(http.StatusConflict)
}
