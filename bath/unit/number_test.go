package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64
	}{
		{"12.5", 12.5}, {"12,5", 12.5}, {" 12,5 ", 12.5}, {"0,234", 0.234}, {"1.234", 1.234}, {"1,2345", 1.2345}, {"1234,5", 1234.5},
		{"1,234.5", 1234.5}, {"1.234,5", 1234.5}, {"1,234,567", 1234567}, {"1.234.567", 1234567}, {"12 500", 12500}, {"12\u00a0500,5", 12500.5},
		{"1 1/2", 1.5}, {"1½", 1.5}, {"½", 0.5}, {"3/4", 0.75}, {"-3", -3}, {"−3", -3}, {"+3", 3}, {"1e3", 1000}, {".5", 0.5}, {",5", 0.5}, {"5.", 5},
	} {
		got, err := Number(tt.text)
		if err != nil || got != tt.want {
			t.Errorf("Number(%q) = %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

func TestNumberRefuses(t *testing.T) {
	for _, tt := range []struct {
		text string
		want Problem
	}{
		{"", Empty}, {"  ", Empty}, {"ten", NotANumber}, {"1.2.3", NotANumber}, {"1,2,3", NotANumber}, {"12 50", NotANumber}, {"--3", NotANumber},
		{"1/0", NotANumber}, {"1 3/2", NotANumber}, {"1.5 1/2", NotANumber}, {"0x10", NotANumber}, {"1_000", NotANumber}, {"-", NotANumber},
		{"NaN", NotFinite}, {"inf", NotFinite}, {"-Infinity", NotFinite}, {"∞", NotFinite}, {"1e999", NotFinite},
		{"1,234", Ambiguous}, {"-12,345", Ambiguous}, {"123,456", Ambiguous},
	} {
		got, err := Number(tt.text)
		var pe *ParseError
		if !errors.As(err, &pe) || pe.Problem != tt.want || got != 0 {
			t.Errorf("Number(%q) = %v, %v; want 0 and problem %d", tt.text, got, err, tt.want)
		}
	}
}

func TestAmbiguousNamesBothReadings(t *testing.T) {
	_, err := Number("1,234")
	if err == nil || !strings.Contains(err.Error(), "1.234") || !strings.Contains(err.Error(), "1234") {
		t.Errorf("Number(1,234): %v; want both readings named", err)
	}
}

func TestParse(t *testing.T) {
	for _, tt := range []struct {
		text  string
		field Unit
		want  float64
	}{
		{"900", G, 900}, {"0,9 kg", G, 900}, {"2kg", G, 2000}, {"500 mL", L, 0.5}, {"581 cm3", L, 0.581}, {"1 1/2 L", L, 1.5}, {"12 in", CM, 30.48},
		{"360 mm", CM, 36}, {"15 m", M, 15}, {"100 ft", M, 30.48}, {"92 °C", C, 92}, {"212 F", C, 100}, {"3000 W", KW, 3}, {"1 h", Min, 60}, {"12 %", Pct, 12},
		{"1 lb", G, 453.59237}, // international pound, 1959 agreement
	} {
		got, err := Parse(tt.text, tt.field)
		if err != nil || math.Abs(got-tt.want) > 1e-9*math.Max(1, tt.want) {
			t.Errorf("Parse(%q, %s) = %v, %v; want %v", tt.text, tt.field.Symbol, got, err, tt.want)
		}
	}
	for _, tt := range []struct {
		text string
		want Problem
	}{{"5 kg", WrongUnit}, {"5 stone", UnknownUnit}, {"NaN", NotFinite}, {"cm", NotANumber}, {"-inf", NotFinite}, {"1,234 cm", Ambiguous}} {
		got, err := Parse(tt.text, CM)
		var pe *ParseError
		if !errors.As(err, &pe) || pe.Problem != tt.want || got != 0 {
			t.Errorf("Parse(%q, cm) = %v, %v; want problem %d", tt.text, got, err, tt.want)
		}
	}
}

func TestParseWithUnit(t *testing.T) {
	x, u, err := ParseWithUnit("4,2 kg", L, KG)
	if err != nil || x != 4.2 || u != KG {
		t.Errorf("ParseWithUnit(4,2 kg) = %v %s, %v; want 4.2 kg", x, u.Symbol, err)
	}
	var pe *ParseError
	if _, _, err := ParseWithUnit("4.2", L, KG); !errors.As(err, &pe) || pe.Problem != NoUnit {
		t.Errorf("ParseWithUnit(4.2): %v; want that its unit is missing", err)
	}
	if _, _, err := ParseWithUnit("4.2 cm", L, KG); !errors.As(err, &pe) || pe.Problem != WrongUnit {
		t.Errorf("ParseWithUnit(4.2 cm): %v; want that a length is not taken", err)
	}
}

func TestRoundTo(t *testing.T) {
	for _, tt := range []struct{ m, step, want Gram }{
		{2.5, 1, 3}, {2.4999, 1, 2}, {12540.5, 5, 12540}, {12542.5, 5, 12545}, {0.4, 1, 0}, {0.05, 0.1, 0.1},
		{135003.1138, 0.01, 135003.11}, {2.25, 0.1, 2.3}, {7.3, 2.5, 7.5},
	} {
		if got := tt.m.RoundTo(tt.step); got != tt.want {
			t.Errorf("%v.RoundTo(%v) = %v; want %v", tt.m, tt.step, got, tt.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"12,5", "1,234", "2 kg", "1 1/2 L", "NaN", "-1e-9 g", "½", "1.234,5 mm", "°C", "9e999 kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, u := range []Unit{G, L, CM, C} {
			x, err := Parse(text, u)
			if err != nil && x != 0 {
				t.Errorf("Parse(%q) = %v with an error", text, x)
			}
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("Parse(%q) = %v", text, x)
			}
			var pe *ParseError
			if err != nil && (!errors.As(err, &pe) || pe.Allowed().String() == "") {
				t.Errorf("Parse(%q): %v does not say what is allowed", text, err)
			}
		}
	})
}
