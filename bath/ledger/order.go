package ledger

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"blackbath/bath/input"
)

// A placed fact is one as the corrections leave it, under the id and in the place of the first.
type placed struct {
	id     string
	fact   *Fact
	at     int64 // Unix nanoseconds
	out    int64 // of a soak that has ended
	hasOut bool
	struck bool
}

// resolve applies the corrections in the order of the file and then the doubtful clocks. With until, corrections written later
// are not applied. Problems are what facts cannot say of each other.
func (b *Bath) resolve(until *time.Time) ([]placed, input.Problems) {
	var ps input.Problems
	facts := make([]placed, 0, len(b.Facts))
	places := make(map[string]int, len(b.Facts)) // of each id; -1 for a correction's own
	makeUps := 0
	for i := range b.Facts {
		f := &b.Facts[i]
		at := func(key string) string { return fmt.Sprintf("facts[%d].%s", i, key) }
		if _, twice := places[f.ID]; twice && f.ID != "" {
			ps.Add(at("id"), f.ID, input.Say("a text that no other fact has"))
			continue
		}
		if f.Kind != Correction {
			if f.Kind == MakeUp {
				makeUps++
			}
			places[f.ID] = len(facts)
			p := placed{id: f.ID}
			p.put(f, f.At.UnixNano(), func() string { return at("out_at") }, &ps)
			facts = append(facts, p)
			continue
		}
		old, known := places[f.Replaces]
		places[f.ID] = -1
		switch {
		case f.Replaces == "" || !known:
			ps.Add(at("replaces"), f.Replaces, input.Say("the id of an earlier fact"))
			continue
		case old < 0:
			ps.Add(at("replaces"), f.Replaces, input.Say("the id of what happened, not of a correction; replace the same fact again"))
			continue
		case facts[old].struck:
			ps.Add(at("replaces"), f.Replaces, input.Say("the id of a fact that has not been struck out"))
			continue
		case until != nil && f.At.After(*until):
			continue
		}
		b.correct(&facts[old], f, at, &ps)
	}
	if makeUps != 1 {
		ps.Add("facts", fmt.Sprintf("%d facts of kind make_up", makeUps), input.Say("exactly one make_up"))
	}
	facts = slices.DeleteFunc(facts, func(p placed) bool { return p.struck })
	for i := range facts {
		if p := &facts[i]; p.fact.ClockInDoubt && i > 0 {
			p.out += facts[i-1].at - p.at
			p.at = facts[i-1].at
		}
	}
	return facts, ps
}

// correct puts the correction's fact in the place of the old one.
func (b *Bath) correct(p *placed, f *Fact, at func(string) string, ps *input.Problems) {
	switch {
	case f.Fact == nil && p.fact.Kind == MakeUp:
		ps.Add(at("fact"), "", input.Say("the make_up as it really was: it may be corrected, not struck out"))
	case f.Fact == nil:
		p.struck = true
	case (f.Fact.Kind == MakeUp) != (p.fact.Kind == MakeUp):
		ps.Add(at("fact.kind"), string(f.Fact.Kind), input.Say("a make_up for a make_up and for nothing else"))
	default:
		when := p.at
		if !f.Fact.At.IsZero() {
			when = f.Fact.At.UnixNano()
		}
		p.put(f.Fact, when, func() string { return at("fact.out_at") }, ps)
	}
}

func (p *placed) put(f *Fact, at int64, outField func() string, ps *input.Problems) {
	p.fact, p.at, p.hasOut = f, at, false
	if f.Kind == Soaked && f.Soak != nil && f.Soak.Out != nil {
		p.out, p.hasOut = f.Soak.Out.UnixNano(), true
		if p.out < at {
			ps.Add(outField(), f.Soak.Out.Format(time.RFC3339), input.Say("not before the pieces went in"))
		}
	}
}

// An event is a fact at its time, or the end of a soak.
type event struct {
	at    int64
	place int
	*placed
	end bool
}

// byTime orders events: by time; at equal time soaks end first, then the order of the file; a soak of no length ends right after
// it began.
func byTime(a, b event) int {
	late := func(e event) int {
		if e.end && e.placed.out > e.placed.at {
			return 0
		}
		return 1
	}
	return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(late(a), late(b)), cmp.Compare(a.place, b.place), cmp.Compare(boolInt(a.end), boolInt(b.end)))
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// A life is the events of a bath from its make-up to its retirement, or to a moment.
type life struct {
	events  []event
	end     int64
	retired bool
	outside []string // ids of facts before the make-up or after the retirement
	inDoubt []string
}

// live orders the facts that count, up to until.
func (b *Bath) live(facts []placed, until *time.Time) (life, error) {
	var l life
	limit := int64(0)
	if until != nil {
		limit = until.UnixNano()
	}
	events := make([]event, 0, 2*len(facts))
	for i := range facts {
		p := &facts[i]
		if until != nil && p.at > limit {
			continue
		}
		if p.fact.ClockInDoubt {
			l.inDoubt = append(l.inDoubt, p.id)
		}
		events = append(events, event{p.at, i, p, false})
		if p.hasOut && (until == nil || p.out <= limit) {
			events = append(events, event{p.out, i, p, true})
		}
	}
	slices.SortFunc(events, byTime)
	first := slices.IndexFunc(events, func(e event) bool { return e.fact.Kind == MakeUp })
	if first < 0 { // only until can have cut it off
		return life{}, input.Problems{{Field: "until", Got: until.Format(time.RFC3339), Allowed: input.Say("not before the make-up")}}
	}
	for i, e := range events {
		switch {
		case i < first || l.retired || e.end && byTime(event{e.placed.at, e.place, e.placed, false}, events[first]) < 0:
			if !e.end {
				l.outside = append(l.outside, e.id)
			}
			continue
		case e.fact.Kind == Retire:
			l.retired = true
		}
		l.events = append(l.events, e)
		l.end = e.at
	}
	if until != nil && !l.retired {
		l.end = limit
	}
	return l, nil
}
