package server

import (
	"errors"
	"fmt"
	"net/http"
	"reflect"
	"strconv"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/store"
	"blackbath/server/view"
	"blackbath/server/words"
)

// A proofAsk is the form of where a version was proven, filled in.
type proofAsk struct {
	form      *form.Form
	proof     bath.Proof
	tanks     []bath.KeptTank
	ranges    []view.RangeRow
	load      string
	copperPct *float64
	seen      int64 // what the page saw
}

// usualCopperPct is what the form offers, common practice for inlaid ware.
const usualCopperPct = 6

// showVersionProof asks where a version proved itself.
func (s *Server) showVersionProof(v *visit) error {
	version, tanks, err := s.provable(v)
	if err != nil {
		return err
	}
	return s.proofPage(v, http.StatusOK, version, askProof(form.New(), version, tanks))
}

// saveVersionProof keeps it, with the tank as it is today.
func (s *Server) saveVersionProof(v *visit) error {
	version, tanks, err := s.provable(v)
	fixed := errors.Is(err, store.ErrVersionUsed)
	if err != nil && !fixed {
		return err
	}
	f, formErr := v.form()
	if formErr != nil {
		return formErr
	}
	a := askProof(f, version, tanks)
	if fixed {
		if reflect.DeepEqual(a.proof, *version.Proof) { // sent twice
			return v.seeOther(versionPath(version), "Where it was proven is written down.")
		}
		return err
	}
	if !f.Bad() {
		if err := a.scales(version.Recipe, v.shop); err != nil {
			return err
		}
	}
	if f.Bad() {
		return s.proofPage(v, http.StatusUnprocessableEntity, version, a)
	}
	err = s.store.SaveProof(v.Request.Context(), v.shop.ID, version.ID, a.seen, a.proof)
	if errors.Is(err, store.ErrConflict) {
		if f.Meanwhile(askProof(form.New(), version, tanks).form) {
			return s.proofPage(v, http.StatusConflict, version, a)
		}
	} else if err != nil {
		return err
	}
	return v.seeOther(versionPath(version), "Where it was proven is written down.")
}

// provable reads the version and the tanks. One whose proof a bath sheet leans on can't be proven anew.
func (s *Server) provable(v *visit) (bath.Version, []bath.KeptTank, error) {
	_, version, err := s.recipeVersion(v)
	if err != nil {
		return version, nil, err
	}
	tanks, err := s.store.ListTanks(v.Request.Context(), v.shop.ID, true)
	if err == nil && version.Used && version.Proof != nil {
		err = fmt.Errorf("prove version %d of recipe %d: %w", version.Number, version.RecipeID, store.ErrVersionUsed)
	}
	return version, tanks, err
}

func askProof(f *form.Form, version bath.Version, tanks []bath.KeptTank) *proofAsk {
	a := &proofAsk{form: f, tanks: tanks}
	usual := float64(usualCopperPct)
	a.copperPct = &usual
	var tank int64
	if p := version.Proof; p != nil {
		a.proof = *p
		a.load = view.Format{}.Plain(p.Load.Litres(), unit.L.Symbol).String()
		tank = tankLike(tanks, p.Tank)
	}
	a.seen = version.Edit
	f.Edit(&a.seen)
	options := []form.Option{{Label: input.Say("no tank picked")}}
	for _, t := range tanks {
		label := words.As(t.Name)
		if t.Retired {
			label = input.Say("%s (retired)", words.As(t.Name))
		}
		options = append(options, form.Option{Value: strconv.FormatInt(t.ID, 10), Label: label})
	}
	form.Pick(f, &tank, form.Field{Name: "tank", Label: input.Say("Tank"), Required: true, Options: options, Help: input.Say("Kept as it is today; a later change of the tank does not touch it")})
	for _, t := range tanks {
		if t.ID == tank {
			a.proof.Tank = t.Tank
		}
	}
	a.bindLoad()
	a.bindRanges()
	if f.Sent() {
		f.Add(a.proof.Check())
	}
	return a
}

