package server

import (
	"encoding/csv"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"blackbath/bath"
	"blackbath/bath/salt"
)

// everyday is the recipe that most of these tests begin with.
func everyday() bath.Recipe {
	return bath.Recipe{
		Name: "Everyday black",
		Parts: []bath.Part{
			{Kind: bath.Water, Mass: 10_000}, {Kind: bath.Earth, Name: "north bank", Mass: 4000},
			{Kind: bath.Salt, Salt: salt.AmmoniumChloride, Mass: 900},
		},
		Temp: bath.TempWindow{Min: 85, Target: 92, Max: 97},
		Soak: &bath.SoakWindow{Min: 4, Target: 8, Max: 15},
	}
}

// recipeKeys counts the entries of these tests.
var recipeKeys int

func recipeKey() string {
	recipeKeys++
	return fmt.Sprintf("0198c0de-0000-7000-8000-00000001%04d", recipeKeys)
}

func (c *client) keepRecipe(r bath.Recipe) bath.Version {
	c.t.Helper()
	v, err := c.store.SaveNewRecipe(c.t.Context(), 1, recipeKey(), bath.Version{Recipe: r, MadeBy: "Ansa"})
	if err != nil {
		c.t.Fatal(err)
	}
	return v
}

func (c *client) keepVersion(v bath.Version) bath.Version {
	c.t.Helper()
	v, err := c.store.SaveVersion(c.t.Context(), 1, recipeKey(), v)
	if err != nil {
		c.t.Fatal(err)
	}
	return v
}

func (c *client) keepTank(t bath.Tank) int64 {
	c.t.Helper()
	id, err := c.store.SaveTank(c.t.Context(), 1, recipeKey(), bath.KeptTank{Tank: t})
	if err != nil {
		c.t.Fatal(err)
	}
	return id
}

func recipePot() bath.Tank {
	return bath.Tank{Name: "Round pot", Shape: bath.Cylinder, Diameter: 36, Height: 32, Freeboard: 6}
}

// use makes a bath sheet of a version, after which it can't change.
func (c *client) use(v bath.Version) {
	c.t.Helper()
	tank := c.keepTank(recipePot())
	_, err := c.store.SaveBathSheet(c.t.Context(), 1, bath.BathSheet{
		EntryKey: recipeKey(), VersionID: v.ID, TankID: tank, LotIDs: make([]int64, len(v.Recipe.Parts)), Recipe: v.Recipe, Tank: recipePot(),
		Conditions: bath.DefaultConditions(), Answer: []byte("{}"), Program: "test", MadeAt: time.Now(),
	})
	if err != nil {
		c.t.Fatal(err)
	}
}

func (c *client) recipeBook(id int64) bath.KeptBook {
	c.t.Helper()
	book, err := c.store.RecipeBook(c.t.Context(), 1, id)
	if err != nil {
		c.t.Fatal(err)
	}
	return book
}

func TestRecipeListIsEmptyAtFirst(t *testing.T) {
	newShop(t).get("/recipes").want(http.StatusOK).says("No recipe yet.", "Write a recipe")
}

func TestRecipeList(t *testing.T) {
	c := newShop(t)
	first := c.keepRecipe(everyday())
	light := everyday()
	light.Name, light.Soak = "Light grey", nil
	light.Parts[2] = bath.Part{Kind: bath.Salt, Salt: salt.AluminiumChlorideHexahydrate, Mass: 1200}
	c.keepRecipe(light)
	old := everyday()
	old.Name = "Old black"
	gone := c.keepRecipe(old)
	if err := c.store.RetireRecipe(t.Context(), 1, gone.RecipeID); err != nil {
		t.Fatal(err)
	}
	c.use(first)

	a := c.get("/recipes").want(http.StatusOK)
	a.says("water 10 kg, earth “north bank” 4 kg dry, sal ammoniac NH 4 Cl 900 g", "85 to 97 °C, target 92 °C", "4 to 15 min, target 8 min",
		"used by a bath", "not used yet", "not proven yet", "Soak", "not recorded", "Retired", "Take Old black back into use")
	rows := a.all("th", "scope", "row")
	if len(rows) != 2 || textOf(rows[0]) != "Everyday black" || textOf(rows[1]) != "Light grey" {
		t.Errorf("got %d rows in use, want Everyday black and Light grey", len(rows))
	}
	if got := textOf(c.get("/recipes?sort=-name").all("th", "scope", "row")[0]); got != "Light grey" {
		t.Errorf("turned round, the first is %q", got)
	}
	c.get("/recipes?q=aluminium").says("Light grey").saysNot("Everyday black")
	c.get("/recipes?q=unobtainium").want(http.StatusOK).says("No recipe in use has these words.")

	file := c.get("/recipes.csv?q=everyday").want(http.StatusOK)
	lines, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(file.body, "\uFEFF"))).ReadAll()
	if err != nil || len(lines) != 2 {
		t.Fatalf("got %d lines, %v; want a head and a recipe", len(lines), err)
	}
	if got, want := lines[1][3], "water 10 kg, earth “north bank” 4 kg dry, sal ammoniac NH4Cl 900 g"; got != want {
		t.Errorf("got parts %q, want %q", got, want)
	}
}

