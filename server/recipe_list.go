package server

import (
	"fmt"
	"net/http"
	"strconv"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/server/store"
	"blackbath/server/view"
)

// listRecipes shows the recipes in use, a page at a time, and those that are retired apart.
func (s *Server) listRecipes(v *visit) error {
	l := v.listing()
	b := v.base(v.T("Recipes"))
	b.Lead = v.T("What a bath should be. A version that a bath used never changes; a new one says what changed and why.")
	b.Ledge = &view.Ledge{Say: v.T("Write it down as you make it now."), Main: &view.Action{Label: v.T("Write a recipe"), Href: "/recipes/new"}}
	ctx := v.Request.Context()
	lines, total, err := s.store.ListRecipes(ctx, v.shop.ID, store.RecipeFilter{Text: l.q, Page: l.store()})
	if err != nil {
		return err
	}
	all, _, err := s.store.ListRecipes(ctx, v.shop.ID, store.RecipeFilter{Text: l.q, IncludeRetired: true})
	if err != nil {
		return err
	}
	p := view.RecipeList{
		Base: b, Filter: l.filter(v.T("Find a recipe")), Table: recipeTable(v, l, b.Format, lines), Pager: l.pager(total),
		Retired: retiredRecipes(v, b.Format, all), None: total == 0,
	}
	if l.q == "" && len(all) == 0 {
		p.Empty = &view.Empty{Icon: "recipes", Strong: v.T("No recipe yet."), Say: v.T("There is no right recipe to begin with: write down yours, as it is made in this workshop.")}
	}
	return v.page(http.StatusOK, "recipe_list", p)
}

// exportRecipes sends the recipes in use as a file.
func (s *Server) exportRecipes(v *visit) error {
	l := v.listing()
	lines, _, err := s.store.ListRecipes(v.Request.Context(), v.shop.ID, store.RecipeFilter{Text: l.q, Page: l.all()})
	if err != nil {
		return err
	}
	return v.csv("recipes.csv", recipeTable(v, l, v.base("").Format, lines))
}

func recipeTable(v *visit, l listing, f view.Format, lines []bath.RecipeLine) view.Table {
	t := view.Table{
		Caption: v.T("The recipes in use"),
		CSV:     l.file("/recipes.csv"),
		Columns: []view.Column{
			l.column(input.Say("Recipe"), "name", false),
			l.column(input.Say("Newest version"), "versions", true),
			l.column(input.Say("Written"), "made", false),
			l.column(input.Say("Parts"), "", false),
			l.column(input.Say("Temperature"), "", false),
			l.column(input.Say("Soak"), "", false),
			l.column(input.Say("Proven in"), "", false),
			l.column(input.Say("Used"), "", false),
		},
	}
	t.Columns[2].Whole = true
	for _, line := range lines {
		n := line.Newest
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{
			{Value: n.Recipe.Name, Href: recipePath(line.ID)},
			{Value: strconv.Itoa(n.Number)},
			{Value: f.Day(n.MadeAt)},
			{Value: f.Parts(n.Recipe), Plain: f.PartsPlain(n.Recipe)},
			{Value: tempWindow(v, f, n.Recipe.Temp).Say},
			{Value: soakWindow(v, f, n.Recipe.Soak).Say},
			{Value: provenIn(v, n)},
			{Value: usedWord(v, n)},
		}})
	}
	return t
}

func retiredRecipes(v *visit, f view.Format, all []bath.RecipeLine) []view.RetiredRecipe {
	var out []view.RetiredRecipe
	for _, line := range all {
		if !line.Retired {
			continue
		}
		out = append(out, view.RetiredRecipe{
			Name: line.Newest.Recipe.Name, Href: recipePath(line.ID), Restore: recipePath(line.ID) + "/restore",
			Say: v.T("version %d, %s", line.Newest.Number, f.Day(line.Newest.MadeAt)), Parts: f.Parts(line.Newest.Recipe),
		})
	}
	return out
}

func recipePath(id int64) string { return fmt.Sprintf("/recipes/%d", id) }

func versionPath(v bath.Version) string {
	return fmt.Sprintf("%s/versions/%d", recipePath(v.RecipeID), v.Number)
}

func provenIn(v *visit, n bath.Version) string {
	if n.Proof == nil {
		return v.T("not proven yet")
	}
	return n.Proof.Tank.Name
}

func usedWord(v *visit, n bath.Version) string {
	if n.Used {
		return v.T("used by a bath")
	}
	return v.T("not used yet")
}

func tempWindow(v *visit, f view.Format, w bath.TempWindow) view.Window {
	return recipeWindow(v, v.T("Temperature"), f.Celsius(w.Min), f.Celsius(w.Target), f.Celsius(w.Max))
}

// soakWindow is the soak's window; one that nobody wrote down has only words.
func soakWindow(v *visit, f view.Format, w *bath.SoakWindow) view.Window {
	if w == nil {
		return view.Window{Name: v.T("Soak"), Narrow: true, Say: f.NotRecorded().Number}
	}
	minutes := func(x any) view.Quantity { return f.Plain(x, "min") }
	return recipeWindow(v, v.T("Soak"), minutes(w.Min), minutes(w.Target), minutes(w.Max))
}

func recipeWindow(v *visit, name string, low, target, high view.Quantity) view.Window {
	w := view.Window{Name: name, Min: low, Target: target, Max: high, Narrow: low == target && high == target}
	w.Say = v.T("%s to %s, target %s", low.Number, high, target)
	if w.Narrow {
		w.Say = target.String()
	}
	return w
}
