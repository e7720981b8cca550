package server

import (
	"context"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/view"
	"blackbath/server/words"
)

// 4.20 kg of zinc with 6 % of copper, by hand with the densities of the CRC Handbook of Chemistry and Physics:
// 0.94/7.14 + 0.06/8.96 = 0.131653 + 0.006696 = 0.138349 L/kg, and 4.20 × 0.138349 = 0.58107 L.
func TestLoadVolume(t *testing.T) {
	for _, tt := range []struct {
		typed string
		want  unit.CubicCM
	}{
		{"", 0}, {"581 cm³", 581}, {"0.581 L", 581}, {"0,581 l", 581}, {"581 mL", 581}, {"4.2 kg", 581.07}, {"4200 g", 581.07},
	} {
		got, err := loadVolume(tt.typed, 6)
		if err != nil || math.Abs(float64(got-tt.want)) > 0.01 {
			t.Errorf("%q: got %v, %v; want %v cm³", tt.typed, got, err, tt.want)
		}
	}
	for typed, want := range map[string]string{
		"0.581": "with its unit", "five": "with its unit", "5 cm": "a quantity in", "1,234 L": "1.234 or 1234", "NaN L": "with its unit",
	} {
		_, err := loadVolume(typed, 6)
		if err == nil {
			t.Errorf("%q was taken", typed)
		} else if got := loadAllowed(err).String(); !strings.Contains(got, want) && !strings.Contains(got, "finite") {
			t.Errorf("%q: got %q, want %q", typed, got, want)
		}
	}
	if got := bath.AlloyVolume(1000, 100); math.Abs(float64(got)-1000/8.96) > 1e-9 { // copper alone
		t.Errorf("1 kg of copper: got %v cm³", got)
	}
}

// The page shows what package bath works out from the same inputs.
func TestScalePageShowsTheSum(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	q := url.Values{
		"tank": {idText(s.pot.ID)}, "load": {"0.581 L"}, "load_area_dm2": {"40"}, "water_temp_c": {"25"}, "bucket_l": {"10"}, "altitude_m": {"700"},
		"parts[2].lot": {idText(s.lots["bag 7"].ID)},
	}
	a := c.get(s.path(s.black) + "?" + q.Encode()).want(http.StatusOK)
	recipe := blackRecipe(salt.AmmoniumChloride)
	recipe.Parts[1].MoisturePct = new(12.0)
	recipe.Parts[2].AssayPct, recipe.Parts[3].AssayPct = new(99.0), new(97.0)
	recipe.Parts[4].AssayPct = new(99.02) // 63.3 × 249.69/159.61
	con := bath.Conditions{Load: 581, Altitude: 700, WaterTemp: 25, Step: 5, Bucket: new(unit.Litre(10)), LastChloride: bath.NoChloride}
	want, err := bath.Scale(recipe, s.pot.Tank, con)
	if err != nil {
		t.Fatal(err)
	}
	f := view.Format{Step: 5}
	plainText := func(q view.Quantity) string { return strings.ReplaceAll(q.String(), "\u00a0", " ") }
	a.says(plainText(f.Mass(want.PourWater.Rounded)), plainText(f.Litres(want.PourWater.Litres)), "1 bucket of 10 L and",
		plainText(f.CM(*want.Levels.Cold)), plainText(f.CM(*want.Levels.Hot)), plainText(f.CM(want.Levels.Loaded)),
		plainText(f.Estimate(want.BoilsAtC, 1.0, 1, "°C")), plainText(f.Fixed(*want.HeatUp, 0, "min")), "700 m above the sea",
		plainText(f.Estimate(*want.Evaporation, 0.3*float64(*want.Evaporation), 2, "L")),
		plainText(f.Litres(want.Details.OverfillL)), "counted as pure", "A splash burns in seconds")
	for _, w := range want.Weigh {
		a.says(plainText(f.Mass(w.Rounded)))
	}
	// What the weighed parts are is said by word, formula and number.
	a.says("CAS 12125-02-9", "CAS 7758-99-8", "bag 7", "lot 14")
	if got := a.all("b", "", ""); !slices.ContainsFunc(got, func(n *html.Node) bool { return textOf(n) == "ammonium" }) {
		t.Error("ammonium is not set in bold")
	}
	// Against the tank where it was proven: 40 dm² in this bath is over the stated 1.4 dm² per L.
	if perL := 40 / float64(want.HotBathL); perL <= 1.4 {
		t.Fatalf("the case has become tame: %v dm² per L", perL)
	}
	a.says("Over the proven 1.40 dm² per L", "no range stated: ± 10 %", "proven 0.80 to 1.40 dm² per L", "Stokes' law")
}

