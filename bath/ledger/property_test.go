package ledger

import (
	"encoding/json"
	"math"
	"slices"
	"testing"
	"time"

	"blackbath/bath/unit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func mustReplay(t *rapid.T, b Bath, until *time.Time) State {
	s, err := Replay(b, until)
	if err != nil {
		t.Fatalf("replay: %v", err)
	}
	return s
}

func answered(t *rapid.T, s State) string {
	advice := Advise(s)
	out, err := json.Marshal(NewAnswer(s, &advice))
	if err != nil {
		t.Fatalf("marshal: %v", err)
	}
	return string(out)
}

// Water, earth and every ion add up to what is there, with all losses counted.
func TestBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := mustReplay(t, drawBath(t), nil)
		check := func(name string, b Balance, now unit.Gram) {
			sum := b.In + b.Evaporated + b.DraggedOut + b.Dumped + b.Gassed + b.Reacted + b.TakenUp + b.Adjusted
			scale := max(b.In, math.Abs(b.TakenUp), math.Abs(b.Reacted), math.Abs(b.Adjusted), 1e-6)
			if math.Abs(sum-b.Now) > 1e-9*scale || float64(now) != b.Now || b.Now < 0 {
				t.Errorf("%s: %+v sums to %.15g, now %.15g", name, b, sum, float64(now))
			}
		}
		check("water", s.Balance.Water, s.Water.Value)
		check("earth", s.Balance.EarthDry, s.EarthDry.Value)
		for ion, b := range s.Balance.Ions {
			check(string(ion), b, s.Ions[ion].Value)
		}
	})
}

// What was known at a moment is the history up to it.
func TestReplayOfThePrefix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBath(t)
		span := b.Facts[len(b.Facts)-1].At.Sub(b.Facts[0].At) + time.Hour
		until := b.Facts[0].At.Add(time.Duration(rapid.Float64Range(0, 1).Draw(t, "share of the history") * float64(span)))
		if rapid.Bool().Draw(t, "at a fact") {
			until = b.Facts[rapid.IntRange(0, len(b.Facts)-1).Draw(t, "fact")].At
		}
		prefix := b
		prefix.Facts = slices.DeleteFunc(slices.Clone(b.Facts), func(f Fact) bool { return f.At.After(until) })
		if got, want := answered(t, mustReplay(t, b, &until)), answered(t, mustReplay(t, prefix, &until)); got != want {
			t.Errorf("until %v (-prefix +all):\n%s", until, cmp.Diff(want, got))
		}
	})
}

// A correction that gives the fact again changes nothing, and without a correction the original is back.
func TestCorrectionsAreUndone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBath(t)
		original := answered(t, mustReplay(t, b, nil))
		i := rapid.IntRange(0, len(b.Facts)-1).Draw(t, "corrected")
		at := b.Facts[len(b.Facts)-1].At.Add(time.Minute)
		replace := func(id string, f Fact) Fact {
			f.ID = ""
			if rapid.Bool().Draw(t, "keeps its time") {
				f.At = time.Time{}
			}
			return Fact{ID: id, At: at, Kind: Correction, Replaces: b.Facts[i].ID, Fact: &f}
		}
		again := b
		again.Facts = append(slices.Clone(b.Facts), replace("c1", b.Facts[i]))
		if got := answered(t, mustReplay(t, again, nil)); got != original {
			t.Errorf("the same fact again (-original +corrected):\n%s", cmp.Diff(original, got))
		}
		wrong := Fact{Kind: MakeUp, Parts: []Part{{Kind: WaterPart, Mass: of[unit.Gram](5000)}}}
		if b.Facts[i].Kind != MakeUp {
			wrong = Fact{Kind: Addition, Parts: wrong.Parts}
		}
		twice := b
		twice.Facts = append(slices.Clone(b.Facts), replace("c1", wrong), replace("c2", b.Facts[i]))
		if got := answered(t, mustReplay(t, twice, nil)); got != original {
			t.Errorf("a wrong correction that was corrected (-original +corrected):\n%s", cmp.Diff(original, got))
		}
		// As it was known before the correction was written.
		until := b.Facts[len(b.Facts)-1].At
		before := mustReplay(t, b, &until)
		once := b
		once.Facts = append(slices.Clone(b.Facts), replace("c1", wrong))
		if got, want := answered(t, mustReplay(t, once, &until)), answered(t, before); got != want {
			t.Errorf("before the correction was written (-want +got):\n%s", cmp.Diff(want, got))
		}
	})
}

// The covariance stays symmetric, and no combination of the sixteen has a negative variance beyond rounding.
func TestCovarianceStaysPositive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := mustReplay(t, drawBath(t), nil).estimate
		// Scaled to its diagonal, the least eigenvalue is found by Jacobi's rotations.
		var a [stateSize][stateSize]float64
		for i := range a {
			for k := range a {
				if e.p[i][k] != e.p[k][i] || math.IsNaN(e.p[i][k]) || math.IsInf(e.p[i][k], 0) {
					t.Fatalf("P[%d][%d] = %g, P[%d][%d] = %g", i, k, e.p[i][k], k, i, e.p[k][i])
				}
				if e.p[i][i] > 0 && e.p[k][k] > 0 {
					a[i][k] = e.p[i][k] / math.Sqrt(e.p[i][i]) / math.Sqrt(e.p[k][k])
				} else if math.Abs(e.p[i][k]) > 1e-9 {
					t.Fatalf("P[%d][%d] = %g beside a variance of %g and %g", i, k, e.p[i][k], e.p[i][i], e.p[k][k])
				}
			}
		}
		if least := leastEigenvalue(a); least < -1e-6 {
			t.Errorf("the correlation's least eigenvalue is %g", least)
		}
	})
}

// leastEigenvalue by cyclic Jacobi rotations (Golub and Van Loan, Matrix Computations, 1996, 8.4).
func leastEigenvalue(a [stateSize][stateSize]float64) float64 {
	for range 30 {
		for p := range stateSize {
			for q := p + 1; q < stateSize; q++ {
				if math.Abs(a[p][q]) < 1e-15 {
					continue
				}
				theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
				t := math.Copysign(1/(math.Abs(theta)+math.Hypot(theta, 1)), theta)
				c := 1 / math.Hypot(t, 1)
				s := t * c
				for k := range stateSize {
					a[k][p], a[k][q] = c*a[k][p]-s*a[k][q], s*a[k][p]+c*a[k][q]
				}
				for k := range stateSize {
					a[p][k], a[q][k] = c*a[p][k]-s*a[q][k], s*a[p][k]+c*a[q][k]
				}
			}
		}
	}
	least := a[0][0]
	for i := range a {
		least = min(least, a[i][i])
	}
	return least
}

// What does not depend on the order of the file does not: facts of different times may stand in any order.
func TestOrderOfTheFile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBath(t)
		for i := range b.Facts {
			b.Facts[i].At = b.Facts[0].At.Add(time.Duration(i) * 3 * time.Hour) // soaks of up to 83 minutes end before the next
			if s := b.Facts[i].Soak; s != nil && s.Out != nil {
				out := b.Facts[i].At.Add(20 * time.Minute)
				s.Out = &out
			}
		}
		want := answered(t, mustReplay(t, b, nil))
		shuffled := b
		shuffled.Facts = rapid.Permutation(b.Facts).Draw(t, "order of the file")
		if got := answered(t, mustReplay(t, shuffled, nil)); got != want {
			t.Errorf("another order of the file (-want +got):\n%s", cmp.Diff(want, got))
		}
	})
}
