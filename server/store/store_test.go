package store

import (
	"context"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"net/url"
	"os"
	"testing"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// eachStore runs a test on a fresh SQLite file, and in a fresh schema of the PostgreSQL that BLACKBATH_TEST_POSTGRES names.
func eachStore(t *testing.T, test func(t *testing.T, s *Store)) {
	eachConfig(t, func(t *testing.T, c Config) { test(t, mustOpen(t, c)) })
}

func eachConfig(t *testing.T, test func(t *testing.T, c Config)) {
	t.Run("sqlite", func(t *testing.T) { test(t, Config{Dir: t.TempDir()}) })
	t.Run("postgres", func(t *testing.T) { test(t, Config{URL: postgresSchema(t)}) })
}

func postgresSchema(t testing.TB) string {
	t.Helper()
	address := os.Getenv("BLACKBATH_TEST_POSTGRES")
	if address == "" {
		if os.Getenv("BLACKBATH_TEST_ALL") == "1" {
			t.Fatal("BLACKBATH_TEST_ALL=1 but BLACKBATH_TEST_POSTGRES names no database")
		}
		t.Skip("not run on PostgreSQL: BLACKBATH_TEST_POSTGRES names no database")
	}
	admin, err := sql.Open("pgx", address)
	if err != nil {
		t.Fatal(err)
	}
	name := fmt.Sprintf("store_%08x", rand.Uint32())
	if _, err := admin.Exec("CREATE SCHEMA " + name); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_, _ = admin.Exec("DROP SCHEMA " + name + " CASCADE")
		admin.Close()
	})
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	q := u.Query()
	q.Set("search_path", name)
	u.RawQuery = q.Encode()
	return u.String()
}

func mustOpen(t testing.TB, c Config) *Store {
	t.Helper()
	s, err := Open(t.Context(), c)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// must stops the test on an error and hands on the value.
func must[T any](t testing.TB) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func ptr[T any](v T) *T { return &v }

var someDay = time.Date(2031, 5, 6, 7, 8, 9, 123_000_000, time.UTC)

func aWorkshop() bath.Workshop {
	return bath.Workshop{
		Name: "Ware by the Weir", WaterBoilsAt: ptr(unit.Celsius(97.25)), Altitude: ptr(unit.Metre(812)),
		Currency: "EUR", TimeZone: "Europe/Lisbon", Language: "en", BalanceStep: 0.5, Bucket: ptr(unit.Litre(9.5)),
	}
}

func aTank() bath.KeptTank {
	return bath.KeptTank{Tank: bath.Tank{
		Name: "Müller's bowl", Shape: bath.Bowl, RimDiameter: 60, Depth: 24.5, Freeboard: 4,
		HeaterKW: ptr(unit.Kilowatt(2.4)), Wall: "stainless-steel",
	}}
}

func aVersion() bath.Version {
	return bath.Version{
		Recipe: bath.Recipe{
			Name: "Deep black",
			Parts: []bath.Part{
				{Kind: bath.Water, Mass: 10000},
				{Kind: bath.Earth, Name: "old mortar earth", Mass: 2500},
				{Kind: bath.Salt, Salt: salt.AmmoniumChloride, Mass: 812.5},
				{Kind: bath.Salt, Salt: salt.PotassiumNitrate, Mass: 0.1},
			},
			Temp: bath.TempWindow{Min: 85, Target: 92.5, Max: 96},
			Soak: &bath.SoakWindow{Min: 2, Target: 4, Max: 7.5},
		},
		Change: "first written down", Why: "it works", MadeAt: someDay, MadeBy: "R.",
	}
}

// A fixture has one of everything that a bath sheet needs.
type fixture struct {
	workshop, tank, earth, chloride int64 // earth and chloride are lots
	version                         bath.Version
}

func furnish(t testing.TB, s *Store, prefix string) fixture {
	t.Helper()
	ctx := context.Background()
	var f fixture
	w := aWorkshop()
	w.Name = prefix + w.Name
	f.workshop = must[int64](t)(s.SaveWorkshop(ctx, prefix+"first", w))
	f.tank = must[int64](t)(s.SaveTank(ctx, f.workshop, "t1", aTank()))
	earth := must[int64](t)(s.SaveMaterial(ctx, f.workshop, bath.Material{Kind: bath.Earth, Name: "old mortar earth"}))
	chloride := must[int64](t)(s.SaveMaterial(ctx, f.workshop,
		bath.Material{Kind: bath.Salt, Name: "ammonium chloride", Salt: salt.AmmoniumChloride}))
	f.earth = must[int64](t)(s.SaveLot(ctx, f.workshop, "l1",
		bath.Lot{Material: bath.Material{ID: earth}, Name: "autumn digging", MoisturePct: ptr(18.5)}))
	f.chloride = must[int64](t)(s.SaveLot(ctx, f.workshop, "l2",
		bath.Lot{Material: bath.Material{ID: chloride}, Name: "bag 6", AssayPct: ptr(99.5), AssayBasis: bath.AssayAsNamed}))
	f.version = must[bath.Version](t)(s.SaveNewRecipe(ctx, f.workshop, "r1", aVersion()))
	return f
}

// sheet is what a person keeps of scaling the fixture's recipe to its tank.
func (f fixture) sheet(entryKey string) bath.BathSheet {
	recipe := aVersion().Recipe
	recipe.Parts[1].MoisturePct = ptr(18.5)
	recipe.Parts[2].AssayPct = ptr(99.5)
	return bath.BathSheet{
		EntryKey: entryKey, VersionID: f.version.ID, TankID: f.tank, LotIDs: []int64{0, f.earth, f.chloride, 0},
		Recipe: recipe, Tank: aTank().Tank,
		Conditions: bath.Conditions{Load: 150, Altitude: 812, WaterBoilsAt: ptr(unit.Celsius(97.25)), WaterTemp: 18,
			Coldest: ptr(unit.Celsius(15)), Step: 0.5, Bucket: ptr(unit.Litre(9.5)), LastChloride: bath.NoChloride},
		LoadArea: 3.5, Answer: []byte(`{"water_pour_g": 1.50, "note": "as printed"}`), Program: "v0", MadeAt: someDay, MadeBy: "R.",
	}
}
