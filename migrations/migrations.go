// Package migrations is the database schema as numbered SQL, the same numbers for SQLite and for PostgreSQL.
//
// A file that was released is never edited: a change is a new pair of files with the next number.
package migrations

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

//go:embed sqlite/*.sql postgres/*.sql
var files embed.FS

// A Dialect is a kind of database; its name is that of the folder with its SQL.
type Dialect string

const (
	SQLite   Dialect = "sqlite"
	Postgres Dialect = "postgres"
)

// ErrNewer is wrapped by the error for a database that a newer program has changed.
var ErrNewer = errors.New("the database was last used by a newer blackbath")

// Version is the number of the newest schema that this program knows.
func Version() int64 {
	entries, _ := fs.ReadDir(files, string(SQLite)) // the embedded folder is always there
	var newest int64
	for _, e := range entries {
		if n, err := goose.NumericComponent(e.Name()); err == nil && n > newest {
			newest = n
		}
	}
	return newest
}

// Provider returns goose's view of db, for steps finer than [Up]. On PostgreSQL it takes turns with other processes; on
// SQLite the caller must, since goose has no lock for it.
func Provider(db *sql.DB, dialect Dialect) (*goose.Provider, error) {
	folder, err := fs.Sub(files, string(dialect))
	if err != nil {
		return nil, err
	}
	options := []goose.ProviderOption{goose.WithDisableGlobalRegistry(true)}
	kind := goose.DialectSQLite3
	if dialect == Postgres {
		kind = goose.DialectPostgres
		turns, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 120)) // asks every second for two minutes
		if err != nil {
			return nil, err
		}
		options = append(options, goose.WithSessionLocker(turns))
	}
	return goose.NewProvider(kind, db, folder, options...)
}

// Up brings the schema of db to [Version]. Before it changes a database that already has a schema it calls before, when that
// is not nil, with the schema's number. A database with a newer schema is left alone and gives an error that wraps [ErrNewer].
func Up(ctx context.Context, db *sql.DB, dialect Dialect, before func(ctx context.Context, from int64) error) error {
	p, err := Provider(db, dialect)
	if err != nil {
		return fmt.Errorf("read the schema's steps: %w", err)
	}
	have, want, err := p.GetVersions(ctx)
	switch {
	case err != nil:
		return fmt.Errorf("read the schema's number: %w", err)
	case have > want:
		return fmt.Errorf("%w: its schema has number %d, this program knows %d; start the newer program, or put back the copy from before the upgrade",
			ErrNewer, have, want)
	case have > 0 && have < want && before != nil:
		if err := before(ctx, have); err != nil {
			return err
		}
	}
	if _, err := p.Up(ctx); err != nil {
		return fmt.Errorf("bring the schema from number %d to %d: %w", have, want, err)
	}
	return nil
}
