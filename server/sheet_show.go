package server

import (
	"html/template"
	"maps"
	"net/http"
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/view"
)

// papers are the sizes that a sheet can be printed on, the usual one first.
var papers = []struct {
	name  string
	label input.Text
}{
	{"a4", input.Say("A4")}, {"letter", input.Say("Letter")}, {"a5", input.Say("A5")},
}

// loadRows is how many loads there is room for.
const loadRows = 7

// sheet reads a stored sheet with its figures.
func (s *Server) sheet(v *visit) (bath.BathSheet, keptSheet, error) {
	name := strings.TrimSuffix(v.Param("id"), textSuffix)
	sheet, err := s.store.BathSheet(v.Request.Context(), v.shop.ID, rowID(name))
	if err != nil {
		return bath.BathSheet{}, keptSheet{}, err
	}
	kept, err := readKept(&sheet)
	return sheet, kept, err
}

// textSuffix on a sheet's address asks for its plain text.
const textSuffix = ".txt"

// showSheet shows a bath sheet as it was made.
func (s *Server) showSheet(v *visit) error {
	if strings.HasSuffix(v.Param("id"), textSuffix) {
		return s.sheetText(v)
	}
	sheet, kept, err := s.sheet(v)
	if err != nil {
		return err
	}
	p := sheetPage{v: v, sheet: sheet, kept: kept}
	return v.page(http.StatusOK, "sheet_show", p.show())
}

// A sheetPage turns a stored sheet into what is printed.
type sheetPage struct {
	v      *visit
	format view.Format
	sheet  bath.BathSheet
	kept   keptSheet
}

func (p sheetPage) show() view.SheetShow {
	v, s, k := p.v, p.sheet, p.kept
	b := v.base(v.T("Bath sheet %d: %s, version %d", s.Number, s.Recipe.Name, k.Version))
	b.Format.Step = s.Conditions.Step
	p.format = b.Format
	b.Back = &view.Link{Label: v.T("Bath sheets"), Href: "/sheets"}
	b.Scripts = []string{"js/print.js"}
	page := view.SheetShow{
		Base: b, Paper: v.paper(), Command: command(s.Conditions),
		Head: v.T("Bath sheet %d", s.Number), Recipe: v.T("%s, version %d", s.Recipe.Name, k.Version),
		Lines: p.headLines(), Weigh: p.weigh(), Makes: p.makes(), Levels: p.levels(),
		NotTo:   notTo(v, p.format, k.Answer.Levels, k.Details.OverfillL),
		Drawing: drawLevels(v, p.format, s.Tank, k.Answer.Levels, k.Details.WorkingTemp, s.Conditions.WaterTemp, k.Answer.LoadL > 0),
		Holds:   p.holds(), First: v.text(authority), Closing: v.translate(k.Closing), MadeUpBy: s.MadeBy, Foot: p.foot(),
	}
	for i := range loadRows {
		page.Rows = append(page.Rows, i+1)
	}
	for _, step := range k.Order {
		page.Order = append(page.Order, v.translate(step))
	}
	for _, c := range k.Fires {
		page.Fires = append(page.Fires, view.Caution{Severity: string(c.Severity), Word: v.translate(c.Severity.Label()), Text: v.translate(c.Text)})
	}
	for _, m := range k.Ask {
		page.Ask = append(page.Ask, v.asked(m))
	}
	page.Fit = fit(page)
	path := "/sheets/" + idText(s.ID)
	for _, x := range papers {
		page.Papers = append(page.Papers, view.PaperKey{Label: v.text(x.label), Href: path + "?paper=" + x.name, On: x.name == page.Paper})
	}
	page.Files = []view.Link{
		{Label: v.T("Plain text"), Href: path + ".txt"},
		{Label: v.T("Recipe file"), Href: path + "/recipe.json"}, {Label: v.T("Tank file"), Href: path + "/tank.json"},
		{Label: v.T("Scale again"), Href: scalePath(k.RecipeID, k.Version) + "?tank=" + idText(s.TankID)},
	}
	return page
}

// paper is the size that the address asks for.
func (v *visit) paper() string {
	for _, x := range papers {
		if v.Query("paper") == x.name {
			return x.name
		}
	}
	return papers[0].name
}

func (p sheetPage) headLines() []string {
	v, f, r := p.v, p.format, p.sheet.Recipe
	line := v.T("%s, fill line %s. Bath %s, window %s to %s.", p.sheet.Tank.Name, f.CM(p.kept.Answer.Levels.Loaded),
		f.Celsius(r.Temp.Target), f.Celsius(p.kept.Window.Min).Number, f.Celsius(p.kept.Window.Max))
	if k := r.Soak; k != nil {
		line += " " + v.T("Soak %s, window %s to %s.", f.Minutes(k.Target), f.Minutes(k.Min).Number, f.Minutes(k.Max))
	}
	return []string{line}
}