// tankLike finds the tank of which a proof keeps a copy; 0: it is gone or was changed since.
func tankLike(tanks []bath.KeptTank, kept bath.Tank) int64 {
	for _, t := range tanks {
		if reflect.DeepEqual(t.Tank, kept) {
			return t.ID
		}
	}
	return 0
}

func (a *proofAsk) bindLoad() {
	f := a.form
	f.Text(&a.load, form.Field{Name: "load", Label: input.Say("Metal of the load"), Required: true, Longest: 40, Help: input.Say("With its unit: 4.2\u00a0kg or 0.58\u00a0L")})
	form.Optional(f, &a.copperPct, form.Field{
		Name: "copper_pct", Label: input.Say("Copper in the alloy"), Unit: unit.Pct, Min: 0, Max: 100, Help: input.Say("Only to turn kg into litres"),
	})
	var area *unit.SquareDM
	if a.proof.LoadArea > 0 {
		area = &a.proof.LoadArea
	}
	form.Optional(f, &area, form.Field{Name: "load_area_dm2", Label: input.Say("Surface of the load"), Unit: unit.DM2, Help: input.Say("Empty: not recorded")})
	a.proof.LoadArea = 0
	if area != nil {
		a.proof.LoadArea = *area
	}
	if !f.Sent() || f.Get("load").Bad() || f.Get("copper_pct").Bad() {
		return
	}
	copper := 0.0
	if a.copperPct != nil {
		copper = *a.copperPct
	} else if _, u, err := unit.ParseWithUnit(a.load, unit.CM3, unit.L, unit.KG); err == nil && u == unit.KG {
		f.Refuse("copper_pct", "", input.Say("the share of copper, or the load in litres: without it kg can't be turned into litres"))
		return
	}
	volume, err := loadVolume(a.load, copper)
	switch {
	case err != nil:
		f.Refuse("load", strings.TrimSpace(a.load), loadAllowed(err))
	case !(volume > 0):
		f.Refuse("load", strings.TrimSpace(a.load), input.Say("more than nothing: 4.2\u00a0kg or 0.58\u00a0L"))
	}
	a.proof.Load = volume
}

// proofUnits are what a range of each figure is written in; those with no unit that can be typed have its sign only.
var proofUnits = map[bath.Figure]struct {
	unit unit.Unit
	sign input.Text
}{
	bath.OpenSurfacePerLitre: {sign: input.Say("cm² per L")},
	bath.WaterLostPerHour:    {sign: input.Say("L per h")},
	bath.HeatUp:              {unit: unit.Min},
	bath.MetalPerLitre:       {sign: input.Say("dm² per L")},
	bath.MudDepth:            {unit: unit.CM},
	bath.SandSettles:         {unit: unit.Min},
	bath.SiltSettles:         {unit: unit.Min},
	bath.FreeHeight:          {unit: unit.CM},
}

func (a *proofAsk) bindRanges() {
	held := a.proof.Ranges
	a.proof.Ranges = map[bath.Figure]bath.Range{}
	for _, figure := range bath.Figures {
		var lo, hi *float64
		if r, stated := held[figure]; stated {
			lo, hi = &r.Lo, &r.Hi
		}
		name, how := figureForms[figure].name, proofUnits[figure]
		at := "ranges." + string(figure)
		form.Optional(a.form, &lo, form.Field{Name: at + ".lo", Label: input.Say("%s, from", name), Unit: how.unit, Suffix: how.sign})
		form.Optional(a.form, &hi, form.Field{Name: at + ".hi", Label: input.Say("%s, to", name), Unit: how.unit, Suffix: how.sign})
		a.ranges = append(a.ranges, view.RangeRow{Lo: a.form.Get(at + ".lo"), Hi: a.form.Get(at + ".hi")})
		switch {
		case lo != nil && hi != nil:
			a.proof.Ranges[figure] = bath.Range{Lo: *lo, Hi: *hi}
		case a.form.Sent() && lo != nil:
			a.form.Refuse(at+".hi", "", input.Say("both ends of the range, or neither"))
		case a.form.Sent() && hi != nil:
			a.form.Refuse(at+".lo", "", input.Say("both ends of the range, or neither"))
		}
	}
	if len(a.proof.Ranges) == 0 {
		a.proof.Ranges = nil
	}
}

