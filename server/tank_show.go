package server

import (
	"net/http"

	"blackbath/bath"
	"blackbath/server/form"
	"blackbath/server/view"
)

// tank reads the tank of the address.
func (s *Server) tank(v *visit) (bath.KeptTank, error) {
	id, err := v.id("id")
	if err != nil {
		return bath.KeptTank{}, err
	}
	return s.store.Tank(v.Request.Context(), v.shop.ID, id)
}

// showTank shows a tank, its table of levels, and answers what is asked of it.
func (s *Server) showTank(v *visit) error {
	t, err := s.tank(v)
	if err != nil {
		return err
	}
	b := v.base(t.Name)
	b.Back = &view.Link{Label: v.T("Tanks"), Href: "/tanks"}
	b.Ledge = s.tankLedge(v, t)
	asked := form.Read(v.Request.URL.Query())
	p := view.TankShow{
		ID: t.ID, Retired: t.Retired,
		Drawing: view.DrawTank(t.Tank, nil, view.TankOptions{Format: b.Format, Mud: t.FillLine()}),
		Facts:   tankFacts(v, t.Tank, b.Format),
		ByMarks: t.Shape == bath.Marks,
		Answers: tankQuestions(asked, t.Tank, b.Format),
		Doubt:   tankDoubt(v, t.Tank, b.Format),
		Table:   tankLevelTable(v, t, b.Format),
	}
	p.Formed = view.Formed{Base: b, Form: asked}
	status := http.StatusOK
	if asked.Bad() {
		status = http.StatusUnprocessableEntity
	}
	return v.page(status, "tank_show", p)
}

func (s *Server) tankLedge(v *visit, t bath.KeptTank) *view.Ledge {
	change := &view.Action{Label: v.T("Change the tank"), Href: tankPath(t.ID) + "/edit"}
	if t.Retired || !s.exists["/recipes"] {
		return &view.Ledge{Say: v.T("Sheets that are printed already keep their figures."), Main: change}
	}
	return &view.Ledge{
		Say:   v.T("Scale a recipe to it and print the bath sheet."),
		Main:  &view.Action{Label: v.T("Choose a recipe"), Href: "/recipes"},
		Other: change,
	}
}

// exportLevels sends the table of levels as a file.
func (s *Server) exportLevels(v *visit) error {
	t, err := s.tank(v)
	if err != nil {
		return err
	}
	return v.csv("levels.csv", tankLevelTable(v, t, v.base("").Format))
}
