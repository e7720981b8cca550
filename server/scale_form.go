package server

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/view"
	"blackbath/server/words"
)

// A scaleAsk is the scale form filled in: what is asked of a recipe version, a tank, lots and a day.
type scaleAsk struct {
	in   *scaleInputs
	shop bath.Workshop
	form *form.Form

	tankID    int64
	freeboard *unit.Centimetre // nil: the tank's own
	load      string
	copperPct float64
	pieces    string
	loadArea  *unit.SquareDM
	temp      *unit.Celsius // nil: the recipe's target

	lots   []int64    // of each part
	shares []*float64 // of each part: moisture of an earth, assay of a salt

	waterTemp unit.Celsius
	coldest   *unit.Celsius
	step      unit.Gram
	bucket    *unit.Litre
	boils     *unit.Celsius
	altitude  *unit.Metre

	madeBy string
	reader string // who read the formula of the chloride aloud with the maker
}

// newScaleAsk reads the form. making is true where a sheet is to be made, which asks for more.
func newScaleAsk(in *scaleInputs, shop bath.Workshop, typed url.Values, making bool) *scaleAsk {
	n := len(in.Version.Recipe.Parts)
	a := &scaleAsk{in: in, shop: shop, form: form.Read(typed), lots: make([]int64, n), shares: make([]*float64, n)}
	a.tankFields()
	for i, p := range in.Version.Recipe.Parts {
		if p.Kind != bath.Water {
			a.partFields(i, p)
		}
	}
	a.waterFields()
	a.measureFields()
	a.form.Text(&a.madeBy, form.Field{
		Name: "made_by", Label: input.Say("Who makes the bath up"), Longest: 60, Autocomplete: "name",
		Help: input.Say("Stands on the sheet; may stay empty"),
	})
	if _, asked := a.chlorideAsked(); asked {
		a.form.Text(&a.reader, form.Field{
			Name: "reader", Label: input.Say("Second person, who reads the bag's formula aloud"), Longest: 60, Required: making,
			Help: input.Say("Needed before a sheet can be made. It is asked each time"),
		})
	}
	return a
}

func (a *scaleAsk) tankFields() {
	f := a.form
	options := make([]form.Option, len(a.in.Tanks))
	for i, t := range a.in.Tanks {
		options[i] = form.Option{Value: idText(t.ID), Label: input.Text{Format: "%s, %s", Args: []any{t.Name, inLitres(t.MeasuredVolume())}}}
	}
	form.Pick(f, &a.tankID, form.Field{Name: tankField, Label: input.Say("Tank"), Required: true, Options: options})
	form.Optional(f, &a.freeboard, form.Field{
		Name: "freeboard_cm", Label: input.Say("Free height left for foam"), Unit: unit.CM,
		Help: input.Say("Another height counts for this sheet only"),
	})
	f.Text(&a.load, form.Field{
		Name: "load", Label: input.Say("Metal of the load"), Longest: 40,
		Help: input.Say("With its unit: 0.581 L, 581 cm³ or 4.2 kg. Empty: no pieces"),
	})
	form.Quantity(f, &a.copperPct, form.Field{
		Name: "copper_pct", Label: input.Say("Copper in the alloy"), Unit: unit.Pct, Max: 100,
		Help: input.Say("Turns kg of metal into litres"),
	})
	f.Text(&a.pieces, form.Field{Name: "pieces", Label: input.Say("Pieces"), Longest: 60, Help: input.Say("For the reader only: 5 bowls")})
	form.Optional(f, &a.loadArea, form.Field{
		Name: "load_area_dm2", Label: input.Say("Surface of the load"), Unit: unit.DM2, Max: 100_000, Help: input.Say("Empty: not known"),
	})
	w := a.in.Version.Recipe.Temp
	form.Optional(f, &a.temp, form.Field{
		Name: "temp_c", Label: input.Say("Bath temperature"), Unit: unit.C,
		Help: input.Say("The recipe's window is %s to %s °C. Another counts for this sheet only", figure(w.Min), figure(w.Max)),
	})
}

