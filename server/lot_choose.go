package server

import (
	"cmp"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/server/view"
)

// anhydrousAluminium is the one salt that nobody can choose; it is no salt of the catalogue.
const anhydrousAluminium = "aluminium-chloride"

// lotIdentity is the material that an address or a form names. ok is false when it does not say enough: then the first step
// has to be shown.
func lotIdentity(kind, id string) (m bath.Material, ok bool) {
	switch k := bath.PartKind(kind); k {
	case bath.Water, bath.Earth:
		return bath.Material{Kind: k}, true
	case bath.Salt:
		form, err := salt.Lookup(id)
		return bath.Material{Kind: k, Name: form.Name, Salt: form.ID}, err == nil
	}
	return bath.Material{}, false
}

// chooseLot is the first step: what is it? A word that is no salt's identity leads into the list, narrowed by that word, and
// never to a salt.
func (s *Server) chooseLot(v *visit, kind, id string) error {
	l := v.listing()
	p := view.LotChoose{Base: v.base(v.T("A new lot: what is it?"))}
	p.Back = &view.Link{Label: v.T("Lots"), Href: "/lots"}
	status := http.StatusOK
	_, err := salt.Lookup(id)
	switch {
	case errors.Is(err, salt.ErrUnsafe):
		status = http.StatusUnprocessableEntity
		p.Refused = &view.Caution{Severity: string(caution.Danger), Word: v.translate(caution.Danger.Label()), Text: whyNever(v)}
		l.q = "AlCl3"
	case id != "", v.Request.Method == http.MethodPost, kind != "" && kind != string(bath.Salt):
		status = http.StatusUnprocessableEntity
		p.Unclear = v.T("“%s” does not say what it is. Choose below.", cmp.Or(id, kind))
		l.q = strings.ReplaceAll(id, "-", " ")
	case ambiguous(l.q):
		p.Unclear = v.T("“%s” alone does not say which salt. Read the formula and the CAS number on the bag.", l.q)
	}
	p.Kinds = []view.LotKind{
		{Label: v.T("Water"), Say: v.T("From a well, a tap or the roof"), Href: "/lots/new?kind=water"},
		{Label: v.T("Earth"), Say: v.T("One digging or delivery, with its moisture"), Href: "/lots/new?kind=earth"},
	}
	p.Filter = l.filter(v.T("Word, formula or CAS number"))
	looked := sameSpelling(l.q)
	for _, x := range sortedSalts(v, listing{visit: v, q: looked}) {
		p.Salts = append(p.Salts, saltToChoose(v, x))
	}
	p.Never = neverChosen(v, looked)
	return v.page(status, "lot_choose", p)
}

func saltToChoose(v *visit, x salt.Salt) view.LotSalt {
	out := view.LotSalt{
		Name: view.SaltName(v.T(x.Name)), Formula: x.Formula, CAS: x.CAS,
		Href: "/lots/new?" + url.Values{"kind": {string(bath.Salt)}, "salt": {string(x.ID)}}.Encode(),
	}
	if x.TradeName != "" {
		out.TradeName = v.T(x.TradeName)
	}
	if h, known := caution.HazardOf(string(x.ID)); known {
		out.Severity, out.Signal = signal(v, h)
	}
	return out
}

func signal(v *visit, h caution.Hazard) (severity, word string) {
	if h.Signal == "" {
		return "", v.T("not classified")
	}
	return string(h.Signal), v.translate(h.Signal.Label())
}

// neverChosen is anhydrous aluminium chloride with the reason, where it is among what is looked for.
func neverChosen(v *visit, looked string) *view.LotSalt {
	h, _ := caution.HazardOf(anhydrousAluminium)
	name := v.T("aluminium chloride, anhydrous")
	all := strings.ToLower(strings.Join([]string{name, h.Name, h.Formula, h.CAS}, " "))
	if slices.ContainsFunc(strings.Fields(looked), func(word string) bool { return !strings.Contains(all, word) }) {
		return nil
	}
	out := &view.LotSalt{Name: view.SaltName(name), Formula: h.Formula, CAS: h.CAS, Why: whyNever(v)}
	out.Severity, out.Signal = signal(v, h)
	return out
}

func whyNever(v *visit) string {
	x, _ := salt.Lookup(string(salt.AluminiumChlorideHexahydrate)) // it is of the catalogue
	return v.T("Anhydrous aluminium chloride can't be chosen. It bursts into heat and acid fume in water or damp earth. "+
		"The salt for a bath is the hexahydrate: %s, CAS %s.", x.Formula, x.CAS)
}

// bareWords are what people write on a scrap of paper for a salt. They narrow nothing: "salt" is not the common one.
var bareWords = []string{"salt", "salts", "sal"}

// ambiguous says whether a text can't tell one salt from another: the bare words, and whatever begins with "chlor".
func ambiguous(q string) bool {
	folded := strings.ToLower(strings.TrimSpace(q))
	return slices.Contains(bareWords, folded) || (strings.HasPrefix(folded, "chlor") && !strings.Contains(folded, " "))
}

// sameSpelling turns other spellings into those of the catalogue, in lower case, and leaves bare words out.
func sameSpelling(q string) string {
	q = strings.NewReplacer("aluminum", "aluminium", "sulph", "sulf", ".", "·", "*", "·").Replace(strings.ToLower(q))
	if slices.Contains(bareWords, strings.TrimSpace(q)) {
		return ""
	}
	return q
}
