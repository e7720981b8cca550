package caution

import (
	"slices"
	"strings"
)

// An Answer is what the rules say about one step, in the order in which it is shown: refusals first, then dangers,
// warnings and notes, what fires before what is not known, then by id.
type Answer struct {
	Cautions []Caution `json:"cautions"`
	Closing  string    `json:"closing"` // the last line, also when there is no caution
}

// A Caution is one rule that fires or could not be checked.
type Caution struct {
	ID       string   `json:"id"`
	Severity Severity `json:"severity"`
	State    State    `json:"state"`
	// Refuse: the plan is not to be done as it stands. Nobody overrides it; change the plan or give the missing fact.
	Refuse bool `json:"refuse"`
	// Acknowledge: a named person confirms having read it.
	Acknowledge bool   `json:"acknowledge"`
	Text        string `json:"text"` // as shown, in English: what is missing, whether it refuses, the rule's text
	// Why is never empty: the known facts that made the rule fire, or the missing ones that could still settle it.
	Why    []string `json:"why"`
	Source string   `json:"source"`

	// Missing are the facts that Text asks for; RuleText is the rule's own text. Both are for callers that translate.
	Missing  []Missing `json:"-"`
	RuleText string    `json:"-"`
}

// The texts of an answer that belong to no rule.
const (
	closingSome    = "Local law, the supplier's safety data sheet and a trained person come first."
	closingNone    = "No rule matched. That does not say that this step is safe."
	notKnownPrefix = "Not known: %s. "
	refused        = "Refused. "
	refusedOpen    = "Refused until it is known. "
)

// roomForPrefix is enough for what most texts have in front, in bytes.
const roomForPrefix = 128

// Text returns the answer as plain text in English: one line a caution, then the closing.
func (a Answer) Text() string { return a.TextIn(english) }

// TextIn returns Text in another language. translate gets each of [Texts] and returns it in that language.
func (a Answer) TextIn(translate func(string) string) string {
	var b strings.Builder
	for _, c := range a.Cautions {
		b.WriteString(translate(c.Severity.Label()))
		b.WriteByte(' ')
		b.WriteString(c.ID)
		b.WriteString(": ")
		b.WriteString(c.TextIn(translate))
		b.WriteByte('\n')
	}
	b.WriteString(translate(a.Closing))
	b.WriteByte('\n')
	return b.String()
}

// TextIn returns the caution's text in another language; see [Answer.TextIn].
func (c Caution) TextIn(translate func(string) string) string {
	var b strings.Builder
	b.Grow(len(c.RuleText) + roomForPrefix)
	if c.State == NotKnown {
		before, after, _ := strings.Cut(translate(notKnownPrefix), "%s")
		b.WriteString(before)
		for i, m := range c.Missing {
			if slices.ContainsFunc(c.Missing[:i], m.asksLike) {
				continue
			}
			if i > 0 {
				b.WriteString(", ")
			}
			m.write(&b, translate)
		}
		b.WriteString(after)
	}
	switch {
	case c.Refuse && c.State == NotKnown:
		b.WriteString(translate(refusedOpen))
	case c.Refuse:
		b.WriteString(translate(refused))
	}
	b.WriteString(translate(c.RuleText))
	return b.String()
}

// Texts returns every text that a translation needs, each once. Those with %s keep it.
func Texts() []string {
	texts := []string{closingSome, closingNone, notKnownPrefix, refused, refusedOpen, askIdentity}
	for _, s := range severities {
		texts = append(texts, s.Label())
	}
	for _, def := range factList[bathSubstances:] {
		texts = append(texts, def.askedAs)
	}
	for _, t := range earthTests {
		texts = append(texts, t.asked, t.askedOf)
	}
	for i := range ruleTable {
		texts = append(texts, ruleTable[i].Text)
	}
	slices.Sort(texts)
	return slices.Compact(texts)
}
