package ledger

import (
	"fmt"
	"math"
	"testing"

	"blackbath/bath/salt"
	"blackbath/bath/unit"

	"pgregory.net/rapid"
)

// The molar masses of the ions add up to those of the salts.
func TestIonsMakeTheSalts(t *testing.T) {
	for _, p := range pairs {
		s := form(p.id)
		got := p.cations*ions[p.cation].molarMass + p.anions*ions[p.anion].molarMass
		closeTo(t, string(p.id), got, s.MolarMassGPerMol/s.HydrateFactor(), 1e-6)
		if charge := p.cations*ions[p.cation].charge - p.anions*ions[p.anion].charge; charge != 0 {
			t.Errorf("%s has a charge of %g", p.id, charge)
		}
	}
	if len(pairs) != salt.SubstanceCount {
		t.Errorf("%d pairs of %d substances", len(pairs), salt.SubstanceCount)
	}
}

// recipeOf is a recipe of salts with a window that does not matter.
func recipeOf(ids ...salt.ID) Recipe {
	var r Recipe
	for _, id := range ids {
		r.Salts = append(r.Salts, SaltWindow{Salt: id})
	}
	return r
}

// molesOf splits ions into a recipe's salts.
func molesOf(r Recipe, mol map[int]float64) []float64 {
	p := newPairing(&r)
	var x amounts
	for ion, m := range mol {
		x[ionsAt+ion] = m
	}
	by := make([]combination, len(r.Salts))
	p.split(&x, by)
	out := make([]float64, len(by))
	for i := range by {
		out[i] = by[i].of(&x)
	}
	return out
}

// The moles of each salt by hand.
func TestSplit(t *testing.T) {
	for _, tt := range []struct {
		name  string
		salts []salt.ID
		ions  map[int]float64
		want  []float64
	}{
		{"sal ammoniac goes by ammonium", []salt.ID{salt.AmmoniumChloride}, map[int]float64{ammonium: 2, chloride: 3}, []float64{2}},
		{"by chloride when that is scarcer", []salt.ID{salt.AmmoniumChloride}, map[int]float64{ammonium: 3, chloride: 2}, []float64{2}},
		{"by ammonium within 0.1 %", []salt.ID{salt.AmmoniumChloride}, map[int]float64{ammonium: 2, chloride: 1.9985}, []float64{2}},
		{"a shared anion", []salt.ID{salt.AmmoniumChloride, salt.SodiumChloride}, map[int]float64{ammonium: 2, sodium: 1, chloride: 3}, []float64{2, 1}},
		{"a shared cation: each by its anion", []salt.ID{salt.AmmoniumSulfate, salt.AmmoniumChloride}, map[int]float64{ammonium: 5, sulfate: 1, chloride: 3}, []float64{1, 3}},
		{"and when ammonium has gone the second lacks it", []salt.ID{salt.AmmoniumSulfate, salt.AmmoniumChloride}, map[int]float64{ammonium: 4, sulfate: 1, chloride: 3}, []float64{1, 2}},
		{"even below nothing, cut only in the end", []salt.ID{salt.AmmoniumSulfate, salt.AmmoniumChloride}, map[int]float64{ammonium: 1, sulfate: 1, chloride: 3}, []float64{1, -1}},
		{"a salt that is resolved in the second round", []salt.ID{salt.SodiumChloride, salt.SodiumNitrate, salt.AmmoniumChloride}, map[int]float64{sodium: 3, nitrate: 1, chloride: 6, ammonium: 4}, []float64{2, 1, 4}},
		{"three chlorides to an aluminium", []salt.ID{salt.AluminiumChlorideHexahydrate, salt.AmmoniumChloride}, map[int]float64{aluminium: 1, chloride: 5, ammonium: 2}, []float64{1, 2}},
		{"none of it", []salt.ID{salt.CopperSulfate}, nil, []float64{0}},
	} {
		for i, got := range molesOf(recipeOf(tt.salts...), tt.ions) {
			if math.Abs(got-tt.want[i]) > 1e-12 {
				t.Errorf("%s: %s %g mol, want %g", tt.name, tt.salts[i], got, tt.want[i])
			}
		}
	}
}

