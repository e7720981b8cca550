package view

import (
	"cmp"
	"fmt"
	"html"
	"html/template"
	"strings"

	"blackbath/bath/input"
	"blackbath/server/form"
	"blackbath/server/words"
)

// Parts draws the two parts that a page repeats most, fields and rows of tables, without html/template: written as
// templates they took most of a page's time, because a template looks up every name anew. Everything that is not HTML by its
// type goes through escaped.
type Parts struct {
	Words *words.Words
	Icons map[string]template.HTML
}

// A writer collects HTML.
type writer struct{ strings.Builder }

// tag writes HTML that stands in this file.
func (w *writer) tag(parts ...string) {
	for _, p := range parts {
		w.WriteString(p)
	}
}

// escaped writes a text, in an element or between the quotes of an attribute.
func (w *writer) escaped(s string) { w.WriteString(html.EscapeString(s)) }

// attribute writes one attribute, nothing when its value is empty.
func (w *writer) attribute(name, value string) {
	if value == "" {
		return
	}
	w.tag(" ", name, `="`)
	w.escaped(value)
	w.tag(`"`)
}

// value writes what a cell or fact holds.
func (w *writer) value(v any) {
	switch v := v.(type) {
	case nil:
	case template.HTML:
		w.tag(string(v))
	case string:
		w.escaped(v)
	case Quantity:
		w.escaped(v.String())
	default: // a count, say
		w.escaped(fmt.Sprint(v))
	}
}

// Field draws a field with its label, help and error.
func (p Parts) Field(f *form.Field) template.HTML {
	var w writer
	id := f.ID()
	w.Grow(1 << 10)
	w.tag(`<div class="field`)
	if f.Bad() {
		w.tag(` field-bad`)
	}
	w.tag(`">`)
	if f.Kind == form.KindTick {
		w.tag(`<label class="tick"><input type="checkbox"`)
		p.aria(&w, f, id)
		w.attribute("value", "yes")
		if f.Typed != "" {
			w.tag(" checked")
		}
		w.tag(`><span>`)
		w.escaped(p.Words.Text(f.Label))
		w.tag(`</span></label>`)
	} else {
		w.tag(`<label`)
		w.attribute("for", id)
		w.tag(`>`)
		w.escaped(p.Words.Text(f.Label))
		w.tag(`</label>`)
		p.control(&w, f, id)
	}
	p.lines(&w, f, id)
	w.tag(`</div>`)
	return template.HTML(w.String())
}

// Lines draws only the lines under a field, for a page that draws the control itself.
func (p Parts) Lines(f *form.Field) template.HTML {
	var w writer
	p.lines(&w, f, f.ID())
	return template.HTML(w.String())
}

func (p Parts) lines(w *writer, f *form.Field, id string) {
	p.line(w, "theirs", id+"-m", "", f.Theirs())
	p.line(w, "help", id+"-h", "", f.Help)
	p.line(w, "err", id+"-e", p.Icons["bad"], f.Wrong())
}

// control draws what one writes in or chooses from.
func (p Parts) control(w *writer, f *form.Field, id string) {
	switch f.Kind {
	case form.KindChoice:
		w.tag(`<div class="in in-pick"><select`)
		p.aria(w, f, id)
		w.tag(`>`)
		for _, o := range f.Options {
			w.tag(`<option value="`)
			w.escaped(o.Value)
			w.tag(`"`)
			if o.Value == f.Typed {
				w.tag(` selected`)
			}
			w.tag(`>`)
			w.escaped(p.Words.Text(o.Label))
			w.tag(`</option>`)
		}
		w.tag(`</select></div>`)
	case form.KindLong:
		w.tag(`<div class="in"><textarea rows="3"`)
		p.aria(w, f, id)
		w.tag(">\n") // a browser leaves this one line end out, and not the first one that was typed
		w.escaped(f.Typed)
		w.tag(`</textarea></div>`)
	default:
		kind, keys := "text", ""
		switch f.Kind {
		case form.KindDate:
			kind = "date"
		case form.KindQuantity:
			keys = "decimal"
		}
		w.tag(`<div class="in"><input`)
		p.aria(w, f, id)
		w.attribute("type", kind)
		w.attribute("inputmode", keys)
		w.attribute("autocomplete", cmp.Or(f.Autocomplete, "off"))
		w.tag(` value="`)
		w.escaped(f.Typed)
		w.tag(`">`)
		if sign := f.Sign(); !sign.IsZero() {
			w.tag(`<span class="suffix">`)
			w.escaped(p.Words.Text(sign))
			w.tag(`</span>`)
		}
		w.tag(`</div>`)
	}
}

// aria writes the attributes that every control has.
func (p Parts) aria(w *writer, f *form.Field, id string) {
	w.attribute("id", id)
	w.attribute("name", f.Name)
	if f.Required {
		w.attribute("aria-required", "true")
	}
	if f.Bad() {
		w.attribute("aria-invalid", "true")
	}
	w.attribute("aria-describedby", f.Describes())
}

// line writes one line under a field, nothing when it is empty.
func (p Parts) line(w *writer, class, id string, icon template.HTML, say input.Text) {
	if say.IsZero() {
		return
	}
	w.tag(`<p`)
	w.attribute("class", class)
	w.attribute("id", id)
	w.tag(`>`, string(icon), `<span>`)
	w.escaped(p.Words.Text(say))
	w.tag(`</span></p>`)
}

// Row draws one row of a table without drawings.
func (p Parts) Row(columns []Column, row Row) template.HTML {
	var w writer
	w.Grow(128 * len(row.Cells))
	w.tag(`<tr role="row">`)
	for i, c := range row.Cells {
		if i == 0 {
			w.tag(`<th scope="row" role="rowheader">`)
			p.cell(&w, c)
			w.tag(`</th>`)
			continue
		}
		column := columns[i]
		w.tag(`<td role="cell"`)
		if column.Figure {
			w.tag(` class="n"`)
		} else if column.Whole {
			w.tag(` class="num"`)
		}
		w.attribute("data-l", column.Label)
		w.tag(`><div>`)
		p.cell(&w, c)
		w.tag(`</div></td>`)
	}
	w.tag(`</tr>`)
	return template.HTML(w.String())
}

func (p Parts) cell(w *writer, c Cell) {
	switch {
	case c.State != "":
		w.tag(`<span`)
		w.attribute("class", "state state-"+c.State)
		w.tag(`>`, string(p.Icons[c.State]))
		w.value(c.Value)
		w.tag(`</span>`)
	case c.Href != "":
		w.tag(`<a`)
		w.attribute("href", address(c.Href))
		w.tag(`>`)
		w.value(c.Value)
		w.tag(`</a>`)
	default:
		w.value(c.Value)
	}
	if c.Small != "" {
		w.tag(`<small>`)
		w.escaped(c.Small)
		w.tag(`</small>`)
	}
}

// address lets a link lead to a place of this service only.
func address(href string) string {
	if strings.HasPrefix(href, "/") && !strings.HasPrefix(href, "//") {
		return href
	}
	return "#"
}
