package ledger

import (
	"math"

	"blackbath/bath/unit"
)

// Places in the state: two masses in g, ten ions in mol, four relative doubts with mean 0.
const (
	waterAt          = 0
	earthAt          = 1
	ionsAt           = 2
	amountCount      = ionsAt + ionCount
	doubtEvaporation = amountCount + iota - 4
	doubtDragOut
	doubtAmmonia
	doubtZinc
	stateSize
)

// amounts are what is in the bath: water and dry earth in g, ions in mol.
type amounts [amountCount]float64

// An Estimate is a figure with one standard deviation.
type Estimate struct {
	Value float64 `json:"value"`
	SD    float64 `json:"sd"`
}

// A GramEstimate is a mass with one standard deviation.
type GramEstimate struct {
	Value unit.Gram `json:"value"`
	SD    unit.Gram `json:"sd"`
}

// An estimate is the sixteen numbers with their covariance, which stays symmetric to the last bit.
type estimate struct {
	x amounts
	d [stateSize - amountCount]float64
	p [stateSize][stateSize]float64
}

// doubt is the mean of one of the four doubts.
func (e *estimate) doubt(i int) float64 { return e.d[i-amountCount] }

func (e *estimate) sd(i int) float64 { return math.Sqrt(max(e.p[i][i], 0)) }

// row changes the covariance for x[i] <- ... whose derivative is diag on itself and column on the doubt j: P <- F P F'.
func (e *estimate) row(i int, diag float64, j int, column float64) {
	p := &e.p
	pi, pj := &p[i], &p[j]
	own := diag*diag*pi[i] + 2*diag*column*pi[j] + column*column*pj[j]
	for k := range pi {
		pi[k] = diag*pi[k] + column*pj[k]
		p[k][i] = pi[k]
	}
	pi[i] = own
}

// rows is row for all amounts at once: diag[i] on x[i], column[i] on the doubt j.
func (e *estimate) rows(diag *amounts, j int, column *amounts) {
	p := &e.p
	pj := p[j] // as it was before
	for i := range amountCount {
		pij := p[i][j]
		for k := i; k < amountCount; k++ {
			v := diag[i]*diag[k]*p[i][k] + diag[i]*column[k]*pij + diag[k]*column[i]*pj[k] + column[i]*column[k]*pj[j]
			p[i][k], p[k][i] = v, v
		}
	}
	for i := range amountCount {
		for k := amountCount; k < stateSize; k++ {
			v := diag[i]*p[i][k] + column[i]*pj[k]
			p[i][k], p[k][i] = v, v
		}
	}
}

// addAmounts adds one error that all its entries share: P += v v'.
func (e *estimate) addAmounts(v *amounts) {
	for i, a := range v {
		if a == 0 {
			continue
		}
		for k, b := range v {
			e.p[i][k] += a * b
		}
	}
}

// setDoubt starts a doubt anew: mean 0, cross terms 0.
func (e *estimate) setDoubt(i int, sd float64) {
	e.d[i-amountCount] = 0
	for k := range e.p {
		e.p[i][k], e.p[k][i] = 0, 0
	}
	e.p[i][i] = sd * sd
}

// variance of a linear combination of the amounts.
func (e *estimate) variance(g *amounts) float64 {
	sum := 0.0
	for i, a := range g {
		if a == 0 {
			continue
		}
		for k, b := range g {
			sum += a * b * e.p[i][k]
		}
	}
	return max(sum, 0)
}

// kalman takes in a reading: gap is reading less foretold, h the derivative of the foretold reading by the amounts, and
// variance the reading's own. Amounts below 0 become 0.
func (e *estimate) kalman(gap float64, h *amounts, variance float64) {
	var ph [stateSize]float64
	for i := range ph {
		sum := 0.0
		for k, b := range h {
			sum += e.p[i][k] * b
		}
		ph[i] = sum
	}
	s := variance
	for i, a := range h {
		s += a * ph[i]
	}
	if !(s > 0) {
		return
	}
	for i := range amountCount {
		e.x[i] = max(e.x[i]+ph[i]/s*gap, 0)
	}
	for i := amountCount; i < stateSize; i++ {
		e.d[i-amountCount] += ph[i] / s * gap
	}
	for i := range ph {
		for k := range ph {
			e.p[i][k] -= ph[i] * ph[k] / s
		}
	}
}
