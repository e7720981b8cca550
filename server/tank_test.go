package server

import (
	"context"
	"encoding/csv"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"blackbath/bath"
	"blackbath/bath/unit"
)

// putTank keeps a tank and returns its address.
func (c *client) putTank(key string, t bath.Tank) string {
	c.t.Helper()
	shop, err := c.store.Workshop(context.Background())
	if err != nil {
		c.t.Fatal(err)
	}
	id, err := c.store.SaveTank(context.Background(), shop.ID, "0198c0de-0000-7000-8000-0000000000"+key, bath.KeptTank{Tank: t})
	if err != nil {
		c.t.Fatal(err)
	}
	return tankPath(id)
}

func roundPot() bath.Tank {
	kw := unit.Kilowatt(3)
	return bath.Tank{Name: "Round pot", Shape: bath.Cylinder, Diameter: 36, Height: 32, Freeboard: 6, HeaterKW: &kw, Wall: "stoneware"}
}

func beatenPan() bath.Tank {
	return bath.Tank{Name: "Beaten pan", Shape: bath.Marks, MarkTable: []bath.Mark{{}, {Level: 5, Volume: 2}, {Level: 10, Volume: 7.9}, {Level: 15, Volume: 16.5}}, Freeboard: 3}
}

func TestTankFormAsksOnlyForItsShape(t *testing.T) {
	c := newShop(t)
	a := c.get("/tanks/new").want(http.StatusOK).says("Which shape is it?")
	if got := len(a.all("input", "", "")); got != 0 {
		t.Errorf("got %d fields before a shape is chosen, want none", got)
	}
	for _, shape := range bath.Shapes {
		a := c.get("/tanks/new?shape=" + string(shape)).want(http.StatusOK)
		for _, size := range []tankSize{lengthInside, widthInside, heightInside, diameter, diameterLow, diameterHigh, diameterBowl, depthInside} {
			want := 0
			for _, s := range tankSizes(shape) {
				if s.name == size.name {
					want = 1
				}
			}
			if got := len(a.all("input", "name", size.name)); got != want {
				t.Errorf("%s: got %d fields %s, want %d", shape, got, size.name, want)
			}
		}
		if got, want := len(a.all("input", "name", "marks[1].litres")) == 1, shape == bath.Marks; got != want {
			t.Errorf("%s: rows of marks shown: %v, want %v", shape, got, want)
		}
		if got, _ := attr(a.one("a", "aria-current", "true"), "href"); got != "/tanks/new?shape="+string(shape) {
			t.Errorf("%s: got %q marked as chosen", shape, got)
		}
	}
	c.get("/tanks/new?shape=teapot").want(http.StatusOK).says("Which shape is it?")
}

func TestNewTank(t *testing.T) {
	c := newShop(t)
	sent := c.get("/tanks/new?shape=cylinder").filled("tank")
	sent.Set("name", "Round pot")
	sent.Set("diameter_cm", "360 mm")
	sent.Set("height_cm", "12,6 in")
	sent.Set("freeboard_cm", "6")
	sent.Set("heater_kw", "3000 W")
	sent.Set("wall", "stoneware")
	a := c.post("/tanks/new", sent).want(http.StatusSeeOther)
	at := a.header.Get("Location")
	// π/4 · 36² · 32.004 / 1000 = 32.5761 L, and to 26.004 cm 26.4688 L, by hand.
	c.get(at).want(http.StatusOK).says("Saved.", "Round pot", "Diameter inside 36 cm", "32.004 cm", "Holds to the rim 32.6 L",
		"Holds to the fill line 26.5 L", "1018 cm²", "3 kW", "stoneware")
	if again := c.post("/tanks/new", sent).want(http.StatusSeeOther).header.Get("Location"); again != at {
		t.Errorf("the same form sent twice led to %s and %s", at, again)
	}
}