func TestRecipeListPages(t *testing.T) {
	c := newShop(t)
	for i := range perPage + 3 {
		r := everyday()
		r.Name = fmt.Sprintf("Recipe %03d", i)
		c.keepRecipe(r)
	}
	c.get("/recipes").says(fmt.Sprintf("1 to %d of %d", perPage, perPage+3))
	if got := len(c.get("/recipes?page=2").all("th", "scope", "row")); got != 3 {
		t.Errorf("got %d on the second page, want 3", got)
	}
}

func TestRecipeShow(t *testing.T) {
	c := newShop(t)
	r := everyday()
	r.Parts = append(r.Parts, bath.Part{Kind: bath.Salt, Salt: salt.CopperSulfatePentahydrate, Mass: 150})
	v := c.keepRecipe(r)
	a := c.get(recipePath(v.RecipeID)).want(http.StatusOK)
	// 4 kg and 900 g and 150 g in 10 kg of water; crystal water 5 × 18.015 of 249.68 g/mol (IUPAC atomic weights).
	a.says("400 g per kg water", "90 g per kg water", "15 g per kg water", "36.1 %", "CAS 12125-02-9", "counted dry", "85 to 97 °C, target 92 °C",
		"A splash burns in seconds", "Copper sulfate harms eyes badly", "Not known: north bank's",
		"Something dangerous could not be checked",
		"Not proven anywhere yet", "Scale to a tank")
	if got := len(a.all("div", "class", "sev-danger")); got != 2 {
		t.Errorf("got %d dangers that fire, want 2: heat and copper sulfate", got)
	}
	if got := len(a.all("a", "href", versionPath(v)+"/scale")); got != 1 {
		t.Errorf("got %d links to scaling, want 1", got)
	}
	if got := len(a.all("a", "class", "btn-main")); got != 1 {
		t.Errorf("got %d main buttons, want 1", got)
	}
	c.get("/recipes/999").want(http.StatusNotFound)
	c.get(recipePath(v.RecipeID) + "/versions/7").want(http.StatusNotFound)
	c.get("/recipes/none").want(http.StatusNotFound)
}

// filledRecipe is a whole form for everyday, as it is typed.
func filledRecipe(c *client) url.Values {
	sent := c.get("/recipes/new").want(http.StatusOK).filled("recipe")
	for name, typed := range map[string]string{
		"name": "Everyday black", "parts[0].mass_g": "10 kg", "parts[1].name": "north bank", "parts[1].mass_g": "4 kg",
		"parts[2].salt": "ammonium-chloride", "parts[2].mass_g": "0,9 kg", "temp_c.target": "92", "temp_c.min": "85", "temp_c.max": "97",
		"soak_min.min": "4", "soak_min.target": "8", "soak_min.max": "15", "made_by": "Ansa", "chloride.ammonium-chloride": "yes",
	} {
		sent.Set(name, typed)
	}
	return sent
}

