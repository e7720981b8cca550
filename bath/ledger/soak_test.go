package ledger

import (
	"math"
	"testing"
)

// stillBath is 10 kg of water with 1500 g of sal ammoniac and 5000 g of dry earth, at 20 °C and losing nothing.
func stillBath(t *testing.T, learned string, facts ...string) State {
	t.Helper()
	text := madeUp(water10kg+","+salt1500g+`,{"kind": "earth", "mass_g": 5000, "moisture_pct": 0, "carbonate_pct": 0}`, facts...)
	if learned != "" {
		text = replaceOnce(t, text, still, still+`"learned": {`+learned+`},`)
	}
	return replayed(t, text)
}

// ended is a soak of no length.
func ended(keys string) string {
	return `"kind": "soak", "out_at": "2026-01-05T08:00:00Z"` + keys
}

func TestDragOut(t *testing.T) {
	volume := float64(stillBath(t, "").VolumeL)
	for _, tt := range []struct {
		name, learned, keys string
		share               float64 // that leaves
		sd                  float64 // of the earth that left, as a share of the earth
	}{
		{"by area: 0.3 L/m², a factor of two", "", `, "area_dm2": 42`, 0.126 / volume, 0.5 * 0.126 / volume},
		{"by area, learned", `"dragout_l_m2": 0.25`, `, "area_dm2": 42`, 0.105 / volume, 0.2 * 0.105 / volume},
		{"in litres", "", `, "area_dm2": 42, "dragout_l": 0.2`, 0.2 / volume, 0.05 * 0.2 / volume},
		{"weighed: of 16.5 kg of mud", "", `, "area_dm2": 42, "dragout_g": 165`, 0.01, 0.05 * 0.01},
		{"trapped as well", "", `, "dragout_g": 165, "trapped_l": 0.5`, 0.01 + 0.5/volume, math.Hypot(0.05*0.01, 0.3*0.5/volume)},
		{"trapped alone", "", `, "trapped_l": 0.5`, 0.5 / volume, 0.3 * 0.5 / volume},
		{"nothing known", "", ``, 0, 0},
		{"more than there is", "", `, "dragout_l": 100`, 1, 0.05},
	} {
		s := stillBath(t, tt.learned, ended(tt.keys))
		if got := 1 - float64(s.EarthDry.Value)/5000; math.Abs(got-tt.share) > 1e-12 {
			t.Errorf("%s: share of earth %.12g, want %.12g", tt.name, got, tt.share)
		}
		if got := 1 - float64(s.Ions["chloride"].Value)/(1500*35.45/53.489); math.Abs(got-tt.share) > 1e-12 {
			t.Errorf("%s: share of chloride %.12g, want %.12g", tt.name, got, tt.share)
		}
		want := math.Hypot(0.02*5000*(1-tt.share), 5000*tt.sd)
		if got := float64(s.EarthDry.SD); math.Abs(got-want) > 1e-9*5000 {
			t.Errorf("%s: sd of the earth %.9g, want %.9g", tt.name, got, want)
		}
	}
}

// The same doubt acts on every load: errors that add up do not shrink with the root of n.
func TestDragOutDoubtIsShared(t *testing.T) {
	one := stillBath(t, "", ended(`, "area_dm2": 5`))
	many := stillBath(t, "", ended(`, "area_dm2": 5`), ended(`, "area_dm2": 5`), ended(`, "area_dm2": 5`), ended(`, "area_dm2": 5`))
	cross := func(s State) float64 { return s.estimate.p[earthAt][doubtDragOut] }
	closeTo(t, "cross term of four small loads against one", cross(many)/cross(one), 4, 0.01)
}

func TestSoakSums(t *testing.T) {
	s := stillBath(t, `"zinc_g_m2": 4`, ended(`, "area_dm2": 42, "dragout_l": 0.2`), ended(`, "metal_loss_g": 3, "trapped_l": 0.1`), `"kind": "soak", "metal_g": 100, "area_dm2": 99`)
	volume := float64(stillBath(t, "").VolumeL)
	if s.Soaks.Count != 2 || len(s.Soaks.Running) != 1 || s.Soaks.Running[0] != "f2" || s.Soaks.AreaDM2 != 42 {
		t.Errorf("soaks %+v", s.Soaks)
	}
	closeTo(t, "area per litre", s.Soaks.AreaDM2PerL, 42/volume, 1e-4) // the zinc adds a little
	// 0.42 m² at 4 g/m² ± 30 % and 3 g ± 5 %.
	closeTo(t, "zinc, g", float64(s.Soaks.ZincTakenUpG.Value), 1.68+3, 1e-12)
	closeTo(t, "its sd", float64(s.Soaks.ZincTakenUpG.SD), math.Hypot(0.3*1.68, 0.15), 1e-12)
	closeTo(t, "zinc taken up in the balance, g", s.Balance.Ions["zinc"].TakenUp, 4.68, 1e-12)
	if z := stillBath(t, "", ended(`, "area_dm2": 42`)).Soaks.ZincTakenUpG; z != nil {
		t.Errorf("zinc without a figure: %+v", z)
	}
	at := s.AtSoaks[2]
	if at.ID != "f2" || math.Abs(float64(at.Strength["ammonium-chloride"])-150) > 1e-9 || at.TempC != 20 {
		t.Errorf("when the pieces went in: %+v", at)
	}
}

func TestDump(t *testing.T) {
	before := stillBath(t, "")
	volume := float64(before.VolumeL)
	liquor := volume - 5000/2650.0
	for _, tt := range []struct {
		name, keys   string
		water, earth float64 // share that goes
	}{
		{"litres of mud", `"litres": 1`, 1 / volume, 1 / volume},
		{"a share", `"share_pct": 25`, 0.25, 0.25},
		{"litres of liquor", `"litres": 1, "what": "liquor"`, 1 / liquor, 0},
		{"a share of the liquor", `"share_pct": 25, "what": "liquor"`, 0.25, 0},
		{"more than there is", `"litres": 1000`, 1, 1},
		{"more liquor than there is", `"litres": 1000, "what": "liquor"`, 1, 0},
	} {
		s := stillBath(t, "", `"kind": "dump", `+tt.keys)
		if w, e := 1-float64(s.Water.Value)/10_000, 1-float64(s.EarthDry.Value)/5000; math.Abs(w-tt.water) > 1e-12 || math.Abs(e-tt.earth) > 1e-12 {
			t.Errorf("%s: %.9g of the water and %.9g of the earth went, want %.9g and %.9g", tt.name, w, e, tt.water, tt.earth)
		}
		// Of what is left 1 % and the 100 g by which dry earth may have been damp; 5 % of what went.
		if got, want := float64(s.Water.SD), math.Hypot(math.Hypot(100, 100)*(1-tt.water), 0.05*tt.water*10_000); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: sd of the water %.9g, want %.9g", tt.name, got, want)
		}
		if _, is := s.warned(BoiledDry); is {
			t.Errorf("%s: boiled_dry", tt.name)
		}
	}
	// All liquor gone: the volume is that of the earth alone.
	closeTo(t, "volume of the earth alone, L", float64(stillBath(t, "", `"kind": "dump", "litres": 1000, "what": "liquor"`).VolumeL), 5/2.65, 1e-12)
}
