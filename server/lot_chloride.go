package server

import (
	"net/url"
	"slices"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/server/form"
	"blackbath/server/view"
)

// formulaRead is the name of the tick that belongs to one of the two chlorides; a tick for the other counts for nothing.
func formulaRead(id salt.ID) string { return "formula_read." + string(id) }

// askFormula binds the tick that a new lot of one of the two chlorides needs.
func askFormula(f *form.Form, l bath.Lot) {
	x, ok := saltOf(l.Material)
	if l.ID != 0 || !ok || !slices.Contains(theChlorides, x.ID) {
		return
	}
	read := false
	f.Tick(&read, form.Field{Name: formulaRead(x.ID), Label: input.Say("I have read the formula on the bag: %s, CAS %s", x.Formula, x.CAS)})
	if f.Sent() && !read {
		f.Refuse(formulaRead(x.ID), "", input.Say("when you have read it off the bag, not off this page"))
	}
}

// chloridePair sets the two side by side, each with its own drawing, word and sound.
func chloridePair(v *visit, chosen salt.ID) []view.SaltTag {
	if !slices.Contains(theChlorides, chosen) {
		return nil
	}
	var pair []view.SaltTag
	for _, id := range theChlorides {
		x, _ := salt.Lookup(string(id)) // it is of the catalogue
		tag := view.SaltTag{Name: view.SaltName(v.T(x.Name)), Formula: x.Formula, CAS: x.CAS}
		if x.TradeName != "" {
			tag.TradeName = v.T(x.TradeName)
		}
		if id == salt.AmmoniumChloride {
			tag.Mark, tag.MarkSmall, tag.Tag, tag.Spoken = "NH", "4", v.T("blue disc"), v.T("Say: am-MOH-ni-um")
		} else {
			tag.Mark, tag.Tag, tag.Spoken, tag.Hexagon = "Al", v.T("brown hexagon"), v.T("Say: al-u-MIN-i-um, with six waters"), true
		}
		if id == chosen {
			tag.Chosen = view.Cell{State: "in", Value: v.T("You chose this one")}
		} else {
			q := url.Values{"kind": {string(bath.Salt)}, "salt": {string(id)}}
			tag.Other = &view.Link{Label: v.T("No, it is this one"), Href: "/lots/new?" + q.Encode()}
		}
		pair = append(pair, tag)
	}
	return pair
}
