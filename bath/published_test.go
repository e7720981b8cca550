package bath

import (
	"math"
	"testing"

	"blackbath/bath/internal/published"
)

// publishedValue finds one value of a table with one value a row.
func publishedValue(t *testing.T, table []published.Row, key, name, quantity, of string) float64 {
	t.Helper()
	for _, row := range table {
		if row[key] == name && row[quantity] == of {
			return row.Number(t, "value")
		}
	}
	t.Fatalf("no row with %s %s and %s %s", key, name, quantity, of)
	return 0
}

// near says whether got is within a relative tolerance of want.
func near(got, want, relative float64) bool {
	return got == want || math.Abs(got-want) <= relative*math.Abs(want)
}
