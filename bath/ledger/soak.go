package ledger

import "math"

// soaks is what has been counted of the soaks of a bath.
type soaks struct {
	running      []event
	count        int
	areaDM2      float64
	areaPerLitre float64
	atIn         []AtSoak

	zincKnown    bool
	zincG        float64
	zincVariance float64 // of the weighed ones, g²
	zincByAreaG  float64 // without doubt
}

func (r *replay) soakIn(e event) {
	tC := r.tempC()
	at := AtSoak{ID: e.id, At: second(e.at), TempC: celsius(tC), VolumeL: litre(r.volumeL(&r.x, tC)), Strength: r.strengthsOnly()}
	r.soaks.atIn = append(r.soaks.atIn, at)
	r.soaks.running = append(r.soaks.running, e)
}

// soakOut books what a load leaves and what it takes: zinc first, then the mud that it carries out.
func (r *replay) soakOut(e event) {
	for i, in := range r.soaks.running {
		if in.place == e.place {
			r.soaks.running = append(r.soaks.running[:i], r.soaks.running[i+1:]...)
			break
		}
	}
	s := e.fact.Soak
	r.soaks.count++
	r.takeUp(s, e.id)
	if r.x[ionsAt+copper] > 0 || r.x[ionsAt+nitrate] > 0 {
		r.warns.add(SpentUnknown, e.id)
	}
	volume := r.volumeL(&r.x, r.tempC())
	if s.Area != nil {
		r.soaks.areaDM2 += float64(*s.Area)
		if volume > 0 {
			r.soaks.areaPerLitre += float64(*s.Area) / volume
		}
	}
	if s.Area == nil && s.DragOutG == nil && s.DragOutL == nil {
		r.warns.add(DragOutUnknown, e.id)
	}
	if volume > 0 {
		r.carryOut(s, volume)
	}
}

// takeUp books the zinc that a load leaves in the bath.
func (r *replay) takeUp(s *Soak, id string) {
	molarMass := ions[zinc].molarMass
	switch {
	case s.MetalLossG != nil:
		g := float64(*s.MetalLossG)
		r.move(flowTakenUp, ionsAt+zinc, g/molarMass)
		var err amounts
		err[ionsAt+zinc] = metalLossDoubt * g / molarMass
		r.addAmounts(&err)
		r.soaks.zincG += g
		r.soaks.zincVariance += metalLossDoubt * g * metalLossDoubt * g
	case r.bath.Learned.ZincGPerM2 != nil && s.Area != nil:
		plain := float64(*r.bath.Learned.ZincGPerM2) * float64(*s.Area) / 100
		g := plain * max(1+r.doubt(doubtZinc), 0)
		r.move(flowTakenUp, ionsAt+zinc, g/molarMass)
		r.row(ionsAt+zinc, 1, doubtZinc, plain/molarMass)
		r.soaks.zincG += g
		r.soaks.zincByAreaG += plain
	default:
		r.warns.add(ZincUnknown, id)
		return
	}
	r.soaks.zincKnown = true
}

// zincTakenUp is nil when no soak has a figure.
func (r *replay) zincTakenUp() *GramEstimate {
	if !r.soaks.zincKnown {
		return nil
	}
	shared := r.soaks.zincByAreaG * r.sd(doubtZinc)
	return &GramEstimate{gram(r.soaks.zincG), gram(math.Sqrt(r.soaks.zincVariance + shared*shared))}
}

// carryOut books the mud that leaves with a load.
func (r *replay) carryOut(s *Soak, volume float64) {
	known, byArea := 0.0, 0.0 // shares of the mud
	area := 0.0               // the same without doubt
	switch {
	case s.DragOutG != nil:
		known = float64(*s.DragOutG) / massG(&r.x)
	case s.DragOutL != nil:
		known = float64(*s.DragOutL) / volume
	case s.Area != nil:
		perM2 := dragOutLPerM2
		if r.bath.Learned.DragOutLPerM2 != nil {
			perM2 = *r.bath.Learned.DragOutLPerM2
		}
		area = float64(*s.Area) / 100 * perM2 / volume
		byArea = area * max(1+r.doubt(doubtDragOut), leastDragFactor)
	}
	trapped := 0.0
	if s.TrappedL != nil {
		trapped = float64(*s.TrappedL) / volume
	}
	share := min(known+byArea+trapped, 1)
	if share == 0 {
		return
	}
	r.thinShare += share
	was := r.x
	var diag, column amounts
	for i := range was {
		diag[i] = 1 - share
		column[i] = -was[i] * area
		r.move(flowDraggedOut, i, was[i]*(1-share)-was[i])
	}
	r.rows(&diag, doubtDragOut, &column)
	r.addAmounts(was.scaled(weighedDragDoubt * min(known, 1)))
	r.addAmounts(was.scaled(trappedDoubt * min(trapped, 1)))
}

// dump books what was thrown out.
func (r *replay) dump(d *Dump) {
	tC := r.tempC()
	share := 0.0
	switch {
	case d.SharePct != nil:
		share = *d.SharePct / 100
	case d.What == Liquor:
		l := r.liquor(&r.x)
		share = float64(*d.Litres) / l.VolumeL(tC)
	default:
		share = float64(*d.Litres) / r.volumeL(&r.x, tC)
	}
	share = min(share, 1)
	if !(share > 0) { // nothing was there to dump
		return
	}
	was := r.x
	var diag, err, none amounts
	for i := range was {
		diag[i] = 1
		if i == earthAt && d.What == Liquor {
			continue
		}
		diag[i] = 1 - share
		err[i] = dumpDoubt * share * was[i]
		r.move(flowDumped, i, was[i]*(1-share)-was[i])
	}
	r.rows(&diag, doubtDragOut, &none)
	r.addAmounts(&err)
	if d.What == Stirred {
		r.thinShare += share
	}
}
