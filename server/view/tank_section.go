package view

import (
	"fmt"
	"math"
	"strings"

	"blackbath/bath"
	"blackbath/bath/unit"
)

// A section is a tank cut upright through its middle, placed in a drawing. It is as wide at a level as the open surface
// there says, so that it holds no geometry of its own.
type section struct {
	tank    bath.Tank
	outline []profile // from the bottom to the rim
	perCM   float64   // units a centimetre
	left    float64   // of its widest place
	bottom  float64
}

// A profile is half the width of a section at a level, both in cm.
type profile struct{ level, half float64 }

// curveSteps is how many straight stretches stand for half a curved outline; they stay within 0.3 units of the curve.
const curveSteps = 24

func newSection(t bath.Tank) *section {
	s := &section{tank: t}
	rim := float64(t.RimHeight())
	switch t.Shape {
	case bath.Marks:
		s.outline = marksOutline(t)
	case bath.Bowl, bath.Drum:
		for i := range curveSteps + 1 {
			level := rim * (1 - math.Cos(math.Pi*float64(i)/curveSteps)) / 2
			s.outline = append(s.outline, profile{level, halfWidth(t, level)})
		}
	default:
		s.outline = []profile{{0, halfWidth(t, 0)}, {rim, halfWidth(t, rim)}}
	}
	return s
}

// halfWidth is half the width of the cut at a level, from the open surface there.
func halfWidth(t bath.Tank, level float64) float64 {
	surface := float64(t.SurfaceAt(unit.Centimetre(level)))
	switch t.Shape {
	case bath.Box:
		return surface / float64(t.Width) / 2
	case bath.Drum:
		return surface / float64(t.Length) / 2
	default:
		return math.Sqrt(surface / math.Pi)
	}
}

// marksOutline is a round vessel with the litres a centimetre of the marks: each stretch has its width at half its height,
// and straight lines run between.
func marksOutline(t bath.Tank) []profile {
	var out []profile
	last := profile{}
	for i := 1; i < len(t.MarkTable); i++ {
		a, b := float64(t.MarkTable[i-1].Level), float64(t.MarkTable[i].Level)
		last = profile{(a + b) / 2, halfWidth(t, b)}
		if i == 1 {
			out = append(out, profile{0, last.half})
		}
		out = append(out, last)
	}
	return append(out, profile{float64(t.RimHeight()), last.half})
}

// fit places the section with its rim at top and its widest place from left on, as large as the room allows.
func (s *section) fit(wide, tall, left, top float64) {
	rim := float64(s.tank.RimHeight())
	s.perCM = min(wide/(2*s.widest()), tall/rim)
	s.left = left
	s.bottom = top + rim*s.perCM
}

func (s *section) widest() float64 {
	widest := 0.0
	for _, p := range s.outline {
		widest = max(widest, p.half)
	}
	if s.tank.Shape == bath.Drum {
		return float64(s.tank.Diameter) / 2
	}
	return widest
}

func (s *section) width() float64  { return 2 * s.widest() * s.perCM }
func (s *section) middle() float64 { return s.left + s.width()/2 }

// y is where a level is in the drawing.
func (s *section) y(level unit.Centimetre) float64 { return s.bottom - float64(level)*s.perCM }

// half is half the width at a level, in cm.
func (s *section) half(level unit.Centimetre) float64 {
	h := float64(level)
	if s.tank.Shape != bath.Marks {
		return halfWidth(s.tank, h)
	}
	for i, b := range s.outline {
		if i > 0 && h <= b.level {
			a := s.outline[i-1]
			if b.level == a.level {
				return b.half
			}
			return a.half + (b.half-a.half)*(h-a.level)/(b.level-a.level)
		}
	}
	return s.outline[len(s.outline)-1].half
}

// A point is a place in a drawing.
type point struct{ x, y float64 }

// cup is the inner outline up to a level: down the left side, along the bottom, up the right side.
func (s *section) cup(level unit.Centimetre) []point {
	var side []profile
	for _, p := range s.outline {
		if p.level < float64(level) {
			side = append(side, p)
		}
	}
	side = append(side, profile{float64(level), s.half(level)})
	var points []point
	add := func(sign float64, p profile) {
		q := point{s.middle() + sign*p.half*s.perCM, s.bottom - p.level*s.perCM}
		if n := len(points); n == 0 || math.Hypot(q.x-points[n-1].x, q.y-points[n-1].y) > 0.01 {
			points = append(points, q)
		}
	}
	for i := len(side) - 1; i >= 0; i-- {
		add(-1, side[i])
	}
	for _, p := range side {
		add(1, p)
	}
	return points
}

// below is the filled part of the section up to a level.
func (s *section) below(level unit.Centimetre) string {
	if level <= 0 {
		return ""
	}
	return line(s.cup(level)) + "z"
}

// surface is the line of a level, from wall to wall.
func (s *section) surface(level unit.Centimetre) string {
	half := s.half(level) * s.perCM
	return fmt.Sprintf("M%s %sH%s", n1(s.middle()-half), n1(s.y(level)), n1(s.middle()+half))
}

// wall is the middle line of the wall, half its thickness outside the inner outline.
func (s *section) wall() string {
	inner := s.cup(s.tank.RimHeight())
	outer := make([]point, len(inner))
	normal := func(a, b point) point { // outward, since the outline runs with the inside at its left hand
		l := math.Hypot(b.x-a.x, b.y-a.y)
		return point{(a.y - b.y) / l, (b.x - a.x) / l}
	}
	for i, p := range inner {
		var m point
		switch i {
		case 0:
			m = normal(p, inner[1])
		case len(inner) - 1:
			m = normal(inner[i-1], p)
		default:
			a, b := normal(inner[i-1], p), normal(p, inner[i+1])
			sharp := max(1+a.x*b.x+a.y*b.y, 0.1)
			m = point{(a.x + b.x) / sharp, (a.y + b.y) / sharp}
		}
		outer[i] = point{p.x + m.x*wallThick/2, p.y + m.y*wallThick/2}
	}
	return line(outer)
}

func line(points []point) string {
	var b strings.Builder
	for i, p := range points {
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(n1(p.x) + " " + n1(p.y))
	}
	return b.String()
}
