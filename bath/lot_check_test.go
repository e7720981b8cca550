package bath

import (
	"math"
	"strings"
	"testing"

	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

func saltLot(id salt.ID, assay float64, basis AssayBasis) Lot {
	return Lot{Name: "bag 6", Material: Material{Kind: Salt, Salt: id}, AssayPct: &assay, AssayBasis: basis}
}

func earthLot(change func(*Lot)) Lot {
	l := Lot{Name: "autumn digging", Material: Material{Kind: Earth, Name: "breakwater"}}
	change(&l)
	return l
}

func TestLotCheck(t *testing.T) {
	mass := func(g unit.Gram) *unit.Gram { return &g }
	pct := func(x float64) *float64 { return &x }
	density := func(x unit.GramPerCM3) *unit.GramPerCM3 { return &x }
	price := func(n int64) *int64 { return &n }
	for _, tt := range []struct {
		name  string
		lot   Lot
		field string // empty: nothing to put right
		says  string
	}{
		{"nothing recorded", earthLot(func(*Lot) {}), "", ""},
		{"a gift", earthLot(func(l *Lot) { l.PriceMinor, l.AmountG = price(0), mass(40_000) }), "", ""},
		{"no name", earthLot(func(l *Lot) { l.Name = "  " }), "name", "at least one letter"},
		{"no kind", Lot{Name: "x"}, "kind", "water, earth, salt"},
		{"no amount", earthLot(func(l *Lot) { l.AmountG = mass(0) }), "amount_g", "more than 0"},
		{"infinite amount", earthLot(func(l *Lot) { l.AmountG = mass(unit.Gram(math.Inf(1))) }), "amount_g", "at most 1000000000 g"},
		{"price below nothing", earthLot(func(l *Lot) { l.PriceMinor = price(-1) }), "price_minor", "0 or more"},
		{"clay paste", earthLot(func(l *Lot) { l.MoisturePct = pct(140) }), "", ""},
		{"drier than dry", earthLot(func(l *Lot) { l.MoisturePct = pct(-1) }), "moisture_pct", "0 to 1000 %"},
		{"soup", earthLot(func(l *Lot) { l.MoisturePct = pct(1001) }), "moisture_pct", "0 to 1000 %"},
		{"grains lighter than water", earthLot(func(l *Lot) { l.ParticleDensity = density(0.9) }), "particle_density_g_cm3", "more than 1"},
		{"no crystal water, no basis", saltLot(salt.AmmoniumChloride, 98.5, ""), "", ""},
		{"more than all", saltLot(salt.AmmoniumChloride, 100.5, ""), "assay_pct", "at most 100 %"},
		{"hydrate without basis", saltLot(salt.CopperSulfatePentahydrate, 99, ""), "assay_basis", "crystals as labelled"},
		{"hydrate, unknown basis", saltLot(salt.CopperSulfatePentahydrate, 99, "by-guess"), "assay_basis", "crystals as labelled"},
		{"hydrate as labelled", saltLot(salt.CopperSulfatePentahydrate, 99, AssayAsNamed), "", ""},
		// 159.609 / 249.685 g/mol, CRC Handbook of Chemistry and Physics, 102nd ed. 2021: pure crystals are 63.92 % CuSO4.
		{"hydrate as anhydrous", saltLot(salt.CopperSulfatePentahydrate, 63.9, AssayAsAnhydrous), "", ""},
		{"more than the crystals hold", saltLot(salt.CopperSulfatePentahydrate, 64, AssayAsAnhydrous), "assay_pct", "at most 63.92 %"},
		{"a bare word", saltLot("chloride", 99, ""), "salt", "ammonium-chloride"},
		{"refused", saltLot("aluminium-chloride", 99, ""), "salt", "aluminium-chloride-hexahydrate"},
	} {
		ps := tt.lot.Check()
		if tt.field == "" {
			if len(ps) > 0 {
				t.Errorf("%s: got %v, want nothing to put right", tt.name, ps)
			}
			continue
		}
		if len(ps) != 1 || ps[0].Field != tt.field || !strings.Contains(ps[0].Allowed.String(), tt.says) {
			t.Errorf("%s: got %v, want one problem of %s that says %q", tt.name, ps, tt.field, tt.says)
		}
	}
}

// What a lot may hold, a recipe's part may hold, and the other way round.
func TestLotAndPartShareLimits(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(-1), -1, -1e-9, 0, 1e-9, 1, 1.01, 8, 8.01, 99, 100, 100.1, 1000, 1000.1, 1e9, 1.1e9, math.Inf(1)} {
		g, d := unit.Gram(x), unit.GramPerCM3(x)
		for _, tt := range []struct {
			field string
			lot   Lot
			part  Part
		}{
			{"mass_g", earthLot(func(l *Lot) { l.AmountG = &g }), Part{Kind: Earth, Mass: g}},
			{"moisture_pct", earthLot(func(l *Lot) { l.MoisturePct = &x }), Part{Kind: Earth, Mass: 1, MoisturePct: &x}},
			{"particle_density_g_cm3", earthLot(func(l *Lot) { l.ParticleDensity = &d }), Part{Kind: Earth, Mass: 1, ParticleDensity: &d}},
			{"assay_pct", saltLot(salt.SodiumChloride, x, ""), Part{Kind: Salt, Salt: salt.SodiumChloride, Mass: 1, AssayPct: &x}},
		} {
			recipe := Recipe{Name: "r", Parts: []Part{{Kind: Water, Mass: 1000}, tt.part}, Temp: TempWindow{20, 20, 20}}
			if got, want := len(tt.lot.Check()) == 0, len(recipe.Check().On("parts[1]."+tt.field)) == 0; got != want {
				t.Errorf("%s %g: the lot may have it: %v, the recipe: %v", tt.field, x, got, want)
			}
		}
	}
}

