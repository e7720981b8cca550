package server

import (
	"errors"
	"net/http"

	"blackbath/bath"
	"blackbath/server/form"
	"blackbath/server/store"
	"blackbath/server/view"
)

func lotPath(id int64) string { return "/lots/" + idText(id) }

// lot reads the lot of the address.
func (s *Server) lot(v *visit) (bath.Lot, error) {
	id, err := v.id("id")
	if err != nil {
		return bath.Lot{}, err
	}
	return s.store.Lot(v.Request.Context(), v.shop.ID, id)
}

// newLot asks what it is and then for its fields.
func (s *Server) newLot(v *visit) error {
	m, ok := lotIdentity(v.Query("kind"), v.Query("salt"))
	if !ok {
		return s.chooseLot(v, v.Query("kind"), v.Query("salt"))
	}
	materials, err := s.materialsOf(v, m.Kind)
	if err != nil {
		return err
	}
	if m.Kind != bath.Salt && len(materials) == 1 {
		m = materials[0]
	}
	f := form.New()
	l := bath.Lot{Material: m}
	lotFields(v, f, &l, materials)
	return s.lotPage(v, http.StatusOK, f, l)
}

// editLot shows what is kept of a lot.
func (s *Server) editLot(v *visit) error {
	l, err := s.lot(v)
	if err != nil {
		return err
	}
	f, err := s.keptForm(v, l)
	if err != nil {
		return err
	}
	return s.lotPage(v, http.StatusOK, f, l)
}

// keptForm is the form of a lot as it is stored.
func (s *Server) keptForm(v *visit, l bath.Lot) (*form.Form, error) {
	materials, err := s.materialsOf(v, l.Material.Kind)
	f := form.New()
	lotFields(v, f, &l, materials)
	return f, err
}

// saveLot keeps a new lot.
func (s *Server) saveLot(v *visit) error {
	f, err := v.form()
	if err != nil {
		return err
	}
	kind, id := v.Request.PostForm.Get("kind"), v.Request.PostForm.Get("salt")
	m, ok := lotIdentity(kind, id)
	if !ok {
		return s.chooseLot(v, kind, id)
	}
	return s.keepLot(v, f, bath.Lot{Material: m})
}

// updateLot changes one.
func (s *Server) updateLot(v *visit) error {
	l, err := s.lot(v)
	if err != nil {
		return err
	}
	f, err := v.form()
	if err != nil {
		return err
	}
	return s.keepLot(v, f, l)
}

// keepLot reads the form into l and stores it.
func (s *Server) keepLot(v *visit, f *form.Form, l bath.Lot) error {
	materials, err := s.materialsOf(v, l.Material.Kind)
	if err != nil {
		return err
	}
	if l.Material.Kind == bath.Salt && l.ID == 0 {
		for _, m := range materials {
			if m.Salt == l.Material.Salt {
				l.Material = m
			}
		}
	}
	lotFields(v, f, &l, materials)
	if f.Bad() {
		return s.lotPage(v, http.StatusUnprocessableEntity, f, l)
	}
	if l.Material.ID, err = s.materialID(v, l.Material); err != nil {
		return err
	}
	id, err := s.store.SaveLot(v.Request.Context(), v.shop.ID, f.Key(), l)
	switch {
	case errors.Is(err, store.ErrConflict) && l.ID != 0:
		return s.lotMeanwhile(v, f, l)
	case err != nil:
		return err
	}
	return v.seeOther(lotPath(id), "Saved.")
}

// lotMeanwhile shows what somebody else saved beside what was typed; saving once more goes over it.
func (s *Server) lotMeanwhile(v *visit, f *form.Form, l bath.Lot) error {
	kept, err := s.lot(v)
	if err != nil {
		return err
	}
	now, err := s.keptForm(v, kept)
	if err != nil {
		return err
	}
	if !f.Meanwhile(now) {
		return v.seeOther(lotPath(l.ID), "Saved.")
	}
	return s.lotPage(v, http.StatusConflict, f, l)
}

func (s *Server) lotPage(v *visit, status int, f *form.Form, l bath.Lot) error {
	title := v.T("A new lot of %s", v.text(view.KindName(string(l.Material.Kind))))
	x, isSalt := saltOf(l.Material)
	if isSalt {
		title = v.T("A new lot of %s", v.T(x.Name))
	}
	b := v.base(title)
	b.Back = &view.Link{Label: v.T("What it is"), Href: "/lots/new"}
	p := view.LotForm{Action: "/lots/new", New: l.ID == 0, Kind: string(l.Material.Kind), Salt: string(l.Material.Salt)}
	if l.ID != 0 {
		b.Title = v.T("Change the lot %s", l.Name)
		b.Back = &view.Link{Label: v.T("The lot"), Href: lotPath(l.ID)}
		p.Action = lotPath(l.ID) + "/edit"
	}
	b.Ledge = &view.Ledge{Say: v.T("What you leave empty counts as not known, never as nothing."), Main: &view.Action{Label: v.T("Keep this lot"), Form: "lot"}}
	if isSalt {
		p.Identity = saltIdentity(v, x)
	}
	if isSalt && p.New {
		p.Another = &view.Link{Label: v.T("It is another salt"), Href: "/lots/new?kind=salt"}
		p.Pair = chloridePair(v, x.ID)
		p.Tick = formulaRead(x.ID)
	}
	p.Formed = view.Formed{Base: b, Form: f}
	return v.page(status, "lot_form", p)
}
