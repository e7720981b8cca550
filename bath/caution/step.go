package caution

// A Purpose says whether a step is about to be done or is being written down.
type Purpose string

// The purposes. An empty Purpose is Plan.
const (
	Plan   Purpose = "plan"   // about to be done: rules may refuse it
	Record Purpose = "record" // it happened: stored and marked, never refused
)

// A Step is what is done, or was.
type Step string

// The steps.
const (
	StepRecipe    Step = "recipe" // draw a recipe up, or scale it
	StepMakeUp    Step = "make_up"
	StepWeigh     Step = "weigh"
	StepMix       Step = "mix" // by hand outside the tank: sieve, steep, dissolve, knead
	StepAdd       Step = "add" // to a bath
	StepHeat      Step = "heat"
	StepSoak      Step = "soak"
	StepPaste     Step = "paste" // on a piece
	StepLift      Step = "lift"  // a load out
	StepRinse     Step = "rinse"
	StepDry       Step = "dry" // a piece
	StepOil       Step = "oil"
	StepStore     Step = "store"     // put on a shelf
	StepEvaporate Step = "evaporate" // boil down or burn a bath, liquor, sludge or residue toward dryness
	StepDump      Step = "dump"      // part or all
	StepClean     Step = "clean"     // pickle, degrease, wash up, sweep
	StepMelt      Step = "melt"
	StepFile      Step = "file"
	StepBuff      Step = "buff"
	StepDig       Step = "dig"
	StepTaste     Step = "taste"
)

var stepWords = []string{
	string(StepRecipe), string(StepMakeUp), string(StepWeigh), string(StepMix), string(StepAdd), string(StepHeat),
	string(StepSoak), string(StepPaste), string(StepLift), string(StepRinse), string(StepDry), string(StepOil),
	string(StepStore), string(StepEvaporate), string(StepDump), string(StepClean), string(StepMelt), string(StepFile),
	string(StepBuff), string(StepDig), string(StepTaste),
}

// A wordSet is a set of positions in a fact's list of words.
type wordSet uint64

// at returns the set of the words given, which must all be in list.
func at(list []string, words ...string) wordSet {
	var set wordSet
	for _, w := range words {
		set |= bitOf(list, w)
	}
	return set
}

// bitOf returns the set of one word, empty when list does not hold it.
func bitOf(list []string, word string) wordSet {
	for i, w := range list {
		if w == word {
			return 1 << i
		}
	}
	return 0
}

func steps(words ...Step) wordSet {
	var set wordSet
	for _, w := range words {
		set |= bitOf(stepWords, string(w))
	}
	return set
}
