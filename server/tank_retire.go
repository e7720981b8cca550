package server

import (
	"net/http"

	"blackbath/server/form"
	"blackbath/server/view"
)

// askRetireTank asks before a tank is retired.
func (s *Server) askRetireTank(v *visit) error {
	t, err := s.tank(v)
	if err != nil {
		return err
	}
	b := v.base(v.T("Retire %s?", t.Name))
	b.Back = &view.Link{Label: t.Name, Href: tankPath(t.ID)}
	b.Ledge = &view.Ledge{
		Say:   v.T("It can be brought back."),
		Main:  &view.Action{Label: v.T("Retire the tank"), Form: "retire"},
		Other: &view.Action{Label: v.T("Keep it in use"), Href: tankPath(t.ID)},
	}
	return v.page(http.StatusOK, "tank_retire", view.TankRetire{Formed: view.Formed{Base: b, Form: form.New()}, ID: t.ID})
}

// retireTank takes a tank out of use.
func (s *Server) retireTank(v *visit) error {
	id, err := v.id("id")
	if err != nil {
		return err
	}
	if err := s.store.RetireTank(v.Request.Context(), v.shop.ID, id); err != nil {
		return err
	}
	return v.seeOther(tankPath(id), "Retired. It is offered no more; it can be brought back here.")
}

// restoreTank brings it back.
func (s *Server) restoreTank(v *visit) error {
	id, err := v.id("id")
	if err != nil {
		return err
	}
	if err := s.store.RestoreTank(v.Request.Context(), v.shop.ID, id); err != nil {
		return err
	}
	return v.seeOther(tankPath(id), "Back in use.")
}
