package server

import (
	"net/http"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/server/store"
	"blackbath/server/view"
	"blackbath/server/words"
)

// lotFilter reads from the address which lots are wanted.
func lotFilter(v *visit, l listing) store.LotFilter {
	f := store.LotFilter{Text: l.q, IncludeUsedUp: v.Query("used") == "yes"}
	for _, kind := range bath.PartKinds {
		if v.Query("kind") == string(kind) {
			f.Kind = kind
		}
	}
	return f
}

// listLots shows the lots by material; those that are used up only when they are asked for.
func (s *Server) listLots(v *visit) error {
	l := v.listing()
	filter := lotFilter(v, l)
	filter.Page = l.store()
	lots, total, err := s.store.ListLots(v.Request.Context(), v.shop.ID, filter)
	if err != nil {
		return err
	}
	b := v.base(v.T("Lots"))
	b.Lead = v.T("One delivery or digging each, with what it is, what it cost and how damp or how pure it is.")
	b.Ledge = &view.Ledge{Say: v.T("A new bag is a new lot."), Main: &view.Action{Label: v.T("Put down a lot"), Href: "/lots/new"}}
	p := view.LotList{Base: b, Table: lotTable(v, l, b.Format, filter.Kind, lots), Pager: l.pager(total)}
	p.Filter = view.LotFilter{Filter: l.filter(v.T("Find a lot")), UsedUp: filter.IncludeUsedUp, Kinds: []view.Choice{{Label: v.T("all kinds")}}}
	for _, kind := range bath.PartKinds {
		p.Filter.Kinds = append(p.Filter.Kinds, view.Choice{Value: string(kind), Label: v.text(view.KindName(string(kind))), On: kind == filter.Kind})
	}
	if total == 0 {
		_, all, err := s.store.ListLots(v.Request.Context(), v.shop.ID, store.LotFilter{IncludeUsedUp: true, Page: store.Page{Limit: 1}})
		if err != nil {
			return err
		}
		if all == 0 {
			p.Empty = &view.Empty{Icon: "lots", Strong: v.T("No lot yet."),
				Say: v.T("A lot is a bag of a salt, a digging of earth or a water, with its own assay or moisture. Sheets are worked out with it.")}
		}
	}
	return v.page(http.StatusOK, "lot_list", p)
}

// exportLots sends all lots that the filter lets through as a file.
func (s *Server) exportLots(v *visit) error {
	l := v.listing()
	filter := lotFilter(v, l)
	filter.Page = l.all()
	lots, _, err := s.store.ListLots(v.Request.Context(), v.shop.ID, filter)
	if err != nil {
		return err
	}
	return v.csv("lots.csv", lotFile(v, v.base("").Format, lots))
}

// lotTable has the columns that the kind has: a list of one kind sorts by its own measure.
func lotTable(v *visit, l listing, f view.Format, kind bath.PartKind, lots []bath.Lot) view.Table {
	measure := l.column(input.Say("Moisture or assay"), "", false)
	switch kind {
	case bath.Earth:
		measure = l.column(input.Say("Moisture"), "moisture", false)
	case bath.Salt:
		measure = l.column(input.Say("Assay"), "assay", false)
	}
	received := l.column(input.Say("Received"), "received", false)
	received.Whole = true
	t := view.Table{
		Caption: v.T("Lots by material"),
		CSV:     l.file("/lots.csv"),
		Columns: []view.Column{
			l.column(input.Say("Lot"), "material", false), l.column(input.Say("Kind"), "", false), received, measure,
			l.column(input.Say("Amount"), "amount", true), l.column(input.Say("Price"), "price", true),
			l.column(input.Say("Price per kg"), "", true), l.column(input.Say("In use"), "", false),
		},
	}
	for _, lot := range lots {
		name := view.Cell{Value: view.LotName(materialName(v, lot.Material), lot.Name), Href: lotPath(lot.ID)}
		if form, ok := saltOf(lot.Material); ok {
			name.Small = v.T("%s, CAS %s", form.Formula, form.CAS)
		}
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{
			name,
			{Value: v.text(view.KindName(string(lot.Material.Kind)))},
			{Value: f.Day(lot.Received)},
			lotMeasure(v, f, lot),
			{Value: f.Mass(lot.AmountG)},
			{Value: f.Money(lot.PriceMinor)},
			{Value: pricePerKG(v, f, lot)},
			{Value: inUse(v, lot)},
		}})
	}
	return t
}

