package server

import (
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/server/form"
	"blackbath/server/view"
	"blackbath/server/words"
)

// partKeys are the fields of one row of a recipe's parts, in their order.
var partKeys = []string{"kind", "salt", "name", "mass_g"}

var partRowName = regexp.MustCompile(`^parts\[(\d{1,6})\]\.(kind|salt|name|mass_g)$`)

// mostRows is how many rows of parts are read at all. More than [bath.MostParts] are refused in words.
const mostRows = 2 * bath.MostParts

// The buttons that only change how many rows there are.
const (
	addRow    = "add"
	removeRow = "remove"
)

// partRows are the rows of a recipe form: the filled ones come first, so that row i of them is part i of the recipe.
type partRows struct{ filled, all int }

// arrangeParts numbers the rows of parts anew in what was sent: without gaps, filled ones first, one fewer or one more where
// a button asks for that. It reports whether such a button was pressed.
func arrangeParts(sent url.Values) (rows partRows, pressed bool, err error) {
	found := map[int]url.Values{}
	for name := range sent {
		m := partRowName.FindStringSubmatch(name)
		if m == nil {
			continue
		}
		n, _ := strconv.Atoi(m[1])
		if found[n] == nil {
			found[n] = url.Values{}
		}
		found[n].Set(m[2], sent.Get(name))
		sent.Del(name)
	}
	if len(found) > mostRows {
		return rows, false, input.Problems{{Field: "parts", Got: strconv.Itoa(len(found)) + " parts", Allowed: input.Say("at most %d parts", bath.MostParts)}}
	}
	if at := sent.Get(removeRow); at != "" {
		pressed = true
		if n, err := strconv.Atoi(at); err == nil {
			delete(found, n)
		}
	}
	var filled, blank []url.Values
	order := make([]int, 0, len(found))
	for n := range found {
		order = append(order, n)
	}
	slices.Sort(order)
	for _, n := range order {
		if blankRow(found[n]) {
			if found[n].Get("kind") == "" {
				found[n].Set("kind", string(bath.Salt))
			}
			blank = append(blank, found[n])
		} else {
			filled = append(filled, found[n])
		}
	}
	if sent.Get(addRow) != "" {
		pressed = true
		blank = append(blank, url.Values{"kind": {string(bath.Salt)}})
	}
	for i, row := range append(slices.Clone(filled), blank...) {
		for _, key := range partKeys {
			sent.Set(partField(i, key), row.Get(key))
		}
	}
	return partRows{filled: len(filled), all: len(filled) + len(blank)}, pressed, nil
}

func blankRow(row url.Values) bool {
	return strings.TrimSpace(row.Get("salt")+row.Get("name")+row.Get("mass_g")) == ""
}

// bindParts binds the rows and returns the parts, and the rows as the page draws them.
func bindParts(f *form.Form, held []bath.Part, rows partRows) (parts []bath.Part, drawn []view.PartRow) {
	parts = make([]bath.Part, rows.all)
	copy(parts, held)
	for i := range parts {
		bindPart(f, &parts[i], i)
		if f.Sent() && i < rows.filled {
			checkPart(f, parts[i], i)
		}
		at := func(key string) *form.Field { return f.Get(partField(i, key)) }
		drawn = append(drawn, view.PartRow{Number: i + 1, Index: i, Kind: at("kind"), Salt: at("salt"), Earth: at("name"), Mass: at("mass_g")})
	}
	return parts[:rows.filled], drawn
}

func bindPart(f *form.Form, p *bath.Part, i int) {
	form.Choice(f, &p.Kind, form.Field{Name: partField(i, "kind"), Label: input.Say("Part %d is", i+1), Required: true, Options: []form.Option{
		{Value: string(bath.Water), Label: input.Say("water")},
		{Value: string(bath.Earth), Label: input.Say("earth")},
		{Value: string(bath.Salt), Label: input.Say("a salt")},
	}})
	// A salt that is not in the list is kept and shown: the check of the recipe says what is wrong with it.
	which := string(p.Salt)
	f.Text(&which, form.Field{Name: partField(i, "salt"), Label: input.Say("Which salt, part %d", i+1)})
	p.Salt = salt.ID(which)
	pick := f.Get(partField(i, "salt"))
	pick.Kind, pick.Options = form.KindChoice, saltOptions(which)
	f.Text(&p.Name, form.Field{
		Name: partField(i, "name"), Label: input.Say("Which earth, part %d", i+1), Longest: 80, Help: input.Say("Named as its lots are"),
	})
	var mass *unit.Gram
	if p.Mass != 0 {
		mass = &p.Mass
	}
	form.Optional(f, &mass, form.Field{Name: partField(i, "mass_g"), Label: input.Say("Mass of part %d", i+1), Unit: unit.G})
	if mass != nil {
		p.Mass = *mass
	}
}

