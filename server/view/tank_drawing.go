package view

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"blackbath/bath"
	"blackbath/bath/unit"
)

// A LevelKind says how the line of a level is drawn.
type LevelKind string

// The kinds of level.
const (
	LevelFill   LevelKind = "fill" // the line that the bath may reach
	LevelLoaded LevelKind = "load" // hot, with the pieces in
	LevelHot    LevelKind = "hot"  // hot, without pieces
	LevelCold   LevelKind = "cold"
)

// A LevelMark is a level to draw, with its word, translated: "loaded".
type LevelMark struct {
	Level unit.Centimetre
	Label string
	Kind  LevelKind
}

// TankOptions says what a drawing shows besides the tank and its levels. Format must be set.
type TankOptions struct {
	Format  Format
	Mud     unit.Centimetre // level of the mud; 0: the tank is empty
	Settled unit.Centimetre // level of the earth that has settled; 0: none
	Pieces  int             // pieces that hang in the mud; more than three are drawn as three
	Small   bool            // for a list: without scale, words and grain
}

// A TankDrawing is a tank in section, for {{template "tank" .Drawing}}. Heights and widths have one scale. The zero drawing
// prints nothing.
type TankDrawing struct {
	ViewBox string
	Label   string // all its figures, for those who can't see it
	Note    string // what is not as it seems; may be empty
	Small   bool

	Mud, Settled, Grain string // paths
	Wall                string
	Guessed             bool // the wall is not measured but worked out
	Rod                 string
	Pieces              []DrawnPiece
	Scale               string // the ticks
	Numbers             []DrawnText
	Levels              []DrawnLevel
}

// A DrawnPiece is a bowl on its wire: three paths.
type DrawnPiece struct{ Hanger, Body, Inlay string }

// A DrawnText is a word at a place.
type DrawnText struct{ X, Y, Text string }

// A DrawnLevel is the line of a level in the tank, the line that leads to its label, and the label.
type DrawnLevel struct {
	Kind         LevelKind // empty: the rim, which has no line of its own
	Line, Leader string
	X, Y         string
	Number, Word string
}

// Sizes in a drawing, in its own units. At 390 px a unit is 0.61 px, so that the smaller type comes out at 12.8 px.
const (
	tankWidth   = 540.0 // of the whole drawing
	tankTall    = 236.0 // of the tank, at most
	tankLeft    = 80.0  // where it begins, right of the scale
	tankTop     = 46.0  // where its rim is
	wallThick   = 7.0
	labelAway   = 44.0 // from the tank to its labels
	labelGap    = 30.0 // from one label to the next
	textSize    = 21.0
	numberSize  = 23.0
	smallWidth  = 160.0
	smallHeight = 120.0
)

// DrawTank draws a tank in section: a box along its length, a drum from its round end. Rim and fill line are always labelled,
// the fill line not where a loaded level stands on it. A tank that is not fit for use is not drawn.
func DrawTank(t bath.Tank, marks []LevelMark, o TankOptions) TankDrawing {
	if len(t.Check()) > 0 {
		return TankDrawing{}
	}
	levels := allLevels(t, marks, o.Format)
	d := TankDrawing{Label: tankLabel(t, levels, o.Format), Small: o.Small, Guessed: t.Shape == bath.Marks}
	s := newSection(t)
	if o.Small {
		s.fit(smallWidth-2*wallThick, smallHeight-20, 0, 0)
		s.left = (smallWidth - s.width()) / 2
		s.bottom = smallHeight - 10
		d.ViewBox = viewBox(0, smallWidth, smallHeight)
	} else {
		room := tankWidth - tankLeft - labelAway - labelWidth(levels, o.Format)
		s.fit(room, tankTall, tankLeft, tankTop)
	}
	d.Mud = s.below(o.Mud)
	d.Settled = s.hatch(min(o.Settled, o.Mud))
	d.Wall = s.wall()
	if o.Small {
		d.Levels = []DrawnLevel{{Kind: LevelFill, Line: s.surface(t.FillLine())}}
		return d
	}
	d.Grain = s.grain(o.Settled, o.Mud)
	d.Rod, d.Pieces = s.pieces(o.Pieces, o.Mud)
	d.Scale, d.Numbers = s.scale()
	lowest := d.label(s, levels, o.Format)
	used := s.left + s.width() + labelAway + labelWidth(levels, o.Format)
	d.ViewBox = viewBox((used-tankWidth)/2, tankWidth, max(s.bottom+16, lowest+10))
	d.Note = tankNote(d, o.Format)
	return d
}