// lotFile has a column for everything.
func lotFile(v *visit, f view.Format, lots []bath.Lot) view.Table {
	t := view.Table{Columns: []view.Column{
		{Label: v.T("Kind")}, {Label: v.T("Material")}, {Label: v.T("Formula")}, {Label: v.T("CAS number")}, {Label: v.T("Lot")},
		{Label: v.T("Received")}, {Label: v.T("From")}, {Label: v.T("Batch number")}, {Label: v.T("Moisture or assay")},
		{Label: v.T("What it counts")}, {Label: v.T("Density of the grains")}, {Label: v.T("Amount")}, {Label: v.T("Price")},
		{Label: v.T("Price per kg")}, {Label: v.T("In use")}, {Label: v.T("Note")},
	}}
	for _, lot := range lots {
		form, _ := saltOf(lot.Material)
		measure := lotMeasure(v, f, lot)
		grains := view.Cell{Value: ""}
		if lot.Material.Kind == bath.Earth {
			grains.Value = f.Plain(lot.ParticleDensity, "g/cm³")
		}
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{
			{Value: v.text(view.KindName(string(lot.Material.Kind)))}, {Value: materialName(v, lot.Material)},
			{Value: form.Formula}, {Value: form.CAS}, {Value: lot.Name}, {Value: f.Day(lot.Received)}, {Value: f.OrNot(lot.From)},
			{Value: f.OrNot(lot.Batch)}, {Value: measure.Value}, {Value: measure.Small}, grains, {Value: f.Mass(lot.AmountG)},
			{Value: f.Money(lot.PriceMinor)}, {Value: pricePerKG(v, f, lot)}, {Value: inUse(v, lot)}, {Value: lot.Note},
		}})
	}
	return t
}

// lotMeasure is how damp an earth or how pure a salt is, with what that counts.
func lotMeasure(v *visit, f view.Format, lot bath.Lot) view.Cell {
	switch {
	case lot.Material.Kind == bath.Water:
		return view.Cell{Value: v.T("none needed")}
	case lot.Material.Kind == bath.Earth && lot.MoisturePct == nil, lot.Material.Kind == bath.Salt && lot.AssayPct == nil:
		return view.Cell{Value: f.NotRecorded()}
	case lot.Material.Kind == bath.Earth:
		return view.Cell{Value: f.Fixed(lot.MoisturePct, 1, v.T("% of dry"))}
	}
	c := view.Cell{Value: f.Plain(lot.AssayPct, "%")}
	if form, ok := saltOf(lot.Material); ok && form.CrystalWaters > 0 {
		c.Small = v.text(view.AssayBasisName(string(lot.AssayBasis)))
	}
	return c
}

func pricePerKG(v *visit, f view.Format, lot bath.Lot) view.Quantity {
	q := f.Money(lot.PriceMinorPerKG())
	if q.Unit != "" {
		q.Unit = v.T("%s per kg", q.Unit)
	}
	return q
}

func inUse(v *visit, lot bath.Lot) string {
	if lot.UsedUp {
		return v.T("used up")
	}
	return v.T("in use")
}

// saltOf is the salt that a material is; ok is false for a water or an earth.
func saltOf(m bath.Material) (form salt.Salt, ok bool) {
	if m.Kind != bath.Salt {
		return salt.Salt{}, false
	}
	form, err := salt.Lookup(string(m.Salt))
	return form, err == nil
}

// materialName is a material's name in the reader's language, where it is a salt.
func materialName(v *visit, m bath.Material) string {
	if form, ok := saltOf(m); ok {
		return v.T(form.Name)
	}
	return v.text(words.As(m.Name))
}
