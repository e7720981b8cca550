package view

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
)

// WriteCSV writes the table as a file for a spreadsheet: UTF-8 with its mark, so that no program takes it for an older
// encoding. Text that a spreadsheet would run as a formula gets an apostrophe before it.
func (t Table) WriteCSV(w io.Writer) error {
	if _, err := io.WriteString(w, "\uFEFF"); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	line := make([]string, len(t.Columns))
	for i, col := range t.Columns {
		line[i] = harmless(col.Label)
	}
	if err := c.Write(line); err != nil {
		return err
	}
	for _, row := range t.Rows {
		for i := range line {
			line[i] = ""
			if i < len(row.Cells) {
				line[i] = row.Cells[i].csv()
			}
		}
		if err := c.Write(line); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

func (c Cell) csv() string {
	if q, ok := c.Value.(Quantity); ok && c.Plain == "" {
		return harmlessQuantity(q)
	}
	if c.Plain != "" {
		return harmless(c.Plain)
	}
	return harmless(fmt.Sprint(c.Value))
}

// harmlessQuantity writes a figure with the plain minus that spreadsheets read.
func harmlessQuantity(q Quantity) string {
	return strings.Replace(strings.ReplaceAll(q.String(), hardSpace, " "), "\u2212", "-", 1)
}

// harmless puts an apostrophe before what a spreadsheet would take for a formula.
func harmless(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
