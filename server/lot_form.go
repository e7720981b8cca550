package server

import (
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/view"
	"blackbath/server/words"
)

// lotFields binds what is asked of a lot. Its kind and salt are known already; materials are those of the same kind that the
// workshop has. What was sent is checked. A new earth or water is left in l.Material with its name and no ID.
func lotFields(v *visit, f *form.Form, l *bath.Lot, materials []bath.Material) {
	if l.ID != 0 {
		f.Edit(&l.Edit)
	}
	askFormula(f, *l)
	materialFields(f, &l.Material, materials)
	f.Text(&l.Name, form.Field{
		Name: "name", Label: input.Say("Name of the lot"), Required: true, Longest: 80, Help: input.Say("Like bag 6, or autumn digging"),
	})
	from := input.Say("From")
	if l.Material.Kind == bath.Earth {
		from = input.Say("Dug at, or from")
	}
	f.Date(&l.Received, v.zone(), form.Field{Name: "received", Label: input.Say("Day it came"), Help: input.Say("Leave empty if it is not known")})
	f.Text(&l.From, form.Field{Name: "from", Label: from, Longest: 120})
	if l.Material.Kind != bath.Water {
		f.Text(&l.Batch, form.Field{Name: "batch", Label: input.Say("Batch number"), Longest: 80, Help: input.Say("As the supplier prints it")})
	}
	form.Optional(f, &l.AmountG, form.Field{
		Name: "amount_g", Label: input.Say("Amount as it came"), Unit: unit.KG, Kept: unit.G, Help: input.Say("With the unit if it is not kg: 500\u00a0g")})
	f.Money(&l.PriceMinor, view.MinorDigits(v.shop.Currency), form.Field{
		Name: "price_minor", Label: input.Say("Price of the whole"), Suffix: words.As(v.shop.Currency), Help: input.Say("0 if it was free, empty if it is not known"),
	})
	switch l.Material.Kind {
	case bath.Earth:
		moistureFields(f, &l.MoisturePct)
		form.Optional(f, &l.ParticleDensity, form.Field{
			Name: "particle_density_g_cm3", Label: input.Say("Density of the grains"), Unit: unit.GPerML,
			Help: input.Say("Leave empty if it was not measured: %g\u00a0g/cm³ is counted, that of mineral earth", float64(bath.DefaultParticleDensity)),
		})
	case bath.Salt:
		assayFields(f, l)
	}
	f.Long(&l.Note, form.Field{Name: "note", Label: input.Say("Note"), Longest: 1000})
	if f.Sent() {
		f.Add(withTyped(f, l.Check()))
	}
}

// assayFields ask how pure a salt is and, for crystals with water in them, what that counts.
func assayFields(f *form.Form, l *bath.Lot) {
	x, _ := saltOf(l.Material)
	form.Optional(f, &l.AssayPct, form.Field{
		Name: "assay_pct", Label: input.Say("Assay"), Unit: unit.Pct, Help: input.Say("How pure, off the label. Leave empty if it is not known: it is then counted as pure"),
	})
	if x.CrystalWaters > 0 {
		bare, _, _ := strings.Cut(x.Formula, "·")
		form.Choice(f, &l.AssayBasis, form.Field{
			Name: "assay_basis", Label: input.Say("What the assay counts"),
			Options: []form.Option{
				{Label: input.Say("not chosen yet")},
				{Value: string(bath.AssayAsNamed), Label: view.AssayBasisName(string(bath.AssayAsNamed))},
				{Value: string(bath.AssayAsAnhydrous), Label: view.AssayBasisName(string(bath.AssayAsAnhydrous))},
			},
			Help: input.Say("“99\u00a0%% %s” counts the crystals. “as %s” counts them without their water.", x.Formula, bare),
		})
	} else if f.Sent() {
		l.AssayBasis = bath.AssayAsNamed
	}
	if f.Sent() && l.AssayPct == nil {
		l.AssayBasis = ""
	}
}

// withTyped puts what was typed in place of what was read, which may be in another unit.
func withTyped(f *form.Form, ps input.Problems) input.Problems {
	for i, p := range ps {
		if field := f.Get(p.Field); field != nil {
			ps[i].Got = strings.TrimSpace(field.Typed)
		}
	}
	return ps
}
