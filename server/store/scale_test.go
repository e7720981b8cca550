package store

import (
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath"
	"blackbath/bath/salt"
)

func TestScaleInputs(t *testing.T) {
	eachConfig(t, func(t *testing.T, c Config) {
		ctx := t.Context()
		s, other := mustOpen(t, c), mustOpen(t, c)
		f := furnish(t, s, "")
		lots, _, err := s.ListLots(ctx, f.workshop, LotFilter{})
		if err != nil {
			t.Fatal(err)
		}
		want := ScaleInputs{Version: f.version, Tanks: must[[]bath.KeptTank](t)(s.ListTanks(ctx, f.workshop, false)), Lots: lots}
		if len(want.Lots) != 2 || len(want.Tanks) != 1 {
			t.Fatalf("the fixture is too bare: %+v", want)
		}
		check := func(when string) {
			t.Helper()
			got := must[ScaleInputs](t)(s.ScaleInputs(ctx, f.workshop, f.version.RecipeID, 1))
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s (- want, + got):\n%s", when, diff)
			}
		}
		check("first")

		// The page writes the lots' figures into the recipe: that must not reach the next page.
		got := must[ScaleInputs](t)(s.ScaleInputs(ctx, f.workshop, f.version.RecipeID, 1))
		got.Version.Recipe.Parts[1].MoisturePct = ptr(99.0)
		*got.Lots[0].MoisturePct = 99
		got.Lots[1].Name, got.Tanks[0].Name, *got.Tanks[0].HeaterKW = "x", "x", 99
		check("after a caller changed what it got")

		// What any other process stores is seen at once.
		for what, change := range map[string]func(){
			"a lot": func() {
				want.Lots[0].MoisturePct = ptr(21.0)
				must[int64](t)(other.SaveLot(ctx, f.workshop, "", want.Lots[0]))
				want.Lots[0].Edit++
			},
			"a tank": func() {
				want.Tanks[0].Depth, want.Tanks[0].Name = 22, "bowl with a dent"
				must[int64](t)(other.SaveTank(ctx, f.workshop, "", want.Tanks[0]))
				want.Tanks[0].Edit++
			},
			"a sheet": func() {
				must[int64](t)(other.SaveBathSheet(ctx, f.workshop, f.sheet("s1")))
				want.LastChloride, want.Version.Used = salt.AmmoniumChloride, true
			},
		} {
			change()
			check("after another store changed " + what)
		}
		if err := s.RetireTank(ctx, f.workshop, f.tank); err != nil {
			t.Fatal(err)
		}
		want.Tanks = []bath.KeptTank{}
		check("after this store retired the tank")

		_, err = s.ScaleInputs(ctx, f.workshop, f.version.RecipeID, 2)
		wantErr(t, "no such version", err, ErrNotFound)
		_, err = s.ScaleInputs(ctx, f.workshop, 99, 1)
		wantErr(t, "no such recipe", err, ErrNotFound)
	})
}

// Once a change is stored, no page shows the state before it, however many are being read at the time.
func TestScaleInputsNeverLagBehind(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		tank := must[bath.KeptTank](t)(s.Tank(ctx, f.workshop, f.tank))
		stop := make(chan struct{})
		var readers sync.WaitGroup
		for range 3 {
			readers.Go(func() {
				for {
					select {
					case <-stop:
						return
					default:
						if _, err := s.ScaleInputs(ctx, f.workshop, f.version.RecipeID, 1); err != nil {
							t.Error(err)
						}
					}
				}
			})
		}
		for range 60 {
			tank.Depth++
			must[int64](t)(s.SaveTank(ctx, f.workshop, "", tank))
			tank.Edit++
			got := must[ScaleInputs](t)(s.ScaleInputs(ctx, f.workshop, f.version.RecipeID, 1))
			if got.Tanks[0].Depth != tank.Depth {
				t.Errorf("depth %v; want %v, stored before", got.Tanks[0].Depth, tank.Depth)
			}
		}
		close(stop)
		readers.Wait()
	})
}
