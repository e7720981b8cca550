package caution

// A factID is a fact's place in factList.
type factID uint8

// The facts, in the order in which problems are reported.
const (
	purposeFact factID = iota
	stepFact
	bathSubstances
	bathEarths
	bathTempC
	bathPH
	bathFillFraction
	bathTankMaterial
	bathLid
	bathIdleH
	addSubstances
	addEarths
	addState
	recipeSubstances
	recipeEarths
	recipeLastChloride
	nearSubstances
	spillSubstances
	pieceHollow
	pieceVented
	pieceInlaid
	pieceSurfaceTempC
	pieceMassKg
	placeEnclosed
	placeChildrenNear
	personCount
	personOpenCut
	powerKind
	powerHeaterCovered
	powerCut
	containerLabelled
	containerFoodVessel
	alloyPbPct
	meltAllDry
	oilKind
	oilRags
	factCount
)

// A kind is what a fact holds.
type kind uint8

const (
	numberKind kind = iota
	wholeKind       // a number without a fraction
	flagKind        // true or false, yes or no in conditions
	wordKind
	substancesKind
	earthsKind
)

// A factDef is one row of the facts that a step can have.
type factDef struct {
	name     string // as in files and conditions; the part before the dot is the object
	kind     kind
	min, max float64 // of a number, both allowed
	unit     string
	words    []string // of a word or flag
	asked    wordSet  // the steps that ask for it
	askedAs  string   // as "Not known: ..." asks for it
}

var (
	flagWords     = []string{"no", "yes"}
	tankMaterials = []string{"galvanised-steel", "aluminium", "copper", "brass", "mild-steel", "stainless-steel",
		"enamelled-steel", "stoneware", "glass", "polypropylene", "pvdf", "titanium", "other"}
	dryingOils    = []string{"linseed", "tung", "walnut", "poppyseed", "hempseed", "perilla", "sunflower", "soybean"}
	otherOils     = []string{"coconut", "groundnut", "mustard", "sesame", "mineral", "wax"}
	chlorideWords = []string{"ammonium-chloride", "aluminium-chloride-hexahydrate", "aluminium-chloride", "none"}
	allSteps      = steps(StepRecipe, StepMakeUp, StepWeigh, StepMix, StepAdd, StepHeat, StepSoak, StepPaste, StepLift, StepRinse,
		StepDry, StepOil, StepStore, StepEvaporate, StepDump, StepClean, StepMelt, StepFile, StepBuff, StepDig, StepTaste)
)

