package caution

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// anyDangerOpen is R-61's condition. It speaks of the other cautions of an answer and not of facts.
const anyDangerOpen = "any danger of this answer is not_known"

// compile turns the text of a condition into a tree.
func compile(text string) (node, error) {
	if text == anyDangerOpen {
		return node{op: opOpen}, nil
	}
	p := parser{words: split(text)}
	n, err := p.or()
	if err != nil {
		return node{}, fmt.Errorf("condition %q: %w", text, err)
	}
	if p.peek() != "" {
		return node{}, fmt.Errorf("condition %q: %q after its end", text, p.peek())
	}
	return n, nil
}

// split cuts a condition into words and brackets.
func split(text string) []string {
	for _, mark := range []string{"(", ")", "{", "}", ","} {
		text = strings.ReplaceAll(text, mark, " "+mark+" ")
	}
	return strings.Fields(text)
}

type parser struct {
	words []string
}

func (p *parser) peek() string {
	if len(p.words) == 0 {
		return ""
	}
	return p.words[0]
}

func (p *parser) next() string {
	w := p.peek()
	if w != "" {
		p.words = p.words[1:]
	}
	return w
}

func (p *parser) want(word string) error {
	if got := p.next(); got != word {
		return fmt.Errorf("%q where %q belongs", got, word)
	}
	return nil
}

func (p *parser) or() (node, error)  { return p.joined("or", opOr, p.and) }
func (p *parser) and() (node, error) { return p.joined("and", opAnd, p.not) }

// joined reads parts with a word between them.
func (p *parser) joined(word string, o op, part func() (node, error)) (node, error) {
	n, err := part()
	if err != nil || p.peek() != word {
		return n, err
	}
	all := node{op: o, kids: []node{n}}
	for p.peek() == word {
		p.next()
		n, err := part()
		if err != nil {
			return node{}, err
		}
		all.kids = append(all.kids, n)
	}
	return all, nil
}

func (p *parser) not() (node, error) {
	if p.peek() != "not" {
		return p.part()
	}
	p.next()
	n, err := p.not()
	return node{op: opNot, kids: []node{n}}, err
}

func (p *parser) part() (node, error) {
	switch first := p.next(); first {
	case "(":
		n, err := p.or()
		if err != nil {
			return node{}, err
		}
		return n, p.want(")")
	case "unknown":
		return p.unknown()
	case "nh3_pct":
		if err := p.want(">="); err != nil {
			return node{}, err
		}
		limit, err := p.number()
		return node{op: opAmmonia, limit: limit}, err
	default:
		for id, s := range setList {
			if s.name == first {
				return p.has(setID(id))
			}
		}
		id, known := factNamed(first)
		if !known || id == purposeFact {
			return node{}, fmt.Errorf("%q is no fact and no set", first)
		}
		return p.comparison(id)
	}
}

func (p *parser) unknown() (node, error) {
	if err := p.want("("); err != nil {
		return node{}, err
	}
	name := p.next()
	id, known := factNamed(name)
	if !known {
		return node{}, fmt.Errorf("%q is no fact", name)
	}
	return node{op: opUnknown, fact: id}, p.want(")")
}

func (p *parser) comparison(id factID) (node, error) {
	def := &factList[id]
	cmp := p.next()
	switch def.kind {
	case numberKind, wholeKind:
		if !slices.Contains([]string{"<", "<=", "=", ">=", ">"}, cmp) {
			return node{}, fmt.Errorf("%q after the number %s", cmp, def.name)
		}
		limit, err := p.number()
		return node{op: opCompare, fact: id, cmp: cmp, limit: limit}, err
	case wordKind, flagKind:
		var words []string
		switch cmp {
		case "=":
			words = []string{p.next()}
		case "in":
			var err error
			if words, err = p.list(); err != nil {
				return node{}, err
			}
		default:
			return node{}, fmt.Errorf("%q after the word %s", cmp, def.name)
		}
		for _, w := range words {
			if !slices.Contains(def.words, w) {
				return node{}, fmt.Errorf("%s can't be %q", def.name, w)
			}
		}
		return node{op: opWord, fact: id, words: at(def.words, words...)}, nil
	}
	return node{}, fmt.Errorf("%s is a list: name its set", def.name)
}

func (p *parser) has(set setID) (node, error) {
	if err := p.want("has"); err != nil {
		return node{}, err
	}
	things := []string{p.peek()}
	var err error
	if p.peek() == "{" {
		things, err = p.list()
	} else {
		p.next()
	}
	n := node{op: opHas, set: set}
	for _, x := range things {
		subs, isSubstance := substancesNamed(x)
		earth, isEarthGroup := earthGroupNamed[x]
		if !isSubstance && !isEarthGroup {
			return node{}, fmt.Errorf("%q is no group and no substance", x)
		}
		n.what.merge(subs)
		n.earths |= earth
	}
	n.whatOpen = n.what
	n.whatOpen.remove(substanceIndex[water])
	return n, err
}

// list reads {A, B, ...}.
func (p *parser) list() ([]string, error) {
	if err := p.want("{"); err != nil {
		return nil, err
	}
	var words []string
	for {
		w := p.next()
		if w == "" || strings.ContainsAny(w, "{},()") {
			return nil, fmt.Errorf("%q in a list", w)
		}
		words = append(words, w)
		switch sep := p.next(); sep {
		case "}":
			return words, nil
		case ",":
		default:
			return nil, fmt.Errorf("%q in a list", sep)
		}
	}
}

func (p *parser) number() (float64, error) {
	w := p.next()
	f, err := strconv.ParseFloat(w, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is no number", w)
	}
	return f, nil
}
