package server

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/server/store"
	"blackbath/server/view"
)

// showRecipe shows a recipe as its newest version has it.
func (s *Server) showRecipe(v *visit) error {
	book, err := s.recipeBook(v)
	if err != nil {
		return err
	}
	return s.versionPage(v, book, newest(book))
}

// showVersion shows one version, also an old one.
func (s *Server) showVersion(v *visit) error {
	book, version, err := s.recipeVersion(v)
	if err != nil {
		return err
	}
	return s.versionPage(v, book, version)
}

// recipeBook reads the recipe that the path names.
func (s *Server) recipeBook(v *visit) (bath.KeptBook, error) {
	id, err := v.id("id")
	if err != nil {
		return bath.KeptBook{}, err
	}
	return s.store.RecipeBook(v.Request.Context(), v.shop.ID, id)
}

// recipeVersion reads the recipe and the version that the path names.
func (s *Server) recipeVersion(v *visit) (bath.KeptBook, bath.Version, error) {
	book, err := s.recipeBook(v)
	if err != nil {
		return book, bath.Version{}, err
	}
	version, err := numbered(book, v.Param("n"))
	return book, version, err
}

func newest(book bath.KeptBook) bath.Version { return book.Versions[len(book.Versions)-1] }

// numbered finds a version by its number as it stands in an address.
func numbered(book bath.KeptBook, number string) (bath.Version, error) {
	i := slices.IndexFunc(book.Versions, func(x bath.Version) bool { return strconv.Itoa(x.Number) == number })
	if i < 0 {
		return bath.Version{}, fmt.Errorf("version %q of recipe %d: %w", number, book.ID, store.ErrNotFound)
	}
	return book.Versions[i], nil
}

// lastChloride is the one of the two chlorides that this workshop used last, or that it used neither.
func (s *Server) lastChloride(v *visit) (salt.ID, error) {
	last, err := s.store.LastChloride(v.Request.Context(), v.shop.ID)
	if last == "" {
		last = bath.NoChloride
	}
	return last, err
}

func (s *Server) versionPage(v *visit, book bath.KeptBook, version bath.Version) error {
	last, err := s.lastChloride(v)
	if err != nil {
		return err
	}
	isNewest := version.Number == newest(book).Number
	title := version.Recipe.Name
	if !isNewest {
		title = v.T("%s, version %d", version.Recipe.Name, version.Number)
	}
	b := v.base(title)
	b.Back = &view.Link{Label: v.T("Recipes"), Href: "/recipes"}
	b.Lead = v.T("Version %d, the newest.", version.Number)
	b.Ledge = versionLedge(v, book, version)
	p := view.RecipeShow{
		Base: b, Number: version.Number, Parts: partsTable(v, b.Format, version.Recipe),
		Windows:  []view.Window{tempWindow(v, b.Format, version.Recipe.Temp), soakWindow(v, b.Format, version.Recipe.Soak)},
		Facts:    versionFacts(v, b.Format, version),
		Cautions: v.grouped(bath.CautionsForRecipe(version.Recipe, last)),
		Versions: versionsTable(v, b.Format, book, version), Proof: proofView(v, b.Format, version),
	}
	if !isNewest {
		p.Lead = v.T("An older version, kept as it was.")
		p.Outdated = &view.Link{Label: v.T("Version %d is the newest", newest(book).Number), Href: recipePath(book.ID)}
	}
	if len(book.Versions) > 1 {
		p.Compare = &view.Link{Label: v.T("Compare two versions side by side"), Href: comparePath(book, version)}
	}
	versionActions(v, book, version, &p)
	return v.page(http.StatusOK, "recipe_show", p)
}

func versionLedge(v *visit, book bath.KeptBook, version bath.Version) *view.Ledge {
	if book.Retired {
		return &view.Ledge{Strong: v.T("Retired."), Say: v.T("It stays here for the sheets that were made from it."),
			Main: &view.Action{Label: v.T("Take it back into use"), Form: "restore"}}
	}
	return &view.Ledge{
		Strong: v.T("Version %d.", version.Number), Say: v.T("Pick a tank, and it says what to weigh."),
		Main:  &view.Action{Label: v.T("Scale to a tank"), Href: versionPath(version) + "/scale"},
		Other: &view.Action{Label: v.T("Write version %d", newest(book).Number+1), Href: recipePath(book.ID) + "/versions/new"},
	}
}

