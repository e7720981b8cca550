package view

import (
	"html/template"
	"net/url"
	"strings"
	"testing"

	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/form"
)

const hostile = `"><script>alert(1)</script>&'`

func TestFieldIsEscaped(t *testing.T) {
	p := Parts{Words: inEnglish(t).Words, Icons: map[string]template.HTML{"bad": "<svg></svg>"}}
	label := input.Text{Format: "%s", Args: []any{hostile}}
	options := []form.Option{{Value: hostile, Label: label}, {Value: "b", Label: label}}
	f := form.Read(url.Values{"text": {hostile}, "long": {"\n" + hostile}, "choice": {hostile}, "quantity": {hostile}, "tick": {hostile}, hostile: {hostile}})
	var text, long, choice, odd string
	var quantity unit.Gram
	var tick bool
	f.Text(&text, form.Field{Name: "text", Label: label, Help: label, Suffix: label, Autocomplete: hostile})
	f.Long(&long, form.Field{Name: "long", Label: label})
	f.Text(&odd, form.Field{Name: hostile, Label: label})
	f.Tick(&tick, form.Field{Name: "tick", Label: label})
	form.Choice(f, &choice, form.Field{Name: "choice", Label: label, Options: options})
	form.Quantity(f, &quantity, form.Field{Name: "quantity", Label: label, Unit: unit.G})
	for _, field := range f.Fields() {
		got := string(p.Field(field))
		if strings.Contains(got, "<script") || strings.Contains(got, `value=""`) {
			t.Errorf("%s: something was not escaped:\n%s", field.Name, got)
		}
		if !strings.Contains(got, "&lt;script&gt;") {
			t.Errorf("%s: what was typed is gone:\n%s", field.Name, got)
		}
	}
	if got := string(p.Field(f.Get("choice"))); strings.Count(got, " selected") != 1 {
		t.Errorf("not one choice is marked:\n%s", got)
	}
	if got := string(p.Field(f.Get("long"))); !strings.Contains(got, ">\n\n&#34;") && !strings.Contains(got, ">\n&#34;") {
		t.Errorf("the first line end is lost:\n%s", got)
	}
	bad := string(p.Field(f.Get("quantity")))
	for _, want := range []string{`aria-invalid="true"`, `aria-required="true"`, `aria-describedby="quantity-e"`, `id="quantity-e"`,
		`inputmode="decimal"`, `<span class="suffix">g</span>`, `class="field field-bad"`, `<label for="quantity">`} {
		if !strings.Contains(bad, want) {
			t.Errorf("no %s in\n%s", want, bad)
		}
	}
}

func TestRowIsEscaped(t *testing.T) {
	p := Parts{Words: inEnglish(t).Words, Icons: map[string]template.HTML{"in": "<svg></svg>"}}
	got := string(p.Row([]Column{{Label: "a"}, {Label: hostile, Figure: true}, {Label: "c"}, {Label: "d"}}, Row{Cells: []Cell{
		{Value: hostile, Href: "javascript:alert(1)"}, {Value: Quantity{hostile, "g"}, Small: hostile}, {Value: hostile, State: "in"},
		{Value: template.HTML("H<sub>2</sub>O"), Href: "/salts/x?a=1&b=2"},
	}}))
	if strings.Contains(got, "<script") || strings.Contains(got, "javascript:") {
		t.Errorf("something was not escaped:\n%s", got)
	}
	for _, want := range []string{`<a href="#">`, `class="n"`, `H<sub>2</sub>O`, `href="/salts/x?a=1&amp;b=2"`, `<span class="state state-in"><svg></svg>`} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
}
