package server

import (
	"errors"
	"fmt"
	"net/http"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/server/store"
	"blackbath/server/view"
)

// showVersionEdit asks for changes of a version that no bath used yet.
func (s *Server) showVersionEdit(v *visit) error {
	book, version, last, err := s.unusedVersion(v)
	if err != nil {
		return err
	}
	return s.editVersionPage(v, http.StatusOK, version, sameVersion(book, version, last).show())
}

// saveVersionEdit changes it in place.
func (s *Server) saveVersionEdit(v *visit) error {
	book, version, last, err := s.unusedVersion(v)
	if err != nil {
		return err
	}
	a, pressed, err := sameVersion(book, version, last).read(v)
	switch {
	case err != nil:
		return err
	case pressed:
		return s.editVersionPage(v, http.StatusOK, version, a)
	case a.form.Bad():
		return s.editVersionPage(v, http.StatusUnprocessableEntity, version, a)
	}
	a.version.Edit = a.seen
	err = s.store.UpdateVersion(v.Request.Context(), v.shop.ID, a.version)
	if errors.Is(err, store.ErrConflict) {
		if a.form.Meanwhile(sameVersion(book, version, last).show().form) {
			return s.editVersionPage(v, http.StatusConflict, version, a)
		}
	} else if err != nil {
		return err
	}
	return v.seeOther(versionPath(version), "Saved.")
}

func (s *Server) unusedVersion(v *visit) (bath.KeptBook, bath.Version, salt.ID, error) {
	book, version, err := s.recipeVersion(v)
	if err != nil {
		return book, version, "", err
	}
	if version.Used {
		return book, version, "", fmt.Errorf("version %d of recipe %d: %w", version.Number, book.ID, store.ErrVersionUsed)
	}
	last, err := s.lastChloride(v)
	return book, version, last, err
}

// sameVersion starts from a version and ends in it.
func sameVersion(book bath.KeptBook, version bath.Version, last salt.ID) recipeStart {
	start := recipeStart{held: version, reasons: version.Number > 1, last: last, edit: version.Edit}
	for _, x := range book.Versions {
		if x.Number == version.Number-1 {
			start.before = x.Recipe
		}
	}
	return start
}

func (s *Server) editVersionPage(v *visit, status int, version bath.Version, a *recipeAsk) error {
	b := v.base(v.T("Change %s, version %d", version.Recipe.Name, version.Number))
	b.Back = &view.Link{Label: v.T("%s, version %d", version.Recipe.Name, version.Number), Href: versionPath(version)}
	b.Lead = v.T("No bath used it yet, so it can still change.")
	b.Ledge = &view.Ledge{Say: v.T("What stood here before is not kept."), Main: &view.Action{Label: v.T("Save version %d", version.Number), Form: "recipe"}}
	return s.recipeForm(v, status, a, view.RecipeForm{Formed: view.Formed{Base: b}, Action: versionPath(version) + "/edit"})
}