// A bath made of a recipe's salts alone is split into them again, whatever the amounts.
func TestSplitFindsTheSaltsAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRecipe(t)
		var x amounts
		want := make([]float64, len(r.Salts))
		for i, s := range r.Salts {
			want[i] = rapid.Float64Range(1, 1000).Draw(t, "g")
			x.dissolve(s.Salt, want[i])
		}
		p := newPairing(&r)
		by := make([]combination, len(r.Salts))
		if left := p.split(&x, by); len(left) > 0 {
			t.Fatalf("ring %v", left)
		}
		for i := range by {
			if got := by[i].of(&x) * p.forms[i].MolarMassGPerMol; math.Abs(got-want[i]) > 2e-3*want[i]+1e-9*1000 {
				t.Errorf("%s %g g, want %g", r.Salts[i].Salt, got, want[i])
			}
		}
	})
}

// Pairing takes the recipe's salts first: sodium and potassium chloride and nitrate have several names.
func TestLiquorPairing(t *testing.T) {
	mol := map[int]float64{ammonium: 1, sodium: 1, chloride: 1, nitrate: 1, calcium: 0.5}
	var x amounts
	x[waterAt] = 1000
	for ion, m := range mol {
		x[ionsAt+ion] = m
	}
	for _, tt := range []struct {
		first salt.ID
		want  map[salt.ID]float64 // g
	}{
		{salt.AmmoniumChloride, map[salt.ID]float64{salt.AmmoniumChloride: 53.489, salt.SodiumNitrate: 84.994}},
		{salt.SodiumChloride, map[salt.ID]float64{salt.SodiumChloride: 58.44, salt.AmmoniumNitrate: 80.043}},
		{salt.PotassiumChloride, map[salt.ID]float64{salt.AmmoniumChloride: 53.489, salt.SodiumNitrate: 84.994}},
	} {
		r := recipeOf(tt.first)
		p := newPairing(&r)
		l := p.liquor(&x)
		for _, s := range salt.All() {
			if s.CrystalWaters == 0 && math.Abs(l.SaltG[s.Substance()]-tt.want[s.ID]) > 1e-9 {
				t.Errorf("%s first: %g g of %s, want %g", tt.first, l.SaltG[s.Substance()], s.ID, tt.want[s.ID])
			}
		}
		closeTo(t, "calcium has no partner", l.StrayG, 0.5*40.078, 1e-12)
		closeTo(t, "all masses", l.MassG(), massG(&x), 1e-12)
	}
}

// The strength's doubt takes the exact gradient: here 1 % of the salt and 1 % of the water, not shared.
func TestStrengthDoubt(t *testing.T) {
	s := replayed(t, madeUp(water10kg+","+salt1500g))
	closeTo(t, "sd", float64(s.Strengths[0].SD), 150*math.Hypot(0.01, 0.01), 1e-9)
	earth := replayed(t, madeUp(water10kg+`,{"kind": "earth", "mass_g": 6000, "moisture_pct": 0, "carbonate_pct": 0}`))
	// 2 % of 6000 g with the opposite in water: 600 (0.02 + 120/10000), beside 1 % of the water.
	closeTo(t, "sd of the earth", float64(earth.Earth.SD), 600*math.Hypot(0.02+0.012, 0.01), 1e-9)
}