func TestTankFormSaysWhatToPutRight(t *testing.T) {
	c := newShop(t)
	for _, tt := range []struct {
		shape  bath.Shape
		change map[string]string
		field  string
		says   string
	}{
		{bath.Box, map[string]string{"width_cm": "wide"}, "width_cm", "Width inside: “wide” can't be used"},
		{bath.Box, map[string]string{"width_cm": ""}, "width_cm", "Width inside: nothing is written"},
		{bath.Box, map[string]string{"width_cm": "4 kg"}, "width_cm", "Width inside: “4 kg” can't be used"},
		{bath.Box, map[string]string{"width_cm": "-4"}, "width_cm", "more than 0 and at most 10000 cm"},
		{bath.Box, map[string]string{"freeboard_cm": "30"}, "freeboard_cm", "less than the depth, 30 cm"},
		{bath.Box, map[string]string{"freeboard_cm": "-1"}, "freeboard_cm", "The fill line would stand above the rim"},
		{bath.Box, map[string]string{"name": " "}, "name", "Name of the tank: nothing is written"},
		{bath.Box, map[string]string{"heater_kw": "-1"}, "heater_kw", "0 to 10000 kW"},
		{bath.Box, map[string]string{"wall": "cheese"}, "wall", "one of the list"},
		{bath.Bowl, map[string]string{"depth_cm": "40"}, "depth_cm", "at most half the rim's diameter, 15 cm"},
	} {
		sent := url.Values{"shape": {string(tt.shape)}, "name": {"Tank"}, "freeboard_cm": {"3"}}
		for _, s := range tankSizes(tt.shape) {
			sent.Set(s.name, "30")
		}
		for name, value := range tt.change {
			sent.Set(name, value)
		}
		a := c.post("/tanks/new", sent).want(http.StatusUnprocessableEntity).says("One thing to put right", tt.says)
		if tt.field != "wall" {
			if got, _ := attr(a.one("input", "id", tt.field), "value"); got != sent.Get(tt.field) {
				t.Errorf("%s: typed %q, shown again as %q", tt.field, sent.Get(tt.field), got)
			}
			if got, _ := attr(a.one("input", "name", tt.field), "aria-invalid"); got != "true" {
				t.Errorf("%s is not marked", tt.field)
			}
		}
	}
	c.post("/tanks/new", url.Values{"shape": {"teapot"}, "name": {"x"}}).want(http.StatusUnprocessableEntity).says("box, cylinder, cone, bowl, drum, marks")
	c.get("/tanks").want(http.StatusOK).says("No tank yet.")
}

func TestTankByMarks(t *testing.T) {
	c := newShop(t)
	sent := c.get("/tanks/new?shape=marks").want(http.StatusOK).filled("tank")
	sent.Set("name", "Beaten pan")
	sent.Set("freeboard_cm", "3")
	sent.Set("marks[1].level_cm", "5")
	sent.Set("marks[1].litres", "2")
	sent.Set("marks[4].level_cm", "150 mm") // rows between stay empty
	sent.Set("marks[4].litres", "1.5")
	a := c.post("/tanks/new", sent).want(http.StatusUnprocessableEntity).says("more than the mark before, 2 L")
	if got, _ := attr(a.one("input", "aria-invalid", "true"), "name"); got != "marks[4].litres" {
		t.Errorf("got %s marked, want the row where it was typed", got)
	}
	sent.Set("marks[4].litres", "")
	a = c.post("/tanks/new", sent).want(http.StatusUnprocessableEntity)
	if got, _ := attr(a.one("input", "aria-invalid", "true"), "name"); got != "marks[4].litres" {
		t.Errorf("got %s marked, want the litres that are missing", got)
	}

	more := url.Values{"more": {"yes"}}
	for name, values := range sent {
		more[name] = values
	}
	a = c.post("/tanks/new", more).want(http.StatusOK).saysNot("put right")
	if got, want := len(a.all("input", "inputmode", "decimal")), 2*(firstRows+moreRows)+3; got != want {
		t.Errorf("got %d fields for figures after more rows, want %d", got, want)
	}
	sent = a.filled("tank")
	if got := sent.Get("marks[4].level_cm"); got != "150 mm" {
		t.Errorf("got %q after more rows, want what was typed", got)
	}
	sent.Set("marks[4].litres", "16.5")
	sent.Set("marks[9].level_cm", "20")
	sent.Set("marks[9].litres", "26")
	at := c.post("/tanks/new", sent).want(http.StatusSeeOther).header.Get("Location")
	// Between 15 and 20 cm 9.5 L are 1.9 L a cm: at the fill line, 17 cm, 20.3 L with 1900 cm² of surface.
	c.get(at).want(http.StatusOK).says("17.0 cm fill line 20.3 L 1900 cm²", "as if the tank were round", "Between two marks a straight line")
	edit := c.get(at + "/edit").want(http.StatusOK).filled("tank")
	if got := edit.Get("marks[3].litres"); got != "26" {
		t.Errorf("got %q as the third mark's litres on the page that changes it, want 26", got)
	}
}

