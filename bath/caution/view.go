package caution

import "math"

// A factState says what is known about a fact.
type factState uint8

const (
	factBeside  factState = iota // absent, at a step that does not ask for it
	factUnknown                  // absent, at a step that asks for it
	factKnown
)

// A value is one fact, ready for conditions.
type value struct {
	state      factState
	number     float64
	word       wordSet // the one word; empty for a word that nobody knows
	text       string
	substances []string
	held       substanceSet // of substances
	earths     []Earth
}

func (val *value) unidentified() bool { return val.held.has(unidentifiedIndex) }

var unidentifiedIndex = substanceIndex[Unidentified]

// A view is the facts of one step, ready for conditions.
type view struct {
	values [factCount]value
	shown  [factCount]string // "bath.temp_c = 92", made when first needed
}

// look reads the facts into the view.
func (v *view) look(f *Facts) {
	step := bitOf(stepWords, string(f.Step))
	for id := stepFact; id < factCount; id++ {
		val, def := &v.values[id], &factList[id]
		given := val.read(def, f.field(id))
		switch {
		case given:
			val.state = factKnown
		case def.asked&step != 0:
			val.state = factUnknown
		}
	}
	if step&recipeSteps == 0 {
		// At other steps the recipe's lists are in no set, even when they are given.
		v.values[recipeSubstances] = value{}
		v.values[recipeEarths] = value{}
	}
}

// read takes a value out of its field and says whether there was one.
func (val *value) read(def *factDef, field any) bool {
	switch p := field.(type) {
	case **float64:
		if *p == nil || math.IsNaN(**p) {
			return false
		}
		val.number = **p
	case **bool:
		if *p == nil {
			return false
		}
		val.text = flagWords[0]
		if **p {
			val.text = flagWords[1]
		}
		val.word = bitOf(def.words, val.text)
	case *string:
		if *p == "" {
			return false
		}
		val.text = *p
		val.word = bitOf(def.words, *p)
	case *[]string:
		if *p == nil {
			return false
		}
		val.substances = *p
		for _, s := range *p {
			val.held.add(indexOf(s))
		}
	case *[]Earth:
		if *p == nil {
			return false
		}
		val.earths = *p
	}
	return true
}