// allLevels are the levels to label from the top down; the rim has no kind.
func allLevels(t bath.Tank, marks []LevelMark, f Format) []LevelMark {
	levels := []LevelMark{{Level: t.RimHeight(), Label: f.Say("rim")}}
	onFillLine := func(m LevelMark) bool {
		return m.Kind == LevelLoaded && math.Abs(float64(m.Level-t.FillLine())) < 0.05
	}
	if !slices.ContainsFunc(marks, onFillLine) {
		levels = append(levels, LevelMark{Level: t.FillLine(), Label: f.Say("fill line"), Kind: LevelFill})
	}
	levels = append(levels, marks...)
	slices.SortStableFunc(levels, func(a, b LevelMark) int {
		switch {
		case a.Level > b.Level:
			return -1
		case a.Level < b.Level:
			return 1
		}
		return 0
	})
	return levels
}

// tankLabel says in words what the drawing shows.
func tankLabel(t bath.Tank, levels []LevelMark, f Format) string {
	name := t.Name
	if name == "" {
		name = f.SayText(ShapeName(t.Shape))
	}
	said := make([]string, len(levels))
	for i, m := range levels {
		said[i] = m.Label + " " + f.CM(m.Level).String()
	}
	return f.Say("%s in section. Above the bottom: %s.", name, strings.Join(said, ", "))
}

func tankNote(d TankDrawing, f Format) string {
	var notes []string
	if d.Guessed {
		notes = append(notes, f.Say("Worked out from the marks as if the tank were round."))
	}
	if len(d.Pieces) > 0 {
		notes = append(notes, f.Say("The pieces are not to scale."))
	}
	return strings.Join(notes, " ")
}

// labelWidth is a generous guess of how wide the widest label comes out.
func labelWidth(levels []LevelMark, f Format) float64 {
	widest := 0.0
	for _, m := range levels {
		number := float64(len(f.CM(m.Level).Number)) * 0.57 * numberSize
		widest = max(widest, number+float64(1+utf8.RuneCountInString(m.Label))*0.54*textSize)
	}
	return min(widest, tankWidth/2)
}

// label sets the labels beside the tank, apart from each other, and returns where the lowest ends.
func (d *TankDrawing) label(s *section, levels []LevelMark, f Format) (lowest float64) {
	want := make([]float64, len(levels))
	for i, m := range levels {
		want[i] = s.y(m.Level)
	}
	edge := s.left + s.width() + wallThick
	for i, y := range spread(want, labelGap, textSize) {
		m := levels[i]
		x := s.middle() + s.half(m.Level)*s.perCM
		l := DrawnLevel{Kind: m.Kind, Number: f.CM(m.Level).Number, Word: m.Label}
		if m.Kind != "" {
			l.Line = s.surface(m.Level)
		}
		l.Leader = fmt.Sprintf("M%s %sL%s %sL%s %sh6", n1(x), n1(want[i]), n1(edge+8), n1(want[i]), n1(edge+26), n1(y))
		l.X, l.Y = n1(edge+labelAway-wallThick), n1(y+6)
		d.Levels = append(d.Levels, l)
		lowest = y
	}
	return lowest
}

// spread moves heights, which rise, apart until neighbours are gap away from each other and none is above top. The moves are
// as small as they can be, by least squares (pool adjacent violators; Ayer et al., Ann. Math. Stat. 26 (1955) 641).
func spread(want []float64, gap, top float64) []float64 {
	type pool struct {
		mean  float64
		count int
	}
	var pools []pool
	for i, w := range want {
		p := pool{w - float64(i)*gap, 1}
		for len(pools) > 0 && pools[len(pools)-1].mean >= p.mean {
			q := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			p.mean = (q.mean*float64(q.count) + p.mean*float64(p.count)) / float64(q.count+p.count)
			p.count += q.count
		}
		pools = append(pools, p)
	}
	out := make([]float64, 0, len(want))
	for _, p := range pools {
		for range p.count {
			out = append(out, max(p.mean, top)+float64(len(out))*gap)
		}
	}
	return out
}

func viewBox(x, width, height float64) string {
	return n1(x) + " 0 " + n1(width) + " " + n1(height)
}

// n1 writes a place to a tenth of a unit.
func n1(x float64) string {
	s := strconv.FormatFloat(x, 'f', 1, 64)
	if s == "-0.0" {
		return "0.0"
	}
	return s
}
