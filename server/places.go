package server

import (
	"strings"

	"blackbath/bath/input"
	"blackbath/server/view"
)

// menu lists the places in the order of the look. A place shows once its path is in the routes.
var menu = []struct {
	heading input.Text
	places  []place
}{
	{input.Say("The day"), []place{{input.Say("Bath sheets"), "/sheets", "baths"}}},
	{input.Say("The means"), []place{
		{input.Say("Recipes"), "/recipes", "recipes"},
		{input.Say("Tanks"), "/tanks", "tanks"},
		{input.Say("Lots"), "/lots", "lots"},
		{input.Say("Salts"), "/salts", "salts"},
	}},
	{input.Say("The house"), []place{
		{input.Say("Settings"), "/settings", "settings"},
	}},
}

type place struct {
	label      input.Text
	path, icon string
}

// places is the menu as this visitor sees it. Before the workshop is set up there is only what needs none.
func (s *Server) places(v *visit) []view.PlaceGroup {
	open := map[string]bool{"/salts": true}
	var groups []view.PlaceGroup
	for _, g := range menu {
		group := view.PlaceGroup{Heading: v.text(g.heading)}
		for _, p := range g.places {
			if !s.exists[p.path] || (v.shop.ID == 0 && !open[p.path]) {
				continue
			}
			here := v.Request.URL.Path == p.path || strings.HasPrefix(v.Request.URL.Path, p.path+"/")
			group.Places = append(group.Places, view.Place{Label: v.text(p.label), Href: p.path, Icon: p.icon, Here: here})
		}
		if len(group.Places) > 0 {
			groups = append(groups, group)
		}
	}
	return groups
}
