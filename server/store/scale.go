package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"sync"

	"gorm.io/gorm"

	"blackbath/bath"
	"blackbath/bath/salt"
)

// ScaleInputs is what the store knows for the scale page of one recipe version.
type ScaleInputs struct {
	Version      bath.Version
	Tanks        []bath.KeptTank // all in use, by name
	Lots         []bath.Lot      // all that are not used up, by material
	LastChloride salt.ID         // see Store.LastChloride
}

// ScaleInputs reads what the scale page needs for a version by its number in its recipe. That page recomputes at every change
// in a field, so this is quick when nothing was stored in between. What it returns is the caller's own.
func (s *Store) ScaleInputs(ctx context.Context, workshopID, recipeID int64, number int) (ScaleInputs, error) {
	doing := fmt.Sprintf("read what scales version %d of recipe %d", number, recipeID)
	rows, err := s.scaleRows(ctx, scaleKey{workshopID, recipeID, number})
	if err != nil {
		return ScaleInputs{}, wrap(doing, err)
	}
	in := ScaleInputs{Lots: lotValues(rows.lots), LastChloride: rows.last}
	if in.Version, err = rows.version.value(); err != nil {
		return ScaleInputs{}, wrap(doing, err)
	}
	in.Tanks, err = tankValues(rows.tanks)
	return in, wrap(doing, err)
}

type scaleKey struct {
	workshopID, recipeID int64
	number               int
}

// scaleRows are rows and not values, since a caller may write into a value: the figures of a lot into a recipe.
type scaleRows struct {
	version versionRead
	tanks   []tankRow
	lots    []lotRead
	last    salt.ID
}

// scaleMemory holds rows that were read while the database was in one state.
type scaleMemory struct {
	mu    sync.Mutex
	state string
	rows  map[scaleKey]*scaleRows
}

// scaleMemoryLimit is far above the versions that a workshop has in use; it bounds the memory, no more.
const scaleMemoryLimit = 200

// scaleRows takes the rows from memory when nobody, in this process or another, stored anything since they were read. The
// state is asked for before the rows are read: when a change comes in between, the next call sees another state.
func (s *Store) scaleRows(ctx context.Context, key scaleKey) (*scaleRows, error) {
	m := &s.memory
	state, err := s.state(ctx)
	if err != nil {
		return nil, err
	}
	m.mu.Lock()
	rows, known := m.rows[key]
	known = known && m.state == state
	m.mu.Unlock()
	if known {
		return rows, nil
	}
	if rows, err = s.readScaleRows(ctx, key); err != nil {
		return nil, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.state != state || len(m.rows) >= scaleMemoryLimit {
		m.state, m.rows = state, make(map[scaleKey]*scaleRows)
	}
	m.rows[key] = rows
	return rows, nil
}

func (s *Store) readScaleRows(ctx context.Context, key scaleKey) (rows *scaleRows, err error) {
	rows = new(scaleRows)
	err = s.read.WithContext(ctx).Table("recipe_versions").Select(versionColumns).
		Where("workshop_id = ? AND recipe_id = ? AND number = ?", key.workshopID, key.recipeID, key.number).Take(&rows.version).Error
	if err != nil {
		return nil, err
	}
	if rows.tanks, err = s.tankRows(ctx, key.workshopID, false); err != nil {
		return nil, err
	}
	if rows.lots, _, err = s.lotRows(ctx, key.workshopID, LotFilter{}); err != nil {
		return nil, err
	}
	rows.last, err = s.LastChloride(ctx, key.workshopID)
	return rows, err
}

// sqliteState returns a function that tells the states of the embedded database apart: SQLite's data_version changes, as one
// and the same connection sees it, with every change that any other connection or process commits. This connection commits
// none.
func sqliteState(ctx context.Context, readers *sql.DB) (state func(context.Context) (string, error), done func() error, err error) {
	conn, err := readers.Conn(ctx)
	if err != nil {
		return nil, nil, err
	}
	ask, err := conn.PrepareContext(ctx, "PRAGMA data_version")
	if err != nil {
		return nil, nil, errors.Join(err, conn.Close())
	}
	var mu sync.Mutex
	state = func(ctx context.Context) (version string, err error) {
		if err := ctx.Err(); err != nil {
			return "", err
		}
		mu.Lock()
		defer mu.Unlock()
		// Not the caller's context: a request that is given up must not cost us the connection.
		err = ask.QueryRowContext(context.WithoutCancel(ctx)).Scan(&version)
		return version, err
	}
	return state, func() error { return errors.Join(ask.Close(), conn.Close()) }, nil
}

// postgresState does the same for PostgreSQL: two equal snapshots see the same committed changes.
func postgresState(db *gorm.DB) func(context.Context) (string, error) {
	return func(ctx context.Context) (snapshot string, err error) {
		err = db.WithContext(ctx).Raw("SELECT pg_current_snapshot()::text").Scan(&snapshot).Error
		return snapshot, err
	}
}
