package ledger

import (
	"math"

	"blackbath/bath/salt"
)

// An Ion is one of those that the account carries.
type Ion string

// ions are in the order of the state.
var ions = [ionCount]struct {
	name      Ion
	molarMass float64 // g/mol: IUPAC abridged standard atomic weights, as in the catalogue of salts
	charge    float64
	// conductivity is that of one equivalent at infinite dilution in water of 25 °C, S cm²/mol: CRC Handbook of Chemistry and
	// Physics, "Ionic conductivity and diffusion at infinite dilution"; Na, Cl, NO3, SO4, Zn (from memory).
	conductivity float64
}{
	ammonium:  {"ammonium", 18.039, 1, 73.5},
	chloride:  {"chloride", 35.45, 1, 76.3},
	sodium:    {"sodium", 22.99, 1, 50.1},
	potassium: {"potassium", 39.098, 1, 73.5},
	nitrate:   {"nitrate", 62.004, 1, 71.4},
	copper:    {"copper", 63.546, 2, 53.6},
	sulfate:   {"sulfate", 96.056, 2, 80.0},
	aluminium: {"aluminium", 26.982, 3, 61},
	zinc:      {"zinc", 65.38, 2, 52.8},
	calcium:   {"calcium", 40.078, 2, 59.5},
}

// Places of the ions among the ions.
const (
	ammonium = iota
	chloride
	sodium
	potassium
	nitrate
	copper
	sulfate
	aluminium
	zinc
	calcium
	ionCount
)

// A pair is one anhydrous salt by its ions.
type pair struct {
	substance       int // place in a salt.Liquor
	cation, anion   int
	cations, anions float64 // per formula
	molarMass       float64 // g/mol, anhydrous
}

// pairs are all anhydrous salts, in the order in which ions are paired after the recipe's own.
var pairs = []struct {
	id              salt.ID
	cation, anion   int
	cations, anions float64
}{
	{salt.AmmoniumChloride, ammonium, chloride, 1, 1},
	{salt.SodiumChloride, sodium, chloride, 1, 1},
	{salt.PotassiumChloride, potassium, chloride, 1, 1},
	{salt.AluminiumChlorideHexahydrate, aluminium, chloride, 1, 3},
	{salt.ZincChloride, zinc, chloride, 1, 2},
	{salt.AmmoniumNitrate, ammonium, nitrate, 1, 1},
	{salt.SodiumNitrate, sodium, nitrate, 1, 1},
	{salt.PotassiumNitrate, potassium, nitrate, 1, 1},
	{salt.AmmoniumSulfate, ammonium, sulfate, 2, 1},
	{salt.CopperSulfate, copper, sulfate, 1, 1},
	{salt.ZincSulfate, zinc, sulfate, 1, 1},
}

// pairOf is the pair of each substance, by its place in a salt.Liquor.
var pairOf = func() [salt.SubstanceCount]pair {
	var by [salt.SubstanceCount]pair
	for _, p := range pairs {
		s := form(p.id)
		by[s.Substance()] = pair{s.Substance(), p.cation, p.anion, p.cations, p.anions, s.MolarMassGPerMol / s.HydrateFactor()}
	}
	return by
}()

// form is a salt whose name has been checked.
func form(id salt.ID) salt.Salt {
	s, _ := salt.Lookup(string(id))
	return s
}

// pairing is how a bath's ions are named as salts: the order of density, volume, boiling and solubility, and the recipe's own.
type pairing struct {
	order  [salt.SubstanceCount]pair
	recipe []pair
	forms  []salt.Salt // of recipe
}

func newPairing(r *Recipe) pairing {
	p := pairing{}
	n := 0
	var taken [salt.SubstanceCount]bool
	take := func(substance int) {
		if !taken[substance] {
			taken[substance] = true
			p.order[n] = pairOf[substance]
			n++
		}
	}
	for _, s := range r.Salts {
		f := form(s.Salt)
		p.forms = append(p.forms, f)
		p.recipe = append(p.recipe, pairOf[f.Substance()])
		take(f.Substance())
	}
	for _, s := range pairs {
		take(form(s.id).Substance())
	}
	return p
}

