package server

import (
	"net/http"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/server/form"
	"blackbath/server/store"
	"blackbath/server/view"
)

// home leads to where the work is.
func (s *Server) home(v *visit) error {
	path := "/start"
	if v.shop.ID != 0 && s.exists["/recipes"] {
		path = "/recipes"
	}
	v.Redirect(http.StatusSeeOther, path)
	return nil
}

// showStart asks about the workshop on the first day; after that it leads through what a bath sheet needs.
func (s *Server) showStart(v *visit) error {
	if v.shop.ID != 0 {
		return s.firstSteps(v)
	}
	f := form.New()
	shop := newWorkshop(v.words.Tag())
	s.settingsFields(f, &shop)
	return s.startPage(v, http.StatusOK, f)
}

// saveStart sets the workshop up.
func (s *Server) saveStart(v *visit) error {
	f, err := v.form()
	if err != nil {
		return err
	}
	if v.shop.ID != 0 { // sent twice
		return v.seeOther("/start", "")
	}
	shop := newWorkshop(v.words.Tag())
	s.settingsFields(f, &shop)
	if f.Bad() {
		return s.startPage(v, http.StatusUnprocessableEntity, f)
	}
	shop.Edit = 0
	if _, err := s.store.SaveWorkshop(v.Request.Context(), f.Key(), shop); err != nil {
		return err
	}
	return v.seeOther("/start", "The workshop is open.")
}

func (s *Server) startPage(v *visit, status int, f *form.Form) error {
	b := v.base(v.T("Set up your workshop"))
	b.Lead = v.T("A few questions. You can change every answer later, and nothing leaves this computer.")
	b.Ledge = &view.Ledge{Say: v.T("A name and your water are enough."), Main: &view.Action{Label: v.T("Open the workshop"), Form: "start"}}
	return v.page(status, "start", view.Start{Formed: view.Formed{Base: b, Form: f}})
}

// firstSteps leads through the first tank, lots and recipe, with a tick for what is there.
func (s *Server) firstSteps(v *visit) error {
	has, err := s.has(v)
	if err != nil {
		return err
	}
	b := v.base(v.T("First steps"))
	b.Lead = v.T("A bath sheet needs a tank, the lots you will use and a recipe.")
	p := view.FirstSteps{Base: b}
	for _, step := range []struct {
		name, say, button input.Text
		route, query      string
		done              bool
	}{
		{input.Say("A tank"), input.Say("Inner sizes by shape, or known litres poured in and the stick read."),
			input.Say("Draw a tank"), "/tanks/new", "", has.tank},
		{input.Say("A salt"), input.Say("The exact salt off the label, with its assay and price."),
			input.Say("Put down a salt"), "/lots/new", "?kind=salt", has.salt},
		{input.Say("An earth"), input.Say("Where it was dug and how damp it is today."),
			input.Say("Put down an earth"), "/lots/new", "?kind=earth", has.earth},
		{input.Say("A recipe"), input.Say("Water, dry earth and salts as you make it now."),
			input.Say("Write a recipe"), "/recipes/new", "", has.recipe},
	} {
		next := view.Step{Name: v.text(step.name), Say: v.text(step.say), Done: step.done}
		if s.exists[step.route] {
			next.Do = &view.Link{Label: v.text(step.button), Href: step.route + step.query}
		}
		if b := next.Do; !step.done && p.Ledge == nil && b != nil {
			p.Ledge = &view.Ledge{Say: next.Say, Main: &view.Action{Label: b.Label, Href: b.Href}}
		}
		p.Steps = append(p.Steps, next)
	}
	if p.Ledge == nil && has.recipe && s.exists["/recipes"] {
		p.Ledge = &view.Ledge{Say: v.T("All is there for a bath sheet."), Main: &view.Action{Label: v.T("Choose a recipe"), Href: "/recipes"}}
	}
	return v.page(http.StatusOK, "first_steps", p)
}

// possessions are the things that a bath sheet needs.
type possessions struct{ tank, salt, earth, recipe bool }

func (s *Server) has(v *visit) (possessions, error) {
	ctx, shop := v.Request.Context(), v.shop.ID
	tanks, err := s.store.ListTanks(ctx, shop, false)
	if err != nil {
		return possessions{}, err
	}
	one := store.Page{Limit: 1}
	_, salts, err := s.store.ListLots(ctx, shop, store.LotFilter{Kind: bath.Salt, Page: one})
	if err != nil {
		return possessions{}, err
	}
	_, earths, err := s.store.ListLots(ctx, shop, store.LotFilter{Kind: bath.Earth, Page: one})
	if err != nil {
		return possessions{}, err
	}
	_, recipes, err := s.store.ListRecipes(ctx, shop, store.RecipeFilter{Page: one})
	return possessions{len(tanks) > 0, salts > 0, earths > 0, recipes > 0}, err
}
