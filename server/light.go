package server

import (
	"slices"
	"time"

	"blackbath/bath/input"
	"blackbath/server/form"
	"blackbath/server/view"
)

// lights are the three in which the look can be shown; the first is the one without a cookie.
var lights = []light{
	{"", input.Say("Daylight"), input.Say("Indoors")},
	{"outdoor", input.Say("Outdoor"), input.Say("Sun and glare")},
	{"night", input.Say("Night"), input.Say("Lamp light")},
}

type light struct {
	value      string
	label, say input.Text
}

const lightLasts = 365 * 24 * time.Hour

// light is what this phone or computer was last set to.
func (v *visit) light() string {
	c, err := v.Request.Cookie(lightCookie)
	if err != nil || !slices.ContainsFunc(lights, func(l light) bool { return l.value == c.Value }) {
		return ""
	}
	return c.Value
}

func (v *visit) lights() []view.Light {
	var out []view.Light
	for _, l := range lights {
		out = append(out, view.Light{Value: l.value, Label: v.text(l.label), Say: v.text(l.say), On: l.value == v.light()})
	}
	return out
}

// setLight remembers the light on this phone or computer.
func (s *Server) setLight(v *visit) error {
	f, err := v.form()
	if err != nil {
		return err
	}
	var chosen string
	field := form.Field{Name: "light", Label: input.Say("Light on this phone or computer")}
	for _, l := range lights {
		field.Options = append(field.Options, form.Option{Value: l.value, Label: l.label})
	}
	form.Choice(f, &chosen, field)
	if f.Bad() {
		return f.Problems()
	}
	life := lightLasts
	if chosen == "" {
		life = -time.Second
	}
	v.cookie(lightCookie, chosen, life)
	return v.seeOther("/settings", "")
}
