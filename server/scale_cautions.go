package server

import (
	"slices"

	"blackbath/bath/caution"
	"blackbath/bath/input"
	"blackbath/server/view"
)

// gapsRemain is the rule that says that facts are missing; its text stands over the questions.
const gapsRemain = "R-61"

// authority comes before every rule here.
var authority = input.Say("Local law and codes, the supplier's safety data sheet and licensed practice come first.")

// translate is how the rules' texts are turned into the reader's language.
func (v *visit) translate(s string) string { return v.text(input.Text{Format: s}) }

// grouped is an answer of the rules for a page: what fires on top, then each open question once with the rules that hang on
// it, so that what is not known does not bury what is.
func (v *visit) grouped(a caution.Answer) view.Cautions {
	out := view.Cautions{First: v.text(authority), Closing: v.translate(a.Closing)}
	for _, c := range a.Cautions {
		if c.State == caution.Fires && c.ID != gapsRemain {
			out.Fires = append(out.Fires, v.cautionBlock(c))
		}
	}
	for _, q := range questions(a) {
		line := view.Question{Ask: v.asked(q.fact), Folded: true}
		for i, c := range q.rules {
			rule := view.RuleLine{Severity: string(c.Severity), Word: v.translate(c.Severity.Label()), Text: v.translate(c.RuleText)}
			line.Folded = line.Folded && c.Severity == caution.Note
			if i == 0 {
				line.First = rule
			} else {
				line.Others = append(line.Others, rule)
			}
		}
		out.Ask = append(out.Ask, line)
	}
	if len(out.Ask) > 0 {
		out.Heading = v.translate(ruleText(gapsRemain))
	}
	return out
}

func (v *visit) cautionBlock(c caution.Caution) view.Caution {
	return view.Caution{Severity: string(c.Severity), Word: v.translate(c.Severity.Label()), Text: c.TextIn(v.translate)}
}

// asked is a missing fact in the reader's language.
func (v *visit) asked(m caution.Missing) string {
	if m.Earth == "" {
		return v.translate(m.Asked)
	}
	return v.text(input.Text{Format: m.Asked, Args: []any{m.Earth}})
}

// A question is a fact that is missing and the rules that stand under it, in the order in which they are shown.
type question struct {
	fact  caution.Missing
	rules []caution.Caution
}

// questions puts each rule that could not be checked under the missing fact that most of them name; of equals, under the
// first that it names itself.
func questions(a caution.Answer) []question {
	named := map[string]int{}
	for _, c := range a.Cautions {
		for _, m := range c.Missing {
			named[m.Fact]++
		}
	}
	var out []question
	for _, c := range a.Cautions {
		if c.State != caution.NotKnown || len(c.Missing) == 0 {
			continue
		}
		fact := c.Missing[0]
		for _, m := range c.Missing[1:] {
			if named[m.Fact] > named[fact.Fact] {
				fact = m
			}
		}
		i := slices.IndexFunc(out, func(q question) bool { return q.fact.Fact == fact.Fact })
		if i < 0 {
			i = len(out)
			out = append(out, question{fact: fact})
		}
		out[i].rules = append(out[i].rules, c)
	}
	return out
}

// refusals are the rules that forbid a plan as it stands.
func (v *visit) refusals(a caution.Answer) []view.Caution {
	var out []view.Caution
	for _, c := range a.Cautions {
		if c.Refuse {
			out = append(out, v.cautionBlock(c))
		}
	}
	return out
}
