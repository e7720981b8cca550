package bath

import (
	"math"
	"testing"

	"blackbath/bath/salt"
	"blackbath/bath/unit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// crystalMolar is the molar mass of each form and of its crystal water, g/mol: sums of standard atomic weights (IUPAC abridged), the water
// 18.015.
var crystalMolar = map[salt.ID]struct{ form, crystalWater float64 }{
	salt.AluminiumChlorideHexahydrate: {241.422, 6 * 18.015},
	salt.CopperSulfatePentahydrate:    {249.677, 5 * 18.015},
	salt.ZincSulfateHeptahydrate:      {287.541, 7 * 18.015},
}

// crystalShare is the water in 1 g of a form; the table of molar masses is good to 1e-5.
func crystalShare(id salt.ID) float64 {
	if m, hydrate := crystalMolar[id]; hydrate {
		return m.crystalWater / m.form
	}
	return 0
}

func (p Part) testAssay() float64 {
	if p.AssayPct == nil {
		return 1
	}
	return *p.AssayPct / 100
}

func (p Part) testMoisture() float64 {
	if p.MoisturePct == nil {
		return 0
	}
	return *p.MoisturePct / 100
}

// A scaled is one random scaling.
type scaled struct {
	recipe     Recipe
	tank       Tank
	conditions Conditions
	answer     Answer
}

func drawScaled(t *rapid.T) scaled {
	s := scaled{recipe: drawRecipe(t), tank: drawTank(t)}
	s.conditions = drawConditions(t, s.tank)
	s.answer = mustScale(t, s.recipe, s.tank, s.conditions)
	return s
}

// mustScale scales, and fails the test when that is refused.
func mustScale(t fatal, r Recipe, tank Tank, c Conditions) Answer {
	t.Helper()
	a, err := Scale(r, tank, c)
	if err != nil {
		t.Fatalf("Scale: %v", err)
	}
	return a
}

// recipeWater is the recipe's own water, g.
func recipeWater(r Recipe) float64 {
	sum := 0.0
	for _, p := range r.Parts {
		if p.Kind == Water {
			sum += float64(p.Mass)
		}
	}
	return sum
}

func TestMassesBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScaled(t)
		allWater := float64(s.answer.Details.AllWater)
		sum, inert := float64(s.answer.PourWater.Mass), 0.0 // all that goes into the tank
		water := sum                                        // poured, in the earth, in crystals
		earth, anhydrous := 0.0, 0.0
		line := 0
		for _, p := range s.recipe.Parts {
			if p.Kind == Water {
				continue
			}
			w := s.answer.Weigh[line]
			line++
			weighed := float64(w.Mass)
			sum += weighed
			ratio := float64(p.Mass) / recipeWater(s.recipe)
			switch p.Kind {
			case Earth:
				dry := weighed / (1 + p.testMoisture())
				if !near(dry/allWater, ratio, 1e-9) {
					t.Fatalf("dry earth per water: got %v, want the recipe's %v", dry/allWater, ratio)
				}
				earth += dry
				water += weighed - dry
			case Salt:
				pure := weighed * p.testAssay()
				if !near(pure/allWater, ratio, 1e-9) {
					t.Fatalf("%s per water: got %v, want the recipe's %v", p.Salt, pure/allWater, ratio)
				}
				inert += weighed - pure
				anhydrous += pure * (1 - crystalShare(p.Salt))
				water += pure * crystalShare(p.Salt)
			}
		}
		if line != len(s.answer.Weigh) {
			t.Fatalf("%d lines to weigh, want %d", len(s.answer.Weigh), line)
		}
		if !near(water, allWater, 1e-9) {
			t.Fatalf("water poured, in earth and in crystals: %v g, all water: %v g", water, allWater)
		}
		if got, want := sum-inert, allWater+earth+anhydrous; !near(got, want, 1e-9) {
			t.Fatalf("poured and weighed less inert matter: %v g, liquid and earth: %v g", got, want)
		}
		mud := float64(s.answer.HotBathL) * float64(s.answer.HotDensity) * 1000
		if want := allWater + earth + anhydrous; !near(mud, want, 1e-9) {
			t.Fatalf("hot volume times density: %v g, want the mud's %v g", mud, want)
		}
		underLine := s.tank.VolumeAt(s.tank.RimHeight() - s.tank.Freeboard)
		if got := s.answer.HotBathL + s.conditions.Load.Litres(); !near(float64(got), float64(underLine), 1e-9) {
			t.Fatalf("mud and load: %v L, under the fill line: %v L", got, underLine)
		}
	})
}

// Twice or a quarter of every mass is exact in floating point, so nothing at all may change.
func TestOnlyRatiosMatterExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScaled(t)
		k := math.Ldexp(1, rapid.IntRange(-6, 6).Draw(t, "power of two"))
		got := mustScale(t, times(s.recipe, k), s.tank, s.conditions)
		if diff := cmp.Diff(s.answer, got); diff != "" {
			t.Fatalf("recipe × %v:\n%s", k, diff)
		}
	})
}

func TestOnlyRatiosMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScaled(t)
		k := rapid.Float64Range(1e-3, 1e3).Draw(t, "k")
		got := mustScale(t, times(s.recipe, k), s.tank, s.conditions)
		sameMasses(t, got, s.answer, 1)
		sameLevels(t, got.Levels, s.answer.Levels)
	})
}

func times(r Recipe, k float64) Recipe {
	parts := make([]Part, len(r.Parts))
	copy(parts, r.Parts)
	for i := range parts {
		parts[i].Mass *= unit.Gram(k)
	}
	r.Parts = parts
	return r
}

// sameMasses checks that every mass of got is k times that of a.
func sameMasses(t *rapid.T, got, a Answer, k float64) {
	t.Helper()
	if !near(float64(got.PourWater.Mass), k*float64(a.PourWater.Mass), 1e-9) || !near(float64(got.PourWater.Litres), k*float64(a.PourWater.Litres), 1e-9) {
		t.Fatalf("water: got %v g, want %v g", got.PourWater.Mass, k*float64(a.PourWater.Mass))
	}
	for i := range a.Weigh {
		if !near(float64(got.Weigh[i].Mass), k*float64(a.Weigh[i].Mass), 1e-9) {
			t.Fatalf("line %d: got %v g, want %v g", i, got.Weigh[i].Mass, k*float64(a.Weigh[i].Mass))
		}
	}
	for id, m := range a.Undissolved {
		// A difference of two masses: its error is that of the salt's own mass, at most 0.4 of the water.
		if math.Abs(float64(got.Undissolved[id])-k*float64(m)) > 1e-9*k*float64(a.Details.AllWater) {
			t.Fatalf("%s undissolved: got %v g, want %v g", id, got.Undissolved[id], k*float64(m))
		}
	}
}

func sameLevels(t *rapid.T, got, want Levels) {
	t.Helper()
	for _, tt := range []struct {
		name      string
		got, want *unit.Centimetre
	}{{"cold", got.Cold, want.Cold}, {"hot", got.Hot, want.Hot}, {"loaded", &got.Loaded, &want.Loaded}, {"rim", &got.Rim, &want.Rim}} {
		if (tt.got == nil) != (tt.want == nil) {
			t.Fatalf("%s level: one of the two is missing", tt.name)
		}
		if tt.got == nil { // above the rim
			continue
		}
		// Where a vessel narrows to a tip, a level is known to 1e-5 of the depth only: see levelTolerance.
		if math.Abs(float64(*tt.got-*tt.want)) > 2e-5*float64(want.Rim) {
			t.Fatalf("%s level: got %v cm, want %v cm", tt.name, *tt.got, *tt.want)
		}
	}
}

// A box longer by k takes k times of everything and stands as high.
func TestLongerBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRecipe(t)
		tank := Tank{Shape: Box, Length: 60, Width: 40, Height: 35, Freeboard: unit.Centimetre(rapid.Float64Range(0, 30).Draw(t, "freeboard"))}
		c := DefaultConditions()
		c.WaterTemp = unit.Celsius(rapid.Float64Range(0, 60).Draw(t, "water temperature"))
		c.Load = tank.VolumeAt(tank.FillLine()).CubicCM() / 4
		a := mustScale(t, r, tank, c)
		k := rapid.Float64Range(0.1, 50).Draw(t, "k")
		tank.Length *= unit.Centimetre(k)
		c.Load *= unit.CubicCM(k)
		got := mustScale(t, r, tank, c)
		sameMasses(t, got, a, k)
		sameLevels(t, got.Levels, a.Levels)
		if !near(float64(got.OpenSurface), k*float64(a.OpenSurface), 1e-9) {
			t.Fatalf("open surface: got %v cm², want %v times %v", got.OpenSurface, k, a.OpenSurface)
		}
	})
}

// Another tank changes amounts, never the mixture: exact masses keep their ratios to each other.
func TestTankDoesNotChangeTheMixture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScaled(t)
		other := drawTank(t)
		c := s.conditions
		c.Load = 0
		b := mustScale(t, s.recipe, other, c)
		k := float64(b.Details.AllWater) / float64(s.answer.Details.AllWater)
		sameMasses(t, b, s.answer, k)
		if b.HotDensity != s.answer.HotDensity || b.BoilsAtC != s.answer.BoilsAtC {
			t.Fatalf("density %v and boiling point %v, want %v and %v", b.HotDensity, b.BoilsAtC, s.answer.HotDensity, s.answer.BoilsAtC)
		}
	})
}

func TestRoundedMasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScaled(t)
		step := float64(s.conditions.Step)
		check := func(what string, mass, rounded unit.Gram) {
			off := (float64(rounded) - float64(mass)) / step
			// Half up: from just above half a step down to half a step up. Masses are good to 1e-15 of themselves.
			if slack := 1e-15 * (1 + float64(mass)/step); off > 0.5+slack || off <= -0.5-slack {
				t.Fatalf("%s: %v g is written %v g, %v steps of %v g off", what, mass, rounded, off, step)
			}
			if n := float64(rounded) / step; math.Abs(n-math.Round(n)) > 1e-15*(1+n) {
				t.Fatalf("%s: %v g is no whole number of steps of %v g", what, rounded, step)
			}
		}
		for i, w := range s.answer.Weigh {
			check(string(s.recipe.Parts[w.Part].Kind), w.Mass, w.Rounded)
			if i > 0 && s.answer.Weigh[i-1].Part >= w.Part {
				t.Fatal("the lines are not in the recipe's order")
			}
		}
		check("water", s.answer.PourWater.Mass, s.answer.PourWater.Rounded)
	})
}

// What is weighed in whole steps makes a slightly other recipe; the answer has to say which.
func TestCompositionIsThatOfTheRoundedMasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScaled(t)
		water, earth := float64(s.answer.PourWater.Rounded), 0.0
		pure, wanted := map[string]float64{}, map[string]float64{}
		line := 0
		for _, p := range s.recipe.Parts {
			if p.Kind == Water {
				continue
			}
			m := float64(s.answer.Weigh[line].Rounded)
			line++
			switch p.Kind {
			case Earth:
				dry := m / (1 + p.testMoisture())
				earth += dry
				water += m - dry
				wanted["earth"] += float64(p.Mass) / recipeWater(s.recipe)
			case Salt:
				pure[string(p.Salt)] += m * p.testAssay()
				water += m * p.testAssay() * crystalShare(p.Salt)
				wanted[string(p.Salt)] += float64(p.Mass) / recipeWater(s.recipe)
			}
		}
		got := s.answer.Composition
		if water == 0 {
			if len(got.SaltGPerKgWater)+len(got.DeviationPercent) > 0 || got.EarthDryGPerKg != 0 {
				t.Fatalf("no water is left, and yet a composition: %+v", got)
			}
			return
		}
		if want := 1000 * earth / water; !near(float64(got.EarthDryGPerKg), want, 1e-9) {
			t.Fatalf("earth: got %v g/kg, want %v", got.EarthDryGPerKg, want)
		}
		if len(got.SaltGPerKgWater) != len(pure) || len(got.DeviationPercent) != len(wanted) {
			t.Fatalf("got %d salts and %d deviations, want %d and %d", len(got.SaltGPerKgWater), len(got.DeviationPercent), len(pure), len(wanted))
		}
		for id, m := range pure {
			if want := 1000 * m / water; !near(float64(got.SaltGPerKgWater[salt.ID(id)]), want, 1e-9) {
				t.Fatalf("%s: got %v g/kg, want %v", id, got.SaltGPerKgWater[salt.ID(id)], want)
			}
		}
		pure["earth"] = earth
		for id, ratio := range wanted {
			if want := 100 * (pure[id]/water/ratio - 1); math.Abs(got.DeviationPercent[id]-want) > 1e-7 {
				t.Fatalf("%s deviates by %v %%, want %v", id, got.DeviationPercent[id], want)
			}
		}
	})
}

// A wetter earth brings its own water: more is weighed and less is poured, and the bath stays the same.
func TestWetterEarth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScaled(t)
		wet := times(s.recipe, 1)
		at := -1
		for i, p := range wet.Parts {
			if p.Kind == Earth {
				at = i
				wet.Parts[i].MoisturePct = ptr(100*p.testMoisture() + rapid.Float64Range(0.01, 5).Draw(t, "more water"))
			}
		}
		if at < 0 {
			return
		}
		b := mustScale(t, wet, s.tank, s.conditions)
		if b.PourWater.Mass >= s.answer.PourWater.Mass {
			t.Fatalf("poured %v g, want less than %v g", b.PourWater.Mass, s.answer.PourWater.Mass)
		}
		for i, w := range b.Weigh {
			before := s.answer.Weigh[i].Mass
			if w.Kind == Earth && w.Mass <= before || w.Kind == Salt && w.Mass != before {
				t.Fatalf("line %d, %s: %v g, before %v g", i, w.Kind, w.Mass, before)
			}
		}
		if b.Details.AllWater != s.answer.Details.AllWater || b.HotBathL != s.answer.HotBathL || b.HotDensity != s.answer.HotDensity {
			t.Fatal("a wetter earth changed the bath")
		}
		if diff := cmp.Diff(s.answer.Undissolved, b.Undissolved); diff != "" {
			t.Fatal(diff)
		}
	})
}
