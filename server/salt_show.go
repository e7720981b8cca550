package server

import (
	"fmt"
	"net/http"
	"unicode"
	"unicode/utf8"

	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/server/store"
	"blackbath/server/view"
)

// showSalt shows all that the program knows about one salt.
func (s *Server) showSalt(v *visit) error {
	x, err := salt.Lookup(v.Param("id"))
	if err != nil {
		return fmt.Errorf("%w: %w", store.ErrNotFound, err)
	}
	b := v.base(sentenceCase(v.T(x.Name)))
	b.Back = &view.Link{Label: v.T("Salts"), Href: "/salts"}
	p := view.SaltShow{
		Base: b, Name: v.T(x.Name), Formula: x.Formula, CAS: x.CAS,
		Solubility: solubilityTable(v, x, b.Format),
		Density:    densityFacts(v, x, b.Format),
		Boiling:    boilingFacts(v, x, b.Format),
	}
	_, hasTable := x.BoilingTableEnd()
	p.IdealRule = !hasTable
	if x.TradeName != "" {
		p.TradeName = v.T(x.TradeName)
	}
	water := v.T("none")
	if x.CrystalWaters > 0 {
		water = b.Percent(100*x.CrystalWaterShare(), 1).String()
	}
	p.Facts = []view.Fact{
		{Name: v.T("Formula"), Value: view.Formula(x.Formula)},
		{Name: v.T("CAS number"), Value: x.CAS},
		{Name: v.T("Molar mass"), Value: b.Fixed(x.MolarMassGPerMol, 3, "g/mol")},
		{Name: v.T("Crystal water"), Value: water},
		{Name: v.T("Salt without its crystal water"), Value: b.Percent(100*x.AnhydrousShare(), 1)},
	}
	hazards(v, &p, x)
	return v.page(http.StatusOK, "salt_show", p)
}

func hazards(v *visit, p *view.SaltShow, x salt.Salt) {
	h, known := caution.HazardOf(string(x.ID))
	if !known {
		return
	}
	p.Basis, p.MoreCare = v.T(h.Basis), h.FromMemory()
	for _, code := range h.Codes {
		p.Codes = append(p.Codes, view.HazardCode{Code: code, Statement: v.T(caution.HazardStatement(code))})
	}
	if h.Signal != "" {
		p.Signal = &view.Caution{
			Severity: string(h.Signal), Word: v.T(h.Signal.Label()),
			Text: v.T("Read the label and the supplier's safety data sheet before you open the bag."),
		}
	}
}

func solubilityTable(v *visit, x salt.Salt, f view.Format) view.Table {
	t := view.Table{
		Caption: v.T("Solubility by temperature"),
		Columns: []view.Column{
			{Label: v.T("Temperature")},
			{Label: v.T("Dissolves, counted without crystal water"), Figure: true},
		},
	}
	for tempC := 0.0; tempC <= 100; tempC += 10 {
		if tempC == 0 && x.SolubilityGPer100G(0) == x.SolubilityGPer100G(10) {
			continue // its table begins at 10 °C, and below that the figure is only held
		}
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{{Value: f.Celsius(tempC)}, {Value: dissolves(f, x, tempC)}}})
	}
	return t
}

func densityFacts(v *visit, x salt.Salt, f view.Format) []view.Fact {
	minC, maxC, most := x.DensityFit()
	return []view.Fact{
		{Name: v.T("Measured from"), Value: f.Celsius(minC)},
		{Name: v.T("to"), Value: f.Celsius(maxC)},
		{Name: v.T("up to a share of salt in the liquid of"), Value: f.Percent(100*most, 1)},
	}
}

func boilingFacts(v *visit, x salt.Salt, f view.Format) []view.Fact {
	end, ok := x.BoilingTableEnd()
	if !ok {
		return nil
	}
	rise, _ := x.RiseC(end)
	return []view.Fact{
		{Name: v.T("Measured up to"), Value: f.Fixed(end, 1, per100g(f))},
		{Name: v.T("which boils hotter than plain water by"), Value: f.Fixed(rise, 1, "°C")},
	}
}

// sentenceCase begins with a capital.
func sentenceCase(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}
