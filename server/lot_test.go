package server

import (
	"encoding/csv"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/server/store"
)

// put fills fields into a form as it came.
func put(form url.Values, pairs ...string) url.Values {
	out := maps.Clone(form)
	for i := 0; i < len(pairs); i += 2 {
		out[pairs[i]] = []string{pairs[i+1]}
	}
	return out
}

// lots are all that is stored.
func (c *client) lots() []bath.Lot {
	c.t.Helper()
	all, _, err := c.store.ListLots(c.t.Context(), 1, store.LotFilter{IncludeUsedUp: true})
	if err != nil {
		c.t.Fatal(err)
	}
	return all
}

// keep saves a new lot and returns its address.
func (c *client) keep(query string, pairs ...string) string {
	c.t.Helper()
	form := c.get("/lots/new" + query).want(http.StatusOK).filled("lot")
	return c.post("/lots/new", put(form, pairs...)).want(http.StatusSeeOther).header.Get("Location")
}

func TestLotOfEarth(t *testing.T) {
	c := newShop(t)
	c.get("/lots").want(http.StatusOK).says("No lot yet.")
	page := c.get("/lots/new?kind=earth").want(http.StatusOK)
	page.says("dry basis", "wet basis", "u / (1 − u)", "105 °C")
	at := c.post("/lots/new", put(page.filled("lot"), "material_name", "breakwater earth", "name", "lot 16", "received", "2026-03-09",
		"from", "north bank", "amount_g", "40 kg", "price_minor", "12,50", "damp_g", "112", "dry_g", "100")).
		want(http.StatusSeeOther).header.Get("Location")
	// Dry basis, ISO 11465: 112 g damp and 100 g dry are 12 %, so that 1 kg dry is 1.120 kg damp.
	c.get(at).want(http.StatusOK).says("Breakwater earth, lot 16", "12.0 % of dry", "To bring 1 kg of dry earth, weigh 1.120 kg of this.",
		"It brings 120 g of water with it.", "no uncertainty is recorded", "2026-03-09", "north bank", "40.000 kg", "12.50 EUR", "0.31 EUR per kg",
		"2.65 g/cm³", "Batch number not recorded").saysNot("On the label")
	l := c.lots()[0]
	if l.Material.Name != "breakwater earth" || l.Material.Kind != bath.Earth || *l.MoisturePct != 12 || *l.AmountG != 40_000 || *l.PriceMinor != 1250 {
		t.Errorf("stored %+v", l)
	}
	// The next digging of the same earth, with a meter's reading: 20 % of damp is 25 % of dry.
	at = c.keep("?kind=earth", "name", "lot 17", "meter_pct", "20")
	c.get(at).says("25.0 % of dry", "weigh 1.250 kg")
	c.keep("?kind=earth", "material_id", "", "material_name", "Breakwater Earth", "name", "lot 18")
	for _, l := range c.lots() {
		if l.Material.ID != c.lots()[0].Material.ID {
			t.Errorf("%s is of another material: %+v", l.Name, l.Material)
		}
	}
	c.get("/lots/3").says("Counted as dry", "Weigh a sample damp")
}

func TestLotOfWater(t *testing.T) {
	c := newShop(t)
	c.get(c.keep("?kind=water", "material_name", "yard well", "name", "spring", "price_minor", "0")).
		says("Yard well, spring", "0.00 EUR", "Water is poured as the recipe says").saysNot("Batch number")
}

func TestLotOfSalt(t *testing.T) {
	c := newShop(t)
	at := c.keep("?kind=salt&salt=sodium-chloride", "name", "bag 1", "assay_pct", "97", "amount_g", "25", "price_minor", "10")
	// 1 / 0.97 = 1.0309.
	c.get(at).says("Sodium chloride, bag 1", "NaCl", "7647-14-5", "1 kg of the pure salt takes 1.031 kg of this lot.",
		"It brings no crystal water: 0 g.", "0.40 EUR per kg", lawFirst)
	c.keep("?kind=salt&salt=sodium-chloride", "name", "bag 2")
	lots := c.lots()
	if lots[0].Material.ID != lots[1].Material.ID || lots[0].Material.Name != "sodium chloride" {
		t.Errorf("the bags are of two materials: %+v, %+v", lots[0].Material, lots[1].Material)
	}
	c.get("/lots/2").says("Counted as pure, 100 %", "Read the assay off the bag")
	if !slices.Contains(caution.Texts(), lawFirst) {
		t.Error("the cautions close with another sentence")
	}
}

