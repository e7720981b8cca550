package view

import (
	"html/template"
	"math"
	"strconv"
	"strings"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/form"
)

// A RecipeList is all recipes; those that are retired stand apart.
type RecipeList struct {
	Base
	Filter  Filter
	Table   Table
	Pager   *Pager
	Retired []RetiredRecipe
	Empty   *Empty // nil: there are recipes
	None    bool   // there are recipes, but none holds the words
}

// A RetiredRecipe is one that is no longer in use.
type RetiredRecipe struct {
	Name, Href, Restore, Say string
	Parts                    template.HTML
}

// A RecipeShow is one version of a recipe in full.
type RecipeShow struct {
	Base
	Number   int
	Outdated *Link // the newest version, when this is an older one
	Parts    Table
	Windows  []Window
	Facts    []Fact
	Cautions Cautions
	Versions Table
	Compare  *Link // nil: there is only one version
	Proof    *RecipeProof
	Prove    *Link  // nil: the proof that stands can't change
	Edit     *Link  // nil: a bath used this version
	Retire   string // where to ask about retiring; empty: it is retired
	Restore  string // where to send the restoring; empty: it is in use
}

// A Window is the range that a recipe allows for one thing.
type Window struct {
	Name             string
	Min, Target, Max Quantity
	Narrow           bool   // lowest and highest are the target
	Say              string // the same in words
}

// A RecipeProof is where a version proved itself.
type RecipeProof struct {
	Facts  []Fact
	Ranges Table
}

// A RecipeForm asks for one version of a recipe.
type RecipeForm struct {
	Formed
	Action   string
	Rows     []PartRow
	Chloride *ChlorideAsk // nil: neither of the two chlorides is in it
	Earths   []string     // names of the earths in stock
	Reasons  bool         // what changed, and why, is asked for
	Notice   string       // what happened meanwhile; may be empty
	Other    *Link        // where to look at it
}

// A PartRow is the fields of one part.
type PartRow struct {
	Number                  int // from 1
	Index                   int // from 0, as it is sent
	Kind, Salt, Earth, Mass *form.Field
}

// A ChlorideAsk sets the two chlorides side by side that must never be mixed up, and asks.
type ChlorideAsk struct {
	Unsaved bool // the last sending was not saved for want of a tick
	Salts   []ChlorideCard
	Danger  *Caution // nil: nothing but the identity is asked
	Ticks   []*form.Field
}

// A ChlorideCard is one of the two.
type ChlorideCard struct {
	Formula, Name, TradeName, CAS string
	In                            bool // the recipe brings it
	Say                           string
}

// Bold is the name with the word in bold by which the two differ.
func (c ChlorideCard) Bold() template.HTML { return SaltName(c.Name) }

// A RecipeCompare sets two versions side by side.
type RecipeCompare struct {
	Base
	A, B     Pick
	One, Two int // numbers of the versions
	Groups   []CompareGroup
	Changed  int // lines that differ
	Say      string
}

// A Pick is a choice of a page without a form of its own.
type Pick struct {
	Name, Label string
	Options     []PickOption
}

// A PickOption is one choice of a Pick.
type PickOption struct {
	Value, Label string
	On           bool
}

// A CompareGroup is a heading with its lines.
type CompareGroup struct {
	Heading string
	Lines   []CompareLine
}

// A CompareLine is one thing in both versions. Sign and Word say whether it differs, for eyes that see no colour.
type CompareLine struct {
	Name       any
	A, B       string
	Differs    bool
	Sign, Word string
}

// A RecipeRetire asks before a recipe is taken out of use.
type RecipeRetire struct {
	Base
	Action, Text string
}

// A VersionProof asks where a version was proven.
type VersionProof struct {
	Formed
	Action string
	Ranges []RangeRow
	Final  bool // once saved it stays
	Empty  *Empty
}

// A RangeRow is the two fields of one figure.
type RangeRow struct {
	Lo, Hi *form.Field
}

// MassShort writes a mass as a recipe states it, without the noughts of a balance: "900 g", "4 kg".
func (f Format) MassShort(mass unit.Gram) Quantity {
	if math.Abs(float64(mass)) >= 1000 {
		return f.Plain(mass.Kilograms(), unit.KG.Symbol)
	}
	return f.Plain(mass, unit.G.Symbol)
}

// PerKG writes a part's share to four figures: "90 g per kg water".
func (f Format) PerKG(gPerKG float64) Quantity {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(gPerKG, 'g', 4, 64), 64)
	if err != nil {
		rounded = gPerKG
	}
	return f.Plain(rounded, f.Words.T("g per kg water"))
}

// Parts writes a recipe in one line: "water 10 kg, earth “north bank” 4 kg dry, sal ammoniac NH4Cl 900 g".
func (f Format) Parts(r bath.Recipe) template.HTML {
	return template.HTML(f.parts(r, template.HTMLEscapeString, func(name, formula string) string {
		return string(SaltName(name) + " " + Formula(formula))
	}))
}

// PartsPlain is Parts without markup, for a file.
func (f Format) PartsPlain(r bath.Recipe) string {
	return f.parts(r, func(s string) string { return strings.ReplaceAll(s, hardSpace, " ") },
		func(name, formula string) string { return name + " " + formula })
}

func (f Format) parts(r bath.Recipe, text func(string) string, salts func(name, formula string) string) string {
	var b strings.Builder
	for i, p := range r.Parts {
		if i > 0 {
			b.WriteString(", ")
		}
		mass := f.MassShort(p.Mass).String()
		switch p.Kind {
		case bath.Earth:
			b.WriteString(text(f.Words.T("%s %s dry", f.earth(p), mass)))
		case bath.Salt:
			s, err := salt.Lookup(string(p.Salt))
			if err != nil {
				b.WriteString(text(string(p.Salt) + " " + mass))
				continue
			}
			name := s.Name
			if s.TradeName != "" {
				name = s.TradeName
			}
			b.WriteString(salts(f.Words.T(name), s.Formula) + text(" "+mass))
		default:
			b.WriteString(text(f.Words.T("water") + " " + mass))
		}
	}
	return b.String()
}

// PartName names a part where it is told from others: "north bank", "ammonium chloride NH4Cl".
func (f Format) PartName(p bath.Part) template.HTML {
	switch p.Kind {
	case bath.Earth:
		return template.HTML(template.HTMLEscapeString(f.earth(p)))
	case bath.Salt:
		s, err := salt.Lookup(string(p.Salt))
		if err != nil {
			return template.HTML(template.HTMLEscapeString(string(p.Salt)))
		}
		return SaltName(f.Words.T(s.Name)) + " " + Formula(s.Formula)
	}
	return template.HTML(template.HTMLEscapeString(f.Words.T("water")))
}

func (f Format) earth(p bath.Part) string {
	if p.Name == "" {
		return f.Words.T("earth")
	}
	return f.Words.T("earth “%s”", p.Name)
}
