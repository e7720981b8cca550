package store

import (
	"context"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"

	"blackbath/bath"
)

type versionRow struct {
	ID         int64
	WorkshopID int64
	EntryKey   string
	RecipeID   int64
	Number     int
	Name       string
	RecipeJSON string
	Change     string
	Why        string
	ProofJSON  *string
	MadeAt     time.Time
	MadeBy     string
	SearchText string
	EnteredAt  time.Time
	Edit       int64
}

func (versionRow) TableName() string { return "recipe_versions" }

// versionRead is a version together with whether a bath sheet was made from it.
type versionRead struct {
	Row  versionRow `gorm:"embedded"`
	Used bool
}

// versionColumns are those that a bath.Version has.
const versionColumns = "recipe_versions.id, recipe_versions.recipe_id, recipe_versions.number, recipe_versions.name, " +
	"recipe_versions.recipe_json, recipe_versions.change, recipe_versions.why, recipe_versions.proof_json, recipe_versions.made_at, " +
	"recipe_versions.made_by, recipe_versions.edit, " +
	"EXISTS (SELECT 1 FROM bath_sheets WHERE bath_sheets.version_id = recipe_versions.id) AS used"

func fromVersion(workshopID int64, entryKey string, v bath.Version) (versionRow, error) {
	row := versionRow{
		WorkshopID: workshopID, EntryKey: entryKey, RecipeID: v.RecipeID, Number: v.Number, Name: v.Recipe.Name,
		Change: strings.TrimSpace(v.Change), Why: strings.TrimSpace(v.Why), MadeAt: stamp(v.MadeAt), MadeBy: v.MadeBy,
		EnteredAt: now(), Edit: v.Edit + 1,
	}
	if v.MadeAt.IsZero() {
		row.MadeAt = row.EnteredAt
	}
	words := []string{row.Name, row.Change, row.Why}
	for _, p := range v.Recipe.Parts {
		words = append(words, p.Name, string(p.Salt))
	}
	row.SearchText = searchText(words...)
	var err error
	if row.RecipeJSON, err = toJSON(fromRecipe(v.Recipe)); err != nil {
		return row, err
	}
	if row.ProofJSON, err = proofColumn(v.Proof); err != nil {
		return row, err
	}
	return row, storable(row)
}

func proofColumn(p *bath.Proof) (*string, error) {
	if p == nil {
		return nil, nil
	}
	text, err := toJSON(fromProof(*p))
	return &text, err
}

func (r versionRead) value() (bath.Version, error) {
	row := r.Row
	v := bath.Version{
		ID: row.ID, RecipeID: row.RecipeID, Number: row.Number, Change: row.Change, Why: row.Why,
		MadeAt: row.MadeAt.UTC(), MadeBy: row.MadeBy, Used: r.Used, Edit: row.Edit,
	}
	recipe, err := fromJSON[recipeJSON](row.RecipeJSON, "recipe_json")
	if err != nil {
		return v, fmt.Errorf("version %d: %w", row.ID, err)
	}
	v.Recipe = recipe.value(row.Name)
	if row.ProofJSON != nil {
		j, err := fromJSON[proofJSON](*row.ProofJSON, "proof_json")
		if err != nil {
			return v, fmt.Errorf("version %d: %w", row.ID, err)
		}
		proof := j.value()
		v.Proof = &proof
	}
	return v, nil
}

func (r versionRow) typed() versionRow {
	r.ID, r.RecipeID, r.Number, r.Edit, r.MadeAt, r.EnteredAt = 0, 0, 0, 0, time.Time{}, time.Time{}
	return r
}

// versionIn reads one version.
func versionIn(tx *gorm.DB, workshopID, id int64) (versionRead, error) {
	var row versionRead
	err := tx.Table("recipe_versions").Select(versionColumns).Where("workshop_id = ? AND id = ?", workshopID, id).Take(&row).Error
	return row, err
}

// Version returns one recipe version.
func (s *Store) Version(ctx context.Context, workshopID, id int64) (bath.Version, error) {
	doing := fmt.Sprintf("read recipe version %d", id)
	row, err := versionIn(s.read.WithContext(ctx), workshopID, id)
	if err != nil {
		return bath.Version{}, wrap(doing, err)
	}
	v, err := row.value()
	return v, wrap(doing, err)
}

