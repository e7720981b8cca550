package caution

import (
	"math"
	"math/bits"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// A Missing is one fact that a rule could still be settled by.
type Missing struct {
	Fact string // "bath.ph", "recipe.earths[0].fizz", "add.substances: unidentified"
	// Asked is what to ask for: "the bath's pH". For a test of an earth with a name it is "%s's pH", for Earth.
	Asked string
	Earth string // name of the earth, "" without one
}

// String returns what to ask for, in English.
func (m Missing) String() string {
	var b strings.Builder
	m.write(&b, english)
	return b.String()
}

func (m Missing) write(b *strings.Builder, translate func(string) string) {
	asked := translate(m.Asked)
	if m.Earth == "" {
		b.WriteString(asked)
		return
	}
	before, after, _ := strings.Cut(asked, "%s")
	b.WriteString(before)
	b.WriteString(m.Earth)
	b.WriteString(after)
}

// asksLike says whether two missing facts are asked for in the same words, as the tests of two nameless earths are.
func (m Missing) asksLike(o Missing) bool { return m.Asked == o.Asked && m.Earth == o.Earth }

func english(s string) string { return s }

const (
	askIdentity  = "which salt it is"
	notKnownMark = " not known"
)

// figure writes a number without loss and without an exponent where one can read it so.
func figure(x float64) string {
	format := byte('f')
	if a := math.Abs(x); a != 0 && a < 1e-6 {
		format = 'e'
	}
	return strconv.FormatFloat(x, format, -1, 64)
}

// heldNames has "incoming: wood-ash" for each set and substance.
var heldNames = func() (names [setCount][]string) {
	for set := range names {
		for _, s := range substances {
			names[set] = append(names[set], setList[set].name+": "+s)
		}
	}
	return names
}()

// missingFacts has the Missing of each fact, and openReasons "bath.ph not known" for what is most often missing.
var missingFacts, openReasons = func() (missing [factCount]Missing, open map[string]string) {
	open = map[string]string{}
	for id, def := range factList {
		missing[id] = Missing{Fact: def.name, Asked: def.askedAs}
		open[def.name] = def.name + notKnownMark
	}
	return missing, open
}()

// openReason returns the reason for a missing fact.
func openReason(fact string) string {
	if s, ok := openReasons[fact]; ok {
		return s
	}
	return fact + notKnownMark
}

// addOnce adds a text to a list unless it stands there already, from a place on.
func addOnce(list []string, from int, s string) []string {
	if slices.Contains(list[from:], s) {
		return list
	}
	return append(list, s)
}

// reasons adds the known facts that gave a condition its value, want, to list: each once, in the condition's order.
func (v *view) reasons(list []string, from int, n *node, want truth) []string {
	switch n.op {
	case opAnd, opOr:
		for i := range n.kids {
			if v.eval(&n.kids[i]) == want {
				list = v.reasons(list, from, &n.kids[i], want)
			}
		}
	case opNot:
		return v.reasons(list, from, &n.kids[0], want.not())
	case opCompare, opWord:
		if v.values[n.fact].state == factKnown {
			list = addOnce(list, from, v.known(n.fact))
		}
	case opUnknown:
		if want == yes {
			list = addOnce(list, from, openReason(factList[n.fact].name))
		}
	case opAmmonia:
		for _, id := range ammoniaFacts {
			if v.values[id].state == factKnown {
				list = addOnce(list, from, v.known(id))
			}
		}
	case opHas:
		if want == yes {
			list = v.holdings(list, from, n)
		}
	}
	return list
}

var ammoniaFacts = [...]factID{bathPH, bathTempC}

// known returns a known number or word as a reason shows it: "bath.temp_c = 92".
func (v *view) known(id factID) string {
	if v.shown[id] == "" {
		val, def := &v.values[id], &factList[id]
		switch {
		case def.kind == numberKind || def.kind == wholeKind:
			v.shown[id] = def.name + " = " + figure(val.number)
		case val.word != 0:
			v.shown[id] = knownWords[id][bits.TrailingZeros64(uint64(val.word))]
		default:
			v.shown[id] = def.name + " = " + val.text
		}
	}
	return v.shown[id]
}

// knownWords has "bath.lid = tight" for each word of each fact.
var knownWords = func() (shown [factCount][]string) {
	for id, def := range factList {
		for _, w := range def.words {
			shown[id] = append(shown[id], def.name+" = "+w)
		}
	}
	return shown
}()

// holdings adds the members of a set that are known to be what is asked for.
func (v *view) holdings(list []string, from int, n *node) []string {
	for _, id := range setList[n.set].lists {
		val := &v.values[id]
		for _, s := range val.substances {
			if i := indexOf(s); n.what.has(i) {
				list = addOnce(list, from, heldNames[n.set][i])
			}
		}
		for i := range val.earths {
			e := &val.earths[i]
			if n.earths&isEarth != 0 {
				list = addOnce(list, from, setList[n.set].name+": "+e.label(id, i))
			}
			for t := range earthTests {
				if test := &earthTests[t]; test.puts(e, n.earths) {
					list = addOnce(list, from, e.label(id, i)+" "+test.key+" = "+test.shown(e))
				}
			}
		}
	}
	return list
}

// puts says whether a test alone puts an earth into one of some groups.
func (t *earthTest) puts(e *Earth, groups earthGroup) bool {
	for g := isCarbonate; g <= isSulfide; g <<= 1 {
		if groups&t.groups&g != 0 && t.tells(e, g) {
			return true
		}
	}
	return false
}

// label returns an earth's name, or its place when it has none.
func (e *Earth) label(list factID, i int) string {
	if name := e.plainName(); name != "" {
		return name
	}
	return item(factList[list].name, i)
}

// plainName is the name fit for one line of text.
func (e *Earth) plainName() string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' {
			return ' '
		}
		return r
	}, e.Name))
}

