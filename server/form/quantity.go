package form

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// Quantity binds a number with a unit that must be there. What is kept is in field.Kept, or else in field.Unit; "2 kg" in a
// field of grams is read as 2000.
func Quantity[T ~float64](f *Form, dst *T, field Field) {
	field.Required = true
	held := float64(*dst)
	if x, ok := f.quantity(field, &held); ok {
		*dst = T(x)
	}
}

// Optional binds a number with a unit that may be left out: then it is nil, "not recorded".
func Optional[T ~float64](f *Form, dst **T, field Field) {
	var held *float64
	if *dst != nil {
		x := float64(**dst)
		held = &x
	}
	field.Required = false
	x, ok := f.quantity(field, held)
	switch {
	case f.typed == nil:
	case ok:
		t := T(x)
		*dst = &t
	case strings.TrimSpace(f.named[field.Name].Typed) == "":
		*dst = nil
	}
}

// quantity binds the field and returns what was sent, in the kept unit. ok is false when nothing was sent or it was refused.
func (f *Form) quantity(field Field, held *float64) (x float64, ok bool) {
	if field.Kept == (unit.Unit{}) {
		field.Kept = field.Unit
	}
	shown := ""
	if held != nil {
		shown = figure(convert(*held, field.Kept, field.Unit))
	}
	b := f.bind(field, KindQuantity, shown)
	if f.typed == nil {
		return 0, false
	}
	if strings.TrimSpace(b.Typed) == "" {
		if b.Required {
			b.refuse(b.allowed())
		}
		return 0, false
	}
	x, err := b.parse()
	if err != nil {
		b.refuse(allowed(err, b))
		return 0, false
	}
	if !b.inRange(x) {
		b.outside = true
		b.refuse(b.allowed())
		b.problem.Hint = b.guess(x)
		return 0, false
	}
	return convert(x, b.Unit, b.Kept), true
}

func (f *Field) parse() (float64, error) {
	if f.Unit == (unit.Unit{}) {
		return unit.Number(f.Typed)
	}
	return unit.Parse(f.Typed, f.Unit)
}

// Money binds a price in the currency's smallest unit, with digits of it after the point; nil is "not recorded".
func (f *Form) Money(dst **int64, digits int, field Field) {
	minor := math.Pow10(digits)
	held := ""
	if *dst != nil {
		held = strconv.FormatFloat(float64(**dst)/minor, 'f', digits, 64)
	}
	if field.Max == 0 {
		field.Max = 1e12
	}
	b := f.bind(field, KindQuantity, held)
	if f.typed == nil {
		return
	}
	if strings.TrimSpace(b.Typed) == "" && !b.Required {
		*dst = nil
		return
	}
	x, err := unit.Number(b.Typed)
	n := math.Round(x * minor)
	switch {
	case err != nil:
		b.refuse(allowed(err, b))
	case !b.inRange(x):
		b.outside = true
		b.refuse(b.allowed())
	case math.Abs(x*minor-n) > 1e-6:
		b.refuse(input.Say("an amount with at most %d figures after the point", digits))
	default:
		whole := int64(n)
		*dst = &whole
	}
}

// allowed says what to write where no number could be read.
func allowed(err error, f *Field) input.Text {
	var p *unit.ParseError
	if !errors.As(err, &p) || p.Problem == unit.Empty {
		return f.allowed()
	}
	return p.Allowed()
}

func (f *Field) limited() bool { return f.Min != 0 || f.Max != 0 }

func (f *Field) inRange(x float64) bool {
	if !f.limited() {
		return true
	}
	return x >= f.Min && x <= f.Max && (!f.Above || x > f.Min)
}

// allowed is the range in words: "a temperature between 80 and 105 °C".
func (f *Field) allowed() input.Text {
	what := noun(f.Unit)
	switch {
	case !f.limited():
		return what
	case f.Above:
		return input.Say("%s above %s and at most %s", what, figure(f.Min), f.withSign(figure(f.Max)))
	default:
		return input.Say("%s between %s and %s", what, figure(f.Min), f.withSign(figure(f.Max)))
	}
}

// withSign puts the field's unit after a number, with a hard space. It has no words of its own to translate.
func (f *Field) withSign(number string) input.Text {
	sign := f.Sign()
	if sign.IsZero() {
		return input.Text{Format: "%s", Args: []any{number}}
	}
	return input.Text{Format: "%s\u00a0%s", Args: []any{number, sign}}
}

// noun says what a unit measures.
func noun(u unit.Unit) input.Text {
	if u == (unit.Unit{}) {
		return input.Say("a number")
	}
	switch u.Dimension {
	case unit.Mass:
		return input.Say("a mass")
	case unit.Volume:
		return input.Say("a volume")
	case unit.Length:
		return input.Say("a length")
	case unit.Temperature:
		return input.Say("a temperature")
	case unit.Power:
		return input.Say("a power")
	case unit.Duration:
		return input.Say("a time")
	case unit.Area:
		return input.Say("an area")
	case unit.Percent:
		return input.Say("a share")
	case unit.Density:
		return input.Say("a density")
	}
	return input.Say("a number")
}

// guess asks about a forgotten decimal point: 1020 where 102.0 would be allowed.
func (f *Field) guess(x float64) input.Text {
	if strings.ContainsAny(f.Typed, ".,/½¼¾⅓⅔⅛") || x != math.Trunc(x) {
		return input.Text{}
	}
	for digits := 1; digits <= 2; digits++ {
		if y := x / math.Pow10(digits); f.inRange(y) && y != 0 {
			return input.Say("Did you mean %s?", f.withSign(strconv.FormatFloat(y, 'f', digits, 64)))
		}
	}
	return input.Text{}
}

// convert turns a number in one unit into another of the same kind.
func convert(x float64, from, to unit.Unit) float64 {
	if from == to {
		return x
	}
	return (x*from.Factor + from.Offset - to.Offset) / to.Factor
}

// figure writes a number so that it is read back as the same, without the noise of the twelfth figure on.
func figure(x float64) string {
	tidy, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err != nil {
		tidy = x
	}
	return strconv.FormatFloat(tidy, 'f', -1, 64)
}