var factList = [factCount]factDef{
	purposeFact: {name: "purpose", kind: wordKind, words: []string{string(Plan), string(Record)}},
	stepFact:    {name: "step", kind: wordKind, words: stepWords, asked: allSteps, askedAs: "the step"},

	bathSubstances: {name: "bath.substances", kind: substancesKind,
		asked: steps(StepAdd, StepHeat, StepSoak, StepEvaporate, StepDump), askedAs: "what has ever gone into the bath"},
	bathEarths: {name: "bath.earths", kind: earthsKind,
		asked: steps(StepAdd, StepHeat, StepSoak, StepEvaporate), askedAs: "which earths are in the bath"},
	bathTempC: {name: "bath.temp_c", kind: numberKind, min: -20, max: 200, unit: "°C",
		asked: steps(StepRecipe, StepMakeUp, StepAdd, StepHeat, StepSoak, StepLift, StepEvaporate), askedAs: "the bath's temperature"},
	bathPH: {name: "bath.ph", kind: numberKind, max: 14,
		asked: steps(StepAdd, StepHeat, StepSoak), askedAs: "the bath's pH"},
	bathFillFraction: {name: "bath.fill_fraction", kind: numberKind, max: 1,
		asked: steps(StepMakeUp), askedAs: "how full the tank gets"},
	bathTankMaterial: {name: "bath.tank_material", kind: wordKind, words: tankMaterials,
		asked: steps(StepMakeUp, StepHeat), askedAs: "what the tank is made of"},
	bathLid: {name: "bath.lid", kind: wordKind, words: []string{"none", "loose", "tight"},
		asked: steps(StepHeat, StepSoak), askedAs: "the lid"},
	bathIdleH: {name: "bath.idle_h", kind: numberKind, max: 100000, unit: "h",
		asked: steps(StepHeat), askedAs: "how long the bath has stood"},

	addSubstances: {name: "add.substances", kind: substancesKind,
		asked: steps(StepWeigh, StepMix, StepAdd, StepPaste, StepStore, StepDump, StepClean), askedAs: "what goes in"},
	addEarths: {name: "add.earths", kind: earthsKind,
		asked: steps(StepWeigh, StepMix, StepAdd, StepPaste), askedAs: "which earth goes in"},
	addState: {name: "add.state", kind: wordKind, words: []string{"dry", "damp", "liquid"},
		asked: steps(StepWeigh, StepMix, StepAdd), askedAs: "dry, damp or liquid"},

	recipeSubstances: {name: "recipe.substances", kind: substancesKind,
		asked: steps(StepRecipe, StepMakeUp), askedAs: "the recipe's salts"},
	recipeEarths: {name: "recipe.earths", kind: earthsKind,
		asked: steps(StepRecipe, StepMakeUp), askedAs: "the recipe's earth"},
	recipeLastChloride: {name: "recipe.last_chloride", kind: wordKind, words: chlorideWords,
		asked: steps(StepMakeUp, StepWeigh, StepMix, StepAdd), askedAs: "which chloride was used last"},

	nearSubstances: {name: "near.substances", kind: substancesKind,
		asked: steps(StepStore, StepClean, StepFile, StepBuff), askedAs: "what else stands here"},
	spillSubstances: {name: "spill.substances", kind: substancesKind,
		asked: steps(StepClean), askedAs: "what was spilled"},

	pieceHollow: {name: "piece.hollow", kind: flagKind, words: flagWords,
		asked: steps(StepSoak), askedAs: "whether a piece is hollow"},
	pieceVented: {name: "piece.vented", kind: flagKind, words: flagWords,
		asked: steps(StepSoak), askedAs: "whether it has open holes"},
	pieceInlaid: {name: "piece.inlaid", kind: flagKind, words: flagWords,
		asked: steps(StepSoak, StepStore), askedAs: "whether it is inlaid"},
	pieceSurfaceTempC: {name: "piece.surface_temp_c", kind: numberKind, min: -20, max: 1500, unit: "°C",
		asked: steps(StepPaste, StepOil), askedAs: "how hot the piece is"},
	pieceMassKg: {name: "piece.mass_kg", kind: numberKind, max: 10000, unit: "kg",
		asked: steps(StepLift), askedAs: "how heavy the piece is"},

	placeEnclosed: {name: "place.enclosed", kind: flagKind, words: flagWords,
		asked: steps(StepAdd, StepHeat, StepSoak, StepEvaporate), askedAs: "whether the room is closed"},
	placeChildrenNear: {name: "place.children_near", kind: flagKind, words: flagWords,
		asked:   steps(StepMakeUp, StepAdd, StepHeat, StepSoak, StepLift, StepStore, StepEvaporate, StepDump),
		askedAs: "whether children are near"},
	personCount: {name: "person.count", kind: wholeKind, max: 1000,
		asked: steps(StepAdd, StepHeat, StepSoak, StepLift, StepEvaporate, StepClean), askedAs: "how many people are there"},
	personOpenCut: {name: "person.open_cut", kind: flagKind, words: flagWords,
		asked: steps(StepDig), askedAs: "cuts on the hands"},

	powerKind: {name: "power.kind", kind: wordKind, words: []string{"mains", "battery", "gas", "wood", "charcoal", "other", "none"},
		asked: steps(StepHeat, StepSoak, StepLift, StepRinse), askedAs: "what heats the bath"},
	powerHeaterCovered: {name: "power.heater_covered", kind: flagKind, words: flagWords,
		asked: steps(StepHeat, StepSoak), askedAs: "whether the heater is covered"},
	powerCut: {name: "power.cut", kind: flagKind, words: flagWords,
		asked: steps(StepHeat, StepSoak), askedAs: "whether the power failed"},

	containerLabelled: {name: "container.labelled", kind: flagKind, words: flagWords,
		asked: steps(StepWeigh, StepMix, StepAdd, StepStore), askedAs: "whether it is labelled"},
	containerFoodVessel: {name: "container.food_vessel", kind: flagKind, words: flagWords,
		asked: steps(StepWeigh, StepMix, StepAdd, StepStore), askedAs: "whether it is a kitchen vessel"},

	alloyPbPct: {name: "alloy.pb_pct", kind: numberKind, max: 100, unit: "%",
		asked: steps(StepFile, StepBuff, StepMelt), askedAs: "lead in the alloy"},
	meltAllDry: {name: "melt.all_dry", kind: flagKind, words: flagWords,
		asked: steps(StepMelt), askedAs: "whether ladle, mould and scrap are dry"},
	oilKind: {name: "oil.kind", kind: wordKind, words: append(append([]string{}, dryingOils...), otherOils...),
		asked: steps(StepOil), askedAs: "which oil"},
	oilRags: {name: "oil.rags", kind: wordKind, words: []string{"none", "some", "heap"},
		asked: steps(StepOil), askedAs: "where the rags are"},
}