func (a *scaleAsk) partFields(i int, p bath.Part) {
	name := words.As(p.Name)
	label, ofWhat := input.Say("Earth: %s", name), input.Say("Moisture of %s, to its dry mass", name)
	if p.Kind == bath.Salt {
		s, _ := salt.Lookup(string(p.Salt)) // a stored recipe has no other
		label = input.Text{Format: "%s, %s", Args: []any{input.Say(s.Name), s.Formula}}
		ofWhat = input.Say("Assay of %s", input.Say(s.Name))
	} else if p.Name == "" {
		label, ofWhat = input.Say("Earth"), input.Say("Moisture of the earth, to its dry mass")
	}
	options := []form.Option{{Label: input.Say("no lot yet")}}
	for _, l := range a.in.Lots {
		if fits(l, p) {
			options = append(options, form.Option{Value: idText(l.ID), Label: lotLabel(l)})
		}
	}
	form.Pick(a.form, &a.lots[i], form.Field{Name: partField(i, "lot"), Label: label, Options: options})
	form.Optional(a.form, &a.shares[i], form.Field{Name: partField(i, share(p)), Label: ofWhat, Unit: unit.Pct})
}

// lotLabel tells lots apart in a choice.
func lotLabel(l bath.Lot) input.Text {
	name := l.Name
	if l.Material.Kind == bath.Earth && l.Material.Name != l.Name {
		name = l.Material.Name + ", " + l.Name
	}
	if pct := assayText(l); l.Material.Kind == bath.Salt && pct != "" {
		return input.Text{Format: "%s, %s\u00a0%%", Args: []any{name, pct}}
	}
	return words.As(name)
}

func (a *scaleAsk) waterFields() {
	form.Quantity(a.form, &a.waterTemp, form.Field{Name: "water_temp_c", Label: input.Say("Water temperature"), Unit: unit.C})
	form.Optional(a.form, &a.coldest, form.Field{
		Name: "coldest_c", Label: input.Say("Coldest it will be"), Unit: unit.C,
		Help: input.Say("At night, say. Empty: as the water, or the least the window allows"),
	})
}

func (a *scaleAsk) measureFields() {
	form.Quantity(a.form, &a.step, form.Field{Name: "step_g", Label: input.Say("Smallest step of the balance"), Unit: unit.G})
	form.Optional(a.form, &a.bucket, form.Field{
		Name: "bucket_l", Label: input.Say("Bucket"), Unit: unit.L, Help: input.Say("Empty: not counted in buckets"),
	})
	form.Optional(a.form, &a.boils, form.Field{
		Name: "water_boils_at_c", Label: input.Say("Water boils here at"), Unit: unit.C, Help: input.Say("Measured: counts before the height"),
	})
	form.Optional(a.form, &a.altitude, form.Field{
		Name: "altitude_m", Label: input.Say("Height above the sea"), Unit: unit.M, Help: input.Say("Empty: counted as 0 m"),
	})
}

// groups puts the fields under their headings.
func (a *scaleAsk) groups(v *visit) []view.FieldGroup {
	tank := view.FieldGroup{Heading: v.T("Tank and load")}
	use := view.FieldGroup{Heading: v.T("What you will use"), Pairs: true}
	measure := view.FieldGroup{Heading: v.T("How you measure")}
	for _, f := range a.form.Fields() {
		switch f.Name {
		case tankField, "freeboard_cm", "load", "copper_pct", "pieces", "load_area_dm2", "temp_c":
			tank.Fields = append(tank.Fields, f)
		case "step_g", "bucket_l", "water_boils_at_c", "altitude_m", "made_by":
			measure.Fields = append(measure.Fields, f)
		case "reader":
		default:
			use.Fields = append(use.Fields, f)
		}
	}
	return []view.FieldGroup{tank, use, measure}
}

// hidden is what the form remembers of itself: whose figures stand in it.
func (a *scaleAsk) hidden(typed url.Values) []view.Hidden {
	out := []view.Hidden{{Name: tankWasField, Value: typed.Get(tankWasField)}}
	for i, p := range a.in.Version.Recipe.Parts {
		if name := partField(i, "lot_was"); p.Kind != bath.Water {
			out = append(out, view.Hidden{Name: name, Value: typed.Get(name)})
		}
	}
	return out
}

