package form

import (
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"blackbath/bath/input"
	"blackbath/bath/unit"
)

type thing struct {
	name  string
	temp  *unit.Celsius
	mass  unit.Gram
	shape string
	price *int64
	day   time.Time
	used  bool
	note  string
	lot   int64
	edit  int64
}

func fields(f *Form, x *thing) {
	f.Edit(&x.edit)
	f.Text(&x.name, Field{Name: "name", Label: input.Say("Name"), Required: true, Longest: 10})
	Optional(f, &x.temp, Field{Name: "temp_c", Label: input.Say("Temperature"), Unit: unit.C, Min: 80, Max: 105})
	Quantity(f, &x.mass, Field{Name: "mass_kg", Label: input.Say("Mass"), Unit: unit.KG, Kept: unit.G, Min: 0, Max: 100, Above: true})
	Choice(f, &x.shape, Field{Name: "shape", Label: input.Say("Shape"), Options: []Option{{"box", input.Say("box")}, {"bowl", input.Say("bowl")}}})
	f.Money(&x.price, 2, Field{Name: "price", Label: input.Say("Price"), Suffix: input.Text{Format: "EUR"}})
	f.Date(&x.day, time.UTC, Field{Name: "day", Label: input.Say("Day")})
	f.Tick(&x.used, Field{Name: "used", Label: input.Say("Used up")})
	f.Long(&x.note, Field{Name: "note", Label: input.Say("Note")})
	Pick(f, &x.lot, Field{Name: "lot", Label: input.Say("Lot"), Options: []Option{{"7", input.Say("bag 7")}}})
}

func good() url.Values {
	return url.Values{
		"name": {" Pot "}, "temp_c": {"92,5"}, "mass_kg": {"2500 g"}, "shape": {"bowl"}, "price": {"12,5"}, "day": {"2026-03-09"},
		"used": {"yes"}, "note": {"a\r\nb"}, "lot": {"7"}, "edit": {"4"},
		EntryKeyName: {"0198c0de-0000-7000-8000-000000000001"},
	}
}

func TestReadAndShowAgain(t *testing.T) {
	var got thing
	f := Read(good())
	fields(f, &got)
	if f.Bad() {
		t.Fatal(f.Problems())
	}
	temp, price := unit.Celsius(92.5), int64(1250)
	want := thing{name: "Pot", temp: &temp, mass: 2500, shape: "bowl", price: &price, day: time.Date(2026, 3, 9, 0, 0, 0, 0, time.UTC),
		used: true, note: "a\nb", lot: 7, edit: 4}
	if d := cmp.Diff(got, want, cmp.AllowUnexported(thing{})); d != "" {
		t.Error("got (-) and want (+):", d)
	}
	if f.Key() != "0198c0de-0000-7000-8000-000000000001" {
		t.Errorf("got key %q", f.Key())
	}

	// The same value as a new page shows it, sent back unchanged, is the same value.
	shown := New()
	fields(shown, &got)
	again := url.Values{EditName: {shown.EditSeen()}}
	for _, field := range shown.Fields() {
		again.Set(field.Name, field.Typed)
	}
	var back thing
	f = Read(again)
	fields(f, &back)
	if d := cmp.Diff(back, want, cmp.AllowUnexported(thing{})); f.Bad() || d != "" {
		t.Errorf("%v; got (-) and want (+): %s", f.Problems(), d)
	}
	if again.Get("mass_kg") != "2.5" || again.Get("price") != "12.50" {
		t.Errorf("shown as %q kg and %q", again.Get("mass_kg"), again.Get("price"))
	}
}

func TestUnknownIsNotZero(t *testing.T) {
	temp, price := unit.Celsius(90), int64(5)
	got := thing{temp: &temp, price: &price, lot: 7, shape: "box", day: time.Now()}
	sent := good()
	for _, name := range []string{"temp_c", "price", "day", "shape", "lot", "used", "note"} {
		sent.Set(name, "")
	}
	f := Read(sent)
	fields(f, &got)
	if f.Bad() || got.temp != nil || got.price != nil || !got.day.IsZero() || got.shape != "" || got.lot != 0 {
		t.Errorf("%v: got %+v", f.Problems(), got)
	}
}

