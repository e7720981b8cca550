package view

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/words"
)

func inEnglish(t *testing.T) Format {
	t.Helper()
	b, err := words.Load(fstest.MapFS{})
	if err != nil {
		t.Fatal(err)
	}
	return Format{Words: b.In("en"), Step: 5, Currency: "EUR", Zone: time.FixedZone("there", 2*3600)}
}

func TestMass(t *testing.T) {
	f := inEnglish(t)
	for _, tt := range []struct {
		g    float64
		step unit.Gram
		want string
	}{
		{2840, 5, "2.840 kg"}, {295, 5, "295 g"}, {17214.3, 10, "17.21 kg"}, {12.34, 0.1, "12.3 g"}, {0.25, 0.01, "0.25 g"},
		{1234.56, 0.01, "1.23456 kg"}, {12540, 100, "12.5 kg"}, {999.9, 1, "1.000 kg"}, {0, 1, "0 g"}, {-0.2, 1, "0 g"}, {-5, 1, "−5 g"},
		{999.4, 1, "999 g"}, {40, 0, "40 g"},
	} {
		f.Step = tt.step
		if got := f.Mass(tt.g).String(); got != strings.ReplaceAll(tt.want, " ", hardSpace) {
			t.Errorf("Mass(%v) to %v g: got %q, want %q", tt.g, tt.step, got, tt.want)
		}
	}
}

func TestUnknownIsNotRecorded(t *testing.T) {
	f := inEnglish(t)
	var mass *unit.Gram
	var price *int64
	for name, got := range map[string]Quantity{
		"nil mass": f.Mass(mass), "nil price": f.Money(price), "NaN": f.CM(math.NaN()), "infinite": f.Litres(math.Inf(1)),
		"nothing": f.Percent(nil, 1), "nil estimate": f.Estimate(mass, 1, 0, "g"), "nil plain": f.Plain(mass, "g"),
		"no number": f.Celsius("92"), "nil minutes": f.Minutes(mass),
	} {
		if got.String() != "not recorded" {
			t.Errorf("%s: got %q", name, got)
		}
	}
	if got := f.Day(time.Time{}); got != "not recorded" {
		t.Errorf("no day: got %q", got)
	}
	zero := unit.Gram(0)
	if got := f.Mass(&zero).String(); got != "0"+hardSpace+"g" {
		t.Errorf("zero: got %q", got)
	}
}

func TestFigures(t *testing.T) {
	f := inEnglish(t)
	at := time.Date(2026, 3, 9, 23, 30, 0, 0, time.UTC)
	for _, tt := range []struct{ got, want string }{
		{f.Litres(7.256).String(), "7.26 L"}, {f.Litres(32.64).String(), "32.6 L"}, {f.CM(24.83).String(), "24.8 cm"},
		{f.Celsius(92).String(), "92 °C"}, {f.Celsius(99.25).String(), "99.2 °C"}, {f.Minutes(38.4).String(), "38 min"},
		{f.Percent(98.5, 1).String(), "98.5 %"}, {f.Money(int64(1250)).String(), "12.50 EUR"},
		{f.Estimate(132, 6, 0, "g").String(), "132 ± 6 g"}, {f.Plain(0.1+0.2, "L").String(), "0.3 L"}, {f.Plain(-3, "").String(), "−3"},
		{f.Day(at), "2026-03-10"}, {f.When(at), "2026-03-10 01:30"}, {f.OrNot(""), "not recorded"},
		{string(Formula("NH4Cl")), "NH<sub>4</sub>Cl"}, {string(Formula("(NH4)2SO4")), "(NH<sub>4</sub>)<sub>2</sub>SO<sub>4</sub>"},
		{string(Formula("CuSO4·5H2O")), "CuSO<sub>4</sub>·5H<sub>2</sub>O"}, {string(Formula("C12H22")), "C<sub>12</sub>H<sub>22</sub>"},
		{string(Formula("<b>2")), "&lt;b&gt;2"}, {string(SaltName("Ammonium <b>")), "<b>Ammonium</b> &lt;b&gt;"},
	} {
		if strings.ReplaceAll(tt.got, hardSpace, " ") != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
	f.Currency = "JPY"
	if got := f.Money(int64(1250)).String(); got != "1250"+hardSpace+"JPY" {
		t.Errorf("got %q, want whole yen", got)
	}
}

func TestCSVIsHarmless(t *testing.T) {
	f := inEnglish(t)
	table := Table{
		Columns: []Column{{Label: "=name"}, {Label: "Amount"}, {Label: "Formula"}},
		Rows: []Row{
			{Cells: []Cell{{Value: "=1+1"}, {Value: f.Fixed(-2, 1, "°C")}, {Value: Formula("NH4Cl"), Plain: "NH4Cl"}}},
			{Cells: []Cell{{Value: "@x"}, {Value: f.NotRecorded()}}},
			{Cells: []Cell{{Value: `say "hi", you`}, {Value: "+3"}, {Value: "-x"}}},
		},
	}
	var b strings.Builder
	if err := table.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	want := "\uFEFF'=name,Amount,Formula\n'=1+1,-2.0 °C,NH4Cl\n'@x,not recorded,\n\"say \"\"hi\"\", you\",'+3,'-x\n"
	if got := b.String(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Whatever a cell holds is written, escaped; nothing is left out because nobody thought of its type.
func TestCellValues(t *testing.T) {
	for _, tt := range []struct {
		value any
		want  string
	}{{nil, ""}, {"a<b", "a&lt;b"}, {Quantity{"2.5", "kg"}, "2.5\u00a0kg"}, {7, "7"}, {int64(7), "7"}, {input.Say("a & b"), "a &amp; b"}} {
		var w writer
		w.value(tt.value)
		if got := w.String(); got != tt.want {
			t.Errorf("value(%#v) = %q, want %q", tt.value, got, tt.want)
		}
	}
}
