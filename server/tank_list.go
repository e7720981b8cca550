package server

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/view"
)

// listTanks shows the tanks in use and, apart, those that were retired.
func (s *Server) listTanks(v *visit) error {
	all, err := s.store.ListTanks(v.Request.Context(), v.shop.ID, true)
	if err != nil {
		return err
	}
	l := v.listing()
	b := v.base(v.T("Tanks"))
	b.Lead = v.T("Every level on every sheet is worked out from these sizes.")
	b.Ledge = &view.Ledge{Say: v.T("Measure inside, with a steel rule."), Main: &view.Action{Label: v.T("Draw a new tank"), Href: "/tanks/new"}}
	p := view.TankList{Base: b, Filter: l.filter(v.T("Find a tank"))}
	if len(all) == 0 {
		p.Empty = &view.Empty{Icon: "tanks", Strong: v.T("No tank yet."),
			Say: v.T("A tank is its inner sizes, or a dip stick with known litres poured in. Recipes are scaled to it.")}
	}
	found := sortedTanks(v, l, all)
	out := slices.IndexFunc(found, func(t bath.KeptTank) bool { return t.Retired })
	if out < 0 {
		out = len(found)
	}
	inUse, retired := found[:out], found[out:]
	p.Pager = l.pager(len(inUse))
	shown := inUse[min((l.page-1)*perPage, len(inUse)):min(l.page*perPage, len(inUse))]
	p.Table = tankTable(v, l, b.Format, shown)
	p.Table.CSV = l.file("/tanks.csv")
	p.Retired = tankTable(v, l, b.Format, retired)
	p.Retired.Caption = v.T("No longer in use")
	return v.page(http.StatusOK, "tank_list", p)
}

// exportTanks sends all of them as a file.
func (s *Server) exportTanks(v *visit) error {
	all, err := s.store.ListTanks(v.Request.Context(), v.shop.ID, true)
	if err != nil {
		return err
	}
	l := v.listing()
	found := sortedTanks(v, l, all)
	t := tankTable(v, l, v.base("").Format, found)
	t.Columns = append(t.Columns, view.Column{Label: v.T("In use")})
	for i, tank := range found {
		inUse := v.T("yes")
		if tank.Retired {
			inUse = v.T("no")
		}
		t.Rows[i].Cells = append(t.Rows[i].Cells, view.Cell{Value: inUse})
	}
	return v.csv("tanks.csv", t)
}

func tankTable(v *visit, l listing, f view.Format, tanks []bath.KeptTank) view.Table {
	t := view.Table{
		Caption: v.T("Tanks"),
		Columns: []view.Column{
			l.column(input.Say("Tank"), "name", false),
			l.column(input.Say("Shape"), "shape", false),
			l.column(input.Say("To the fill line"), "fill", true),
			l.column(input.Say("To the rim"), "rim", true),
			l.column(input.Say("Open surface"), "surface", true),
			l.column(input.Say("Heater"), "heater", true),
			l.column(input.Say("Wall"), "wall", false),
		},
	}
	for _, k := range tanks {
		drawing := view.DrawTank(k.Tank, nil, view.TankOptions{Format: f, Mud: k.FillLine(), Small: true})
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{
			{Value: k.Name, Href: tankPath(k.ID), Drawing: &drawing},
			{Value: v.text(view.ShapeName(k.Shape))},
			{Value: f.Litres(k.VolumeAt(k.FillLine()))},
			{Value: f.Litres(litresToRim(k.Tank))},
			{Value: f.Fixed(k.SurfaceAt(k.FillLine()), 0, "cm²")},
			{Value: f.Plain(k.HeaterKW, unit.KW.Symbol)},
			{Value: v.text(view.WallName(k.Wall))},
		}})
	}
	return t
}

// sortedTanks are the tanks that hold the wanted words, in the wanted order, the retired ones last.
func sortedTanks(v *visit, l listing, all []bath.KeptTank) []bath.KeptTank {
	words := strings.Fields(strings.ToLower(l.q))
	tanks := slices.DeleteFunc(slices.Clone(all), func(t bath.KeptTank) bool {
		text := strings.ToLower(strings.Join([]string{t.Name, v.text(view.ShapeName(t.Shape)), v.text(view.WallName(t.Wall))}, " "))
		return slices.ContainsFunc(words, func(word string) bool { return !strings.Contains(text, word) })
	})
	if order, known := tankOrders(v)[l.sort]; known {
		slices.SortStableFunc(tanks, func(a, b bath.KeptTank) int {
			if l.desc {
				return order(b, a)
			}
			return order(a, b)
		})
	}
	slices.SortStableFunc(tanks, func(a, b bath.KeptTank) int { // the store's order, but after any other sort too
		switch {
		case a.Retired == b.Retired:
			return 0
		case a.Retired:
			return 1
		}
		return -1
	})
	return tanks
}

func tankOrders(v *visit) map[string]func(a, b bath.KeptTank) int {
	by := func(key func(bath.KeptTank) float64) func(a, b bath.KeptTank) int {
		return func(a, b bath.KeptTank) int { return cmp.Compare(key(a), key(b)) }
	}
	words := func(key func(bath.KeptTank) string) func(a, b bath.KeptTank) int {
		return func(a, b bath.KeptTank) int { return cmp.Compare(strings.ToLower(key(a)), strings.ToLower(key(b))) }
	}
	return map[string]func(a, b bath.KeptTank) int{
		"name":    words(func(t bath.KeptTank) string { return t.Name }),
		"shape":   words(func(t bath.KeptTank) string { return v.text(view.ShapeName(t.Shape)) }),
		"wall":    words(func(t bath.KeptTank) string { return v.text(view.WallName(t.Wall)) }),
		"fill":    by(func(t bath.KeptTank) float64 { return float64(t.VolumeAt(t.FillLine())) }),
		"surface": by(func(t bath.KeptTank) float64 { return float64(t.SurfaceAt(t.FillLine())) }),
		"rim":     by(func(t bath.KeptTank) float64 { return knownOrLeast(litresToRim(t.Tank)) }),
		"heater":  by(func(t bath.KeptTank) float64 { return knownOrLeast(t.HeaterKW) }),
	}
}

// knownOrLeast puts what is not recorded below every figure.
func knownOrLeast[T ~float64](x *T) float64 {
	if x == nil {
		return -1
	}
	return float64(*x)
}
