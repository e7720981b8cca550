package server

import (
	"errors"
	"net/http"
	"time"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/store"
	"blackbath/server/view"
	"blackbath/server/words"
)

// newWorkshop is what the first page offers.
func newWorkshop(language string) bath.Workshop {
	return bath.Workshop{Currency: "EUR", TimeZone: "UTC", Language: language, BalanceStep: 1}
}

// settingsFields binds what is asked about the workshop.
func (s *Server) settingsFields(f *form.Form, w *bath.Workshop) {
	f.Edit(&w.Edit)
	f.Text(&w.Name, form.Field{
		Name: "name", Label: input.Say("Name of the workshop"), Required: true, Longest: 80, Autocomplete: "organization",
	})
	form.Choice(f, &w.Language, form.Field{Name: "language", Label: input.Say("Language"), Required: true, Options: s.languages()})
	form.Optional(f, &w.WaterBoilsAt, form.Field{
		Name: "water_boils_at_c", Label: input.Say("Water boils here at"), Unit: unit.C, Min: 80, Max: 105,
		Help: input.Say("Measured in plain water with your own thermometer: the best answer"),
	})
	form.Optional(f, &w.Altitude, form.Field{
		Name: "altitude_m", Label: input.Say("Or the height above the sea"), Unit: unit.M,
		Min: float64(bath.LowestAltitude), Max: float64(bath.HighestAltitude),
		Help: input.Say("Leave empty if you measured"),
	})
	form.Quantity(f, &w.BalanceStep, form.Field{
		Name: "balance_step_g", Label: input.Say("Smallest step of the balance"), Unit: unit.G, Above: true, Max: 1000,
		Help: input.Say("Every amount to weigh is rounded to it"),
	})
	form.Optional(f, &w.Bucket, form.Field{
		Name: "bucket_l", Label: input.Say("Bucket"), Unit: unit.L, Above: true, Max: 1000,
		Help: input.Say("Leave empty if water is not counted in buckets"),
	})
	f.Text(&w.Currency, form.Field{
		Name: "currency", Label: input.Say("Currency"), Required: true, Help: input.Say("Three letters, like EUR"),
	})
	f.Text(&w.TimeZone, form.Field{
		Name: "time_zone", Label: input.Say("Time zone"), Required: true, Help: input.Say("A place, like Europe/Lisbon, or UTC"),
	})
	if !f.Sent() {
		return
	}
	if f.Get("currency").Typed != "" && !currency(w.Currency) {
		f.Refuse("currency", w.Currency, input.Say("three letters, like EUR"))
	}
	if _, err := time.LoadLocation(w.TimeZone); err != nil || w.TimeZone == "Local" {
		f.Refuse("time_zone", w.TimeZone, input.Say("a place, like Europe/Lisbon, or UTC"))
	}
}

func (s *Server) languages() []form.Option {
	var options []form.Option
	for _, l := range s.book.Languages() {
		options = append(options, form.Option{Value: l.Tag, Label: words.As(l.Name)})
	}
	return options
}

// showSettings shows the workshop's settings.
func (s *Server) showSettings(v *visit) error {
	f := form.New()
	shop := v.shop
	s.settingsFields(f, &shop)
	return s.settingsPage(v, http.StatusOK, f)
}

// saveSettings changes them.
func (s *Server) saveSettings(v *visit) error {
	f, err := v.form()
	if err != nil {
		return err
	}
	shop := v.shop
	s.settingsFields(f, &shop)
	if f.Bad() {
		return s.settingsPage(v, http.StatusUnprocessableEntity, f)
	}
	_, err = s.store.SaveWorkshop(v.Request.Context(), f.Key(), shop)
	if errors.Is(err, store.ErrConflict) {
		now := form.New()
		stored := v.shop
		s.settingsFields(now, &stored)
		if f.Meanwhile(now) {
			return s.settingsPage(v, http.StatusConflict, f)
		}
	} else if err != nil {
		return err
	}
	return v.seeOther("/settings", "Saved.")
}

func (s *Server) settingsPage(v *visit, status int, f *form.Form) error {
	b := v.base(v.T("Settings"))
	b.Lead = v.T("What every figure of this workshop is worked out and rounded with.")
	b.Ledge = &view.Ledge{Say: v.T("Sheets that are printed already keep their figures."), Main: &view.Action{Label: v.T("Save the settings"), Form: "settings"}}
	return v.page(status, "settings", view.Settings{Formed: view.Formed{Base: b, Form: f}, Lights: v.lights()})
}
