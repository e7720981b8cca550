package store

import (
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5/pgconn"
	sqlitego "modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
)

// The errors that a caller may want to tell apart. They come wrapped: compare with errors.Is.
var (
	ErrNotFound      = errors.New("not found in this workshop")
	ErrDuplicate     = errors.New("there is already one with this name")
	ErrConflict      = errors.New("changed by somebody else meanwhile")
	ErrBusy          = errors.New("the database is busy")
	ErrVersionUsed   = errors.New("a bath sheet was made from this recipe version: it cannot change")
	ErrReasonMissing = errors.New("a new recipe version must say what changed and why")
	ErrIdentity      = errors.New("what a material is cannot change, only its name")
	ErrWrongLot      = errors.New("the lot is of another material than the part of the recipe")
	ErrStale         = errors.New("the recipe changed since the bath sheet was worked out")
	ErrUnstorable    = errors.New("cannot be kept")
)

// errFixed is the meaning of SQLite's error when a trigger of the schema refuses a change.
var errFixed = errors.New("refused by the schema")

// refusedByTrigger is the SQLSTATE that the PostgreSQL triggers of the schema raise.
const refusedByTrigger = "BB001"

// wrap names what failed and puts this package's own error in front of the database's.
func wrap(doing string, err error) error {
	if err == nil {
		return nil
	}
	for _, known := range []struct{ from, to error }{
		{gorm.ErrRecordNotFound, ErrNotFound},
		{gorm.ErrForeignKeyViolated, ErrNotFound}, // it points to a row that this workshop does not have
		{gorm.ErrDuplicatedKey, ErrDuplicate},
		{gorm.ErrCheckConstraintViolated, ErrUnstorable},
		{errFixed, ErrVersionUsed},
	} {
		if errors.Is(err, known.from) {
			return fmt.Errorf("%s: %w (%w)", doing, known.to, err)
		}
	}
	if e, ok := errors.AsType[*pgconn.PgError](err); ok && e.Code == refusedByTrigger {
		return fmt.Errorf("%s: %w (%w)", doing, ErrVersionUsed, err)
	}
	if busy(err) {
		return fmt.Errorf("%s: %w (%w)", doing, ErrBusy, err)
	}
	return fmt.Errorf("%s: %w", doing, err)
}

// busy reports whether the same call may well succeed a little later.
func busy(err error) bool {
	if e, ok := errors.AsType[*sqlitego.Error](err); ok {
		return e.Code()&0xff == sqlite3.SQLITE_BUSY
	}
	if e, ok := errors.AsType[*pgconn.PgError](err); ok {
		switch e.Code {
		case "40001", "40P01", "55P03", "53300", "57P03": // serialization, deadlock, lock, too many connections, starting up
			return true
		}
	}
	return false
}

// sqliteDialect is gorm's SQLite with errors that gorm recognises: its own translator knows only the C driver's.
type sqliteDialect struct{ *sqlite.Dialector }

// Translate gives a constraint's error the meaning that gorm gives it on PostgreSQL, with its cause kept.
func (sqliteDialect) Translate(err error) error {
	e, ok := errors.AsType[*sqlitego.Error](err)
	if !ok {
		return err
	}
	var means error
	switch e.Code() {
	case sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY, sqlite3.SQLITE_CONSTRAINT_UNIQUE:
		means = gorm.ErrDuplicatedKey
	case sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY:
		means = gorm.ErrForeignKeyViolated
	case sqlite3.SQLITE_CONSTRAINT_CHECK:
		means = gorm.ErrCheckConstraintViolated
	case sqlite3.SQLITE_CONSTRAINT_TRIGGER:
		means = errFixed
	default:
		return err
	}
	return fmt.Errorf("%w: %w", means, err)
}
