package server

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

func TestBrowserFirstRunSettingsSalts(t *testing.T) {
	sizes(t, func(t *testing.T, open func(*client) *tab) {
		b := open(newClient(t))
		b.visit("/")
		if got := b.path(); got != "/start" {
			t.Fatalf("the first visit led to %s", got)
		}
		b.fits()
		b.shot("1-start")
		b.write("#name", "Lantern Quay Workshop")
		b.write("#water_boils_at_c", "1020")
		b.press(".btn-main")
		if got, want := b.read("#water_boils_at_c-e"), "Did you mean 102.0 °C?"; !strings.Contains(got, want) {
			t.Errorf("got %q, want %q", got, want)
		}
		if got := b.read(":focus"); !strings.Contains(got, "One thing to put right") {
			t.Errorf("the focus is on %q, want the summary", got)
		}
		b.fits()
		b.shot("2-put-right")
		b.write("#water_boils_at_c", "99.2")
		b.press(".btn-main")
		if got := b.read("h1"); got != "First steps" {
			t.Errorf("got page %q, want the first steps", got)
		}
		b.fits()
		b.shot("3-first-steps")

		b.visit("/settings")
		b.fits()
		b.shot("4-settings")
		b.do(chromedp.Click(chromedp.CSS("label.key:last-of-type")))
		b.press("form[action='/light'] button")
		if got := b.count("html[data-light=night]"); got != 1 {
			t.Error("the night light was not kept")
		}
		b.shot("4-settings-at-night")
		b.visit("/salts?sort=mass")
		if got := b.count("tbody tr"); got != 13 {
			t.Errorf("got %d salts, want 13", got)
		}
		b.fits()
		b.shot("5-salts")
		b.press("tbody tr:first-child a")
		if got := b.read("h1"); got != "Ammonium chloride" {
			t.Errorf("got page %q, want the lightest salt", got)
		}
		b.fits()
		b.shot("6-salt")
	})
}
