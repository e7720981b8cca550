package ledger

import (
	"math"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/bath/water"
)

// putIn books the parts of a fact, and then what lime in its earths does.
func (r *replay) putIn(parts []Part, id string) {
	for i := range parts {
		p := &parts[i]
		switch p.Kind {
		case WaterPart:
			r.putWater(p)
		case EarthPart:
			r.putEarth(p, id)
		case SaltPart:
			r.putSalt(p, id)
		case MudPart:
			r.putMud(p)
		}
	}
	for i := range parts {
		if parts[i].Kind == EarthPart {
			r.react(&parts[i], id)
		}
	}
}

// bring books what comes in, with one error that all of it shares.
func (r *replay) bring(in, err *amounts) {
	for i, v := range in {
		if v != 0 {
			r.move(flowIn, i, v)
		}
	}
	r.addAmounts(err)
}

// scaled is an error of a share of amounts.
func (a *amounts) scaled(share float64) *amounts {
	out := *a
	for i := range out {
		out[i] *= share
	}
	return &out
}

func (r *replay) putWater(p *Part) {
	var in amounts
	if p.Mass != nil {
		in[waterAt] = float64(*p.Mass)
	} else {
		tC := 20.0
		if p.WaterTemp != nil {
			tC = float64(*p.WaterTemp)
		}
		in[waterAt] = float64(*p.Litres) * water.DensityKgM3(tC)
	}
	r.bring(&in, in.scaled(waterDoubt))
}

func (p *Part) moisture() float64 {
	if p.MoisturePct == nil {
		return 0
	}
	return *p.MoisturePct / 100
}

// dryG is the dry mass of an earth.
func (p *Part) dryG() float64 { return float64(*p.Mass) / (1 + p.moisture()) }

func (r *replay) putEarth(p *Part, id string) {
	dry := p.dryG()
	doubt := earthDoubt
	if p.MoisturePct == nil {
		doubt = earthNoMoistDoubt
		r.warns.add(MoistureAssumed, id)
	}
	var in, err amounts
	in[earthAt], in[waterAt] = dry, float64(*p.Mass)-dry
	err[earthAt], err[waterAt] = doubt*dry, -doubt*dry
	r.bring(&in, &err)
	r.earthCame(dry, dry*grainLPerG(p.ParticleDensity))
}

func (r *replay) putSalt(p *Part, id string) {
	assay, doubt := 1.0, saltNoAssayDoubt
	if p.AssayPct != nil {
		assay, doubt = *p.AssayPct/100, saltDoubt
	} else {
		r.warns.add(AssayAssumed, id)
	}
	var in amounts
	in.dissolve(p.Salt, float64(*p.Mass)*assay)
	r.bring(&in, in.scaled(doubt))
}

// dissolve adds so much of a salt in its named form: its ions, and its crystal water as water.
func (a *amounts) dissolve(id salt.ID, pureG float64) {
	f := form(id)
	s := &pairOf[f.Substance()]
	mol := pureG / f.MolarMassGPerMol
	a[ionsAt+s.cation] += mol * s.cations
	a[ionsAt+s.anion] += mol * s.anions
	a[waterAt] += pureG * f.CrystalWaterShare()
}

// mudPerKg is what 1 kg of all liquid water holds in a mud.
func mudPerKg(salts []salt.Dissolved, earthDry float64) amounts {
	var a amounts
	for _, s := range salts {
		a.dissolve(s.Salt, s.GPerKgWater)
	}
	a[waterAt], a[earthAt] = 1000, earthDry // crystal water is part of the kilogram
	return a
}

// targetMud is the recipe's target.
func (r *Recipe) targetMud() (salts []salt.Dissolved, earthDry float64) {
	for _, s := range r.Salts {
		salts = append(salts, salt.Dissolved{Salt: s.Salt, GPerKgWater: float64(s.Target)})
	}
	if r.EarthDry != nil {
		earthDry = float64(r.EarthDry.Target)
	}
	return salts, earthDry
}

