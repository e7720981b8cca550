package server

import (
	"net/http"
	"net/url"
	"testing"

	"blackbath/bath"
)

func TestFirstRun(t *testing.T) {
	c := newClient(t)
	if got := c.get("/").want(http.StatusSeeOther).header.Get("Location"); got != "/start" {
		t.Fatalf("first visit led to %q, want /start", got)
	}
	if got := c.get("/settings").want(http.StatusSeeOther).header.Get("Location"); got != "/start" {
		t.Errorf("settings without a workshop led to %q, want /start", got)
	}
	page := c.get("/start").want(http.StatusOK).says("Set up your workshop", "Water boils here at", "°C")
	sent := page.filled("start")
	sent.Set("name", "Lantern Quay")
	sent.Set("water_boils_at_c", "99,2")
	if got := c.post("/start", sent).want(http.StatusSeeOther).header.Get("Location"); got != "/start" {
		t.Errorf("led to %q, want /start", got)
	}
	c.post("/start", sent).want(http.StatusSeeOther) // a double tap
	steps := c.get("/start").want(http.StatusOK).says("First steps", "A tank", "A salt", "An earth", "A recipe", "The workshop is open.")
	if got := len(steps.all("li", "class", "done")); got != 0 {
		t.Errorf("got %d steps done in an empty workshop", got)
	}
	c.get("/start").saysNot("The workshop is open.")

	shop, err := c.store.Workshop(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if shop.Name != "Lantern Quay" || shop.WaterBoilsAt == nil || *shop.WaterBoilsAt != 99.2 || shop.Altitude != nil || shop.BalanceStep != 1 {
		t.Errorf("got %+v", shop)
	}
}

func TestSettingsRefuse(t *testing.T) {
	for _, tt := range []struct {
		name, field, typed, want string
	}{
		{"forgotten point", "water_boils_at_c", "1020", "Write a temperature between 80 and 105 °C. Did you mean 102.0 °C?"},
		{"two figures", "water_boils_at_c", "9925", "Did you mean 99.25 °C?"},
		{"no guess fits", "water_boils_at_c", "7", "Write a temperature between 80 and 105 °C."},
		{"ambiguous", "altitude_m", "1,234", "1.234 or 1234"},
		{"wrong unit", "bucket_l", "10 kg", "a quantity in L"},
		{"no number", "bucket_l", "NaN", "a finite number"},
		{"missing", "balance_step_g", "", "Write a mass above 0 and at most 1000 g."},
		{"zero", "balance_step_g", "0", "Write a mass above 0 and at most 1000 g."},
		{"no name", "name", "  ", "Write at least one letter."},
		{"control character", "name", "a\x00b", "plain text"},
		{"unknown language", "language", "tlh", "one of the list"},
		{"unknown zone", "time_zone", "Atlantis/Deep", "a place, like Europe/Lisbon"},
		{"the computer's own zone", "time_zone", "Local", "a place, like Europe/Lisbon"},
		{"unknown currency", "currency", "shells", "three letters"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newShop(t)
			sent := c.get("/settings").want(http.StatusOK).filled("settings")
			sent.Set("name", "Renamed")
			sent.Set(tt.field, tt.typed)
			page := c.post("/settings", sent).want(http.StatusUnprocessableEntity).says("One thing to put right", tt.want)
			field := page.one("*", "name", tt.field)
			if got, _ := attr(field, "aria-invalid"); got != "true" {
				t.Error("the field is not marked")
			}
			if got := page.filled("settings").Get(tt.field); tt.field != "language" && got != tt.typed && tt.name != "control character" {
				t.Errorf("typed %q, shown again %q", tt.typed, got)
			}
			if got, _ := attr(page.one("div", "class", "err-sum"), "role"); got != "alert" {
				t.Error("the summary is no alert")
			}
			shop, err := c.store.Workshop(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			if shop.Name != "Lantern Quay" {
				t.Error("something was saved")
			}
		})
	}
}

func TestSettingsSaveTwiceAndOverAnother(t *testing.T) {
	c := newShop(t)
	sent := c.get("/settings").filled("settings")
	sent.Set("name", "Mine")
	other := url.Values{}
	for k, v := range sent {
		other[k] = v
	}
	other.Set("name", "Theirs")
	c.post("/settings", sent).want(http.StatusSeeOther)
	c.post("/settings", sent).want(http.StatusSeeOther) // a double tap saves once and does not complain
	page := c.post("/settings", other).want(http.StatusConflict).
		says("Somebody else changed this meanwhile", "Saved meanwhile by somebody else: Mine")
	again := page.filled("settings")
	if got := again.Get("name"); got != "Theirs" {
		t.Errorf("what was typed came back as %q", got)
	}
	c.post("/settings", again).want(http.StatusSeeOther)
	if shop, err := c.store.Workshop(t.Context()); err != nil || shop.Name != "Theirs" {
		t.Errorf("got %q, %v; want Theirs", shop.Name, err)
	}
	c.get("/settings").says("Saved.")
}

func TestLight(t *testing.T) {
	c := newShop(t)
	html := func() string {
		got, _ := attr(c.get("/settings").one("html", "", ""), "data-light")
		return got
	}
	if got := html(); got != "" {
		t.Errorf("got light %q before any choice", got)
	}
	c.post("/light", url.Values{"light": {"night"}}).want(http.StatusSeeOther)
	if got := html(); got != "night" {
		t.Errorf("got light %q, want night", got)
	}
	c.post("/light", url.Values{"light": {"disco"}}).want(http.StatusUnprocessableEntity)
	c.post("/light", url.Values{"light": {""}}).want(http.StatusSeeOther)
	if got := html(); got != "" {
		t.Errorf("got light %q after going back", got)
	}
}

func TestInventedWorkshopSaysSo(t *testing.T) {
	c := newClient(t)
	c.setUp(bath.Workshop{Name: "Invented", Invented: true, Currency: "EUR", TimeZone: "UTC", Language: "en", BalanceStep: 5})
	for _, path := range []string{"/settings", "/salts", "/salts/sodium-chloride", "/start", "/nothing"} {
		c.get(path).says("Invented workshop: figures are made up")
	}
	newShop(t).get("/settings").saysNot("Invented workshop")
}
