package salt

import (
	"blackbath/bath/internal/published"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestLookup(t *testing.T) {
	for _, want := range All() {
		got, err := Lookup(string(want.ID))
		if err != nil || got != want {
			t.Errorf("Lookup(%q): got %v, %v", want.ID, got, err)
		}
	}
}

func TestLookupRefusesAnhydrousAluminiumChloride(t *testing.T) {
	for _, id := range []string{"aluminium-chloride", "aluminum-chloride", "aluminium-chloride-anhydrous"} {
		_, err := Lookup(id)
		if !errors.Is(err, ErrUnsafe) {
			t.Fatalf("Lookup(%q): got %v, want ErrUnsafe", id, err)
		}
		for _, want := range []string{id, "anhydrous", "aluminium-chloride-hexahydrate"} {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("Lookup(%q): %q does not say %q", id, err, want)
			}
		}
	}
}

func TestLookupUnknown(t *testing.T) {
	for _, id := range []string{"", "chloride", "salt", "sal ammoniac", "Sodium-Chloride", " sodium-chloride", "sodium-nitrite", "NaCl"} {
		_, err := Lookup(id)
		var unknown *UnknownError
		if !errors.As(err, &unknown) {
			t.Fatalf("Lookup(%q): got %v, want *UnknownError", id, err)
		}
		if unknown.Value != id {
			t.Errorf("Lookup(%q): got value %q", id, unknown.Value)
		}
		for _, s := range All() {
			if !strings.Contains(err.Error(), string(s.ID)) {
				t.Errorf("Lookup(%q): %q does not offer %s", id, err, s.ID)
			}
		}
	}
	_, err := Lookup(strings.Repeat("salt ", 1000))
	if got := len(err.Error()); got > 600 {
		t.Errorf("a pasted page: got an error of %d bytes", got)
	}
}

func FuzzLookup(f *testing.F) {
	for _, seed := range []string{"sodium-chloride", "aluminium-chloride", "chloride", "", "\xff\xfe", "塩"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, id string) {
		s, err := Lookup(id)
		var unknown *UnknownError
		switch {
		case err == nil && string(s.ID) != id:
			t.Errorf("Lookup(%q): got %q", id, s.ID)
		case err != nil && !errors.As(err, &unknown) && !errors.Is(err, ErrUnsafe):
			t.Errorf("Lookup(%q): got an untyped error %v", id, err)
		}
	})
}

// The ids of the file format, in their order.
func TestAll(t *testing.T) {
	want := []ID{
		"ammonium-chloride", "ammonium-sulfate", "ammonium-nitrate", "sodium-chloride", "sodium-nitrate",
		"potassium-chloride", "potassium-nitrate", "aluminium-chloride-hexahydrate", "copper-sulfate",
		"copper-sulfate-pentahydrate", "zinc-chloride", "zinc-sulfate", "zinc-sulfate-heptahydrate",
	}
	var got []ID
	all := All()
	for _, s := range all {
		got = append(got, s.ID)
		if s.Name == "" || s.Formula == "" || s.CAS == "" {
			t.Errorf("%s: got %+v, want a name, a formula and a registry number", s.ID, s)
		}
	}
	if diff := cmp.Diff(got, want); diff != "" {
		t.Errorf("All (-got +want):\n%s", diff)
	}
	all[0].Name = "changed"
	if All()[0].Name == "changed" {
		t.Error("a caller can change the catalogue")
	}
}

// The check digit of a CAS registry number: the digits before it, read from the
// right and multiplied by 1, 2, 3 ..., summed, modulo 10 (Chemical Abstracts
// Service).
func TestCASCheckDigits(t *testing.T) {
	seen := map[string]ID{}
	for _, s := range All() {
		digits := strings.ReplaceAll(s.CAS, "-", "")
		sum := 0
		for i := range len(digits) - 1 {
			sum += int(digits[i]-'0') * (len(digits) - 1 - i)
		}
		if got, want := sum%10, int(digits[len(digits)-1]-'0'); got != want {
			t.Errorf("%s: CAS %s: got check digit %d, want %d", s.ID, s.CAS, got, want)
		}
		if parts := strings.Split(s.CAS, "-"); len(parts) != 3 || len(parts[1]) != 2 || len(parts[2]) != 1 {
			t.Errorf("%s: CAS %s is not of the form n-nn-n", s.ID, s.CAS)
		}
		if other, twice := seen[s.CAS]; twice {
			t.Errorf("%s and %s: both CAS %s", s.ID, other, s.CAS)
		}
		seen[s.CAS] = s.ID
	}
}

