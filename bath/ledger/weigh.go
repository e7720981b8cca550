package ledger

import (
	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/bath/water"
)

// Added is one line of what to add.
type Added struct {
	Kind       bath.PartKind `json:"kind"`
	Salt       salt.ID       `json:"salt,omitempty"`
	Mass       unit.Gram     `json:"mass_g"` // as it lies there: damp earth, impure salt
	Rounded    unit.Gram     `json:"rounded_g"`
	Litres     *unit.Litre   `json:"litres,omitempty"` // water
	Buckets    *int          `json:"buckets,omitempty"`
	RemainderL *unit.Litre   `json:"remainder_l,omitempty"`
}

// earthLot is the moisture of today's earth, as a fraction of its dry mass.
func (b *Bath) earthLot() (moisture float64, known bool) {
	for _, l := range b.Lots {
		if l.Kind != bath.Earth {
			continue
		}
		if l.MoisturePct == nil {
			return 0, false
		}
		return *l.MoisturePct / 100, true
	}
	return 0, false
}

// saltLot is the assay of today's lot of a salt, as a fraction.
func (b *Bath) saltLot(id salt.ID) (assay float64, known bool) {
	for _, l := range b.Lots {
		if l.Kind != bath.Salt || l.Salt != id {
			continue
		}
		if l.AssayPct == nil {
			return 1, false
		}
		return *l.AssayPct / 100, true
	}
	return 1, false
}

// weighOut turns an addition, scaled by what was dumped first, and ready mud into what to weigh and pour.
func (a *advising) weighOut(p *addition, dumped, mudL float64) *Amounts {
	keep := 1 - dumped
	pure := make([]float64, len(a.lines))
	allWater := (p.waterG - a.x[waterAt]) * keep
	mudWater := 0.0
	if mudL > 0 {
		salts, earthDry := a.bath.Recipe.targetMud()
		mud := mudPerKg(salts, earthDry)
		mudWater = 1000 * mudL / a.volumeAtWork(&mud)
	}
	pour := allWater + mudWater
	for i := range a.lines {
		pure[i] = p.g[i]*keep + a.lines[i].target*mudWater
		pour -= pure[i] * a.lines[i].brings
	}
	if pour < -sameVolume*a.x[waterAt] {
		a.warns.add(DampEarth)
	}
	if pour < sameVolume*a.x[waterAt] {
		pour = 0
	}
	out := &Amounts{Add: []Added{}}
	x := *a.x.scaled(keep)
	if pour > 0 {
		line := a.pour(pour)
		x[waterAt] += float64(line.Rounded)
		out.Add = append(out.Add, line)
	}
	for i := range a.lines {
		if pure[i] > 0 {
			out.Add = append(out.Add, a.weigh(&a.lines[i], pure[i], &x))
		}
	}
	out.After = a.found(&x)
	return out
}

// weigh is what to weigh of a line, and adds what the rounded mass brings to the bath.
func (a *advising) weigh(l *line, pureG float64, x *amounts) Added {
	if l.isEarth {
		moisture, known := a.bath.earthLot()
		if !known {
			a.warns.add(MoistureAssumed)
		}
		out := Added{Kind: bath.Earth, Mass: gram(pureG * (1 + moisture))}
		out.Rounded = out.Mass.RoundTo(a.bath.Step)
		dry := float64(out.Rounded) / (1 + moisture)
		x[earthAt] += dry
		x[waterAt] += float64(out.Rounded) - dry
		return out
	}
	assay, known := a.bath.saltLot(l.salt)
	if !known {
		a.warns.add(AssayAssumed)
	}
	out := Added{Kind: bath.Salt, Salt: l.salt, Mass: gram(pureG / assay)}
	out.Rounded = out.Mass.RoundTo(a.bath.Step)
	x.dissolve(l.salt, float64(out.Rounded)*assay)
	return out
}

func (a *advising) pour(g float64) Added {
	out := Added{Kind: bath.Water, Mass: gram(g)}
	out.Rounded = out.Mass.RoundTo(a.bath.Step)
	litres := unit.Litre(g / water.DensityKgM3(float64(a.bath.WaterTemp)))
	out.Litres = &litres
	if b := a.bath.Bucket; b != nil {
		n := int(float64(litres) / float64(*b))
		rest := litres - unit.Litre(n)**b
		out.Buckets, out.RemainderL = &n, &rest
	}
	return out
}

// found is the bath that the rounded amounts give, with the warnings that it deserves.
func (a *advising) found(x *amounts) After {
	out := After{Salts: map[salt.ID]unit.GramPerKG{}, EarthDry: unit.GramPerKG(1000 * x[earthAt] / x[waterAt])}
	gPerKg, _ := a.strengthsOf(x)
	for i, g := range gPerKg {
		out.Salts[a.forms[i].ID] = unit.GramPerKG(max(g, 0))
	}
	volume := unit.Litre(a.volumeAtWork(x))
	out.VolumeL = volume
	if level, ok := a.tank.LevelOf(volume); ok {
		out.LevelCM = &level
	}
	l := a.liquor(x)
	a.warns.saturation(l.SaturationLoad(float64(a.bath.coldest())))
	if float64(a.bath.Recipe.Temp.Target) > a.boilsAtC(x) {
		a.warns.add(AboveBoiling)
	}
	return out
}
