package unit

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"blackbath/bath/input"
)

// A Problem says why a text is no quantity.
type Problem int

const (
	Empty       Problem = iota // nothing was typed
	NotANumber                 // no number stands there
	NotFinite                  // too large to hold, infinite, or "NaN"
	Ambiguous                  // "1,234": 1.234 or 1234
	UnknownUnit                // a number, then a unit that is not in the list
	WrongUnit                  // a unit that measures something else
	NoUnit                     // a number alone where the unit decides what is meant
)

// A ParseError is what a person typed and why it is no quantity. It never guesses: Readings holds what it could mean, or the
// units that are allowed.
type ParseError struct {
	Text     string
	Problem  Problem
	Readings []string
}

func (e *ParseError) Error() string { return strconv.Quote(e.Text) + ": " + e.Allowed().String() }

// Allowed says what to write instead.
func (e *ParseError) Allowed() input.Text {
	list := strings.Join(e.Readings, ", ")
	switch e.Problem {
	case Empty:
		return input.Say("a number")
	case NotFinite:
		return input.Say("a finite number")
	case Ambiguous:
		return input.Say("%s or %s: write the one you mean", e.Readings[0], e.Readings[1])
	case UnknownUnit:
		return input.Say("a number with a unit that is known here, not %s", list)
	case WrongUnit:
		return input.Say("a quantity in %s", list)
	case NoUnit:
		return input.Say("a number with its unit: %s", list)
	default:
		return input.Say("a number, like 12.5 or 12,5")
	}
}

// vulgar are the fractions that keyboards and phones put in one sign.
var vulgar = map[rune]string{'½': "1/2", '¼': "1/4", '¾': "3/4", '⅓': "1/3", '⅔': "2/3", '⅛': "1/8"}

// Number reads a number as people write it: "12.5", "12,5", "1 1/2", "½", "12 500", "1,234.5", "1.234,5", a leading + or -.
//
// A single comma before exactly three digits can be a decimal comma or a thousands mark: "1,234" is refused with both
// readings. "0,234" can only be 0.234, and "1.234" is always 1.234, since a point is the decimal mark everywhere else here.
// The error is a *[ParseError]; the number is then 0.
func Number(text string) (float64, error) {
	t := tidy(text)
	if t == "" {
		return 0, &ParseError{Text: text, Problem: Empty}
	}
	neg := strings.HasPrefix(t, "-")
	body := strings.TrimLeft(t, "+-")
	if len(t)-len(body) > 1 {
		return 0, &ParseError{Text: text, Problem: NotANumber}
	}
	switch strings.ToLower(body) {
	case "nan", "inf", "infinity", "∞":
		return 0, &ParseError{Text: text, Problem: NotFinite}
	}
	x, err := unsigned(text, strings.TrimSpace(body))
	if err != nil {
		return 0, err
	}
	if neg {
		x = -x
	}
	return finite(text, x)
}

// tidy turns the typographic signs into plain ones.
func tidy(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case vulgar[r] != "":
			b.WriteString(" " + vulgar[r])
		case r == '−' || r == '–':
			b.WriteByte('-')
		case unicode.IsSpace(r):
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func unsigned(text, body string) (float64, error) {
	whole, fraction, mixed := strings.Cut(body, " ")
	switch {
	case mixed && strings.Contains(fraction, "/"):
		n, err := decimal(text, whole)
		if err != nil {
			return 0, err
		}
		if n != math.Trunc(n) {
			return 0, &ParseError{Text: text, Problem: NotANumber}
		}
		f, err := ratio(text, fraction)
		if err == nil && f >= 1 {
			err = &ParseError{Text: text, Problem: NotANumber}
		}
		return n + f, err
	case strings.Contains(body, "/"):
		return ratio(text, body)
	case mixed:
		return decimal(text, spaced(body))
	}
	return decimal(text, body)
}

// spaced joins "12 500" and leaves anything that is not grouped by three as it is, to be refused.
func spaced(body string) string {
	groups := strings.Split(body, " ")
	for i, g := range groups {
		digits, _, _ := strings.Cut(strings.ReplaceAll(g, ",", "."), ".")
		last := i == len(groups)-1
		if (i > 0 && len(digits) != 3) || (i == 0 && len(digits) > 3) || (!last && digits != g) {
			return body
		}
	}
	return strings.Join(groups, "")
}

func ratio(text, body string) (float64, error) {
	top, bottom, _ := strings.Cut(body, "/")
	a, errA := strconv.ParseUint(strings.TrimSpace(top), 10, 32)
	b, errB := strconv.ParseUint(strings.TrimSpace(bottom), 10, 32)
	if errA != nil || errB != nil || b == 0 {
		return 0, &ParseError{Text: text, Problem: NotANumber}
	}
	return float64(a) / float64(b), nil
}

func decimal(text, body string) (float64, error) {
	commas, points := strings.Count(body, ","), strings.Count(body, ".")
	switch {
	case commas == 1 && points == 0:
		before, after, _ := strings.Cut(body, ",")
		if len(after) == 3 && len(before) >= 1 && len(before) <= 3 && before[0] != '0' && allDigits(before) && allDigits(after) {
			return 0, &ParseError{Text: text, Problem: Ambiguous, Readings: []string{before + "." + after, before + after}}
		}
		body = before + "." + after
	case commas > 0 && points <= 1 && grouped(body, ",", "."):
		body = strings.ReplaceAll(body, ",", "")
	case points > 0 && commas <= 1 && (commas == 1 || points > 1) && grouped(body, ".", ","):
		body = strings.ReplaceAll(strings.ReplaceAll(body, ".", ""), ",", ".")
	case commas > 0:
		return 0, &ParseError{Text: text, Problem: NotANumber}
	}
	for _, r := range body {
		if !strings.ContainsRune("0123456789.eE+-", r) { // strconv would take hexadecimal, underscores and "inf" too
			return 0, &ParseError{Text: text, Problem: NotANumber}
		}
	}
	x, err := strconv.ParseFloat(body, 64)
	if err != nil && math.IsInf(x, 0) {
		return 0, &ParseError{Text: text, Problem: NotFinite}
	}
	if err != nil {
		return 0, &ParseError{Text: text, Problem: NotANumber}
	}
	return x, nil
}

// grouped says whether body is digits in threes parted by mark, with at most one decimal mark after them.
func grouped(body, mark, point string) bool {
	whole, rest, _ := strings.Cut(body, point)
	if strings.Contains(rest, mark) {
		return false
	}
	groups := strings.Split(whole, mark)
	for i, g := range groups {
		if !allDigits(g) || len(g) > 3 || (i > 0 && len(g) != 3) || len(g) == 0 {
			return false
		}
	}
	return len(groups) > 1
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

func finite(text string, x float64) (float64, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, &ParseError{Text: text, Problem: NotFinite}
	}
	return x, nil
}
