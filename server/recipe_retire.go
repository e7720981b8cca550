package server

import (
	"net/http"

	"blackbath/server/view"
)

// askRetireRecipe asks before a recipe is taken out of use.
func (s *Server) askRetireRecipe(v *visit) error {
	book, err := s.recipeBook(v)
	if err != nil {
		return err
	}
	name := newest(book).Recipe.Name
	b := v.base(v.T("Retire %s?", name))
	b.Back = &view.Link{Label: name, Href: recipePath(book.ID)}
	b.Ledge = &view.Ledge{Say: v.T("You can take it back at any time."), Main: &view.Action{Label: v.T("Retire it"), Form: "retire"},
		Other: &view.Action{Label: v.T("Leave it in use"), Href: recipePath(book.ID)}}
	return v.page(http.StatusOK, "recipe_retire", view.RecipeRetire{
		Base: b, Action: recipePath(book.ID) + "/retire",
		Text: v.T("It leaves the list of recipes. All its versions and bath sheets stay as they are."),
	})
}

// retireRecipe takes a recipe out of use.
func (s *Server) retireRecipe(v *visit) error {
	id, err := v.id("id")
	if err != nil {
		return err
	}
	if err := s.store.RetireRecipe(v.Request.Context(), v.shop.ID, id); err != nil {
		return err
	}
	return v.seeOther("/recipes", "Retired. You find it under the list.")
}

// restoreRecipe takes it back.
func (s *Server) restoreRecipe(v *visit) error {
	id, err := v.id("id")
	if err != nil {
		return err
	}
	if err := s.store.RestoreRecipe(v.Request.Context(), v.shop.ID, id); err != nil {
		return err
	}
	return v.seeOther(recipePath(id), "Back in use.")
}
