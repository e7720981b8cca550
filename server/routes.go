package server

import "net/http"

// How to add a page:
//
//   - one file here, named noun_verb.go (tank_show.go), with a method `func (s *Server) showTank(v *visit) error`. It reads
//     what it needs, fills the page's struct and returns `v.page(http.StatusOK, "tank_show", view.TankShow{Base: ...})`;
//   - one struct in package view, embedding view.Base; v.base(title) makes the base;
//   - one template web/templates/pages/tank_show.tmpl with {{define "main"}}...{{end}}; all its words go through {{T "..."}};
//   - one line in the list below, and a test. A place of the menu (places.go) shows as soon as its path is in this list.
//
// A form is one function that binds its fields (see package form). GET shows it with form.New(); POST reads it with v.form(),
// and when f.Bad() shows the same page again with http.StatusUnprocessableEntity; else it saves with f.Key() as entry key
// and returns v.seeOther(path, "Saved."). Only POST changes anything. An error that a handler returns is turned into a page
// in errors.go, nowhere else.
func (s *Server) routes() []route {
	const get, post = http.MethodGet, http.MethodPost
	return []route{
		{get, "/", anyone, s.home},
		{get, "/start", anyone, s.showStart},
		{post, "/start", anyone, s.saveStart},
		{get, "/settings", workshop, s.showSettings},
		{post, "/settings", workshop, s.saveSettings},
		{post, "/light", anyone, s.setLight},
		{get, "/tanks", workshop, s.listTanks},
		{get, "/tanks.csv", workshop, s.exportTanks},
		{get, "/tanks/new", workshop, s.newTank},
		{post, "/tanks/new", workshop, s.saveTank},
		{get, "/tanks/:id", workshop, s.showTank},
		{get, "/tanks/:id/levels.csv", workshop, s.exportLevels},
		{get, "/tanks/:id/edit", workshop, s.editTank},
		{post, "/tanks/:id/edit", workshop, s.updateTank},
		{get, "/tanks/:id/retire", workshop, s.askRetireTank},
		{post, "/tanks/:id/retire", workshop, s.retireTank},
		{post, "/tanks/:id/restore", workshop, s.restoreTank},
		{get, "/lots", workshop, s.listLots},
		{get, "/lots.csv", workshop, s.exportLots},
		{get, "/lots/new", workshop, s.newLot},
		{post, "/lots/new", workshop, s.saveLot},
		{get, "/lots/:id", workshop, s.showLot},
		{get, "/lots/:id/edit", workshop, s.editLot},
		{post, "/lots/:id/edit", workshop, s.updateLot},
		{get, "/lots/:id/used-up", workshop, s.askUseUpLot},
		{post, "/lots/:id/used-up", workshop, s.useUpLot},
		{post, "/lots/:id/restore", workshop, s.restoreLot},
		{get, "/salts", anyone, s.listSalts},
		{get, "/salts.csv", anyone, s.exportSalts},
		{get, "/salts/:id", anyone, s.showSalt},
		{get, "/recipes", workshop, s.listRecipes},
		{get, "/recipes.csv", workshop, s.exportRecipes},
		{get, "/recipes/new", workshop, s.showNewRecipe},
		{post, "/recipes/new", workshop, s.saveNewRecipe},
		{get, "/recipes/:id", workshop, s.showRecipe},
		{get, "/recipes/:id/retire", workshop, s.askRetireRecipe},
		{post, "/recipes/:id/retire", workshop, s.retireRecipe},
		{post, "/recipes/:id/restore", workshop, s.restoreRecipe},
		{get, "/recipes/:id/compare", workshop, s.compareVersions},
		{get, "/recipes/:id/versions/new", workshop, s.showNewVersion},
		{post, "/recipes/:id/versions/new", workshop, s.saveNewVersion},
		{get, "/recipes/:id/versions/:n", workshop, s.showVersion},
		{get, "/recipes/:id/versions/:n/edit", workshop, s.showVersionEdit},
		{post, "/recipes/:id/versions/:n/edit", workshop, s.saveVersionEdit},
		{get, "/recipes/:id/versions/:n/proof", workshop, s.showVersionProof},
		{post, "/recipes/:id/versions/:n/proof", workshop, s.saveVersionProof},
		{get, "/recipes/:id/versions/:n/scale", workshop, s.showScale},
		{get, "/sheets", workshop, s.listSheets},
		{get, "/sheets.csv", workshop, s.exportSheets},
		{post, "/sheets", workshop, s.makeSheet},
		{get, "/sheets/:id", workshop, s.showSheet},
		{get, "/sheets/:id/recipe.json", workshop, s.sheetRecipe},
		{get, "/sheets/:id/tank.json", workshop, s.sheetTank},
	}
}

// A route is one thing that can be asked of the service.
type route struct {
	method, path string
	who          audience
	do           func(*visit) error
}

// An audience says what a page needs before it can be shown.
type audience int

const (
	anyone   audience = iota // nothing
	workshop                 // the workshop is set up; before that the visitor is led to /start
)