func TestScaleHeatWarning(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	// At 4000 m no bath of this recipe reaches 99 °C.
	a := c.get(s.path(s.black) + "?temp_c=99&altitude_m=4000").want(http.StatusOK)
	a.says("It cannot get hotter", "99 °C is outside the recipe's window, 85 to 97 °C")
}

// What can't be is said under its field; the rest of what was typed stays, and there are no figures.
func TestScaleBadInput(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	for _, tt := range []struct{ field, typed, want string }{
		{"load", "0.581", "a number with its unit: 0.581 L, 581 cm³ or 4.2 kg"},
		{"load", "99 L", "less than the tank holds under its fill line"},
		{"load", "-1 L", "0 cm³ or more"},
		{"freeboard_cm", "33", "cm"}, {"freeboard_cm", "-1", "cm"}, {"freeboard_cm", "six", "a number, like 12.5"},
		{"temp_c", "920", "0 to 150 °C"}, {"temp_c", "NaN", "finite"},
		{"water_temp_c", "101", "0 to 100 °C"}, {"water_temp_c", "", "a temperature"}, {"coldest_c", "-300", "°C"},
		{"step_g", "0", "more than 0"}, {"bucket_l", "-1", "more than 0"}, {"altitude_m", "9001", "9000 m"}, {"water_boils_at_c", "20", "60 to 110 °C"},
		{"parts[1].moisture_pct", "-1", "0 to 1000 %"}, {"parts[1].moisture_pct", "300", "Dry the earth"}, {"parts[2].assay_pct", "101", "at most 100 %"},
		{"parts[2].assay_pct", "1,234", "1.234 or 1234"}, {"tank", "99", "one of the list"}, {"parts[2].lot", idText(s.lots["sack 2"].ID), "one of the list"},
		{"copper_pct", "101", "between 0 and 100 %"}, {"load_area_dm2", "-1", "an area"},
	} {
		q := url.Values{"pieces": {"5 bowls"}, tt.field: {tt.typed}}
		a := c.get(s.path(s.black) + "?" + q.Encode())
		if a.status != http.StatusUnprocessableEntity {
			t.Errorf("%s=%q: got status %d, want 422", tt.field, tt.typed, a.status)
			continue
		}
		f := (&form.Field{Name: tt.field}).ID()
		lines := a.all("p", "id", f+"-e")
		if len(lines) != 1 || !strings.Contains(strings.ReplaceAll(textOf(lines[0]), "\u00a0", " "), tt.want) {
			t.Errorf("%s=%q: the line under the field does not say %q; page: %s", tt.field, tt.typed, tt.want, a.text())
		}
		sent := a.filled("scale")
		if sent.Get("pieces") != "5 bowls" || (tt.field != "tank" && !strings.HasSuffix(tt.field, ".lot") && sent.Get(tt.field) != tt.typed) {
			t.Errorf("%s=%q: what was typed is gone: %q", tt.field, tt.typed, sent)
		}
		a.says("No figures yet").saysNot("Weigh and pour", "Make the bath sheet")
		if got := c.makeSheetOf(s, q); got.status != http.StatusUnprocessableEntity {
			t.Errorf("%s=%q: a sheet was made of it, status %d", tt.field, tt.typed, got.status)
		}
	}
	if _, n, err := c.store.ListBathSheets(context.Background(), s.workshop, allSheets); err != nil || n != 0 {
		t.Errorf("%d sheets were stored (%v)", n, err)
	}
}

