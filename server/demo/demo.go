// Package demo fills an empty store with an invented workshop: the Tidewheel Workshop in the harbour town of Merrowhythe. Neither
// exists, nor do its people; its figures are made up to look like those of a working shop, and the same every time.
package demo

import (
	"context"
	"errors"
	"fmt"
	"time"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/store"
)

// ErrRealWorkshop is wrapped by the error for a store that holds a workshop which is not invented.
var ErrRealWorkshop = errors.New("a real workshop is kept there")

// Fill makes sure that the store holds the invented workshop. A store that holds it already is left as it is; one that holds a
// real workshop gives an error that wraps [ErrRealWorkshop], and nothing is written.
func Fill(ctx context.Context, s *store.Store) error {
	shop, err := s.Workshop(ctx)
	switch {
	case err == nil && !shop.Invented:
		return fmt.Errorf("demo: %w", ErrRealWorkshop)
	case err != nil && !errors.Is(err, store.ErrNotFound):
		return fmt.Errorf("demo: %w", err)
	}
	if err == nil { // filled before: what a visitor changed since stays changed
		_, recipes, err := s.ListRecipes(ctx, shop.ID, store.RecipeFilter{IncludeRetired: true})
		if err != nil {
			return fmt.Errorf("demo: %w", err)
		}
		if recipes >= len(stories()) {
			return nil
		}
	}
	f := filling{ctx: ctx, store: s}
	if err := f.all(); err != nil {
		return fmt.Errorf("demo: %w", err)
	}
	return nil
}

// A filling is one Fill under way. Every entry has a fixed entry key, so that a start that was cut off goes on where it ended.
type filling struct {
	ctx       context.Context
	store     *store.Store
	shop      int64
	tanks     map[string]bath.KeptTank
	materials map[string]int64
}

