package store

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

func wantErr(t *testing.T, doing string, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Errorf("%s: error %v; want %v", doing, got, want)
	}
}

func TestWorkshop(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		_, err := s.Workshop(ctx)
		wantErr(t, "before the first", err, ErrNotFound)

		w := aWorkshop()
		w.ID = must[int64](t)(s.SaveWorkshop(ctx, "first", w))
		w.Edit = 1
		if diff := cmp.Diff(w, must[bath.Workshop](t)(s.Workshop(ctx))); diff != "" {
			t.Errorf("read back (- kept, + read):\n%s", diff)
		}
		again := must[int64](t)(s.SaveWorkshop(ctx, "first", aWorkshop()))
		if again != w.ID {
			t.Errorf("sent twice: ids %d and %d", w.ID, again)
		}

		bare := bath.Workshop{ID: w.ID, Edit: 1, Name: "Bare", Currency: "INR", TimeZone: "UTC", Language: "en", BalanceStep: 1}
		must[int64](t)(s.SaveWorkshop(ctx, "", bare))
		_, err = s.SaveWorkshop(ctx, "", w)
		wantErr(t, "with an old edit", err, ErrConflict)
		bare.Edit = 2
		if diff := cmp.Diff(bare, must[bath.Workshop](t)(s.Workshop(ctx))); diff != "" {
			t.Errorf("what was emptied must be unknown again (- kept, + read):\n%s", diff)
		}
		_, err = s.SaveWorkshop(ctx, "", bath.Workshop{ID: 99, BalanceStep: 1})
		wantErr(t, "not there", err, ErrNotFound)
		_, err = s.SaveWorkshop(ctx, "step", bath.Workshop{BalanceStep: 0})
		wantErr(t, "a balance without a step", err, ErrUnstorable)
		_, err = s.SaveWorkshop(ctx, "", bath.Workshop{BalanceStep: 1})
		wantErr(t, "without an entry key", err, ErrUnstorable)
	})
}

func TestMaterials(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		ws := must[int64](t)(s.SaveWorkshop(ctx, "first", aWorkshop()))
		save := func(m bath.Material) bath.Material {
			m.ID, m.Edit = must[int64](t)(s.SaveMaterial(ctx, ws, m)), 1
			return m
		}
		sulfate := save(bath.Material{Kind: bath.Salt, Name: "blue vitriol", Salt: salt.CopperSulfatePentahydrate})
		chloride := save(bath.Material{Kind: bath.Salt, Name: "Ammonium chloride", Salt: salt.AmmoniumChloride})
		earth := save(bath.Material{Kind: bath.Earth, Name: "fort earth"})
		water := save(bath.Material{Kind: bath.Water, Name: "rain water"})
		want := []bath.Material{water, earth, chloride, sulfate}
		if diff := cmp.Diff(want, must[[]bath.Material](t)(s.ListMaterials(ctx, ws))); diff != "" {
			t.Errorf("(- want, + got):\n%s", diff)
		}

		_, err := s.SaveMaterial(ctx, ws, bath.Material{Kind: bath.Earth, Name: "fort earth"})
		wantErr(t, "same kind and name", err, ErrDuplicate)
		_, err = s.SaveMaterial(ctx, ws, bath.Material{Kind: bath.Salt, Name: "another name", Salt: salt.AmmoniumChloride})
		wantErr(t, "the same salt under another name", err, ErrDuplicate)
		save(bath.Material{Kind: bath.Water, Name: "fort earth"}) // another kind
		_, err = s.SaveMaterial(ctx, ws, bath.Material{Kind: bath.Salt, Name: "chloride"})
		wantErr(t, "a salt without identity", err, ErrUnstorable)

		earth.Name = "fort earth, sieved"
		must[int64](t)(s.SaveMaterial(ctx, ws, earth))
		_, err = s.SaveMaterial(ctx, ws, earth)
		wantErr(t, "with an old edit", err, ErrConflict)
		chloride.Salt = salt.AluminiumChlorideHexahydrate
		_, err = s.SaveMaterial(ctx, ws, chloride)
		wantErr(t, "another salt", err, ErrIdentity)
	})
}

