package bath

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// sheetColumns is the width of the plain-text bath sheet: that of a till or line printer.
const sheetColumns = 80

// WriteSheet writes a scaled bath as a plain-text bath sheet for an 80-column printer: what to weigh with boxes to tick, levels
// on the stick, the order of work, what was assumed, the cautions, and lines to fill by hand. The error is w's.
func WriteSheet(w io.Writer, r Recipe, t Tank, c Conditions, a Answer) error {
	s := sheet{recipe: r, tank: t, conditions: c, answer: a}
	s.head()
	s.weighAndPour()
	s.levels()
	s.bathItself()
	s.orderOfWork()
	s.warnings()
	s.cautions()
	s.byHand()
	_, err := io.WriteString(w, s.b.String())
	if err != nil {
		return fmt.Errorf("bath: write the bath sheet: %w", err)
	}
	return nil
}

// A sheet is one bath sheet under way.
type sheet struct {
	b          strings.Builder
	recipe     Recipe
	tank       Tank
	conditions Conditions
	answer     Answer
}

func (s *sheet) line(format string, args ...any) { fmt.Fprintf(&s.b, format+"\n", args...) }

func (s *sheet) title(words string) {
	s.line("")
	s.line("%s", strings.ToUpper(words))
	s.line("%s", strings.Repeat("-", sheetColumns))
}

// wrap writes a sentence with its first line after lead and the others under it.
func (s *sheet) wrap(lead, text string) {
	indent := strings.Repeat(" ", runes(lead))
	row := lead
	for word := range strings.FieldsSeq(text) {
		switch {
		case row == lead || row == indent:
			row += word
		case runes(row)+1+runes(word) > sheetColumns:
			s.line("%s", row)
			row = indent + word
		default:
			row += " " + word
		}
	}
	s.line("%s", strings.TrimRight(row, " "))
}

func runes(text string) int { return len([]rune(text)) }

// columns writes a name at the left and a figure that ends at a column, with a box after it.
func (s *sheet) amount(name string, m unit.Gram) {
	number, symbol := m.Label(s.conditions.Step)
	figure := fmt.Sprintf("%10s %-2s", number, symbol)
	s.line("%s%s   [  ]", pad(name, 80-runes(figure)-7), figure)
}

func pad(text string, width int) string {
	r := []rune(text)
	if len(r) > width {
		return string(r[:max(width-1, 0)]) + "…"
	}
	return text + strings.Repeat(" ", width-len(r))
}

func (s *sheet) head() {
	s.line("BATH SHEET")
	s.wrap("", nameOr(s.recipe.Name, "recipe without a name"))
	s.line("%s", strings.Repeat("=", sheetColumns))
	s.wrap("Tank     ", fmt.Sprintf("%s, fill line %.1f cm, rim %.1f cm", nameOr(s.tank.Name, string(s.tank.Shape)), s.answer.Levels.Loaded, s.answer.Levels.Rim))
	w := s.recipe.Temp
	s.line("Heat     %s °C (%s to %s)", short(float64(w.Target)), short(float64(w.Min)), short(float64(w.Max)))
	if k := s.recipe.Soak; k != nil {
		s.line("Soak     %s min (%s to %s)", short(float64(k.Target)), short(float64(k.Min)), short(float64(k.Max)))
	}
}

func nameOr(name, other string) string {
	if strings.TrimSpace(name) == "" {
		return other
	}
	return name
}

