package ledger

import (
	"math"
	"testing"

	"blackbath/bath"
	"blackbath/bath/unit"

	"pgregory.net/rapid"
)

// followed writes an advice down as what was then done, exactly as it was rounded.
func followed(b Bath, s State, a Advice) Bath {
	facts := append([]Fact{}, b.Facts...)
	if a.DumpL > 0 {
		facts = append(facts, Fact{ID: "dumped by advice", At: s.AsOf.Time, Kind: Dumped, Dump: &Dump{SharePct: of[float64](100 * float64(a.DumpL/s.VolumeL)), What: Stirred}})
	}
	f := Fact{ID: "added by advice", At: s.AsOf.Time, Kind: Addition}
	for _, l := range a.Add {
		if l.Rounded == 0 {
			continue
		}
		p := Part{Mass: of[unit.Gram](float64(l.Rounded))}
		switch l.Kind {
		case bath.Water:
			p.Kind = WaterPart
		case bath.Salt:
			p.Kind, p.Salt = SaltPart, l.Salt
			assay, _ := b.saltLot(l.Salt)
			p.AssayPct = of[float64](100 * assay)
		case bath.Earth:
			p.Kind = EarthPart
			moisture, _ := b.earthLot()
			p.MoisturePct = of[float64](100 * moisture)
		}
		f.Parts = append(f.Parts, p)
	}
	if len(f.Parts) > 0 {
		facts = append(facts, f)
	}
	b.Facts = facts
	return b
}

// Advice that is followed lands in the window, under the fill line, and what it says of the bath afterwards is what the account
// then finds.
func TestFollowedAdviceLandsInTheWindow(t *testing.T) {
	verdicts := map[Verdict]int{}
	aims := map[Aim]int{}
	rapid.Check(t, func(t *rapid.T) {
		b := drawBath(t)
		b.Step = 0.01
		s := mustReplay(t, b, nil)
		a := Advise(s)
		verdicts[a.Verdict]++
		if a.Amounts == nil {
			if a.Verdict == AddNow || a.Verdict == DumpThenAdd {
				t.Fatalf("%s without amounts", a.Verdict)
			}
			return
		}
		aims[a.Aim]++
		has := func(code WarningCode) bool {
			for _, w := range a.Warnings {
				if w.Code == code {
					return true
				}
			}
			return false
		}
		end := mustReplay(t, followed(b, s, a), nil)
		for i, st := range end.Strengths {
			w := b.Recipe.Salts[i]
			slack := unit.GramPerKG(1e-4 + 1.1e-3*float64(w.Target)) // rounding, and the 0.1 % within which cation and anion change places
			if st.GPerKgWater < w.Min-slack || st.GPerKgWater > w.Max+slack {
				t.Errorf("%s %.6g after the advice %+v, window %+v", st.Salt, st.GPerKgWater, a.Amounts, w.Window)
			}
			if d := math.Abs(float64(st.GPerKgWater - a.After.Salts[st.Salt])); d > 1e-6*float64(w.Target) {
				t.Errorf("%s %.9g after the advice, foretold %.9g", st.Salt, st.GPerKgWater, a.After.Salts[st.Salt])
			}
		}
		e := end.Earth.DryGPerKgWater
		if w := b.Recipe.EarthDry; w != nil && !has(DampEarth) && (e < w.Min*(1-1e-4) || e > w.Max*(1+1e-4)) {
			t.Errorf("earth %.6g after the advice %+v, window %+v", e, a.Amounts, *w)
		}
		if d := math.Abs(float64(e - a.After.EarthDry)); d > 1e-6*float64(e) {
			t.Errorf("earth %.9g after the advice, foretold %.9g", e, a.After.EarthDry)
		}
		x := end.estimate.x
		work := end.model.cut(&x, float64(b.Recipe.Temp.Target))
		volume := end.model.volumeL(&x, work)
		fill := float64(b.Tank.VolumeAt(b.Tank.FillLine()))
		if volume > fill*(1+1e-4) {
			t.Errorf("%.6g L after the advice, fill line %.6g L: %+v", volume, fill, a)
		}
		if math.Abs(volume-float64(a.After.VolumeL)) > 1e-6*volume {
			t.Errorf("%.9g L after the advice, foretold %.9g", volume, a.After.VolumeL)
		}
		l := end.model.liquor(&x)
		if load := l.SaturationLoad(float64(b.coldest())); load > 1.0001 != has(DoesNotDissolve) && math.Abs(load-1) > 1e-4 {
			t.Errorf("load %.6g at the coldest, warnings %v", load, a.Warnings)
		}
		if boils := float64(*end.BoilsAtC); boils < float64(b.Recipe.Temp.Target)-1e-4 && !has(AboveBoiling) {
			t.Errorf("boils at %.6g, target %g, no warning", boils, b.Recipe.Temp.Target)
		}
		wide := true // rounding to the step does not leave such a window
		for _, w := range b.Recipe.Salts {
			wide = wide && w.Min < w.Target*0.99 && w.Max > w.Target*1.01
		}
		if again := Advise(end).Verdict; wide && (again == DumpThenAdd || again == RetireIt) {
			t.Errorf("after %s comes %s", a.Verdict, again)
		}
	})
	t.Log(verdicts, aims)
}
