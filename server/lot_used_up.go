package server

import (
	"net/http"

	"blackbath/server/view"
)

// askUseUpLot asks before a lot is marked as used up.
func (s *Server) askUseUpLot(v *visit) error {
	l, err := s.lot(v)
	if err != nil {
		return err
	}
	b := v.base(v.T("Is %s used up?", l.Name))
	b.Back = &view.Link{Label: v.T("The lot"), Href: lotPath(l.ID)}
	b.Ledge = &view.Ledge{
		Say:   v.T("It can be brought back."),
		Main:  &view.Action{Label: v.T("Yes, it is used up"), Form: "used-up"},
		Other: &view.Action{Label: v.T("Keep it in use"), Href: lotPath(l.ID)},
	}
	return v.page(http.StatusOK, "lot_used_up", view.LotUseUp{Base: b, ID: l.ID})
}

// useUpLot takes a lot out of use.
func (s *Server) useUpLot(v *visit) error {
	id, err := v.id("id")
	if err != nil {
		return err
	}
	if err := s.store.UseUpLot(v.Request.Context(), v.shop.ID, id); err != nil {
		return err
	}
	return v.seeOther(lotPath(id), "Used up. New sheets offer it no more; it can be brought back here.")
}

// restoreLot brings it back.
func (s *Server) restoreLot(v *visit) error {
	id, err := v.id("id")
	if err != nil {
		return err
	}
	if err := s.store.RestoreLot(v.Request.Context(), v.shop.ID, id); err != nil {
		return err
	}
	return v.seeOther(lotPath(id), "Back in use.")
}