func TestChangeTank(t *testing.T) {
	c := newShop(t)
	at := c.putTank("10", roundPot())
	sent := c.get(at + "/edit").want(http.StatusOK).filled("tank")
	if got := sent.Get("freeboard_cm"); got != "6" {
		t.Fatalf("got free height %q, want 6", got)
	}
	sent.Set("freeboard_cm", "8")
	c.post(at+"/edit", sent).want(http.StatusSeeOther)
	c.get(at).says("24.0 cm fill line")

	sent.Set("freeboard_cm", "2") // from a page that is old now
	a := c.post(at+"/edit", sent).want(http.StatusConflict).says("Somebody else changed this tank meanwhile", "Free height left for foam 8 cm")
	again := a.filled("tank")
	if got := again.Get("freeboard_cm"); got != "2" {
		t.Errorf("got %q shown again, want the 2 that was typed", got)
	}
	c.get(at).says("24.0 cm fill line")
	c.post(at+"/edit", again).want(http.StatusSeeOther)
	c.get(at).says("30.0 cm fill line")

	box := c.get(at + "/edit?shape=box").want(http.StatusOK).filled("tank")
	if box.Get("name") != "Round pot" || box.Get("length_cm") != "" || box.Get("freeboard_cm") != "2" {
		t.Errorf("another shape begins with %v", box)
	}
}

func TestTankQuestions(t *testing.T) {
	c := newShop(t)
	at := c.putTank("10", roundPot())
	// π/4 · 36² · 20 / 1000 = 20.358 L; 10 L stand at 10 000 / (π/4 · 36²) = 9.824 cm.
	c.get(at + "?level=20").want(http.StatusOK).says("20.0 cm on the stick is 20.4 L. The open surface is 1018 cm².")
	c.get(at + "?level=200+mm").want(http.StatusOK).says("20.0 cm on the stick is 20.4 L")
	c.get(at + "?volume=10").want(http.StatusOK).says("10 L stands at 9.8 cm on the stick.")
	a := c.get(at + "?level=33").want(http.StatusUnprocessableEntity).says("Write a level between 0 and 32 cm.")
	if got, _ := attr(a.one("input", "id", "level"), "value"); got != "33" {
		t.Errorf("got %q shown again, want 33", got)
	}
	c.get(at + "?volume=33").want(http.StatusUnprocessableEntity).says("Write a volume between 0 and 32.57 L.")
	c.get(at + "?volume=much").want(http.StatusUnprocessableEntity).says("Write")
}

