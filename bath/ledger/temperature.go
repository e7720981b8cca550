package ledger

import "math"

// A point is a temperature measured at a moment.
type point struct {
	at    int64 // Unix nanoseconds
	tempC float64
}

type heat int

const (
	heatUnsaid heat = iota // no heat fact yet
	heatIsOn
	heatIsOff
)

// A thermometer knows the bath's temperature at every moment between the facts. It looks ahead to points that come later; they
// are only those that were known at the moment of the replay.
type thermometer struct {
	roomC, coolingH float64

	points  []point // in the order of events
	next    int     // the first point that has not come yet
	offs    []int64 // moments at which a spell of heat ends
	nextOff int
	firstAt int64 // of the first heat fact
	anyHeat bool

	heat        heat
	anchor      point // the last point, or the last change of heat
	nowC        float64
	spellFrom   int64
	spellPoints int // measured since, the moment of heat_on left out
	spellID     string
}

// newThermometer gathers the points and the heat facts of a life.
func newThermometer(b *Bath, l *life) thermometer {
	t := thermometer{roomC: float64(b.Room.Temp), coolingH: b.CoolingH, nowC: float64(b.Room.Temp)}
	for _, e := range l.events {
		if c, given := measuredAt(e); given {
			t.points = append(t.points, point{e.at, c})
		}
		if e.fact.Kind == HeatOn || e.fact.Kind == HeatOff {
			if !t.anyHeat {
				t.anyHeat, t.firstAt = true, e.at
			}
			if e.fact.Kind == HeatOff {
				t.offs = append(t.offs, e.at)
			}
		}
	}
	return t
}

// measuredAt is the temperature that a fact, or the end of a soak, measured.
func measuredAt(e event) (float64, bool) {
	f := e.fact
	t := f.Temp
	if f.Soak != nil && f.Kind == Soaked {
		if e.end {
			t = f.Soak.TempOut
		} else if f.Soak.TempIn != nil {
			t = f.Soak.TempIn
		}
	} else if e.end {
		t = nil
	}
	if t == nil {
		return 0, false
	}
	return float64(*t), true
}

// start sets the temperature at the make-up, before any point.
func (t *thermometer) start(at int64) { t.anchor = point{at, t.nowC} }

// measure takes the next point.
func (t *thermometer) measure(at int64, tempC float64) {
	t.next++
	t.nowC, t.anchor = tempC, point{at, tempC}
	if t.heat == heatIsOn && at > t.spellFrom {
		t.spellPoints++
	}
}

// turn takes a heat fact.
func (t *thermometer) turn(at int64, on bool, id string) {
	switch {
	case on && t.heat != heatIsOn:
		t.heat, t.spellFrom, t.spellPoints, t.spellID = heatIsOn, at, 0, id
		t.anchor = point{at, t.nowC}
	case !on:
		t.nextOff++
		t.heat = heatIsOff
		t.anchor = point{at, t.nowC}
	}
}

// A curve is the temperature over one interval between events: a straight line to b, a cooling towards the room, or, with
// neither, held.
type curve struct {
	a, b            point
	line, cools     bool
	roomC, coolingH float64
}

func (c *curve) at(ns float64) float64 {
	switch {
	case c.line:
		return c.a.tempC + (c.b.tempC-c.a.tempC)*(ns-float64(c.a.at))/float64(c.b.at-c.a.at)
	case c.cools:
		return c.roomC + (c.a.tempC-c.roomC)*math.Exp(-(ns-float64(c.a.at))/nsPerHour/c.coolingH)
	}
	return c.a.tempC
}

const nsPerHour = 3.6e12

// curve returns the temperature from now on to the next event. assumed: nothing was measured in the whole spell of heat, so it
// is the recipe's target.
func (t *thermometer) curve(targetC float64) (c curve, assumed bool) {
	c = curve{a: t.anchor, roomC: t.roomC, coolingH: t.coolingH}
	ahead := t.next < len(t.points)
	switch t.heat {
	case heatIsOn:
		if ahead && (t.nextOff >= len(t.offs) || t.points[t.next].at <= t.offs[t.nextOff]) {
			c.line, c.b = true, t.points[t.next]
		} else if t.spellPoints == 0 {
			c.a.tempC = targetC
			return c, true
		}
	case heatIsOff:
		c.cools = true
	default:
		if ahead && (!t.anyHeat || t.points[t.next].at <= t.firstAt) && float64(t.points[t.next].at-t.anchor.at) <= lineHours*nsPerHour {
			c.line, c.b = true, t.points[t.next]
		} else {
			c.cools = true
		}
	}
	return c, false
}
