package server

import (
	"context"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"blackbath/bath"
	"blackbath/bath/unit"
	"blackbath/server/store"
)

// scaleInputs are what the store knows for the scale page: the recipe version, and the tanks and lots to choose from.
type scaleInputs struct {
	store.ScaleInputs
	recipeID int64
}

// scaleInputs reads them for a version by its number in its recipe.
func (s *Server) scaleInputs(ctx context.Context, workshopID, recipeID int64, number int) (*scaleInputs, error) {
	from, err := s.store.ScaleInputs(ctx, workshopID, recipeID, number)
	if err != nil {
		return nil, err
	}
	if from.LastChloride == "" {
		from.LastChloride = bath.NoChloride
	}
	return &scaleInputs{ScaleInputs: from, recipeID: recipeID}, nil
}

func (in *scaleInputs) tank(id int64) *bath.KeptTank {
	i := slices.IndexFunc(in.Tanks, func(t bath.KeptTank) bool { return t.ID == id })
	if i < 0 {
		return nil
	}
	return &in.Tanks[i]
}

func (in *scaleInputs) lot(id int64) *bath.Lot {
	i := slices.IndexFunc(in.Lots, func(l bath.Lot) bool { return l.ID == id })
	if i < 0 {
		return nil
	}
	return &in.Lots[i]
}

// fits says whether a lot may be weighed for a part: any earth for an earth, for a salt that very salt.
func fits(l bath.Lot, p bath.Part) bool {
	return p.Kind != bath.Water && l.Material.Kind == p.Kind && l.Material.Salt == p.Salt
}

// The names of the form's fields. Where bath checks a value they are the paths that it reports, apart from a few in
// [scaleAsk.refuse].
const (
	tankField    = "tank"
	tankWasField = "tank_was" // the tank whose free height stands in the form
)

func partField(i int, key string) string { return "parts[" + strconv.Itoa(i) + "]." + key }

// share is the field that says what a lot is short of being pure and dry.
func share(p bath.Part) string {
	if p.Kind == bath.Earth {
		return "moisture_pct"
	}
	return "assay_pct"
}

// defaults are what the form holds before anybody typed anything.
func (in *scaleInputs) defaults(shop bath.Workshop) url.Values {
	r := in.Version.Recipe
	typed := url.Values{
		tankField: {idText(in.Tanks[0].ID)}, "freeboard_cm": {figure(in.Tanks[0].Freeboard)},
		"copper_pct": {"6"}, "temp_c": {figure(r.Temp.Target)}, "water_temp_c": {"20"},
		"step_g": {figure(shop.BalanceStep)}, "bucket_l": {figureOr(shop.Bucket)},
		"water_boils_at_c": {figureOr(shop.WaterBoilsAt)}, "altitude_m": {figureOr(shop.Altitude)},
	}
	for i, p := range r.Parts {
		if p.Kind == bath.Water {
			continue
		}
		lot := in.likely(p)
		typed.Set(partField(i, "lot"), idText(lot))
		typed.Set(partField(i, share(p)), in.known(p, lot))
	}
	return typed
}

// likely is the lot that the form offers first: for a salt the oldest that is not used up; for an earth one that is called
// like the part, or the only one there is. 0: none.
func (in *scaleInputs) likely(p bath.Part) int64 {
	var found []int64
	for _, l := range in.Lots {
		if !fits(l, p) {
			continue
		}
		if p.Kind == bath.Salt || strings.EqualFold(l.Material.Name, p.Name) || strings.EqualFold(l.Name, p.Name) {
			return l.ID
		}
		found = append(found, l.ID)
	}
	if len(found) == 1 {
		return found[0]
	}
	return 0
}

// known is what a lot's moisture or assay is recorded as, or else the recipe's own; "" when neither is.
func (in *scaleInputs) known(p bath.Part, lotID int64) string {
	l := in.lot(lotID)
	switch {
	case l == nil && p.Kind == bath.Earth:
		return figureOr(p.MoisturePct)
	case l == nil:
		return figureOr(p.AssayPct)
	case p.Kind == bath.Earth:
		return figureOr(l.MoisturePct)
	default:
		return assayText(*l)
	}
}