func (f *filling) all() error {
	workshop := workshop()
	id, err := f.store.SaveWorkshop(f.ctx, key("workshop"), workshop)
	if err != nil && !errors.Is(err, store.ErrConflict) { // a visitor may have changed it since
		return err
	}
	f.shop = id
	for _, step := range []func() error{f.fillTanks, f.fillMaterials, f.fillLots, f.fillRecipes} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// key is the entry key of one thing of the demo.
func key(what string) string { return "demo-" + what }

// day is a day of the demo's made-up past.
func day(month time.Month, d int) time.Time { return time.Date(2026, month, d, 9, 30, 0, 0, time.UTC) }

func workshop() bath.Workshop {
	return bath.Workshop{
		Name: "Tidewheel Workshop, Merrowhythe", Invented: true, WaterBoilsAt: ptr(unit.Celsius(99.6)), Altitude: ptr(unit.Metre(15)),
		Currency: "EUR", TimeZone: "UTC", Language: "en", BalanceStep: 5, Bucket: ptr(unit.Litre(10)),
	}
}

func (f *filling) fillTanks() error {
	f.tanks = map[string]bath.KeptTank{}
	for _, t := range []bath.Tank{
		{Name: "Long box", Shape: bath.Box, Length: 60, Width: 40, Height: 28, Freeboard: 8, HeaterKW: ptr(unit.Kilowatt(4.5)), Wall: "stoneware"},
		{Name: "Round pot", Shape: bath.Cylinder, Diameter: 36, Height: 32, Freeboard: 8, HeaterKW: ptr(unit.Kilowatt(3)), Wall: "enamelled-steel"},
		{Name: "Quay bowl", Shape: bath.Bowl, RimDiameter: 56, Depth: 24, Freeboard: 6, HeaterKW: ptr(unit.Kilowatt(2.4)), Wall: "enamelled-steel"},
	} {
		kept := bath.KeptTank{Tank: t}
		id, err := f.store.SaveTank(f.ctx, f.shop, key("tank "+t.Name), kept)
		if err != nil && !errors.Is(err, store.ErrConflict) {
			return err
		}
		kept.ID = id
		f.tanks[t.Name] = kept
	}
	return nil
}

func (f *filling) fillMaterials() error {
	f.materials = map[string]int64{}
	have, err := f.store.ListMaterials(f.ctx, f.shop)
	if err != nil {
		return err
	}
	for _, m := range have {
		f.materials[m.Name] = m.ID
	}
	for _, m := range []bath.Material{
		{Kind: bath.Water, Name: "Rain barrel"},
		{Kind: bath.Water, Name: "Harbour tap"},
		{Kind: bath.Earth, Name: breakwater},
		{Kind: bath.Earth, Name: kilnYard},
		{Kind: bath.Salt, Name: "ammonium chloride", Salt: salt.AmmoniumChloride},
		{Kind: bath.Salt, Name: "sodium chloride", Salt: salt.SodiumChloride},
		{Kind: bath.Salt, Name: "copper sulfate pentahydrate", Salt: salt.CopperSulfatePentahydrate},
		{Kind: bath.Salt, Name: "potassium nitrate", Salt: salt.PotassiumNitrate},
		{Kind: bath.Salt, Name: "aluminium chloride hexahydrate", Salt: salt.AluminiumChlorideHexahydrate},
	} {
		if f.materials[m.Name] != 0 {
			continue
		}
		id, err := f.store.SaveMaterial(f.ctx, f.shop, m)
		if err != nil {
			return err
		}
		f.materials[m.Name] = id
	}
	return nil
}

const (
	breakwater = "Breakwater bank"
	kilnYard   = "Kiln yard"
)

func (f *filling) fillLots() error {
	eur := func(cents int64) *int64 { return &cents }
	kg := func(x float64) *unit.Gram { return ptr(unit.FromKilograms(x)) }
	for _, l := range []struct {
		material string
		lot      bath.Lot
	}{
		{"Rain barrel", bath.Lot{Name: "spring rain", Received: day(3, 2), From: "roof of the shed"}},
		{"Harbour tap", bath.Lot{Name: "tap", Received: day(1, 5), From: "town main"}},
		{breakwater, bath.Lot{Name: "lot 13", Received: day(2, 10), From: "landward side, one arm deep", AmountG: kg(60), MoisturePct: ptr(17.5),
			ParticleDensity: ptr(unit.GramPerCM3(2.62)), UsedUp: true}},
		{breakwater, bath.Lot{Name: "lot 14", Received: day(5, 4), From: "landward side, one arm deep", AmountG: kg(80), MoisturePct: ptr(12.0),
			ParticleDensity: ptr(unit.GramPerCM3(2.65)), Note: "fine, grey, no smell"}},
		{breakwater, bath.Lot{Name: "lot 15", Received: day(9, 21), From: "seaward side", AmountG: kg(45), Note: "moisture still to be weighed"}},
		{kilnYard, bath.Lot{Name: "first digging", Received: day(6, 15), From: "behind the old kiln", AmountG: kg(25), MoisturePct: ptr(8.4),
			Note: "whitish specks; try with coupons first"}},
		{"ammonium chloride", bath.Lot{Name: "bag 5", Received: day(1, 12), From: "ship chandler", Batch: "N-0417", AmountG: kg(25), PriceMinor: eur(6250),
			AssayPct: ptr(98.0), AssayBasis: bath.AssayAsNamed, UsedUp: true}},
		{"ammonium chloride", bath.Lot{Name: "bag 6", Received: day(4, 20), From: "ship chandler", Batch: "N-0588", AmountG: kg(25), PriceMinor: eur(6400),
			AssayPct: ptr(98.5), AssayBasis: bath.AssayAsNamed}},
		{"sodium chloride", bath.Lot{Name: "sack 2", Received: day(2, 3), From: "salt shed", AmountG: kg(50), PriceMinor: eur(1800), AssayPct: ptr(97.0),
			AssayBasis: bath.AssayAsNamed}},
		{"copper sulfate pentahydrate", bath.Lot{Name: "jar 1", Received: day(2, 3), From: "ship chandler", Batch: "C-21", AmountG: kg(5), PriceMinor: eur(4100),
			AssayPct: ptr(99.0), AssayBasis: bath.AssayAsNamed}},
		{"potassium nitrate", bath.Lot{Name: "tin 3", Received: day(3, 18), From: "ship chandler", Batch: "K-77", AmountG: kg(10), PriceMinor: eur(3900),
			AssayPct: ptr(99.2), AssayBasis: bath.AssayAsNamed}},
		{"aluminium chloride hexahydrate", bath.Lot{Name: "bag A1", Received: day(7, 8), From: "dye works", Batch: "AL-3", AmountG: kg(5), PriceMinor: eur(5200),
			AssayPct: ptr(54.6), AssayBasis: bath.AssayAsAnhydrous, Note: "for trials only; kept on another shelf"}},
	} {
		lot := l.lot
		lot.Material.ID = f.materials[l.material]
		_, err := f.store.SaveLot(f.ctx, f.shop, key("lot "+l.material+" "+lot.Name), lot)
		if err != nil && !errors.Is(err, store.ErrConflict) {
			return err
		}
	}
	return nil
}

func ptr[T any](x T) *T { return &x }
