// Package salt is the catalogue of the salts a bath may hold, and what they do
// to its water: how much dissolves, how dense the liquid is and where it boils.
//
// A salt is entered in a named form, which may be a hydrate: crystals with water
// locked in. The physics knows only the anhydrous salt, so blue vitriol and
// anhydrous copper sulfate are one substance here and are added together.
// Everything is plain float64 with the unit at the end of the name.
package salt

import (
	"errors"
	"fmt"
	"strings"
)

// ID names one form of a salt in a recipe.
type ID string

// The forms a recipe may name.
const (
	AmmoniumChloride             ID = "ammonium-chloride"
	AmmoniumSulfate              ID = "ammonium-sulfate"
	AmmoniumNitrate              ID = "ammonium-nitrate"
	SodiumChloride               ID = "sodium-chloride"
	SodiumNitrate                ID = "sodium-nitrate"
	PotassiumChloride            ID = "potassium-chloride"
	PotassiumNitrate             ID = "potassium-nitrate"
	AluminiumChlorideHexahydrate ID = "aluminium-chloride-hexahydrate"
	CopperSulfate                ID = "copper-sulfate"
	CopperSulfatePentahydrate    ID = "copper-sulfate-pentahydrate"
	ZincChloride                 ID = "zinc-chloride"
	ZincSulfate                  ID = "zinc-sulfate"
	ZincSulfateHeptahydrate      ID = "zinc-sulfate-heptahydrate"
)

// Salt is one form of a salt. The zero value is not a salt: take one from
// Lookup or All.
type Salt struct {
	ID        ID
	Name      string // for a sentence: "ammonium chloride"
	TradeName string // what a shop calls it, common practice; may be empty
	Formula   string // "AlCl3·6H2O"
	CAS       string // registry number of this form

	// MolarMassGPerMol is that of this form, crystal water included.
	MolarMassGPerMol float64
	// CrystalWaters is the number of water molecules per formula, 0 when the
	// form is anhydrous.
	CrystalWaters int

	parent parent
}

// ErrUnsafe is wrapped by the error for a substance that must not go into a bath.
var ErrUnsafe = errors.New("must not be put into water")

// UnknownError reports a name that is not in the catalogue.
type UnknownError struct {
	Value string // as it was typed
}

// Error names the value and lists every name that is allowed.
func (e *UnknownError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "salt %q is not in the list; the exact salt is needed, read it off the label and use one of: ", shorten(e.Value))
	for i := range catalogue {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(string(catalogue[i].ID))
	}
	return b.String()
}

// shorten keeps an error readable when a whole page was pasted into a field.
func shorten(value string) string {
	const limit = 60
	runes := []rune(value)
	if len(runes) <= limit {
		return value
	}
	return string(runes[:limit]) + "…"
}

// Lookup finds a salt by the exact text of its id. Anhydrous aluminium chloride
// is refused with an error that wraps ErrUnsafe and names the hexahydrate; any
// other unknown name, "chloride" or "salt" alone among them, gives an
// *UnknownError.
func Lookup(id string) (Salt, error) {
	if i, ok := indexByID[ID(id)]; ok {
		return catalogue[i], nil
	}
	switch id {
	case "aluminium-chloride", "aluminum-chloride", "aluminium-chloride-anhydrous", "aluminum-chloride-anhydrous":
		return Salt{}, fmt.Errorf("salt %q is the anhydrous salt, which spits, boils and gives off hydrogen chloride as it meets water, so it %w; use %s",
			id, ErrUnsafe, AluminiumChlorideHexahydrate)
	}
	return Salt{}, &UnknownError{Value: id}
}

// All is every salt of the catalogue, always in the same order. The slice is the
// caller's own.
func All() []Salt {
	return append([]Salt(nil), catalogue...)
}

// HydrateFactor is R, the grams of this form that hold 1 g of the anhydrous
// salt; 1 when the form is anhydrous.
func (s Salt) HydrateFactor() float64 {
	return s.MolarMassGPerMol / substances[s.parent].molarMassGPerMol
}

// AnhydrousShare is the mass of anhydrous salt in 1 unit of mass of this form.
func (s Salt) AnhydrousShare() float64 { return 1 / s.HydrateFactor() }

// CrystalWaterShare is the mass of crystal water in 1 unit of mass of this form;
// 0 when it is anhydrous.
func (s Salt) CrystalWaterShare() float64 { return 1 - s.AnhydrousShare() }

// indexByID finds the place of an id in the catalogue.
var indexByID = func() map[ID]int {
	m := make(map[ID]int, len(catalogue))
	for i := range catalogue {
		m[catalogue[i].ID] = i
	}
	return m
}()
