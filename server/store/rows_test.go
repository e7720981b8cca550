package store

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gorm.io/gorm/schema"

	"blackbath/bath"
	"blackbath/bath/unit"
)

var allRows = []any{
	workshopRow{}, materialRow{}, lotRow{}, tankRow{}, formRow{}, recipeRow{}, versionRow{}, sheetRow{}, sheetLotRow{},
}

// Every table has a row struct with exactly its columns, and what a row leaves unknown the table may leave empty.
func TestRowsMatchTheSchema(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		query := `SELECT name FROM sqlite_master WHERE type = 'table'`
		if s.write.Name() == "postgres" {
			query = `SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()`
		}
		var tables []string
		if err := s.write.Raw(query).Scan(&tables).Error; err != nil {
			t.Fatal(err)
		}
		tables = slices.DeleteFunc(tables, func(name string) bool { return strings.HasPrefix(name, "goose_") || strings.HasPrefix(name, "sqlite_") })
		var have []string
		for _, row := range allRows {
			parsed, err := schema.Parse(row, &sync.Map{}, s.write.NamingStrategy)
			if err != nil {
				t.Fatal(err)
			}
			have = append(have, parsed.Table)
			type column struct {
				Name     string
				Nullable bool
			}
			var got, want []column
			for _, f := range parsed.Fields {
				got = append(got, column{f.DBName, f.FieldType.Kind() == reflect.Pointer})
			}
			query := `SELECT name, NOT "notnull" AND pk = 0 AS nullable FROM pragma_table_info(?)`
			if s.write.Name() == "postgres" {
				query = `SELECT column_name AS name, is_nullable = 'YES' AS nullable FROM information_schema.columns WHERE table_schema = current_schema() AND table_name = ?`
			}
			if err := s.write.Raw(query, parsed.Table).Scan(&want).Error; err != nil {
				t.Fatal(err)
			}
			byName := func(a, b column) int { return strings.Compare(a.Name, b.Name) }
			slices.SortFunc(got, byName)
			slices.SortFunc(want, byName)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s (- table, + row):\n%s", parsed.Table, diff)
			}
		}
		slices.Sort(have)
		slices.Sort(tables)
		if diff := cmp.Diff(tables, have); diff != "" {
			t.Errorf("tables (- schema, + rows):\n%s", diff)
		}
	})
}

// What one workshop enters, another neither sees nor changes nor points to.
func TestWorkshopsAreApart(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		a, b := furnish(t, s, "a "), furnish(t, s, "b ")
		if err := s.RememberForm(ctx, a.workshop, "k", "v"); err != nil {
			t.Fatal(err)
		}
		mine := must[int64](t)(s.SaveBathSheet(ctx, a.workshop, a.sheet("s1")))
		theirs := must[int64](t)(s.SaveBathSheet(ctx, b.workshop, b.sheet("s1"))) // the same key is another entry there
		if got := must[bath.BathSheet](t)(s.BathSheet(ctx, b.workshop, theirs)); got.Number != 1 || theirs == mine {
			t.Errorf("the other workshop's first sheet has number %d and id %d; want number 1 and another id than %d", got.Number, theirs, mine)
		}

		lot := must[bath.Lot](t)(s.Lot(ctx, a.workshop, a.earth))
		tank := must[bath.KeptTank](t)(s.Tank(ctx, a.workshop, a.tank))
		materials := must[[]bath.Material](t)(s.ListMaterials(ctx, a.workshop))
		reason := a.version
		for doing, try := range map[string]func() error{
			"Lot":           func() error { _, err := s.Lot(ctx, b.workshop, a.earth); return err },
			"Tank":          func() error { _, err := s.Tank(ctx, b.workshop, a.tank); return err },
			"Version":       func() error { _, err := s.Version(ctx, b.workshop, a.version.ID); return err },
			"RecipeBook":    func() error { _, err := s.RecipeBook(ctx, b.workshop, a.version.RecipeID); return err },
			"ScaleInputs":   func() error { _, err := s.ScaleInputs(ctx, b.workshop, a.version.RecipeID, 1); return err },
			"BathSheet":     func() error { _, err := s.BathSheet(ctx, b.workshop, mine); return err },
			"SaveMaterial":  func() error { _, err := s.SaveMaterial(ctx, b.workshop, materials[0]); return err },
			"SaveLot":       func() error { _, err := s.SaveLot(ctx, b.workshop, "", lot); return err },
			"SaveTank":      func() error { _, err := s.SaveTank(ctx, b.workshop, "", tank); return err },
			"UpdateVersion": func() error { return s.UpdateVersion(ctx, b.workshop, a.version) },
			"SaveVersion":   func() error { _, err := s.SaveVersion(ctx, b.workshop, "v2", reason); return err },
			"SaveProof":     func() error { return s.SaveProof(ctx, b.workshop, a.version.ID, 1, aProof()) },
			"UseUpLot":      func() error { return s.UseUpLot(ctx, b.workshop, a.earth) },
			"RestoreLot":    func() error { return s.RestoreLot(ctx, b.workshop, a.earth) },
			"RetireTank":    func() error { return s.RetireTank(ctx, b.workshop, a.tank) },
			"RestoreTank":   func() error { return s.RestoreTank(ctx, b.workshop, a.tank) },
			"RetireRecipe":  func() error { return s.RetireRecipe(ctx, b.workshop, a.version.RecipeID) },
			"RestoreRecipe": func() error { return s.RestoreRecipe(ctx, b.workshop, a.version.RecipeID) },
			"a new lot of their material": func() error {
				_, err := s.SaveLot(ctx, b.workshop, "l9", bath.Lot{Material: materials[0]})
				return err
			},
			"a sheet from their version": func() error {
				sheet := b.sheet("s9")
				sheet.VersionID = a.version.ID
				_, err := s.SaveBathSheet(ctx, b.workshop, sheet)
				return err
			},
			"a sheet for their tank": func() error {
				sheet := b.sheet("s9")
				sheet.TankID = a.tank
				_, err := s.SaveBathSheet(ctx, b.workshop, sheet)
				return err
			},
			"a sheet with their lot": func() error {
				sheet := b.sheet("s9")
				sheet.LotIDs[1] = a.earth
				_, err := s.SaveBathSheet(ctx, b.workshop, sheet)
				return err
			},
		} {
			wantErr(t, doing+" across workshops", try(), ErrNotFound)
		}

		lots, _, err := s.ListLots(ctx, b.workshop, LotFilter{IncludeUsedUp: true})
		if err != nil || len(lots) != 2 || lots[0].ID == a.earth {
			t.Errorf("lots %v, %v; want b's two", lots, err)
		}
		recipes, _, err := s.ListRecipes(ctx, b.workshop, RecipeFilter{IncludeRetired: true})
		if err != nil || len(recipes) != 1 || recipes[0].ID != b.version.RecipeID {
			t.Errorf("recipes %v, %v; want b's one", recipes, err)
		}
		sheets, _, err := s.ListBathSheets(ctx, b.workshop, SheetFilter{})
		if err != nil || len(sheets) != 1 || sheets[0].ID != theirs {
			t.Errorf("sheets %v, %v; want b's one", sheets, err)
		}
		if tanks := must[[]bath.KeptTank](t)(s.ListTanks(ctx, b.workshop, true)); len(tanks) != 1 || tanks[0].ID != b.tank {
			t.Errorf("tanks %v; want b's one", tanks)
		}
		if m := must[[]bath.Material](t)(s.ListMaterials(ctx, b.workshop)); len(m) != 2 || m[0].ID == materials[0].ID {
			t.Errorf("materials %v; want b's two", m)
		}
		if got := must[string](t)(s.RememberedForm(ctx, b.workshop, "k")); got != "" {
			t.Errorf("remembered %q across workshops", got)
		}
	})
}

