package caution

import (
	"slices"
	"strings"
)

// A Rule is one row of the table that [Judge] runs.
type Rule struct {
	ID       string
	Severity Severity
	// Refuses: in a plan the step is not to be done as it stands.
	Refuses bool
	// RecordOnly: the rule is left out of a plan.
	RecordOnly bool
	Condition  string // in the language of the package comment
	// DangerWhen raises the severity to Danger unless it is false; empty for most rules.
	DangerWhen string
	Text       string // at most about 30 words, no idioms: it is read aloud and translated
	Pages      string // keys of the pages that show it, or "all"
	// Source has keys that SAFETY.md resolves: P- pairs, K- and C- sources, its sections. "(from memory)" marks what nobody
	// has checked against a source.
	Source string
	Covers []string // rules that say less and are left out where this one speaks
}

// FromMemory says whether part of the rule has not been checked against a source.
func (r Rule) FromMemory() bool { return strings.Contains(r.Source, fromMemory) }

const fromMemory = "(from memory)"

// Rules returns the table in the order of its ids.
func Rules() []Rule { return slices.Clone(ruleTable[:]) }

// ruleCount is the number of rules; ruleTable has one row for each.
const ruleCount = len(ruleTable)

// A compiledRule is a rule ready to run.
type compiledRule struct {
	*Rule
	condition  node
	dangerWhen *node
	covers     []int  // places in ruleTable
	refusal    string // its text when it refuses and fires
}

var compiled = mustCompile(ruleTable[:])

// mustCompile compiles the table. A row that does not compile is a mistake in this package: it panics when the program
// starts, and no test gets past it.
func mustCompile(table []Rule) []compiledRule {
	out := make([]compiledRule, len(table))
	for i := range table {
		r := &table[i]
		n, err := compile(r.Condition)
		if err != nil {
			panic("caution: rule " + r.ID + ": " + err.Error())
		}
		out[i] = compiledRule{Rule: r, condition: n, refusal: refused + r.Text}
		if r.DangerWhen != "" {
			d, err := compile(r.DangerWhen)
			if err != nil {
				panic("caution: rule " + r.ID + ", danger when: " + err.Error())
			}
			out[i].dangerWhen = &d
		}
		for _, id := range r.Covers {
			place := slices.IndexFunc(table, func(other Rule) bool { return other.ID == id })
			if place < 0 {
				panic("caution: rule " + r.ID + " covers " + id + ", which is not in the table")
			}
			out[i].covers = append(out[i].covers, place)
		}
	}
	return out
}
