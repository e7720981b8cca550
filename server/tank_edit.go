package server

import (
	"errors"
	"net/http"
	"slices"

	"blackbath/bath"
	"blackbath/server/form"
	"blackbath/server/store"
	"blackbath/server/view"
)

// newTank asks for the shape, then for the sizes of that shape.
func (s *Server) newTank(v *visit) error {
	t := bath.KeptTank{Tank: bath.Tank{Shape: bath.Shape(v.Query("shape"))}}
	f := form.New()
	tankFields(f, &t, false, firstRows)
	return s.tankPage(v, http.StatusOK, f, t, firstRows, nil)
}

// editTank shows what is kept of a tank. Another shape begins without sizes.
func (s *Server) editTank(v *visit) error {
	t, err := s.tank(v)
	if err != nil {
		return err
	}
	known := true
	if shape := bath.Shape(v.Query("shape")); shape != "" && shape != t.Shape {
		t.Tank = bath.Tank{Name: t.Name, Shape: shape, Freeboard: t.Freeboard, HeaterKW: t.HeaterKW, Wall: t.Wall}
		known = false
	}
	f := form.New()
	rows := min(max(firstRows, len(t.MarkTable)+1), mostMarks)
	tankFields(f, &t, known, rows)
	return s.tankPage(v, http.StatusOK, f, t, rows, nil)
}

// saveTank keeps a new tank.
func (s *Server) saveTank(v *visit) error { return s.keepTank(v, bath.KeptTank{}) }

// updateTank changes one.
func (s *Server) updateTank(v *visit) error {
	t, err := s.tank(v)
	if err != nil {
		return err
	}
	return s.keepTank(v, t)
}

// keepTank reads the form and saves it over old, which is empty for a new tank.
func (s *Server) keepTank(v *visit, old bath.KeptTank) error {
	f, err := v.form()
	if err != nil {
		return err
	}
	sent := v.Request.PostForm
	t := bath.KeptTank{ID: old.ID, Retired: old.Retired, Tank: bath.Tank{Shape: bath.Shape(sent.Get("shape"))}}
	rows := rowsSent(sent)
	if sent.Has("more") {
		rows = min(rows+moreRows, mostMarks)
		tankFields(f, &t, false, rows) // for the count of changes that the page saw
		f = form.New()
		tankFields(f, &t, false, rows)
		asTyped(f, sent)
		return s.tankPage(v, http.StatusOK, f, t, rows, nil)
	}
	tankFields(f, &t, false, rows)
	if f.Bad() {
		return s.tankPage(v, http.StatusUnprocessableEntity, f, t, rows, nil)
	}
	id, err := s.store.SaveTank(v.Request.Context(), v.shop.ID, f.Key(), t)
	switch {
	case errors.Is(err, store.ErrConflict) && t.ID != 0:
		return s.tankMeanwhile(v, t, rows)
	case err != nil:
		return err
	}
	return v.seeOther(tankPath(id), "Saved.")
}

// tankMeanwhile shows what somebody else saved beside what was typed; saving once more goes over it.
func (s *Server) tankMeanwhile(v *visit, typed bath.KeptTank, rows int) error {
	now, err := s.store.Tank(v.Request.Context(), v.shop.ID, typed.ID)
	if err != nil {
		return err
	}
	f := form.New()
	t := typed
	t.Edit = now.Edit
	tankFields(f, &t, true, rows)
	asTyped(f, v.Request.PostForm)
	return s.tankPage(v, http.StatusConflict, f, t, rows, &now)
}

func (s *Server) tankPage(v *visit, status int, f *form.Form, t bath.KeptTank, rows int, now *bath.KeptTank) error {
	b := v.base(v.T("A new tank"))
	b.Back = &view.Link{Label: v.T("Tanks"), Href: "/tanks"}
	p := view.TankForm{Action: "/tanks/new", Marks: t.Shape == bath.Marks}
	if t.ID != 0 {
		b.Title = v.T("Change the tank")
		b.Back = &view.Link{Label: v.T("The tank"), Href: tankPath(t.ID)}
		p.Action = tankPath(t.ID) + "/edit"
	}
	if slices.Contains(bath.Shapes, t.Shape) {
		p.Shape = string(t.Shape)
		b.Ledge = &view.Ledge{Say: v.T("Sheets that are printed already keep their figures."), Main: &view.Action{Label: v.T("Save the tank"), Form: "tank"}}
	}
	for _, size := range tankSizes(t.Shape) {
		p.Sizes = append(p.Sizes, size.name)
	}
	if p.Marks {
		for row := range rows {
			p.Rows = append(p.Rows, [2]string{markField(row+1, "level_cm"), markField(row+1, "litres")})
		}
	}
	if now != nil {
		p.Kept = append([]view.Fact{{Name: v.T("Name of the tank"), Value: now.Name}}, tankFacts(v, now.Tank, b.Format)...)
	}
	p.Shapes = shapeKeys(v, b.Format, p.Action, t.Shape)
	p.Formed = view.Formed{Base: b, Form: f}
	return v.page(status, "tank_form", p)
}

// shapeKeys lead to the form for each shape, each with a drawing of a likely tank.
func shapeKeys(v *visit, f view.Format, action string, chosen bath.Shape) []view.ShapeKey {
	likely := map[bath.Shape]bath.Tank{
		bath.Box:      {Length: 50, Width: 30, Height: 30},
		bath.Cylinder: {Diameter: 34, Height: 32},
		bath.Cone:     {BottomDiameter: 24, TopDiameter: 36, Height: 30},
		bath.Bowl:     {RimDiameter: 60, Depth: 22},
		bath.Drum:     {Diameter: 40, Length: 80},
		bath.Marks:    {MarkTable: []bath.Mark{{}, {Level: 5, Volume: 3}, {Level: 10, Volume: 10}, {Level: 15, Volume: 20}, {Level: 20, Volume: 28}, {Level: 25, Volume: 34}}},
	}
	keys := make([]view.ShapeKey, len(bath.Shapes))
	for i, shape := range bath.Shapes {
		t := likely[shape]
		t.Shape = shape
		t.Freeboard = t.RimHeight() / 4
		keys[i] = view.ShapeKey{
			Label: v.text(view.ShapeName(shape)), Href: action + "?shape=" + string(shape), Here: shape == chosen,
			Drawing: view.DrawTank(t, nil, view.TankOptions{Format: f, Mud: t.FillLine(), Small: true}),
		}
	}
	return keys
}
