package ledger

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"blackbath/bath"
)

// pageColumns is the width of the plain-text page.
const pageColumns = 80

// WritePage writes an answer as plain text of at most 80 columns: the state with one standard deviation, where it stands in its
// window, what to add, what to know, and where everything went. The error is w's.
func WritePage(w io.Writer, b Bath, a Answer) error {
	p := page{bath: b, answer: a}
	p.head()
	p.state()
	p.strengths()
	p.use()
	p.advice()
	p.warnings()
	p.balance()
	if _, err := io.WriteString(w, p.b.String()); err != nil {
		return fmt.Errorf("ledger: write the page: %w", err)
	}
	return nil
}

// A page is one page under way.
type page struct {
	b      strings.Builder
	bath   Bath
	answer Answer
}

func (p *page) title(words string) {
	fmt.Fprintf(&p.b, "\n%s\n%s\n", strings.ToUpper(words), strings.Repeat("-", pageColumns))
}

// row writes a name and a figure, wrapped under it.
func (p *page) row(name, format string, args ...any) {
	p.wrap(pad(name, 26), fmt.Sprintf(format, args...))
}

func pad(text string, width int) string {
	r := []rune(text)
	if len(r) >= width {
		return string(r[:width-2]) + "… "
	}
	return text + strings.Repeat(" ", width-len(r))
}

// wrap writes a text with its first line after lead and the others under it. A word longer than a line is cut.
func (p *page) wrap(lead, text string) {
	indent := strings.Repeat(" ", len([]rune(lead)))
	width := pageColumns - len(indent)
	row := ""
	flush := func() {
		p.b.WriteString(strings.TrimRight(lead+row, " ") + "\n")
		lead, row = indent, ""
	}
	for word := range strings.FieldsSeq(text) {
		if row != "" && len([]rune(row))+1+len([]rune(word)) > width {
			flush()
		}
		for len([]rune(word)) > width {
			row, word = string([]rune(word)[:width]), string([]rune(word)[width:])
			flush()
		}
		if row != "" {
			row += " "
		}
		row += word
	}
	flush()
}

func (p *page) head() {
	a := p.answer
	p.wrap("BATH ", a.Bath)
	p.b.WriteString(strings.Repeat("=", pageColumns) + "\n")
	p.row("As of", "%s UTC", a.AsOf.UTC().Format("2006-01-02 15:04:05"))
	p.row("Age", "%.1f h, of it %.1f h at 60 °C or more", a.AgeH, a.HotH)
	if a.Retired {
		p.row("Retired", "yes; the figures are those of that moment")
	}
}

func (p *page) state() {
	p.title("The bath")
	a, w := p.answer, p.bath.Recipe.Temp
	p.row("Temperature", "%.1f °C, %s", a.TempC, against(a.TempPlace, float64(w.Min), float64(w.Max), "°C"))
	if a.BoilsAtC != nil {
		p.row("Boils here at", "%.1f ± 1 °C", *a.BoilsAtC)
	}
	level := "above the rim"
	if a.LevelCM != nil {
		level = fmt.Sprintf("%.1f cm on the stick", *a.LevelCM)
	}
	p.row("Mud, without pieces", "%.2f L, %s", a.VolumeL, level)
	p.row("Water", "%.0f ± %.0f g", a.Water.Value, a.Water.SD)
	p.row("Dry earth", "%.0f ± %.0f g", a.EarthDry.Value, a.EarthDry.SD)
	for i := range ions {
		if ion := a.Ions[ions[i].name]; ion.Value > 0 || ion.SD > 0 {
			p.row(string(ions[i].name), "%.1f ± %.1f g", ion.Value, ion.SD)
		}
	}
}

func against(place Place, low, high float64, symbol string) string {
	if place == Inside {
		return fmt.Sprintf("inside %s to %s %s", short(low), short(high), symbol)
	}
	return fmt.Sprintf("%s the window, %s to %s %s", strings.ToUpper(string(place)), short(low), short(high), symbol)
}

