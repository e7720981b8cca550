package store

import (
	"context"
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"time"

	"gorm.io/gorm"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

type sheetRow struct {
	ID             int64
	WorkshopID     int64
	EntryKey       string
	Number         int
	VersionID      int64
	TankID         int64
	RecipeName     string
	RecipeJSON     string
	TankName       string
	TankJSON       string
	ConditionsJSON string
	LoadAreaDM2    float64 `gorm:"column:load_area_dm2"`
	AnswerJSON     string
	Chloride       string
	Program        string
	MadeAt         time.Time
	MadeBy         string
	SearchText     string
	EnteredAt      time.Time
}

func (sheetRow) TableName() string { return "bath_sheets" }

// sheetLotRow is the lot that one part of a sheet's recipe was weighed from.
type sheetLotRow struct {
	WorkshopID int64
	SheetID    int64 `gorm:"primaryKey;autoIncrement:false"`
	Part       int   `gorm:"primaryKey;autoIncrement:false"`
	LotID      int64
}

func (sheetLotRow) TableName() string { return "bath_sheet_lots" }

func fromSheet(workshopID int64, s bath.BathSheet) (row sheetRow, err error) {
	row = sheetRow{
		WorkshopID: workshopID, EntryKey: s.EntryKey, VersionID: s.VersionID, TankID: s.TankID,
		RecipeName: s.Recipe.Name, TankName: s.Tank.Name, LoadAreaDM2: float64(s.LoadArea), AnswerJSON: string(s.Answer),
		Chloride: string(chlorideOf(s.Recipe)), Program: s.Program, MadeAt: stamp(s.MadeAt), MadeBy: s.MadeBy, EnteredAt: now(),
	}
	if s.MadeAt.IsZero() {
		row.MadeAt = row.EnteredAt
	}
	if !json.Valid(s.Answer) {
		return row, fmt.Errorf("answer: %w: not JSON", ErrUnstorable)
	}
	if len(s.LotIDs) > len(s.Recipe.Parts) {
		return row, fmt.Errorf("%d lots for %d parts: %w", len(s.LotIDs), len(s.Recipe.Parts), ErrUnstorable)
	}
	if row.RecipeJSON, err = toJSON(fromRecipe(s.Recipe)); err != nil {
		return row, err
	}
	if row.TankJSON, err = toJSON(fromTank(s.Tank)); err != nil {
		return row, err
	}
	if row.ConditionsJSON, err = toJSON(fromConditions(s.Conditions)); err != nil {
		return row, err
	}
	return row, storable(row)
}

func (r sheetRow) value(lots []sheetLotRow) (bath.BathSheet, error) {
	s := bath.BathSheet{
		ID: r.ID, Number: r.Number, EntryKey: r.EntryKey, VersionID: r.VersionID, TankID: r.TankID,
		LoadArea: unit.SquareDM(r.LoadAreaDM2), Answer: json.RawMessage(r.AnswerJSON), Program: r.Program,
		MadeAt: r.MadeAt.UTC(), MadeBy: r.MadeBy,
	}
	recipe, err := fromJSON[recipeJSON](r.RecipeJSON, "recipe_json")
	if err != nil {
		return s, err
	}
	tank, err := fromJSON[tankJSON](r.TankJSON, "tank_json")
	if err != nil {
		return s, err
	}
	conditions, err := fromJSON[conditionsJSON](r.ConditionsJSON, "conditions_json")
	if err != nil {
		return s, err
	}
	s.Recipe, s.Tank, s.Conditions = recipe.value(r.RecipeName), tank.value(r.TankName), conditions.value()
	s.LotIDs = make([]int64, len(s.Recipe.Parts))
	for _, l := range lots {
		if l.Part < len(s.LotIDs) {
			s.LotIDs[l.Part] = l.LotID
		}
	}
	return s, nil
}

// typed leaves what a person chose; the figures follow from it. What the workshop used last is no choice: the first sheet may
// itself have changed it.
func (r sheetRow) typed() sheetRow {
	r.ID, r.Number, r.MadeAt, r.EnteredAt = 0, 0, time.Time{}, time.Time{}
	r.AnswerJSON, r.Program, r.SearchText = "", "", ""
	if conditions, err := fromJSON[conditionsJSON](r.ConditionsJSON, "conditions_json"); err == nil {
		conditions.LastChloride = ""
		r.ConditionsJSON, _ = toJSON(conditions) // read from JSON, so it can be written as JSON
	}
	return r
}

// chlorideOf is the first part that is one of the two chlorides that get mixed up; "" when the recipe has neither.
func chlorideOf(r bath.Recipe) salt.ID {
	for _, p := range r.Parts {
		if p.Salt == salt.AmmoniumChloride || p.Salt == salt.AluminiumChlorideHexahydrate {
			return p.Salt
		}
	}
	return ""
}

// LastChloride is ammonium chloride or aluminium chloride, whichever went into the newest bath that had one; "" when none had.
// Of a bath with both it is the first in the recipe.
func (s *Store) LastChloride(ctx context.Context, workshopID int64) (salt.ID, error) {
	var found []string
	err := s.read.WithContext(ctx).Table("bath_sheets").Where("workshop_id = ? AND chloride <> ''", workshopID).
		Order("number DESC").Limit(1).Pluck("chloride", &found).Error
	if err != nil || len(found) == 0 {
		return "", wrap("read the last chloride", err)
	}
	return salt.ID(found[0]), nil
}

// SaveBathSheet stores a new bath sheet under the workshop's next number and returns its id. Its recipe must be that of its
// version, apart from what is known of the lots ([ErrStale]); each lot must be of its part's material ([ErrWrongLot]). A second
// sheet with the same entry key is not stored: the first one's id is returned, with an error that wraps [ErrConflict] when
// they differ. A sheet never changes.
func (s *Store) SaveBathSheet(ctx context.Context, workshopID int64, sheet bath.BathSheet) (int64, error) {
	doing := fmt.Sprintf("save the bath sheet for recipe %q", sheet.Recipe.Name)
	row, err := fromSheet(workshopID, sheet)
	if err != nil {
		return 0, wrap(doing, err)
	}
	err = s.change(ctx, workshopID, func(tx *gorm.DB) error {
		stored, err := entered[sheetRow](tx, workshopID, sheet.EntryKey)
		if err != nil {
			return err
		}
		if stored != nil {
			again := row.typed()
			row.ID = stored.ID
			return sameEntry(1, stored.typed(), again)
		}
		if err := sheetFits(tx, workshopID, sheet); err != nil {
			return err
		}
		var last []int
		if err := tx.Table("bath_sheets").Where("workshop_id = ?", workshopID).Order("number DESC").Limit(1).Pluck("number", &last).Error; err != nil {
			return err
		}
		row.Number = 1
		if len(last) > 0 {
			row.Number = last[0] + 1
		}
		row.SearchText = searchText(strconv.Itoa(row.Number), row.RecipeName, row.TankName, row.MadeBy)
		if err := tx.Create(&row).Error; err != nil {
			return err
		}
		return saveSheetLots(tx, row, sheet.LotIDs)
	})
	return row.ID, wrap(doing, err)
}

// sheetFits compares a sheet's recipe with its version, and its lots with its recipe.
func sheetFits(tx *gorm.DB, workshopID int64, sheet bath.BathSheet) error {
	version, err := versionIn(tx, workshopID, sheet.VersionID)
	if err != nil {
		return fmt.Errorf("recipe version %d: %w", sheet.VersionID, err)
	}
	v, err := version.value()
	if err != nil {
		return err
	}
	if !reflect.DeepEqual(withoutLots(v.Recipe), withoutLots(sheet.Recipe)) {
		return ErrStale
	}
	for i, id := range sheet.LotIDs {
		if id == 0 {
			continue
		}
		var of materialRow
		err := tx.Joins("JOIN lots ON lots.material_id = materials.id").
			Where("lots.workshop_id = ? AND lots.id = ?", workshopID, id).Take(&of).Error
		if err != nil {
			return fmt.Errorf("lot %d: %w", id, err)
		}
		if p := sheet.Recipe.Parts[i]; of.Kind != string(p.Kind) || of.Salt != string(p.Salt) {
			return fmt.Errorf("lot %d is %s, part %d is %s %s%s: %w", id, of.Name, i+1, p.Kind, p.Name, p.Salt, ErrWrongLot)
		}
	}
	return nil
}

// withoutLots is the recipe as a version states it, in the form in which it is stored.
func withoutLots(r bath.Recipe) recipeJSON {
	j := fromRecipe(r)
	for i := range j.Parts {
		p := &j.Parts[i]
		p.MoisturePct, p.AssayPct, p.ParticleDensityGPerCM3 = nil, nil, nil
	}
	return j
}

func saveSheetLots(tx *gorm.DB, sheet sheetRow, lotIDs []int64) error {
	var rows []sheetLotRow
	for part, id := range lotIDs {
		if id != 0 {
			rows = append(rows, sheetLotRow{WorkshopID: sheet.WorkshopID, SheetID: sheet.ID, Part: part, LotID: id})
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return tx.Create(&rows).Error
}

// BathSheet returns one bath sheet as it was printed.
func (s *Store) BathSheet(ctx context.Context, workshopID, id int64) (bath.BathSheet, error) {
	doing := fmt.Sprintf("read bath sheet %d", id)
	db := s.read.WithContext(ctx)
	var row sheetRow
	if err := db.Where("workshop_id = ? AND id = ?", workshopID, id).Take(&row).Error; err != nil {
		return bath.BathSheet{}, wrap(doing, err)
	}
	var lots []sheetLotRow
	if err := db.Where("sheet_id = ?", id).Find(&lots).Error; err != nil {
		return bath.BathSheet{}, wrap(doing, err)
	}
	sheet, err := row.value(lots)
	return sheet, wrap(doing, err)
}

// A SheetFilter says which bath sheets are wanted; its zero value: all. Sort keys: "number" (default), "made", "recipe",
// "tank", "by".
type SheetFilter struct {
	RecipeID, VersionID, TankID int64
	Text                        string // words that must all occur in number, recipe, tank or maker
	Page
}

var sheetOrders = map[string]string{
	"": "bath_sheets.number", "made": "bath_sheets.made_at", "recipe": "lower(bath_sheets.recipe_name)",
	"tank": "lower(bath_sheets.tank_name)", "by": "lower(bath_sheets.made_by)",
}

// sheetLineRead has the fields of bath.SheetLine, which are the columns of the list.
type sheetLineRead struct {
	ID            int64
	Number        int
	RecipeID      int64
	RecipeName    string
	VersionID     int64
	VersionNumber int
	TankID        int64
	TankName      string
	MadeAt        time.Time
	MadeBy        string
}

// ListBathSheets returns a page of the bath sheets that the filter lets through, and how many it lets through in all.
func (s *Store) ListBathSheets(ctx context.Context, workshopID int64, f SheetFilter) ([]bath.SheetLine, int, error) {
	q := s.read.WithContext(ctx).Table("bath_sheets").
		Joins("JOIN recipe_versions ON recipe_versions.id = bath_sheets.version_id").
		Where("bath_sheets.workshop_id = ?", workshopID)
	if f.RecipeID != 0 {
		q = q.Where("recipe_versions.recipe_id = ?", f.RecipeID)
	}
	if f.VersionID != 0 {
		q = q.Where("bath_sheets.version_id = ?", f.VersionID)
	}
	if f.TankID != 0 {
		q = q.Where("bath_sheets.tank_id = ?", f.TankID)
	}
	for _, word := range strings.Fields(f.Text) {
		q = q.Where(`bath_sheets.search_text LIKE ? ESCAPE '\'`, like(word))
	}
	rows, total, err := page[sheetLineRead](q, "bath_sheets.id, bath_sheets.number, recipe_versions.recipe_id, bath_sheets.recipe_name, "+
		"bath_sheets.version_id, recipe_versions.number AS version_number, bath_sheets.tank_id, bath_sheets.tank_name, "+
		"bath_sheets.made_at, bath_sheets.made_by", f.Page, sheetOrders, "bath_sheets.id")
	if err != nil {
		return nil, 0, wrap("list the bath sheets", err)
	}
	lines := make([]bath.SheetLine, len(rows))
	for i, r := range rows {
		lines[i] = bath.SheetLine(r)
		lines[i].MadeAt = r.MadeAt.UTC()
	}
	return lines, total, nil
}
