package salt

import (
	"fmt"
	"math"
)

// Dissolved is one salt of a solution: the grams of the named form per kg of
// all the liquid water, crystal water counted as water. A recipe's own basis, so
// 350 g of copper-sulfate-pentahydrate in 1 kg of all water is 350 here, of which
// 223.7 g are copper sulfate. The same salt may come more than once.
type Dissolved struct {
	Salt        ID
	GPerKgWater float64
}

// AmountError reports an amount that is negative or not a finite number.
type AmountError struct {
	Salt        ID
	GPerKgWater float64
}

func (e *AmountError) Error() string {
	return fmt.Sprintf("%s: %v g per kg of water is not an amount; it must be a finite number, 0 or more", e.Salt, e.GPerKgWater)
}

// mixture is the anhydrous grams per kg of all water, by substance, both forms
// of a substance added.
type mixture [parentCount]float64

// mostGPerKg keeps the sum over all substances finite.
const mostGPerKg = math.MaxFloat64 / float64(parentCount)

// mix adds a solution up. It does not allocate unless it fails.
func mix(solution []Dissolved) (mixture, error) {
	var m mixture
	for i := range solution {
		d := &solution[i]
		at, ok := indexByID[d.Salt]
		if !ok {
			return mixture{}, &UnknownError{Value: string(d.Salt)}
		}
		s := &catalogue[at]
		m[s.parent] += d.GPerKgWater * (substances[s.parent].molarMassGPerMol / s.MolarMassGPerMol)
		if !(d.GPerKgWater >= 0) || !(m[s.parent] <= mostGPerKg) {
			return mixture{}, &AmountError{Salt: d.Salt, GPerKgWater: d.GPerKgWater}
		}
	}
	return m, nil
}

// point is one row of a table; x rises from row to row.
type point struct{ x, y float64 }

// interpolate is linear between the rows and held at both ends; rows must not be
// empty. A NaN stays NaN.
func interpolate(rows []point, x float64) float64 {
	if x <= rows[0].x {
		return rows[0].y
	}
	for i := 1; i < len(rows); i++ {
		if a, b := rows[i-1], rows[i]; x <= b.x {
			return a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)
		}
	}
	if math.IsNaN(x) {
		return x
	}
	return rows[len(rows)-1].y
}
