package server

import (
	"net/http"
	"net/url"
	"strconv"

	"blackbath/server/view"
)

// showScale works a recipe version out for a tank. All that is typed is in the address, so that it can be kept; without any
// it is what the last sheet was made with. Nothing is written.
func (s *Server) showScale(v *visit) error {
	in, err := s.scaleInputsOf(v, v.Param("id"), v.Param("n"))
	if err != nil {
		return err
	}
	if len(in.Tanks) == 0 {
		return s.noTank(v, in)
	}
	sent, err := s.scaleSent(v, in)
	if err != nil {
		return err
	}
	typed, _ := in.typed(v.shop, sent)
	ask := newScaleAsk(in, v.shop, typed, false)
	w, ok, err := ask.work()
	if err != nil {
		return err
	}
	return s.scalePage(v, scalePage{ask: ask, typed: typed, w: w, ok: ok, status: http.StatusOK})
}

// scalePath is the address of the scale page of a version.
func scalePath(recipeID int64, version int) string {
	return "/recipes/" + idText(recipeID) + "/versions/" + strconv.Itoa(version) + "/scale"
}

// scaleInputsOf reads what a page or a form names by recipe and version number.
func (s *Server) scaleInputsOf(v *visit, recipe, version string) (*scaleInputs, error) {
	return s.scaleInputs(v.Request.Context(), v.shop.ID, rowID(recipe), int(rowID(version)))
}

// scaleSent is what the address holds, or else what the last sheet was made with.
func (s *Server) scaleSent(v *visit, in *scaleInputs) (url.Values, error) {
	query := v.Request.URL.Query()
	key := scaleKey(in.Version.ID)
	switch tank := query.Get(tankField); {
	case len(query) == 1 && in.tank(rowID(tank)) != nil:
		key = scaleTankKey(in.Version.ID, tank)
	case len(query) > 0:
		return query, nil
	}
	sent, err := s.remembered(v.Request.Context(), v.shop.ID, in, key)
	for name, value := range query {
		sent[name] = value
	}
	return sent, err
}

// A scalePage is all that goes into the page.
type scalePage struct {
	ask    *scaleAsk
	typed  url.Values
	w      scaled
	ok     bool
	status int    // when nothing must be put right
	note   string // why no sheet was made although nothing is wrong; may be empty
}

func (s *Server) scalePage(v *visit, p scalePage) error {
	in := p.ask.in
	b := v.base(v.T("%s, version %d", in.Version.Recipe.Name, in.Version.Number))
	if t := in.tank(p.ask.tankID); t != nil {
		b.Title = v.T("%s, version %d, for %s", in.Version.Recipe.Name, in.Version.Number, t.Name)
	}
	b.Lead = v.T("Change anything; the amounts follow.")
	b.Back = &view.Link{Label: in.Version.Recipe.Name, Href: "/recipes/" + idText(in.recipeID)}
	b.Scripts = []string{"vendor/htmx.min.js", "js/scale.js"}
	if p.note != "" {
		b.Said = p.note
	}
	page := view.ScaleShow{
		Formed: view.Formed{Base: b, Form: p.ask.form},
		Again:  scalePath(in.recipeID, in.Version.Number), Make: "/sheets?recipe=" + idText(in.recipeID) + "&version=" + strconv.Itoa(in.Version.Number),
		Groups: p.ask.groups(v), Hidden: p.ask.hidden(p.typed),
	}
	if why, asked := p.ask.chlorideAsked(); asked {
		page.Chloride = &view.Asked{
			Caution: view.Caution{Severity: "danger", Word: v.T("Danger"), Text: v.text(why)}, Field: p.ask.form.Get("reader"),
		}
	}
	if err := p.fill(v, &page); err != nil {
		return err
	}
	if p.ask.form.Bad() {
		p.status = http.StatusUnprocessableEntity
	}
	return v.page(p.status, "scale_show", page)
}

// fill puts in the figures, or why there are none.
func (p scalePage) fill(v *visit, page *view.ScaleShow) error {
	switch refused := v.refusals(p.w.answer.Judged); {
	case !p.ok:
		page.Result = view.ScaleResult{
			Heading: v.T("No figures yet"), Say: v.T("Something in the form must be put right first. What you typed is still there."),
		}
		page.Result.Status = page.Result.Say
		page.Ledge = &view.Ledge{Strong: v.T("No figures yet."), Say: v.T("Put right what is marked.")}
	case len(refused) > 0:
		page.Result = view.ScaleResult{
			Heading: v.T("This bath is refused"), Say: v.T("There are no figures and no sheet for it. Change the plan, or give the fact that is missing."),
			Refused: refused,
		}
		page.Result.Status = page.Result.Heading
		page.Ledge = &view.Ledge{Strong: v.T("This bath is refused."), Say: v.T("Change the plan, or give the fact that is missing.")}
	default:
		r, err := newResultPage(v, p.ask, p.w, page.Format).result()
		if err != nil {
			return err
		}
		page.Result = r
		page.Ledge = &view.Ledge{
			Strong: v.T("%d parts, %s of mud.", len(r.Weigh), page.Format.Litres(p.w.answer.HotBathL)), Say: v.T("Hang the sheet by the tank."),
			Main: &view.Action{Label: v.T("Make the bath sheet"), Form: "scale", Name: "entry_key", Value: p.ask.form.Key()},
		}
	}
	return nil
}

// noTank leads to the first tank.
func (s *Server) noTank(v *visit, in *scaleInputs) error {
	b := v.base(v.T("%s, version %d", in.Version.Recipe.Name, in.Version.Number))
	return v.page(http.StatusOK, "message", view.Message{
		Base: b, Text: v.T("There is no tank to scale it to. Draw one, or pour known litres and read the stick."),
		Next: &view.Link{Label: v.T("Add a tank"), Href: "/tanks/new"},
	})
}
