package server

import (
	"fmt"
	"math"
	"net/url"
	"strconv"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/view"
)

const (
	firstRows = 6 // of marks on an empty page
	moreRows  = 6
	mostMarks = 200
)

// tankFields binds what is asked of a tank of t's shape, with that many rows of marks. known says that the sizes in t are
// some, and not those of a tank that nobody has measured yet. What was sent is checked.
func tankFields(f *form.Form, t *bath.KeptTank, known bool, rows int) {
	if t.ID != 0 {
		f.Edit(&t.Edit)
	}
	f.Text(&t.Name, form.Field{Name: "name", Label: input.Say("Name of the tank"), Required: true, Longest: 80})
	for _, s := range tankSizes(t.Shape) {
		mustLength(f, s.of(&t.Tank), known, form.Field{Name: s.name, Label: s.label})
	}
	var rowOf []int
	if t.Shape == bath.Marks {
		rowOf = markFields(f, &t.Tank, rows)
		form.Optional(f, &t.Rim, form.Field{
			Name: "rim_cm", Label: input.Say("Rim above the bottom"), Unit: unit.CM, Help: input.Say("Leave empty if the last mark is at the rim"),
		})
	}
	mustLength(f, &t.Freeboard, known || t.ID != 0, form.Field{
		Name: "freeboard_cm", Label: input.Say("Free height left for foam"), Help: input.Say("From the rim down to the fill line; 0 is allowed"),
	})
	form.Optional(f, &t.HeaterKW, form.Field{
		Name: "heater_kw", Label: input.Say("Heater, power that reaches the bath"), Unit: unit.KW, Help: input.Say("Leave empty if it is not known"),
	})
	walls := []form.Option{{Label: view.WallName("")}}
	for _, w := range bath.Walls {
		walls = append(walls, form.Option{Value: string(w), Label: view.WallName(w)})
	}
	form.Choice(f, &t.Wall, form.Field{Name: "wall", Label: input.Say("What its wall is made of"), Options: walls,
		Help: input.Say("Some walls dissolve in some baths; the cautions ask for it")})
	if f.Sent() {
		f.Add(inRows(t.Check(), rowOf))
	}
}

// mustLength binds a length that must be there but is empty on a new page. What is left out goes on as not a number, which
// the tank's own check names.
func mustLength(f *form.Form, dst *unit.Centimetre, known bool, field form.Field) {
	field.Unit = unit.CM
	var x *unit.Centimetre
	if known && !f.Sent() {
		held := *dst
		x = &held
	}
	form.Optional(f, &x, field)
	f.Get(field.Name).Required = true
	if !f.Sent() {
		return
	}
	*dst = unit.Centimetre(math.NaN())
	if x != nil {
		*dst = *x
	}
}

func markField(row int, key string) string { return fmt.Sprintf("marks[%d].%s", row, key) }

// markFields binds the rows above the bottom; a row with nothing in it does not count. It returns the row of each mark.
func markFields(f *form.Form, t *bath.Tank, rows int) (rowOf []int) {
	held := t.MarkTable
	table, rowOf := []bath.Mark{{}}, []int{0}
	for row := 1; row <= rows; row++ {
		var level *unit.Centimetre
		var volume *unit.Litre
		if !f.Sent() && row < len(held) {
			level, volume = &held[row].Level, &held[row].Volume
		}
		form.Optional(f, &level, form.Field{Name: markField(row, "level_cm"), Label: input.Say("Level %d", row), Unit: unit.CM})
		form.Optional(f, &volume, form.Field{Name: markField(row, "litres"), Label: input.Say("Litres to level %d", row), Unit: unit.L})
		if emptyField(f, markField(row, "level_cm")) && emptyField(f, markField(row, "litres")) {
			continue
		}
		m := bath.Mark{Level: unit.Centimetre(math.NaN()), Volume: unit.Litre(math.NaN())}
		if level != nil {
			m.Level = *level
		}
		if volume != nil {
			m.Volume = *volume
		}
		table, rowOf = append(table, m), append(rowOf, row)
	}
	if f.Sent() {
		t.MarkTable = table
	}
	return rowOf
}

func emptyField(f *form.Form, name string) bool { return strings.TrimSpace(f.Get(name).Typed) == "" }

// inRows puts a problem of a mark to the row where it was typed, which is another where rows above it were left empty.
func inRows(ps input.Problems, rowOf []int) input.Problems {
	for i, p := range ps {
		var mark int
		var key string
		if n, _ := fmt.Sscanf(p.Field, "marks[%d].%s", &mark, &key); n == 2 && mark < len(rowOf) {
			ps[i].Field = markField(rowOf[mark], key)
		}
	}
	return ps
}

// rowsSent is how many rows of marks the page had.
func rowsSent(sent url.Values) int {
	n, err := strconv.Atoi(sent.Get("rows"))
	if err != nil {
		return firstRows
	}
	return min(max(n, 1), mostMarks)
}

// asTyped shows again what was sent, with no word about what must be put right yet.
func asTyped(f *form.Form, sent url.Values) {
	for _, field := range f.Fields() {
		field.Typed = sent.Get(field.Name)
	}
}
