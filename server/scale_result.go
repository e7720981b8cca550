package server

import (
	"cmp"
	"errors"
	"html/template"
	"maps"
	"math"
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/view"
	"blackbath/server/words"
)

// Uncertainties of the sum, as package bath states them.
const (
	boilingPlusMinusC  = 1.0
	evaporationShareOf = 0.3
)

// heightAssumed: about 300 m take 1 °C off the boiling point of water (ICAO standard atmosphere and steam tables).
var heightAssumed = input.Say("The height above the sea is not recorded. It is counted as 0 m; on a hill the bath boils cooler, by about 1 °C for every 300 m.")

// A resultPage turns a scaled bath into what the page shows.
type resultPage struct {
	v      *visit
	ask    *scaleAsk
	format view.Format // with the balance step of this scaling
	w      scaled
}

func newResultPage(v *visit, ask *scaleAsk, w scaled, f view.Format) resultPage {
	f.Step = w.conditions.Step
	return resultPage{v: v, ask: ask, format: f, w: w}
}

// result is the whole of it.
func (p resultPage) result() (view.ScaleResult, error) {
	r := view.ScaleResult{
		Weigh:        p.weigh(),
		WeighWarn:    p.warnings(bath.RoundsToNothing, bath.MoistureAssumed, bath.AssayAssumed),
		Summary:      p.summary(),
		Rounding:     p.rounding(),
		Levels:       p.levels(),
		Bath:         p.bathFacts(),
		BathWarn:     p.bathWarnings(),
		Dissolve:     p.dissolved(),
		DissolveWarn: p.warnings(bath.NearSaturation, bath.DoesNotDissolve),
		Cautions:     p.v.grouped(p.w.answer.Judged),
	}
	r.Status = p.v.T("%s of mud. %d parts to weigh and pour.", p.format.Litres(p.w.answer.HotBathL), len(r.Weigh))
	return r, p.move(&r)
}

// warnings are what does not hold or was assumed, for one place on the page.
func (p resultPage) warnings(codes ...bath.WarningCode) []string {
	var out []string
	for _, w := range p.w.answer.Warnings {
		if slices.Contains(codes, w.Code) {
			out = append(out, p.v.text(w.Say))
		}
	}
	return out
}

func (p resultPage) bathWarnings() []string {
	out := p.warnings(bath.AboveBoiling, bath.HeaterTooSmall, bath.Estimate)
	if p.ask.boils == nil && p.ask.altitude == nil {
		out = append(out, p.v.text(heightAssumed))
	}
	if said := outsideWindow(p.v, p.format, p.w.recipe.Temp.Target, p.ask.in.Version.Recipe.Temp); said != "" {
		out = append(out, said)
	}
	return out
}

// outsideWindow says that a bath is asked for at another temperature than the recipe allows; empty where it is not.
func outsideWindow(v *visit, f view.Format, t unit.Celsius, w bath.TempWindow) string {
	if t >= w.Min && t <= w.Max {
		return ""
	}
	return v.T("%s is outside the recipe's window, %s to %s °C. It counts for this sheet only.", f.Celsius(t), figure(w.Min), figure(w.Max))
}

func (p resultPage) weigh() []view.WeighLine {
	pour := p.w.answer.PourWater
	lines := []view.WeighLine{{
		Name: template.HTML(template.HTMLEscapeString(p.v.T("Water"))), Amount: p.format.Mass(pour.Rounded),
		Small: waterSaid(p.v, p.format, pour, p.w.conditions.Bucket),
	}}
	for _, w := range inOrder(p.w.answer.Weigh) {
		lines = append(lines, p.weighLine(w))
	}
	return lines
}

// inOrder is what is weighed in the order of work: salts into cold water first, earth last.
func inOrder(weigh []bath.Weigh) []bath.Weigh {
	out := slices.Clone(weigh)
	slices.SortStableFunc(out, func(a, b bath.Weigh) int {
		return cmp.Compare(kindOrder(a.Kind), kindOrder(b.Kind))
	})
	return out
}

func kindOrder(k bath.PartKind) int {
	if k == bath.Salt {
		return 0
	}
	return 1
}

