package server

import (
	"encoding/json"
	"fmt"
	"strings"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/unit"
)

// A keptSheet is what stands on a bath sheet besides its inputs, as it was on the day: it is stored with the sheet and never
// worked out again, so that neither a later formula nor a later rule rewrites paper.
type keptSheet struct {
	Answer  bath.Answer     `json:"answer"` // as `blackbath scale --json` writes it
	Details bath.Details    `json:"details"`
	Weigh   []keptWeigh     `json:"weigh"`    // goes with Answer.Weigh
	Temp    bath.TempWindow `json:"temp_c"`   // as scaled: the form may ask for another temperature than the recipe
	Window  bath.TempWindow `json:"window_c"` // as the recipe version states it

	Workshop    string          `json:"workshop"`
	RecipeID    int64           `json:"recipe_id"`
	Version     int             `json:"version"`
	Lots        []string        `json:"lots"`         // of each part, as called on that day; "": no lot
	HeightKnown bool            `json:"height_known"` // the height above the sea or the boil was given
	Load        string          `json:"load"`         // as typed
	Pieces      string          `json:"pieces"`       // as typed
	Reader      string          `json:"reader"`       // the second person who read the chloride's formula aloud; "": not asked
	Move        []bath.MoveLine `json:"move,omitempty"`
	Proven      string          `json:"proven,omitempty"` // tank where the recipe was proven

	Order   []string          `json:"order"`
	Fires   []keptCaution     `json:"fires"`
	Ask     []caution.Missing `json:"ask"`
	Closing string            `json:"closing"`
	Text    string            `json:"text"` // the sheet for a printer of 80 columns
}

// A keptWeigh is what the answer's JSON leaves out of one line.
type keptWeigh struct {
	Part      int       `json:"part"`
	Pure      unit.Gram `json:"pure_g"`
	WaterInIt unit.Gram `json:"water_in_it_g"`
}

// A keptCaution is one rule as it was printed, in English; a page translates it.
type keptCaution struct {
	ID       string           `json:"id"`
	Severity caution.Severity `json:"severity"`
	Text     string           `json:"text"`
}

// keep gathers what is stored with a sheet. paper is what the rules say of it.
func (a *scaleAsk) keep(w scaled, paper bath.SheetCautions) (json.RawMessage, error) {
	k := keptSheet{
		Answer: w.answer, Details: w.answer.Details, HeightKnown: a.boils != nil || a.altitude != nil, Temp: w.recipe.Temp, Window: a.in.Version.Recipe.Temp, Workshop: a.shop.Name, RecipeID: a.in.recipeID,
		Version: a.in.Version.Number, Lots: make([]string, len(a.lots)), Load: strings.TrimSpace(a.load), Pieces: a.pieces, Reader: a.reader,
		Order: bath.OrderOfWork, Ask: paper.Ask, Closing: paper.Closing,
	}
	for _, x := range w.answer.Weigh {
		k.Weigh = append(k.Weigh, keptWeigh{x.Part, x.Pure, x.WaterInIt})
	}
	for i, id := range a.lots {
		if l := a.in.lot(id); l != nil {
			k.Lots[i] = lotOf(*l, w.recipe.Parts[i])
		}
	}
	for _, c := range paper.Fires {
		k.Fires = append(k.Fires, keptCaution{c.ID, c.Severity, c.RuleText})
	}
	if proof := a.in.Version.Proof; proof != nil {
		// What cannot be compared was said on the page; the sheet goes without.
		k.Move, _ = bath.Move(w.recipe, *proof, w.tank, w.conditions, w.loadArea, w.answer)
		k.Proven = proof.Tank.Name
	}
	var text strings.Builder
	if err := bath.WriteSheet(&text, w.recipe, w.tank, w.conditions, w.answer); err != nil {
		return nil, err
	}
	k.Text = text.String()
	stored, err := json.Marshal(k)
	if err != nil {
		return nil, fmt.Errorf("keep the figures of the sheet: %w", err)
	}
	return stored, nil
}

// lotName is a lot as a sheet calls it.
func lotName(l bath.Lot) string {
	if l.Material.Kind == bath.Earth && l.Material.Name != l.Name {
		return l.Material.Name + ", " + l.Name
	}
	return l.Name
}

// readKept reads what was stored with a sheet and puts its recipe back as it was scaled.
func readKept(s *bath.BathSheet) (keptSheet, error) {
	var k keptSheet
	if err := json.Unmarshal(s.Answer, &k); err != nil {
		return k, fmt.Errorf("figures of bath sheet %d: %w", s.ID, err)
	}
	if len(k.Weigh) != len(k.Answer.Weigh) || len(k.Lots) != len(s.Recipe.Parts) {
		return k, fmt.Errorf("figures of bath sheet %d: its parts do not fit its recipe", s.ID)
	}
	for i, x := range k.Weigh {
		if x.Part < 0 || x.Part >= len(s.Recipe.Parts) {
			return k, fmt.Errorf("figures of bath sheet %d: no part %d", s.ID, x.Part)
		}
		w := &k.Answer.Weigh[i]
		w.Part, w.Pure, w.WaterInIt = x.Part, x.Pure, x.WaterInIt
	}
	k.Answer.Details = k.Details
	s.Recipe.Temp = k.Temp
	return k, nil
}
