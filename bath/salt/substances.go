package salt

// parent is an anhydrous substance: what is left of every form once dissolved.
type parent int

const (
	ammoniumChloride parent = iota
	ammoniumSulfate
	ammoniumNitrate
	sodiumChloride
	sodiumNitrate
	potassiumChloride
	potassiumNitrate
	aluminiumChloride
	copperSulfate
	zincChloride
	zincSulfate
	parentCount
)

// substance is what is known of a parent.
type substance struct {
	formula          string
	molarMassGPerMol float64
	// particles is what a formula counts for in the ideal boiling rule.
	particles int
	// solubility: x in C, y in g of anhydrous salt per 100 g of all the water.
	solubility []point
	density    fit
	// boiling: x in g of anhydrous salt per 100 g of all the water, y in C above
	// the boiling point of water at 101.325 kPa. Empty: the ideal rule.
	boiling []point
}

// substances is indexed by parent. Where the figures come from:
//
//   - molar masses: sums of the IUPAC abridged standard atomic weights; they agree
//     with the table of the CRC Handbook of Chemistry and Physics, 102nd ed. 2021,
//     to 0.03 %.
//   - solubility: CRC Handbook of Chemistry and Physics, 98th ed. 2017, "Aqueous
//     solubility of inorganic compounds at various temperatures", mass-% figures
//     turned into g per 100 g of water, 100w/(100-w). The basis is the anhydrous
//     salt also where the crystals in contact with the solution are a hydrate.
//   - density: M. Laliberte, "A model for calculating the heat capacity of aqueous
//     solutions, with updated density and viscosity data", J. Chem. Eng. Data 54
//     (2009) 1725-1760.
//   - boiling: rise of the boiling point by dissolved salts, after Gerlach,
//     reprinted in the Smithsonian Physical Tables (from memory). Aluminium
//     chloride, copper sulfate, zinc chloride and zinc sulfate have no rows.
//   - particles: ions per formula; 1 for the sulfates of copper and zinc, whose
//     ions stay in pairs.
var substances = [parentCount]substance{
	ammoniumChloride: {
		formula: "NH4Cl", molarMassGPerMol: 53.489, particles: 2,
		solubility: []point{
			{0, 29.74}, {10, 33.55}, {20, 37.49}, {25, 39.55}, {30, 41.62}, {40, 45.9}, {50, 50.38}, {60, 55.01},
			{70, 59.9}, {80, 65.02}, {90, 70.44}, {100, 76.18},
		},
		density: fit{
			c0: 16.8882196383907, c1: 318.560293047784, c2: 5.08655606958672,
			c3: -0.0150616503055142, c4: -1769.12237165588,
			minC: 12.5, maxC: 100, maxFraction: 0.4,
		},
		boiling: []point{
			{0, 0}, {6.5, 1}, {12.8, 2}, {19.0, 3}, {24.7, 4}, {29.7, 5}, {39.6, 7}, {56.2, 10},
			{88.5, 15},
		},
	},
	ammoniumSulfate: {
		formula: "(NH4)2SO4", molarMassGPerMol: 132.134, particles: 3,
		solubility: []point{
			{0, 70.36}, {10, 72.71}, {20, 75.13}, {25, 76.37}, {30, 77.94}, {40, 80.83}, {50, 83.82}, {60, 87.27},
			{70, 90.48}, {80, 94.17}, {90, 98.02}, {100, 102.02},
		},
		density: fit{
			c0: 618.24075073611, c1: 966.128116121243, c2: 0.602706202526747,
			c3: 0.0016279026793269, c4: 667.573420648081,
			minC: 15, maxC: 55, maxFraction: 0.42919,
		},
		boiling: []point{
			{0, 0}, {15.4, 1}, {30.1, 2}, {44.2, 3}, {58.0, 4}, {71.8, 5}, {99.1, 7}, {115.3, 8.2},
		},
	},
	ammoniumNitrate: {
		formula: "NH4NO3", molarMassGPerMol: 80.043, particles: 2,
		solubility: []point{
			{0, 117.39}, {10, 150.63}, {20, 189.86}, {25, 212.5}, {30, 236.7}, {40, 289.11}, {50, 348.43}, {60, 420.83},
			{70, 502.41}, {80, 604.23}, {90, 747.46}, {100, 930.93},
		},
		density: fit{
			c0: 1412.56319897369, c1: 1214.07575155077, c2: 0.705071278089242,
			c3: 0.00117760862220194, c4: 107.081780208688,
			minC: 25, maxC: 95, maxFraction: 0.7874,
		},
		boiling: []point{
			{0, 0}, {10, 1}, {20, 2}, {30, 3}, {41, 4}, {52, 5}, {74, 7}, {108, 10},
			{172, 15}, {248, 20},
		},
	},
	sodiumChloride: {
		formula: "NaCl", molarMassGPerMol: 58.44, particles: 2,
		solubility: []point{
			{0, 35.65}, {10, 35.72}, {20, 35.89}, {25, 35.96}, {30, 36.09}, {40, 36.37}, {50, 36.69}, {60, 37.04},
			{70, 37.46}, {80, 37.93}, {90, 38.47}, {100, 38.99},
		},
		density: fit{
			c0: -0.00324112223655149, c1: 0.0636354335906616, c2: 1.01371399467365,
			c3: 0.0145951015210159, c4: 3317.34854426537,
			minC: 0, maxC: 140, maxFraction: 0.2659,
		},
		boiling: []point{
			{0, 0}, {6.6, 1}, {12.4, 2}, {17.2, 3}, {21.5, 4}, {25.5, 5}, {33.5, 7}, {40.7, 8.8},
		},
	},
	sodiumNitrate: {
		formula: "NaNO3", molarMassGPerMol: 84.994, particles: 2,
		solubility: []point{
			{0, 73.01}, {10, 79.86}, {20, 87.27}, {25, 91.2}, {30, 95.31}, {40, 104.08}, {50, 113.68}, {60, 123.71},
			{70, 135.29}, {80, 147.52}, {90, 161.1}, {100, 176.24},
		},
		density: fit{
			c0: 22.3499264791804, c1: 66.4478689005725, c2: 0.989888301509443,
			c3: 0.00947165097909636, c4: 1971.5514625204,
			minC: 0, maxC: 100, maxFraction: 0.48919,
		},
		boiling: []point{
			{0, 0}, {9.0, 1}, {18.5, 2}, {28.0, 3}, {38.0, 4}, {48.0, 5}, {68.0, 7}, {99.5, 10},
			{156.0, 15}, {222.0, 20},
		},
	},
	potassiumChloride: {
		formula: "KCl", molarMassGPerMol: 74.548, particles: 2,
		solubility: []point{
			{0, 27.78}, {10, 30.91}, {20, 34.03}, {25, 35.54}, {30, 37.06}, {40, 40.04}, {50, 42.94}, {60, 45.77},
			{70, 48.5}, {80, 51.19}, {90, 53.82}, {100, 56.37},
		},
		density: fit{
			c0: -0.855928945959145, c1: 6.04073571306402, c2: 2.81787416217166,
			c3: 0.0253924645877338, c4: 2681.61723465886,
			minC: 5, maxC: 125, maxFraction: 0.26428,
		},
		boiling: []point{
			{0, 0}, {9.2, 1}, {16.7, 2}, {23.4, 3}, {29.9, 4}, {36.2, 5}, {48.4, 7}, {57.4, 8.5},
		},
	},
	potassiumNitrate: {
		formula: "KNO3", molarMassGPerMol: 101.102, particles: 2,
		solubility: []point{
			{0, 13.64}, {10, 21.36}, {20, 31.93}, {25, 38.31}, {30, 45.56}, {40, 62.87}, {50, 84.16}, {60, 109.21},
			{70, 138.1}, {80, 170.27}, {90, 205.81}, {100, 242.47},
		},
		density: fit{
			c0: 1.49068709973892, c1: 6.67292354651383, c2: 1.47150749460911,
			c3: 0.0155872679453073, c4: 2539.22687484937,
			minC: 5, maxC: 95, maxFraction: 0.28397,
		},
		boiling: []point{
			{0, 0}, {15.2, 1}, {31.0, 2}, {47.5, 3}, {64.5, 4}, {82.0, 5}, {120.5, 7}, {188.5, 10},
			{338.5, 15},
		},
	},
	aluminiumChloride: {
		formula: "AlCl3", molarMassGPerMol: 133.332, particles: 4,
		solubility: []point{
			{0, 44.59}, {10, 44.74}, {20, 44.99}, {25, 45.14}, {30, 45.31}, {40, 45.71}, {50, 46.2}, {60, 46.78},
			{70, 47.43}, {80, 48.17}, {90, 49.03}, {100, 49.97},
		},
		density: fit{
			c0: -63.5506457736032, c1: 338.780498541295, c2: 0.162759786321933,
			c3: 0.0153181315946676, c4: 1539.83480739683,
			minC: 18, maxC: 25, maxFraction: 0.19356,
		},
	},
	copperSulfate: {
		formula: "CuSO4", molarMassGPerMol: 159.602, particles: 1,
		solubility: []point{
			{0, 14.16}, {10, 16.82}, {20, 20.05}, {25, 21.95}, {30, 23.92}, {40, 28.53}, {50, 34.05}, {60, 40.45},
			{70, 47.93}, {80, 56.99}, {90, 67.5}, {100, 76.99},
		},
		density: fit{
			c0: -1.12078294150285e-06, c1: 6.06850590612117e-07, c2: -0.118863232463814,
			c3: 0.00378050075860551, c4: 4763.96073964247,
			minC: 10, maxC: 60, maxFraction: 0.2844,
			// The divisor is zero at 0.5415. A solution saturated at 100 C, the
			// strongest there is, has 0.435.
			holdFraction: 0.435,
		},
	},
	zincChloride: {
		formula: "ZnCl2", molarMassGPerMol: 136.28, particles: 3,
		solubility: []point{
			{10, 327.35}, {20, 376.19}, {25, 407.61}, {30, 437.63}, {40, 449.45}, {50, 468.18}, {60, 488.24}, {70, 513.5},
			{80, 541.03}, {90, 575.68}, {100, 614.29},
		},
		density: fit{
			c0: 2048.25617083301, c1: 367.89930516684, c2: -0.00687080489664351,
			c3: 0.00118355512010183, c4: 505.031662947486,
			minC: 15, maxC: 75, maxFraction: 0.51952,
		},
	},
	zincSulfate: {
		formula: "ZnSO4", molarMassGPerMol: 161.436, particles: 1,
		solubility: []point{
			{0, 41.04}, {10, 47.06}, {20, 53.85}, {25, 57.73}, {30, 61.81}, {40, 70.36}, {50, 75.44}, {60, 72.71},
			{70, 69.49}, {80, 66.39}, {90, 63.4}, {100, 60.26},
		},
		density: fit{
			c0: 19.3998326251204, c1: 36.9810552705442, c2: -0.088765784769985,
			c3: 0.0010689313754713, c4: 2058.60217737214,
			minC: 15, maxC: 60, maxFraction: 0.36772,
		},
	},
}