// waterSaid is the water in litres and in buckets.
func waterSaid(v *visit, f view.Format, p bath.PourWater, bucket *unit.Litre) string {
	said := v.T("%s at %s", f.Litres(p.Litres), f.Celsius(p.AtTempC))
	switch {
	case p.Buckets == nil || bucket == nil:
		return said
	case *p.Buckets == 0:
		return v.T("%s: less than a bucket of %s", said, f.Plain(*bucket, unit.L.Symbol))
	case *p.Buckets == 1:
		return v.T("%s: 1 bucket of %s and %s", said, f.Plain(*bucket, unit.L.Symbol), f.Litres(p.RemainderL))
	default:
		return v.T("%s: %d buckets of %s and %s", said, *p.Buckets, f.Plain(*bucket, unit.L.Symbol), f.Litres(p.RemainderL))
	}
}

func (p resultPage) weighLine(w bath.Weigh) view.WeighLine {
	part := p.w.recipe.Parts[w.Part]
	line := view.WeighLine{Name: partName(p.v, part), Amount: p.format.Mass(w.Rounded)}
	says := []string{}
	if w.Kind == bath.Salt {
		s, _ := salt.Lookup(string(part.Salt))
		says = append(says, catalogued(p.v, s))
	}
	if l := p.ask.in.lot(p.ask.lots[w.Part]); l != nil {
		says = append(says, lotOf(*l, part))
	} else {
		says = append(says, p.v.T("no lot yet"))
	}
	says = append(says, shareSaid(p.v, p.format, part))
	small := strings.Join(says, ", ")
	if w.Kind == bath.Earth {
		small += ". " + p.v.T("%s dry", p.format.Mass(w.Pure))
	}
	if w.WaterInIt > 0 {
		small += ". " + p.v.T("It brings %s of water, taken off above", p.format.Mass(w.WaterInIt))
	}
	line.Small = small
	return line
}

// catalogued is a salt's CAS number and what a shop calls it.
func catalogued(v *visit, s salt.Salt) string {
	if s.TradeName == "" {
		return "CAS " + s.CAS
	}
	return v.T("CAS %s, also called %s", s.CAS, input.Say(s.TradeName))
}

// lotOf names a lot beside the part that it is weighed for.
func lotOf(l bath.Lot, p bath.Part) string {
	if l.Material.Name == p.Name {
		return l.Name
	}
	return lotName(l)
}

// shareSaid is what is known of a lot's moisture or assay.
func shareSaid(v *visit, f view.Format, p bath.Part) string {
	switch {
	case p.Kind == bath.Earth && p.MoisturePct == nil:
		return v.T("moisture not recorded, counted as dry")
	case p.Kind == bath.Earth:
		return v.T("moisture %s of dry", f.Plain(*p.MoisturePct, unit.Pct.Symbol))
	case p.AssayPct == nil:
		return v.T("assay not recorded, counted as pure")
	default:
		return v.T("assay %s", f.Plain(*p.AssayPct, unit.Pct.Symbol))
	}
}

// partName names a part where it is weighed: a salt by its word and formula, with the two words in bold that get mixed up.
func partName(v *visit, p bath.Part) template.HTML {
	if p.Kind == bath.Salt {
		s, _ := salt.Lookup(string(p.Salt))
		return view.SaltName(v.T(s.Name)) + ", " + view.Formula(s.Formula)
	}
	if p.Name == "" {
		return view.SaltName(v.T("Damp earth"))
	}
	return view.SaltName(v.T("Damp earth, %s", p.Name))
}

func (p resultPage) summary() string {
	a := p.w.answer
	said := p.v.T("%s of mud at %s, %s.", p.format.Litres(a.HotBathL), p.format.Celsius(a.Details.WorkingTemp),
		p.format.Fixed(a.HotDensity, 2, "kg/L"))
	if a.LoadL > 0 {
		said += " " + p.v.T("The load takes %s.", p.format.Fixed(a.LoadL, 3, unit.L.Symbol))
	} else {
		said += " " + p.v.T("No load is counted.")
	}
	return said + " " + roundingSaid(p.v, p.format, a.Composition, p.w.conditions.Step)
}

func roundingSaid(v *visit, f view.Format, c bath.Composition, step unit.Gram) string {
	worst := 0.0
	for _, d := range c.DeviationPercent {
		worst = max(worst, math.Abs(d))
	}
	return v.T("Rounding to %s moves no part by more than %s.", f.Plain(step, unit.G.Symbol), f.Plain(roundUp(worst), unit.Pct.Symbol))
}