func TestLots(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		ws := must[int64](t)(s.SaveWorkshop(ctx, "first", aWorkshop()))
		earth := bath.Material{Kind: bath.Earth, Name: "fort earth", Edit: 1}
		earth.ID = must[int64](t)(s.SaveMaterial(ctx, ws, earth))
		sal := bath.Material{Kind: bath.Salt, Name: "blue vitriol", Salt: salt.CopperSulfatePentahydrate, Edit: 1}
		sal.ID = must[int64](t)(s.SaveMaterial(ctx, ws, sal))

		full := bath.Lot{
			Material: sal, Name: "bag 6", Received: time.Date(2031, 2, 3, 22, 0, 0, 1_500_000, time.FixedZone("", 5*3600+1800)),
			From: "Ækta 50% chemicals", Batch: "B_7", AmountG: ptr(unit.Gram(25000)), PriceMinor: ptr(int64(4990)),
			ParticleDensity: ptr(unit.GramPerCM3(2.61)), AssayPct: ptr(63.2), AssayBasis: bath.AssayAsAnhydrous, Note: "opened",
		}
		full.ID = must[int64](t)(s.SaveLot(ctx, ws, "k1", full))
		full.Edit, full.Received = 1, time.Date(2031, 2, 3, 16, 30, 0, 1_000_000, time.UTC)
		bare := bath.Lot{Material: earth, Name: "autumn digging", Edit: 1}
		bare.ID = must[int64](t)(s.SaveLot(ctx, ws, "k2", bath.Lot{Material: earth, Name: "autumn digging"}))
		damp := bath.Lot{Material: earth, Name: "spring digging", MoisturePct: ptr(0.0), UsedUp: true, Edit: 1}
		damp.ID = must[int64](t)(s.SaveLot(ctx, ws, "k3", bath.Lot{Material: earth, Name: "spring digging", MoisturePct: ptr(0.0), UsedUp: true}))

		for _, want := range []bath.Lot{full, bare, damp} {
			if diff := cmp.Diff(want, must[bath.Lot](t)(s.Lot(ctx, ws, want.ID))); diff != "" {
				t.Errorf("read back (- kept, + read):\n%s", diff)
			}
		}

		for _, tt := range []struct {
			name   string
			filter LotFilter
			want   []bath.Lot
			total  int
		}{
			{"all in use", LotFilter{}, []bath.Lot{bare, full}, 2},
			{"all", LotFilter{IncludeUsedUp: true}, []bath.Lot{bare, damp, full}, 3},
			{"salts", LotFilter{Kind: bath.Salt}, []bath.Lot{full}, 1},
			{"of a material", LotFilter{MaterialID: earth.ID}, []bath.Lot{bare}, 1},
			{"words in any case, in any order, of lot and material", LotFilter{Text: "æKTA  BLUE"}, []bath.Lot{full}, 1},
			{"percent is a letter like any other", LotFilter{Text: "50%"}, []bath.Lot{full}, 1},
			{"and so is an underscore", LotFilter{Text: "autumn_digging"}, nil, 0},
			{"unknown moisture is last", LotFilter{IncludeUsedUp: true, Page: Page{Sort: "moisture"}}, []bath.Lot{damp, full, bare}, 3},
			{"downwards too", LotFilter{IncludeUsedUp: true, Page: Page{Sort: "moisture", Desc: true}}, []bath.Lot{damp, bare, full}, 3},
			{"second page", LotFilter{IncludeUsedUp: true, Page: Page{Sort: "name", Limit: 1, Offset: 1}}, []bath.Lot{full}, 3},
			{"first page", LotFilter{IncludeUsedUp: true, Page: Page{Sort: "name", Limit: 2}}, []bath.Lot{bare, full}, 3},
			{"past the end", LotFilter{Page: Page{Limit: 5, Offset: 10}}, nil, 2},
			{"unknown sort key", LotFilter{Page: Page{Sort: "1; DROP TABLE lots"}}, []bath.Lot{bare, full}, 2},
		} {
			got, total, err := s.ListLots(ctx, ws, tt.filter)
			if err != nil {
				t.Errorf("%s: %v", tt.name, err)
			}
			if len(got) == 0 {
				got = nil
			}
			if diff := cmp.Diff(tt.want, got); diff != "" || total != tt.total {
				t.Errorf("%s: total %d, want %d (- want, + got):\n%s", tt.name, total, tt.total, diff)
			}
		}

		if err := s.UseUpLot(ctx, ws, full.ID); err != nil {
			t.Fatal(err)
		}
		if got := must[bath.Lot](t)(s.Lot(ctx, ws, full.ID)); !got.UsedUp {
			t.Error("used up, but not marked")
		}
		_, err := s.SaveLot(ctx, ws, "", full)
		wantErr(t, "saved from before it was used up", err, ErrConflict)
		if err := s.RestoreLot(ctx, ws, full.ID); err != nil {
			t.Fatal(err)
		}
		full.Edit, full.AssayPct, full.Note = 3, nil, ""
		must[int64](t)(s.SaveLot(ctx, ws, "", full))
		full.Edit = 4
		if diff := cmp.Diff(full, must[bath.Lot](t)(s.Lot(ctx, ws, full.ID))); diff != "" {
			t.Errorf("changed (- kept, + read):\n%s", diff)
		}
		wantErr(t, "use up a lot that is not there", s.UseUpLot(ctx, ws, 99), ErrNotFound)
		_, err = s.SaveLot(ctx, ws, "k9", bath.Lot{Material: bath.Material{ID: 99}})
		wantErr(t, "a lot of no material", err, ErrNotFound)
	})
}