// factNamed returns the fact of a name.
func factNamed(name string) (factID, bool) {
	for id := range factList {
		if factList[id].name == name {
			return factID(id), true
		}
	}
	return 0, false
}

// field returns a pointer to the field that holds a fact: a **float64, **bool, *string, *[]string or *[]Earth.
func (f *Facts) field(id factID) any {
	switch id {
	case purposeFact:
		return (*string)(&f.Purpose)
	case stepFact:
		return (*string)(&f.Step)
	case bathSubstances:
		return &f.Bath.Substances
	case bathEarths:
		return &f.Bath.Earths
	case bathTempC:
		return &f.Bath.TempC
	case bathPH:
		return &f.Bath.PH
	case bathFillFraction:
		return &f.Bath.FillFraction
	case bathTankMaterial:
		return &f.Bath.TankMaterial
	case bathLid:
		return &f.Bath.Lid
	case bathIdleH:
		return &f.Bath.IdleH
	case addSubstances:
		return &f.Add.Substances
	case addEarths:
		return &f.Add.Earths
	case addState:
		return &f.Add.State
	case recipeSubstances:
		return &f.Recipe.Substances
	case recipeEarths:
		return &f.Recipe.Earths
	case recipeLastChloride:
		return &f.Recipe.LastChloride
	case nearSubstances:
		return &f.Near.Substances
	case spillSubstances:
		return &f.Spill.Substances
	case pieceHollow:
		return &f.Piece.Hollow
	case pieceVented:
		return &f.Piece.Vented
	case pieceInlaid:
		return &f.Piece.Inlaid
	case pieceSurfaceTempC:
		return &f.Piece.SurfaceTempC
	case pieceMassKg:
		return &f.Piece.MassKg
	case placeEnclosed:
		return &f.Place.Enclosed
	case placeChildrenNear:
		return &f.Place.ChildrenNear
	case personCount:
		return &f.Person.Count
	case personOpenCut:
		return &f.Person.OpenCut
	case powerKind:
		return &f.Power.Kind
	case powerHeaterCovered:
		return &f.Power.HeaterCovered
	case powerCut:
		return &f.Power.Cut
	case containerLabelled:
		return &f.Container.Labelled
	case containerFoodVessel:
		return &f.Container.FoodVessel
	case alloyPbPct:
		return &f.Alloy.PbPct
	case meltAllDry:
		return &f.Melt.AllDry
	case oilKind:
		return &f.Oil.Kind
	case oilRags:
		return &f.Oil.Rags
	}
	return nil
}