func TestUnstorable(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		nan, inf := math.NaN(), math.Inf(1)
		for field, try := range map[string]func() error{
			"WaterBoilsC": func() error {
				w := aWorkshop()
				w.WaterBoilsAt = ptr(unit.Celsius(nan))
				_, err := s.SaveWorkshop(ctx, "k", w)
				return err
			},
			"MoisturePct": func() error {
				_, err := s.SaveLot(ctx, f.workshop, "k", bath.Lot{MoisturePct: &inf})
				return err
			},
			"RimDiameterCM": func() error {
				tank := aTank()
				tank.RimDiameter = unit.Centimetre(nan)
				_, err := s.SaveTank(ctx, f.workshop, "k", tank)
				return err
			},
			"Marks[1].VolumeL": func() error {
				tank := bath.Tank{MarkTable: []bath.Mark{{}, {Level: 1, Volume: unit.Litre(inf)}}}
				_, err := s.SaveTank(ctx, f.workshop, "k", bath.KeptTank{Tank: tank})
				return err
			},
			"Parts[3].MassG": func() error {
				v := aVersion()
				v.Recipe.Parts[3].Mass = unit.Gram(nan)
				_, err := s.SaveNewRecipe(ctx, f.workshop, "k", v)
				return err
			},
			"Ranges[heat_up_min].Hi": func() error {
				p := aProof()
				p.Ranges[bath.HeatUp] = bath.Range{Lo: 1, Hi: inf}
				return s.SaveProof(ctx, f.workshop, f.version.ID, 1, p)
			},
			"LoadCM3": func() error {
				sheet := f.sheet("k")
				sheet.Conditions.Load = unit.CubicCM(-inf)
				_, err := s.SaveBathSheet(ctx, f.workshop, sheet)
				return err
			},
			"Why": func() error {
				v := aVersion()
				v.Why = "a\x00b"
				_, err := s.SaveNewRecipe(ctx, f.workshop, "k", v)
				return err
			},
			"FormValues": func() error { return s.RememberForm(ctx, f.workshop, "k", "\xff") },
			"Name": func() error {
				_, err := s.SaveMaterial(ctx, f.workshop, bath.Material{Kind: bath.Earth, Name: "\xc3("})
				return err
			},
		} {
			err := try()
			wantErr(t, field, err, ErrUnstorable)
			if err != nil && !strings.Contains(err.Error(), field) {
				t.Errorf("%q does not name %s", err, field)
			}
		}
		if got := must[string](t)(s.RememberedForm(ctx, f.workshop, "k")); got != "" {
			t.Errorf("kept %q", got)
		}
	})
}

// The pure-Go SQLite works only with the very libc that it was made with.
func TestLibcIsTheOneThatSQLiteNames(t *testing.T) {
	list := func(module string) (m struct{ Version, GoMod string }) {
		t.Helper()
		out, err := exec.Command("go", "list", "-m", "-json", module).Output()
		if err == nil {
			err = json.Unmarshal(out, &m)
		}
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	file := must[[]byte](t)(os.ReadFile(list("modernc.org/sqlite").GoMod))
	named := regexp.MustCompile(`(?m)modernc\.org/libc (v\S+)`).FindSubmatch(file)
	if named == nil {
		t.Fatal("modernc.org/sqlite's go.mod does not name libc")
	}
	if got, want := list("modernc.org/libc").Version, string(named[1]); got != want {
		t.Errorf("go.mod has modernc.org/libc %s; want %s, which modernc.org/sqlite names", got, want)
	}
}