// liquor pairs the ions: each anhydrous salt in turn takes all that its scarcer ion allows.
func (p *pairing) liquor(x *amounts) salt.Liquor {
	l := salt.Liquor{WaterG: x[waterAt]}
	left := [ionCount]float64(x[ionsAt:])
	for i := range p.order {
		s := &p.order[i]
		if left[s.cation] <= 0 || left[s.anion] <= 0 {
			continue
		}
		byCation, byAnion := left[s.cation]/s.cations, left[s.anion]/s.anions
		mol := byCation
		if byAnion < byCation {
			mol = byAnion
			left[s.cation] -= mol * s.cations
			left[s.anion] = 0
		} else {
			left[s.anion] -= mol * s.anions
			left[s.cation] = 0
		}
		l.SaltG[s.substance] = mol * s.molarMass
	}
	for i, mol := range left {
		l.StrayG += max(mol, 0) * ions[i].molarMass
	}
	return l
}

// A combination is a salt's moles as a linear combination of the ions' moles.
type combination [ionCount]float64

func (c *combination) of(x *amounts) float64 {
	sum := 0.0
	for i, k := range c {
		sum += k * x[ionsAt+i]
	}
	return sum
}

// anionGivesLess: a salt goes by its cation unless the anion gives this much less.
const anionGivesLess = 1e-3

// split names the ions as the recipe's salts. A salt is resolved when its cation, or its anion, is in no other unresolved salt;
// its moles are what the resolved salts leave of that ion. The moles are not cut at 0. left are the places of salts that form a
// ring and cannot be told apart.
func (p *pairing) split(x *amounts, out []combination) (left []int) {
	resolved := make([]bool, len(p.recipe))
	for progress := true; progress; {
		progress = false
		for i := range p.recipe {
			if resolved[i] {
				continue
			}
			c, ok := p.resolve(i, resolved, x, out)
			if ok {
				out[i], resolved[i], progress = c, true, true
			}
		}
	}
	for i, done := range resolved {
		if !done {
			left = append(left, i)
		}
	}
	return left
}

func (p *pairing) resolve(i int, resolved []bool, x *amounts, out []combination) (combination, bool) {
	s := &p.recipe[i]
	byCation, byAnion := true, true
	for j := range p.recipe {
		if j != i && !resolved[j] {
			byCation = byCation && p.recipe[j].cation != s.cation
			byAnion = byAnion && p.recipe[j].anion != s.anion
		}
	}
	cation, anion := p.remainder(s.cation, s.cations, resolved, out), p.remainder(s.anion, s.anions, resolved, out)
	switch {
	case byCation && byAnion:
		mol := cation.of(x)
		if anion.of(x) < mol-anionGivesLess*math.Abs(mol) {
			return anion, true
		}
		return cation, true
	case byCation:
		return cation, true
	case byAnion:
		return anion, true
	}
	return combination{}, false
}

// remainder is what the resolved salts leave of an ion, over its count in a salt.
func (p *pairing) remainder(ion int, count float64, resolved []bool, out []combination) combination {
	var c combination
	c[ion] = 1
	for j := range p.recipe {
		if !resolved[j] {
			continue
		}
		n := 0.0
		if p.recipe[j].cation == ion {
			n = p.recipe[j].cations
		} else if p.recipe[j].anion == ion {
			n = p.recipe[j].anions
		}
		if n != 0 {
			for k := range c {
				c[k] -= n * out[j][k]
			}
		}
	}
	for k := range c {
		c[k] /= count
	}
	return c
}

// ring returns the salts of a recipe that cannot be told apart by their ions.
func ring(salts []SaltWindow) []salt.ID {
	p := newPairing(&Recipe{Salts: salts})
	var left []salt.ID
	for _, i := range p.split(&amounts{}, make([]combination, len(salts))) {
		left = append(left, salts[i].Salt)
	}
	return left
}
