package bath

import "time"

// A KeptTank is a tank as the workshop keeps it.
type KeptTank struct {
	ID int64
	Tank
	Retired bool // no longer in use; old bath sheets still point to it
	Edit    int64
}

// A KeptBook is a recipe with all its versions as the workshop keeps it.
type KeptBook struct {
	RecipeBook
	Retired bool
}

// A RecipeLine is one recipe in a list. Versions are never taken away, so Newest.Number is how many there are.
type RecipeLine struct {
	ID      int64
	Retired bool
	Newest  Version
}

// A SheetLine is one bath sheet in a list.
type SheetLine struct {
	ID            int64
	Number        int
	RecipeID      int64
	RecipeName    string // as printed
	VersionID     int64
	VersionNumber int
	TankID        int64
	TankName      string // as printed
	MadeAt        time.Time
	MadeBy        string
}