// F of each step is the derivative of the step in the entries that it names: P after one small step against what the step
// really does to states that lie a little apart.
func TestStepsAgainstNumericalDerivatives(t *testing.T) {
	text := `{"kind": "earth", "mass_g": 5000, "moisture_pct": 0, "carbonate_pct": 0}, {"kind": "salt", "salt": "sodium-chloride", "mass_g": 300, "assay_pct": 100},` + water10kg + "," + salt1500g
	base := replayed(t, madeUp(text))
	b := *base.bath
	b.Room.RHPercent, b.LidFactor = 50, 0.2
	b.Learned.ZincGPerM2 = of[unit.Gram](4)
	soak := &Soak{Area: of[unit.SquareDM](42), TrappedL: of[unit.Litre](0.2)}
	for _, tt := range []struct {
		name  string
		step  func(r *replay)
		named [][2]int // row and column of the derivatives that the step names
	}{
		{"steam", func(r *replay) { r.phKnown, r.ammoniaShare = true, 0.03; r.steam(200, 90, 70182) },
			[][2]int{{waterAt, waterAt}, {waterAt, doubtEvaporation}, {ionsAt + ammonium, ionsAt + ammonium}, {ionsAt + ammonium, doubtAmmonia}}},
		{"zinc", func(r *replay) { r.takeUp(soak, "s") }, [][2]int{{ionsAt + zinc, ionsAt + zinc}, {ionsAt + zinc, doubtZinc}}},
		{"drag-out", func(r *replay) { r.carryOut(soak, 12) }, [][2]int{
			{waterAt, waterAt}, {waterAt, doubtDragOut}, {earthAt, earthAt}, {earthAt, doubtDragOut}, {ionsAt + sodium, doubtDragOut}, {ionsAt + sodium, ionsAt + sodium}}},
		{"dump", func(r *replay) { r.dump(&Dump{SharePct: of[float64](10), What: Liquor}) }, [][2]int{{waterAt, waterAt}, {earthAt, earthAt}}},
	} {
		at := func(set func(e *estimate)) *replay {
			r := newReplay(&b, &life{events: []event{{placed: &placed{fact: &b.Facts[0]}}}})
			r.x = base.estimate.x
			r.d = [4]float64{0.05, -0.1, 0.2, 0.1}
			r.p = [stateSize][stateSize]float64{}
			set(&r.estimate)
			tt.step(r)
			return r
		}
		value := func(r *replay, i int) float64 {
			if i < amountCount {
				return r.x[i]
			}
			return r.d[i-amountCount]
		}
		for _, n := range tt.named {
			row, column := n[0], n[1]
			h := 1e-6
			if column < amountCount {
				h = 1e-6 * base.estimate.x[column]
			}
			if h == 0 {
				h = 1e-6
			}
			shift := func(by float64) float64 {
				return value(at(func(e *estimate) {
					if column < amountCount {
						e.x[column] += by
					} else {
						e.d[column-amountCount] += by
					}
				}), row)
			}
			numeric := (shift(h) - shift(-h)) / (2 * h)
			// With one variance in P, P after the step is F[row][column] on the cross term with a column that stays itself, and
			// its square on the diagonal.
			r := at(func(e *estimate) { e.p[column][column] = 1e8 })
			quiet := at(func(*estimate) {})
			got := math.Sqrt(max(0, (r.p[row][row]-quiet.p[row][row])/1e8))
			if tt.name == "steam" && column == waterAt { // E does not depend on the water
				numeric = 1
			}
			if math.Abs(got-math.Abs(numeric)) > 1e-5*math.Abs(numeric)+1e-9 {
				t.Errorf("%s: F[%d][%d] = ±%.9g, numerically %.9g", tt.name, row, column, got, numeric)
			}
			if column >= amountCount && r.p[row][column]*numeric < 0 {
				t.Errorf("%s: F[%d][%d] has the wrong sign", tt.name, row, column)
			}
		}
	}
}

// Numbers at the ends of what is allowed give no NaN and no infinity.
func TestExtremesStayFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBath(t)
		extreme := func(name string, lo, hi float64) float64 {
			return math.Min(hi, math.Max(lo, math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, name))))
		}
		b.CoolingH = extreme("cooling", 1e-9, 1e6)
		b.Room.AirMPerS = rapid.Float64Range(0, 20).Draw(t, "air")
		b.Learned.EvaporationRatios = []float64{extreme("ratio", 1e-9, 1e6)}
		for i := range b.Facts {
			f := &b.Facts[i]
			for j := range f.Parts {
				if p := &f.Parts[j]; p.Mass != nil && rapid.Bool().Draw(t, "extreme mass") {
					p.Mass = of[unit.Gram](extreme("mass", 1e-9, 1e9))
				}
			}
			if r := f.Reading; r != nil {
				r.LevelSD = of[unit.Centimetre](extreme("level sd", 1e-9, 1e6))
				r.DensitySD = of[unit.GramPerCM3](extreme("density sd", 1e-9, 1e6))
				r.ConductivitySDPct = of[float64](extreme("conductivity sd", 1e-9, 1e6))
				r.Dilution = of[float64](extreme("dilution", 1, 1e6))
			}
		}
		text := answered(t, mustReplay(t, b, nil))
		if len(text) == 0 {
			t.Fatal(fmt.Errorf("no answer"))
		}
	})
}
