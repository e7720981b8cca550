package bath

import (
	"math"
	"testing"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

func TestPerKilogram(t *testing.T) {
	damp := 12.0
	for _, tt := range []struct {
		name         string
		lot          Lot
		weigh, water float64 // g
	}{
		// Dry basis, ISO 11465: weighed = dry (1 + w).
		{"damp earth", earthLot(func(l *Lot) { l.MoisturePct = &damp }), 1120, 120},
		{"earth, moisture not known", earthLot(func(*Lot) {}), 1000, 0},
		{"anhydrous salt", saltLot(salt.AmmoniumChloride, 98, ""), 1000 / 0.98, 0},
		// Molar masses of the CRC Handbook of Chemistry and Physics, 102nd ed. 2021: CuSO4 159.609, CuSO4·5H2O 249.685 g/mol. A
		// bag with 63 % counted as CuSO4 holds 63 × 249.685 / 159.609 = 98.555 % crystals, and crystals are 36.076 % water.
		{"crystals as labelled", saltLot(salt.CopperSulfatePentahydrate, 99, AssayAsNamed), 1010.101, 360.76},
		{"crystals counted as anhydrous", saltLot(salt.CopperSulfatePentahydrate, 63, AssayAsAnhydrous), 1014.66, 360.76},
	} {
		weigh, water, ok := tt.lot.PerKilogram()
		if !ok || math.Abs(float64(weigh)-tt.weigh) > 0.05 || math.Abs(float64(water)-tt.water) > 0.05 {
			t.Errorf("%s: got %.3f g with %.3f g water, want %.3f g with %.3f g", tt.name, weigh, water, tt.weigh, tt.water)
		}
	}
	for _, l := range []Lot{{Material: Material{Kind: Water}}, saltLot("chloride", 99, "")} {
		if _, _, ok := l.PerKilogram(); ok {
			t.Errorf("%+v: got something to weigh, want nothing", l.Material)
		}
	}
}

// What a lot's page says is what a bath sheet says.
func TestPerKilogramIsWhatScaleWeighs(t *testing.T) {
	damp, assay := 17.5, 96.0
	earth := earthLot(func(l *Lot) { l.MoisturePct = &damp })
	crystals := saltLot(salt.CopperSulfatePentahydrate, assay, AssayAsNamed)
	recipe := Recipe{
		Name: "r", Temp: TempWindow{60, 60, 60},
		Parts: []Part{
			{Kind: Water, Mass: 1000},
			{Kind: Earth, Name: "breakwater", Mass: 300, MoisturePct: &damp},
			{Kind: Salt, Salt: salt.CopperSulfatePentahydrate, Mass: 20, AssayPct: &assay},
		},
	}
	a, err := Scale(recipe, Tank{Name: "t", Shape: Box, Length: 40, Width: 30, Height: 30, Freeboard: 5}, DefaultConditions())
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range []Lot{earth, crystals} {
		w := a.Weigh[i]
		weigh, water, _ := l.PerKilogram()
		for _, tt := range []struct{ got, want unit.Gram }{{weigh * w.Pure / 1000, w.Mass}, {water * w.Pure / 1000, w.WaterInIt}} {
			if math.Abs(float64(tt.got-tt.want)) > 1e-9*float64(w.Mass) {
				t.Errorf("%s: got %g g, want %g g as scaled", l.Name, tt.got, tt.want)
			}
		}
	}
}

func TestPriceMinorPerKG(t *testing.T) {
	price, amount := int64(1050), unit.Gram(2500)
	l := Lot{PriceMinor: &price, AmountG: &amount}
	if got := l.PriceMinorPerKG(); got == nil || *got != 420 {
		t.Errorf("got %v, want 4.20 a kilogram", got)
	}
	if got := (Lot{PriceMinor: &price}).PriceMinorPerKG(); got != nil {
		t.Errorf("got %v, want not recorded", *got)
	}
}
