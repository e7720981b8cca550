package caution

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"blackbath/bath/input"
)

// Check returns nil when every fact that is given is one that the facts allow, and the step is there. Else the error is an
// [input.Problems] with the field, the value and what is allowed.
func (f Facts) Check() error {
	var problems input.Problems
	f.check(&problems)
	return problems.Err()
}

func (f *Facts) check(problems *input.Problems) {
	if f.Step == "" && len(problems.On(factList[stepFact].name)) == 0 {
		problems.Add(factList[stepFact].name, "", factList[stepFact].allowed())
	}
	for id := range factCount {
		def := &factList[id]
		switch p := f.field(id).(type) {
		case **float64:
			checkNumber(problems, def.name, *p, def)
		case *string:
			checkWord(problems, def.name, *p, def.words)
		case *[]string:
			for i, s := range *p {
				checkSubstance(problems, item(def.name, i), s)
			}
		case *[]Earth:
			for i := range *p {
				checkEarth(problems, item(def.name, i), &(*p)[i])
			}
		}
	}
}

func item(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

func checkNumber(problems *input.Problems, field string, p *float64, def *factDef) {
	if p == nil {
		return
	}
	x := *p
	if x >= def.min && x <= def.max && (def.kind != wholeKind || x == math.Trunc(x)) {
		return
	}
	problems.Add(field, figure(x), def.allowed())
}

func checkWord(problems *input.Problems, field, word string, words []string) {
	if word != "" && !slices.Contains(words, word) {
		problems.Add(field, strconv.Quote(word), oneOf(words))
	}
}

func checkSubstance(problems *input.Problems, field, name string) {
	if _, known := substanceIndex[name]; known {
		return
	}
	p := input.Problem{Field: field, Got: strconv.Quote(name), Allowed: oneOf(substances)}
	if name == "chloride" || name == "salt" {
		p.Hint = input.Say("Say which salt it is, by formula and CAS number, or %s when that is not settled", Unidentified)
	}
	*problems = append(*problems, p)
}

// The parts of an earth, with what they allow.
var (
	earthName    = factDef{name: "name", kind: wordKind}
	earthPH      = factDef{name: "ph", kind: numberKind, max: 14}
	earthFizz    = factDef{name: "fizz", kind: wordKind, words: []string{"none", "slow", "lively"}}
	earthNitrate = factDef{name: "nitrate_mg_kg", kind: numberKind, max: largestNitrateMgKg, unit: "mg/kg"}
	earthSmell   = factDef{name: "smell", kind: wordKind, words: []string{"none", "rotten", "other"}}
)

func checkEarth(problems *input.Problems, field string, e *Earth) {
	checkNumber(problems, field+"."+earthPH.name, e.PH, &earthPH)
	checkWord(problems, field+"."+earthFizz.name, e.Fizz, earthFizz.words)
	checkNumber(problems, field+"."+earthNitrate.name, e.NitrateMgKg, &earthNitrate)
	checkWord(problems, field+"."+earthSmell.name, e.Smell, earthSmell.words)
}

// allowed says what a fact may be.
func (def *factDef) allowed() input.Text {
	switch def.kind {
	case numberKind, wholeKind:
		what := "a number from %s to %s"
		if def.kind == wholeKind {
			what = "a whole number from %s to %s"
		}
		if def.unit == "" {
			return input.Say(what, figure(def.min), figure(def.max))
		}
		return input.Say(what+" %s", figure(def.min), figure(def.max), def.unit)
	case flagKind:
		return input.Say("true or false, without quotation marks")
	case substancesKind:
		return input.Say("a list of substances, between [ and ]")
	case earthsKind:
		return input.Say("a list of earths, between [ and ], each an object with any of %s", strings.Join(earthKeys, ", "))
	}
	if def.words == nil {
		return input.Say("a text in quotation marks")
	}
	return oneOf(def.words)
}

func oneOf(words []string) input.Text { return input.Say("one of %s", strings.Join(words, ", ")) }
