package demo

import (
	"context"
	"errors"
	"testing"

	"blackbath/bath"
	"blackbath/server/store"
)

func open(t *testing.T) *store.Store {
	t.Helper()
	s, err := store.Open(context.Background(), store.Config{Dir: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func TestFill(t *testing.T) {
	ctx, s := context.Background(), open(t)
	for range 2 { // a second start changes nothing
		if err := Fill(ctx, s); err != nil {
			t.Fatal(err)
		}
	}
	shop, err := s.Workshop(ctx)
	if err != nil || !shop.Invented {
		t.Fatalf("workshop %+v, %v; want one that says it is invented", shop, err)
	}
	tanks, err := s.ListTanks(ctx, shop.ID, true)
	if err != nil {
		t.Fatal(err)
	}
	shapes := map[bath.Shape]bool{}
	for _, tank := range tanks {
		shapes[tank.Shape] = true
	}
	if len(tanks) != 3 || len(shapes) != 3 {
		t.Errorf("%d tanks of %d shapes, want three of different shape", len(tanks), len(shapes))
	}
	if _, lots, err := s.ListLots(ctx, shop.ID, store.LotFilter{IncludeUsedUp: true}); err != nil || lots != 12 {
		t.Errorf("%d lots, %v; want a dozen", lots, err)
	}
	recipes, n, err := s.ListRecipes(ctx, shop.ID, store.RecipeFilter{IncludeRetired: true})
	if err != nil || n != 4 {
		t.Fatalf("%d recipes, %v; want four", n, err)
	}
	for _, line := range recipes {
		book, err := s.RecipeBook(ctx, shop.ID, line.ID)
		if err != nil || len(book.Versions) < 2 {
			t.Errorf("%s: %d versions, %v; want two or more", line.Newest.Recipe.Name, len(book.Versions), err)
		}
		for _, v := range book.Versions {
			for _, tank := range tanks {
				if _, err := bath.Scale(v.Recipe, tank.Tank, bath.DefaultConditions()); err != nil {
					t.Errorf("%s %d in the %s: %v", v.Recipe.Name, v.Number, tank.Name, err)
				}
			}
		}
	}
}

func TestFillNeverMixesWithARealWorkshop(t *testing.T) {
	ctx, s := context.Background(), open(t)
	if _, err := s.SaveWorkshop(ctx, "real", bath.Workshop{Name: "ours", Currency: "EUR", TimeZone: "UTC", Language: "en", BalanceStep: 1}); err != nil {
		t.Fatal(err)
	}
	if err := Fill(ctx, s); !errors.Is(err, ErrRealWorkshop) {
		t.Errorf("Fill on a real workshop: %v; want that it is refused", err)
	}
	shop, err := s.Workshop(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if tanks, err := s.ListTanks(ctx, shop.ID, true); err != nil || len(tanks) != 0 {
		t.Errorf("%d tanks written into a real workshop, %v", len(tanks), err)
	}
}