// roundUp to two digits, so that "no more than" stays true.
func roundUp(x float64) float64 {
	if x == 0 || math.IsInf(x, 0) {
		return x
	}
	scale := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Ceil(x/scale*(1-1e-12)) * scale
}

// rounding is the recipe that the rounded amounts give.
func (p resultPage) rounding() view.Table {
	c := p.w.answer.Composition
	t := view.Table{
		Caption: p.v.T("The recipe that rounding gives"),
		Columns: []view.Column{{Label: p.v.T("Part")}, {Label: p.v.T("Given"), Figure: true}, {Label: p.v.T("Off by"), Figure: true}},
	}
	row := func(name any, got float64, key string) {
		t.Rows = append(t.Rows, view.Row{Cells: []view.Cell{
			{Value: name}, {Value: p.format.Fixed(got, 1, "g per kg water")}, {Value: p.format.Fixed(c.DeviationPercent[key], 3, unit.Pct.Symbol)},
		}})
	}
	for _, id := range slices.Sorted(maps.Keys(c.SaltGPerKgWater)) {
		s, _ := salt.Lookup(string(id))
		row(view.SaltName(p.v.T(s.Name)), float64(c.SaltGPerKgWater[id]), string(id))
	}
	if _, earth := c.DeviationPercent["earth"]; earth {
		row(p.v.T("Earth, dry"), float64(c.EarthDryGPerKg), "earth")
	}
	return t
}

func (p resultPage) levels() view.Levels {
	l, d, f := p.w.answer.Levels, p.w.answer.Details, p.format
	out := view.Levels{
		BigName: p.v.T("Fill cold, at %s, to", f.Celsius(p.w.conditions.WaterTemp)),
		Drawing: drawLevels(p.v, f, p.w.tank, l, d.WorkingTemp, p.w.conditions.WaterTemp, p.w.answer.LoadL > 0),
		Warn:    p.warnings(bath.ColdOverflows),
	}
	if l.Cold != nil {
		cold := f.CM(l.Cold)
		out.Big = &cold
	}
	if say := notTo(p.v, f, l, d.OverfillL); say != "" {
		out.Say = append(out.Say, say)
	}
	hot := p.v.T("Hot without pieces: not known, or above the rim.")
	if l.Hot != nil {
		hot = p.v.T("Hot without pieces %s; with the load it stands at the fill line, %s. Rim %s.", f.CM(l.Hot), f.CM(l.Loaded), f.CM(l.Rim))
	}
	out.Say = append(out.Say, hot)
	return out
}

// notTo says what filling cold to the fill line would do; empty where it does no harm.
func notTo(v *visit, f view.Format, l bath.Levels, over unit.Litre) string {
	if l.Cold == nil || over <= 0 || *l.Cold >= l.Loaded {
		return ""
	}
	return v.T("Not to %s: filled cold to %s it stands %s over the fill line when hot with the load in.", f.CM(l.Loaded).Number, f.CM(l.Loaded).Number, f.Litres(over))
}

func drawLevels(v *visit, f view.Format, t bath.Tank, l bath.Levels, hotC, coldC unit.Celsius, load bool) view.TankDrawing {
	marks := []view.LevelMark{{Level: l.Loaded, Label: v.T("loaded"), Kind: view.LevelLoaded}}
	options := view.TankOptions{Format: f, Mud: l.Loaded}
	if load {
		options.Pieces = 3
	}
	if l.Hot != nil {
		marks = append(marks, view.LevelMark{Level: *l.Hot, Label: v.T("hot"), Kind: view.LevelHot})
	}
	if l.Cold != nil {
		marks = append(marks, view.LevelMark{Level: *l.Cold, Label: v.T("cold"), Kind: view.LevelCold})
	}
	return view.DrawTank(t, marks, options)
}

