package server

import (
	"math"
	"unicode/utf8"

	"blackbath/server/view"
)

// A paperSize is what a paper has for the sheet inside its margins, mm; see look.css, "bath sheet on paper".
type paperSize struct{ wide, high float64 }

var paperSizes = map[string]paperSize{"a4": {192, 279}, "letter": {198, 261}, "a5": {135, 197}}

// Sizes on a bath sheet at full size, mm and letters per mm, measured on its print.
const (
	headMM     = 44.0 // head, foot and the gaps between the parts of the sheet
	titleMM    = 5.4
	lineMM     = 3.8
	lineChars  = 0.66  // of text over the whole width
	besideMM   = 123.0 // what stands beside the names of the parts
	rowMM      = 10.5  // a part to weigh with one line under its name
	rowChars   = 0.64  // of that line
	nameChars  = 0.42  // of a name
	levelsMM   = 76.0  // drawing and levels
	cautionMM  = 9.0   // a caution without its text, four side by side
	textMM     = 3.5   // a line of that text
	textChars  = 0.60
	boxLineMM  = 5.4
	boxMM      = 18.0 // a box to fill without its words
	charMM     = 1.55 // a letter of its words
	loadsMM    = 53.0
	orderLines = 4
)

// Sizes in percent that the style sheet knows. A sheet that would come out smaller than the last runs on to a second page.
const (
	largestFit  = 100
	smallestFit = 45
	fitStep     = 5
)

// fit is how large the sheet is set, in percent, so that all of it stands on one page.
func fit(p view.SheetShow) int {
	size := paperSizes[p.Paper]
	for percent := largestFit; percent > smallestFit; percent -= fitStep {
		z := float64(percent) / 100
		if sheetHeight(p, size.wide/z) <= size.high/z {
			return percent
		}
	}
	return smallestFit
}

// sheetHeight adds up what the sheet needs at full size on a paper of that width, mm.
func sheetHeight(p view.SheetShow, wide float64) float64 {
	weigh := titleMM + lineMM
	for _, l := range p.Weigh {
		names := lines(tagless(string(l.Name)), nameChars*(wide-besideMM))
		weigh += rowMM + lineMM*(names-1+lines(string(l.Small), rowChars*(wide-besideMM))-1)
	}
	mm := headMM + math.Max(weigh, levelsMM) + lineMM*lines(p.Makes, lineChars*wide) + titleMM + lineMM*orderLines
	if len(p.Holds) > 0 {
		mm += titleMM
	}
	for _, h := range p.Holds {
		mm += lineMM * lines(h, lineChars*wide)
	}
	mm += titleMM + lineMM
	for i := 0; i < len(p.Fires); i += 4 {
		most := 0.0
		for _, c := range p.Fires[i:min(i+4, len(p.Fires))] {
			most = math.Max(most, lines(c.Text, textChars*(wide/4-5)))
		}
		mm += cautionMM + textMM*most
	}
	if len(p.Ask) > 0 {
		boxes := 0.0
		for _, a := range p.Ask {
			boxes += boxMM + charMM*float64(utf8.RuneCountInString(a))
		}
		mm += titleMM + boxLineMM*math.Ceil(boxes/(0.9*wide))
	}
	if p.Paper != "a5" { // there the loads are written on the back
		mm += loadsMM
	}
	return mm
}

func lines(text string, chars float64) float64 {
	return math.Max(1, math.Ceil(float64(utf8.RuneCountInString(text))/math.Max(chars, 1)))
}

// tagless leaves out what stands between angle brackets.
func tagless(s string) string {
	out, inside := make([]rune, 0, len(s)), false
	for _, r := range s {
		switch {
		case r == '<':
			inside = true
		case r == '>':
			inside = false
		case !inside:
			out = append(out, r)
		}
	}
	return string(out)
}
