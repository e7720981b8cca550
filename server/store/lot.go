package store

import (
	"context"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"

	"blackbath/bath"
	"blackbath/bath/unit"
)

type lotRow struct {
	ID                     int64
	WorkshopID             int64
	EntryKey               string
	MaterialID             int64
	Name                   string
	ReceivedAt             *time.Time // nil: not recorded
	Source                 string
	Batch                  string
	AmountG                *float64
	PriceMinor             *int64
	MoisturePct            *float64
	ParticleDensityGPerCM3 *float64 `gorm:"column:particle_density_g_per_cm3"`
	AssayPct               *float64
	AssayBasis             string
	Note                   string
	UsedUp                 bool
	SearchText             string
	EnteredAt              time.Time
	Edit                   int64
}

func (lotRow) TableName() string { return "lots" }

func fromLot(workshopID int64, entryKey string, l bath.Lot) lotRow {
	row := lotRow{
		WorkshopID: workshopID, EntryKey: entryKey, MaterialID: l.Material.ID, Name: l.Name,
		Source: l.From, Batch: l.Batch, AmountG: convert[float64](l.AmountG), PriceMinor: l.PriceMinor,
		MoisturePct: l.MoisturePct, ParticleDensityGPerCM3: convert[float64](l.ParticleDensity),
		AssayPct: l.AssayPct, AssayBasis: string(l.AssayBasis), Note: l.Note, UsedUp: l.UsedUp,
		SearchText: searchText(l.Name, l.From, l.Batch, l.Note), EnteredAt: now(), Edit: l.Edit + 1,
	}
	if !l.Received.IsZero() {
		received := stamp(l.Received)
		row.ReceivedAt = &received
	}
	return row
}

func (r lotRow) value(m bath.Material) bath.Lot {
	lot := bath.Lot{
		ID: r.ID, Material: m, Name: r.Name, From: r.Source, Batch: r.Batch,
		AmountG: convert[unit.Gram](r.AmountG), PriceMinor: convert[int64](r.PriceMinor),
		MoisturePct: convert[float64](r.MoisturePct), ParticleDensity: convert[unit.GramPerCM3](r.ParticleDensityGPerCM3),
		AssayPct: convert[float64](r.AssayPct), AssayBasis: bath.AssayBasis(r.AssayBasis), Note: r.Note, UsedUp: r.UsedUp, Edit: r.Edit,
	}
	if r.ReceivedAt != nil {
		lot.Received = r.ReceivedAt.UTC()
	}
	return lot
}

func (r lotRow) typed() lotRow {
	r.ID, r.Edit, r.EnteredAt = 0, 0, time.Time{}
	if r.ReceivedAt != nil {
		received := r.ReceivedAt.UTC()
		r.ReceivedAt = &received
	}
	return r
}

// lotRead is a lot together with its material.
type lotRead struct {
	Row      lotRow      `gorm:"embedded"`
	Material materialRow `gorm:"embedded;embeddedPrefix:material_"`
}

// lots reads lots with their materials.
func (s *Store) lots(ctx context.Context, workshopID int64) *gorm.DB {
	return s.read.WithContext(ctx).Table("lots").
		Joins("JOIN materials ON materials.id = lots.material_id").
		Where("lots.workshop_id = ?", workshopID)
}

// lotColumns are those that a bath.Lot has; the others cost time on pages that show many lots.
const lotColumns = "lots.id, lots.material_id, lots.name, lots.received_at, lots.source, lots.batch, lots.amount_g, lots.price_minor, " +
	"lots.moisture_pct, lots.particle_density_g_per_cm3, lots.assay_pct, lots.assay_basis, lots.note, lots.used_up, lots.edit, " +
	"materials.kind AS material_kind, materials.name AS material_name, materials.salt AS material_salt, materials.edit AS material_edit"

func (r lotRead) value() bath.Lot {
	r.Material.ID = r.Row.MaterialID
	return r.Row.value(r.Material.value())
}

