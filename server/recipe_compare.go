package server

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/server/view"
)

// comparePath compares a version with the one before it, or the first with the next.
func comparePath(book bath.KeptBook, version bath.Version) string {
	a, b := version.Number-1, version.Number
	if a < 1 {
		a, b = 1, 2
	}
	return fmt.Sprintf("%s/compare?a=%d&b=%d", recipePath(book.ID), a, b)
}

// compareVersions sets two versions side by side.
func (s *Server) compareVersions(v *visit) error {
	book, err := s.recipeBook(v)
	if err != nil {
		return err
	}
	number := func(name string, otherwise int) string {
		if typed := v.Query(name); typed != "" {
			return typed
		}
		return strconv.Itoa(otherwise)
	}
	n := newest(book).Number
	one, err := numbered(book, number("a", max(1, n-1)))
	if err != nil {
		return err
	}
	two, err := numbered(book, number("b", n))
	if err != nil {
		return err
	}
	b := v.base(v.T("%s: versions %d and %d", newest(book).Recipe.Name, one.Number, two.Number))
	b.Back = &view.Link{Label: newest(book).Recipe.Name, Href: recipePath(book.ID)}
	c := comparison{v: v, format: b.Format, a: one, b: two}
	p := view.RecipeCompare{
		Base: b, A: versionPick(v, book, "a", v.T("One version"), one), B: versionPick(v, book, "b", v.T("The other"), two),
		One: one.Number, Two: two.Number,
		Groups: []view.CompareGroup{{Heading: v.T("Parts, to each kg of water"), Lines: c.parts()},
			{Heading: v.T("Windows"), Lines: c.windows()}, {Heading: v.T("What was said of it"), Lines: c.words()}},
	}
	for _, g := range p.Groups[:2] {
		for _, l := range g.Lines {
			if l.Differs {
				p.Changed++
			}
		}
	}
	switch p.Changed {
	case 0:
		p.Say = v.T("No part and no window differs.")
	case 1:
		p.Say = v.T("One line of parts and windows differs.")
	default:
		p.Say = v.T("%d lines of parts and windows differ.", p.Changed)
	}
	return v.page(http.StatusOK, "recipe_compare", p)
}

func versionPick(v *visit, book bath.KeptBook, name, label string, chosen bath.Version) view.Pick {
	p := view.Pick{Name: name, Label: label}
	for _, x := range book.Versions {
		p.Options = append(p.Options, view.PickOption{
			Value: strconv.Itoa(x.Number), Label: v.T("Version\u00a0%d", x.Number), On: x.Number == chosen.Number,
		})
	}
	return p
}

// A comparison is two versions side by side.
type comparison struct {
	v      *visit
	format view.Format
	a, b   bath.Version
}

// The signs say the same as the words, to an eye that only runs down the page.
const (
	signSame    = "="
	signChanged = "≠"
	signAdded   = "+"
	signGone    = "−"
)

func (c comparison) line(name any, a, b string) view.CompareLine {
	if a == b {
		return view.CompareLine{Name: name, A: a, B: b, Sign: signSame, Word: c.v.T("the same")}
	}
	return view.CompareLine{Name: name, A: a, B: b, Differs: true, Sign: signChanged, Word: c.v.T("changed")}
}

// A partShare is what one part comes to in a version, g per kg of water.
type partShare struct {
	part    bath.Part
	gPerKG  float64
	present bool
}

// parts are in the order of the first version, then what only the second has.
func (c comparison) parts() []view.CompareLine {
	one, order := shares(c.a.Recipe, nil)
	two, order := shares(c.b.Recipe, order)
	var lines []view.CompareLine
	for _, key := range order {
		a, b := one[key], two[key]
		part := a.part
		if !a.present {
			part = b.part
		}
		none := c.v.T("none")
		switch {
		case !b.present:
			lines = append(lines, view.CompareLine{Name: c.format.PartName(part), A: c.format.PerKG(a.gPerKG).String(), B: none,
				Differs: true, Sign: signGone, Word: c.v.T("only in version %d", c.a.Number)})
		case !a.present:
			lines = append(lines, view.CompareLine{Name: c.format.PartName(part), A: none, B: c.format.PerKG(b.gPerKG).String(),
				Differs: true, Sign: signAdded, Word: c.v.T("only in version %d", c.b.Number)})
		default:
			l := c.line(c.format.PartName(part), c.format.PerKG(a.gPerKG).String(), c.format.PerKG(b.gPerKG).String())
			if l.Differs {
				l.Word = c.change(a.gPerKG, b.gPerKG)
			}
			lines = append(lines, l)
		}
	}
	return lines
}