func TestMoistureFromWeighings(t *testing.T) {
	for _, tt := range []struct {
		damp, dry unit.Gram
		want      float64
		field     string
	}{
		// w = 100 (m1 - m2) / m2, ISO 11465:1993, "Determination of dry matter and water content on a mass basis", worked by hand.
		{100, 80, 25, ""},
		{112, 100, 12, ""},
		{50, 50, 0, ""},
		{240, 100, 140, ""},
		{110, 10, 1000, ""},
		{111, 10, 0, "damp_g"},
		{80, 100, 0, "damp_g"},
		{100, 0, 0, "dry_g"},
		{100, -1, 0, "dry_g"},
		{100, unit.Gram(math.NaN()), 0, "dry_g"},
		{unit.Gram(math.NaN()), 100, 0, "damp_g"},
		{unit.Gram(math.Inf(1)), 100, 0, "damp_g"},
	} {
		got, ps := MoistureFromWeighings(tt.damp, tt.dry)
		checkOne(t, ps, tt.field)
		if math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("damp %g g, dry %g g: got %g %%, want %g %%", tt.damp, tt.dry, got, tt.want)
		}
	}
}

func TestMoistureFromMeter(t *testing.T) {
	for _, tt := range []struct {
		wet, want float64
		field     string
	}{
		{20, 25, ""}, // the same 100 g damp and 80 g dry as above
		{0, 0, ""},
		{50, 100, ""},
		{91, 0, "meter_pct"},
		{100, 0, "meter_pct"},
		{-1, 0, "meter_pct"},
		{math.NaN(), 0, "meter_pct"},
	} {
		got, ps := MoistureFromMeter(tt.wet)
		checkOne(t, ps, tt.field)
		if math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("a meter at %g %%: got %g %% of dry, want %g %%", tt.wet, got, tt.want)
		}
	}
}

func checkOne(t *testing.T, ps input.Problems, field string) {
	t.Helper()
	if (field == "") != (len(ps) == 0) || (len(ps) > 0 && ps[0].Field != field) {
		t.Errorf("got problems %v, want one of %q", ps, field)
	}
}
