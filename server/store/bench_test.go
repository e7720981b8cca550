package store

import (
	"context"
	"fmt"
	"testing"

	"blackbath/bath"
)

// BenchmarkScalePage is what the store does for one request of the scale page: ten recipes and ten tanks to choose from, and
// thirty lots.
func BenchmarkScalePage(b *testing.B) {
	b.Run("sqlite", func(b *testing.B) { scalePage(b, Config{Dir: b.TempDir()}) })
	b.Run("postgres", func(b *testing.B) { scalePage(b, Config{URL: postgresSchema(b)}) })
}

func scalePage(b *testing.B, c Config) {
	ctx := context.Background()
	s := mustOpen(b, c)
	f := furnish(b, s, "")
	earth := must[bath.Lot](b)(s.Lot(ctx, f.workshop, f.earth))
	for i := range 9 {
		must[int64](b)(s.SaveTank(ctx, f.workshop, fmt.Sprint("t", i+2), aTank()))
		must[bath.Version](b)(s.SaveNewRecipe(ctx, f.workshop, fmt.Sprint("r", i+2), aVersion()))
	}
	for i := range 28 {
		must[int64](b)(s.SaveLot(ctx, f.workshop, fmt.Sprint("l", i+3), bath.Lot{Material: earth.Material, MoisturePct: ptr(12.5)}))
	}
	for i := range 50 {
		must[int64](b)(s.SaveBathSheet(ctx, f.workshop, f.sheet(fmt.Sprint("s", i))))
	}
	if err := s.RememberForm(ctx, f.workshop, "scale", "load=12"); err != nil {
		b.Fatal(err)
	}
	reads := map[string]func() error{
		"Workshop":       func() error { _, err := s.Workshop(ctx); return err },
		"Version":        func() error { _, err := s.Version(ctx, f.workshop, f.version.ID); return err },
		"Tank":           func() error { _, err := s.Tank(ctx, f.workshop, f.tank); return err },
		"ListLots":       func() error { _, _, err := s.ListLots(ctx, f.workshop, LotFilter{}); return err },
		"LastChloride":   func() error { _, err := s.LastChloride(ctx, f.workshop); return err },
		"RememberedForm": func() error { _, err := s.RememberedForm(ctx, f.workshop, "scale"); return err },
		"ListTanks":      func() error { _, err := s.ListTanks(ctx, f.workshop, false); return err },
		"ListRecipes":    func() error { _, _, err := s.ListRecipes(ctx, f.workshop, RecipeFilter{}); return err },
	}
	for name, read := range reads {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := read(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("all", func(b *testing.B) {
		b.RunParallel(func(pb *testing.PB) {
			for pb.Next() {
				for name, read := range reads {
					if err := read(); err != nil {
						b.Error(name, err)
					}
				}
			}
		})
	})
}
