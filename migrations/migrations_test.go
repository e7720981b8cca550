package migrations

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	_ "github.com/jackc/pgx/v5/stdlib"
	_ "modernc.org/sqlite"
)

// eachDatabase runs a test on an empty SQLite file, and in an empty schema of the PostgreSQL that BLACKBATH_TEST_POSTGRES names.
func eachDatabase(t *testing.T, test func(t *testing.T, db *sql.DB, dialect Dialect)) {
	t.Run("sqlite", func(t *testing.T) {
		test(t, open(t, "sqlite", "file:"+filepath.Join(t.TempDir(), "a.db")+"?_pragma=foreign_keys(1)"), SQLite)
	})
	t.Run("postgres", func(t *testing.T) {
		address := os.Getenv("BLACKBATH_TEST_POSTGRES")
		if address == "" {
			if os.Getenv("BLACKBATH_TEST_ALL") == "1" {
				t.Fatal("BLACKBATH_TEST_ALL=1 but BLACKBATH_TEST_POSTGRES names no database")
			}
			t.Skip("not run on PostgreSQL: BLACKBATH_TEST_POSTGRES names no database")
		}
		name := fmt.Sprintf("migrations_%08x", rand.Uint32())
		admin := open(t, "pgx", address)
		if _, err := admin.Exec("CREATE SCHEMA " + name); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _, _ = admin.Exec("DROP SCHEMA " + name + " CASCADE") })
		u, err := url.Parse(address)
		if err != nil {
			t.Fatal(err)
		}
		q := u.Query()
		q.Set("search_path", name)
		u.RawQuery = q.Encode()
		test(t, open(t, "pgx", u.String()), Postgres)
	})
}

