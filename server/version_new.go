package server

import (
	"net/http"
	"reflect"
	"strconv"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/server/form"
	"blackbath/server/view"
)

// showNewVersion asks for the next version, starting from the newest.
func (s *Server) showNewVersion(v *visit) error {
	book, last, err := s.bookAndChloride(v)
	if err != nil {
		return err
	}
	return s.newVersionPage(v, http.StatusOK, book, nextVersion(book, last).show(), false)
}

// saveNewVersion keeps it.
func (s *Server) saveNewVersion(v *visit) error {
	book, last, err := s.bookAndChloride(v)
	if err != nil {
		return err
	}
	a, pressed, err := nextVersion(book, last).read(v)
	switch {
	case err != nil:
		return err
	case pressed:
		return s.newVersionPage(v, http.StatusOK, book, a, false)
	case a.form.Bad():
		return s.newVersionPage(v, http.StatusUnprocessableEntity, book, a, false)
	}
	if a.seen != int64(newest(book).Number) {
		if sameContent(newest(book), a.version) { // sent twice
			return v.seeOther(recipePath(book.ID), "The new version is written down.")
		}
		v.Request.PostForm.Set(form.EditName, strconv.Itoa(newest(book).Number)) // once it was shown, it is known
		if a, _, err = nextVersion(book, last).read(v); err != nil {
			return err
		}
		return s.newVersionPage(v, http.StatusConflict, book, a, true)
	}
	if _, err := s.store.SaveVersion(v.Request.Context(), v.shop.ID, a.form.Key(), a.version); err != nil {
		return err
	}
	return v.seeOther(recipePath(book.ID), "The new version is written down.")
}

func (s *Server) bookAndChloride(v *visit) (bath.KeptBook, salt.ID, error) {
	book, err := s.recipeBook(v)
	if err != nil {
		return book, "", err
	}
	last, err := s.lastChloride(v)
	return book, last, err
}

// nextVersion starts from what the newest version holds; what changed and why is for the writer to say.
func nextVersion(book bath.KeptBook, last salt.ID) recipeStart {
	n := newest(book)
	return recipeStart{
		held: bath.Version{RecipeID: book.ID, Recipe: n.Recipe}, reasons: true, before: n.Recipe, last: last, edit: int64(n.Number),
	}
}

func sameContent(a, b bath.Version) bool {
	return reflect.DeepEqual(a.Recipe, b.Recipe) && a.Change == b.Change && a.Why == b.Why
}

// newVersionPage draws the form. meanwhile is true where somebody else wrote a version since the page was made.
func (s *Server) newVersionPage(v *visit, status int, book bath.KeptBook, a *recipeAsk, meanwhile bool) error {
	n := newest(book).Number
	b := v.base(v.T("%s, version %d", newest(book).Recipe.Name, n+1))
	b.Back = &view.Link{Label: newest(book).Recipe.Name, Href: recipePath(book.ID)}
	b.Lead = v.T("It starts from version %d, which stays as it is.", n)
	b.Ledge = &view.Ledge{Say: v.T("Sheets that are printed already keep their version."), Main: &view.Action{Label: v.T("Keep version %d", n+1), Form: "recipe"}}
	p := view.RecipeForm{Formed: view.Formed{Base: b}, Action: recipePath(book.ID) + "/versions/new"}
	if meanwhile {
		p.Notice = v.T("Version %d was written since you opened this page. Yours is not saved yet. Look at it first; sent again, yours becomes version %d.", n, n+1)
		p.Other = &view.Link{Label: v.T("Version\u00a0%d", n), Href: versionPath(newest(book))}
	}
	return s.recipeForm(v, status, a, p)
}