// chlorideAsked says whether a second person must read a bag's formula aloud, and why: the recipe has the other chloride
// than the last bath (rule R-13), or both of them.
func (a *scaleAsk) chlorideAsked() (why input.Text, asked bool) {
	has := func(id salt.ID) bool {
		return slices.ContainsFunc(a.in.Version.Recipe.Parts, func(p bath.Part) bool { return p.Salt == id })
	}
	ammonium, aluminium := has(salt.AmmoniumChloride), has(salt.AluminiumChlorideHexahydrate)
	last := a.in.LastChloride
	switch {
	case ammonium && last == salt.AluminiumChlorideHexahydrate, aluminium && last == salt.AmmoniumChloride:
		return input.Say(ruleText("R-13")), true
	case ammonium && aluminium:
		return input.Say("This recipe holds ammonium chloride, NH4Cl, and aluminium chloride, AlCl3·6H2O. Is that meant? Read both formulas aloud, off the bags; a second person confirms."), true
	}
	return input.Text{}, false
}

// ruleText is the text of a rule of the cautions.
func ruleText(id string) string {
	rules := cautionRules
	i := slices.IndexFunc(rules, func(r caution.Rule) bool { return r.ID == id })
	if i < 0 {
		return id
	}
	return rules[i].Text
}

var cautionRules = caution.Rules()

// A scaled bath is a filled form worked out.
type scaled struct {
	recipe     bath.Recipe
	tank       bath.Tank
	conditions bath.Conditions
	loadArea   unit.SquareDM
	answer     bath.Answer
}

// work works the form out. What cannot be is put to the fields of the form, and ok is false.
func (a *scaleAsk) work() (w scaled, ok bool, err error) {
	if a.form.Bad() {
		return w, false, nil
	}
	a.collect(&w)
	if a.form.Bad() {
		return w, false, nil
	}
	w.answer, err = bath.Scale(w.recipe, w.tank, w.conditions)
	var ps input.Problems
	switch {
	case err == nil:
		return w, true, nil
	case errors.As(err, &ps):
		a.refuse(ps)
		return w, false, nil
	}
	return w, false, fmt.Errorf("scale version %d: %w", a.in.Version.ID, err)
}

// collect turns the fields into what the sum takes.
func (a *scaleAsk) collect(w *scaled) {
	w.tank = a.in.tank(a.tankID).Tank
	if a.freeboard != nil {
		w.tank.Freeboard = *a.freeboard
	}
	w.recipe = a.in.Version.Recipe
	if a.temp != nil {
		t := *a.temp
		w.recipe.Temp = bath.TempWindow{Min: min(w.recipe.Temp.Min, t), Target: t, Max: max(w.recipe.Temp.Max, t)}
	}
	w.recipe.Parts = slices.Clone(w.recipe.Parts)
	for i := range w.recipe.Parts {
		p := &w.recipe.Parts[i]
		switch p.Kind {
		case bath.Earth:
			p.MoisturePct = a.shares[i]
			if l := a.in.lot(a.lots[i]); l != nil && l.ParticleDensity != nil {
				p.ParticleDensity = l.ParticleDensity
			}
		case bath.Salt:
			p.AssayPct = a.shares[i]
		}
	}
	load, err := loadVolume(a.load, a.copperPct)
	if err != nil {
		a.form.Refuse("load", strings.TrimSpace(a.load), loadAllowed(err))
	}
	w.conditions = bath.Conditions{
		Load: load, WaterBoilsAt: a.boils, WaterTemp: a.waterTemp, Coldest: a.coldest, Step: a.step, Bucket: a.bucket,
		LastChloride: a.in.LastChloride,
	}
	if a.altitude != nil {
		w.conditions.Altitude = *a.altitude
	}
	if a.loadArea != nil {
		w.loadArea = *a.loadArea
	}
}

// scaleFields are the fields whose names are not the paths that bath reports.
var scaleFields = map[string]string{"load_cm3": "load", "temp_c.min": "temp_c", "temp_c.target": "temp_c", "temp_c.max": "temp_c"}

// refuse puts problems to the fields of the form.
func (a *scaleAsk) refuse(ps input.Problems) {
	for _, p := range ps {
		if name, other := scaleFields[p.Field]; other {
			p.Field = name
		}
		if f := a.form.Get(p.Field); f != nil && f.Typed != "" {
			p.Got = strings.TrimSpace(f.Typed)
		}
		a.form.Add(input.Problems{p})
	}
}
