package salt

// waterGPerMol is the molar mass of water, from the IUPAC abridged standard
// atomic weights.
const waterGPerMol = 18.015

// catalogue is every form, in the order the program lists them. The registry
// numbers of the anhydrous salts are those of the table of Laliberte 2009, those
// of aluminium chloride hexahydrate and copper sulfate pentahydrate of supplier
// data sheets, that of zinc sulfate heptahydrate is (from memory). Trade names
// are common practice.
var catalogue = []Salt{
	form(AmmoniumChloride, ammoniumChloride, 0, "ammonium chloride", "sal ammoniac", "12125-02-9"),
	form(AmmoniumSulfate, ammoniumSulfate, 0, "ammonium sulfate", "sulfate of ammonia", "7783-20-2"),
	form(AmmoniumNitrate, ammoniumNitrate, 0, "ammonium nitrate", "", "6484-52-2"),
	form(SodiumChloride, sodiumChloride, 0, "sodium chloride", "common salt", "7647-14-5"),
	form(SodiumNitrate, sodiumNitrate, 0, "sodium nitrate", "soda saltpetre", "7631-99-4"),
	form(PotassiumChloride, potassiumChloride, 0, "potassium chloride", "muriate of potash", "7447-40-7"),
	form(PotassiumNitrate, potassiumNitrate, 0, "potassium nitrate", "saltpetre", "7757-79-1"),
	form(AluminiumChlorideHexahydrate, aluminiumChloride, 6, "aluminium chloride hexahydrate", "", "7784-13-6"),
	form(CopperSulfate, copperSulfate, 0, "anhydrous copper sulfate", "white copper sulfate", "7758-98-7"),
	form(CopperSulfatePentahydrate, copperSulfate, 5, "copper sulfate pentahydrate", "blue vitriol", "7758-99-8"),
	form(ZincChloride, zincChloride, 0, "zinc chloride", "", "7646-85-7"),
	form(ZincSulfate, zincSulfate, 0, "anhydrous zinc sulfate", "", "7733-02-0"),
	form(ZincSulfateHeptahydrate, zincSulfate, 7, "zinc sulfate heptahydrate", "white vitriol", "7446-20-0"),
}

// form makes one form of a substance.
func form(id ID, p parent, waters int, name, tradeName, cas string) Salt {
	s := Salt{
		ID: id, Name: name, TradeName: tradeName, CAS: cas,
		Formula:          substances[p].formula,
		MolarMassGPerMol: substances[p].molarMassGPerMol + float64(waters)*waterGPerMol,
		CrystalWaters:    waters,
		parent:           p,
	}
	if waters > 0 {
		s.Formula += "·" + string(rune('0'+waters)) + "H2O"
	}
	return s
}