// A lot brings its figures along; one that was overtyped stays until another lot is chosen.
func TestScaleFollowsTheLot(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	first := c.get(s.path(s.black)).want(http.StatusOK).filled("scale")
	if got := first.Get("parts[1].moisture_pct"); got != "12" {
		t.Errorf("got moisture %q of the lot that is called like the part, want 12", got)
	}
	if got := first.Get("parts[4].assay_pct"); got != "99.02" { // 63.3 × 249.69/159.61, converted from the anhydrous basis
		t.Errorf("got assay %q of the blue crystals, want 99.02", got)
	}
	first.Set("parts[1].moisture_pct", "14")
	typed := c.get(s.path(s.black) + "?" + first.Encode()).filled("scale")
	if got := typed.Get("parts[1].moisture_pct"); got != "14" {
		t.Errorf("got moisture %q, want the 14 that was typed", got)
	}
	typed.Set("parts[1].lot", idText(s.lots["lot 12"].ID))
	if got := c.get(s.path(s.black) + "?" + typed.Encode()).filled("scale").Get("parts[1].moisture_pct"); got != "18.5" {
		t.Errorf("got moisture %q, want 18.5 of the other lot", got)
	}
	// Sent at once, without another look, it makes no sheet yet.
	typed.Set("entry_key", "0198c0de-0000-7000-8000-00000000000a")
	c.post("/sheets?recipe="+idText(s.black.RecipeID)+"&version=1", typed).want(http.StatusUnprocessableEntity).says("you chose another tank or lot", "moisture 18.5 %")
	typed.Set("parts[1].lot", "")
	a := c.get(s.path(s.black) + "?" + typed.Encode()).want(http.StatusOK).says("moisture not recorded, counted as dry")
	if got := a.filled("scale").Get("parts[1].moisture_pct"); got != "" {
		t.Errorf("got moisture %q without a lot, want none", got)
	}
}

// The last sheet's values come back, for a version and for each tank; looking changes nothing, and names are not kept.
func TestScaleRemembers(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	page := c.get(s.path(s.black) + "?tank=" + idText(s.pot.ID) + "&load=4.2+kg").want(http.StatusOK)
	if got := c.get(s.path(s.black)).filled("scale").Get("load"); got != "" {
		t.Errorf("got load %q from a page that was only looked at", got)
	}
	c.makeSheet(page, url.Values{"made_by": {"Mira"}}).want(http.StatusSeeOther)
	c.makeSheet(c.get(s.path(s.black)+"?load=1+L&tank="+idText(s.box.ID)), nil).want(http.StatusSeeOther)
	for path, want := range map[string]string{"": "1 L", "?tank=" + idText(s.pot.ID): "4.2 kg", "?tank=" + idText(s.box.ID): "1 L"} {
		got := c.get(s.path(s.black) + path).filled("scale")
		if got.Get("load") != want || got.Get("made_by") != "" {
			t.Errorf("%q: got load %q by %q, want %q by nobody", path, got.Get("load"), got.Get("made_by"), want)
		}
	}
	if err := c.store.UseUpLot(context.Background(), s.workshop, s.lots["bag 6"].ID); err != nil {
		t.Fatal(err)
	}
	got := c.get(s.path(s.black)).want(http.StatusOK).filled("scale")
	if got.Get("parts[2].lot") != idText(s.lots["bag 7"].ID) || got.Get("parts[2].assay_pct") != "99" {
		t.Errorf("got lot %q, assay %q; want the bag that is left", got.Get("parts[2].lot"), got.Get("parts[2].assay_pct"))
	}
}

func TestScaleWithoutTankOrVersion(t *testing.T) {
	c := newShop(t)
	v, err := c.store.SaveNewRecipe(context.Background(), 1, "r", bath.Version{Recipe: blackRecipe(salt.AmmoniumChloride)})
	if err != nil {
		t.Fatal(err)
	}
	c.get(scalePath(v.RecipeID, 1)).want(http.StatusOK).says("There is no tank to scale it to")
	c.get(scalePath(v.RecipeID, 2)).want(http.StatusNotFound)
	c.get(scalePath(99, 1)).want(http.StatusNotFound)
	c.get("/recipes/x/versions/y/scale").want(http.StatusNotFound)
}

