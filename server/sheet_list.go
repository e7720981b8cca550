package server

import (
	"net/http"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/server/store"
	"blackbath/server/view"
)

// listSheets shows the bath sheets, the newest first.
func (s *Server) listSheets(v *visit) error {
	l := v.listing()
	lines, total, err := s.store.ListBathSheets(v.Request.Context(), v.shop.ID, sheetFilter(l, l.store()))
	if err != nil {
		return err
	}
	b := v.base(v.T("Bath sheets"))
	b.Lead = v.T("Each sheet keeps its figures as they were printed. It never changes.")
	page := view.SheetList{Base: b, Filter: l.filter(v.T("Find a sheet")), Table: sheetTable(v, l, b.Format, lines), Pager: l.pager(total)}
	if total == 0 && l.q == "" {
		page.Empty = &view.Empty{
			Icon: "baths", Strong: v.T("No sheet yet."), Say: v.T("Pick a recipe, scale it to a tank, and print the sheet that hangs by it."),
			Do: &view.Link{Label: v.T("To the recipes"), Href: "/recipes"},
		}
	}
	return v.page(http.StatusOK, "sheet_list", page)
}

// exportSheets sends the same table, whole, as a file.
func (s *Server) exportSheets(v *visit) error {
	l := v.listing()
	lines, _, err := s.store.ListBathSheets(v.Request.Context(), v.shop.ID, sheetFilter(l, l.all()))
	if err != nil {
		return err
	}
	return v.csv("bath-sheets.csv", sheetTable(v, l, v.base("").Format, lines))
}

func sheetFilter(l listing, p store.Page) store.SheetFilter {
	if p.Sort == "" { // the newest first
		p.Desc = true
	}
	return store.SheetFilter{Text: l.q, Page: p}
}

func sheetTable(v *visit, l listing, f view.Format, lines []bath.SheetLine) view.Table {
	t := view.Table{
		Caption: v.T("Bath sheets"), CSV: l.file("/sheets.csv"),
		Columns: []view.Column{
			l.column(input.Say("Sheet"), "number", false), l.column(input.Say("Recipe"), "recipe", false),
			l.column(input.Say("Version"), "", true), l.column(input.Say("Tank"), "tank", false),
			l.column(input.Say("Made"), "made", false), l.column(input.Say("Made by"), "by", false),
		},
		Rows: make([]view.Row, len(lines)),
	}
	for i, x := range lines {
		t.Rows[i].Cells = []view.Cell{
			{Value: v.T("Sheet %d", x.Number), Plain: idText(int64(x.Number)), Href: "/sheets/" + idText(x.ID)},
			{Value: x.RecipeName, Href: "/recipes/" + idText(x.RecipeID)}, {Value: x.VersionNumber}, {Value: x.TankName},
			{Value: f.When(x.MadeAt)}, {Value: f.OrNot(x.MadeBy)},
		}
	}
	return t
}
