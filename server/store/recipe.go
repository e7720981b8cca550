package store

import (
	"context"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"

	"blackbath/bath"
)

// recipeRow holds the versions of one recipe together. Its name is that of the newest version.
type recipeRow struct {
	ID         int64
	WorkshopID int64
	Retired    bool
	EnteredAt  time.Time
}

func (recipeRow) TableName() string { return "recipes" }

// A RecipeFilter says which recipes are wanted; its zero value: all that are in use. Sort keys: "name" (default), "versions",
// "made" (when the newest version was made).
type RecipeFilter struct {
	Text           string // words that must all occur in the newest version's name, parts, change or reason
	IncludeRetired bool
	Page
}

var recipeOrders = map[string]string{
	"": "lower(recipe_versions.name)", "versions": "recipe_versions.number", "made": "recipe_versions.made_at",
}

type recipeRead struct {
	Version versionRead `gorm:"embedded"`
	Retired bool
}

// ListRecipes returns a page of the recipes that the filter lets through, each with its newest version, and how many it lets
// through in all.
func (s *Store) ListRecipes(ctx context.Context, workshopID int64, f RecipeFilter) ([]bath.RecipeLine, int, error) {
	q := s.read.WithContext(ctx).Table("recipe_versions").
		Joins("JOIN recipes ON recipes.id = recipe_versions.recipe_id").
		Where("recipe_versions.workshop_id = ?", workshopID).
		Where("recipe_versions.number = (SELECT max(v.number) FROM recipe_versions v WHERE v.recipe_id = recipes.id)")
	if !f.IncludeRetired {
		q = q.Where("NOT recipes.retired")
	}
	for _, word := range strings.Fields(f.Text) {
		q = q.Where(`recipe_versions.search_text LIKE ? ESCAPE '\'`, like(word))
	}
	rows, total, err := page[recipeRead](q, versionColumns+", recipes.retired", f.Page, recipeOrders, "recipe_versions.id")
	if err != nil {
		return nil, 0, wrap("list the recipes", err)
	}
	lines := make([]bath.RecipeLine, len(rows))
	for i, r := range rows {
		newest, err := r.Version.value()
		if err != nil {
			return nil, 0, wrap("list the recipes", err)
		}
		lines[i] = bath.RecipeLine{ID: newest.RecipeID, Retired: r.Retired, Newest: newest}
	}
	return lines, total, nil
}

// RecipeBook returns a recipe with all its versions, newest last.
func (s *Store) RecipeBook(ctx context.Context, workshopID, id int64) (bath.KeptBook, error) {
	doing := fmt.Sprintf("read recipe %d", id)
	db := s.read.WithContext(ctx)
	var row recipeRow
	if err := db.Where("workshop_id = ? AND id = ?", workshopID, id).Take(&row).Error; err != nil {
		return bath.KeptBook{}, wrap(doing, err)
	}
	var rows []versionRead
	err := db.Table("recipe_versions").Select(versionColumns).Where("recipe_id = ?", id).Order("number").Find(&rows).Error
	if err != nil {
		return bath.KeptBook{}, wrap(doing, err)
	}
	book := bath.KeptBook{RecipeBook: bath.RecipeBook{ID: id, Versions: make([]bath.Version, len(rows))}, Retired: row.Retired}
	for i, r := range rows {
		if book.Versions[i], err = r.value(); err != nil {
			return bath.KeptBook{}, wrap(doing, err)
		}
		book.Name = book.Versions[i].Recipe.Name
	}
	return book, nil
}

// SaveNewRecipe stores a recipe with v as its first version, and returns the version with its ids. A second recipe with the
// same entry key is not stored: the first one is returned, with an error that wraps [ErrConflict] when they differ.
func (s *Store) SaveNewRecipe(ctx context.Context, workshopID int64, entryKey string, v bath.Version) (bath.Version, error) {
	return s.insertVersion(ctx, workshopID, entryKey, v, func(tx *gorm.DB, row *versionRow) error {
		recipe := recipeRow{WorkshopID: workshopID, EnteredAt: row.EnteredAt}
		if err := tx.Create(&recipe).Error; err != nil {
			return err
		}
		row.RecipeID, row.Number = recipe.ID, 1
		return nil
	})
}

// RetireRecipe takes a recipe out of use. Its versions and bath sheets stay.
func (s *Store) RetireRecipe(ctx context.Context, workshopID, id int64) error {
	return wrap(fmt.Sprintf("retire recipe %d", id), s.setRetired(ctx, workshopID, id, true))
}

// RestoreRecipe undoes RetireRecipe.
func (s *Store) RestoreRecipe(ctx context.Context, workshopID, id int64) error {
	return wrap(fmt.Sprintf("restore recipe %d", id), s.setRetired(ctx, workshopID, id, false))
}

func (s *Store) setRetired(ctx context.Context, workshopID, id int64, retired bool) error {
	res := s.write.WithContext(ctx).Model(&recipeRow{}).Where("workshop_id = ? AND id = ?", workshopID, id).Update("retired", retired)
	if res.Error == nil && res.RowsAffected == 0 {
		return gorm.ErrRecordNotFound
	}
	return res.Error
}
