package view

import (
	"html"
	"html/template"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"
	"unicode"

	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/words"
)

// hardSpace stands before every unit.
const hardSpace = "\u00a0"

// A Quantity is a number and its unit, apart so that a page can set the unit smaller. Printed whole it is "2.840 kg".
type Quantity struct{ Number, Unit string }

func (q Quantity) String() string {
	if q.Unit == "" {
		return q.Number
	}
	return q.Number + hardSpace + q.Unit
}

// A Format writes figures the way one workshop and one language want them. Its methods take any number, or a pointer to one;
// what is nil or NaN is "not recorded", never 0.
type Format struct {
	Words    *words.Words
	Zone     *time.Location
	Step     unit.Gram // smallest step of the balance
	Currency string    // ISO 4217
}

// NotRecorded is what stands where nothing was written down.
func (f Format) NotRecorded() Quantity { return Quantity{Number: f.Words.T("not recorded")} }

// Fixed writes a number with that many decimals and a unit: Fixed(x, 1, "g/cm³").
func (f Format) Fixed(v any, decimals int, unit string) Quantity {
	x, ok := number(v)
	if !ok {
		return f.NotRecorded()
	}
	return Quantity{fixed(x, decimals), unit}
}

// Estimate writes a number with its uncertainty: "132 ± 6 g per kg water".
func (f Format) Estimate(v, plusMinus any, decimals int, unit string) Quantity {
	x, ok := number(v)
	if !ok {
		return f.NotRecorded()
	}
	pm, ok := number(plusMinus)
	if !ok {
		return Quantity{fixed(x, decimals), unit}
	}
	return Quantity{fixed(x, decimals) + hardSpace + "±" + hardSpace + fixed(pm, decimals), unit}
}

// Mass writes grams to the step of the balance, from 1 kg on in kg: "295 g", "2.840 kg".
func (f Format) Mass(v any) Quantity {
	g, ok := number(v)
	if !ok {
		return f.NotRecorded()
	}
	step := float64(f.Step)
	if step <= 0 {
		step = 1
	}
	if math.Abs(g) < 1000-step/2 {
		return Quantity{fixed(g, decimalsOf(step)), unit.G.Symbol}
	}
	return Quantity{fixed(g/1000, decimalsOf(step/1000)), unit.KG.Symbol}
}

// decimalsOf is how many decimals a figure read to that step has: 0.5 has 1, 5 has none.
func decimalsOf(step float64) int {
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}

// Litres writes a volume: two decimals, from 20 L on one.
func (f Format) Litres(v any) Quantity {
	x, ok := number(v)
	if ok && math.Abs(x) >= 20 {
		return f.Fixed(x, 1, unit.L.Symbol)
	}
	return f.Fixed(v, 2, unit.L.Symbol)
}

// CM writes a length to the millimetre, which is what a dip stick shows.
func (f Format) CM(v any) Quantity { return f.Fixed(v, 1, unit.CM.Symbol) }

// Celsius writes a temperature to a tenth of a degree; whole degrees without the tenth.
func (f Format) Celsius(v any) Quantity {
	x, ok := number(v)
	if ok && x == math.Trunc(x) {
		return f.Fixed(x, 0, unit.C.Symbol)
	}
	return f.Fixed(v, 1, unit.C.Symbol)
}

// Minutes writes a duration.
func (f Format) Minutes(v any) Quantity { return f.Fixed(v, 0, unit.Min.Symbol) }

// Percent writes a number that is in percent already.
func (f Format) Percent(v any, decimals int) Quantity { return f.Fixed(v, decimals, unit.Pct.Symbol) }

// Plain writes a number as short as it can be told apart from others, to ten figures.
func (f Format) Plain(v any, unit string) Quantity {
	x, ok := number(v)
	if !ok {
		return f.NotRecorded()
	}
	return Quantity{form10(x), unit}
}

// threeDecimals and noDecimals are currencies whose smaller unit is not a hundredth (ISO 4217, from memory).
const (
	threeDecimals = " BHD IQD JOD KWD LYD OMR TND "
	noDecimals    = " BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF "
)

