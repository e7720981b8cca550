// Package store remembers what a workshop enters. It is the only package that sees a database: an embedded SQLite file, or
// PostgreSQL.
//
// Methods speak values of package bath; rows are private to this package. Every row belongs to a workshop, and a method sees
// only the rows of the workshop it is given; what belongs to another is [ErrNotFound]. What a person enters carries an entry
// key made where it was typed: sent twice it is stored once. A change carries the Edit that its maker saw; when somebody was
// faster it is [ErrConflict].
package store

import (
	"context"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// A Store is an open database. Its methods may be called from many goroutines.
type Store struct {
	read, write *gorm.DB
	state       func(ctx context.Context) (string, error) // differs when anything was stored in between, by whomever
	memory      scaleMemory
	close       func() error
}

// Close lets go of the database. Closing again does nothing.
func (s *Store) Close() error { return s.close() }

// A Page says which part of a list is wanted, and in which order. Each method names its sort keys; another key, or none,
// gives its default order.
type Page struct {
	Sort   string
	Desc   bool
	Limit  int // 0: no limit
	Offset int
}

// now is the time of an entry, in the steps that both databases keep.
func now() time.Time { return stamp(time.Now()) }

func stamp(t time.Time) time.Time { return t.UTC().Truncate(time.Millisecond) }

// change runs fn in a transaction that no other change in the same workshop can interleave, so that fn may look first and
// then write. fn must use only tx: the embedded database has a single connection that writes, and tx holds it.
func (s *Store) change(ctx context.Context, workshopID int64, fn func(tx *gorm.DB) error) error {
	return s.write.WithContext(ctx).Transaction(func(tx *gorm.DB) error {
		var turn struct{ ID int64 }
		// "No key" lets rows that point to the workshop be stored meanwhile. SQLite locks the whole file and has no such clause.
		err := tx.Table("workshops").Clauses(clause.Locking{Strength: "NO KEY UPDATE"}).Where("id = ?", workshopID).Take(&turn).Error
		if err != nil {
			return err
		}
		return fn(tx)
	})
}

// entered finds the row that was stored under an entry key; nil when there is none.
func entered[R any](tx *gorm.DB, workshopID int64, entryKey string) (*R, error) {
	var rows []R
	err := tx.Where("workshop_id = ? AND entry_key = ?", workshopID, entryKey).Limit(1).Find(&rows).Error
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	return &rows[0], nil
}

// overwrite replaces the row of one workshop by row where the row still has the edit that the editor saw.
func overwrite[R any](tx *gorm.DB, workshopID, id, edit int64, row *R) error {
	res := tx.Model(new(R)).Where("workshop_id = ? AND id = ? AND edit = ?", workshopID, id, edit).
		Select("*").Omit("id", "workshop_id", "entry_key", "entered_at").Updates(row)
	if res.Error != nil || res.RowsAffected == 1 {
		return res.Error
	}
	return missed[R](tx, workshopID, id)
}

// setFlag sets a yes-or-no column and counts the change.
func setFlag[R any](tx *gorm.DB, workshopID, id int64, column string, value bool) error {
	res := tx.Model(new(R)).Where("workshop_id = ? AND id = ?", workshopID, id).
		Updates(map[string]any{column: value, "edit": gorm.Expr("edit + 1")})
	if res.Error == nil && res.RowsAffected == 0 {
		return gorm.ErrRecordNotFound
	}
	return res.Error
}

// missed says why a change met no row: it is not there, or somebody was faster.
func missed[R any](tx *gorm.DB, workshopID, id int64) error {
	var n int64
	if err := tx.Model(new(R)).Where("workshop_id = ? AND id = ?", workshopID, id).Count(&n).Error; err != nil {
		return err
	}
	if n == 0 {
		return gorm.ErrRecordNotFound
	}
	return ErrConflict
}