// scales looks whether the load fits the tank.
func (a *proofAsk) scales(r bath.Recipe, shop bath.Workshop) error {
	_, err := bath.Scale(r, a.proof.Tank, proofConditions(a.proof, shop))
	var ps input.Problems
	if !errors.As(err, &ps) {
		return err
	}
	for _, p := range ps {
		if p.Field == "load_cm3" {
			p.Field, p.Got = "load", strings.TrimSpace(a.load)
		}
		a.form.Add(input.Problems{p})
	}
	return nil
}

// proofConditions are those under which a proof is worked out: this workshop, water at 20 °C.
func proofConditions(p bath.Proof, shop bath.Workshop) bath.Conditions {
	c := bath.DefaultConditions()
	c.Load, c.WaterBoilsAt = p.Load, shop.WaterBoilsAt
	if shop.Altitude != nil {
		c.Altitude = *shop.Altitude
	}
	return c
}

func (s *Server) proofPage(v *visit, status int, version bath.Version, a *proofAsk) error {
	b := v.base(v.T("Where %s, version %d, was proven", version.Recipe.Name, version.Number))
	b.Back = &view.Link{Label: v.T("%s, version %d", version.Recipe.Name, version.Number), Href: versionPath(version)}
	b.Lead = v.T("In another tank it behaves differently. This is what it will be held against.")
	p := view.VersionProof{Formed: view.Formed{Base: b, Form: a.form}, Action: versionPath(version) + "/proof", Ranges: a.ranges, Final: version.Used}
	if len(a.tanks) == 0 {
		p.Empty = &view.Empty{Icon: "tanks", Strong: v.T("No tank yet."), Say: v.T("Draw the tank in which it was proven first.")}
		p.Ledge = &view.Ledge{Say: v.T("Then come back here."), Main: &view.Action{Label: v.T("Draw a tank"), Href: "/tanks/new"}}
	} else {
		p.Ledge = &view.Ledge{Say: v.T("A figure without a range of yours is held to ±\u00a010\u00a0%."), Main: &view.Action{Label: v.T("Keep where it was proven"), Form: "proof"}}
	}
	return v.page(status, "version_proof", p)
}

// proofView shows where a version was proven and which ranges follow; nil: nowhere yet.
func proofView(v *visit, f view.Format, version bath.Version) *view.RecipeProof {
	p := version.Proof
	if p == nil {
		return nil
	}
	area := f.NotRecorded()
	if p.LoadArea > 0 {
		area = f.Plain(p.LoadArea, unit.DM2.Symbol)
	}
	out := &view.RecipeProof{Facts: []view.Fact{
		{Name: v.T("Tank, as it was"), Value: p.Tank.Name},
		{Name: v.T("Metal of the load"), Value: f.Fixed(p.Load.Litres(), 3, unit.L.Symbol)},
		{Name: v.T("Surface of the load"), Value: area},
	}}
	c := proofConditions(*p, v.shop)
	answer, err := bath.Scale(version.Recipe, p.Tank, c)
	if err != nil { // what is kept was checked; a later, stricter check only costs the table
		return out
	}
	lines, err := bath.Move(version.Recipe, *p, p.Tank, c, p.LoadArea, answer)
	if err != nil {
		return out
	}
	out.Ranges = view.Table{Caption: v.T("What was proven"), Columns: []view.Column{
		{Label: v.T("What")}, {Label: v.T("In that tank"), Figure: true}, {Label: v.T("Proven range")},
	}}
	m := movePage{v: v, format: f, a: answer}
	for _, l := range lines {
		said := m.rangeSaid(l)
		if said == "" {
			said = v.T("not known")
		}
		out.Ranges.Rows = append(out.Ranges.Rows, view.Row{Cells: []view.Cell{
			{Value: v.text(figureForms[l.Figure].name)}, {Value: m.written(l.Figure, l.Proven)}, {Value: said},
		}})
	}
	return out
}