func (p sheetPage) weigh() []view.SheetLine {
	pour := p.kept.Answer.PourWater
	lines := []view.SheetLine{{
		Number: 1, Name: view.SaltName(p.v.T("Water")), Amount: p.format.Mass(pour.Rounded),
		Small: escaped(waterSaid(p.v, p.format, pour, p.sheet.Conditions.Bucket)),
	}}
	for _, w := range inOrder(p.kept.Answer.Weigh) {
		part := p.sheet.Recipe.Parts[w.Part]
		var says []string
		if lot := p.kept.Lots[w.Part]; lot != "" {
			says = append(says, lot)
		} else {
			says = append(says, p.v.T("no lot chosen"))
		}
		says = append(says, shareSaid(p.v, p.format, part))
		if w.WaterInIt > 0 {
			says = append(says, p.v.T("brings %s of water, taken off above", p.format.Mass(w.WaterInIt)))
		}
		small := escaped(strings.Join(says, ", "))
		if w.Kind == bath.Salt {
			s, _ := salt.Lookup(string(part.Salt)) // Scale found it when the sheet was made
			small = escaped("CAS "+s.CAS+". ") + small
		}
		lines = append(lines, view.SheetLine{
			Number: len(lines) + 1, Name: partName(p.v, part), Small: small, Amount: p.format.Mass(w.Rounded),
		})
	}
	return lines
}

func escaped(s string) template.HTML { return template.HTML(template.HTMLEscapeString(s)) }

func (p sheetPage) makes() string {
	v, f, a, d := p.v, p.format, p.kept.Answer, p.kept.Details
	says := []string{v.T("Makes %s of mud at %s, %s.", f.Litres(a.HotBathL), f.Celsius(d.WorkingTemp), f.Fixed(a.HotDensity, 2, "kg/L"))}
	switch {
	case a.LoadL > 0 && p.kept.Pieces != "":
		says = append(says, v.T("Load %s of metal: %s.", f.Fixed(a.LoadL, 3, unit.L.Symbol), p.kept.Pieces))
	case a.LoadL > 0:
		says = append(says, v.T("Load %s of metal.", f.Fixed(a.LoadL, 3, unit.L.Symbol)))
	default:
		says = append(says, v.T("No load is counted."))
	}
	if a.HeatUp != nil {
		says = append(says, v.T("Heats in about %s at %s, tank and pieces not counted.", f.Minutes(*a.HeatUp), f.Plain(p.sheet.Tank.HeaterKW, unit.KW.Symbol)))
	}
	says = append(says, v.T("Boils at %s (%s).", f.Estimate(a.BoilsAtC, boilingPlusMinusC, 1, unit.C.Symbol), placeSaid(v, f, p.sheet.Conditions)),
		v.T("Water lost in an hour: %s.", evaporationSaid(v, f, a.Evaporation, d.Boiling)),
		v.T("%s full with the load in.", f.Percent(100*d.FillFraction, 0)),
		roundingSaid(v, f, a.Composition, p.sheet.Conditions.Step))
	return strings.Join(says, " ")
}

func (p sheetPage) levels() []view.SheetLevel {
	v, f, l := p.v, p.format, p.kept.Answer.Levels
	read := func(name string, h *unit.Centimetre) view.SheetLevel {
		if h == nil {
			return view.SheetLevel{Name: name, Level: v.T("over the rim")}
		}
		return view.SheetLevel{Name: name, Level: f.CM(*h).Number}
	}
	return []view.SheetLevel{
		read(v.T("cold, %s", f.Celsius(p.sheet.Conditions.WaterTemp)), l.Cold),
		read(v.T("hot, no pieces"), l.Hot), read(v.T("hot, with load"), &l.Loaded),
	}
}

// holds is what does not hold or was assumed.
func (p sheetPage) holds() []string {
	var out []string
	for _, w := range p.kept.Answer.Warnings {
		out = append(out, w.Text)
	}
	if !p.kept.HeightKnown {
		out = append(out, p.v.text(heightAssumed))
	}
	if said := outsideWindow(p.v, p.format, p.kept.Temp.Target, p.kept.Window); said != "" {
		out = append(out, said)
	}
	if left := p.leftProven(); left != "" {
		out = append(out, left)
	}
	for _, id := range slices.Sorted(maps.Keys(p.kept.Answer.Undissolved)) {
		if g := p.kept.Answer.Undissolved[id]; g > 0 {
			s, _ := salt.Lookup(string(id))
			out = append(out, p.v.T("Stays as crystals at %s: %s of %s.", p.format.Celsius(p.kept.Details.Coldest), p.format.Mass(g), input.Say(s.Name)))
		}
	}
	return out
}

// leftProven is what leaves the range in which the recipe was proven, in one sentence.
func (p sheetPage) leftProven() string {
	m := movePage{v: p.v, format: p.format, a: p.kept.Answer}
	var left []string
	for _, l := range p.kept.Move {
		if l.Side == bath.Above || l.Side == bath.Below {
			left = append(left, p.v.T("%s %s (%s to %s)", figureForms[l.Figure].name, m.written(l.Figure, l.Now),
				m.written(l.Figure, &l.Range.Lo).Number, m.written(l.Figure, &l.Range.Hi).Number))
		}
	}
	if len(left) == 0 {
		return ""
	}
	return p.v.T("Outside what was proven in %s: %s.", p.kept.Proven, strings.Join(left, "; "))
}

func (p sheetPage) foot() []string {
	v, s, k := p.v, p.sheet, p.kept
	line := v.T("Bath sheet %d, made %s. %s, version %d. Worked out by blackbath %s.", s.Number, p.format.When(s.MadeAt), s.Recipe.Name, k.Version, s.Program)
	if k.Reader != "" {
		line += " " + v.T("Formula of the chloride read aloud with %s.", k.Reader)
	}
	return []string{line}
}
