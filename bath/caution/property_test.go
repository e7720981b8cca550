package caution

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestLessKnown checks what three-valued logic promises: taking facts away can open a rule, but never turn "fires" into
// silence or silence into "fires". Rules that speak of what is unknown or unidentified, or of other rules, are not in the
// promise.
func TestLessKnown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		full := drawFacts(t)
		less := full
		forget(t, &less)
		before, after := statesOf(&full), statesOf(&less)
		for i := range compiled {
			if speaksOfGaps(&compiled[i].condition) {
				continue
			}
			if after[i] != unknown && after[i] != before[i] {
				t.Fatalf("%s: %d with all facts, %d with fewer\nall:   %+v\nfewer: %+v", compiled[i].ID, before[i], after[i], full, less)
			}
		}
		checkAnswer(t, full, Judge(full))
		checkAnswer(t, less, Judge(less))
	})
}

func statesOf(f *Facts) (states [ruleCount]truth) {
	var v view
	v.look(f)
	for i := range compiled {
		states[i] = v.eval(&compiled[i].condition)
	}
	return states
}

func speaksOfGaps(n *node) bool {
	return n.op == opUnknown || n.op == opOpen || n.what.has(unidentifiedIndex) ||
		slices.ContainsFunc(n.kids, func(k node) bool { return speaksOfGaps(&k) })
}

// drawFacts draws facts with everything known that the step asks for, and some that it does not.
func drawFacts(t *rapid.T) Facts {
	f := Facts{Purpose: rapid.SampledFrom([]Purpose{Plan, Record}).Draw(t, "purpose")}
	f.Step = Step(rapid.SampledFrom(stepWords).Draw(t, "step"))
	step := bitOf(stepWords, string(f.Step))
	for id := bathSubstances; id < factCount; id++ {
		def := &factList[id]
		if def.asked&step == 0 && rapid.IntRange(0, 3).Draw(t, "skip") > 0 {
			continue
		}
		switch p := f.field(id).(type) {
		case **float64:
			x := rapid.Float64Range(def.min, def.max).Draw(t, def.name)
			if id == bathTempC {
				x = rapid.SampledFrom([]float64{20, 44.9, 45, 60, 70, 80, 90, 106}).Draw(t, def.name)
			}
			*p = &x
		case **bool:
			*p = new(rapid.Bool().Draw(t, def.name))
		case *string:
			*p = rapid.SampledFrom(def.words).Draw(t, def.name)
		case *[]string:
			*p = rapid.SliceOfN(rapid.SampledFrom(substances[:len(substances)-1]), 0, 3).Draw(t, def.name)
		case *[]Earth:
			*p = make([]Earth, rapid.IntRange(0, 2).Draw(t, def.name))
			for i := range *p {
				(*p)[i] = Earth{PH: new(rapid.Float64Range(7, 10).Draw(t, "ph")), Fizz: rapid.SampledFrom(earthFizz.words).Draw(t, "fizz"),
					NitrateMgKg: new(rapid.Float64Range(0, 2000).Draw(t, "nitrate")), Smell: rapid.SampledFrom(earthSmell.words).Draw(t, "smell")}
			}
		}
	}
	return f
}

// forget takes away some facts that the step asks for, some tests of earths, and the identity of some substances. Water
// stays water: whoever can't name a salt can still tell it from water.
func forget(t *rapid.T, f *Facts) {
	step := bitOf(stepWords, string(f.Step))
	drop := func() bool { return rapid.IntRange(0, 3).Draw(t, "drop") == 0 }
	for id := bathSubstances; id < factCount; id++ {
		asked := factList[id].asked&step != 0
		switch p := f.field(id).(type) {
		case **float64:
			if asked && drop() {
				*p = nil
			}
		case **bool:
			if asked && drop() {
				*p = nil
			}
		case *string:
			if asked && drop() {
				*p = ""
			}
		case *[]string:
			if asked && drop() {
				*p = nil
			}
			*p = slices.Clone(*p)
			for i, s := range *p {
				if s != water && drop() {
					(*p)[i] = Unidentified
				}
			}
		case *[]Earth:
			if asked && drop() {
				*p = nil
			}
			*p = slices.Clone(*p)
			for i := range *p {
				e := &(*p)[i]
				if drop() {
					e.PH = nil
				}
				if drop() {
					e.Fizz = ""
				}
				if drop() {
					e.NitrateMgKg = nil
				}
				if drop() {
					e.Smell = ""
				}
			}
		}
	}
}