func open(t *testing.T, driver, address string) *sql.DB {
	t.Helper()
	db, err := sql.Open(driver, address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

// schema describes what stands in the database, in an order that does not depend on how it came there.
func schema(t *testing.T, db *sql.DB, dialect Dialect) string {
	t.Helper()
	query := `SELECT sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY type, name`
	if dialect == Postgres {
		query = `
SELECT line FROM (
	SELECT 1 AS part, format('column %s.%s %s%s%s', table_name, column_name, data_type, CASE is_nullable WHEN 'NO' THEN ' not null' ELSE '' END,
		coalesce(' default ' || column_default, '')) AS line
	FROM information_schema.columns WHERE table_schema = current_schema()
	UNION ALL SELECT 2, format('constraint %s %s %s', conrelid::regclass, conname, pg_get_constraintdef(oid))
	FROM pg_constraint WHERE connamespace = current_schema()::regnamespace AND contype <> 'n' AND conrelid <> 0 -- newer versions list NOT NULL here too
	UNION ALL SELECT 3, replace(indexdef, current_schema() || '.', '') FROM pg_indexes WHERE schemaname = current_schema()
	UNION ALL SELECT 4, replace(pg_get_triggerdef(oid), current_schema() || '.', '') FROM pg_trigger
	WHERE NOT tgisinternal AND tgrelid IN (SELECT oid FROM pg_class WHERE relnamespace = current_schema()::regnamespace)
	UNION ALL SELECT 5, replace(pg_get_functiondef(oid), current_schema() || '.', '') FROM pg_proc WHERE pronamespace = current_schema()::regnamespace
) AS all_lines ORDER BY part, line COLLATE "C"`
	}
	rows, err := db.Query(query)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var b strings.Builder
	for rows.Next() {
		var line string
		if err := rows.Scan(&line); err != nil {
			t.Fatal(err)
		}
		// goose's own table is not ours. It is left out here: as a condition of the query, PostgreSQL may test it on lines about
		// other schemas, which another test may be dropping.
		if !strings.Contains(line, "goose") {
			b.WriteString(strings.TrimSpace(line) + "\n")
		}
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The golden files are regression figures: a change of the schema must be meant.
func TestSchemaIsTheOneWrittenDown(t *testing.T) {
	eachDatabase(t, func(t *testing.T, db *sql.DB, dialect Dialect) {
		if err := Up(context.Background(), db, dialect, nil); err != nil {
			t.Fatal(err)
		}
		got := schema(t, db, dialect)
		path := filepath.Join("testdata", "schema_"+string(dialect)+".golden")
		want, err := os.ReadFile(path)
		if err != nil {
			t.Error(err)
		}
		if diff := cmp.Diff(string(want), got); diff != "" {
			_ = os.WriteFile(filepath.Join("testdata", "schema_"+string(dialect)+".got.golden"), []byte(got), 0o644)
			t.Errorf("the schema differs from %s (- written down, + now); if that is meant, copy the .got file over it:\n%s", path, diff)
		}
	})
}

func TestDownAndUpAgain(t *testing.T) {
	ctx := context.Background()
	eachDatabase(t, func(t *testing.T, db *sql.DB, dialect Dialect) {
		p, err := Provider(db, dialect)
		if err != nil {
			t.Fatal(err)
		}
		before := map[int64]string{0: schema(t, db, dialect)}
		for v := int64(1); v <= Version(); v++ {
			if _, err := p.UpTo(ctx, v); err != nil {
				t.Fatal(err)
			}
			before[v] = schema(t, db, dialect)
			if before[v] == before[v-1] {
				t.Errorf("step %d changes nothing", v)
			}
		}
		for v := Version(); v > 0; v-- {
			if _, err := p.Down(ctx); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(before[v-1], schema(t, db, dialect)); diff != "" {
				t.Errorf("down from %d does not lead back to %d (- wanted, + got):\n%s", v, v-1, diff)
			}
		}
		if err := Up(ctx, db, dialect, nil); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(before[Version()], schema(t, db, dialect)); diff != "" {
			t.Errorf("up again differs (- wanted, + got):\n%s", diff)
		}
	})
}

func TestNewerSchemaIsRefused(t *testing.T) {
	ctx := context.Background()
	eachDatabase(t, func(t *testing.T, db *sql.DB, dialect Dialect) {
		if err := Up(ctx, db, dialect, nil); err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec(fmt.Sprintf("INSERT INTO goose_db_version (version_id, is_applied) VALUES (%d, TRUE)", Version()+1)); err != nil {
			t.Fatal(err)
		}
		err := Up(ctx, db, dialect, nil)
		if !errors.Is(err, ErrNewer) {
			t.Fatalf("Up on a newer schema = %v; want ErrNewer", err)
		}
		for _, want := range []string{fmt.Sprint(Version()), fmt.Sprint(Version() + 1), "newer program"} {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%q does not say %q", err, want)
			}
		}
	})
}

func TestBeforeIsCalledOnlyForAnOldSchema(t *testing.T) {
	ctx := context.Background()
	eachDatabase(t, func(t *testing.T, db *sql.DB, dialect Dialect) {
		var calls []int64
		before := func(_ context.Context, from int64) error { calls = append(calls, from); return nil }
		if err := Up(ctx, db, dialect, before); err != nil { // an empty database: nothing to lose
			t.Fatal(err)
		}
		if err := Up(ctx, db, dialect, before); err != nil { // nothing to do
			t.Fatal(err)
		}
		p, err := Provider(db, dialect)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.Down(ctx); err != nil {
			t.Fatal(err)
		}
		refusal := errors.New("disk full")
		if err := Up(ctx, db, dialect, func(context.Context, int64) error { return refusal }); !errors.Is(err, refusal) {
			t.Errorf("Up = %v; want the error of the copy", err)
		}
		if v, err := p.GetDBVersion(ctx); err != nil || v != Version()-1 {
			t.Errorf("after a failed copy the schema is %d, %v; want %d, unchanged", v, err, Version()-1)
		}
		if err := Up(ctx, db, dialect, before); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]int64{Version() - 1}, calls); diff != "" {
			t.Errorf("calls (- wanted, + got):\n%s", diff)
		}
	})
}

func TestBothDialectsHaveTheSameSteps(t *testing.T) {
	names := map[Dialect][]string{}
	for _, d := range []Dialect{SQLite, Postgres} {
		entries, err := fs.ReadDir(files, string(d))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			names[d] = append(names[d], e.Name())
		}
	}
	if diff := cmp.Diff(names[SQLite], names[Postgres]); diff != "" {
		t.Errorf("files differ (- sqlite, + postgres):\n%s", diff)
	}
	if got, want := Version(), int64(len(names[SQLite])); got != want || want == 0 {
		t.Errorf("Version() = %d; want %d, the number of files", got, want)
	}
}
