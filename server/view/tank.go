package view

// TankList is the tanks in use, and apart from them those that are no longer.
type TankList struct {
	Base
	Filter  Filter
	Table   Table
	Pager   *Pager
	Retired Table  // no rows: none
	Empty   *Empty // nil: there are tanks
}

// TankShow is one tank.
type TankShow struct {
	Formed  // the two questions: litres of a level, level of litres
	ID      int64
	Retired bool
	Drawing TankDrawing
	Facts   []Fact
	ByMarks bool
	Answers []string // to the questions
	Doubt   string   // how far the litres can be trusted
	Table   Table
}

// TankForm is a new tank, or one to be changed.
type TankForm struct {
	Formed
	Shapes []ShapeKey
	Shape  string // chosen; empty: none yet
	Action string // where the form goes
	Sizes  []string
	Marks  bool
	Rows   [][2]string // field names of level and litres of each mark above the bottom
	Kept   []Fact      // what somebody else saved meanwhile; nil: nobody
}

// A ShapeKey leads to the form for a shape.
type ShapeKey struct {
	Label, Href string
	Here        bool
	Drawing     TankDrawing
}

// TankRetire asks before a tank is retired.
type TankRetire struct {
	Formed
	ID int64
}
