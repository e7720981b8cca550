package ledger

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// The page is never wider than 80 columns, says every warning, and has no number that is none.
func TestPageWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBath(t)
		b.Name = rapid.SampledFrom([]string{"B12", strings.Repeat("a long name ", 20), strings.Repeat("x", 200)}).Draw(t, "name")
		s := mustReplay(t, b, nil)
		a := Advise(s)
		answer := NewAnswer(s, &a)
		var page bytes.Buffer
		if err := WritePage(&page, b, answer); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(page.String()) {
			line = strings.TrimSuffix(line, "\n")
			if n := utf8.RuneCountInString(line); n > 80 || strings.TrimRight(line, " ") != line {
				t.Errorf("%d columns: %q", n, line)
			}
		}
		flat := strings.Join(strings.Fields(page.String()), " ")
		for _, w := range answer.Warnings {
			if !strings.Contains(flat, w.Text) {
				t.Errorf("%s is not told", w.Code)
			}
		}
		if strings.Contains(flat, "NaN") || strings.Contains(flat, "Inf") || strings.Contains(flat, "%!") {
			t.Errorf("%s", flat)
		}
	})
}

type full struct{}

var errFull = errors.New("no space left")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestPageWriteError(t *testing.T) {
	b := parsed(t, file("", goodMakeUp))
	s := replayed(t, file("", goodMakeUp))
	if err := WritePage(full{}, b, NewAnswer(s, nil)); !errors.Is(err, errFull) {
		t.Errorf("error %v", err)
	}
}
