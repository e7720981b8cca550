// Package form reads what a page sends into values and shows again what was typed.
//
// One function lists the fields of a page, each bound to the value that it fills. On the way out ([New]) the fields show
// what the values hold; on the way in ([Read]) what was typed goes into the values, and all problems are found at once:
//
//	func settingsFields(f *form.Form, w *bath.Workshop) {
//		f.Text(&w.Name, form.Field{Name: "name", Label: input.Say("Name of the workshop"), Required: true, Longest: 80})
//		form.Optional(f, &w.WaterBoilsAt, form.Field{Name: "water_boils_at_c", Label: input.Say("Water boils here at"),
//			Unit: unit.C, Min: 80, Max: 105})
//	}
//
//	f := form.New()           // the empty page:  settingsFields(f, &shop), then render with f
//	f := form.Read(values)    // what was sent:   settingsFields(f, &shop), then f.Bad()? render again with 422 : save
package form

import (
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/uuid"

	"blackbath/bath/input"
)

// Names of the two hidden fields that a form part of a page sends along.
const (
	EntryKeyName = "entry_key"
	EditName     = "edit"
)

// A Form is the fields of one page, in order, and what was typed into them.
type Form struct {
	typed  url.Values // nil: nothing was sent, the fields show what the values hold
	key    string
	edit   int64
	edits  bool
	stale  bool
	fields []*Field
	named  map[string]*Field
	extra  input.Problems // about no single field
}

// New returns the form of a page that nobody has filled in yet, with a new entry key.
func New() *Form { return &Form{key: newKey(), named: map[string]*Field{}} }

// Read returns the form with what was sent.
func Read(sent url.Values) *Form {
	f := &Form{typed: sent, key: sent.Get(EntryKeyName), named: map[string]*Field{}}
	if f.typed == nil {
		f.typed = url.Values{}
	}
	if _, err := uuid.Parse(f.key); err != nil { // sent by hand, without the page
		f.key = newKey()
	}
	return f
}

func newKey() string {
	k, err := uuid.NewV7()
	if err != nil {
		k = uuid.New()
	}
	return k.String()
}

// Key is the entry key: made with the page, sent with the form, so that a form sent twice is stored once.
func (f *Form) Key() string { return f.key }

// Edit binds the count of changes that the page saw, so that a save over somebody else's change is noticed.
func (f *Form) Edit(dst *int64) {
	f.edits = true
	if f.typed != nil {
		if n, err := strconv.ParseInt(f.typed.Get(EditName), 10, 64); err == nil {
			*dst = n
		}
	}
	f.edit = *dst
}

// EditSeen is the bound count as the page sends it; empty where none is bound.
func (f *Form) EditSeen() string {
	if !f.edits {
		return ""
	}
	return strconv.FormatInt(f.edit, 10)
}

// Meanwhile sets what was typed beside what somebody else saved since the page was made: now is the same form, new, with the
// stored values. It reports whether any field differs; when none does, the same was sent twice. Sent again, the form wins.
func (f *Form) Meanwhile(now *Form) (differs bool) {
	f.edit = now.edit
	for _, mine := range f.fields {
		if theirs := now.named[mine.Name]; theirs != nil && strings.TrimSpace(theirs.Typed) != strings.TrimSpace(mine.Typed) {
			mine.theirs = &theirs.Typed
			f.stale = true
		}
	}
	return f.stale
}

// Stale says whether somebody else saved something different meanwhile.
func (f *Form) Stale() bool { return f.stale }

// Get returns a field by its name, for a template. An unknown name gives nil.
func (f *Form) Get(name string) *Field { return f.named[name] }

// Fields returns all fields in order.
func (f *Form) Fields() []*Field { return f.fields }

// Sent says whether the form was sent, as against shown for the first time.
func (f *Form) Sent() bool { return f.typed != nil }

// Bad says whether something must be put right.
func (f *Form) Bad() bool {
	return len(f.extra) > 0 || slices.ContainsFunc(f.fields, (*Field).Bad)
}

// Count is how many things must be put right.
func (f *Form) Count() int {
	n := len(f.extra)
	for _, field := range f.fields {
		if field.Bad() {
			n++
		}
	}
	return n
}

// Wrong lists the problems that belong to no field of the page.
func (f *Form) Wrong() []input.Text {
	var out []input.Text
	for _, p := range f.extra {
		say := input.Say("%s: “%s” can't be used. Write %s.", p.Field, shorten(p.Got), p.Allowed)
		if p.Got == "" {
			say = input.Say("%s: write %s.", p.Field, p.Allowed)
		}
		if !p.Hint.IsZero() {
			say = input.Text{Format: "%s %s", Args: []any{say, p.Hint}}
		}
		out = append(out, say)
	}
	return out
}

// Problems returns everything that must be put right, in the order of the fields; nil when there is nothing.
func (f *Form) Problems() input.Problems {
	var ps input.Problems
	for _, field := range f.fields {
		if field.problem != nil {
			ps = append(ps, *field.problem)
		}
	}
	return append(ps, f.extra...)
}

