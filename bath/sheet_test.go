package bath

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// However long its names and large its figures, the sheet stays within an 80-column printer and names every part.
func TestSheetFitsThePrinter(t *testing.T) {
	ids := salt.All()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[A-Za-z ]{0,120}`)
		r := Recipe{Name: name.Draw(t, "recipe"), Temp: TempWindow{60, 90, 95}, Soak: &SoakWindow{4, 8, 15}}
		r.Parts = []Part{{Kind: Water, Mass: 1000}, {Kind: Earth, Name: name.Draw(t, "earth"), Mass: 400}}
		form := rapid.SampledFrom(ids).Draw(t, "salt")
		r.Parts = append(r.Parts, Part{Kind: Salt, Salt: form.ID, Mass: unit.Gram(rapid.Float64Range(1, 1500).Draw(t, "salt, g"))})
		size := unit.Centimetre(rapid.Float64Range(5, 5000).Draw(t, "size, cm"))
		tank := Tank{Name: name.Draw(t, "tank"), Shape: Box, Length: size, Width: size, Height: size, Freeboard: size / 5, Wall: "stainless-steel"}
		c := DefaultConditions()
		c.Bucket = ptr(unit.Litre(rapid.Float64Range(0.5, 20).Draw(t, "bucket, L")))
		a, err := Scale(r, tank, c)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		if err := WriteSheet(&b, r, tank, c, a); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(b.String()) {
			if n := len([]rune(strings.TrimSuffix(line, "\n"))); n > 80 && len(strings.Fields(line)) > 1 {
				t.Errorf("a line of %d columns: %s", n, line)
			}
		}
		for _, want := range []string{form.Formula, form.CAS, "[  ]", "fill line", "DANGER", "Made up by"} {
			if !strings.Contains(b.String(), want) {
				t.Errorf("the sheet does not show %q", want)
			}
		}
	})
}

func TestSheetSaysWhatIsMissing(t *testing.T) {
	r, tank, c := example()
	tank.HeaterKW = nil
	r.Parts[1].MoisturePct, r.Parts[2].AssayPct = nil, nil
	a, err := Scale(r, tank, c)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := WriteSheet(&b, r, tank, c, a); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"moisture not recorded, counted as dry", "assay not recorded, counted as pure", "Not known is not safe", "bank's pH"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the sheet does not say %q:\n%s", want, b.String())
		}
	}
	if strings.Contains(b.String(), "Time to heat") {
		t.Error("the sheet gives a heating time without a heater")
	}
}
