package ledger

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// pot is the facts file of an upright pot of 36 × 32 cm; %s are further keys, the recipe's salts, the earth's window and the
// facts.
const pot = `{"bath": "B12", "tank": {"name": "pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 6},
 "recipe": {"name": "black", "salts": [%s], %s "temp_c": {"min": 85, "target": 92, "max": 97}}, %s
 "facts": [%s]}`

const salAmmoniac = `{"salt": "ammonium-chloride", "g_per_kg_water": {"min": 130, "target": 150, "max": 170}}`

const earthWindow = `"earth_dry_g_per_kg_water": {"min": 500, "target": 600, "max": 700},`

// file is a facts file of the pot with sal ammoniac and earth.
func file(more, facts string) string { return fmt.Sprintf(pot, salAmmoniac, earthWindow, more, facts) }

// parsed reads a facts file that has to be good.
func parsed(t testing.TB, text string) Bath {
	t.Helper()
	b, err := ParseFile([]byte(text))
	if err != nil {
		t.Fatalf("parse: %v\n%s", err, text)
	}
	return b
}

// replayed replays a facts file that has to be good.
func replayed(t testing.TB, text string) State {
	t.Helper()
	s, err := Replay(parsed(t, text), nil)
	if err != nil {
		t.Fatalf("replay: %v", err)
	}
	return s
}

func moment(t testing.TB, text string) time.Time {
	t.Helper()
	at, err := ParseTime(text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// closeTo fails when a figure is further than a share of the wanted one away from it.
func closeTo(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g within %g of it", what, got, want, share)
	}
}

// warned returns the facts of a warning, and whether it is there.
func (s State) warned(code WarningCode) (string, bool) {
	for _, w := range s.Warnings {
		if w.Code == code {
			return strings.Join(w.Facts, " "), true
		}
	}
	return "", false
}

// replaceOnce changes a text that has to be there once.
func replaceOnce(t testing.TB, text, old, new string) string {
	t.Helper()
	if strings.Count(text, old) != 1 {
		t.Fatalf("%q stands %d times in\n%s", old, strings.Count(text, old), text)
	}
	return strings.Replace(text, old, new, 1)
}
