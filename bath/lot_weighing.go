package bath

import (
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// PerKilogram says what 1 kg of what a recipe counts (dry earth, pure salt in the named form) takes of the lot, and how much
// bath water comes with it, in the earth or as crystal water. As in [Scale], a moisture that is not known counts as dry and an
// assay as pure. ok is false for a water, which is poured and not weighed out.
func (l Lot) PerKilogram() (weigh, waterInIt unit.Gram, ok bool) {
	const pure unit.Gram = 1000
	p := l.part()
	switch p.Kind {
	case Earth:
		weigh = pure * unit.Gram(1+p.moisture())
		return weigh, weigh - pure, true
	case Salt:
		form, err := salt.Lookup(string(p.Salt))
		if err != nil {
			return 0, 0, false
		}
		p.AssayPct = l.AssayNamedPct()
		return pure / unit.Gram(p.assay()), pure * unit.Gram(form.CrystalWaterShare()), true
	}
	return 0, 0, false
}

// PriceMinorPerKG is the price of 1 kg as delivered, in the currency's smallest unit; nil when price or amount is not recorded.
func (l Lot) PriceMinorPerKG() *float64 {
	if l.PriceMinor == nil || l.AmountG == nil {
		return nil
	}
	each := float64(*l.PriceMinor) / l.AmountG.Kilograms()
	return &each
}