// MinorDigits is how many digits of an amount in minor units stand after the point.
func MinorDigits(currency string) int {
	switch {
	case currency == "":
		return 2
	case strings.Contains(threeDecimals, " "+currency+" "):
		return 3
	case strings.Contains(noDecimals, " "+currency+" "):
		return 0
	}
	return 2
}

// Money writes an amount given in the currency's smallest unit: 1250 is "12.50 EUR".
func (f Format) Money(minor any) Quantity {
	x, ok := number(minor)
	if !ok {
		return f.NotRecorded()
	}
	digits := MinorDigits(f.Currency)
	return Quantity{fixed(x/math.Pow10(digits), digits), f.Currency}
}

// Day writes a date in the workshop's time zone: "2026-03-09", which every reader takes the same way.
func (f Format) Day(t time.Time) string { return f.at(t, time.DateOnly) }

// When writes a date and time of day.
func (f Format) When(t time.Time) string { return f.at(t, "2006-01-02 15:04") }

func (f Format) at(t time.Time, layout string) string {
	if t.IsZero() {
		return f.NotRecorded().Number
	}
	zone := f.Zone
	if zone == nil {
		zone = time.UTC
	}
	return t.In(zone).Format(layout)
}

// OrNot writes a text, or "not recorded" where it is empty.
func (f Format) OrNot(s string) string {
	if s == "" {
		return f.NotRecorded().Number
	}
	return s
}

// Say translates a sentence.
func (f Format) Say(format string, args ...any) string { return f.Words.T(format, args...) }

// SayText translates a kept sentence.
func (f Format) SayText(t input.Text) string { return f.Words.Text(t) }

// number reads any number or pointer to one.
func number(v any) (float64, bool) {
	r := reflect.ValueOf(v)
	for r.Kind() == reflect.Pointer {
		if r.IsNil() {
			return 0, false
		}
		r = r.Elem()
	}
	var x float64
	switch {
	case !r.IsValid():
		return 0, false
	case r.CanFloat():
		x = r.Float()
	case r.CanInt():
		x = float64(r.Int())
	default:
		return 0, false
	}
	return x, !math.IsNaN(x) && !math.IsInf(x, 0)
}

// fixed writes a number with a true minus and never a minus zero.
func fixed(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	digits, negative := strings.CutPrefix(s, "-")
	if !negative || strings.Trim(digits, "0.") == "" {
		return digits
	}
	return "\u2212" + digits
}

func form10(x float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 10, 64), 64)
	if err != nil {
		rounded = x
	}
	s := strconv.FormatFloat(rounded, 'f', -1, 64)
	if digits, negative := strings.CutPrefix(s, "-"); negative {
		return "\u2212" + digits
	}
	return s
}

// Formula sets a chemical formula with its small figures: NH4Cl, CuSO4·5H2O.
func Formula(s string) template.HTML {
	var b strings.Builder
	small := false // inside <sub>
	prev := rune(0)
	for _, r := range s {
		sub := unicode.IsDigit(r) && (small || unicode.IsLetter(prev) || prev == ')' || prev == ']')
		if sub != small {
			if sub {
				b.WriteString("<sub>")
			} else {
				b.WriteString("</sub>")
			}
			small = sub
		}
		b.WriteString(html.EscapeString(string(r)))
		prev = r
	}
	if small {
		b.WriteString("</sub>")
	}
	return template.HTML(b.String())
}

// bold sets some words of a plain text in bold.
func bold(text string, words ...string) template.HTML {
	var pairs []string
	for _, w := range words {
		pairs = append(pairs, w, "<b>"+html.EscapeString(w)+"</b>")
		if first := strings.ToUpper(w[:1]) + w[1:]; first != w {
			pairs = append(pairs, first, "<b>"+html.EscapeString(first)+"</b>")
		}
	}
	return template.HTML(strings.NewReplacer(pairs...).Replace(html.EscapeString(text)))
}
