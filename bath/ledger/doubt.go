package ledger

// The standard doubts of what goes into the sum. They are engineering choices, not published: the same for every workshop until
// its own log says better.
const (
	waterDoubt        = 0.01 // of what was poured
	saltDoubt         = 0.01 // of the pure mass
	saltNoAssayDoubt  = 0.03
	earthDoubt        = 0.02 // of the dry mass
	earthNoMoistDoubt = 0.10
	mudDoubt          = 0.03 // of all that is in it
	dumpDoubt         = 0.05 // of what went
	weighedDragDoubt  = 0.05 // weighed or in litres
	trappedDoubt      = 0.30
	dragDoubt         = 0.5 // per area; drag-out is known within a factor of 2
	dragLearnedDoubt  = 0.2
	evaporationDoubt  = 0.3
	learnedLeastDoubt = 0.1
	ammoniaDoubt      = 0.5
	zincDoubt         = 0.3 // per area
	metalLossDoubt    = 0.05
	believedDoubt     = 0.2 // of each salt, when a second reading contradicts in the same sense

	levelSDCM        = 0.2
	levelVarianceL2  = 1e-12
	densitySDKgL     = 0.0025
	conductivityPct  = 5.0
	markPouredG      = 1000.0 // water poured to a mark is known to itself and this
	contradictsAt    = 3.0    // standard deviations
	leastMarginTimes = 5.0    // evaporation over the stick's error from which a spell teaches
)

// Further choices of this account.
const (
	dragOutLPerM2   = 0.3     // of a hand-lifted piece after 10 s of dripping
	leastDragFactor = 0.1     // 1 + doubt of drag-out
	alloyGPerCM3    = 7.2     // that pieces displace
	hotC            = 60.0    // hours from here on count as hot
	warmC           = 40.0    // from here on evaporation goes in short steps
	lineHours       = 4.0     // an unheated bath goes straight to its next point within this
	warmBeyondC     = 2.0     // a measured temperature this far above boiling warns
	carbonateGMol   = 100.086 // CaCO3
	thinnedShare    = 0.02
	nearSaturation  = 0.8
	leastDilution   = 20.0
	ratioMemory     = 9 // newest ratios that make the factor
	leastRatios     = 3 // fewer teach no doubt
	lowestRatio     = 0.1
	highestRatio    = 10.0
)