func TestWhatIsRefused(t *testing.T) {
	for _, tt := range []struct{ field, typed, want string }{
		{"name", "", "Write at least one letter."},
		{"name", "twelve chars", "Write at most 10 characters. There are 12."},
		{"name", "a\xffb", "Write plain text, without control characters."},
		{"temp_c", "1020", "Write a temperature between 80 and 105 °C. Did you mean 102.0 °C?"},
		{"temp_c", "9925", "Write a temperature between 80 and 105 °C. Did you mean 99.25 °C?"},
		{"temp_c", "120", "Write a temperature between 80 and 105 °C."},    // 12.0 and 1.20 are no better
		{"temp_c", "1020.0", "Write a temperature between 80 and 105 °C."}, // the point is there
		{"temp_c", "-92", "Write a temperature between 80 and 105 °C."},
		{"temp_c", "hot", "Write a number, like 12.5 or 12,5."},
		{"temp_c", "1e999", "Write a finite number."},
		{"mass_kg", "0", "Write a mass above 0 and at most 100 kg."},
		{"mass_kg", "", "Write a mass above 0 and at most 100 kg."},
		{"mass_kg", "1,234", "Write 1.234 or 1234: write the one you mean."},
		{"mass_kg", "3 L", "Write a quantity in kg."},
		{"mass_kg", "250", "Write a mass above 0 and at most 100 kg. Did you mean 25.0 kg?"},
		{"shape", "sphere", "Write one of the list."},
		{"price", "1.234", "Write an amount with at most 2 figures after the point."},
		{"price", "-1", "Write a number between 0 and 1000000000000 EUR."},
		{"day", "9.3.2026", "Write a day as year, month, day, like 2026-03-09."},
		{"day", "2026-02-30", "Write a day as year, month, day, like 2026-03-09."},
		{"lot", "8", "Write one of the list."},
		{"note", strings.Repeat("x", 5000), "Write at most 4000 characters. There are 5000."},
	} {
		was := thing{name: "before", mass: 1}
		sent := good()
		sent.Set(tt.field, tt.typed)
		f := Read(sent)
		fields(f, &was)
		if f.Count() != 1 || len(f.Problems()) != 1 {
			t.Errorf("%s %q: got %d problems: %v", tt.field, tt.typed, f.Count(), f.Problems())
			continue
		}
		field := f.Get(tt.field)
		if got := strings.ReplaceAll(field.Wrong().String(), "\u00a0", " "); got != tt.want {
			t.Errorf("%s %.20q: got %q, want %q", tt.field, tt.typed, got, tt.want)
		}
		if !strings.Contains(tt.typed, "\xff") && field.Typed != tt.typed {
			t.Errorf("%s: typed %q, shown %q", tt.field, tt.typed, field.Typed)
		}
		if was.name == "" || (tt.field == "mass_kg" && was.mass != 1) {
			t.Errorf("%s %q: a refused field was kept", tt.field, tt.typed)
		}
	}
}

func TestAllProblemsAtOnce(t *testing.T) {
	var x thing
	f := Read(url.Values{"temp_c": {"x"}, "shape": {"x"}})
	fields(f, &x)
	f.Add(input.Problems{{Field: "depth_cm", Got: "9", Allowed: input.Say("a depth below 5 cm"), Hint: input.Say("Or a wider rim.")}})
	f.Refuse("temp_c", "x", input.Say("something else"))
	var got []string
	for _, p := range f.Problems() {
		got = append(got, p.Field)
	}
	if d := cmp.Diff(got, []string{"name", "temp_c", "mass_kg", "shape", "depth_cm"}); d != "" {
		t.Error("got (-) and want (+):", d)
	}
	if got, want := f.Wrong()[0].String(), "depth_cm: “9” can't be used. Write a depth below 5 cm. Or a wider rim."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := f.Get("temp_c").Wrong().String(); strings.Contains(got, "something else") {
		t.Error("a second problem took the place of the first")
	}
	if _, err := uuid.Parse(f.Key()); err != nil {
		t.Errorf("no entry key: %v", err)
	}
	if got, want := (&Field{Name: "parts[1].mass_g"}).ID(), "parts-1--mass_g"; got != want {
		t.Errorf("got id %q, want %q", got, want)
	}
}

func TestMeanwhile(t *testing.T) {
	mine, stored := thing{}, thing{name: "Pot", mass: 2000, edit: 9}
	f := Read(good())
	fields(f, &mine)
	now := New()
	fields(now, &stored)
	if !f.Meanwhile(now) || !f.Stale() {
		t.Fatal("a difference was not seen")
	}
	if got, want := strings.ReplaceAll(f.Get("mass_kg").Theirs().String(), "\u00a0", " "), "Saved meanwhile by somebody else: 2 kg"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if !f.Get("name").Theirs().IsZero() {
		t.Error("a field that is the same is marked")
	}
	if got := f.EditSeen(); got != "9" {
		t.Errorf("got edit %s, want that of the stored value", got)
	}
	same := New()
	fields(same, &mine)
	if f := Read(good()); func() bool { var x thing; fields(f, &x); return f.Meanwhile(same) }() {
		var differing []string
		for _, field := range f.Fields() {
			if !field.Theirs().IsZero() {
				differing = append(differing, field.Name)
			}
		}
		// Written otherwise, the same amount: a page shows it as theirs, which does no harm.
		if d := cmp.Diff(differing, []string{"temp_c", "mass_kg", "price", "note"}); d != "" {
			t.Error("got (-) and want (+):", d)
		}
	}
}

func FuzzQuantity(f *testing.F) {
	for _, s := range []string{"", "92", "1020", "1,234", "½", "2 kg", "NaN", "1e999", "−5", "0x10", "92 °F"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		var x unit.Celsius
		form := Read(url.Values{"x": {typed}})
		Quantity(form, &x, Field{Name: "x", Label: input.Say("X"), Unit: unit.C, Min: 80, Max: 105})
		if !form.Bad() && !(x >= 80 && x <= 105) {
			t.Errorf("%q was taken as %v", typed, x)
		}
		if form.Get("x").Typed != typed {
			t.Errorf("%q is shown as %q", typed, form.Get("x").Typed)
		}
		_ = form.Get("x").Wrong().String()
	})
}
