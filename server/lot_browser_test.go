package server

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

func TestBrowserLots(t *testing.T) {
	sizes(t, func(t *testing.T, open func(*client) *tab) {
		b := open(newShop(t))
		b.visit("/lots")
		b.fits()
		b.shot("1-none")
		b.press(".btn-main")
		b.fits()
		b.shot("2-choose")
		b.write("#q", "chloride")
		b.press("form[role=search] button")
		if got := b.count("form#lot"); got != 0 {
			t.Error("the word chloride led straight to a form")
		}
		b.fits()
		b.shot("3-chloride")
		b.press("a[href$='salt=ammonium-chloride']")
		b.fits()
		b.shot("4-which-of-two")
		b.write("#name", "bag 6")
		b.write("#assay_pct", "98,5")
		b.write("#amount_g", "25 kg")
		b.write("#price_minor", "41.5")
		b.press(".btn-main")
		if got := b.read(".field-bad .err"); !strings.Contains(got, "read it off the bag") {
			t.Errorf("got %q, want the tick asked for", got)
		}
		b.fits()
		b.shot("5-not-ticked")
		b.do(chromedp.Click(chromedp.CSS("input[type=checkbox]")))
		b.press(".btn-main")
		if got := b.read("h1"); got != "Ammonium chloride, bag 6" {
			t.Errorf("got page %q, want the lot", got)
		}
		b.fits()
		b.shot("6-salt")
		b.visit("/lots/new?kind=earth")
		b.write("#material_name", "breakwater earth")
		b.write("#name", "lot 16")
		b.write("#damp_g", "112")
		b.write("#dry_g", "1000")
		b.press(".btn-main")
		b.fits()
		b.shot("7-earth-put-right")
		b.write("#dry_g", "100")
		b.press(".btn-main")
		b.fits()
		b.shot("8-earth")
		b.visit("/lots/new?kind=salt&salt=copper-sulfate-pentahydrate")
		b.fits()
		b.shot("9-hydrate")
		b.visit("/lots")
		if got := b.count("tbody tr"); got != 2 {
			t.Errorf("got %d lots, want 2", got)
		}
		b.fits()
		b.shot("10-lots")
		b.visit("/lots/2")
		b.press(".ledge .btn:not(.btn-main)")
		b.fits()
		b.shot("11-used-up")
		b.press(".btn-main")
		b.press(".btn-main")
		if got := b.read("[role=status]"); got != "Back in use." {
			t.Errorf("got %q, want the lot back", got)
		}
		b.visit("/lots/new?kind=salt&salt=aluminium-chloride")
		b.fits()
		b.shot("12-refused")
	})
}
