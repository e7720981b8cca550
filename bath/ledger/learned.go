package ledger

import (
	"math"
	"slices"
)

// learning is the tank's evaporation against the formula's.
type learning struct {
	ratios []float64 // earlier baths', then this one's
	before int       // how many are earlier baths'
	factor float64   // found over foretold, the median of the newest
	doubt  float64
}

func (l *learning) start(earlier []float64) {
	l.ratios, l.before = slices.Clone(earlier), len(earlier)
	l.learn()
}

// keep takes the ratio of one spell, unless it lies beyond all sense.
func (l *learning) keep(ratio float64) {
	if ratio >= lowestRatio && ratio <= highestRatio {
		l.ratios = append(l.ratios, ratio)
		l.learn()
	}
}

// learn finds the factor and its doubt: 1.4826 times the median deviation is the standard deviation of a bell curve (F. R.
// Hampel, "The influence curve and its role in robust estimation", J. Am. Stat. Assoc. 69 (1974) 383-393).
func (l *learning) learn() {
	l.factor, l.doubt = 1, evaporationDoubt
	newest := l.ratios[max(0, len(l.ratios)-ratioMemory):]
	if len(newest) == 0 {
		return
	}
	l.factor = median(newest)
	if len(newest) < leastRatios {
		return
	}
	var off [ratioMemory]float64
	for i, ratio := range newest {
		off[i] = math.Abs(ratio/l.factor - 1)
	}
	l.doubt = min(max(1.4826*median(off[:len(newest)]), learnedLeastDoubt), evaporationDoubt)
}

// own are the ratios of this bath's own spells.
func (l *learning) own() []float64 { return append([]float64{}, l.ratios[l.before:]...) }

// median of at most ratioMemory numbers, which stay in their order.
func median(xs []float64) float64 {
	var copied [ratioMemory]float64
	sorted := copied[:copy(copied[:], xs)]
	slices.Sort(sorted)
	if n := len(sorted); n%2 == 0 {
		return (sorted[n/2-1] + sorted[n/2]) / 2
	}
	return sorted[len(sorted)/2]
}
