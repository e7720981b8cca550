package store

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm/clause"
)

type formRow struct {
	WorkshopID int64  `gorm:"primaryKey;autoIncrement:false"`
	FormKey    string `gorm:"primaryKey"`
	FormValues string
	EnteredAt  time.Time
}

func (formRow) TableName() string { return "remembered_forms" }

// RememberForm keeps what a form was filled in with, in place of what was kept under the same key.
func (s *Store) RememberForm(ctx context.Context, workshopID int64, key, values string) error {
	doing := fmt.Sprintf("remember form %q", key)
	row := formRow{WorkshopID: workshopID, FormKey: key, FormValues: values, EnteredAt: now()}
	if err := storable(row); err != nil {
		return wrap(doing, err)
	}
	return wrap(doing, s.write.WithContext(ctx).Clauses(clause.OnConflict{
		Columns:   []clause.Column{{Name: "workshop_id"}, {Name: "form_key"}},
		DoUpdates: clause.AssignmentColumns([]string{"form_values", "entered_at"}),
	}).Create(&row).Error)
}

// RememberedForm returns what was kept under a key; "" when nothing was.
func (s *Store) RememberedForm(ctx context.Context, workshopID int64, key string) (string, error) {
	var found []string
	err := s.read.WithContext(ctx).Table("remembered_forms").Where("workshop_id = ? AND form_key = ?", workshopID, key).
		Limit(1).Pluck("form_values", &found).Error
	if err != nil || len(found) == 0 {
		return "", wrap(fmt.Sprintf("read remembered form %q", key), err)
	}
	return found[0], nil
}
