package store

import (
	"fmt"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath"
	"blackbath/bath/salt"
)

func TestBathSheets(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		want := f.sheet("s1")
		want.ID = must[int64](t)(s.SaveBathSheet(ctx, f.workshop, want))
		want.Number = 1
		if diff := cmp.Diff(want, must[bath.BathSheet](t)(s.BathSheet(ctx, f.workshop, want.ID))); diff != "" {
			t.Errorf("read back (- kept, + read):\n%s", diff)
		}

		// Paper does not change with what it was made from.
		tank := must[bath.KeptTank](t)(s.Tank(ctx, f.workshop, f.tank))
		tank.Name, tank.Depth = "another bowl", 20
		must[int64](t)(s.SaveTank(ctx, f.workshop, "", tank))
		if diff := cmp.Diff(want, must[bath.BathSheet](t)(s.BathSheet(ctx, f.workshop, want.ID))); diff != "" {
			t.Errorf("after the tank changed (- before, + after):\n%s", diff)
		}

		second := f.sheet("s2")
		second.LotIDs, second.Tank, second.MadeBy = nil, tank.Tank, "Zoë"
		second.ID = must[int64](t)(s.SaveBathSheet(ctx, f.workshop, second))
		got := must[bath.BathSheet](t)(s.BathSheet(ctx, f.workshop, second.ID))
		if diff := cmp.Diff([]int64{0, 0, 0, 0}, got.LotIDs); diff != "" || got.Number != 2 {
			t.Errorf("number %d, want 2; lots (- want, + got):\n%s", got.Number, diff)
		}

		line := func(id int64, number int, tankName, by string) bath.SheetLine {
			return bath.SheetLine{ID: id, Number: number, RecipeID: f.version.RecipeID, RecipeName: "Deep black", VersionID: f.version.ID,
				VersionNumber: 1, TankID: f.tank, TankName: tankName, MadeAt: someDay, MadeBy: by}
		}
		one, two := line(want.ID, 1, "Müller's bowl", "R."), line(second.ID, 2, "another bowl", "Zoë")
		for _, tt := range []struct {
			filter SheetFilter
			want   []bath.SheetLine
			total  int
		}{
			{SheetFilter{}, []bath.SheetLine{one, two}, 2},
			{SheetFilter{Page: Page{Desc: true, Limit: 1}}, []bath.SheetLine{two}, 2},
			{SheetFilter{Page: Page{Sort: "tank"}}, []bath.SheetLine{two, one}, 2},
			{SheetFilter{Text: "ZOË"}, []bath.SheetLine{two}, 1},
			{SheetFilter{RecipeID: f.version.RecipeID, VersionID: f.version.ID, TankID: f.tank, Text: "müller"}, []bath.SheetLine{one}, 1},
			{SheetFilter{TankID: 99}, nil, 0},
			{SheetFilter{RecipeID: 99}, nil, 0},
		} {
			got, total, err := s.ListBathSheets(ctx, f.workshop, tt.filter)
			if err != nil {
				t.Fatal(err)
			}
			if len(got) == 0 {
				got = nil
			}
			if diff := cmp.Diff(tt.want, got); diff != "" || total != tt.total {
				t.Errorf("%+v: total %d, want %d (- want, + got):\n%s", tt.filter, total, tt.total, diff)
			}
		}
		_, err := s.BathSheet(ctx, f.workshop, 99)
		wantErr(t, "no sheet", err, ErrNotFound)
	})
}

