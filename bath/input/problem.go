package input

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// ErrUnsafe is wrapped by a problem whose input could hurt somebody if it were let through.
var ErrUnsafe = errors.New("input: unsafe")

// A Text is a sentence with its figures kept apart, so that a page can translate the sentence.
type Text struct {
	Format string // as for fmt.Sprintf
	Args   []any
}

// Say makes a Text. A bare %g writes a number in plain digits: "at most 1000000000 g", not "1e+09 g".
func Say(format string, args ...any) Text {
	for i, a := range args {
		if x, isNumber := a.(float64); isNumber {
			args[i] = plain(x)
		}
	}
	return Text{Format: format, Args: args}
}

// plain is a number that a person reads.
type plain float64

// Format writes what fits a line in plain digits, and everything else as fmt does.
func (p plain) Format(s fmt.State, verb rune) {
	x := float64(p)
	_, precise := s.Precision()
	if verb == 'g' && !precise && math.Abs(x) >= 1e-6 && math.Abs(x) < 1e15 {
		_, _ = io.WriteString(s, strconv.FormatFloat(x, 'f', -1, 64)) // a State does not fail
		return
	}
	fmt.Fprintf(s, fmt.FormatString(s, verb), x)
}

// String returns the sentence in English.
func (t Text) String() string {
	if len(t.Args) == 0 {
		return t.Format
	}
	return fmt.Sprintf(t.Format, t.Args...)
}

// IsZero says whether there is no sentence.
func (t Text) IsZero() bool { return t.Format == "" }

// A Problem is one thing to put right: which field, what was read there, what is allowed, and what to do if the allowed
// range does not say it already.
type Problem struct {
	Field   string // path of the field as its writer knows it: "parts[1].mass_g", "freeboard_cm", "--step-g"
	Got     string // what was read, as it was written; empty when nothing was there
	Allowed Text
	Hint    Text // what to do; may be empty
	Unsafe  bool // letting it through could hurt somebody
}

// Error returns "field: got, allowed; hint" in English.
func (p Problem) Error() string {
	var b strings.Builder
	if p.Field != "" {
		b.WriteString(shorten(p.Field))
		b.WriteString(": ")
	}
	if p.Got == "" {
		b.WriteString("nothing was given")
	} else {
		b.WriteString(shorten(p.Got))
		b.WriteString(" is not allowed")
	}
	b.WriteString("; allowed: ")
	b.WriteString(p.Allowed.String())
	if !p.Hint.IsZero() {
		b.WriteString(". ")
		b.WriteString(p.Hint.String())
	}
	return b.String()
}

// Unwrap lets errors.Is find [ErrUnsafe].
func (p Problem) Unwrap() error {
	if p.Unsafe {
		return ErrUnsafe
	}
	return nil
}

// longestShown keeps a message readable when somebody pastes a page into a field.
const longestShown = 80

// shorten also quotes what holds signs that cannot be seen: a line end would look like the next problem, and a terminal acts
// on some of them.
func shorten(s string) string {
	tail := ""
	if r := []rune(s); len(r) > longestShown {
		s, tail = string(r[:longestShown]), "…"
	}
	if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) {
		s = strconv.Quote(s)
	}
	return s + tail
}

// Problems are all the problems of one input, in the order of its fields.
type Problems []Problem

// Error returns one line a problem.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns each problem, for errors.Is and errors.As.
func (ps Problems) Unwrap() []error {
	errs := make([]error, len(ps))
	for i, p := range ps {
		errs[i] = p
	}
	return errs
}

// Add appends a problem.
func (ps *Problems) Add(field, got string, allowed Text) {
	*ps = append(*ps, Problem{Field: field, Got: got, Allowed: allowed})
}

// Err returns nil when there is no problem, else the problems.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

// On returns the problems of one field.
func (ps Problems) On(field string) []Problem {
	var out []Problem
	for _, p := range ps {
		if p.Field == field {
			out = append(out, p)
		}
	}
	return out
}
