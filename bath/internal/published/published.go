// Package published reads the check values in testdata/published for tests: tables from handbooks and standards, each row with its
// source.
package published

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// A Row is one row of a table by its column names.
type Row map[string]string

// Table reads a table. It fails the test unless the table has as many rows as the test knows of, so that none goes unread, and
// unless each row names its source.
func Table(t *testing.T, name string, rows int) []Row {
	t.Helper()
	f, err := os.Open(filepath.Join(folder(t), name))
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
	table := make([]Row, 0, rows)
	for _, record := range records[1:] {
		row := make(Row, len(record))
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

// folder is testdata/published, found upwards from the folder of the package that is tested.
func folder(t *testing.T) string {
	t.Helper()
	for up := "."; len(up) < 32; up = filepath.Join(up, "..") {
		path := filepath.Join(up, "testdata", "published")
		if _, err := os.Stat(path); err == nil {
			return path
		}
	}
	t.Fatal("testdata/published is not above this package")
	return ""
}

// Number returns a number of a row.
func (r Row) Number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, r, err)
	}
	return x
}