func TestBathSheetThatDoesNotFit(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		for _, tt := range []struct {
			name   string
			change func(*bath.BathSheet)
			want   error
		}{
			{"another salt's lot", func(b *bath.BathSheet) { b.LotIDs[3] = f.chloride }, ErrWrongLot},
			{"an earth's lot for a salt", func(b *bath.BathSheet) { b.LotIDs[2] = f.earth }, ErrWrongLot},
			{"no such lot", func(b *bath.BathSheet) { b.LotIDs[1] = 99 }, ErrNotFound},
			{"no such tank", func(b *bath.BathSheet) { b.TankID = 99 }, ErrNotFound},
			{"no such version", func(b *bath.BathSheet) { b.VersionID = 99 }, ErrNotFound},
			{"another mass than the version's", func(b *bath.BathSheet) { b.Recipe.Parts[3].Mass = 0.2 }, ErrStale},
			{"another salt than the version's", func(b *bath.BathSheet) { b.Recipe.Parts[2].Salt = salt.AluminiumChlorideHexahydrate }, ErrStale},
			{"more lots than parts", func(b *bath.BathSheet) { b.LotIDs = make([]int64, 5) }, ErrUnstorable},
			{"an answer cut short", func(b *bath.BathSheet) { b.Answer = []byte(`{"a":`) }, ErrUnstorable},
			{"no entry key", func(b *bath.BathSheet) { b.EntryKey = "" }, ErrUnstorable},
		} {
			sheet := f.sheet("s1")
			tt.change(&sheet)
			_, err := s.SaveBathSheet(ctx, f.workshop, sheet)
			wantErr(t, tt.name, err, tt.want)
		}
		if _, total, err := s.ListBathSheets(ctx, f.workshop, SheetFilter{}); total != 0 || err != nil {
			t.Errorf("%d sheets stored, %v; want none", total, err)
		}
		id := must[int64](t)(s.SaveBathSheet(ctx, f.workshop, f.sheet("s1")))
		if got := must[bath.BathSheet](t)(s.BathSheet(ctx, f.workshop, id)); got.Number != 1 {
			t.Errorf("number %d; want 1: refused sheets leave no gap", got.Number)
		}
	})
}

func TestLastChloride(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		last := func(want salt.ID) {
			t.Helper()
			if got := must[salt.ID](t)(s.LastChloride(ctx, f.workshop)); got != want {
				t.Errorf("LastChloride = %q; want %q", got, want)
			}
		}
		last("")
		keep := func(key string, of salt.ID) {
			t.Helper()
			v := aVersion()
			v.Recipe.Parts = []bath.Part{{Kind: bath.Water, Mass: 100}, {Kind: bath.Salt, Salt: of, Mass: 10}}
			v = must[bath.Version](t)(s.SaveNewRecipe(ctx, f.workshop, key, v))
			must[int64](t)(s.SaveBathSheet(ctx, f.workshop, bath.BathSheet{
				EntryKey: key, VersionID: v.ID, TankID: f.tank, Recipe: v.Recipe, Tank: aTank().Tank, Answer: []byte(`{}`),
			}))
		}
		keep("a", salt.SodiumChloride)
		last("")
		keep("b", salt.AmmoniumChloride)
		last(salt.AmmoniumChloride)
		keep("c", salt.AluminiumChlorideHexahydrate)
		last(salt.AluminiumChlorideHexahydrate)
		keep("d", salt.CopperSulfate)
		last(salt.AluminiumChlorideHexahydrate)
	})
}