// short writes a number as it was given.
func short(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func (p *page) strengths() {
	p.title("Strength, g per kg of all water, ± one standard deviation")
	a := p.answer
	for i, s := range a.Strengths {
		w := p.bath.Recipe.Salts[i]
		p.row(string(s.Salt), "%.1f ± %.1f, %s", s.GPerKgWater, s.SD, against(s.Place, float64(w.Min), float64(w.Max), "g/kg"))
	}
	if e := a.Earth; e != nil {
		place := "no window"
		if w := p.bath.Recipe.EarthDry; w != nil {
			place = against(e.Place, float64(w.Min), float64(w.Max), "g/kg")
		}
		p.row("earth, dry", "%.0f ± %.0f, %s", e.DryGPerKgWater, e.SD, place)
	} else {
		p.wrap("", "There is no water, so there is no strength.")
	}
}

func (p *page) use() {
	p.title("Use")
	a := p.answer
	p.row("Evaporated", "%.0f g; the tank takes %.2f times the formula, ± %.0f %%", a.Evaporation.EvaporatedG, a.Evaporation.Factor, 100*a.Evaporation.Doubt)
	p.row("Soaks", "%d ended, %.1f dm², %.2f dm² per litre", a.Soaks.Count, a.Soaks.AreaDM2, a.Soaks.AreaDM2PerL)
	if n := len(a.Soaks.Running); n > 0 {
		p.row("Running", "%s", strings.Join(a.Soaks.Running, ", "))
	}
	zinc := "not known"
	if z := a.Soaks.ZincTakenUpG; z != nil {
		zinc = fmt.Sprintf("%.1f ± %.1f g", z.Value, z.SD)
	}
	p.row("Zinc taken up", "%s", zinc)
}

// sentences are what each verdict says.
var sentences = map[Verdict]string{
	IsRetired:    "The bath is retired. Nothing to add.",
	RetireIt:     "Retire this bath.",
	MeasureFirst: "Measure first: read the level, and the density of settled liquor. The figures are too unsure to add anything.",
	AddNothing:   "Nothing to add: all lines are inside their windows.",
	Cannot:       "Cannot be done: only earth is wanted, and today's is too damp to thicken the bath.",
	DumpThenAdd:  "Dump first, stirred. Then add:",
	AddNow:       "Add:",
}

func (p *page) advice() {
	a := p.answer.Advice
	if a == nil {
		return
	}
	p.title("What to add")
	p.wrap("", sentences[a.Verdict])
	if len(a.Reasons) > 0 {
		p.row("Because", "%s", strings.ReplaceAll(strings.Join(a.Reasons, ", "), "_", " "))
	}
	if a.Amounts == nil {
		return
	}
	if a.DumpL > 0 {
		p.row("Dump", "%.2f L of stirred mud", a.DumpL)
	}
	for _, l := range a.Add {
		number, symbol := l.Rounded.Label(p.bath.Step)
		p.row(string(l.Kind)+" "+string(l.Salt), "%s %s%s", number, symbol, p.measure(l))
	}
	p.wrap("", "Heat off and wait first: cold water makes a hot mud bath spit. Pour it warm, in at the edge.")
	if a.ReadyMudL > 0 {
		p.wrap("", fmt.Sprintf("Of this, mix %.2f L of ready mud first.", a.ReadyMudL))
	}
	if a.Aim == HalfWay {
		p.wrap("", "Half the way to the target: all the way does not fit under the fill line.")
	}
	p.row("Afterwards", "%s", p.after(a.After))
}

func (p *page) measure(l Added) string {
	switch {
	case l.Kind == bath.Earth:
		return " damp, as it lies"
	case l.Litres == nil:
		return " as weighed"
	case l.Buckets != nil && *l.Buckets > 0:
		return fmt.Sprintf(", %.2f L: %d × %s L and %.2f L", *l.Litres, *l.Buckets, short(float64(*p.bath.Bucket)), *l.RemainderL)
	}
	return fmt.Sprintf(", %.2f L at %s °C", *l.Litres, short(float64(p.bath.WaterTemp)))
}

func (p *page) after(a After) string {
	parts := []string{fmt.Sprintf("%.2f L", a.VolumeL)}
	if a.LevelCM != nil {
		parts = append(parts, fmt.Sprintf("%.1f cm", *a.LevelCM))
	}
	for _, s := range p.bath.Recipe.Salts {
		parts = append(parts, fmt.Sprintf("%s %.1f g/kg", s.Salt, a.Salts[s.Salt]))
	}
	return strings.Join(append(parts, fmt.Sprintf("earth %.0f g/kg", a.EarthDry)), ", ")
}

func (p *page) warnings() {
	if len(p.answer.Warnings) == 0 {
		return
	}
	p.title("What to know")
	for _, w := range p.answer.Warnings {
		text := w.Text
		if n := len(w.Facts); n > 8 {
			text += fmt.Sprintf(" (%s and %d more)", strings.Join(w.Facts[:8], ", "), n-8)
		} else if n > 0 {
			text += " (" + strings.Join(w.Facts, ", ") + ")"
		}
		p.wrap("*   ", text)
	}
}

func (p *page) balance() {
	p.title("Balance, g")
	b := p.answer.Balance
	p.account("water", b.Water)
	p.account("dry earth", b.EarthDry)
	for i := range ions {
		if a := b.Ions[ions[i].name]; a != (Balance{}) {
			p.account(string(ions[i].name), a)
		}
	}
}

func (p *page) account(name string, b Balance) {
	parts := []string{"in " + fixed(b.In)}
	for _, way := range []struct {
		word string
		g    float64
	}{
		{"evaporated", b.Evaporated}, {"dragged out", b.DraggedOut}, {"dumped", b.Dumped}, {"gassed", b.Gassed},
		{"reacted", b.Reacted}, {"taken up", b.TakenUp}, {"adjusted", b.Adjusted},
	} {
		if way.g >= leastShownG || way.g <= -leastShownG {
			parts = append(parts, way.word+" "+fixed(way.g))
		}
	}
	p.row(name, "%s; now %s", strings.Join(parts, ", "), fixed(b.Now))
}

// leastShownG keeps rounding of readings off the page.
const leastShownG = 0.005

// fixed writes grams with a decimal, small ones with two digits.
func fixed(g float64) string {
	if g != 0 && g > -1 && g < 1 {
		return strconv.FormatFloat(g, 'g', 2, 64)
	}
	return strconv.FormatFloat(g, 'f', 1, 64)
}