// checkPart looks at what only a form can get wrong: fields that contradict each other, and what is not filled in.
func checkPart(f *form.Form, p bath.Part, i int) {
	empty := func(key string) bool { return strings.TrimSpace(f.Get(partField(i, key)).Typed) == "" }
	if empty("mass_g") {
		f.Refuse(partField(i, "mass_g"), "", input.Say("a mass, like 900\u00a0g or 0.9\u00a0kg"))
	}
	switch p.Kind {
	case bath.Salt:
		if empty("salt") {
			f.Refuse(partField(i, "salt"), "", input.Say("the salt by picking it: formula and CAS number must be those on the bag"))
		}
		if !empty("name") {
			f.Refuse(partField(i, "name"), p.Name, input.Say("nothing here: a salt is picked from the list, never written"))
		}
	case bath.Earth:
		switch {
		case empty("name"):
			f.Refuse(partField(i, "name"), "", input.Say("the name of the earth, as its lots are named"))
		case namesSalt(p.Name):
			f.Refuse(partField(i, "name"), p.Name, input.Say("the name of an earth. If it is a salt, say so above and pick it by its formula and CAS number"))
		}
		if !empty("salt") {
			f.Refuse(partField(i, "salt"), string(p.Salt), input.Say("no salt for an earth, or say above that the part is a salt"))
		}
	case bath.Water:
		if !empty("salt") {
			f.Refuse(partField(i, "salt"), string(p.Salt), input.Say("no salt for water, or say above that the part is a salt"))
		}
		if !empty("name") {
			f.Refuse(partField(i, "name"), p.Name, input.Say("nothing here: water needs no name. If it is an earth, say so above"))
		}
	}
}

// saltOptions are the salts of the catalogue. Anhydrous aluminium chloride is not among them. typed is added where it is none
// of them, so that it is shown again.
func saltOptions(typed string) []form.Option {
	options := []form.Option{{Label: input.Say("no salt picked")}}
	known := typed == ""
	for _, s := range salt.All() {
		options = append(options, form.Option{Value: string(s.ID), Label: saltChoice(s)})
		known = known || string(s.ID) == typed
	}
	if !known {
		options = append(options, form.Option{Value: typed, Label: input.Say("“%s”, not in the list", words.As(typed))})
	}
	return options
}

// saltChoice is a salt in a list: its formula first, so that a narrow field still shows it.
func saltChoice(s salt.Salt) input.Text {
	if s.TradeName == "" {
		return input.Say("%s, %s, CAS %s", s.Formula, input.Say(s.Name), s.CAS)
	}
	return input.Say("%s, %s (%s), CAS %s", s.Formula, input.Say(s.Name), input.Say(s.TradeName), s.CAS)
}

// namesSalt says whether the name of an earth is really that of a salt: what people write on a scrap of paper for one, a name,
// formula or CAS number of the catalogue, or anything that begins with "chlor".
func namesSalt(name string) bool {
	folded := strings.ToLower(strings.Join(strings.Fields(name), " "))
	for word := range strings.FieldsSeq(folded) {
		if strings.HasPrefix(word, "chlor") {
			return true
		}
	}
	if slices.Contains([]string{"salt", "sal", "alcl3", "aluminium", "aluminum", "ammonium"}, folded) {
		return true
	}
	return slices.ContainsFunc(salt.All(), func(s salt.Salt) bool {
		return slices.ContainsFunc([]string{string(s.ID), s.Name, s.TradeName, s.Formula, s.CAS}, func(x string) bool {
			return x != "" && strings.EqualFold(x, folded)
		})
	})
}
