package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	"gorm.io/driver/postgres"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"

	"blackbath/migrations"
)

// Config says where the database is.
type Config struct {
	Dir string // folder of the embedded database; made when it is not there
	URL string // of a PostgreSQL database; "": the embedded one
}

// databaseName is the embedded database's file in Config.Dir.
const databaseName = "blackbath.db"

// Open opens the database and brings its schema up to date. Before it changes an existing embedded database it writes a copy
// beside it, named blackbath-before-upgrade-*.db. A database that a newer program has changed gives an error that wraps
// [migrations.ErrNewer].
func Open(ctx context.Context, c Config) (*Store, error) {
	if c.URL != "" {
		s, err := openPostgres(ctx, c.URL)
		return s, wrap("open the PostgreSQL database", err)
	}
	s, err := openSQLite(ctx, c.Dir)
	return s, wrap(fmt.Sprintf("open the database in %q", c.Dir), err)
}

func openPostgres(ctx context.Context, address string) (*Store, error) {
	db, err := gorm.Open(postgres.Open(address), gormConfig(false))
	if err != nil {
		return nil, err
	}
	pool, err := db.DB()
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(16)
	pool.SetMaxIdleConns(16)
	pool.SetConnMaxIdleTime(5 * time.Minute)
	if err := migrations.Up(ctx, pool, migrations.Postgres, nil); err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	return &Store{read: db, write: db, state: postgresState(db), close: sync.OnceValue(pool.Close)}, nil
}

func openSQLite(ctx context.Context, dir string) (_ *Store, err error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	path, err := filepath.Abs(filepath.Join(dir, databaseName))
	if err != nil {
		return nil, err
	}
	endTurn, err := takeTurn(ctx, path+".lock")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, endTurn()) }()

	// Nobody else on the machine needs to read it. An existing file is left as its owner set it, and is not opened here:
	// closing any handle on it would drop the locks that another connection of this process holds.
	if f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600); err == nil {
		if err := f.Close(); err != nil {
			return nil, err
		}
	} else if !errors.Is(err, os.ErrExist) {
		return nil, err
	}
	write, writers, err := openPool(writerDSN(path), 1, gormConfig(false))
	if err != nil {
		return nil, err
	}
	copyFirst := func(ctx context.Context, from int64) error { return copyBeforeUpgrade(ctx, writers, dir, from) }
	if err := migrations.Up(ctx, writers, migrations.SQLite, copyFirst); err != nil {
		return nil, errors.Join(err, writers.Close())
	}
	read, readers, err := openPool(readerDSN(path), max(4, runtime.NumCPU())+1, gormConfig(true)) // one only asks for the state
	if err != nil {
		return nil, errors.Join(err, writers.Close())
	}
	state, done, err := sqliteState(ctx, readers)
	if err != nil {
		return nil, errors.Join(err, readers.Close(), writers.Close())
	}
	closeAll := func() error { return errors.Join(done(), readers.Close(), writers.Close()) } // the writer tidies its log away
	return &Store{read: read, write: write, state: state, close: sync.OnceValue(closeAll)}, nil
}

func gormConfig(prepare bool) *gorm.Config {
	return &gorm.Config{
		TranslateError:         true,
		SkipDefaultTransaction: true, // one statement is a transaction already; more than one go through Store.change
		PrepareStmt:            prepare,
		NowFunc:                now,
		Logger:                 logger.Discard, // errors are returned
	}
}

func openPool(dsn string, size int, config *gorm.Config) (*gorm.DB, *sql.DB, error) {
	pool, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, nil, err
	}
	pool.SetMaxOpenConns(size)
	pool.SetMaxIdleConns(size)
	dialect := sqliteDialect{sqlite.New(sqlite.Config{DriverName: "sqlite", Conn: pool}).(*sqlite.Dialector)}
	db, err := gorm.Open(dialect, config)
	if err != nil {
		return nil, nil, errors.Join(err, pool.Close())
	}
	return db, pool, nil
}

// The waiting time comes first: the switch to WAL may already have to wait. Synchronous is FULL because an entry that was
// shown as saved must survive a power cut. A change begins with the lock taken, so that another process waits instead of
// failing half-way.
func writerDSN(path string) string {
	return dsn(path, "_pragma=busy_timeout(5000)", "_pragma=journal_mode(WAL)", "_pragma=synchronous(FULL)",
		"_pragma=foreign_keys(1)", "_time_format=sqlite", "_timezone=UTC", "_texttotime=1", "_dqs=0", "_txlock=immediate")
}

func readerDSN(path string) string {
	return dsn(path, "mode=ro", "_pragma=busy_timeout(5000)", "_pragma=query_only(1)",
		"_time_format=sqlite", "_timezone=UTC", "_texttotime=1", "_dqs=0")
}

// dsn writes path as a URI, so that a folder may have a '?', '#' or '%' in its name.
func dsn(path string, options ...string) string {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // a drive letter
	}
	return (&url.URL{Scheme: "file", Path: slashed}).String() + "?" + strings.Join(options, "&")
}

// takeTurn waits until no other process is opening the same database. goose has no lock for SQLite, so an exclusive
// transaction on a file beside the database is the lock.
func takeTurn(ctx context.Context, path string) (endTurn func() error, err error) {
	side, err := sql.Open("sqlite", dsn(path, "_pragma=busy_timeout(60000)", "_txlock=exclusive"))
	if err != nil {
		return nil, err
	}
	tx, err := side.BeginTx(ctx, nil)
	if err != nil {
		return nil, errors.Join(err, side.Close())
	}
	return func() error { return errors.Join(tx.Rollback(), side.Close()) }, nil
}

// copyBeforeUpgrade writes a copy of the database as it is. A copy that was cut short never gets the good name.
func copyBeforeUpgrade(ctx context.Context, db *sql.DB, dir string, from int64) error {
	name := fmt.Sprintf("blackbath-before-upgrade-from-%d-%s.db", from, now().Format("20060102-150405.000"))
	path := filepath.Join(dir, name)
	partial := path + ".partial"
	err := writeCopy(ctx, db, partial)
	if err == nil {
		err = os.Rename(partial, path)
	}
	if err != nil {
		return fmt.Errorf("copy the database before the upgrade to %q: %w", path, errors.Join(err, os.RemoveAll(partial)))
	}
	return nil
}

func writeCopy(ctx context.Context, db *sql.DB, path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600) // VACUUM INTO takes an empty file and keeps its mode
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", path); err != nil {
		return err
	}
	f, err = os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