// Refuse marks a field; name, got and allowed are as in [input.Problem]. The first problem of a field stays.
func (f *Form) Refuse(name, got string, allowed input.Text) {
	f.Add(input.Problems{{Field: name, Got: got, Allowed: allowed}})
}

// Add takes over problems that a check of the whole found. Each goes to the field of the same name, or to the head of the
// page where there is none.
func (f *Form) Add(ps input.Problems) {
	for _, p := range ps {
		field := f.named[p.Field]
		switch {
		case field == nil:
			f.extra = append(f.extra, p)
		case field.problem == nil:
			field.problem = &p
		}
	}
}

// Forgive forgets what must be put right: the page is only drawn again, with one more row or one fewer, and nothing is saved.
func (f *Form) Forgive() {
	f.extra = nil
	for _, field := range f.fields {
		field.problem = nil
	}
}

// bind registers a field and sets what stands in it: what was sent, else what the value holds.
func (f *Form) bind(field Field, kind Kind, held string) *Field {
	field.Kind = kind
	field.Typed = held
	if f.typed != nil {
		field.Typed = f.typed.Get(field.Name)
	}
	f.fields = append(f.fields, &field)
	f.named[field.Name] = &field
	return &field
}

func (f *Field) refuse(allowed input.Text) {
	f.problem = &input.Problem{Field: f.Name, Got: strings.TrimSpace(f.Typed), Allowed: allowed}
}

const (
	longestLine = 200
	longestText = 4000
)

// Text binds one line of text. Space at its ends is left out.
func (f *Form) Text(dst *string, field Field) {
	if field.Longest == 0 {
		field.Longest = longestLine
	}
	f.text(dst, f.bind(field, KindText, *dst), false)
}

// Long binds several lines of text.
func (f *Form) Long(dst *string, field Field) {
	if field.Longest == 0 {
		field.Longest = longestText
	}
	f.text(dst, f.bind(field, KindLong, *dst), true)
}

func (f *Form) text(dst *string, field *Field, lines bool) {
	if f.typed == nil {
		return
	}
	t := strings.TrimSpace(strings.ReplaceAll(field.Typed, "\r\n", "\n"))
	unprintable := strings.ContainsFunc(t, func(r rune) bool {
		return unicode.IsControl(r) && !(lines && (r == '\n' || r == '\t'))
	})
	switch {
	case t == "" && field.Required:
		field.refuse(input.Say("at least one letter"))
	case !utf8.ValidString(t) || unprintable:
		field.Typed = strings.ToValidUTF8(field.Typed, "\uFFFD")
		field.refuse(input.Say("plain text, without control characters"))
	case utf8.RuneCountInString(t) > field.Longest:
		field.refuse(input.Say("at most %d characters", field.Longest))
		field.problem.Hint = input.Say("There are %d.", utf8.RuneCountInString(t))
	default:
		*dst = t
	}
}

// Choice binds one of a list. What is not in the list is refused; an empty choice is allowed where the field is not
// required.
func Choice[T ~string](f *Form, dst *T, field Field) {
	b := f.bind(field, KindChoice, string(*dst))
	if f.typed == nil {
		return
	}
	known := slices.ContainsFunc(b.Options, func(o Option) bool { return o.Value == b.Typed })
	if !known && (b.Typed != "" || b.Required) {
		b.refuse(input.Say("one of the list"))
		return
	}
	*dst = T(b.Typed)
}

// Pick binds one row of a list by its number; 0 is none of them.
func Pick(f *Form, dst *int64, field Field) {
	held := strconv.FormatInt(*dst, 10)
	if *dst == 0 {
		held = ""
	}
	b := f.bind(field, KindChoice, held)
	if f.typed == nil {
		return
	}
	known := slices.ContainsFunc(b.Options, func(o Option) bool { return o.Value == b.Typed })
	n, err := strconv.ParseInt(b.Typed, 10, 64)
	switch {
	case b.Typed == "" && !b.Required:
		*dst = 0
	case err != nil || !known:
		b.refuse(input.Say("one of the list"))
	default:
		*dst = n
	}
}

// Tick binds a box to tick.
func (f *Form) Tick(dst *bool, field Field) {
	held := ""
	if *dst {
		held = "yes"
	}
	b := f.bind(field, KindTick, held)
	if f.typed != nil {
		*dst = b.Typed != ""
	}
}

// Date binds a day in the workshop's time zone, written 2026-03-09. Empty gives the zero time.
func (f *Form) Date(dst *time.Time, zone *time.Location, field Field) {
	held := ""
	if !dst.IsZero() {
		held = dst.In(zone).Format(time.DateOnly)
	}
	b := f.bind(field, KindDate, held)
	if f.typed == nil {
		return
	}
	t := strings.TrimSpace(b.Typed)
	if t == "" && !b.Required {
		*dst = time.Time{}
		return
	}
	day, err := time.ParseInLocation(time.DateOnly, t, zone)
	if err != nil || day.Year() < 1900 || day.Year() > 2200 {
		b.refuse(input.Say("a day as year, month, day, like 2026-03-09"))
		return
	}
	*dst = day
}
