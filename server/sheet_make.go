package server

import (
	"errors"
	"net/http"
	"net/url"
	"slices"

	"blackbath/bath"
	"blackbath/server/form"
	"blackbath/server/store"
)

// makeSheet stores a bath sheet of what the scale form holds, and leads to it.
func (s *Server) makeSheet(v *visit) error {
	if err := v.Request.ParseForm(); err != nil {
		return badRequest(err)
	}
	in, err := s.scaleInputsOf(v, v.Query("recipe"), v.Query("version"))
	if err != nil {
		return err
	}
	if len(in.Tanks) == 0 {
		return s.noTank(v, in)
	}
	typed, moved := in.typed(v.shop, v.Request.PostForm)
	ask := newScaleAsk(in, v.shop, typed, true)
	w, ok, err := ask.work()
	if err != nil {
		return err
	}
	page := scalePage{ask: ask, typed: typed, w: w, ok: ok, status: http.StatusUnprocessableEntity}
	if !ok {
		return s.scalePage(v, page)
	}
	if moved {
		page.note = v.T("No sheet was made: you chose another tank or lot, and its figures have been filled in. Look at them, then make the sheet.")
		return s.scalePage(v, page)
	}
	paper := bath.CautionsForSheet(w.recipe, w.tank, w.conditions, w.answer)
	if paper.Refused || len(v.refusals(w.answer.Judged)) > 0 {
		page.note = v.T("No sheet was made: this bath is refused.")
		return s.scalePage(v, page)
	}
	sheet, err := ask.sheet(v, w, paper)
	if err != nil {
		return err
	}
	stored, err := s.store.SaveBathSheet(v.Request.Context(), v.shop.ID, sheet)
	if errors.Is(err, store.ErrConflict) {
		typed.Del(form.EntryKeyName)
		page.ask, page.status = newScaleAsk(in, v.shop, typed, true), http.StatusConflict
		page.note = v.T("A sheet was made from this page already, with other figures. Press again to make another one.")
		return s.scalePage(v, page)
	}
	if err != nil {
		return err
	}
	if err := s.remember(v, ask, typed); err != nil {
		return err
	}
	return v.seeOther("/sheets/"+idText(stored), "")
}

// sheet is the bath sheet of a filled form. Its recipe is that of the version with today's lots.
func (a *scaleAsk) sheet(v *visit, w scaled, paper bath.SheetCautions) (bath.BathSheet, error) {
	kept, err := a.keep(w, paper)
	if err != nil {
		return bath.BathSheet{}, err
	}
	recipe := w.recipe
	recipe.Temp = a.in.Version.Recipe.Temp
	return bath.BathSheet{
		EntryKey: a.form.Key(), VersionID: a.in.Version.ID, TankID: a.tankID, LotIDs: slices.Clone(a.lots), Recipe: recipe, Tank: w.tank,
		Conditions: w.conditions, LoadArea: w.loadArea, Answer: kept, Program: v.server.version, MadeBy: a.madeBy,
	}, nil
}

// remember keeps what the form was filled in with for the next time; not who did it.
func (s *Server) remember(v *visit, ask *scaleAsk, typed url.Values) error {
	kept := url.Values{}
	for _, f := range ask.form.Fields() {
		if f.Name != "made_by" && f.Name != "reader" {
			kept.Set(f.Name, f.Typed)
		}
	}
	for _, h := range ask.hidden(typed) {
		kept.Set(h.Name, h.Value)
	}
	values := kept.Encode()
	for _, key := range []string{scaleKey(ask.in.Version.ID), scaleTankKey(ask.in.Version.ID, typed.Get(tankField))} {
		if err := s.store.RememberForm(v.Request.Context(), v.shop.ID, key, values); err != nil {
			return err
		}
	}
	return nil
}