// gaps adds the missing facts that could still settle a condition whose value is unknown. A part already settled adds
// nothing.
func (v *view) gaps(list []Missing, from int, n *node) []Missing {
	switch n.op {
	case opAnd, opOr, opNot:
		for i := range n.kids {
			if v.eval(&n.kids[i]) == unknown {
				list = v.gaps(list, from, &n.kids[i])
			}
		}
	case opCompare, opWord:
		list = addMissing(list, from, missingFacts[n.fact])
	case opAmmonia:
		for _, id := range ammoniaFacts {
			if v.values[id].state == factUnknown {
				list = addMissing(list, from, missingFacts[id])
			}
		}
	case opHas:
		for _, id := range setList[n.set].lists {
			list = v.listGaps(list, from, id, n)
		}
	}
	return list
}

func addMissing(list []Missing, from int, m Missing) []Missing {
	if slices.Contains(list[from:], m) {
		return list
	}
	return append(list, m)
}

// listGaps adds what is missing about one list of a set.
func (v *view) listGaps(list []Missing, from int, id factID, n *node) []Missing {
	val := &v.values[id]
	isEarths := factList[id].kind == earthsKind
	switch {
	case v.listHas(id, n) != unknown:
	case val.state == factUnknown:
		list = addMissing(list, from, missingFacts[id])
	case !isEarths:
		list = addMissing(list, from, Missing{Fact: factList[id].name + ": " + Unidentified, Asked: askIdentity})
	default:
		for i := range val.earths {
			list = val.earths[i].gaps(list, from, id, i, n.earths)
		}
	}
	return list
}

// gaps adds the tests of an earth that are missing and could still put it into one of some groups.
func (e *Earth) gaps(list []Missing, from int, id factID, place int, groups earthGroup) []Missing {
	for t := range earthTests {
		test := &earthTests[t]
		if test.known(e) || !e.open(groups&test.groups) {
			continue
		}
		m := Missing{Fact: factList[id].name + "[" + strconv.Itoa(place) + "]." + test.key, Asked: test.asked}
		if name := e.plainName(); name != "" {
			m.Asked, m.Earth = test.askedOf, name
		}
		list = addMissing(list, from, m)
	}
	return list
}

// open says whether an earth may or may not be in one of some groups.
func (e *Earth) open(groups earthGroup) bool {
	for g := isCarbonate; g <= isSulfide; g <<= 1 {
		if groups&g != 0 && e.in(g) == unknown {
			return true
		}
	}
	return false
}
