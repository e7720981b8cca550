package server

import (
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/view"
)

// A recipeAsk is the form of one version of a recipe, filled in.
type recipeAsk struct {
	form     *form.Form
	version  bath.Version
	rows     []view.PartRow
	chloride *chlorideAsk
	reasons  bool  // a later version says what changed and why
	seen     int64 // what the page saw
}

// A recipeStart is what a recipe form starts from.
type recipeStart struct {
	held    bath.Version // whose values are shown first
	blank   []bath.Part  // rows that are offered empty
	reasons bool
	before  bath.Recipe // the version before; without parts: none
	last    salt.ID     // the chloride that was used last
	edit    int64       // what the page saw
}

// newRecipe is what the page of a new recipe offers.
func newRecipe() recipeStart {
	return recipeStart{blank: []bath.Part{{Kind: bath.Water}, {Kind: bath.Earth}, {Kind: bath.Salt}}}
}

// show is the form as it is first seen.
func (start recipeStart) show() *recipeAsk {
	parts := slices.Concat(start.held.Recipe.Parts, start.blank)
	return start.bind(form.New(), parts, partRows{filled: len(start.held.Recipe.Parts), all: len(parts)})
}

// read is the form as it was sent. pressed is true where only a row was wanted more or less.
func (start recipeStart) read(v *visit) (a *recipeAsk, pressed bool, err error) {
	f, err := v.form()
	if err != nil {
		return nil, false, err
	}
	rows, pressed, err := arrangeParts(v.Request.PostForm)
	if err != nil {
		return nil, false, err
	}
	a = start.bind(f, nil, rows)
	if pressed {
		f.Forgive()
	}
	return a, pressed, nil
}

func (start recipeStart) bind(f *form.Form, parts []bath.Part, rows partRows) *recipeAsk {
	a := &recipeAsk{form: f, version: start.held, reasons: start.reasons}
	a.seen = start.edit
	f.Edit(&a.seen)
	r := &a.version.Recipe
	f.Text(&r.Name, form.Field{Name: "name", Label: input.Say("Name of the recipe"), Required: true, Longest: 80})
	r.Parts, a.rows = bindParts(f, parts, rows)
	a.windows(start.held)
	if start.reasons {
		f.Long(&a.version.Change, form.Field{Name: "change", Label: input.Say("What changed"), Required: true, Longest: 400,
			Help: input.Say("Like: 100\u00a0g more sal ammoniac")})
		f.Long(&a.version.Why, form.Field{Name: "why", Label: input.Say("Why"), Required: true, Longest: 400,
			Help: input.Say("What you saw, or what you want to see")})
	} else {
		f.Long(&a.version.Why, form.Field{Name: "why", Label: input.Say("Where it comes from, or why it is so"), Longest: 400, Help: input.Say("May stay empty")})
	}
	f.Text(&a.version.MadeBy, form.Field{Name: "made_by", Label: input.Say("Written by"), Longest: 60, Autocomplete: "name", Help: input.Say("May stay empty")})
	a.chloride = askChloride(f, *r, start.last, start.before)
	if f.Sent() {
		f.Add(a.unsaid(r.Check()))
	}
	return a
}

// windows binds the two windows. Lowest and highest are the target where they are left empty.
func (a *recipeAsk) windows(held bath.Version) {
	r := &a.version.Recipe
	temp := windowFields[unit.Celsius]{form: a.form, path: "temp_c", unit: unit.C,
		target: input.Say("Temperature to aim for"), min: input.Say("Lowest temperature"), max: input.Say("Highest temperature")}
	if len(held.Recipe.Parts) > 0 {
		temp.hold(r.Temp.Min, r.Temp.Target, r.Temp.Max)
	}
	if w, given := temp.bind(); given {
		r.Temp = bath.TempWindow{Min: w[0], Target: w[1], Max: w[2]}
	} else if a.form.Sent() {
		a.form.Refuse("temp_c.target", "", input.Say("the temperature to aim for"))
	}
	soak := windowFields[unit.Minute]{form: a.form, path: "soak_min", unit: unit.Min,
		target: input.Say("Soak to aim for"), min: input.Say("Shortest soak"), max: input.Say("Longest soak")}
	if s := r.Soak; s != nil {
		soak.hold(s.Min, s.Target, s.Max)
	}
	r.Soak = nil
	if w, given := soak.bind(); given {
		r.Soak = &bath.SoakWindow{Min: w[0], Target: w[1], Max: w[2]}
	} else if a.form.Sent() && (soak.values[0] != nil || soak.values[2] != nil) {
		a.form.Refuse("soak_min.target", "", input.Say("the soak to aim for, or leave all three empty"))
	}
}

// A windowFields is the three fields of a window.
type windowFields[T ~float64] struct {
	form             *form.Form
	path             string
	unit             unit.Unit
	target, min, max input.Text
	values           [3]*T // min, target, max
}

func (w *windowFields[T]) hold(low, target, high T) { w.values = [3]*T{&low, &target, &high} }

// bind returns the window; given is false when there is no target.
func (w *windowFields[T]) bind() (out [3]T, given bool) {
	same := input.Say("Empty: the same")
	form.Optional(w.form, &w.values[1], form.Field{Name: w.path + ".target", Label: w.target, Unit: w.unit})
	form.Optional(w.form, &w.values[0], form.Field{Name: w.path + ".min", Label: w.min, Unit: w.unit, Help: same})
	form.Optional(w.form, &w.values[2], form.Field{Name: w.path + ".max", Label: w.max, Unit: w.unit, Help: same})
	if w.values[1] == nil {
		return out, false
	}
	for i, x := range w.values {
		if x == nil {
			x = w.values[1]
		}
		out[i] = *x
	}
	return out, true
}

// unsaid leaves out of a recipe's problems what only follows from a field that is to be put right anyway, and gives the
// rest the names that a reader knows.
func (a *recipeAsk) unsaid(ps input.Problems) input.Problems {
	var out input.Problems
	for _, p := range ps {
		window, _, inWindow := strings.Cut(p.Field, ".")
		if target := a.form.Get(window + ".target"); inWindow && target != nil && target.Bad() {
			continue
		}
		if p.Field == "parts" {
			p.Field = "Parts"
		}
		if f := a.form.Get(p.Field); f != nil && strings.TrimSpace(f.Typed) != "" {
			p.Got = strings.TrimSpace(f.Typed)
		}
		out = append(out, p)
	}
	return out
}

// recipeForm draws the form. p.Action is where it is sent.
func (s *Server) recipeForm(v *visit, status int, a *recipeAsk, p view.RecipeForm) error {
	materials, err := s.store.ListMaterials(v.Request.Context(), v.shop.ID)
	if err != nil {
		return err
	}
	for _, m := range materials {
		if m.Kind == bath.Earth {
			p.Earths = append(p.Earths, m.Name)
		}
	}
	p.Form, p.Rows, p.Chloride, p.Reasons = a.form, a.rows, a.chloride.view(v), a.reasons
	return v.page(status, "recipe_form", p)
}