func TestLotOfHydrateNeedsTheBasis(t *testing.T) {
	c := newShop(t)
	page := c.get("/lots/new?kind=salt&salt=copper-sulfate-pentahydrate").says("“as CuSO4” counts them without their water")
	sent := put(page.filled("lot"), "name", "tin 3", "assay_pct", "63")
	a := c.post("/lots/new", sent).want(http.StatusUnprocessableEntity).says("What the assay counts: nothing is written")
	if got, _ := attr(a.one("input", "id", "assay_pct"), "value"); got != "63" {
		t.Errorf("got assay %q, want what was typed", got)
	}
	if n := len(c.lots()); n != 0 {
		t.Fatalf("%d lots were stored", n)
	}
	at := c.post("/lots/new", put(sent, "assay_basis", "as-anhydrous")).want(http.StatusSeeOther).header.Get("Location")
	// 63 % CuSO4 are 98.56 % CuSO4·5H2O, of which 36.08 % is water: molar masses 159.609 and 249.685 g/mol (CRC Handbook of
	// Chemistry and Physics, 102nd ed. 2021).
	c.get(at).says("counted without crystal water", "1 kg of the pure crystals takes 1.015 kg of this lot", "It brings 361 g of crystal water", "Danger", "H318")
}

func TestLotOfChlorideAsksForTheFormula(t *testing.T) {
	c := newShop(t)
	for _, tt := range []struct{ id, tick, other, also string }{
		{"ammonium-chloride", "I have read the formula on the bag: NH4Cl, CAS 12125-02-9", "aluminium-chloride-hexahydrate", "7784-13-6"},
		{"aluminium-chloride-hexahydrate", "I have read the formula on the bag: AlCl3·6H2O, CAS 7784-13-6", "ammonium-chloride", "12125-02-9"},
	} {
		page := c.get("/lots/new?kind=salt&salt=" + tt.id).want(http.StatusOK)
		page.says("Which of the two is it?", "blue disc", "brown hexagon", "am-MOH-ni-um", "al-u-MIN-i-um", "sal ammoniac", tt.tick, tt.also)
		links := page.all("a", "href", "/lots/new?kind=salt&salt="+tt.other)
		if len(links) != 1 || textOf(links[0]) != "No, it is this one" {
			t.Errorf("%s: got %d links to the other", tt.id, len(links))
		}
		sent := put(page.filled("lot"), "name", "bag 6")
		c.post("/lots/new", put(sent, "formula_read."+tt.other, "yes")).want(http.StatusUnprocessableEntity).
			says("One thing to put right", "Not ticked", "Tick this when you have read it off the bag")
		if n := len(c.lots()); n != 0 {
			t.Fatalf("%s: %d lots were stored without the tick", tt.id, n)
		}
	}
	at := c.keep("?kind=salt&salt=ammonium-chloride", "name", "bag 6", "assay_pct", "98.5", "formula_read.ammonium-chloride", "yes")
	c.get(at).says("takes 1.015 kg of this lot", "Warning", "H302")
	c.get(at + "/edit").want(http.StatusOK).saysNot("Which of the two")
}