// SaveVersion stores v as the next version of the recipe v.RecipeID and returns it with its ids. It must say what changed and
// why: [ErrReasonMissing]. A second version with the same entry key is not stored: the first one is returned, with an error
// that wraps [ErrConflict] when they differ.
func (s *Store) SaveVersion(ctx context.Context, workshopID int64, entryKey string, v bath.Version) (bath.Version, error) {
	if strings.TrimSpace(v.Change) == "" || strings.TrimSpace(v.Why) == "" {
		return bath.Version{}, wrap(fmt.Sprintf("save a version of recipe %d", v.RecipeID), ErrReasonMissing)
	}
	return s.insertVersion(ctx, workshopID, entryKey, v, func(tx *gorm.DB, row *versionRow) error {
		var newest versionRow
		err := tx.Select("number").Where("workshop_id = ? AND recipe_id = ?", workshopID, v.RecipeID).Order("number DESC").Take(&newest).Error
		row.Number = newest.Number + 1
		return err
	})
}

// insertVersion stores v under its entry key; place gives the row its recipe and number.
func (s *Store) insertVersion(ctx context.Context, workshopID int64, entryKey string, v bath.Version,
	place func(tx *gorm.DB, row *versionRow) error) (bath.Version, error) {
	doing := fmt.Sprintf("save recipe %q", v.Recipe.Name)
	row, err := fromVersion(workshopID, entryKey, v)
	if err != nil {
		return bath.Version{}, wrap(doing, err)
	}
	var result versionRead
	err = s.change(ctx, workshopID, func(tx *gorm.DB) error {
		stored, err := entered[versionRow](tx, workshopID, entryKey)
		if err != nil {
			return err
		}
		if stored != nil {
			result, err = versionIn(tx, workshopID, stored.ID)
			if err != nil {
				return err
			}
			return sameEntry(stored.Edit, stored.typed(), row.typed())
		}
		row.Edit = 1
		if err := place(tx, &row); err != nil {
			return err
		}
		result.Row = row
		return tx.Create(&result.Row).Error
	})
	if result.Row.ID == 0 {
		return bath.Version{}, wrap(doing, err)
	}
	saved, badRow := result.value()
	if err == nil {
		err = badRow
	}
	return saved, wrap(doing, err)
}

// UpdateVersion changes a version that no bath sheet was made from; a used one gives an error that wraps [ErrVersionUsed].
// Recipe and number stay.
func (s *Store) UpdateVersion(ctx context.Context, workshopID int64, v bath.Version) error {
	doing := fmt.Sprintf("change recipe version %d", v.ID)
	row, err := fromVersion(workshopID, "", v)
	if err != nil {
		return wrap(doing, err)
	}
	return wrap(doing, s.change(ctx, workshopID, func(tx *gorm.DB) error {
		was, err := versionIn(tx, workshopID, v.ID)
		switch {
		case err != nil:
			return err
		case was.Used:
			return ErrVersionUsed
		case was.Row.Number > 1 && (row.Change == "" || row.Why == ""):
			return ErrReasonMissing
		}
		row.RecipeID, row.Number = was.Row.RecipeID, was.Row.Number
		return overwrite(tx, workshopID, v.ID, v.Edit, &row)
	}))
}

// SaveProof records where a version proved itself. A used version has mostly proved itself after it was used, so its proof may
// still come, but only once: another one gives an error that wraps [ErrVersionUsed].
func (s *Store) SaveProof(ctx context.Context, workshopID, versionID, edit int64, p bath.Proof) error {
	doing := fmt.Sprintf("save the proof of recipe version %d", versionID)
	text, err := proofColumn(&p)
	if err != nil {
		return wrap(doing, err)
	}
	return wrap(doing, s.change(ctx, workshopID, func(tx *gorm.DB) error {
		was, err := versionIn(tx, workshopID, versionID)
		switch {
		case err != nil:
			return err
		case was.Used && was.Row.ProofJSON != nil:
			return ErrVersionUsed
		case was.Row.Edit != edit:
			return ErrConflict
		}
		return tx.Model(&versionRow{}).Where("id = ?", versionID).
			Updates(map[string]any{"proof_json": text, "edit": gorm.Expr("edit + 1")}).Error
	}))
}
