package server

import (
	"net/http"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/server/view"
)

// showLot shows a lot and what it means at the balance.
func (s *Server) showLot(v *visit) error {
	l, err := s.lot(v)
	if err != nil {
		return err
	}
	b := v.base(sentenceCase(materialName(v, l.Material)) + ", " + l.Name)
	b.Back = &view.Link{Label: v.T("Lots"), Href: "/lots"}
	b.Ledge = lotLedge(v, l)
	p := view.LotShow{Base: b, ID: l.ID, UsedUp: l.UsedUp, Facts: lotFacts(v, b.Format, l), Note: l.Note}
	lotWeighing(v, b.Format, l, &p)
	if x, ok := saltOf(l.Material); ok {
		p.Hazard = lotHazard(v, x)
	}
	return v.page(http.StatusOK, "lot_show", p)
}

func lotLedge(v *visit, l bath.Lot) *view.Ledge {
	change := &view.Action{Label: v.T("Change this lot"), Href: lotPath(l.ID) + "/edit"}
	if l.UsedUp {
		return &view.Ledge{Strong: v.T("Used up."), Say: v.T("New sheets do not offer it."),
			Main: &view.Action{Label: v.T("Bring it back"), Form: "restore"}, Other: change}
	}
	g := &view.Ledge{Say: v.T("Is it empty? Then new sheets need not offer it."), Main: change,
		Other: &view.Action{Label: v.T("It is used up"), Href: lotPath(l.ID) + "/used-up"}}
	if l.Material.Kind == bath.Earth {
		g.Say = v.T("Weigh a sample again when it has dried or got rain.")
		change.Label = v.T("Put in today's moisture")
	}
	return g
}

func saltIdentity(v *visit, x salt.Salt) []view.Fact {
	facts := []view.Fact{{Name: v.T("Salt"), Value: view.SaltName(v.T(x.Name))}}
	if x.TradeName != "" {
		facts = append(facts, view.Fact{Name: v.T("Trade name"), Value: v.T(x.TradeName)})
	}
	return append(facts, view.Fact{Name: v.T("Formula"), Value: view.Formula(x.Formula)}, view.Fact{Name: v.T("CAS number"), Value: x.CAS})
}

func lotFacts(v *visit, f view.Format, l bath.Lot) []view.Fact {
	facts := []view.Fact{{Name: sentenceCase(v.text(view.KindName(string(l.Material.Kind)))), Value: l.Material.Name}}
	if x, ok := saltOf(l.Material); ok {
		facts = saltIdentity(v, x)
	}
	facts = append(facts, view.Fact{Name: v.T("Lot"), Value: l.Name}, view.Fact{Name: v.T("In use"), Value: inUse(v, l)},
		view.Fact{Name: v.T("Received"), Value: f.Day(l.Received)}, view.Fact{Name: v.T("From"), Value: f.OrNot(l.From)})
	if l.Material.Kind != bath.Water {
		facts = append(facts, view.Fact{Name: v.T("Batch number"), Value: f.OrNot(l.Batch)})
	}
	measure := lotMeasure(v, f, l)
	switch l.Material.Kind {
	case bath.Earth:
		facts = append(facts, view.Fact{Name: v.T("Moisture"), Value: measure.Value},
			view.Fact{Name: v.T("Density of the grains"), Value: f.Plain(l.ParticleDensity, "g/cm³")})
	case bath.Salt:
		facts = append(facts, view.Fact{Name: v.T("Assay"), Value: measure.Value})
		if measure.Small != "" {
			facts = append(facts, view.Fact{Name: v.T("What it counts"), Value: measure.Small})
		}
	}
	return append(facts, view.Fact{Name: v.T("Amount as it came"), Value: f.Mass(l.AmountG)},
		view.Fact{Name: v.T("Price of the whole"), Value: f.Money(l.PriceMinor)}, view.Fact{Name: v.T("Price per kg"), Value: pricePerKG(v, f, l)})
}

// lotWeighing says in sentences what the lot's figures do to what is weighed.
func lotWeighing(v *visit, f view.Format, l bath.Lot, p *view.LotShow) {
	weigh, water, ok := l.PerKilogram()
	if !ok {
		p.Weighing = []string{v.T("Water is poured as the recipe says. A lot of it only says where it came from and what it cost.")}
		return
	}
	say := func(format string, args ...any) { p.Weighing = append(p.Weighing, v.T(format, args...)) }
	switch l.Material.Kind {
	case bath.Earth:
		say("To bring 1\u00a0kg of dry earth, weigh %s of this.", f.Mass(weigh))
		say("It brings %s of water with it. That is taken off what you pour.", f.Mass(water))
		p.Doubt = v.T("As sure as the two weighings: no uncertainty is recorded with the moisture. One per cent of dry more or less is 10\u00a0g.")
		if l.MoisturePct == nil {
			p.Doubt = v.T("Counted as dry, and nothing says how far off that is.")
			p.Todo = v.T("Weigh a sample damp, dry it, weigh it again.")
		}
		if l.ParticleDensity == nil {
			say("Its grains are counted with %s, that of mineral earth.", f.Plain(bath.DefaultParticleDensity, "g/cm³"))
		}
	case bath.Salt:
		if water > 0 {
			say("1\u00a0kg of the pure crystals takes %s of this lot.", f.Mass(weigh))
			say("It brings %s of crystal water, which counts as bath water.", f.Mass(water))
		} else {
			say("1\u00a0kg of the pure salt takes %s of this lot.", f.Mass(weigh))
			say("It brings no crystal water: %s.", f.Mass(water))
		}
		p.Doubt = v.T("As sure as the label: no uncertainty is recorded with the assay.")
		if l.AssayPct == nil {
			p.Doubt = v.T("Counted as pure, 100\u00a0%, and nothing says how far off that is.")
			p.Todo = v.T("Read the assay off the bag or ask the supplier.")
		}
	}
}

// lawFirst is the order of authority; the cautions close with it too.
const lawFirst = "Local law, the supplier's safety data sheet and a trained person come first."

func lotHazard(v *visit, x salt.Salt) *view.LotHazard {
	out := &view.LotHazard{First: v.translate(lawFirst), More: view.Link{Label: v.T("All about this salt"), Href: "/salts/" + string(x.ID)}}
	h, known := caution.HazardOf(string(x.ID))
	if !known {
		return out
	}
	out.Basis, out.MoreCare = v.translate(h.Basis), h.FromMemory()
	for _, code := range h.Codes {
		out.Codes = append(out.Codes, view.HazardCode{Code: code, Statement: v.translate(caution.HazardStatement(code))})
	}
	if h.Signal != "" {
		out.Signal = &view.Caution{
			Severity: string(h.Signal), Word: v.translate(h.Signal.Label()),
			Text: v.T("Read the label and the supplier's safety data sheet before you open the bag."),
		}
	}
	return out
}
