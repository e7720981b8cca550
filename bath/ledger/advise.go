package ledger

import (
	"math"

	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// A Verdict says what to do with a bath.
type Verdict string

const (
	IsRetired    Verdict = "retired"
	RetireIt     Verdict = "retire"
	MeasureFirst Verdict = "measure_first" // too unsure to add anything
	AddNothing   Verdict = "nothing"
	Cannot       Verdict = "cannot" // only an earth is wanted that is too damp
	DumpThenAdd  Verdict = "dump_then_add"
	AddNow       Verdict = "add"
)

// An Aim is where in the window the advice brings the bath.
type Aim string

const (
	ToTarget Aim = "target"
	HalfWay  Aim = "half_way" // from the edge to the target: all the way does not fit under the fill line
)

// Reasons that are no line of the window.
const (
	reasonBoiledDry = "boiled_dry"
	reasonLevel     = "level_below"
	reasonTooMuch   = "too_much_to_dump"
)

// mostToDump is the share of a bath from which on it is not worth keeping.
const mostToDump = 0.5

// An Advice is what to add to a bath, and why.
type Advice struct {
	Verdict  Verdict   `json:"verdict"`
	Reasons  []string  `json:"reasons"`
	*Amounts           // only of add and dump_then_add
	Warnings []Warning `json:"-"`
}

// Amounts are what an advice adds.
type Amounts struct {
	Aim       Aim        `json:"aim"`
	DumpL     unit.Litre `json:"dump_l"`      // stirred mud at the present temperature, before anything is added
	ReadyMudL unit.Litre `json:"ready_mud_l"` // mixed from the lines of Add
	Add       []Added    `json:"add"`
	After     After      `json:"after"`
}

// After is the bath that the rounded amounts really give, at its working temperature.
type After struct {
	Salts    map[salt.ID]unit.GramPerKG `json:"salt_g_per_kg_water"`
	EarthDry unit.GramPerKG             `json:"earth_dry_g_per_kg_water"`
	VolumeL  unit.Litre                 `json:"volume_l"`
	LevelCM  *unit.Centimetre           `json:"level_cm,omitempty"`
}

// Advise says what brings a bath back into its window with the least added: each line outside goes to its target, water
// follows, and all stays under the fill line, by dumping first where it must. It takes the state as it is estimated.
func Advise(s State) Advice {
	a := advising{bath: s.bath, model: s.model, x: s.estimate.x, warns: newWarnings(nil)}
	advice := a.advise(&s)
	advice.Warnings = a.warns.list
	return advice
}

// An advising is one Advise under way.
type advising struct {
	model
	bath  *Bath
	x     amounts
	lines []line
	fillL float64
	warns warnings
}

// A line is one line of the window, in g and g per g of all water.
type line struct {
	name             string // for reasons
	salt             salt.ID
	isEarth          bool
	has              float64 // g in the bath: pure in the named form, or dry
	low, target, top float64
	brings           float64 // g of water with 1 g
}

// An addition is what a step comes to: g of each line and the water of the whole bath afterwards.
type addition struct {
	g       []float64
	waterG  float64
	damp    bool // an earth was left out: it brings more water than it thickens
	endless bool // nothing can thin a line whose aim is 0
}

func (a *advising) advise(s *State) Advice {
	switch {
	case s.Retired:
		return Advice{Verdict: IsRetired, Reasons: []string{}}
	case a.x[waterAt] <= 0:
		return Advice{Verdict: RetireIt, Reasons: []string{reasonBoiledDry}}
	}
	if unsure := a.unsure(s); len(unsure) > 0 {
		return Advice{Verdict: MeasureFirst, Reasons: unsure}
	}
	a.setUp()
	reasons := a.outside()
	plan := a.step(false)
	aim, mudL, dumped := ToTarget, 0.0, 0.0
	volume, fits := a.volumeAfter(&plan)
	switch {
	case len(reasons) == 0 || fits:
		mudL = a.readyMud(volume)
	default:
		half := a.step(true)
		if _, halfFits := a.volumeAfter(&half); halfFits {
			plan, aim = half, HalfWay
		} else {
			dumped = 1 - a.fillL/volume
		}
	}
	if plan.damp {
		a.warns.add(DampEarth)
	}
	adds := plan.waterG > a.x[waterAt]*(1+sameVolume) || mudL > 0
	for _, g := range plan.g {
		adds = adds || g > 0
	}
	if mudL > 0 {
		reasons = append(reasons, reasonLevel)
	}
	switch {
	case !adds && !plan.endless:
		if a.volumeAtWork(&a.x) > a.fillL*(1+sameVolume) {
			a.warns.add(AboveFill)
		}
		if len(reasons) == 0 {
			return Advice{Verdict: AddNothing, Reasons: reasons}
		}
		return Advice{Verdict: Cannot, Reasons: reasons}
	case dumped > mostToDump || plan.endless && aim == ToTarget:
		return Advice{Verdict: RetireIt, Reasons: append(reasons, reasonTooMuch)}
	}
	verdict := AddNow
	if dumped > 0 {
		verdict = DumpThenAdd
	}
	amounts := a.weighOut(&plan, dumped, mudL)
	amounts.Aim, amounts.DumpL, amounts.ReadyMudL = aim, unit.Litre(dumped)*s.VolumeL, unit.Litre(mudL)
	return Advice{Verdict: verdict, Reasons: reasons, Amounts: amounts}
}

// unsure are the salts whose doubt is wider than half their window.
func (a *advising) unsure(s *State) []string {
	var out []string
	for i, st := range s.Strengths {
		w := a.bath.Recipe.Salts[i]
		if w.Min < w.Max && st.SD > (w.Max-w.Min)/2 {
			out = append(out, string(st.Salt))
		}
	}
	return out
}

func (a *advising) setUp() {
	r := &a.bath.Recipe
	a.fillL = float64(a.bath.Tank.VolumeAt(a.bath.Tank.FillLine()) - a.bath.Load.Litres())
	gPerKg, _ := a.strengthsOf(&a.x)
	for i, s := range r.Salts {
		a.lines = append(a.lines, line{
			name: string(s.Salt), salt: s.Salt, has: gPerKg[i] * a.x[waterAt] / 1000,
			low: float64(s.Min) / 1000, target: float64(s.Target) / 1000, top: float64(s.Max) / 1000,
			brings: a.forms[i].CrystalWaterShare(),
		})
	}
	if e := r.EarthDry; e != nil {
		moisture, _ := a.bath.earthLot()
		a.lines = append(a.lines, line{
			name: "earth", isEarth: true, has: a.x[earthAt],
			low: float64(e.Min) / 1000, target: float64(e.Target) / 1000, top: float64(e.Max) / 1000,
			brings: moisture,
		})
	}
}

func (l *line) isHigh(waterG float64) bool { return placeOf(l.has/waterG, l.low, l.top) == Above }

// isLow looks at what there is, which is never less than nothing, though the ions of a salt may be short by more.
func (l *line) isLow(waterG float64) bool {
	return placeOf(max(l.has, 0)/waterG, l.low, l.top) == Below
}

// aim of a line, in the whole or half the way from its edge.
func (l *line) aim(edge float64, half bool) float64 {
	if half {
		return (edge + l.target) / 2
	}
	return l.target
}

// outside names the lines outside as the bath is now: those above, then those below.
func (a *advising) outside() []string {
	reasons := []string{}
	for i := range a.lines {
		if a.lines[i].isHigh(a.x[waterAt]) {
			reasons = append(reasons, a.lines[i].name+"_above")
		}
	}
	for i := range a.lines {
		if a.lines[i].isLow(a.x[waterAt]) {
			reasons = append(reasons, a.lines[i].name+"_below")
		}
	}
	return reasons
}

// step finds the water and what each low line gets. Adding a salt moves only its own strength, so the lines fall apart, but for
// the water that they share.
func (a *advising) step(half bool) addition {
	out := addition{g: make([]float64, len(a.lines))}
	for range 2 { // once more without an earth that is too damp
		w := a.x[waterAt]
		for i := range a.lines {
			l := &a.lines[i]
			if !l.isHigh(a.x[waterAt]) {
				continue
			}
			aim := l.aim(l.top, half)
			if aim <= 0 {
				out.endless = true
				return out
			}
			w = max(w, l.has/aim)
		}
		var ok bool
		if out.waterG, ok = a.raise(w, half, out.damp, out.g); ok {
			break
		}
		out.damp = true
	}
	return out
}

// raise finds the water that all lines together come to, from w on: while what the low lines bring is more, it goes up and lines
// may become low with it. It is false when the earth brings more water than it thickens.
func (a *advising) raise(w float64, half, withoutEarth bool, g []float64) (waterG float64, ok bool) {
	for {
		brought, perWater := 0.0, 0.0
		for i := range a.lines {
			l := &a.lines[i]
			g[i] = 0
			if l.isEarth && withoutEarth || !l.isLow(w) {
				continue
			}
			aim := l.aim(l.low, half)
			g[i] = aim*w - l.has
			brought += l.has * l.brings
			perWater += aim * l.brings
		}
		if perWater >= 1 {
			return w, withoutEarth
		}
		need := (a.x[waterAt] - brought) / (1 - perWater)
		if !(w < need) {
			return w, true
		}
		w = need
	}
}

// after is the bath with an addition.
func (a *advising) after(p *addition) amounts {
	x := a.x
	for i, g := range p.g {
		a.add(&x, &a.lines[i], g)
	}
	x[waterAt] = p.waterG
	return x
}

// add puts so much of a line into amounts, crystal water included, the moisture of an earth left out.
func (a *advising) add(x *amounts, l *line, g float64) {
	if l.isEarth {
		x[earthAt] += g
	} else if g != 0 {
		x.dissolve(l.salt, g)
	}
}

// workC is the working temperature of a composition.
func (a *advising) workC(x *amounts) float64 {
	return a.cut(x, float64(a.bath.Recipe.Temp.Target))
}

func (a *advising) volumeAtWork(x *amounts) float64 { return a.volumeL(x, a.workC(x)) }

// volumeAfter is the volume with an addition, and whether it stays under the fill line.
func (a *advising) volumeAfter(p *addition) (litres float64, fits bool) {
	if p.endless {
		return math.Inf(1), false
	}
	x := a.after(p)
	litres = a.volumeAtWork(&x)
	return litres, litres <= a.fillL*(1+sameVolume)
}

// readyMud is how much fills a bath of so much mud up to the fill line, when it stands below the least level.
func (a *advising) readyMud(volume float64) float64 {
	least := a.bath.Recipe.LevelMin
	if least == nil {
		return 0
	}
	if level, ok := a.tank.LevelOf(unit.Litre(volume)); !ok || level >= *least {
		return 0
	}
	return max(0, a.fillL-volume)
}