// The other chloride than last time is asked about, and a second person must give a name.
func TestScaleAsksForTheChloride(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	c.get(s.path(s.other)).want(http.StatusOK).saysNot("Not the chloride used last time")
	c.makeSheet(c.get(s.path(s.black)), nil).want(http.StatusSeeOther)
	page := c.get(s.path(s.other)).want(http.StatusOK).says("Not the chloride used last time", "Second person")
	c.makeSheet(page, nil).want(http.StatusUnprocessableEntity).says("at least one letter")
	c.get(s.path(s.black)).want(http.StatusOK).saysNot("Not the chloride used last time")
	where := c.makeSheet(page, url.Values{"reader": {"Tobin"}}).want(http.StatusSeeOther).header.Get("Location")
	c.get(where).want(http.StatusOK).says("read aloud with Tobin", "aluminium chloride hexahydrate")
	c.get(s.path(s.black)).want(http.StatusOK).says("Not the chloride used last time")
	if got := c.get(s.path(s.other)).filled("scale"); got.Get("reader") != "" {
		t.Errorf("the second person %q was kept", got.Get("reader"))
	}
}

func TestBothChloridesAreAskedAbout(t *testing.T) {
	r := blackRecipe(salt.AmmoniumChloride)
	r.Parts = append(r.Parts, bath.Part{Kind: bath.Salt, Salt: salt.AluminiumChlorideHexahydrate, Mass: 5})
	a := &scaleAsk{in: &scaleInputs{}}
	a.in.Version.Recipe, a.in.LastChloride = r, bath.NoChloride
	if why, asked := a.chlorideAsked(); !asked || !strings.Contains(why.String(), "Is that meant?") {
		t.Errorf("got %q, %v; want a question", why, asked)
	}
}

// A refused plan has no figures and no button.
func TestScaleRefused(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	in, err := c.server.scaleInputs(context.Background(), s.workshop, s.black.RecipeID, 1)
	if err != nil {
		t.Fatal(err)
	}
	v := &visit{server: c.server, words: c.server.book.In(words.English), shop: someShop}
	typed, _ := in.typed(v.shop, nil)
	ask := newScaleAsk(in, v.shop, typed, false)
	w, ok, err := ask.work()
	if err != nil || !ok {
		t.Fatalf("%v, %v", ok, err)
	}
	w.answer.Judged = caution.Judge(caution.Facts{Step: caution.StepRecipe, Recipe: caution.Recipe{Substances: []string{"aluminium-chloride"}}})
	page := view.ScaleShow{}
	page.Format.Words = v.words
	if err := (scalePage{ask: ask, typed: typed, w: w, ok: ok}).fill(v, &page); err != nil {
		t.Fatal(err)
	}
	if len(page.Result.Refused) == 0 || len(page.Result.Weigh) > 0 || page.Ledge.Main != nil {
		t.Errorf("got %+v with ledge %+v, want a refusal without figures and without a button", page.Result, page.Ledge)
	}
}

// One question a fact: a rule stands under the missing fact that most rules name, of equals under its own first.
func TestQuestions(t *testing.T) {
	open := func(id string, severity caution.Severity, facts ...string) caution.Caution {
		c := caution.Caution{ID: id, Severity: severity, State: caution.NotKnown}
		for _, f := range facts {
			c.Missing = append(c.Missing, caution.Missing{Fact: f})
		}
		return c
	}
	got := questions(caution.Answer{Cautions: []caution.Caution{
		{ID: "R-29", Severity: caution.Danger, State: caution.Fires},
		open("R-01", caution.Danger, "lid", "ph"), open("R-02", caution.Danger, "ph", "room"), open("R-03", caution.Warning, "room"),
		open("R-04", caution.Note, "hands"), {ID: "R-61", Severity: caution.Warning, State: caution.Fires},
	}})
	want := [][]string{{"ph", "R-01", "R-02"}, {"room", "R-03"}, {"hands", "R-04"}}
	if len(got) != len(want) {
		t.Fatalf("got %d questions, want %d", len(got), len(want))
	}
	for i, q := range got {
		line := []string{q.fact.Fact}
		for _, r := range q.rules {
			line = append(line, r.ID)
		}
		if !slices.Equal(line, want[i]) {
			t.Errorf("question %d: got %q, want %q", i, line, want[i])
		}
	}
}
