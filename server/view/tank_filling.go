package view

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"blackbath/bath/unit"
)

const hatchStep = 9.0

// inside says whether a place is in the tank, at least margin away from its wall and below a level.
func (s *section) inside(p point, level unit.Centimetre, margin float64) bool {
	h := unit.Centimetre((s.bottom - margin - p.y) / s.perCM)
	if h < 0 || p.y-margin < s.y(level) {
		return false
	}
	return math.Abs(p.x-s.middle())+margin <= s.half(h)*s.perCM
}

// hatch is slanting lines in the section up to a level.
func (s *section) hatch(level unit.Centimetre) string {
	if level <= 0 {
		return ""
	}
	var b strings.Builder
	right := s.left + s.width()
	for foot := s.left; foot < right+float64(level)*s.perCM; foot += hatchStep { // where the line meets the bottom
		var from, to point
		drawing := false
		for x := max(s.left, foot-float64(level)*s.perCM); x <= min(foot, right)+1; x++ {
			p := point{x, s.bottom - (foot - x)}
			if s.inside(p, level, 0) {
				if !drawing {
					from, drawing = p, true
				}
				to = p
			} else if drawing {
				b.WriteString(line([]point{from, to}))
				drawing = false
			}
		}
		if drawing {
			b.WriteString(line([]point{from, to}))
		}
	}
	return b.String()
}

// grain is sand in the mud between two levels, dots as lines of no length. The places are the R2 sequence, which never
// clusters (M. Roberts, The unreasonable effectiveness of quasirandom sequences, 2018).
func (s *section) grain(from, to unit.Centimetre) string {
	if to <= 0 {
		return ""
	}
	const plastic = 1.32471795724474602596
	high := float64(to) * s.perCM
	count := int(s.width() * high / 700)
	var b strings.Builder
	for i := range count {
		_, u := math.Modf(0.5 + float64(i)/plastic)
		_, w := math.Modf(0.5 + float64(i)/(plastic*plastic))
		p := point{s.left + u*s.width(), s.y(to) + w*high}
		if p.y < s.y(from) && s.inside(p, to, 5) {
			fmt.Fprintf(&b, "M%s %sh0", n1(p.x), n1(p.y))
		}
	}
	return b.String()
}

const (
	mostPieces = 3
	widePiece  = 60.0
)

// pieces are bowls that hang from a rod over the tank into the mud.
func (s *section) pieces(count int, mud unit.Centimetre) (rod string, drawn []DrawnPiece) {
	count = min(count, mostPieces)
	if count <= 0 || mud <= 0 {
		return "", nil
	}
	depth := float64(mud) * s.perCM
	top := s.y(mud) + 0.3*depth
	w := min(widePiece, 0.7*depth)
	low := unit.Centimetre((s.bottom - top - 0.6*w) / s.perCM) // of the pieces' feet
	slot := 2 * min(s.half(low), s.half(mud)) * s.perCM / float64(count)
	w = min(w, 0.8*slot)
	for i := range count {
		x := s.middle() + (float64(i)-float64(count-1)/2)*slot
		y := top
		if i%2 == 1 {
			y -= 0.12 * depth
		}
		drawn = append(drawn, DrawnPiece{
			Hanger: fmt.Sprintf("M%s 22V%s", n1(x), n1(y)),
			Body: fmt.Sprintf("M%s %sh%sc0 %s %s %s %s %sh%sc%s %s %s %s %s %sz", n1(x-w/2), n1(y), n1(w),
				n1(0.4*w), n1(-0.2*w), n1(0.55*w), n1(-0.35*w), n1(0.6*w), n1(-0.3*w),
				n1(-0.15*w), n1(-0.05*w), n1(-0.35*w), n1(-0.2*w), n1(-0.35*w), n1(-0.6*w)),
			Inlay: fmt.Sprintf("M%s %sh%s", n1(x-0.425*w), n1(y+0.16*w), n1(0.85*w)),
		})
	}
	return fmt.Sprintf("M%s 21H%s", n1(s.left-26), n1(s.left+s.width()+18)), drawn
}

// scale is a centimetre scale at the left: numbers at least 45 units apart, ticks at least 5.
func (s *section) scale() (ticks string, numbers []DrawnText) {
	x := s.left - 30
	perMM := s.perCM / 10
	apart := roundStep(45/perMM, 10, 1)
	tick := roundStep(5/perMM, 1, apart)
	var b strings.Builder
	fmt.Fprintf(&b, "M%s %sV%s", n1(x), n1(s.y(s.tank.RimHeight())), n1(s.bottom))
	for mm := 0; float64(mm) <= float64(s.tank.RimHeight())*10+1e-6; mm += tick {
		y := s.bottom - float64(mm)*perMM
		long := "5"
		if 2*mm%apart == 0 {
			long = "10"
		}
		fmt.Fprintf(&b, "M%s %sh%s", n1(x), n1(y), long)
		if mm%apart == 0 {
			numbers = append(numbers, DrawnText{n1(x - 6), n1(y + 5), strconv.Itoa(mm / 10)})
		}
	}
	return b.String(), append(numbers, DrawnText{n1(x - 6), "20.0", unit.CM.Symbol})
}

// roundStep is the smallest of 1, 2, 5, 10, 20, 50 and so on from least on that is not below the wanted step and, where whole
// is more than 1, parts it evenly.
func roundStep(want float64, least, whole int) int {
	for decade := 1; decade <= 1_000_000; decade *= 10 {
		for _, digit := range []int{1, 2, 5} {
			step := digit * decade
			if step >= least && float64(step) >= want && (whole == 1 || whole%step == 0) {
				return step
			}
		}
	}
	return max(least, whole)
}