// assayText is a lot's assay of the named form; one that was counted without crystal water is rounded to 0.01 %.
func assayText(l bath.Lot) string {
	pct := l.AssayNamedPct()
	if pct == nil || l.AssayBasis != bath.AssayAsAnhydrous {
		return figureOr(pct)
	}
	return figure(math.Round(*pct*100) / 100)
}

// typed is the whole of the form: what was sent over what it holds at first. Where another tank or lot was chosen than the
// one whose figures stand in the form, the figures of the new one are filled in, and moved is true.
func (in *scaleInputs) typed(shop bath.Workshop, sent url.Values) (typed url.Values, moved bool) {
	typed = in.defaults(shop)
	for name, value := range sent {
		typed[name] = value
	}
	follow := func(choice, was, figure, fresh string) {
		before, known := sent[was]
		chosen := typed.Get(choice)
		_, given := sent[figure]
		if (known && before[0] != chosen) || (!known && !given) {
			moved = moved || known
			typed.Set(figure, fresh)
		}
		typed.Set(was, chosen)
	}
	if t := in.tank(rowID(typed.Get(tankField))); t != nil {
		follow(tankField, tankWasField, "freeboard_cm", figure(t.Freeboard))
	}
	for i, p := range in.Version.Recipe.Parts {
		if p.Kind != bath.Water {
			name := partField(i, "lot")
			follow(name, partField(i, "lot_was"), partField(i, share(p)), in.known(p, rowID(typed.Get(name))))
		}
	}
	return typed, moved
}

// remembered keys: the last sheet of a version, and of a version in one tank.
func scaleKey(versionID int64) string                  { return "scale/" + idText(versionID) }
func scaleTankKey(versionID int64, tank string) string { return scaleKey(versionID) + "/" + tank }

// remembered is what the form was last filled in with when a sheet was made; empty when none was. Tanks and lots that are
// gone since are left out.
func (s *Server) remembered(ctx context.Context, workshopID int64, in *scaleInputs, key string) (url.Values, error) {
	text, err := s.store.RememberedForm(ctx, workshopID, key)
	if err != nil {
		return nil, err
	}
	kept, err := url.ParseQuery(text)
	if err != nil { // written by another version of the program
		return url.Values{}, nil
	}
	if in.tank(rowID(kept.Get(tankField))) == nil {
		kept.Del(tankField)
		kept.Del(tankWasField)
		kept.Del("freeboard_cm")
	}
	for i, p := range in.Version.Recipe.Parts {
		if name := partField(i, "lot"); kept.Get(name) != "" && in.lot(rowID(kept.Get(name))) == nil {
			kept.Del(name)
			kept.Del(partField(i, "lot_was"))
			kept.Del(partField(i, share(p)))
		}
	}
	return kept, nil
}

// idText writes a row's number as a form sends it; no row is "".
func idText(n int64) string {
	if n == 0 {
		return ""
	}
	return strconv.FormatInt(n, 10)
}

// rowID reads it; what is none is 0, which is no row.
func rowID(s string) int64 {
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil {
		return 0
	}
	return n
}

// figure writes a figure so that the form reads it back as the same, without the noise of the twelfth digit on.
func figure[T ~float64](x T) string {
	tidy, err := strconv.ParseFloat(strconv.FormatFloat(float64(x), 'g', 12, 64), 64)
	if err != nil {
		tidy = float64(x)
	}
	return strconv.FormatFloat(tidy, 'f', -1, 64)
}

func figureOr[T ~float64](x *T) string {
	if x == nil {
		return ""
	}
	return figure(*x)
}

// inLitres writes a volume in a choice.
func inLitres(l unit.Litre) string { return strconv.FormatFloat(float64(l), 'f', 1, 64) + "\u00a0L" }