// change says by how much a part grew or shrank.
func (c comparison) change(a, b float64) string {
	pct := c.format.Fixed(100*(b/a-1), 1, "%")
	if b > a {
		return c.v.T("more by %s", pct)
	}
	return c.v.T("less by %s", c.format.Fixed(100*(1-b/a), 1, "%"))
}

// shares adds up the parts of a recipe that are the same thing. order names them as they come, after those that are in it.
func shares(r bath.Recipe, order []string) (map[string]partShare, []string) {
	found := map[string]partShare{}
	allWater := waterOf(r)
	known := map[string]bool{}
	for _, key := range order {
		known[key] = true
	}
	for _, p := range r.Parts {
		if p.Kind == bath.Water {
			continue
		}
		key := string(p.Kind) + "/" + string(p.Salt) + "/" + strings.ToLower(p.Name)
		x := found[key]
		x.part, x.present = p, true
		x.gPerKG += 1000 * float64(p.Mass) / allWater
		found[key] = x
		if !known[key] {
			known[key] = true
			order = append(order, key)
		}
	}
	return found, order
}

func (c comparison) windows() []view.CompareLine {
	t := func(r bath.Recipe) bath.TempWindow { return r.Temp }
	lines := []view.CompareLine{
		c.line(c.v.T("Lowest temperature"), c.celsius(t(c.a.Recipe).Min), c.celsius(t(c.b.Recipe).Min)),
		c.line(c.v.T("Temperature to aim for"), c.celsius(t(c.a.Recipe).Target), c.celsius(t(c.b.Recipe).Target)),
		c.line(c.v.T("Highest temperature"), c.celsius(t(c.a.Recipe).Max), c.celsius(t(c.b.Recipe).Max)),
	}
	for _, w := range []struct {
		name input.Text
		of   func(bath.SoakWindow) any
	}{
		{input.Say("Shortest soak"), func(s bath.SoakWindow) any { return s.Min }},
		{input.Say("Soak to aim for"), func(s bath.SoakWindow) any { return s.Target }},
		{input.Say("Longest soak"), func(s bath.SoakWindow) any { return s.Max }},
	} {
		lines = append(lines, c.line(c.v.text(w.name), c.minutes(c.a.Recipe.Soak, w.of), c.minutes(c.b.Recipe.Soak, w.of)))
	}
	return lines
}

func (c comparison) celsius(x any) string { return c.format.Celsius(x).String() }

func (c comparison) minutes(s *bath.SoakWindow, of func(bath.SoakWindow) any) string {
	if s == nil {
		return c.format.NotRecorded().String()
	}
	return c.format.Plain(of(*s), "min").String()
}

func (c comparison) words() []view.CompareLine {
	f := c.format
	return []view.CompareLine{
		c.line(c.v.T("Name"), c.a.Recipe.Name, c.b.Recipe.Name),
		c.line(c.v.T("What changed"), f.OrNot(c.a.Change), f.OrNot(c.b.Change)),
		c.line(c.v.T("Why"), f.OrNot(c.a.Why), f.OrNot(c.b.Why)),
		c.line(c.v.T("Written"), f.Day(c.a.MadeAt), f.Day(c.b.MadeAt)),
		c.line(c.v.T("By"), f.OrNot(c.a.MadeBy), f.OrNot(c.b.MadeBy)),
		c.line(c.v.T("Used"), usedWord(c.v, c.a), usedWord(c.v, c.b)),
		c.line(c.v.T("Proven in"), provenIn(c.v, c.a), provenIn(c.v, c.b)),
	}
}