func (p resultPage) bathFacts() []view.Fact {
	a, f, v := p.w.answer, p.format, p.v
	free := f.CM(p.w.tank.Freeboard)
	facts := []view.Fact{
		{Name: v.T("Free height left"), Value: v.T("%s; %s full with the load in", free, f.Percent(100*a.Details.FillFraction, 0))},
		{Name: v.T("This bath boils at"), Value: f.Estimate(a.BoilsAtC, boilingPlusMinusC, 1, unit.C.Symbol)},
		{Name: v.T("Where water boils at"), Value: placeSaid(v, f, p.w.conditions)},
		{Name: v.T("Open surface"), Value: f.Fixed(a.OpenSurface, 0, "cm²")},
		{Name: v.T("Water lost in an hour"), Value: evaporationSaid(v, f, a.Evaporation, a.Details.Boiling)},
		{Name: v.T("Time to heat"), Value: heatSaid(v, f, a.HeatUp, p.w.tank.HeaterKW)},
	}
	return facts
}

func placeSaid(v *visit, f view.Format, c bath.Conditions) string {
	if c.WaterBoilsAt != nil {
		return v.T("%s, measured here", f.Celsius(*c.WaterBoilsAt))
	}
	return v.T("%s above the sea", f.Fixed(c.Altitude, 0, unit.M.Symbol))
}

func evaporationSaid(v *visit, f view.Format, lost *unit.LitrePerH, boiling bool) string {
	switch {
	case lost == nil:
		return v.T("not known: it boils, and no heater is given")
	case boiling:
		return v.T("%s, set by the heater: it boils", f.Fixed(*lost, 2, unit.L.Symbol))
	default:
		return f.Estimate(*lost, evaporationShareOf*float64(*lost), 2, unit.L.Symbol).String()
	}
}

func heatSaid(v *visit, f view.Format, t *unit.Minute, heater *unit.Kilowatt) string {
	switch {
	case heater == nil:
		return v.T("not known: the tank has no heater recorded")
	case t == nil:
		return v.T("never: the heater is too small")
	default:
		return v.T("about %s at %s; tank and pieces come on top, no uncertainty is known", f.Minutes(*t), f.Plain(*heater, unit.KW.Symbol))
	}
}

// dissolved is how near the salts are to what their water can hold, and what stays as crystals.
func (p resultPage) dissolved() []view.Fact {
	d, f, v := p.w.answer.Details, p.format, p.v
	if len(p.w.answer.Undissolved) == 0 {
		return nil
	}
	load := func(share float64) string {
		return v.T("%s of what the water can hold, ±\u00a04\u00a0%%", f.Percent(100*share, 0))
	}
	facts := []view.Fact{
		{Name: v.T("At the coldest, %s", f.Celsius(d.Coldest)), Value: load(d.SaturationCold)},
		{Name: v.T("At work, %s", f.Celsius(d.WorkingTemp)), Value: load(d.SaturationHot)},
	}
	for _, id := range slices.Sorted(maps.Keys(p.w.answer.Undissolved)) {
		cold, hot := p.w.answer.Undissolved[id], d.UndissolvedHot[id]
		if cold <= 0 && hot <= 0 {
			continue
		}
		s, _ := salt.Lookup(string(id))
		facts = append(facts, view.Fact{
			Name:  v.T("Stays as crystals: %s", input.Say(s.Name)),
			Value: v.T("%s at the coldest, %s at work", f.Mass(cold), f.Mass(hot)),
		})
	}
	return facts
}

// move compares with the tank where the recipe was proven.
func (p resultPage) move(r *view.ScaleResult) error {
	proof := p.ask.in.Version.Proof
	if proof == nil {
		r.MoveSay = p.v.T("This version is not proven in any tank yet, so there is nothing to compare with.")
		return nil
	}
	lines, err := bath.Move(p.w.recipe, *proof, p.w.tank, p.w.conditions, p.w.loadArea, p.w.answer)
	if ps := (input.Problems)(nil); errors.As(err, &ps) {
		r.MoveSay = p.v.T("It cannot be compared: with today's lots the recipe cannot be had in the tank where it was proven, %s.", proof.Tank.Name)
		return nil
	}
	if err != nil {
		return err
	}
	t := movePage{v: p.v, format: p.format, a: p.w.answer}.table(lines, proof.Tank.Name, p.w.tank.Name)
	r.Move = &t
	r.MoveSay = p.v.T("The recipe was proven in %s. What leaves the proven range is marked.", words.As(proof.Tank.Name))
	r.MoveNote = p.v.T("Settling is by Stokes' law in clear liquid. Fine sand is at a Reynolds number of about 2, where that law reads too fast, and in thick mud the grains hinder each other: the true times are longer.")
	return nil
}