// A LotFilter says which lots are wanted; its zero value: all that are not used up. Sort keys: "material" (default), "name",
// "received", "from", "amount", "price", "moisture", "assay". What is not recorded comes last.
type LotFilter struct {
	Kind          bath.PartKind
	MaterialID    int64
	Text          string // words that must all occur in name, supplier, batch, note or material
	IncludeUsedUp bool
	Page
}

var lotOrders = map[string]string{
	"": byKind + ", lower(materials.name)", "name": "lower(lots.name)", "from": "lower(lots.source)", "received": "lots.received_at",
	"amount": "lots.amount_g", "price": "lots.price_minor", "moisture": "lots.moisture_pct", "assay": "lots.assay_pct",
}

// ListLots returns a page of the lots that the filter lets through, and how many it lets through in all.
func (s *Store) ListLots(ctx context.Context, workshopID int64, f LotFilter) ([]bath.Lot, int, error) {
	rows, total, err := s.lotRows(ctx, workshopID, f)
	return lotValues(rows), total, wrap("list the lots", err)
}

func (s *Store) lotRows(ctx context.Context, workshopID int64, f LotFilter) ([]lotRead, int, error) {
	q := s.lots(ctx, workshopID)
	if f.Kind != "" {
		q = q.Where("materials.kind = ?", string(f.Kind))
	}
	if f.MaterialID != 0 {
		q = q.Where("lots.material_id = ?", f.MaterialID)
	}
	if !f.IncludeUsedUp {
		q = q.Where("NOT lots.used_up")
	}
	for _, word := range strings.Fields(f.Text) {
		q = q.Where(`(lots.search_text LIKE ? ESCAPE '\' OR materials.search_text LIKE ? ESCAPE '\')`, like(word), like(word))
	}
	return page[lotRead](q, lotColumns, f.Page, lotOrders, "lots.id")
}

func lotValues(rows []lotRead) []bath.Lot {
	lots := make([]bath.Lot, len(rows))
	for i, r := range rows {
		lots[i] = r.value()
	}
	return lots
}

// Lot returns one lot.
func (s *Store) Lot(ctx context.Context, workshopID, id int64) (bath.Lot, error) {
	var row lotRead
	if err := s.lots(ctx, workshopID).Select(lotColumns).Where("lots.id = ?", id).Take(&row).Error; err != nil {
		return bath.Lot{}, wrap(fmt.Sprintf("read lot %d", id), err)
	}
	return row.value(), nil
}

// SaveLot stores a new lot when l.ID is 0, else it changes one, and returns its id. Of l.Material only the ID counts. A second
// new lot with the same entry key is not stored: the first one's id is returned, with an error that wraps [ErrConflict] when
// they differ.
func (s *Store) SaveLot(ctx context.Context, workshopID int64, entryKey string, l bath.Lot) (int64, error) {
	doing := fmt.Sprintf("save lot %q", l.Name)
	row := fromLot(workshopID, entryKey, l)
	if err := storable(row); err != nil {
		return 0, wrap(doing, err)
	}
	if l.ID != 0 {
		return l.ID, wrap(doing, overwrite(s.write.WithContext(ctx), workshopID, l.ID, l.Edit, &row))
	}
	err := s.change(ctx, workshopID, func(tx *gorm.DB) error {
		stored, err := entered[lotRow](tx, workshopID, entryKey)
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

// UseUpLot marks a lot as used up: the scale form stops offering it.
func (s *Store) UseUpLot(ctx context.Context, workshopID, id int64) error {
	err := setFlag[lotRow](s.write.WithContext(ctx), workshopID, id, "used_up", true)
	return wrap(fmt.Sprintf("mark lot %d as used up", id), err)
}

// RestoreLot undoes UseUpLot.
func (s *Store) RestoreLot(ctx context.Context, workshopID, id int64) error {
	err := setFlag[lotRow](s.write.WithContext(ctx), workshopID, id, "used_up", false)
	return wrap(fmt.Sprintf("restore lot %d", id), err)
}
