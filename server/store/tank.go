package store

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"

	"blackbath/bath"
)

type tankRow struct {
	ID         int64
	WorkshopID int64
	EntryKey   string
	Name       string
	TankJSON   string
	Retired    bool
	EnteredAt  time.Time
	Edit       int64
}

func (tankRow) TableName() string { return "tanks" }

func fromKeptTank(workshopID int64, entryKey string, t bath.KeptTank) (tankRow, error) {
	shape, err := toJSON(fromTank(t.Tank))
	return tankRow{
		WorkshopID: workshopID, EntryKey: entryKey, Name: t.Name, TankJSON: shape, Retired: t.Retired,
		EnteredAt: now(), Edit: t.Edit + 1,
	}, err
}

func (r tankRow) value() (bath.KeptTank, error) {
	shape, err := fromJSON[tankJSON](r.TankJSON, "tank_json")
	return bath.KeptTank{ID: r.ID, Tank: shape.value(r.Name), Retired: r.Retired, Edit: r.Edit}, err
}

func (r tankRow) typed() tankRow {
	r.ID, r.Edit, r.EnteredAt = 0, 0, time.Time{}
	return r
}

// ListTanks returns the tanks of a workshop by name, the retired ones last, or not at all.
func (s *Store) ListTanks(ctx context.Context, workshopID int64, includeRetired bool) ([]bath.KeptTank, error) {
	rows, err := s.tankRows(ctx, workshopID, includeRetired)
	if err != nil {
		return nil, wrap("list the tanks", err)
	}
	tanks, err := tankValues(rows)
	return tanks, wrap("list the tanks", err)
}

// tankColumns are those that a bath.KeptTank has.
const tankColumns = "id, name, tank_json, retired, edit"

func (s *Store) tankRows(ctx context.Context, workshopID int64, includeRetired bool) ([]tankRow, error) {
	q := s.read.WithContext(ctx).Select(tankColumns).Where("workshop_id = ?", workshopID)
	if !includeRetired {
		q = q.Where("NOT retired")
	}
	var rows []tankRow
	err := q.Order("retired, lower(name), id").Find(&rows).Error
	return rows, err
}

func tankValues(rows []tankRow) ([]bath.KeptTank, error) {
	tanks := make([]bath.KeptTank, len(rows))
	for i, r := range rows {
		var err error
		if tanks[i], err = r.value(); err != nil {
			return nil, fmt.Errorf("tank %d: %w", r.ID, err)
		}
	}
	return tanks, nil
}

// Tank returns one tank.
func (s *Store) Tank(ctx context.Context, workshopID, id int64) (bath.KeptTank, error) {
	doing := fmt.Sprintf("read tank %d", id)
	var row tankRow
	err := s.read.WithContext(ctx).Select(tankColumns).Where("workshop_id = ? AND id = ?", workshopID, id).Take(&row).Error
	if err != nil {
		return bath.KeptTank{}, wrap(doing, err)
	}
	t, err := row.value()
	return t, wrap(doing, err)
}

// SaveTank stores a new tank when t.ID is 0, else it changes one, and returns its id. A second new tank with the same entry
// key is not stored: the first one's id is returned, with an error that wraps [ErrConflict] when they differ.
func (s *Store) SaveTank(ctx context.Context, workshopID int64, entryKey string, t bath.KeptTank) (int64, error) {
	doing := fmt.Sprintf("save tank %q", t.Name)
	row, err := fromKeptTank(workshopID, entryKey, t)
	if err == nil {
		err = storable(row)
	}
	if err != nil {
		return 0, wrap(doing, err)
	}
	if t.ID != 0 {
		return t.ID, wrap(doing, overwrite(s.write.WithContext(ctx), workshopID, t.ID, t.Edit, &row))
	}
	err = s.change(ctx, workshopID, func(tx *gorm.DB) error {
		stored, err := entered[tankRow](tx, workshopID, entryKey)
		if err != nil {
			return err
		}
		if stored != nil {
			again := row.typed()
			row.ID = stored.ID
			return sameEntry(stored.Edit, stored.typed(), again)
		}
		row.Edit = 1
		return tx.Create(&row).Error
	})
	return row.ID, wrap(doing, err)
}

// RetireTank takes a tank out of use. Its bath sheets stay.
func (s *Store) RetireTank(ctx context.Context, workshopID, id int64) error {
	err := setFlag[tankRow](s.write.WithContext(ctx), workshopID, id, "retired", true)
	return wrap(fmt.Sprintf("retire tank %d", id), err)
}

// RestoreTank undoes RetireTank.
func (s *Store) RestoreTank(ctx context.Context, workshopID, id int64) error {
	err := setFlag[tankRow](s.write.WithContext(ctx), workshopID, id, "retired", false)
	return wrap(fmt.Sprintf("restore tank %d", id), err)
}