// Sending an entry twice, even at the same moment, stores it once.
func TestSentTwice(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		lot := must[bath.Lot](t)(s.Lot(ctx, f.workshop, f.earth))
		lot.ID, lot.Edit = 0, 0
		tank := aTank()
		for _, tt := range []struct {
			name    string
			send    func() (int64, error)
			altered func() (int64, error)
		}{
			{"workshop", func() (int64, error) { return s.SaveWorkshop(ctx, "twice", aWorkshop()) }, func() (int64, error) {
				w := aWorkshop()
				w.Bucket = nil
				return s.SaveWorkshop(ctx, "twice", w)
			}},
			{"lot", func() (int64, error) { return s.SaveLot(ctx, f.workshop, "twice", lot) }, func() (int64, error) {
				l := lot
				l.MoisturePct = ptr(19.5)
				return s.SaveLot(ctx, f.workshop, "twice", l)
			}},
			{"tank", func() (int64, error) { return s.SaveTank(ctx, f.workshop, "twice", tank) }, func() (int64, error) {
				other := tank
				other.Depth = 20
				return s.SaveTank(ctx, f.workshop, "twice", other)
			}},
			{"recipe", func() (int64, error) {
				v, err := s.SaveNewRecipe(ctx, f.workshop, "twice", aVersion())
				return v.ID, err
			}, func() (int64, error) {
				v := aVersion()
				v.Recipe.Parts[0].Mass = 1
				v, err := s.SaveNewRecipe(ctx, f.workshop, "twice", v)
				return v.ID, err
			}},
			{"version", func() (int64, error) {
				v := aVersion()
				v.RecipeID = f.version.RecipeID
				v, err := s.SaveVersion(ctx, f.workshop, "twice too", v)
				return v.ID, err
			}, func() (int64, error) {
				v := aVersion()
				v.RecipeID, v.Why = f.version.RecipeID, "another reason"
				v, err := s.SaveVersion(ctx, f.workshop, "twice too", v)
				return v.ID, err
			}},
			{"bath sheet", func() (int64, error) { return s.SaveBathSheet(ctx, f.workshop, f.sheet("twice")) }, func() (int64, error) {
				sheet := f.sheet("twice")
				sheet.Conditions.WaterTemp = 30
				return s.SaveBathSheet(ctx, f.workshop, sheet)
			}},
		} {
			t.Run(tt.name, func(t *testing.T) {
				ids := make([]int64, 8)
				var wg sync.WaitGroup
				for i := range ids {
					wg.Go(func() {
						id, err := tt.send()
						if err != nil {
							t.Error(err)
						}
						ids[i] = id
					})
				}
				wg.Wait()
				for _, id := range ids {
					if id != ids[0] || id == 0 {
						t.Fatalf("ids %v; want one", ids)
					}
				}
				id, err := tt.altered()
				wantErr(t, "altered and sent again", err, ErrConflict)
				if id != ids[0] {
					t.Errorf("altered and sent again: id %d; want %d, to show both", id, ids[0])
				}
			})
		}
	})
}

// The first sending of a sheet may change what the workshop used last, and with it the conditions and cautions of the second.
func TestSheetSentAgainAfterItChangedTheLastChloride(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		f := furnish(t, s, "")
		sheet := f.sheet("s1")
		first := must[int64](t)(s.SaveBathSheet(t.Context(), f.workshop, sheet))
		sheet.Conditions.LastChloride, sheet.Answer = salt.AmmoniumChloride, []byte(`{"cautions": []}`)
		if again := must[int64](t)(s.SaveBathSheet(t.Context(), f.workshop, sheet)); again != first {
			t.Errorf("ids %d and %d; want one", first, again)
		}
	})
}

func TestNumbersHaveNoGapsAndNoDoubles(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		const writers, each = 8, 5
		var wg sync.WaitGroup
		for w := range writers {
			wg.Go(func() {
				for i := range each {
					key := fmt.Sprint(w, " ", i)
					v := aVersion()
					v.RecipeID = f.version.RecipeID
					if _, err := s.SaveVersion(ctx, f.workshop, key, v); err != nil {
						t.Error(err)
					}
					sheet := f.sheet(key)
					if i%2 == 1 {
						sheet.TankID = 99 // refused: must not use up a number
					}
					if _, err := s.SaveBathSheet(ctx, f.workshop, sheet); (err != nil) != (i%2 == 1) {
						t.Error(err)
					}
				}
			})
		}
		wg.Wait()
		lines, _, err := s.ListBathSheets(ctx, f.workshop, SheetFilter{})
		if err != nil || len(lines) != writers*3 {
			t.Fatalf("%d sheets, %v; want %d", len(lines), err, writers*3)
		}
		for i, l := range lines {
			if l.Number != i+1 {
				t.Errorf("sheet number %d in place %d", l.Number, i+1)
			}
		}
		book := must[bath.KeptBook](t)(s.RecipeBook(ctx, f.workshop, f.version.RecipeID))
		if got, want := len(book.Versions), 1+writers*each; got != want {
			t.Fatalf("%d versions; want %d", got, want)
		}
		for i, v := range book.Versions {
			if v.Number != i+1 {
				t.Errorf("version number %d in place %d", v.Number, i+1)
			}
		}
	})
}