func TestChooseLot(t *testing.T) {
	c := newShop(t)
	choices := func(a answer) (found []string) {
		for _, n := range a.all("a", "class", "lot-item") {
			href, _ := attr(n, "href")
			if _, id, ok := strings.Cut(href, "salt="); ok {
				found = append(found, id)
			}
		}
		return found
	}
	a := c.get("/lots/new").want(http.StatusOK).says("Water or earth", "sal ammoniac", "CAS 7784-13-6", "Danger", "Warning", "not classified",
		"Anhydrous aluminium chloride can't be chosen", "7446-70-0")
	if got, want := len(choices(a)), len(salt.All()); got != want {
		t.Errorf("got %d salts, want %d", got, want)
	}
	for _, tt := range []struct {
		q     string
		least int // salts to choose from
		says  string
	}{
		{"chloride", 5, "“chloride” alone does not say which salt"},
		{"chlor", 5, "alone does not say which salt"},
		{"salt", 13, "“salt” alone does not say which salt"},
		{"Sal", 13, "alone does not say which salt"},
		{"sal ammoniac", 1, "NH 4 Cl"},
		{"AlCl3", 1, "Anhydrous aluminium chloride can't be chosen"},
		{"aluminum", 1, "hexahydrate"},
		{"copper sulphate", 2, "blue vitriol"},
		{"CuSO4.5H2O", 1, "7758-99-8"},
		{"7647-14-5", 1, "common salt"},
		{"unobtainium", 0, "No salt here has these words."},
	} {
		a := c.get("/lots/new?" + url.Values{"kind": {"salt"}, "q": {tt.q}}.Encode()).want(http.StatusOK).says(tt.says)
		if got := len(choices(a)); got != tt.least {
			t.Errorf("%q: got %d salts, want %d", tt.q, got, tt.least)
		}
	}
	for _, query := range []string{"kind=salt&salt=chloride", "kind=salt&salt=salt", "kind=mud"} {
		c.get("/lots/new?" + query).want(http.StatusUnprocessableEntity).says("does not say what it is")
	}
}

func TestAnhydrousAluminiumChlorideIsRefused(t *testing.T) {
	c := newShop(t)
	for _, a := range []answer{
		c.get("/lots/new?kind=salt&salt=aluminium-chloride"),
		c.post("/lots/new", url.Values{"kind": {"salt"}, "salt": {"aluminium-chloride"}, "name": {"bag"}, "formula_read.aluminium-chloride": {"yes"}}),
	} {
		a.want(http.StatusUnprocessableEntity).says("Danger", "bursts into heat and acid fume", "AlCl3·6H2O, CAS 7784-13-6")
		if len(a.all("form", "id", "lot")) != 0 {
			t.Error("its form is shown")
		}
	}
	c.post("/lots/new", url.Values{"kind": {"salt"}}).want(http.StatusUnprocessableEntity).says("“salt” does not say what it is")
	if n := len(c.lots()); n != 0 {
		t.Errorf("%d lots were stored", n)
	}
}

func TestLotBadInput(t *testing.T) {
	c := newShop(t)
	earth := c.get("/lots/new?kind=earth").filled("lot")
	brine := c.get("/lots/new?kind=salt&salt=sodium-chloride").filled("lot")
	good := put(earth, "material_name", "bank", "name", "lot 1")
	for _, tt := range []struct {
		sent url.Values
		says []string
	}{
		{earth, []string{"2 things to put right", "Name of the lot: nothing is written", "Name of a new earth: nothing is written"}},
		{put(good, "material_name", "Chloride"), []string{"A salt is chosen by its formula and CAS number"}},
		{put(good, "amount_g", "1,234"), []string{"Amount as it came: “1,234” can't be used"}},
		{put(good, "amount_g", "-3"), []string{"Amount as it came: “-3” can't be used", "more than 0"}},
		{put(good, "amount_g", "3 L"), []string{"“3 L” can't be used"}},
		{put(good, "amount_g", "NaN"), []string{"“NaN” can't be used"}},
		{put(good, "amount_g", "1e99"), []string{"“1e99” can't be used"}},
		{put(good, "price_minor", "-1"), []string{"Price of the whole: -1 is not"}},
		{put(good, "price_minor", "1.005"), []string{"at most 2 figures after the point"}},
		{put(good, "received", "9 March"), []string{"like 2026-03-09"}},
		{put(good, "damp_g", "112"), []string{"Write the mass of the same sample"}},
		{put(good, "damp_g", "80", "dry_g", "100"), []string{"Are the two the wrong way round?"}},
		{put(good, "damp_g", "80", "dry_g", "0"), []string{"more than 0 g"}},
		{put(good, "damp_g", "112", "dry_g", "100", "moisture_pct", "12"), []string{"one way is enough"}},
		{put(good, "moisture_pct", "12", "meter_pct", "10"), []string{"one way is enough"}},
		{put(good, "moisture_pct", "-2"), []string{"0 to 1000 % of the dry earth's mass"}},
		{put(good, "meter_pct", "95"), []string{"0 to 90.9 % of the damp earth's mass"}},
		{put(good, "particle_density_g_cm3", "26.5"), []string{"more than 1 and at most 8 g/cm³"}},
		{put(brine, "name", "bag", "assay_pct", "105"), []string{"Assay: “105” can't be used", "at most 100 %"}},
		{put(brine, "name", "bag", "assay_pct", "0"), []string{"Assay: “0” can't be used"}},
	} {
		a := c.post("/lots/new", tt.sent).want(http.StatusUnprocessableEntity).says(tt.says...)
		if again := a.filled("lot"); !maps.EqualFunc(again, tt.sent, slices.Equal) {
			t.Errorf("typed %v, shown again %v", tt.sent, again)
		}
	}
	if n := len(c.lots()); n != 0 {
		t.Errorf("%d lots were stored", n)
	}
	materials, err := c.store.ListMaterials(t.Context(), 1)
	if err != nil || len(materials) != 0 {
		t.Errorf("got materials %v, error %v: half of it was stored", materials, err)
	}
}

