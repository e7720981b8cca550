package server

import (
	"errors"
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/server/form"
	"blackbath/server/store"
	"blackbath/server/words"
)

// materialFields ask which earth or which water it is: one that the workshop has, or a new name. A salt is known already.
func materialFields(f *form.Form, m *bath.Material, materials []bath.Material) {
	if m.Kind == bath.Salt {
		return
	}
	pick, name, help := input.Say("Which earth"), input.Say("Name of a new earth"), input.Say("Recipes name it so: breakwater earth")
	if m.Kind == bath.Water {
		pick, name, help = input.Say("Which water"), input.Say("Name of a new water"), input.Say("Like yard well")
	}
	picked, typed := m.ID, ""
	if len(materials) > 0 {
		options := []form.Option{{Label: input.Say("a new one, named below")}}
		for _, x := range materials {
			options = append(options, form.Option{Value: idText(x.ID), Label: words.As(x.Name)})
		}
		form.Pick(f, &picked, form.Field{Name: "material_id", Label: pick, Options: options})
	}
	f.Text(&typed, form.Field{Name: "material_name", Label: name, Longest: 80, Help: help})
	if !f.Sent() {
		return
	}
	switch {
	case picked == 0 && typed == "":
		f.Refuse("material_name", "", input.Say("a name, like those on the sacks or by its place"))
	case picked != 0 && typed != "":
		f.Refuse("material_name", typed, input.Say("nothing here, or choose “a new one” above"))
	case m.Kind == bath.Earth && namesSalt(typed):
		f.Refuse("material_name", typed, input.Say("the name of an earth. A salt is chosen by its formula and CAS number"))
	}
	*m = bath.Material{Kind: m.Kind, Name: typed}
	for _, x := range materials {
		if x.ID == picked || (typed != "" && strings.EqualFold(x.Name, typed)) {
			*m = x
		}
	}
}

// materialsOf are the materials of a kind that the workshop has.
func (s *Server) materialsOf(v *visit, kind bath.PartKind) ([]bath.Material, error) {
	all, err := s.store.ListMaterials(v.Request.Context(), v.shop.ID)
	return slices.DeleteFunc(all, func(m bath.Material) bool { return m.Kind != kind }), err
}

// materialID is the number of a material; one that the workshop has not had yet is stored.
func (s *Server) materialID(v *visit, m bath.Material) (int64, error) {
	if m.ID != 0 {
		return m.ID, nil
	}
	id, err := s.store.SaveMaterial(v.Request.Context(), v.shop.ID, m)
	if !errors.Is(err, store.ErrDuplicate) {
		return id, err
	}
	same, listErr := s.materialsOf(v, m.Kind)
	if listErr != nil {
		return 0, listErr
	}
	for _, x := range same {
		if x.Salt == m.Salt && (m.Kind == bath.Salt || x.Name == m.Name) {
			return x.ID, nil
		}
	}
	return 0, err
}