func (r *replay) putMud(p *Part) {
	salts, earthDry := r.bath.Recipe.targetMud()
	if p.Salts != nil {
		salts = p.Salts
	}
	if p.EarthDry != nil {
		earthDry = float64(*p.EarthDry)
	}
	in := mudPerKg(salts, earthDry)
	var times float64
	if p.Mass != nil {
		times = float64(*p.Mass) / massG(&in)
	} else {
		times = float64(*p.Litres) / r.volumeL(&in, r.tempC())
	}
	in = *in.scaled(times)
	r.bring(&in, in.scaled(mudDoubt))
	r.earthCame(in[earthAt], in[earthAt]*r.earthLPerG)
	r.thinShare = 0
}

// react books what stated carbonate does to the ammonium that it meets: CaCO3 + 2 NH4+ -> Ca2+ + 2 NH3 + CO2 + H2O. Between
// nothing and all of it may react, so half is booked.
func (r *replay) react(p *Part, id string) {
	c := p.Carbonate
	hasAmmonium := r.x[ionsAt+ammonium] > 0
	if c == nil {
		if hasAmmonium {
			r.warns.add(CarbonateUnknown, id)
		}
		return
	}
	middle, width := (c.Lo+c.Hi)/2, c.Hi-c.Lo
	if middle == 0 {
		return
	}
	r.limed = true
	if !hasAmmonium {
		r.warns.add(CarbonateNotFollowed, id)
		return
	}
	n := min(p.dryG()*middle/100/carbonateGMol, r.x[ionsAt+ammonium]/2)
	u := n / 2
	r.move(flowReacted, ionsAt+ammonium, -2*u)
	r.move(flowReacted, ionsAt+calcium, u)
	r.move(flowReacted, earthAt, -carbonateGMol*u)
	sd := n * math.Sqrt((1+width*width/(middle*middle)/12)/3-0.25)
	var err amounts
	err[ionsAt+ammonium], err[ionsAt+calcium], err[earthAt] = -2*sd, sd, -carbonateGMol*sd
	r.addAmounts(&err)
}

// fillTo books water of unknown amount up to a mark.
func (r *replay) fillTo(mark unit.Centimetre, id string) {
	metal, known := r.loadG()
	if !known {
		r.warns.add(LoadUnknown, id)
		return
	}
	tC := r.tempC()
	wanted := r.litresUnder(mark, metal)
	if r.volumeL(&r.x, tC) > wanted*(1+sameVolume) {
		r.warns.add(AboveMark, id)
		return
	}
	w := r.waterTo(wanted, tC)
	r.move(flowIn, waterAt, w)
	r.p[waterAt][waterAt] += (w + markPouredG) * (w + markPouredG)
	if r.x[waterAt] > 0 {
		g := gauge{kind: stick, tC: tC}
		r.correct(&g, wanted-r.foretell(&g, &r.x), r.stickVariance(mark, nil))
	}
	r.startSpell()
	if r.thinShare > thinnedShare {
		r.warns.add(ThinnedByMark, id)
	}
}

// waterTo is the water that brings the mud to a volume: the root of a volume that grows with water, by secants kept in a
// bracket.
func (r *replay) waterTo(wantedL, tC float64) float64 {
	x := r.x
	miss := func(w float64) float64 {
		x[waterAt] = r.x[waterAt] + w
		return r.volumeL(&x, tC) - wantedL
	}
	low, fLow := 0.0, miss(0)
	if fLow >= 0 {
		return 0
	}
	high := -fLow * 1000
	fHigh := miss(high)
	for range 60 {
		if fHigh >= 0 {
			break
		}
		low, fLow = high, fHigh
		high *= 2
		fHigh = miss(high)
	}
	for range 200 {
		w := low - fLow*(high-low)/(fHigh-fLow)
		if !(w > low && w < high) {
			w = (low + high) / 2
		}
		f := miss(w)
		switch {
		case math.Abs(f) <= 1e-13*wantedL || high-low <= 1e-12*high:
			return w
		case f < 0:
			low, fLow = w, f
			fHigh /= 2 // the Illinois rule: a curved volume must not creep in from one side
		default:
			high, fHigh = w, f
			fLow /= 2
		}
	}
	return low
}
