package store

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"blackbath/bath"
	"blackbath/bath/unit"
)

type workshopRow struct {
	ID           int64
	EntryKey     string
	Name         string
	Invented     bool
	WaterBoilsC  *float64
	AltitudeM    *float64
	Currency     string
	TimeZone     string
	Language     string
	BalanceStepG float64
	BucketL      *float64
	EnteredAt    time.Time
	Edit         int64
}

func (workshopRow) TableName() string { return "workshops" }

func fromWorkshop(entryKey string, w bath.Workshop) workshopRow {
	return workshopRow{
		EntryKey: entryKey, Name: w.Name, Invented: w.Invented,
		WaterBoilsC: convert[float64](w.WaterBoilsAt), AltitudeM: convert[float64](w.Altitude),
		Currency: w.Currency, TimeZone: w.TimeZone, Language: w.Language,
		BalanceStepG: float64(w.BalanceStep), BucketL: convert[float64](w.Bucket),
		EnteredAt: now(), Edit: w.Edit + 1,
	}
}

func (r workshopRow) value() bath.Workshop {
	return bath.Workshop{
		ID: r.ID, Name: r.Name, Invented: r.Invented,
		WaterBoilsAt: convert[unit.Celsius](r.WaterBoilsC), Altitude: convert[unit.Metre](r.AltitudeM),
		Currency: r.Currency, TimeZone: r.TimeZone, Language: r.Language,
		BalanceStep: unit.Gram(r.BalanceStepG), Bucket: convert[unit.Litre](r.BucketL),
		Edit: r.Edit,
	}
}

// Workshop returns the workshop that was entered first: on an embedded database, the only one. Before the first is entered
// the error wraps [ErrNotFound].
func (s *Store) Workshop(ctx context.Context) (bath.Workshop, error) {
	var row workshopRow
	if err := s.read.WithContext(ctx).Order("id").Take(&row).Error; err != nil {
		return bath.Workshop{}, wrap("read the workshop", err)
	}
	return row.value(), nil
}

// SaveWorkshop stores a new workshop when w.ID is 0, else it changes one, and returns its id. A second new workshop with the
// same entry key is not stored: the first one's id is returned, with an error that wraps [ErrConflict] when they differ.
func (s *Store) SaveWorkshop(ctx context.Context, entryKey string, w bath.Workshop) (int64, error) {
	doing := fmt.Sprintf("save workshop %q", w.Name)
	row := fromWorkshop(entryKey, w)
	if err := storable(row); err != nil {
		return 0, wrap(doing, err)
	}
	db := s.write.WithContext(ctx)
	if w.ID != 0 {
		return w.ID, wrap(doing, overwriteWorkshop(db, w, &row))
	}
	row.Edit = 1
	once := clause.OnConflict{Columns: []clause.Column{{Name: "entry_key"}}, DoNothing: true}
	res := db.Clauses(once).Create(&row)
	if res.Error != nil || res.RowsAffected == 1 {
		return row.ID, wrap(doing, res.Error)
	}
	var stored workshopRow
	if err := db.Where("entry_key = ?", entryKey).Take(&stored).Error; err != nil {
		return 0, wrap(doing, err)
	}
	return stored.ID, wrap(doing, sameEntry(stored.Edit, stored.typed(), row.typed()))
}

func overwriteWorkshop(db *gorm.DB, w bath.Workshop, row *workshopRow) error {
	res := db.Model(&workshopRow{}).Where("id = ? AND edit = ?", w.ID, w.Edit).
		Select("*").Omit("id", "entry_key", "entered_at").Updates(row)
	if res.Error != nil || res.RowsAffected == 1 {
		return res.Error
	}
	if err := db.Select("id").Take(&workshopRow{}, w.ID).Error; err != nil {
		return err
	}
	return ErrConflict
}

func (r workshopRow) typed() workshopRow {
	r.ID, r.Edit, r.EnteredAt = 0, 0, time.Time{}
	return r
}

// errOtherEntry tells a form that was sent twice from one that was sent, altered and sent again: the second must not get lost
// unsaid.
var errOtherEntry = errors.New("this form was saved before, with other values")

// sameEntry compares what was stored under an entry key with what comes under it now. A row that was edited since can't tell.
func sameEntry(storedEdit int64, stored, again any) error {
	if storedEdit > 1 || reflect.DeepEqual(stored, again) {
		return nil
	}
	return fmt.Errorf("%w: %w", ErrConflict, errOtherEntry)
}
