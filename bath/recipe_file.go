package bath

import (
	"encoding/json"

	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
)

// ParseRecipe reads a recipe file. The error is an [input.Problems]; the recipe is then empty.
func ParseRecipe(data []byte) (Recipe, error) {
	var ps input.Problems
	o, ok := input.ParseObject("recipe file", data, &ps)
	if !ok {
		return Recipe{}, ps
	}
	r := Recipe{Name: o.String("name")}
	for _, p := range o.Objects("parts") {
		r.Parts = append(r.Parts, parsePart(p))
	}
	if w, given := parseWindow(o, "temp_c"); given {
		r.Temp = TempWindow{unit.Celsius(w[0]), unit.Celsius(w[1]), unit.Celsius(w[2])}
	} else {
		r.Temp = TempWindow{unit.Celsius(absent), unit.Celsius(absent), unit.Celsius(absent)}
	}
	if w, given := parseWindow(o, "soak_min"); given {
		r.Soak = &SoakWindow{unit.Minute(w[0]), unit.Minute(w[1]), unit.Minute(w[2])}
	}
	o.Done("name", "parts", "temp_c", "soak_min")
	ps = ps.Merge(r.Check())
	if err := ps.Err(); err != nil {
		return Recipe{}, err
	}
	return r, nil
}

func parsePart(o *input.Object) Part {
	p := Part{Kind: PartKind(o.String("kind")), Name: o.String("name"), Mass: unit.Gram(required(o, "mass_g"))}
	known := []string{"kind", "name", "mass_g"}
	switch p.Kind {
	case Earth:
		p.MoisturePct = o.Number("moisture_pct")
		if d := o.Number("particle_density_g_cm3"); d != nil {
			p.ParticleDensity = ptr(unit.GramPerCM3(*d))
		}
		known = append(known, "moisture_pct", "particle_density_g_cm3")
	case Salt:
		p.Salt = salt.ID(o.String("salt"))
		p.AssayPct = o.Number("assay_pct")
		known = append(known, "salt", "assay_pct")
	case Water:
	default:
		return p // its kind is the problem; calling its other keys unknown would only hide that
	}
	o.Done(known...)
	return p
}

// parseWindow reads min, target and max; min and max default to the target.
func parseWindow(parent *input.Object, key string) (w [3]float64, given bool) {
	o := parent.Object(key)
	if o == nil {
		return w, false
	}
	w[1] = required(o, "target")
	w[0], w[2] = w[1], w[1]
	if x := o.Number("min"); x != nil {
		w[0] = *x
	}
	if x := o.Number("max"); x != nil {
		w[2] = *x
	}
	o.Done("min", "target", "max")
	return w, true
}

// recipeJSON is the recipe file as it is written.
type recipeJSON struct {
	Name  string      `json:"name"`
	Parts []partJSON  `json:"parts"`
	Temp  windowJSON  `json:"temp_c"`
	Soak  *windowJSON `json:"soak_min,omitempty"`
}

type partJSON struct {
	Kind            PartKind         `json:"kind"`
	Name            string           `json:"name,omitempty"`
	Salt            salt.ID          `json:"salt,omitempty"`
	Mass            unit.Gram        `json:"mass_g"`
	MoisturePct     *float64         `json:"moisture_pct,omitempty"`
	ParticleDensity *unit.GramPerCM3 `json:"particle_density_g_cm3,omitempty"`
	AssayPct        *float64         `json:"assay_pct,omitempty"`
}

type windowJSON struct {
	Min    float64 `json:"min"`
	Target float64 `json:"target"`
	Max    float64 `json:"max"`
}

// MarshalJSON writes the recipe as a recipe file.
func (r Recipe) MarshalJSON() ([]byte, error) {
	out := recipeJSON{Name: r.Name, Temp: windowJSON{float64(r.Temp.Min), float64(r.Temp.Target), float64(r.Temp.Max)}}
	for _, p := range r.Parts {
		out.Parts = append(out.Parts, partJSON{p.Kind, p.Name, p.Salt, p.Mass, p.MoisturePct, p.ParticleDensity, p.AssayPct})
	}
	if r.Soak != nil {
		out.Soak = &windowJSON{float64(r.Soak.Min), float64(r.Soak.Target), float64(r.Soak.Max)}
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads a recipe file as [ParseRecipe] does.
func (r *Recipe) UnmarshalJSON(data []byte) error {
	parsed, err := ParseRecipe(data)
	if err == nil {
		*r = parsed
	}
	return err
}
