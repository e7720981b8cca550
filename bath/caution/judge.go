package caution

import "slices"

// The steps at which a refusing rule that could not be checked refuses all the same. At others (heating a bath with a gap
// in its history) it is acknowledged instead.
var closedSteps = steps(StepRecipe, StepMakeUp, StepWeigh, StepMix, StepAdd, StepEvaporate)

// A finding is what became of one rule.
type finding struct {
	state    truth // no: not in the answer
	severity Severity
	refuse   bool
	covered  bool
}

// Judge runs every rule over the facts of one step. Facts from a file come from [ParseFacts]; for facts made in a program
// see [Facts.Check].
func Judge(f Facts) Answer {
	j := judging{plan: f.Purpose != Record, closed: bitOf(stepWords, string(f.Step))&closedSteps != 0}
	j.view.look(&f)
	for i := range compiled {
		j.find(i)
	}
	j.cover()
	j.openDangers()
	return j.answer()
}

// A judging is the work of one Judge.
type judging struct {
	view     view
	plan     bool
	closed   bool // an open refusal refuses
	findings [ruleCount]finding
}

// find gives a rule its state and severity.
func (j *judging) find(i int) {
	r, got := &compiled[i], &j.findings[i]
	got.state = no
	if r.RecordOnly && j.plan {
		return
	}
	got.state = j.view.eval(&r.condition)
	got.severity = r.Severity
	if r.dangerWhen != nil && j.view.eval(r.dangerWhen) != no {
		got.severity = Danger
	}
	got.refuse = r.Refuses && j.plan && (got.state == yes || got.state == unknown && j.closed)
}

// cover leaves out what a stronger rule says already. It goes by the states as they were found, all at once.
func (j *judging) cover() {
	for i := range compiled {
		by := j.findings[i].state
		for _, k := range compiled[i].covers {
			if by == yes || by == unknown && j.findings[k].state == unknown {
				j.findings[k].covered = true
			}
		}
	}
}

// openDangers lets the rule fire that speaks of dangers left unchecked.
func (j *judging) openDangers() {
	open := false
	for i := range j.findings {
		open = open || j.isOpenDanger(i)
	}
	if !open {
		return
	}
	for i := range compiled {
		if compiled[i].condition.op == opOpen {
			j.findings[i].state = yes
		}
	}
}

func (j *judging) isOpenDanger(i int) bool {
	f := &j.findings[i]
	return f.state == unknown && f.severity == Danger && !f.covered
}

// answer puts the findings in order and gives them words.
func (j *judging) answer() Answer {
	var ranks [ruleCount]int
	n := 0
	for i := range j.findings {
		ranks[i] = j.findings[i].rank()
		if ranks[i] != notShown {
			n++
		}
	}
	a := Answer{Cautions: make([]Caution, 0, n), Closing: closingSome}
	if n == 0 {
		a.Closing = closingNone
	}
	w := writer{why: make([]string, 0, 3*n), missing: make([]Missing, 0, 2*n)}
	for rank := range rankCount {
		for i := range ranks { // in the order of the ids
			if ranks[i] == rank {
				a.Cautions = append(a.Cautions, j.caution(i, &w))
			}
		}
	}
	return a
}

const (
	rankCount = 2 * len(severities) * len(states)
	notShown  = rankCount
)

// rank returns the place of a finding's kind in an answer: refusals first, then by severity, then by state.
func (f *finding) rank() int {
	if f.state == no || f.covered {
		return notShown
	}
	rank := slices.Index(severities[:], f.severity) * len(states)
	if f.state == unknown {
		rank++
	}
	if !f.refuse {
		rank += rankCount / 2
	}
	return rank
}

// A writer holds the reasons of all cautions of an answer in two slices, so that they cost few allocations.
type writer struct {
	why     []string
	missing []Missing
}

// caution writes one finding out.
func (j *judging) caution(i int, w *writer) Caution {
	r, f := &compiled[i], &j.findings[i]
	c := Caution{ID: r.ID, Severity: f.severity, State: Fires, Refuse: f.refuse,
		Acknowledge: f.severity == Danger && !f.refuse, Source: r.Source, RuleText: r.Text}
	whyFrom, missingFrom := len(w.why), len(w.missing)
	switch {
	case r.condition.op == opOpen:
		for k := range j.findings {
			if j.isOpenDanger(k) {
				w.why = append(w.why, compiled[k].ID)
			}
		}
	case f.state == yes:
		w.why = j.view.reasons(w.why, whyFrom, &r.condition, yes)
	default:
		c.State = NotKnown
		w.missing = j.view.gaps(w.missing, missingFrom, &r.condition)
		w.why = addOpen(w.why, whyFrom, w.missing[missingFrom:])
	}
	c.Missing = w.missing[missingFrom:len(w.missing):len(w.missing)]
	if r.dangerWhen != nil {
		switch j.view.eval(r.dangerWhen) {
		case yes:
			w.why = j.view.reasons(w.why, whyFrom, r.dangerWhen, yes)
		case unknown:
			from := len(w.missing)
			w.missing = j.view.gaps(w.missing, from, r.dangerWhen)
			w.why = addOpen(w.why, whyFrom, w.missing[from:])
			w.missing = w.missing[:from]
		}
	}
	if len(w.why) == whyFrom {
		// A condition made of nothing but what is absent still happened at a step.
		w.why = append(w.why, j.view.known(stepFact))
	}
	c.Why = w.why[whyFrom:len(w.why):len(w.why)]
	switch {
	case c.State == NotKnown:
		c.Text = c.TextIn(english)
	case c.Refuse:
		c.Text = r.refusal
	default:
		c.Text = r.Text
	}
	return c
}

// addOpen adds a reason for each missing fact, each once.
func addOpen(why []string, from int, missing []Missing) []string {
	for _, m := range missing {
		why = addOnce(why, from, openReason(m.Fact))
	}
	return why
}
