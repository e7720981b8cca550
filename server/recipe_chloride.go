package server

import (
	"slices"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/server/form"
	"blackbath/server/view"
)

// theChlorides are the two that must never be mixed up.
var theChlorides = []salt.ID{salt.AmmoniumChloride, salt.AluminiumChlorideHexahydrate}

// otherChloride is the rule about a chloride that was not used last time.
const otherChloride = "R-13"

// A chlorideAsk is what is asked of a recipe that brings one of the two chlorides.
type chlorideAsk struct {
	brings  []salt.ID
	because []input.Text // why more than the identity is asked: both are in it, or another one than before
	ticks   []*form.Field
}

// askChloride binds the ticks that a recipe with one of the two chlorides needs; nil when it has neither. last is what the
// workshop used last, before is the version that this one starts from (without parts: none). A tick is named after the salts
// that it is about, so that one for another salt counts for nothing.
func askChloride(f *form.Form, r bath.Recipe, last salt.ID, before bath.Recipe) *chlorideAsk {
	ask := &chlorideAsk{brings: chloridesOf(r)}
	if len(ask.brings) == 0 {
		return nil
	}
	confirm := "chloride.other"
	for _, id := range ask.brings {
		s, _ := salt.Lookup(string(id)) // it is of the catalogue
		ask.tick(f, "chloride."+string(id), input.Say("I mean %s", saltLabel(s)), input.Say("when you have read formula and CAS number off the bag or the old recipe"))
		confirm += "." + string(id)
	}
	was := chloridesOf(before)
	for _, id := range theChlorides {
		other := theChlorides[1-slices.Index(theChlorides, id)]
		s, _ := salt.Lookup(string(id))
		if slices.Contains(ask.brings, other) && last == id {
			ask.because = append(ask.because, input.Say("The last bath sheet here had %s.", saltLabel(s)))
			confirm += ".after-" + string(id)
		} else if slices.Contains(ask.brings, other) && slices.Contains(was, id) && !slices.Contains(was, other) {
			ask.because = append(ask.because, input.Say("The version before has %s.", saltLabel(s)))
			confirm += ".from-" + string(id)
		}
	}
	if len(ask.brings) == len(theChlorides) {
		ask.because = append(ask.because, input.Say("This recipe brings both of them."))
	}
	if len(ask.because) > 0 {
		ask.tick(f, confirm, input.Say("Formula read aloud; a second person or the master confirms that this is meant"),
			input.Say("when the formula was read aloud and a second person agrees"))
	}
	return ask
}

func (a *chlorideAsk) tick(f *form.Form, name string, label, when input.Text) {
	ticked := false
	f.Tick(&ticked, form.Field{Name: name, Label: label})
	if f.Sent() && !ticked {
		f.Refuse(name, "", when)
	}
	a.ticks = append(a.ticks, f.Get(name))
}

func chloridesOf(r bath.Recipe) []salt.ID {
	var found []salt.ID
	for _, id := range theChlorides {
		if slices.ContainsFunc(r.Parts, func(p bath.Part) bool { return p.Kind == bath.Salt && p.Salt == id }) {
			found = append(found, id)
		}
	}
	return found
}

// view sets the two side by side.
func (a *chlorideAsk) view(v *visit) *view.ChlorideAsk {
	if a == nil {
		return nil
	}
	out := &view.ChlorideAsk{Ticks: a.ticks, Unsaved: slices.ContainsFunc(a.ticks, (*form.Field).Bad)}
	for _, id := range theChlorides {
		s, _ := salt.Lookup(string(id))
		card := view.ChlorideCard{Formula: s.Formula, Name: v.T(s.Name), CAS: s.CAS, In: slices.Contains(a.brings, id), Say: v.T("Not in this recipe")}
		if s.TradeName != "" {
			card.TradeName = v.T(s.TradeName)
		}
		if card.In {
			card.Say = v.T("In this recipe")
		}
		out.Salts = append(out.Salts, card)
	}
	if len(a.because) > 0 {
		out.Danger = &view.Caution{Severity: string(caution.Danger), Word: v.translate(caution.Danger.Label()), Text: v.translate(ruleText(otherChloride))}
		for i, why := range a.because {
			if i > 0 {
				out.Danger.Because += " "
			}
			out.Danger.Because += v.text(why)
		}
	}
	return out
}
