package view

import "slices"

// A Table is rows of words and figures. On a phone each row becomes a card. The same table is written as CSV.
type Table struct {
	Caption string
	Columns []Column
	Rows    []Row
	CSV     string // address of the same table as a file; empty: none
}

// A Column is one heading.
type Column struct {
	Label  string
	Figure bool   // set to the right
	Whole  bool   // never broken over two lines
	Href   string // sorts by this column; empty: cannot be sorted by
	Sorted string // "ascending", "descending" or empty
}

// A Row is one line; its first cell names it.
type Row struct{ Cells []Cell }

// Drawn says whether a cell of the row has a drawing.
func (r Row) Drawn() bool {
	return slices.ContainsFunc(r.Cells, func(c Cell) bool { return c.Drawing != nil })
}

// A Cell is what stands in one place of a table.
type Cell struct {
	Value any    // string, Quantity or template.HTML
	Href  string // where it leads; may be empty
	Small string // a second, smaller line; may be empty
	State string // "in", "may", "out", "q" or empty: the mark before the value
	Plain string // the value in a CSV file; empty: Value as it prints

	Drawing *TankDrawing // stands before the value; nil: none
}

// A Pager leads through a long list.
type Pager struct {
	Say            string // "21 to 40 of 133", translated
	Earlier, Later string // addresses; empty at the ends
}

// A Filter is the field above a list that narrows it.
type Filter struct {
	Label string
	Typed string
	Sort  string // the order of the list, kept
}
