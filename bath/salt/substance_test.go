package salt

import "testing"

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