func TestTanks(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		ws := must[int64](t)(s.SaveWorkshop(ctx, "first", aWorkshop()))
		shapes := []bath.Tank{
			{Name: "a box", Shape: bath.Box, Length: 60, Width: 40, Height: 35.5, Freeboard: 3},
			{Name: "B cylinder", Shape: bath.Cylinder, Diameter: 30, Height: 40},
			{Name: "c cone", Shape: bath.Cone, BottomDiameter: 0, TopDiameter: 50, Height: 40},
			aTank().Tank,
			{Name: "n drum", Shape: bath.Drum, Diameter: 58, Length: 88},
			{Name: "o marks", Shape: bath.Marks, MarkTable: []bath.Mark{{}, {Level: 10, Volume: 7.25}, {Level: 20, Volume: 16}}, Rim: ptr(unit.Centimetre(25))},
		}
		var want []bath.KeptTank
		for i, shape := range shapes {
			kept := bath.KeptTank{Tank: shape}
			kept.ID = must[int64](t)(s.SaveTank(ctx, ws, fmt.Sprint("k", i), kept))
			kept.Edit = 1
			want = append(want, kept)
			if diff := cmp.Diff(kept, must[bath.KeptTank](t)(s.Tank(ctx, ws, kept.ID))); diff != "" {
				t.Errorf("%s (- kept, + read):\n%s", shape.Name, diff)
			}
		}
		if diff := cmp.Diff(want, must[[]bath.KeptTank](t)(s.ListTanks(ctx, ws, false))); diff != "" {
			t.Errorf("list (- want, + got):\n%s", diff)
		}

		if err := s.RetireTank(ctx, ws, want[0].ID); err != nil {
			t.Fatal(err)
		}
		if got := must[[]bath.KeptTank](t)(s.ListTanks(ctx, ws, false)); len(got) != 5 || got[0].ID == want[0].ID {
			t.Errorf("the retired tank is still offered: %v", got)
		}
		if got := must[[]bath.KeptTank](t)(s.ListTanks(ctx, ws, true)); len(got) != 6 || got[5].ID != want[0].ID || !got[5].Retired {
			t.Errorf("the retired tank is not last of all: %v", got)
		}
		if err := s.RestoreTank(ctx, ws, want[0].ID); err != nil {
			t.Fatal(err)
		}
		changed := want[0]
		_, err := s.SaveTank(ctx, ws, "", changed)
		wantErr(t, "from before it was retired", err, ErrConflict)
		changed.Edit, changed.Name, changed.Height = 3, "a box, cut down", 30
		must[int64](t)(s.SaveTank(ctx, ws, "", changed))
		changed.Edit = 4
		if diff := cmp.Diff(changed, must[bath.KeptTank](t)(s.Tank(ctx, ws, changed.ID))); diff != "" {
			t.Errorf("changed (- kept, + read):\n%s", diff)
		}
	})
}

func TestRememberedForm(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		ws := must[int64](t)(s.SaveWorkshop(ctx, "first", aWorkshop()))
		if got := must[string](t)(s.RememberedForm(ctx, ws, "scale 1 2")); got != "" {
			t.Errorf("before anything was kept: %q", got)
		}
		for _, values := range []string{"load=1&step=2", "load=12%2C5"} {
			if err := s.RememberForm(ctx, ws, "scale 1 2", values); err != nil {
				t.Fatal(err)
			}
			if got := must[string](t)(s.RememberedForm(ctx, ws, "scale 1 2")); got != values {
				t.Errorf("got %q; want %q", got, values)
			}
		}
		wantErr(t, "in a workshop that is not there", s.RememberForm(ctx, 99, "k", "v"), ErrNotFound)
	})
}
