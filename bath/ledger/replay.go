package ledger

import (
	"time"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// Replay goes through a bath's facts and gives its state at a moment, as it was known then: facts and corrections later than
// until are not looked at. Without until it is the state as of the last fact, or the end of a soak. The error is an
// [input.Problems] with fields named as in a facts file; a record that is merely unlikely is never refused, but warned of.
//
// Water, dry earth and ten ions are followed with one covariance of all and of four doubts that act on every step: an extended
// Kalman filter (R. E. Kalman, "A new approach to linear filtering and prediction problems", J. Basic Eng. 82 (1960) 35-45).
func Replay(b Bath, until *time.Time) (State, error) {
	ps := b.checkSettings()
	ps = append(ps, b.checkFacts()...)
	facts, more := b.resolve(nil)
	if ps = ps.Merge(more); len(ps) > 0 {
		return State{}, ps
	}
	if until != nil {
		if year := until.UTC().Year(); year < firstYear || year > lastYear {
			return State{}, input.Problems{{Field: "until", Got: until.Format(time.RFC3339), Allowed: TimeAllowed}}
		}
		if facts, more = b.resolve(until); len(more) > 0 {
			return State{}, more
		}
	}
	l, err := b.live(facts, until)
	if err != nil {
		return State{}, err
	}
	r := newReplay(&b, &l)
	for i := range l.events {
		r.runTo(l.events[i].at)
		r.take(l.events[i])
	}
	r.runTo(l.end)
	return r.state(&l), nil
}

// A replay is one Replay under way.
type replay struct {
	estimate
	model
	bath   *Bath
	warns  warnings
	flows  flows
	therm  thermometer
	madeAt int64
	now    int64

	lid          bool
	ammoniaShare float64 // free ammonia over all ammonium at the last pH reading
	phKnown      bool
	limed        bool // earth with stated carbonate above 0 came in

	earthInG, earthInL float64 // all that ever came in
	hotH               float64
	spell              spell
	learning           learning
	contradicted       [gaugeCount]float64 // sign of the last density or conductivity that was not used

	soaks     soaks
	thinShare float64 // dragged out and dumped stirred since the make-up or the last ready mud
}

func newReplay(b *Bath, l *life) *replay {
	r := &replay{model: newModel(b), bath: b, warns: newWarnings(nil), therm: newThermometer(b, l)}
	r.now, r.madeAt = l.events[0].at, l.events[0].at
	r.therm.start(r.now)
	r.learning.start(b.Learned.EvaporationRatios)
	r.setDoubt(doubtEvaporation, r.learning.doubt)
	drag := dragDoubt
	if b.Learned.DragOutLPerM2 != nil {
		drag = dragLearnedDoubt
	}
	r.setDoubt(doubtDragOut, drag)
	r.setDoubt(doubtAmmonia, ammoniaDoubt)
	r.setDoubt(doubtZinc, zincDoubt)
	if len(l.outside) > 0 {
		r.warns.add(OutsideLife, l.outside...)
	}
	if len(l.inDoubt) > 0 {
		r.warns.add(ClockInDoubt, l.inDoubt...)
	}
	return r
}

// tempC is the bath's temperature now, held at its boiling point.
func (r *replay) tempC() float64 { return r.cut(&r.x, r.therm.nowC) }

// take books one event.
func (r *replay) take(e event) {
	measured, given := measuredAt(e)
	if given {
		r.therm.measure(e.at, measured)
	}
	f := e.fact
	switch f.Kind {
	case MakeUp, Addition:
		r.putIn(f.Parts, e.id)
	case TopUp:
		if f.ToLevel != nil {
			r.fillTo(*f.ToLevel, e.id)
		} else {
			r.putIn(f.Parts, e.id)
		}
	case Read:
		if f.Reading != nil {
			r.read(f.Reading, e.id)
		}
	case Soaked:
		if e.end {
			r.soakOut(e)
		} else {
			r.soakIn(e)
		}
	case HeatOn, HeatOff:
		r.therm.turn(e.at, f.Kind == HeatOn, e.id)
	case LidOn, LidOff:
		r.lid = f.Kind == LidOn
	case Dumped:
		r.dump(f.Dump)
	case Retire:
	}
	r.lookAt(e, measured, given)
}

// lookAt warns of what the bath has become after a fact.
func (r *replay) lookAt(e event, measured float64, given bool) {
	l := r.liquor(&r.x)
	if r.x[waterAt] <= 0 {
		if r.volumeOf(&l, r.x[earthAt], r.therm.nowC) > float64(r.tank.MeasuredVolume()) {
			r.warns.add(Overflows, e.id)
		}
		return
	}
	tC, _, _ := r.cutBy(l.WaterActivity(), r.therm.nowC)
	if r.volumeOf(&l, r.x[earthAt], tC) > float64(r.tank.MeasuredVolume())*(1+sameVolume) {
		r.warns.add(Overflows, e.id)
	}
	if given && measured > tC+warmBeyondC { // so it was cut, and tC is the boiling point
		r.warns.add(AboveBoiling, e.id)
	}
	switch e.fact.Kind {
	case HeatOn, HeatOff, LidOn, LidOff:
		return
	}
	r.warns.saturation(l.SaturationLoad(tC), e.id)
}

// sameVolume is how far apart two sums of the same volume may be by rounding.
const sameVolume = 1e-9

// saturation warns of a load of all salts near or above 1.
func (w *warnings) saturation(load float64, ids ...string) {
	switch {
	case load > 1:
		w.add(DoesNotDissolve, ids...)
	case load > nearSaturation:
		w.add(NearSaturation, ids...)
	}
}

// loadG is the metal in the bath; ok is false when a soak that is in says nothing of it.
func (r *replay) loadG() (metalG float64, ok bool) {
	ok = true
	for _, e := range r.soaks.running {
		if e.fact.Soak == nil || e.fact.Soak.Metal == nil {
			ok = false
			continue
		}
		metalG += float64(*e.fact.Soak.Metal)
	}
	return metalG, ok
}

// earthCame counts earth towards the mean of its specific volume.
func (r *replay) earthCame(dryG, litres float64) {
	r.earthInG += dryG
	r.earthInL += litres
	if r.earthInG > 0 {
		r.earthLPerG = r.earthInL / r.earthInG
	}
}

func (r *replay) targetC() float64 { return float64(r.bath.Recipe.Temp.Target) }

func grainLPerG(d *unit.GramPerCM3) float64 {
	if d == nil {
		return 1 / float64(bath.DefaultParticleDensity) / 1000
	}
	return 1 / float64(*d) / 1000
}