func TestTankLevelFile(t *testing.T) {
	c := newShop(t)
	at := c.putTank("10", bath.Tank{Name: "Bowl", Shape: bath.Bowl, RimDiameter: 60, Depth: 20, Freeboard: 4})
	rows := c.rows(at + "/levels.csv")
	for _, row := range rows[1:] {
		h, litres, surface := figureIn(t, row[0]), figureIn(t, row[1]), figureIn(t, row[2])
		// A cap of height h of a sphere of radius r = (30² + 20²) / 40 = 32.5 cm: V = π h² (3r - h) / 3, A = π (2rh - h²).
		if want := math.Pi * h * h * (97.5 - h) / 3000; math.Abs(litres-want) > 0.051 {
			t.Errorf("at %g cm got %g L, want %.2f", h, litres, want)
		}
		if want := math.Pi * (65*h - h*h); math.Abs(surface-want) > 0.51 {
			t.Errorf("at %g cm got %g cm², want %.0f", h, surface, want)
		}
	}
	if got, want := len(rows), 6; got != want { // head, 5, 10, 15, 16 (fill line), 20 (rim)
		t.Errorf("got %d lines, want %d", got, want)
	}
	if rows := c.rows(c.putTank("11", beatenPan()) + "/levels.csv"); len(rows) != 5 { // head, 5, 10, 12 (fill line), 15
		t.Errorf("got %d lines for the marks, want 5: %v", len(rows), rows)
	}
}

func (c *client) rows(path string) [][]string {
	c.t.Helper()
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(c.get(path).want(http.StatusOK).body, "\uFEFF"))).ReadAll()
	if err != nil {
		c.t.Fatal(err)
	}
	return rows
}

func figureIn(t *testing.T, s string) float64 {
	t.Helper()
	number, _, _ := strings.Cut(s, " ")
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestTankListSortsFiltersPages(t *testing.T) {
	c := newShop(t)
	pot := c.putTank("10", roundPot())
	c.putTank("11", beatenPan())
	c.putTank("12", bath.Tank{Name: "Trough", Shape: bath.Box, Length: 60, Width: 40, Height: 35, Freeboard: 5, Wall: "aluminium"})
	names := func(path string) string {
		var out []string
		for _, n := range c.get(path).want(http.StatusOK).all("th", "scope", "row") {
			out = append(out, textOf(n))
		}
		return strings.Join(out, ", ")
	}
	for _, tt := range []struct{ path, want string }{
		{"/tanks", "Beaten pan, Round pot, Trough"},
		{"/tanks?sort=-fill", "Trough, Round pot, Beaten pan"},
		{"/tanks?sort=heater", "Beaten pan, Trough, Round pot"},
		{"/tanks?sort=shape", "Beaten pan, Trough, Round pot"},
		{"/tanks?q=stoneware", "Round pot"},
		{"/tanks?q=box", "Trough"},
	} {
		if got := names(tt.path); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.path, got, tt.want)
		}
	}
	a := c.get("/tanks").says("26.5 L", "32.6 L", "1018 cm²", "3 kW", "stoneware", "not recorded")
	if got := len(a.all("svg", "role", "img")); got != 3 {
		t.Errorf("got %d drawings, want 3", got)
	}

	c.post(pot+"/retire", url.Values{}).want(http.StatusSeeOther)
	if got := names("/tanks?sort=-name"); got != "Trough, Beaten pan, Round pot" {
		t.Errorf("got %q, want the retired one last", got)
	}
	c.get("/tanks").says("No longer in use")
	if rows := c.rows("/tanks.csv?sort=-name"); len(rows) != 4 || rows[3][0] != "Round pot" || rows[3][7] != "no" || rows[1][7] != "yes" {
		t.Errorf("got file %v", rows)
	}
	for i := range perPage {
		name := strconv.Itoa(100 + i)
		c.putTank(name, bath.Tank{Name: "Vat " + name, Shape: bath.Box, Length: 60, Width: 40, Height: 35})
	}
	c.get("/tanks").says("1 to 50 of 52")
	if got := names("/tanks?page=2"); got != "Vat 148, Vat 149, Round pot" {
		t.Errorf("got %q on page 2", got)
	}
	c.get("/tanks?page=9").want(http.StatusOK)
}

