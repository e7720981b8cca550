package store

import (
	"context"
	"fmt"
	"testing"

	"blackbath/bath"
)

// BenchmarkScalePage is what the store does for one request of the scale page in a small workshop: five recipes, four tanks
// and a dozen lots to choose from.
func BenchmarkScalePage(b *testing.B) {
	b.Run("sqlite", func(b *testing.B) { scalePage(b, Config{Dir: b.TempDir()}) })
	b.Run("postgres", func(b *testing.B) { scalePage(b, Config{URL: postgresSchema(b)}) })
}

func scalePage(b *testing.B, c Config) {
	ctx := context.Background()
	s := mustOpen(b, c)
	f := furnish(b, s, "")
	earth := must[bath.Lot](b)(s.Lot(ctx, f.workshop, f.earth))
	for i := range 4 {
		must[bath.Version](b)(s.SaveNewRecipe(ctx, f.workshop, fmt.Sprint("r", i+2), aVersion()))
	}
	for i := range 3 {
		must[int64](b)(s.SaveTank(ctx, f.workshop, fmt.Sprint("t", i+2), aTank()))
	}
	for i := range 10 {
		must[int64](b)(s.SaveLot(ctx, f.workshop, fmt.Sprint("l", i+3), bath.Lot{Material: earth.Material, MoisturePct: ptr(12.5)}))
	}
	for i := range 50 {
		must[int64](b)(s.SaveBathSheet(ctx, f.workshop, f.sheet(fmt.Sprint("s", i))))
	}
	if err := s.RememberForm(ctx, f.workshop, "scale", "load=12"); err != nil {
		b.Fatal(err)
	}
	reads := []func() error{
		func() error { _, err := s.Workshop(ctx); return err },
		func() error { _, err := s.ScaleInputs(ctx, f.workshop, f.version.RecipeID, 1); return err },
		func() error { _, err := s.RememberedForm(ctx, f.workshop, "scale"); return err },
	}
	page := func(b *testing.B) {
		for _, read := range reads {
			if err := read(); err != nil {
				b.Error(err)
			}
		}
	}
	b.Run("unchanged", func(b *testing.B) {
		b.ReportAllocs()
		b.RunParallel(func(pb *testing.PB) {
			for pb.Next() {
				page(b)
			}
		})
	})
	b.Run("changed each time", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			if err := s.RememberForm(ctx, f.workshop, "scale", "load=12"); err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
			page(b)
		}
	})
}
