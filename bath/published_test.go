package bath

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// published reads a table of testdata/published as one map per row. It fails unless the table has as many rows as the test
// knows of, so that none goes unread, and unless each row names its source.
func published(t *testing.T, name string, rows int) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "published", name))
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

// cell returns a number of a row; an empty cell is 0.
func cell(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	if row[column] == "" {
		return 0
	}
	x, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, row, err)
	}
	return x
}

// publishedValue finds one value of a table with one value a row.
func publishedValue(t *testing.T, table []map[string]string, key, name, quantity, of string) float64 {
	t.Helper()
	for _, row := range table {
		if row[key] == name && row[quantity] == of {
			return cell(t, row, "value")
		}
	}
	t.Fatalf("no row with %s %s and %s %s", key, name, quantity, of)
	return 0
}

// near says whether got is within a relative tolerance of want.
func near(got, want, relative float64) bool {
	return got == want || math.Abs(got-want) <= relative*math.Abs(want)
}