// Anhydrous salts: the table of Laliberte 2009. Hydrates: supplier data sheets,
// zinc sulfate heptahydrate (from memory). The check digit alone would let
// 7446-19-7 pass, which is the zinc sulfate with one water.
func TestCASNumbers(t *testing.T) {
	want := map[string]string{
		"NH4Cl": "12125-02-9", "(NH4)2SO4": "7783-20-2", "NH4NO3": "6484-52-2", "NaCl": "7647-14-5",
		"NaNO3": "7631-99-4", "KCl": "7447-40-7", "KNO3": "7757-79-1", "AlCl3·6H2O": "7784-13-6",
		"CuSO4": "7758-98-7", "CuSO4·5H2O": "7758-99-8", "ZnCl2": "7646-85-7", "ZnSO4": "7733-02-0",
		"ZnSO4·7H2O": "7446-20-0",
	}
	got := map[string]string{}
	for _, s := range All() {
		got[s.Formula] = s.CAS
	}
	if diff := cmp.Diff(got, want); diff != "" {
		t.Errorf("CAS numbers (-got +want):\n%s", diff)
	}
}

// IUPAC abridged standard atomic weights 2021 (from memory).
var atomicWeight = map[string]float64{
	"H": 1.008, "N": 14.007, "O": 15.999, "Na": 22.990, "Al": 26.982, "S": 32.06,
	"Cl": 35.45, "K": 39.098, "Cu": 63.546, "Zn": 65.38,
}

// weigh adds up a formula such as "(NH4)2SO4" or "AlCl3·6H2O".
func weigh(t *testing.T, formula string) float64 {
	t.Helper()
	if salt, water, hydrate := strings.Cut(formula, "·"); hydrate {
		return weigh(t, salt) + float64(water[0]-'0')*weigh(t, water[1:])
	}
	count := func(rest string) (int, string) {
		if rest != "" && rest[0] >= '2' && rest[0] <= '9' {
			return int(rest[0] - '0'), rest[1:]
		}
		return 1, rest
	}
	sum := 0.0
	for rest := formula; rest != ""; {
		var mass float64
		if rest[0] == '(' {
			end := strings.IndexByte(rest, ')')
			mass, rest = weigh(t, rest[1:end]), rest[end+1:]
		} else {
			n := 1
			if len(rest) > 1 && rest[1] >= 'a' && rest[1] <= 'z' {
				n = 2
			}
			weight, ok := atomicWeight[rest[:n]]
			if !ok {
				t.Fatalf("%s: element %q", formula, rest[:n])
			}
			mass, rest = weight, rest[n:]
		}
		n, after := count(rest)
		sum, rest = sum+float64(n)*mass, after
	}
	return sum
}

func TestMolarMassFromAtomicWeights(t *testing.T) {
	for _, s := range All() {
		want := weigh(t, s.Formula)
		if math.Abs(s.MolarMassGPerMol-want) > 0.0015 {
			t.Errorf("%s: got %v g/mol, want %v", s.Formula, s.MolarMassGPerMol, want)
		}
	}
}

// The published table, every row.
func TestMolarMassTable(t *testing.T) {
	for _, row := range published.Table(t, "molar_masses.csv", 21) {
		want := row.Number(t, "value")
		formula := strings.Replace(row["substance"], ".", "·", 1)
		if formula == "H2O" {
			if waterGPerMol != want {
				t.Errorf("water: got %v, want %v", waterGPerMol, want)
			}
			continue
		}
		var s Salt
		for _, form := range All() {
			if form.Formula == formula {
				s = form
			}
		}
		if s.ID == "" {
			// The bath takes the hexahydrate only; its anhydrous part is a substance.
			if got := substances[byFormula(t, formula)].molarMassGPerMol; got != want {
				t.Errorf("%s: got %v, want %v", formula, got, want)
			}
			continue
		}
		var got, tolerance float64
		switch row["quantity"] {
		case "molar_mass":
			got, tolerance = s.MolarMassGPerMol, 1e-9
		case "hydrate_factor_R":
			got, tolerance = s.HydrateFactor(), 5.1e-6
		case "water_fraction":
			got, tolerance = s.CrystalWaterShare(), 5.1e-6
		default:
			t.Errorf("quantity %q has no check", row["quantity"])
		}
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s %s: got %v, want %v", formula, row["quantity"], got, want)
		}
		if sum := s.AnhydrousShare() + s.CrystalWaterShare(); math.Abs(sum-1) > 1e-15 {
			t.Errorf("%s: anhydrous and water shares add up to %v", formula, sum)
		}
	}
}

// Ions per formula: every chemistry textbook; the sulfates of copper and zinc are
// 2:2 salts, paired in a strong hot solution, and count once.
func TestParticles(t *testing.T) {
	want := map[ID]int{
		AmmoniumChloride: 2, AmmoniumSulfate: 3, AmmoniumNitrate: 2, SodiumChloride: 2, SodiumNitrate: 2,
		PotassiumChloride: 2, PotassiumNitrate: 2, AluminiumChlorideHexahydrate: 4, CopperSulfate: 1,
		CopperSulfatePentahydrate: 1, ZincChloride: 3, ZincSulfate: 1, ZincSulfateHeptahydrate: 1,
	}
	got := map[ID]int{}
	for _, s := range All() {
		got[s.ID] = substances[s.parent].particles
	}
	if diff := cmp.Diff(got, want); diff != "" {
		t.Errorf("particles (-got +want):\n%s", diff)
	}
}
