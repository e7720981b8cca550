package server

import (
	"context"
	"net/url"
	"testing"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/store"
)

// A scaleShop is a workshop with all that a bath sheet needs, by the names that the tests use.
type scaleShop struct {
	workshop int64
	pot, box bath.KeptTank
	lots     map[string]bath.Lot
	black    bath.Version // with ammonium chloride
	other    bath.Version // the same with aluminium chloride
}

// The recipe of the tests: g per kg of water, as in a bath for inlaid ware (common practice).
func blackRecipe(chloride salt.ID) bath.Recipe {
	return bath.Recipe{
		Name: "Everyday black",
		Parts: []bath.Part{
			{Kind: bath.Water, Mass: 1000}, {Kind: bath.Earth, Name: "north bank", Mass: 600}, {Kind: bath.Salt, Salt: chloride, Mass: 150},
			{Kind: bath.Salt, Salt: salt.SodiumChloride, Mass: 40}, {Kind: bath.Salt, Salt: salt.CopperSulfatePentahydrate, Mass: 15.6},
			{Kind: bath.Salt, Salt: salt.PotassiumNitrate, Mass: 10},
		},
		Temp: bath.TempWindow{Min: 85, Target: 92, Max: 97}, Soak: &bath.SoakWindow{Min: 4, Target: 8, Max: 15},
	}
}

// furnish fills a store.
func furnishScale(t testing.TB, st *store.Store) scaleShop {
	t.Helper()
	ctx := context.Background()
	shop, err := st.Workshop(ctx)
	if err != nil {
		t.Fatal(err)
	}
	s := scaleShop{workshop: shop.ID, lots: map[string]bath.Lot{}}
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	s.pot.Tank = bath.Tank{Name: "round pot", Shape: bath.Cylinder, Diameter: 36, Height: 32, Freeboard: 6, HeaterKW: new(unit.Kilowatt(3)), Wall: "enamelled-steel"}
	s.box.Tank = bath.Tank{Name: "long box", Shape: bath.Box, Length: 80, Width: 36, Height: 25, Freeboard: 6, HeaterKW: new(unit.Kilowatt(4)), Wall: "stainless-steel"}
	for key, tank := range map[string]*bath.KeptTank{"a": &s.pot, "b": &s.box} {
		tank.ID, err = st.SaveTank(ctx, shop.ID, key, *tank)
		check(err)
	}
	materials := map[string]bath.Material{
		"north bank": {Kind: bath.Earth, Name: "north bank"}, "cellar": {Kind: bath.Earth, Name: "cellar"},
		"sal ammoniac": {Kind: bath.Salt, Name: "sal ammoniac", Salt: salt.AmmoniumChloride},
		"common salt":  {Kind: bath.Salt, Name: "common salt", Salt: salt.SodiumChloride},
		"blue vitriol": {Kind: bath.Salt, Name: "blue vitriol", Salt: salt.CopperSulfatePentahydrate},
	}
	for name, m := range materials {
		m.ID, err = st.SaveMaterial(ctx, shop.ID, m)
		check(err)
		materials[name] = m
	}
	for _, l := range []bath.Lot{
		{Name: "lot 14", Material: materials["north bank"], MoisturePct: new(12.0)},
		{Name: "lot 12", Material: materials["cellar"], MoisturePct: new(18.5), ParticleDensity: new(unit.GramPerCM3(2.5))},
		{Name: "bag 6", Material: materials["sal ammoniac"], AssayPct: new(98.5)}, {Name: "bag 7", Material: materials["sal ammoniac"], AssayPct: new(99.0)},
		{Name: "sack 2", Material: materials["common salt"], AssayPct: new(97.0)},
		// 63.3 % counted without crystal water is 99 % of the blue crystals: 159.61/249.69 of them is CuSO4.
		{Name: "jar 1", Material: materials["blue vitriol"], AssayPct: new(63.3), AssayBasis: bath.AssayAsAnhydrous},
	} {
		l.ID, err = st.SaveLot(ctx, shop.ID, l.Name, l)
		check(err)
		s.lots[l.Name] = l
	}
	proof := bath.Proof{Tank: s.box.Tank, Load: 800, LoadArea: 60, Ranges: map[bath.Figure]bath.Range{bath.MetalPerLitre: {Lo: 0.8, Hi: 1.4}}}
	s.black, err = st.SaveNewRecipe(ctx, shop.ID, "black", bath.Version{Recipe: blackRecipe(salt.AmmoniumChloride), Proof: &proof})
	check(err)
	s.other, err = st.SaveNewRecipe(ctx, shop.ID, "other", bath.Version{Recipe: blackRecipe(salt.AluminiumChlorideHexahydrate)})
	check(err)
	return s
}

func (s scaleShop) path(v bath.Version) string { return scalePath(v.RecipeID, v.Number) }

// make sends the form of a page as its main button does, with some fields changed.
func (c *client) makeSheet(page answer, change url.Values) answer {
	c.t.Helper()
	sent := page.filled("scale")
	for name, value := range change {
		sent[name] = value
	}
	key, _ := attr(page.one("button", "name", "entry_key"), "value")
	sent.Set("entry_key", key)
	action, _ := attr(page.one("form", "id", "scale"), "action")
	return c.post(action, sent)
}
