package salt

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// published reads a table of testdata/published as one map per row and fails
// unless it has as many rows as the test knows of, so that none goes unread.
func published(t *testing.T, name string, rows int) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if got := len(records) - 1; got != rows {
		t.Fatalf("%s: got %d rows, want %d", name, got, rows)
	}
	table := make([]map[string]string, 0, rows)
	for _, record := range records[1:] {
		row := make(map[string]string, len(record))
		for i, column := range records[0] {
			row[column] = record[i]
		}
		if row["source"] == "" {
			t.Errorf("%s: a row without its source: %v", name, record)
		}
		table = append(table, row)
	}
	return table
}

func number(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, row, err)
	}
	return v
}

// byFormula finds the substance a table names by its anhydrous formula.
func byFormula(t *testing.T, formula string) parent {
	t.Helper()
	for p := range substances {
		if substances[p].formula == formula {
			return parent(p)
		}
	}
	t.Fatalf("no substance %q", formula)
	return 0
}

// formOf is a form of the substance to compute with: of two, the anhydrous one
// if there is one.
func formOf(t *testing.T, p parent) Salt {
	t.Helper()
	for _, s := range catalogue {
		if s.parent == p {
			return s
		}
	}
	t.Fatalf("no form of %s", substances[p].formula)
	return Salt{}
}

// ofFractions is the solution that holds the given mass fractions of anhydrous
// salt in its liquid.
func ofFractions(t *testing.T, fractions map[string]float64) []Dissolved {
	t.Helper()
	total := 0.0
	for _, w := range fractions {
		total += w
	}
	var solution []Dissolved
	for formula, w := range fractions {
		s := formOf(t, byFormula(t, formula))
		solution = append(solution, Dissolved{s.ID, 1000 * w / (1 - total) * s.HydrateFactor()})
	}
	return solution
}
