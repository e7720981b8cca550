package caution

import "math"

// A setID names a set of lists that conditions speak of.
type setID uint8

const (
	incomingSet setID = iota // what this step brings in
	liquorSet                // what the bath holds once this is done
	aroundSet                // liquor and what stands near
	spillSet
	setCount
)

// setList has the sets: their names and lists, each in the order in which reasons name them.
var setList = [setCount]struct {
	name  string
	lists []factID
}{
	incomingSet: {"incoming", []factID{addSubstances, addEarths, recipeSubstances, recipeEarths}},
	liquorSet:   {"liquor", []factID{bathSubstances, bathEarths, addSubstances, addEarths, recipeSubstances, recipeEarths}},
	aroundSet: {"around", []factID{bathSubstances, bathEarths, addSubstances, addEarths, recipeSubstances, recipeEarths,
		nearSubstances}},
	spillSet: {"spill", []factID{spillSubstances}},
}

// recipeSteps are the steps at which the recipe's lists belong to a set; elsewhere they belong to none.
var recipeSteps = steps(StepRecipe, StepMakeUp)

// An op is what a node of a condition does.
type op uint8

const (
	opAnd op = iota
	opOr
	opNot
	opCompare // a number with a limit
	opWord    // a word is one of some
	opUnknown // a fact is unknown
	opHas     // a set holds something
	opAmmonia // the share of free ammonia is at least a limit
	opOpen    // a danger of the same answer is not known; decided by Judge
)

// A node is a compiled condition.
type node struct {
	op    op
	kids  []node
	fact  factID
	cmp   string  // of opCompare: < <= = >= >
	limit float64 // of opCompare and opAmmonia (percent)
	words wordSet // of opWord
	set   setID   // of opHas
	what  substanceSet
	// whatOpen is what without water: an unidentified substance may be any of it.
	whatOpen substanceSet
	earths   earthGroup // of opHas
}

// eval returns the value of a condition.
func (v *view) eval(n *node) truth {
	switch n.op {
	case opAnd:
		t := yes
		for i := range n.kids {
			t = min(t, v.eval(&n.kids[i]))
			if t == no {
				break
			}
		}
		return t
	case opOr:
		t := no
		for i := range n.kids {
			t = max(t, v.eval(&n.kids[i]))
			if t == yes {
				break
			}
		}
		return t
	case opNot:
		return v.eval(&n.kids[0]).not()
	case opCompare:
		if t, settled := v.settled(n.fact); settled {
			return t
		}
		return truthOf(compare(v.values[n.fact].number, n.cmp, n.limit))
	case opWord:
		if t, settled := v.settled(n.fact); settled {
			return t
		}
		return truthOf(v.values[n.fact].word&n.words != 0)
	case opUnknown:
		return truthOf(v.values[n.fact].state == factUnknown)
	case opHas:
		return v.has(n)
	case opAmmonia:
		return v.ammoniaAtLeast(n.limit)
	}
	return no
}

// settled returns the value of any comparison with a fact that is not known: unknown, or no when it is beside the point.
func (v *view) settled(id factID) (truth, bool) {
	switch v.values[id].state {
	case factUnknown:
		return unknown, true
	case factBeside:
		return no, true
	}
	return no, false
}

func compare(got float64, cmp string, limit float64) bool {
	switch cmp {
	case "<":
		return got < limit
	case "<=":
		return got <= limit
	case "=":
		return got == limit
	case ">=":
		return got >= limit
	case ">":
		return got > limit
	}
	return false
}

func (v *view) ammoniaAtLeast(percent float64) truth {
	ph, temp := v.values[bathPH], v.values[bathTempC]
	switch {
	case ph.state == factBeside || temp.state == factBeside:
		return no
	case ph.state == factUnknown || temp.state == factUnknown:
		return unknown
	}
	return truthOf(freeAmmoniaPct(ph.number, temp.number) >= percent)
}

// freeAmmoniaPct returns the share of the ammonium in water that is free ammonia, in percent, at a pH and a temperature
// in °C. K. Emerson, R. C. Russo, R. E. Lund and R. V. Thurston, J. Fish. Res. Board Can. 32 (1975) 2379 (pages from
// memory). Their measurements end at 50 °C and in weak solution: above that it can tell little, some and much apart and
// no more. The pH counts as if read hot, which errs toward more ammonia.
func freeAmmoniaPct(ph, tempC float64) float64 {
	pKa := 0.09018 + 2729.92/(273.15+tempC)
	return 100 / (1 + math.Pow(10, pKa-ph))
}

// has says whether a set holds something.
func (v *view) has(n *node) truth {
	t := no
	for _, id := range setList[n.set].lists {
		t = max(t, v.listHas(id, n))
		if t == yes {
			break
		}
	}
	return t
}

func (v *view) listHas(id factID, n *node) truth {
	val := &v.values[id]
	isEarths := factList[id].kind == earthsKind
	switch {
	case val.state == factBeside:
		return no
	case val.state == factUnknown:
		return v.mayHold(isEarths, n)
	case isEarths:
		t := no
		for i := range val.earths {
			t = max(t, val.earths[i].inAny(n.earths))
		}
		return t
	case val.held.meets(&n.what):
		return yes
	case val.unidentified() && !n.whatOpen.empty():
		return unknown
	}
	return no
}

// mayHold says whether an unknown list could hold what is asked for.
func (v *view) mayHold(isEarths bool, n *node) truth {
	if isEarths && n.earths != 0 || !isEarths && !n.what.empty() {
		return unknown
	}
	return no
}

// inAny says whether an earth is in any of some groups.
func (e *Earth) inAny(groups earthGroup) truth {
	t := no
	for g := isEarth; g <= isSulfide; g <<= 1 {
		if groups&g != 0 {
			t = max(t, e.in(g))
		}
	}
	return t
}