func TestRetireAndRestoreTank(t *testing.T) {
	c := newShop(t)
	at := c.putTank("10", roundPot())
	c.get(at+"/retire").want(http.StatusOK).says("Retire Round pot?", "It can be brought back.", "Keep it in use")
	c.get(at).saysNot("No longer in use") // asking is not doing
	c.post(at+"/retire", url.Values{}).want(http.StatusSeeOther)
	c.get(at).want(http.StatusOK).says("No longer in use", "Bring it back into use")
	c.post(at+"/restore", url.Values{}).want(http.StatusSeeOther)
	c.get(at).want(http.StatusOK).says("Back in use.").saysNot("No longer in use")
	for _, path := range []string{"/tanks/999", "/tanks/999/edit", "/tanks/999/retire", "/tanks/999/levels.csv", "/tanks/x"} {
		c.get(path).want(http.StatusNotFound)
	}
	c.post("/tanks/999/retire", url.Values{}).want(http.StatusNotFound)
	c.post("/tanks/999/edit", url.Values{}).want(http.StatusNotFound)
}

func TestBrowserTanks(t *testing.T) {
	sizes(t, func(t *testing.T, open func(*client) *tab) {
		c := newShop(t)
		c.putTank("10", roundPot())
		c.putTank("11", beatenPan())
		b := open(c)
		b.visit("/tanks")
		b.fits()
		b.shot("1-list")
		b.press(".btn-main")
		b.shot("2-shapes")
		b.press(`a[href$="shape=bowl"]`)
		b.fits()
		b.write("#name", "Shallow bowl")
		b.write("#rim_diameter_cm", "60")
		b.write("#depth_cm", "40")
		b.write("#freeboard_cm", "4")
		b.press(".btn-main")
		if got, want := b.read("#depth_cm-e"), "at most half the rim's diameter, 30 cm"; !strings.Contains(got, want) {
			t.Errorf("got %q, want %q", got, want)
		}
		b.fits()
		b.shot("3-put-right")
		b.write("#depth_cm", "200 mm")
		b.press(".btn-main")
		if got := b.read("h1"); got != "Shallow bowl" {
			t.Fatalf("saving led to %q", got)
		}
		b.fits()
		b.shot("4-bowl")
		b.write("#level", "10")
		b.press(`form:has(#level) button`)
		// A cap 10 cm high of a sphere of 32.5 cm radius: π · 100 · 87.5 / 3000 = 9.16 L.
		if got, want := b.read("#ask"), "10.0 cm on the stick is 9.16 L"; !strings.Contains(got, want) {
			t.Errorf("got %q, want %q", got, want)
		}
		small, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64](
			`Math.min(...[...document.querySelectorAll(".tank text")].map(t => parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a))`))
		if err != nil || small < 11.3 {
			t.Errorf("got type of %.1f px in the drawing (%v), want at least 11.3", small, err)
		}
		b.visit("/tanks/2")
		b.fits()
		b.shot("5-marks")
		b.visit("/tanks/new?shape=marks")
		b.write(`[name="marks[1].level_cm"]`, "5")
		b.press(`[name="more"]`)
		b.fits()
		b.shot("6-marks-form")
		b.visit("/tanks/1/retire")
		b.fits()
		b.shot("7-retire")
		b.press(".btn-main")
		b.press(`form[action$="restore"] button`)
		if got := b.read(".toast"); got != "Back in use." {
			t.Errorf("got %q", got)
		}
	})
}

func TestBrowserTanksOnTheNarrowestPhone(t *testing.T) {
	c := newShop(t)
	c.putTank("10", beatenPan())
	b := c.open(320, false)
	for _, path := range []string{"/tanks", "/tanks/new", "/tanks/new?shape=marks", "/tanks/1", "/tanks/1/edit", "/tanks/1/retire"} {
		b.visit(path)
		b.fits()
	}
}