// versionActions are what may still be done with a version.
func versionActions(v *visit, book bath.KeptBook, version bath.Version, p *view.RecipeShow) {
	switch {
	case version.Proof == nil:
		p.Prove = &view.Link{Label: v.T("Say where it was proven"), Href: versionPath(version) + "/proof"}
	case !version.Used:
		p.Prove = &view.Link{Label: v.T("Change where it was proven"), Href: versionPath(version) + "/proof"}
	}
	if !version.Used {
		p.Edit = &view.Link{Label: v.T("Change version %d itself", version.Number), Href: versionPath(version) + "/edit"}
	}
	if book.Retired {
		p.Restore = recipePath(book.ID) + "/restore"
	} else {
		p.Retire = recipePath(book.ID) + "/retire"
	}
}

// partsTable states each part as it was written, and for each kilogram of water.
func partsTable(v *visit, f view.Format, r bath.Recipe) view.Table {
	t := view.Table{
		Caption: v.T("Parts"),
		Columns: []view.Column{{Label: v.T("Part")}, {Label: v.T("As written"), Figure: true}, {Label: v.T("To each kg of water"), Figure: true}},
	}
	allWater := waterOf(r)
	for _, p := range r.Parts {
		name := view.Cell{Value: f.PartName(p), Small: partNote(v, f, p)}
		each := view.Cell{Value: v.T("this is the water")}
		if p.Kind != bath.Water {
			each.Value = f.PerKG(1000 * float64(p.Mass) / allWater)
		}
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{name, {Value: f.MassShort(p.Mass)}, each}})
	}
	return t
}

// waterOf is all the water of a recipe, g.
func waterOf(r bath.Recipe) float64 {
	sum := 0.0
	for _, p := range r.Parts {
		if p.Kind == bath.Water {
			sum += float64(p.Mass)
		}
	}
	return sum
}

// partNote is the small line under a part: on what basis it counts.
func partNote(v *visit, f view.Format, p bath.Part) string {
	switch p.Kind {
	case bath.Water:
		return v.T("all of it, whatever it comes in with")
	case bath.Earth:
		return v.T("counted dry")
	}
	s, err := salt.Lookup(string(p.Salt))
	if err != nil {
		return ""
	}
	note := v.T("CAS %s", s.CAS)
	if s.TradeName != "" {
		note = v.T(s.TradeName) + ", " + note
	}
	if s.CrystalWaters > 0 {
		note += ". " + v.T("%s of it is crystal water, which counts as bath water", f.Percent(100*s.CrystalWaterShare(), 1))
	}
	return note
}

func versionFacts(v *visit, f view.Format, version bath.Version) []view.Fact {
	facts := []view.Fact{
		{Name: v.T("Written"), Value: f.Day(version.MadeAt)},
		{Name: v.T("By"), Value: f.OrNot(version.MadeBy)},
		{Name: v.T("Used"), Value: usedWord(v, version)},
	}
	if version.Number > 1 {
		facts = append(facts, view.Fact{Name: v.T("What changed"), Value: f.OrNot(version.Change)})
	}
	return append(facts, view.Fact{Name: v.T("Why"), Value: f.OrNot(version.Why)})
}

func versionsTable(v *visit, f view.Format, book bath.KeptBook, here bath.Version) view.Table {
	t := view.Table{
		Caption: v.T("All versions"),
		Columns: []view.Column{
			{Label: v.T("Version")}, {Label: v.T("What changed")}, {Label: v.T("Why")}, {Label: v.T("Written"), Whole: true}, {Label: v.T("By")}, {Label: v.T("Used")},
		},
	}
	for _, x := range slices.Backward(book.Versions) {
		change := f.OrNot(x.Change)
		if x.Number == 1 && x.Change == "" {
			change = v.T("the first")
		}
		number := view.Cell{Value: v.T("Version\u00a0%d", x.Number), Href: versionPath(x)}
		if x.Number == here.Number {
			number = view.Cell{Value: template.HTML("<b>" + template.HTMLEscapeString(v.T("Version\u00a0%d", x.Number)) + "</b>"), Small: v.T("shown here")}
		}
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{
			number, {Value: change}, {Value: f.OrNot(x.Why)}, {Value: f.Day(x.MadeAt)}, {Value: f.OrNot(x.MadeBy)}, {Value: usedWord(v, x)},
		}})
	}
	return t
}

// saltLabel names a salt in a sentence, with what is read off its label.
func saltLabel(s salt.Salt) input.Text {
	if s.TradeName == "" {
		return input.Say("%s, %s, CAS %s", input.Say(s.Name), s.Formula, s.CAS)
	}
	return input.Say("%s (%s), %s, CAS %s", input.Say(s.Name), input.Say(s.TradeName), s.Formula, s.CAS)
}
