package server

import (
	"bytes"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"blackbath/bath"
	"blackbath/bath/unit"
)

// TestBrowserWalk is a new user's first hour: set up, first tank, salt, earth and recipe, scale it, print the sheet; at phone and
// desk width, with script and without. The figures on paper are those of the sum on the very files that the sheet offers.
func TestBrowserWalk(t *testing.T) {
	sizes(t, func(t *testing.T, open func(*client) *tab) {
		c := newClient(t)
		b := open(c)
		choose := func(selector, value string) {
			t.Helper()
			b.do(chromedp.SetValue(chromedp.CSS(selector), value))
		}
		tick := func(selector string) {
			t.Helper()
			b.do(chromedp.Click(chromedp.CSS(selector)))
		}

		b.visit("/")
		b.write("#name", "Tidewheel Workshop")
		b.write("#water_boils_at_c", "99,2")
		b.press(".btn-main")

		b.visit("/tanks/new?shape=bowl")
		b.write("#rim_diameter_cm", "560 mm")
		b.write("#depth_cm", "24")
		b.write("#name", "Quay bowl")
		b.write("#freeboard_cm", "6")
		b.write("#heater_kw", "2,4")
		choose("#wall", "enamelled-steel")
		b.press(".btn-main")
		b.shot("1-tank")

		b.visit("/lots/new?kind=salt&salt=ammonium-chloride")
		tick("#formula_read-ammonium-chloride")
		b.write("#name", "bag 1")
		b.write("#assay_pct", "98,5")
		b.press(".btn-main")
		b.visit("/lots/new?kind=earth")
		b.write("#material_name", "Breakwater bank")
		b.write("#name", "lot 1")
		b.write("#damp_g", "112")
		b.write("#dry_g", "100")
		b.press(".btn-main")

		b.visit("/recipes/new")
		b.write("#name", "Everyday black")
		choose("#parts-0--kind", "water")
		b.write("#parts-0--mass_g", "10 kg")
		choose("#parts-1--kind", "earth")
		b.write("#parts-1--name", "Breakwater bank")
		b.write("#parts-1--mass_g", "4 kg")
		choose("#parts-2--kind", "salt")
		choose("#parts-2--salt", "ammonium-chloride")
		b.write("#parts-2--mass_g", "900")
		b.write("#temp_c-min", "85")
		b.write("#temp_c-target", "92")
		b.write("#temp_c-max", "97")
		b.press(".btn-main") // which chloride is asked first
		if b.count("[name^='formula_read'], [name^='chloride']") > 0 && b.path() == "/recipes/new" {
			b.shot("2-which-chloride")
			tick("form#recipe input[type=checkbox]")
			b.press(".btn-main")
		}
		if got := b.read("h1"); got != "Everyday black" {
			t.Fatalf("after writing the recipe the page is %q; problems: %s", got, b.read("main"))
		}
		b.fits()
		b.shot("3-recipe")

		b.visit("/start")
		b.shot("4-first-steps")
		b.visit("/recipes/1/versions/1/scale?tank=1")
		b.write("#load", "581 cm3")
		b.write("#bucket_l", "10")
		if strings.HasSuffix(t.Name(), "without_script") {
			b.press("button[formmethod=get]")
		}
		b.until("the load counts and the water is in buckets", func() bool {
			shown := b.run(`document.querySelector("#results").textContent`)
			return strings.Contains(shown, "buckets of 10") || strings.Contains(shown, "bucket of 10")
		})
		if got := b.value("#load"); got != "581 cm3" {
			t.Errorf("the form shows the load as %q, not as it was typed", got)
		}
		b.fits()
		b.shot("5-scale")
		b.press(".btn-main")
		if got := b.path(); got != "/sheets/1" {
			t.Fatalf("making the sheet led to %s: %s", got, b.read("main"))
		}
		b.fits()
		b.shot("6-sheet")
		if pdf := b.print("7-sheet"); !bytes.HasPrefix(pdf, []byte("%PDF")) {
			t.Error("the sheet did not print to PDF")
		} else if pages := bytes.Count(pdf, []byte("/Type /Page\n")); pages != 1 {
			t.Errorf("the sheet takes %d pages, want one", pages)
		}
		theSameSum(c, b.read("main"))
	})
}

// theSameSum scales the files that the sheet offers and looks for the amounts on the paper.
func theSameSum(c *client, paper string) {
	c.t.Helper()
	recipe, err := bath.ParseRecipe([]byte(c.get("/sheets/1/recipe.json").body))
	if err != nil {
		c.t.Fatal(err)
	}
	tank, err := bath.ParseTank([]byte(c.get("/sheets/1/tank.json").body))
	if err != nil {
		c.t.Fatal(err)
	}
	conditions := bath.DefaultConditions()
	boils, bucket := unit.Celsius(99.2), unit.Litre(10)
	conditions.Load, conditions.WaterBoilsAt, conditions.Bucket = 581, &boils, &bucket
	a, err := bath.Scale(recipe, tank, conditions)
	if err != nil {
		c.t.Fatal(err)
	}
	for _, w := range append(a.Weigh, bath.Weigh{Rounded: a.PourWater.Rounded}) {
		if number, _ := w.Rounded.Label(1); !strings.Contains(paper, number) {
			c.t.Errorf("%s %s: %s is not on the paper", w.Kind, w.Salt, number)
		}
	}
}