func TestRecipeNew(t *testing.T) {
	c := newShop(t)
	c.get("/recipes/new").says("all the liquid water of the bath", "counted dry", "Only the ratios matter", "Anhydrous aluminium chloride is not offered")
	for _, o := range c.get("/recipes/new").all("option", "", "") {
		if value, _ := attr(o, "value"); value == "aluminium-chloride" {
			t.Error("anhydrous aluminium chloride is offered")
		}
	}
	sent := filledRecipe(c)
	to := c.post("/recipes/new", sent).want(http.StatusSeeOther).header.Get("Location")
	if got := c.post("/recipes/new", sent).want(http.StatusSeeOther).header.Get("Location"); got != to {
		t.Errorf("sent twice it led to %q and %q", to, got)
	}
	c.get(to).says("The recipe is written down.", "Version 1")
	got := newest(c.recipeBook(1)).Recipe
	want := everyday()
	if fmt.Sprint(got.Parts) != fmt.Sprint(want.Parts) || got.Temp != want.Temp || *got.Soak != *want.Soak {
		t.Errorf("got %+v, want %+v", got, want)
	}
	c.get("/recipes").says("Everyday black")
}

func TestRecipeNewDefaults(t *testing.T) {
	c := newShop(t)
	sent := filledRecipe(c)
	for _, name := range []string{"temp_c.min", "temp_c.max", "soak_min.min", "soak_min.target", "soak_min.max"} {
		sent.Set(name, "")
	}
	sent.Set("parts[1].name", "")
	sent.Set("parts[1].mass_g", "")
	c.post("/recipes/new", sent).want(http.StatusSeeOther)
	got := newest(c.recipeBook(1)).Recipe
	if got.Temp != (bath.TempWindow{Min: 92, Target: 92, Max: 92}) || got.Soak != nil || len(got.Parts) != 2 {
		t.Errorf("got %+v, want a window of one temperature, no soak and no earth", got)
	}
}

func TestRecipeNewRefuses(t *testing.T) {
	for _, tt := range []struct {
		name, field, typed string
		want               string
	}{
		{"no name", "name", " ", "Write at least one letter."},
		{"no mass", "parts[2].mass_g", "", "Write a mass, like 900 g or 0.9 kg."},
		{"nothing of it", "parts[2].mass_g", "0", "more than 0"},
		{"less than nothing", "parts[0].mass_g", "-5", "more than 0"},
		{"no number", "parts[0].mass_g", "NaN", "a finite number"},
		{"absurd", "parts[0].mass_g", "1e300 kg", "more than 0 and at most 1000000000 g"},
		{"two readings", "parts[0].mass_g", "1,234", "1.234 or 1234"},
		{"a volume", "parts[0].mass_g", "10 L", "a quantity in g"},
		{"a salt called chloride", "parts[2].salt", "chloride", "alone does not say which"},
		{"a salt called salt", "parts[2].salt", "salt", "alone does not say which"},
		{"no salt", "parts[2].salt", "", "Write the salt by picking it"},
		{"the anhydrous salt", "parts[2].salt", "aluminium-chloride", "bursts into heat and acid fume"},
		{"a salt as an earth", "parts[1].name", "Sal ammoniac", "pick it by its formula and CAS number"},
		{"a formula as an earth", "parts[1].name", "nh4cl", "pick it by its formula and CAS number"},
		{"chloride as an earth", "parts[1].name", "the chloride from Osk", "pick it by its formula and CAS number"},
		{"a salt by free text", "parts[2].name", "sal ammoniac", "never written"},
		{"an earth without a name", "parts[1].name", "", "Write the name of the earth"},
		{"salt in the water's row", "parts[0].salt", "sodium-chloride", "no salt for water"},
		{"no kind", "parts[1].kind", "mud", "one of the list"},
		{"no water", "parts[0].kind", "salt", "at least one part of kind water"},
		{"no target", "temp_c.target", "", "the temperature to aim for"},
		{"too hot", "temp_c.target", "190", "0 to 150 °C"},
		{"upside down", "temp_c.min", "95", "at most the target, 92 °C"},
		{"upside down at the top", "temp_c.max", "90", "at least the target, 92 °C"},
		{"a soak without its target", "soak_min.target", "", "or leave all three empty"},
		{"an endless soak", "soak_min.max", "99999", "0 to 10080 min"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newShop(t)
			sent := filledRecipe(c)
			sent.Set(tt.field, tt.typed)
			a := c.post("/recipes/new", sent).want(http.StatusUnprocessableEntity).says(tt.want, "put right")
			for name := range sent {
				if got := a.filled("recipe").Get(name); got != sent.Get(name) && !strings.HasPrefix(name, "chloride.") && typedByHand(name) {
					t.Errorf("%s: shown again as %q, want %q", name, got, sent.Get(name))
				}
			}
			if _, n, err := c.store.ListRecipes(t.Context(), 1, storeAll); n != 0 || err != nil {
				t.Errorf("got %d recipes kept, %v; want none", n, err)
			}
		})
	}
}

