package store

import (
	"context"
	"fmt"
	"time"

	"blackbath/bath"
	"blackbath/bath/salt"
)

type materialRow struct {
	ID         int64
	WorkshopID int64
	Kind       string
	Name       string
	Salt       string
	SearchText string
	EnteredAt  time.Time
	Edit       int64
}

func (materialRow) TableName() string { return "materials" }

func fromMaterial(workshopID int64, m bath.Material) materialRow {
	return materialRow{
		WorkshopID: workshopID, Kind: string(m.Kind), Name: m.Name, Salt: string(m.Salt),
		SearchText: searchText(m.Name, string(m.Salt)), EnteredAt: now(), Edit: m.Edit + 1,
	}
}

func (r materialRow) value() bath.Material {
	return bath.Material{ID: r.ID, Kind: bath.PartKind(r.Kind), Name: r.Name, Salt: salt.ID(r.Salt), Edit: r.Edit}
}

// byKind is the order in which a recipe is read.
const byKind = "CASE materials.kind WHEN 'water' THEN 0 WHEN 'earth' THEN 1 ELSE 2 END"

// ListMaterials returns all materials of a workshop: waters, earths, salts, each by name.
func (s *Store) ListMaterials(ctx context.Context, workshopID int64) ([]bath.Material, error) {
	var rows []materialRow
	err := s.read.WithContext(ctx).Where("workshop_id = ?", workshopID).Order(byKind + ", lower(name), id").Find(&rows).Error
	if err != nil {
		return nil, wrap("list the materials", err)
	}
	materials := make([]bath.Material, len(rows))
	for i, r := range rows {
		materials[i] = r.value()
	}
	return materials, nil
}

// SaveMaterial stores a new material when m.ID is 0, else it renames one, and returns its id. A second one with the same kind
// and name, or of the same salt, gives an error that wraps [ErrDuplicate]. Its kind and salt can't change: [ErrIdentity].
func (s *Store) SaveMaterial(ctx context.Context, workshopID int64, m bath.Material) (int64, error) {
	doing := fmt.Sprintf("save material %q", m.Name)
	row := fromMaterial(workshopID, m)
	if err := storable(row); err != nil {
		return 0, wrap(doing, err)
	}
	db := s.write.WithContext(ctx)
	if m.ID == 0 {
		row.Edit = 1
		err := db.Create(&row).Error
		return row.ID, wrap(doing, err)
	}
	var was materialRow
	if err := db.Where("workshop_id = ? AND id = ?", workshopID, m.ID).Take(&was).Error; err != nil {
		return 0, wrap(doing, err)
	}
	if was.Kind != row.Kind || was.Salt != row.Salt {
		return 0, wrap(doing, ErrIdentity)
	}
	return m.ID, wrap(doing, overwrite(db, workshopID, m.ID, m.Edit, &row))
}
