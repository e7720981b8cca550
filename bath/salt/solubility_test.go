package salt

import (
	"blackbath/bath/internal/published"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The table in the source is the published one, every row of it, and nothing
// else; the second sources agree within what is shown.
func TestSolubilityTable(t *testing.T) {
	want := map[string][]point{}
	second := map[string]float64{}
	secondRows := 0
	for _, row := range published.Table(t, "solubility.csv", 203) {
		p := byFormula(t, row["salt"])
		tC, value := row.Number(t, "t_C"), row.Number(t, "value")
		if row["unit"] != "g anhydrous per 100 g water" {
			t.Errorf("%s: unit %q", row["salt"], row["unit"])
		}
		switch row["role"] {
		case "primary":
			want[row["salt"]] = append(want[row["salt"]], point{tC, value})
		case "second source":
			secondRows++
			got := formOf(t, p).SolubilityGPer100G(tC)
			second[row["salt"]] = max(second[row["salt"]], math.Abs(got/value-1))
		default:
			t.Errorf("role %q has no check", row["role"])
		}
	}
	got := map[string][]point{}
	for _, s := range substances {
		got[s.formula] = s.solubility
	}
	if diff := cmp.Diff(got, want, cmp.AllowUnexported(point{})); diff != "" {
		t.Errorf("solubility (-got +want):\n%s", diff)
	}
	if secondRows != 72 || len(second) != 7 {
		t.Errorf("got %d second-source rows of %d salts, want 72 of 7", secondRows, len(second))
	}
	for formula, worst := range second {
		if worst > SolubilityUncertainty {
			t.Errorf("%s: second source differs by %.1f %%, more than is shown", formula, 100*worst)
		}
	}
}

func TestSolubilityGPer100G(t *testing.T) {
	for _, tt := range []struct {
		id        ID
		tC        float64
		want, tol float64
	}{
		// USP/ACS monographs: ammonium chloride, 1 g in 2.6 mL of water at 25 C, 1 g in
		// 1.4 mL boiling.
		{AmmoniumChloride, 25, 100 / 2.6, 0.05 * 38.5},
		{AmmoniumChloride, 100, 100 / 1.4, 0.08 * 71},
		// Linear between the rows of the CRC table: 35.89 at 20 C, 35.96 at 25 C.
		{SodiumChloride, 22.5, 35.925, 1e-9},
		// Held at the ends of the table.
		{SodiumChloride, 103, 38.99, 0},
		{SodiumChloride, -5, 35.65, 0},
		{ZincChloride, 0, 327.35, 0},
		// Both forms are one substance, on the basis of anhydrous salt.
		{CopperSulfatePentahydrate, 20, 20.05, 0},
		{CopperSulfate, 20, 20.05, 0},
		// CRC Handbook: 44.6 g of anhydrous salt at 0 C, though vendors' tables print
		// the figure in a row for the hexahydrate.
		{AluminiumChlorideHexahydrate, 0, 44.6, 0.05},
	} {
		if got := find(t, tt.id).SolubilityGPer100G(tt.tC); math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%s at %v C: got %v, want %v", tt.id, tt.tC, got, tt.want)
		}
	}
	if got := find(t, SodiumChloride).SolubilityGPer100G(math.NaN()); !math.IsNaN(got) {
		t.Errorf("at NaN: got %v, want NaN", got)
	}
}

func find(t *testing.T, id ID) Salt {
	t.Helper()
	s, err := Lookup(string(id))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestHydrateSolubilityGPer100G(t *testing.T) {
	for _, tt := range []struct {
		id       ID
		tC, want float64
	}{
		// Worked by another implementation from the CRC solubilities 20.05 and 44.99.
		{CopperSulfatePentahydrate, 20, 35.4},
		{AluminiumChlorideHexahydrate, 20, 128.2},
		// An anhydrous form is its own hydrate.
		{SodiumChloride, 20, 35.89},
	} {
		if got := find(t, tt.id).HydrateSolubilityGPer100G(tt.tC); math.Abs(got-tt.want) > 0.05 {
			t.Errorf("%s at %v C: got %v, want %v", tt.id, tt.tC, got, tt.want)
		}
	}
	// 100 - 0.8 x 125 = 0: the crystals hold just the water they need.
	for _, solubility := range []float64{125, 126, 1000} {
		if got := hydrateSolubility(1.8, solubility); !math.IsInf(got, 1) {
			t.Errorf("hydrateSolubility(1.8, %v): got %v, want +Inf", solubility, got)
		}
	}
}

// Mass balance: what does not dissolve keeps its crystal water, and the rest is a
// saturated solution in the water that is left.
func TestUndissolvedBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(All()).Draw(t, "salt")
		tC := rapid.Float64Range(0, 100).Draw(t, "tC")
		allWater := rapid.Float64Range(1, 50).Draw(t, "allWater")
		mass := rapid.Float64Range(0, 0.99).Draw(t, "mass") * allWater / max(s.CrystalWaterShare(), 0.1)
		crystals := s.Undissolved(mass, allWater, tC)
		if !(crystals >= 0 && crystals <= mass) {
			t.Fatalf("%v of %v do not dissolve", crystals, mass)
		}
		liquidWater := allWater - crystals*s.CrystalWaterShare()
		strength := 100 * (mass - crystals) * s.AnhydrousShare() / liquidWater
		limit := s.SolubilityGPer100G(tC)
		if crystals > 0 && math.Abs(strength/limit-1) > 1e-9 || strength > limit*(1+1e-9) {
			t.Fatalf("%v crystals under a solution of %v per 100, saturated at %v", crystals, strength, limit)
		}
		load, err := SaturationLoad(tC, []Dissolved{{s.ID, 1000 * mass / allWater}})
		if err != nil {
			t.Fatal(err)
		}
		if (load > 1+1e-9) != (crystals > 1e-9*mass) && math.Abs(load-1) > 1e-6 {
			t.Fatalf("load %v, but %v crystals", load, crystals)
		}
	})
}

// Worked example from the CRC solubilities: 0.15 kg of ammonium chloride, 0.04 of
// sodium chloride and 0.01 of copper sulfate per kg of water at 20 C are
// 15/37.49 + 4/35.89 + 1/20.05 = 0.561 of saturation.
func TestSaturationLoad(t *testing.T) {
	const want = 15/37.49 + 4/35.89 + 1/20.05
	got, err := SaturationLoad(20, []Dissolved{{AmmoniumChloride, 150}, {SodiumChloride, 40}, {CopperSulfate, 10}})
	if err != nil || math.Abs(got-want) > 1e-12 {
		t.Errorf("got %v %v, want %v", got, err, want)
	}
	r := 249.677 / 159.602
	got, err = SaturationLoad(20, []Dissolved{{CopperSulfatePentahydrate, 5 * r}, {AmmoniumChloride, 150}, {CopperSulfate, 5}, {SodiumChloride, 40}})
	if err != nil || math.Abs(got-want) > 1e-12 {
		t.Errorf("half the copper as pentahydrate: got %v %v, want %v", got, err, want)
	}
	if got, err := SaturationLoad(20, nil); err != nil || got != 0 {
		t.Errorf("no salt: got %v %v, want 0", got, err)
	}
}