func TestLotSentTwiceIsStoredOnce(t *testing.T) {
	c := newShop(t)
	sent := put(c.get("/lots/new?kind=earth").filled("lot"), "material_name", "bank", "name", "lot 1")
	for range 2 {
		if got := c.post("/lots/new", sent).want(http.StatusSeeOther).header.Get("Location"); got != "/lots/1" {
			t.Errorf("led to %s", got)
		}
	}
	if n := len(c.lots()); n != 1 {
		t.Errorf("got %d lots, want 1", n)
	}
}

func TestLotEdit(t *testing.T) {
	c := newShop(t)
	at := c.keep("?kind=earth", "material_name", "bank", "name", "lot 1", "received", "2026-03-09", "moisture_pct", "12.25", "amount_g", "500 g", "price_minor", "3")
	mine := c.get(at + "/edit").want(http.StatusOK).filled("lot")
	for name, want := range map[string]string{"moisture_pct": "12.25", "amount_g": "0.5", "price_minor": "3.00", "received": "2026-03-09", "material_id": "1"} {
		if got := mine.Get(name); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	theirs := put(mine, "note", "wet night", "moisture_pct", "18")
	c.post(at+"/edit", theirs).want(http.StatusSeeOther)
	a := c.post(at+"/edit", put(mine, "moisture_pct", "9")).want(http.StatusConflict).
		says("Somebody else changed this meanwhile", "Saved meanwhile by somebody else: 18 % of dry", "Saved meanwhile by somebody else: wet night")
	if got := *c.lots()[0].MoisturePct; got != 18 {
		t.Errorf("got %g stored, want theirs", got)
	}
	c.post(at+"/edit", a.filled("lot")).want(http.StatusSeeOther)
	if l := c.lots()[0]; *l.MoisturePct != 9 || l.Note != "" || *l.AmountG != 500 {
		t.Errorf("stored %+v, want mine", l)
	}
	if got := c.lots()[0].Received; !got.Equal(time.Date(2026, 3, 9, 0, 0, 0, 0, time.UTC)) {
		t.Errorf("received %v", got)
	}
	// A new measurement takes the place of the stored figure, which the page sends along.
	c.post(at+"/edit", put(c.get(at+"/edit").filled("lot"), "damp_g", "50", "dry_g", "48")).want(http.StatusSeeOther)
	c.get(at).says("4.2 % of dry")
	c.post(at+"/edit", put(c.get(at+"/edit").filled("lot"), "meter_pct", "20")).want(http.StatusSeeOther)
	c.get(at).says("25.0 % of dry")
	c.get("/lots/99").want(http.StatusNotFound)
	c.get("/lots/99/edit").want(http.StatusNotFound)
}

func TestLotUsedUpAndBack(t *testing.T) {
	c := newShop(t)
	at := c.keep("?kind=water", "material_name", "well", "name", "spring")
	c.get(at+"/used-up").want(http.StatusOK).says("Is spring used up?", "Yes, it is used up", "Keep it in use")
	c.get("/lots").says("well, spring")
	c.post(at+"/used-up", nil).want(http.StatusSeeOther)
	c.get(at).says("Used up. New sheets offer it no more", "Bring it back")
	c.get("/lots").says("No lot here is like that.").saysNot("well, spring")
	c.get("/lots?used=yes").says("well, spring", "used up")
	c.post(at+"/restore", nil).want(http.StatusSeeOther)
	c.get("/lots").says("well, spring")
	c.post("/lots/99/restore", nil).want(http.StatusNotFound)
}

func TestLotList(t *testing.T) {
	c := newShop(t)
	c.keep("?kind=water", "material_name", "well", "name", "=spring")
	c.keep("?kind=earth", "material_name", "bank", "name", "wet", "moisture_pct", "30", "received", "2026-03-09")
	c.keep("?kind=earth", "name", "drier", "moisture_pct", "8")
	c.keep("?kind=salt&salt=copper-sulfate-pentahydrate", "name", "tin", "assay_pct", "99", "assay_basis", "as-named", "amount_g", "5", "price_minor", "44")
	names := func(a answer) (found []string) {
		for _, n := range a.all("th", "scope", "row") {
			found = append(found, textOf(n))
		}
		return found
	}
	for _, tt := range []struct {
		query string
		want  []string
	}{
		{"", []string{"well, =spring", "bank, wet", "bank, drier", "copper sulfate pentahydrate, tin CuSO4·5H2O, CAS 7758-99-8"}},
		{"?kind=earth", []string{"bank, wet", "bank, drier"}},
		{"?kind=earth&sort=moisture", []string{"bank, drier", "bank, wet"}},
		{"?kind=earth&sort=-moisture", []string{"bank, wet", "bank, drier"}},
		{"?q=bank+dri", []string{"bank, drier"}},
		{"?kind=unknown&q=tin", []string{"copper sulfate pentahydrate, tin CuSO4·5H2O, CAS 7758-99-8"}},
	} {
		if got := names(c.get("/lots" + tt.query).want(http.StatusOK)); !slices.Equal(got, tt.want) {
			t.Errorf("%q: got %q, want %q", tt.query, got, tt.want)
		}
	}
	c.get("/lots").says("99 % of the crystals as labelled", "44.00 EUR", "8.80 EUR per kg", "30.0 % of dry", "not recorded")
	a := c.get("/lots.csv?kind=earth&sort=moisture").want(http.StatusOK)
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(a.body, "\uFEFF"))).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("got %d lines, error %v; want a head and two earths", len(rows), err)
	}
	if rows[1][4] != "drier" || rows[1][8] != "8.0 % of dry" || rows[2][5] != "2026-03-09" {
		t.Errorf("got %q", rows)
	}
	if all := c.get("/lots.csv").body; !strings.Contains(all, ",'=spring,") {
		t.Error("a name that a spreadsheet would run is in the file as it is")
	}
}

func TestLotListPages(t *testing.T) {
	c := newShop(t)
	id, err := c.store.SaveMaterial(t.Context(), 1, bath.Material{Kind: bath.Earth, Name: "bank"})
	if err != nil {
		t.Fatal(err)
	}
	for i := range perPage + 3 {
		l := bath.Lot{Name: "lot " + string(rune('A'+i)), Material: bath.Material{ID: id}}
		if _, err := c.store.SaveLot(t.Context(), 1, "key "+l.Name, l); err != nil {
			t.Fatal(err)
		}
	}
	c.get("/lots").says("1 to 50 of 53")
	if got := len(c.get("/lots?page=2").says("51 to 53 of 53").all("th", "scope", "row")); got != 3 {
		t.Errorf("got %d lots on the second page, want 3", got)
	}
}

func TestLotsNeedAWorkshop(t *testing.T) {
	for _, path := range []string{"/lots", "/lots/new", "/lots/1", "/lots.csv"} {
		if got := newClient(t).get(path).want(http.StatusSeeOther).header.Get("Location"); got != "/start" {
			t.Errorf("%s led to %s", path, got)
		}
	}
}
