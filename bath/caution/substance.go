package caution

// Unidentified stands for a substance whose identity is not settled: a bag that says "chloride", a torn label. It may be
// anything, also a mixture, but not water or earth.
const Unidentified = "unidentified"

const (
	water       = "water"
	noneOfThese = "none-of-these" // identified and in no group: soap, glue, dye
)

// A group is a name for substances that share a danger.
type group struct {
	name    string
	members []string
}

// groups has every group of substances. An earth can be in some of them too, by its tests: see earthGroupNamed.
var groups = []group{
	{"ammonium", []string{"ammonium-chloride", "ammonium-sulfate", "ammonium-nitrate", "ammonium-carbonate", "ammonia-water",
		"fertiliser-mix"}},
	{"nitrate", []string{"ammonium-nitrate", "fertiliser-mix", "sodium-nitrate", "potassium-nitrate", "calcium-nitrate",
		"copper-nitrate"}},
	{"nitrite", []string{"sodium-nitrite", "potassium-nitrite"}},
	{"chlorate", []string{"potassium-chlorate", "sodium-chlorate", "potassium-perchlorate"}},
	{"hypochlorite", []string{"sodium-hypochlorite", "calcium-hypochlorite"}},
	{"strong_alkali", []string{"sodium-hydroxide", "potassium-hydroxide", "calcium-hydroxide", "calcium-oxide", "cement",
		"caustic-degreaser"}},
	{"mild_alkali", []string{"potassium-carbonate", "sodium-carbonate", "sodium-bicarbonate", "wood-ash", "calcium-carbonate"}},
	{"carbonate", []string{"ammonium-carbonate", "potassium-carbonate", "sodium-carbonate", "sodium-bicarbonate", "wood-ash",
		"calcium-carbonate"}},
	{"strong_acid", []string{"sulfuric-acid", "hydrochloric-acid", "nitric-acid", "scale-remover"}},
	{"acid_salt", []string{"aluminium-chloride-hexahydrate", "aluminium-chloride", "copper-sulfate", "copper-sulfate-pentahydrate",
		"copper-chloride", "copper-nitrate", "zinc-chloride", "zinc-sulfate", "zinc-sulfate-heptahydrate", "iron-chloride",
		"iron-sulfate"}},
	{"chloride", []string{"ammonium-chloride", "sodium-chloride", "potassium-chloride", "aluminium-chloride-hexahydrate",
		"aluminium-chloride", "copper-chloride", "zinc-chloride", "iron-chloride", "hydrochloric-acid"}},
	{"copper_salt", []string{"copper-sulfate", "copper-sulfate-pentahydrate", "copper-chloride", "copper-nitrate", "copper-acetate"}},
	{"fuel", []string{"linseed-oil", "coconut-oil", "groundnut-oil", "mustard-oil", "other-oil", "oily-rags", "sawdust", "charcoal",
		"husk", "sugar", "paper", "cloth", "straw", "solvent", "sulfur"}},
	{"water_reactive", []string{"aluminium-chloride", "calcium-oxide"}},
	{"fine_zinc", []string{"zinc-dust", "zinc-filings"}},
	{"zinc_body", []string{"zinc-ware"}},
	{"sulfide", []string{"liver-of-sulfur", "lime-sulfur"}},
}

// substances has every substance that a list of facts may hold.
var substances = func() []string {
	var all []string
	seen := map[string]bool{}
	for _, g := range groups {
		for _, m := range g.members {
			if !seen[m] {
				seen[m] = true
				all = append(all, m)
			}
		}
	}
	return append(all, water, noneOfThese, Unidentified)
}()

var substanceIndex = func() map[string]int {
	index := make(map[string]int, len(substances))
	for i, s := range substances {
		index[s] = i
	}
	return index
}()

// A substanceSet is a set of positions in substances, of which there must be at most 128.
type substanceSet [2]uint64

func (s *substanceSet) add(i int)            { s[i/64] |= 1 << (i % 64) }
func (s *substanceSet) remove(i int)         { s[i/64] &^= 1 << (i % 64) }
func (s *substanceSet) has(i int) bool       { return s[i/64]&(1<<(i%64)) != 0 }
func (s *substanceSet) empty() bool          { return s[0]|s[1] == 0 }
func (s *substanceSet) merge(o substanceSet) { s[0] |= o[0]; s[1] |= o[1] }
func (s *substanceSet) meets(o *substanceSet) bool {
	return s[0]&o[0] != 0 || s[1]&o[1] != 0
}

// indexOf returns a substance's position; one that nobody knows counts as unidentified.
func indexOf(name string) int {
	if i, ok := substanceIndex[name]; ok {
		return i
	}
	return substanceIndex[Unidentified]
}

// substancesNamed returns the substances of a group, or the substance of that name.
func substancesNamed(name string) (substanceSet, bool) {
	var set substanceSet
	for _, g := range groups {
		if g.name == name {
			for _, m := range g.members {
				set.add(substanceIndex[m])
			}
			return set, true
		}
	}
	i, ok := substanceIndex[name]
	if ok {
		set.add(i)
	}
	return set, ok
}
