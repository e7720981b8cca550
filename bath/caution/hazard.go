package caution

import (
	"slices"
	"strings"
)

// A Hazard is how a salt is classified and labelled. The supplier's safety data sheet for the bag in the shop comes first:
// suppliers differ, and the law changes.
type Hazard struct {
	ID      string // as in facts
	Name    string
	Formula string
	CAS     string
	// Signal is the signal word on the label, Danger or Warning; "" when the salt is not classified.
	Signal Severity
	Codes  []string // hazard statements of the GHS, each in HazardStatement
	Basis  string   // what the classification rests on and where suppliers differ
	// Source has keys of SAFETY.md, section 14; "(from memory)" marks what nobody has checked against a source.
	Source string
	// Taken is the date of the sources as they print it; "" when they print none.
	Taken string
}

// FromMemory says whether part of the classification has not been checked against a source.
func (h Hazard) FromMemory() bool { return strings.Contains(h.Source, fromMemory) }

// Hazards returns the salts that go into baths on purpose, and the one that must not.
func Hazards() []Hazard { return slices.Clone(hazards[:]) }

// HazardOf returns the hazard of a salt; ok is false for any other substance.
func HazardOf(id string) (h Hazard, ok bool) {
	for _, h := range hazards {
		if h.ID == id {
			return h, true
		}
	}
	return Hazard{}, false
}

// HazardStatement returns the official wording of a code, from Annex III of Regulation (EC) No 1272/2008; "" for a code
// that no salt here has.
func HazardStatement(code string) string { return hazardStatements[code] }

var hazardStatements = map[string]string{
	"H272":   "May intensify fire; oxidiser",
	"H290":   "May be corrosive to metals",
	"H302":   "Harmful if swallowed",
	"H314":   "Causes severe skin burns and eye damage",
	"H315":   "Causes skin irritation",
	"H318":   "Causes serious eye damage",
	"H319":   "Causes serious eye irritation",
	"H335":   "May cause respiratory irritation",
	"H400":   "Very toxic to aquatic life",
	"H410":   "Very toxic to aquatic life with long lasting effects",
	"EUH014": "Reacts violently with water",
}

// Annex VI is the table of harmonised classifications of the same regulation.
var hazards = [...]Hazard{
	{ID: "ammonium-chloride", Name: "ammonium chloride (sal ammoniac)", Formula: "NH4Cl", CAS: "12125-02-9",
		Signal: Warning, Codes: []string{"H302", "H319"},
		Basis:  "Annex VI 017-014-00-8",
		Source: "[K1][K2]", Taken: "K1 30 Jan 2020; K2 Dec 2000"},
	{ID: "ammonium-sulfate", Name: "ammonium sulfate", Formula: "(NH4)2SO4", CAS: "7783-20-2",
		Basis:  "not classified; an ammonium salt for every rule all the same",
		Source: "[K25][K26]"},
	{ID: "ammonium-nitrate", Name: "ammonium nitrate", Formula: "NH4NO3", CAS: "6484-52-2",
		Signal: Warning, Codes: []string{"H272", "H319"},
		Basis:  "suppliers' own classification",
		Source: "classification (from memory); reactivity [K29]"},
	{ID: "sodium-chloride", Name: "sodium chloride (common salt)", Formula: "NaCl", CAS: "7647-14-5",
		Basis:  "not classified",
		Source: "(from memory)"},
	{ID: "sodium-nitrate", Name: "sodium nitrate", Formula: "NaNO3", CAS: "7631-99-4",
		Signal: Danger, Codes: []string{"H272", "H319"},
		Basis:  "suppliers' own classification; Danger where they class it as oxidiser of category 2, Warning of category 3",
		Source: "[K23][K24]", Taken: "K24 Oct 2001"},
	{ID: "potassium-chloride", Name: "potassium chloride", Formula: "KCl", CAS: "7447-40-7",
		Basis:  "not classified",
		Source: "(from memory)"},
	{ID: "potassium-nitrate", Name: "potassium nitrate (saltpetre)", Formula: "KNO3", CAS: "7757-79-1",
		Signal: Warning, Codes: []string{"H272"},
		Basis:  "suppliers' own classification; some add H302, H319",
		Source: "[K7a][K7b][K22]", Taken: "K7a 2021"},
	{ID: "aluminium-chloride-hexahydrate", Name: "aluminium chloride hexahydrate", Formula: "AlCl3·6H2O", CAS: "7784-13-6",
		Signal: Danger, Codes: []string{"H290", "H314"},
		Basis:  "suppliers' own classification, from H290 with H315 and H319 up to H290 with H314: the stricter stands here",
		Source: "CAS [K21]; a 30 % solution [K5]; codes for the crystal (from memory)", Taken: "K5 2017"},
	{ID: "aluminium-chloride", Name: "aluminium chloride, anhydrous", Formula: "AlCl3", CAS: "7446-70-0",
		Signal: Danger, Codes: []string{"H314", "EUH014"},
		Basis:  "Annex VI 013-003-00-7; suppliers add EUH014. Never into water or damp earth",
		Source: "[K3][K4][K6]; EUH014 (from memory)", Taken: "K3 Apr 2005"},
	{ID: "copper-sulfate", Name: "copper(II) sulfate, anhydrous", Formula: "CuSO4", CAS: "7758-98-7",
		Signal: Warning, Codes: []string{"H302", "H315", "H319", "H400", "H410"},
		Basis:  "phrases of the card; the rules treat it like the pentahydrate, which is Danger",
		Source: "phrases [K9]; codes (from memory)", Taken: "K9 Nov 2023"},
	{ID: "copper-sulfate-pentahydrate", Name: "copper(II) sulfate pentahydrate (blue vitriol)", Formula: "CuSO4·5H2O",
		CAS: "7758-99-8", Signal: Danger, Codes: []string{"H302", "H318", "H400", "H410"},
		Basis:  "Annex VI 029-023-00-4",
		Source: "[K8]; index number (from memory)", Taken: "K8 Nov 2023"},
	{ID: "zinc-chloride", Name: "zinc chloride", Formula: "ZnCl2", CAS: "7646-85-7",
		Signal: Danger, Codes: []string{"H302", "H314", "H335", "H400", "H410"},
		Basis:  "Annex VI 030-003-00-2; H335 added by the card",
		Source: "[K11][K12][K13]", Taken: "K11 2016; K13 Apr 2017"},
	{ID: "zinc-sulfate", Name: "zinc sulfate, anhydrous", Formula: "ZnSO4", CAS: "7733-02-0",
		Signal: Danger, Codes: []string{"H302", "H318", "H400", "H410"},
		Basis:  "Annex VI 030-006-00-9",
		Source: "(from memory)"},
	{ID: "zinc-sulfate-heptahydrate", Name: "zinc sulfate heptahydrate", Formula: "ZnSO4·7H2O", CAS: "7446-20-0",
		Signal: Danger, Codes: []string{"H302", "H318", "H400", "H410"},
		Basis:  "Annex VI 030-006-00-9",
		Source: "(from memory)"},
}