// typedByHand leaves out what no browser could send: a kind of part that is not offered. Ticks are only for the salt picked.
func typedByHand(name string) bool { return !strings.HasSuffix(name, ".kind") }

func TestRecipeNewTellsEverythingAtOnce(t *testing.T) {
	c := newShop(t)
	sent := filledRecipe(c)
	sent.Set("name", "")
	sent.Set("parts[0].mass_g", "ten")
	sent.Set("temp_c.target", "hot")
	c.post("/recipes/new", sent).want(http.StatusUnprocessableEntity).says("3 things to put right")
}

func TestRecipeRows(t *testing.T) {
	c := newShop(t)
	sent := filledRecipe(c)
	sent.Set("parts[0].mass_g", "rubbish") // nothing is to be put right yet
	sent.Set("add", "yes")
	a := c.post("/recipes/new", sent).want(http.StatusOK).saysNot("put right")
	again := a.filled("recipe")
	if got := again.Get("parts[3].kind"); got != "salt" {
		t.Fatalf("the new row is a %q, want a salt", got)
	}
	if got := again.Get("parts[0].mass_g") + again.Get("parts[1].name") + again.Get("made_by"); got != "rubbishnorth bankAnsa" {
		t.Errorf("typed things are shown again as %q", got)
	}
	again.Set("parts[3].salt", "potassium-nitrate")
	again.Set("parts[3].mass_g", "50")
	again.Set("remove", "1")
	a = c.post("/recipes/new", again).want(http.StatusOK)
	again = a.filled("recipe")
	if got := again.Get("parts[2].salt"); got != "potassium-nitrate" || again.Has("parts[3].kind") {
		t.Errorf("with the earth taken out, part 3 is %q", got)
	}
	again.Set("parts[0].mass_g", "10000")
	c.post("/recipes/new", again).want(http.StatusSeeOther)
	if got := len(newest(c.recipeBook(1)).Recipe.Parts); got != 3 {
		t.Errorf("got %d parts, want 3", got)
	}
	many := filledRecipe(c)
	for i := range 200 {
		many.Set(fmt.Sprintf("parts[%d].mass_g", i), "1")
	}
	c.post("/recipes/new", many).want(http.StatusUnprocessableEntity).says("at most 40 parts")
}

func TestRecipeRetire(t *testing.T) {
	c := newShop(t)
	path := recipePath(c.keepRecipe(everyday()).RecipeID)
	c.get(path+"/retire").want(http.StatusOK).says("Retire Everyday black?", "You can take it back at any time.")
	c.get("/recipes").saysNot("Retired")
	c.post(path+"/retire", url.Values{}).want(http.StatusSeeOther)
	c.get("/recipes").says("Retired", "Take Everyday black back into use")
	c.get(path).says("Take it back into use").saysNot("Scale to a tank")
	c.post(path+"/restore", url.Values{}).want(http.StatusSeeOther)
	c.get(path).says("Back in use.", "Scale to a tank")
	c.post("/recipes/99/retire", url.Values{}).want(http.StatusNotFound)
}

func TestRecipeCompare(t *testing.T) {
	c := newShop(t)
	v := c.keepRecipe(everyday())
	r := everyday()
	r.Parts[2].Mass = 990
	r.Parts[1] = bath.Part{Kind: bath.Salt, Salt: salt.SodiumChloride, Mass: 300}
	r.Temp.Max = 99
	c.keepVersion(bath.Version{RecipeID: v.RecipeID, Recipe: r, Change: "saltier", Why: "pale"})
	a := c.get(recipePath(v.RecipeID) + "/compare?a=1&b=2").want(http.StatusOK)
	a.says("more by 10.0 %", "only in version 1", "only in version 2", "97 °C", "99 °C", "the same", "4 lines of parts and windows differ.", "saltier", "pale")
	for _, sign := range []string{signSame, signChanged, signAdded, signGone} {
		a.says(sign)
	}
	c.get(recipePath(v.RecipeID) + "/compare?a=1&b=1").says("No part and no window differs.")
	c.get(recipePath(v.RecipeID) + "/compare?a=1&b=9").want(http.StatusNotFound)
}
