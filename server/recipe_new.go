package server

import (
	"net/http"

	"blackbath/server/view"
)

// showNewRecipe asks for a recipe.
func (s *Server) showNewRecipe(v *visit) error {
	return s.newRecipePage(v, http.StatusOK, newRecipe().show())
}

// saveNewRecipe keeps a recipe as its version 1.
func (s *Server) saveNewRecipe(v *visit) error {
	start := newRecipe()
	var err error
	if start.last, err = s.lastChloride(v); err != nil {
		return err
	}
	a, pressed, err := start.read(v)
	switch {
	case err != nil:
		return err
	case pressed:
		return s.newRecipePage(v, http.StatusOK, a)
	case a.form.Bad():
		return s.newRecipePage(v, http.StatusUnprocessableEntity, a)
	}
	saved, err := s.store.SaveNewRecipe(v.Request.Context(), v.shop.ID, a.form.Key(), a.version)
	if err != nil {
		return err
	}
	return v.seeOther(recipePath(saved.RecipeID), "The recipe is written down.")
}

func (s *Server) newRecipePage(v *visit, status int, a *recipeAsk) error {
	b := v.base(v.T("Write a recipe"))
	b.Back = &view.Link{Label: v.T("Recipes"), Href: "/recipes"}
	b.Lead = v.T("Write it down in any amounts you know. It is scaled to a tank later.")
	b.Ledge = &view.Ledge{Say: v.T("It becomes version 1. You can change it until a bath uses it."), Main: &view.Action{Label: v.T("Keep the recipe"), Form: "recipe"}}
	return s.recipeForm(v, status, a, view.RecipeForm{Formed: view.Formed{Base: b}, Action: "/recipes/new"})
}
