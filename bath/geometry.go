package bath

import (
	"math"

	"blackbath/bath/unit"
)

// RimHeight returns the height of the rim above the bottom.
func (t Tank) RimHeight() unit.Centimetre {
	switch t.Shape {
	case Bowl:
		return t.Depth
	case Drum:
		return t.Diameter
	case Marks:
		if t.Rim != nil {
			return *t.Rim
		}
		return t.lastMark().Level
	default:
		return t.Height
	}
}

// FillLine returns the level that the loaded bath may reach: rim less freeboard.
func (t Tank) FillLine() unit.Centimetre { return t.RimHeight() - t.Freeboard }

func (t Tank) lastMark() Mark {
	if len(t.MarkTable) == 0 {
		return Mark{}
	}
	return t.MarkTable[len(t.MarkTable)-1]
}

// measuredTo is the highest level whose volume is known: the rim, or the last mark of a dip-stick table.
func (t Tank) measuredTo() unit.Centimetre {
	if t.Shape == Marks {
		return t.lastMark().Level
	}
	return t.RimHeight()
}

// VolumeAt returns the volume under a level from 0 to the rim; a level outside is taken at the nearer end. A dip-stick table
// is piecewise linear and is not continued above its last mark.
//
// Formulas: closed forms of solid geometry. The drum uses V = L r²/2 (x - sin x), x the angle that the surface spans, with
// h = 2r sin²(x/4), which loses no digits near the bottom.
func (t Tank) VolumeAt(level unit.Centimetre) unit.Litre {
	h := min(max(float64(level), 0), float64(t.measuredTo()))
	switch t.Shape {
	case Box:
		return unit.CubicCM(float64(t.Length) * float64(t.Width) * h).Litres()
	case Cylinder:
		return unit.CubicCM(math.Pi / 4 * sq(float64(t.Diameter)) * h).Litres()
	case Cone:
		r0 := float64(t.BottomDiameter) / 2
		r := t.coneRadius(h)
		return unit.CubicCM(math.Pi * h / 3 * (r0*r0 + r0*r + r*r)).Litres()
	case Bowl:
		return unit.CubicCM(math.Pi * h * h * (3*t.sphereRadius() - h) / 3).Litres()
	case Drum:
		r := float64(t.Diameter) / 2
		return unit.CubicCM(float64(t.Length) * r * r / 2 * minusSin(t.drumAngle(h))).Litres()
	default:
		m, slope := t.segment(h)
		return m.Volume + unit.Litre(slope*(h-float64(m.Level)))
	}
}

// SurfaceAt returns the open surface of the bath at a level, dV/dh. At a mark it is that of the stretch below.
func (t Tank) SurfaceAt(level unit.Centimetre) unit.SquareCM {
	h := min(max(float64(level), 0), float64(t.measuredTo()))
	switch t.Shape {
	case Box:
		return unit.SquareCM(float64(t.Length) * float64(t.Width))
	case Cylinder:
		return unit.SquareCM(math.Pi / 4 * sq(float64(t.Diameter)))
	case Cone:
		return unit.SquareCM(math.Pi * sq(t.coneRadius(h)))
	case Bowl:
		return unit.SquareCM(math.Pi * (2*t.sphereRadius()*h - h*h))
	case Drum:
		r := float64(t.Diameter) / 2
		return unit.SquareCM(2 * float64(t.Length) * r * math.Sin(t.drumAngle(h)/2))
	default:
		_, slope := t.segment(h)
		return unit.SquareCM(slope * 1000)
	}
}

// MeasuredVolume returns the volume under the rim, or under the last mark of a dip-stick table.
func (t Tank) MeasuredVolume() unit.Litre { return t.VolumeAt(t.measuredTo()) }

// LevelOf returns the level at which a volume stands; ok is false when it is more than the tank holds, or more than a
// dip-stick table was measured for.
//
// It inverts VolumeAt by Newton's method with dV/dh as slope, kept inside a shrinking bracket, since volume grows with level.
func (t Tank) LevelOf(v unit.Litre) (level unit.Centimetre, ok bool) {
	lo, hi := 0.0, float64(t.measuredTo())
	full := t.MeasuredVolume()
	if v > full || v < 0 || math.IsNaN(float64(v)) {
		return 0, false
	}
	h := hi * float64(v/full)
	for range 100 {
		diff := float64(t.VolumeAt(unit.Centimetre(h)) - v)
		next := h - 1000*diff/float64(t.SurfaceAt(unit.Centimetre(h)))
		if diff == 0 || math.Abs(next-h) <= 1e-15*h {
			break
		}
		if diff > 0 {
			hi = h
		} else {
			lo = h
		}
		if !(next > lo && next < hi) { // the surface is 0 at the bottom of a bowl, and a mark bends the line
			next = (lo + hi) / 2
		}
		h = next
	}
	return unit.Centimetre(h), true
}

func (t Tank) coneRadius(h float64) float64 {
	return (float64(t.BottomDiameter) + float64(t.TopDiameter-t.BottomDiameter)*h/float64(t.Height)) / 2
}

// sphereRadius of the bowl's cap: (a² + H²) / 2H with rim radius a and depth H.
func (t Tank) sphereRadius() float64 {
	a, d := float64(t.RimDiameter)/2, float64(t.Depth)
	return (a*a + d*d) / (2 * d)
}

// drumAngle is the angle that the surface spans from the drum's axis.
func (t Tank) drumAngle(h float64) float64 {
	return 4 * math.Asin(math.Sqrt(min(h/float64(t.Diameter), 1)))
}

// segment returns the mark below a level and the litres per cm from there to the next.
func (t Tank) segment(h float64) (Mark, float64) {
	for i := 1; i < len(t.MarkTable); i++ {
		a, b := t.MarkTable[i-1], t.MarkTable[i]
		if h <= float64(b.Level) || i == len(t.MarkTable)-1 {
			return a, float64(b.Volume-a.Volume) / float64(b.Level-a.Level)
		}
	}
	return Mark{}, 0
}

func sq(x float64) float64 { return x * x }

// minusSin returns x - sin x, by its series where the difference would cancel.
func minusSin(x float64) float64 {
	if x > 0.5 {
		return x - math.Sin(x)
	}
	y := x * x
	return x * y / 6 * (1 - y/20*(1-y/42*(1-y/72*(1-y/110))))
}
