package demo

import (
	"errors"
	"time"

	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/store"
)

// A story is one recipe with the versions that led to today's.
type story struct {
	name     string
	versions []chapter
}

// A chapter is one version. Masses are per 10 kg of water.
type chapter struct {
	at          time.Time
	by          string
	change, why string
	earths      map[string]float64 // g of dry earth
	salts       []dose
	temp        bath.TempWindow
	soak        bath.SoakWindow
	proven      string // name of the tank; "": not proven
	loadL       float64
	loadDM2     float64
	ranges      map[bath.Figure]bath.Range
}

type dose struct {
	id    salt.ID
	massG unit.Gram
}

func stories() []story {
	return []story{
		{"Everyday black", []chapter{
			{day(1, 14), "Ansa", "first written down", "it was in one head only",
				map[string]float64{breakwater: 4000}, []dose{{salt.AmmoniumChloride, 800}},
				bath.TempWindow{Min: 80, Target: 88, Max: 95}, bath.SoakWindow{Min: 5, Target: 10, Max: 20}, "", 0, 0, nil},
			{day(3, 9), "Ansa", "100 g more sal ammoniac, hotter, shorter", "greyish at the rims at 88 °C; black in 8 min at 92 °C",
				map[string]float64{breakwater: 4000}, []dose{{salt.AmmoniumChloride, 900}},
				bath.TempWindow{Min: 85, Target: 92, Max: 97}, bath.SoakWindow{Min: 4, Target: 8, Max: 15}, "Long box", 0.72, 46,
				map[bath.Figure]bath.Range{bath.MetalPerLitre: {Lo: 0.4, Hi: 1.4}, bath.MudDepth: {Lo: 15, Hi: 28}, bath.FreeHeight: {Lo: 6, Hi: 12}}},
			{day(10, 2), "Corvin", "thicker: 4.5 kg of earth instead of 4", "lot 14 is finer and stays up longer",
				map[string]float64{breakwater: 4500}, []dose{{salt.AmmoniumChloride, 900}},
				bath.TempWindow{Min: 85, Target: 92, Max: 97}, bath.SoakWindow{Min: 4, Target: 8, Max: 15}, "Long box", 0.72, 46,
				map[bath.Figure]bath.Range{bath.MetalPerLitre: {Lo: 0.4, Hi: 1.4}, bath.MudDepth: {Lo: 15, Hi: 28}, bath.FreeHeight: {Lo: 6, Hi: 12}}},
		}},
		{"Deep black with copper", []chapter{
			{day(2, 16), "Ansa", "first written down", "for wares that will be handled daily",
				map[string]float64{breakwater: 6000}, []dose{{salt.AmmoniumChloride, 1500}, {salt.SodiumChloride, 400}, {salt.CopperSulfatePentahydrate, 200}},
				bath.TempWindow{Min: 85, Target: 92, Max: 96}, bath.SoakWindow{Min: 3, Target: 6, Max: 10}, "", 0, 0, nil},
			{day(6, 22), "Ansa", "copper down to 156 g", "red-brown film on two bowls",
				map[string]float64{breakwater: 6000}, []dose{{salt.AmmoniumChloride, 1500}, {salt.SodiumChloride, 400}, {salt.CopperSulfatePentahydrate, 156}},
				bath.TempWindow{Min: 85, Target: 92, Max: 96}, bath.SoakWindow{Min: 3, Target: 6, Max: 10}, "Round pot", 0.58, 38, nil},
		}},
		{"Saltpetre black", []chapter{
			{day(3, 20), "Corvin", "first written down", "from the old notebook",
				map[string]float64{breakwater: 5000}, []dose{{salt.AmmoniumChloride, 1000}, {salt.PotassiumNitrate, 500}},
				bath.TempWindow{Min: 80, Target: 90, Max: 95}, bath.SoakWindow{Min: 5, Target: 10, Max: 15}, "", 0, 0, nil},
			{day(7, 3), "Corvin", "saltpetre halved", "no difference seen on eight coupons, and less to wipe up",
				map[string]float64{breakwater: 5000}, []dose{{salt.AmmoniumChloride, 1000}, {salt.PotassiumNitrate, 250}},
				bath.TempWindow{Min: 80, Target: 90, Max: 95}, bath.SoakWindow{Min: 5, Target: 10, Max: 15}, "Round pot", 0.45, 30, nil},
		}},
		{"Trial black, two earths", []chapter{
			{day(8, 11), "Corvin", "first written down", "to see whether the kiln yard earth can stretch the bank's",
				map[string]float64{breakwater: 3000, kilnYard: 1000}, []dose{{salt.AmmoniumChloride, 900}},
				bath.TempWindow{Min: 85, Target: 92, Max: 97}, bath.SoakWindow{Min: 4, Target: 8, Max: 15}, "", 0, 0, nil},
			{day(9, 28), "Ansa", "the aluminium salt instead of the ammonium salt", "a trial on coupons only, asked for by a buyer",
				map[string]float64{breakwater: 3000, kilnYard: 1000}, []dose{{salt.AluminiumChlorideHexahydrate, 1400}},
				bath.TempWindow{Min: 70, Target: 80, Max: 85}, bath.SoakWindow{Min: 4, Target: 8, Max: 15}, "", 0, 0, nil},
		}},
	}
}

func (c chapter) recipe(name string) bath.Recipe {
	r := bath.Recipe{Name: name, Temp: c.temp, Soak: ptr(c.soak), Parts: []bath.Part{{Kind: bath.Water, Mass: 10_000}}}
	for _, earth := range []string{breakwater, kilnYard} {
		if g := c.earths[earth]; g > 0 {
			r.Parts = append(r.Parts, bath.Part{Kind: bath.Earth, Name: earth, Mass: unit.Gram(g)})
		}
	}
	for _, d := range c.salts {
		r.Parts = append(r.Parts, bath.Part{Kind: bath.Salt, Salt: d.id, Mass: d.massG})
	}
	return r
}

func (f *filling) fillRecipes() error {
	for _, story := range stories() {
		var recipeID int64
		for i, c := range story.versions {
			v := bath.Version{RecipeID: recipeID, Recipe: c.recipe(story.name), Change: c.change, Why: c.why, MadeAt: c.at, MadeBy: c.by}
			if c.proven != "" {
				v.Proof = &bath.Proof{Tank: f.tanks[c.proven].Tank, Load: unit.Litre(c.loadL).CubicCM(), LoadArea: unit.SquareDM(c.loadDM2), Ranges: c.ranges}
			}
			save := f.store.SaveVersion
			if i == 0 {
				save = f.store.SaveNewRecipe
			}
			kept, err := save(f.ctx, f.shop, key(story.name+" "+c.change), v)
			if err != nil && !errors.Is(err, store.ErrConflict) {
				return err
			}
			recipeID = kept.RecipeID
		}
	}
	return nil
}
