package server

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"blackbath/bath/caution"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/server/view"
)

// listSalts shows the catalogue.
func (s *Server) listSalts(v *visit) error {
	l := v.listing()
	b := v.base(v.T("Salts"))
	b.Lead = v.T("One salt, one identity: word, formula, CAS number and crystal water. Read all four off the label.")
	return v.page(http.StatusOK, "salt_list", view.SaltList{
		Base: b, Filter: l.filter(v.T("Find a salt")), Table: saltTable(v, l, b.Format),
	})
}

// exportSalts sends the same table as a file.
func (s *Server) exportSalts(v *visit) error {
	l := v.listing()
	return v.csv("salts.csv", saltTable(v, l, v.base("").Format))
}

// Temperatures at which the list compares solubilities: a cold room and a hot bath.
const coldC, hotC = 20, 90

// per100g is the unit of a solubility.
func per100g(f view.Format) string { return f.Say("g per 100 g water") }

func saltTable(v *visit, l listing, f view.Format) view.Table {
	t := view.Table{
		Caption: v.T("The catalogue of salts"),
		CSV:     l.file("/salts.csv"),
		Columns: []view.Column{
			l.column(input.Say("Salt"), "name", false),
			l.column(input.Say("Trade name"), "trade", false),
			l.column(input.Say("Formula"), "formula", false),
			{Label: v.T("CAS number"), Whole: true},
			l.column(input.Say("Molar mass"), "mass", true),
			l.column(input.Say("Crystal water"), "water", true),
			l.column(input.Say("Dissolves at %d\u00a0°C", coldC), "cold", true),
			l.column(input.Say("Dissolves at %d\u00a0°C", hotC), "hot", true),
			l.column(input.Say("On the label"), "", false),
		},
	}
	for _, s := range sortedSalts(v, l) {
		none := v.T("none")
		water := view.Cell{Value: none}
		if s.CrystalWaters > 0 {
			water.Value = f.Percent(100*s.CrystalWaterShare(), 1)
		}
		trade := view.Cell{Value: none}
		if s.TradeName != "" {
			trade.Value = v.T(s.TradeName)
		}
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{
			{Value: view.SaltName(v.T(s.Name)), Plain: v.T(s.Name), Href: "/salts/" + string(s.ID)},
			trade,
			{Value: view.Formula(s.Formula), Plain: s.Formula},
			{Value: s.CAS},
			{Value: f.Fixed(s.MolarMassGPerMol, 2, "g/mol")},
			water,
			{Value: dissolves(f, s, coldC)},
			{Value: dissolves(f, s, hotC)},
			{Value: label(v, s.ID)},
		}})
	}
	return t
}

// dissolves is how much of the anhydrous salt a cold or hot bath takes, with the spread of the handbooks.
func dissolves(f view.Format, s salt.Salt, tempC float64) view.Quantity {
	g := s.SolubilityGPer100G(tempC)
	return f.Estimate(g, g*salt.SolubilityUncertainty, 1, per100g(f))
}

// label is the signal word with its codes.
func label(v *visit, id salt.ID) string {
	h, known := caution.HazardOf(string(id))
	switch {
	case !known:
		return v.T("not recorded")
	case h.Signal == "":
		return v.T("not classified")
	}
	return v.T(h.Signal.Label()) + ": " + strings.Join(h.Codes, ", ")
}

// sortedSalts are the salts that hold the wanted words, in the wanted order.
func sortedSalts(v *visit, l listing) []salt.Salt {
	salts := slices.DeleteFunc(salt.All(), func(s salt.Salt) bool {
		all := strings.ToLower(strings.Join([]string{s.Name, v.T(s.Name), s.TradeName, v.T(s.TradeName), s.Formula, s.CAS}, " "))
		return slices.ContainsFunc(strings.Fields(strings.ToLower(l.q)), func(word string) bool { return !strings.Contains(all, word) })
	})
	orders := map[string]func(a, b salt.Salt) int{
		"name":    func(a, b salt.Salt) int { return cmp.Compare(v.T(a.Name), v.T(b.Name)) },
		"trade":   func(a, b salt.Salt) int { return cmp.Compare(v.T(a.TradeName), v.T(b.TradeName)) },
		"formula": func(a, b salt.Salt) int { return cmp.Compare(a.Formula, b.Formula) },
		"mass":    func(a, b salt.Salt) int { return cmp.Compare(a.MolarMassGPerMol, b.MolarMassGPerMol) },
		"water":   func(a, b salt.Salt) int { return cmp.Compare(a.CrystalWaterShare(), b.CrystalWaterShare()) },
		"cold":    func(a, b salt.Salt) int { return cmp.Compare(a.SolubilityGPer100G(coldC), b.SolubilityGPer100G(coldC)) },
		"hot":     func(a, b salt.Salt) int { return cmp.Compare(a.SolubilityGPer100G(hotC), b.SolubilityGPer100G(hotC)) },
	}
	order, known := orders[l.sort]
	if !known {
		return salts
	}
	slices.SortStableFunc(salts, order)
	if l.desc {
		slices.Reverse(salts)
	}
	return salts
}