// short writes a number as it was given.
func short(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func (s *sheet) weighAndPour() {
	s.title("Weigh and pour, in this order")
	n := 1
	p := s.answer.PourWater
	s.amount(fmt.Sprintf("%2d  Water", n), p.Rounded)
	buckets := ""
	if p.Buckets != nil {
		buckets = fmt.Sprintf(": %d × %s L and %.2f L", *p.Buckets, short(float64(*s.conditions.Bucket)), *p.RemainderL)
	}
	s.wrap("      ", fmt.Sprintf("%.2f L at %s °C%s", p.Litres, short(float64(p.AtTempC)), buckets))
	for _, kind := range []PartKind{Salt, Earth} { // salts into cold water first, earth last
		for _, w := range s.answer.Weigh {
			if w.Kind != kind {
				continue
			}
			n++
			name, note := s.describe(w)
			s.amount(fmt.Sprintf("%2d  %s", n, name), w.Rounded)
			s.wrap("      ", note)
		}
	}
}

// describe names a part of the weighing list and says what is known of its lot.
func (s *sheet) describe(w Weigh) (name, note string) {
	p := s.recipe.Parts[w.Part]
	if w.Kind == Earth {
		damp := "moisture not recorded, counted as dry"
		if p.MoisturePct != nil {
			damp = fmt.Sprintf("%s %% of dry; brings %s of water, taken off above", short(*p.MoisturePct), labelled(w.WaterInIt, s.conditions.Step))
		}
		return strings.TrimSpace("Damp earth " + p.Name), damp
	}
	form, _ := salt.Lookup(string(w.Salt)) // Scale has found it already
	note = "assay not recorded, counted as pure"
	if p.AssayPct != nil {
		note = fmt.Sprintf("assay %s %%", short(*p.AssayPct))
	}
	if w.WaterInIt > 0 {
		note += fmt.Sprintf("; brings %s of water, taken off above", labelled(w.WaterInIt, s.conditions.Step))
	}
	return form.Name + ", " + form.Formula, "CAS " + form.CAS + ", " + note
}

func labelled(m, step unit.Gram) string {
	number, symbol := m.Label(step)
	return number + " " + symbol
}

func (s *sheet) levels() {
	s.title("Levels on the stick, cm above the bottom")
	l := s.answer.Levels
	for _, row := range []struct {
		name  string
		level *unit.Centimetre
	}{
		{fmt.Sprintf("cold, %s °C, no pieces", short(float64(s.conditions.WaterTemp))), l.Cold},
		{fmt.Sprintf("hot, %s °C, no pieces", oneDecimal(s.answer.Details.WorkingTemp)), l.Hot},
		{"hot, with the load: the fill line", &l.Loaded},
		{"rim", &l.Rim},
	} {
		if row.level == nil {
			s.line("%s%10s", pad(row.name, 60), "overflows")
			continue
		}
		s.line("%s%10.1f", pad(row.name, 60), float64(*row.level))
	}
	if over := s.answer.Details.OverfillL; l.Cold != nil && over > 0 && *l.Cold < l.Loaded {
		s.wrap("", fmt.Sprintf("Fill cold to %.1f, not to %.1f: filled cold to %.1f it runs %.2f L over when hot.", *l.Cold, l.Loaded, l.Loaded, over))
	}
}

func oneDecimal(t unit.Celsius) string {
	return strings.TrimSuffix(strconv.FormatFloat(float64(t), 'f', 1, 64), ".0")
}

func (s *sheet) bathItself() {
	s.title("The bath")
	a, d := s.answer, s.answer.Details
	row := func(name, format string, args ...any) { s.line("%s%s", pad(name, 38), fmt.Sprintf(format, args...)) }
	row("Mud, hot", "%.2f L at %.2f kg per L", a.HotBathL, a.HotDensity)
	row("Metal of the load", "%.3f L", a.LoadL)
	row("Boils here at", "%.1f ± 1 °C", a.BoilsAtC)
	row("Open surface", "%.0f cm²", a.OpenSurface)
	switch {
	case a.Evaporation == nil:
		row("Water lost in an hour", "not known: it boils, and no heater is given")
	case d.Boiling:
		row("Water lost in an hour", "%.2f L, set by the heater: it boils", *a.Evaporation)
	default:
		row("Water lost in an hour", "%.2f ± %.2f L", *a.Evaporation, 0.3**a.Evaporation)
	}
	if a.HeatUp != nil {
		row("Time to heat", "about %.0f min, tank and pieces not counted", *a.HeatUp)
	}
	for _, w := range a.Weigh {
		if left := a.Undissolved[w.Salt]; w.Kind == Salt && left > 0 {
			s.wrap("", fmt.Sprintf("Undissolved %s: %.0f g at %s °C, %.0f g at %s °C.", w.Salt, left, short(float64(d.Coldest)),
				d.UndissolvedHot[w.Salt], oneDecimal(d.WorkingTemp)))
		}
	}
	s.wrap("", fmt.Sprintf("Rounding to %s g moves no part by more than %s %%.", short(float64(s.conditions.Step)), short(roundUp(a.Composition.worst()))))
}

// worst is the largest deviation by rounding, in percent, sign left out.
func (c Composition) worst() float64 {
	most := 0.0
	for _, d := range c.DeviationPercent {
		most = max(most, d, -d)
	}
	return most
}

// roundUp to two digits, so that "no more than" stays true.
func roundUp(x float64) float64 {
	s := strconv.FormatFloat(x*1.005, 'g', 2, 64)
	y, _ := strconv.ParseFloat(s, 64) // what FormatFloat wrote
	return y
}

// OrderOfWork are the steps of making a bath up (common practice): salts into cold water, earth last, then heat.
var OrderOfWork = []string{
	"Set up the tank cold and empty. Everyone knows where the rinse water is.",
	"Pour the water. Stir the salts in one at a time until each is gone.",
	"Break up, sieve and wet the earth. Stir it in last, a little at a time.",
	"Read the cold level on the stick before heating. It should be the cold level above.",
	"Heat slowly and stir from the bottom. Read the level again when hot, before the pieces go in.",
	"Write down what was really weighed.",
}

func (s *sheet) orderOfWork() {
	s.title("Order of work")
	for i, step := range OrderOfWork {
		s.wrap(fmt.Sprintf("%2d  ", i+1), step)
	}
}

func (s *sheet) warnings() {
	if len(s.answer.Warnings) == 0 {
		return
	}
	s.title("What does not hold or was assumed")
	for _, w := range s.answer.Warnings {
		s.wrap("*   ", w.Text)
	}
}

func (s *sheet) cautions() {
	s.title("Cautions")
	s.wrap("", "Local law and codes, the supplier's safety data sheet and licensed practice come first.")
	paper := CautionsForSheet(s.recipe, s.tank, s.conditions, s.answer)
	for _, c := range paper.Fires {
		s.wrap(fmt.Sprintf("%-8s%s  ", strings.ToUpper(c.Severity.Label()), c.ID), c.Text)
	}
	if len(paper.Fires) == 0 {
		s.wrap("", "No rule matched. That does not say that this step is safe.")
	}
	if len(paper.Ask) > 0 {
		s.line("")
		s.wrap("", "Not known yet. Not known is not safe: ask, and write the answer in.")
		s.boxes(paper.Ask)
	}
}

// boxes writes questions with a box each, two in a row where they are short enough.
func (s *sheet) boxes(questions []caution.Missing) {
	const half = sheetColumns / 2
	left := ""
	for _, q := range questions {
		cell := "[      ] " + q.String()
		switch {
		case runes(cell) >= half:
			s.wrap("[      ] ", q.String())
		case left == "":
			left = cell
		default:
			s.line("%s", pad(left, half)+cell)
			left = ""
		}
	}
	if left != "" {
		s.line("%s", left)
	}
}

func (s *sheet) byHand() {
	s.title("By hand")
	rule := func(n int) string { return strings.Repeat("_", n) }
	s.line("Made up by %s  on %s  at %s", rule(28), rule(14), rule(8))
	s.line("Really weighed, where it differs: %s", rule(sheetColumns-34))
	s.line("%s", rule(sheetColumns))
}
