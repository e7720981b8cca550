package caution

// An Earth is one lot with its tests of today. Every field may be absent (nil or ""); a missing test leaves the groups
// that hang on it unknown. Where a lot has several tests, the maker of the facts gives the worst of each.
type Earth struct {
	Name        string
	PH          *float64 // in five times its mass of water
	Fizz        string   // with a drop of vinegar: none, slow, lively
	NitrateMgKg *float64 // as NO3, mg per kg dry earth
	Smell       string   // none, rotten, other
}

const (
	limyEarthPH        = 8.5  // above this an earth counts as mild alkali
	nitrousEarthMgKg   = 1000 // from here an earth counts as nitrate; chosen here, no source
	largestNitrateMgKg = 1e6
)

// An earthGroup is a group that an earth is in by its tests, or by being earth.
type earthGroup uint8

const (
	isEarth earthGroup = 1 << iota
	isCarbonate
	isMildAlkali
	isNitrate
	isSulfide
)

// earthGroupNamed has the groups that an earth can be in; an earth is in no other.
var earthGroupNamed = map[string]earthGroup{
	"earth": isEarth, "carbonate": isCarbonate, "mild_alkali": isMildAlkali, "nitrate": isNitrate, "sulfide": isSulfide,
}

// in says whether an earth is in one group.
func (e *Earth) in(g earthGroup) truth {
	switch g {
	case isEarth:
		return yes
	case isCarbonate:
		return e.fizzes("slow", "lively")
	case isMildAlkali:
		return max(over(e.PH, limyEarthPH), e.fizzes("lively"))
	case isNitrate:
		return atLeast(e.NitrateMgKg, nitrousEarthMgKg)
	case isSulfide:
		if e.Smell == "" {
			return unknown
		}
		return truthOf(e.Smell == "rotten")
	}
	return no
}

func (e *Earth) fizzes(words ...string) truth {
	if e.Fizz == "" {
		return unknown
	}
	for _, w := range words {
		if e.Fizz == w {
			return yes
		}
	}
	return no
}

func over(v *float64, limit float64) truth {
	if v == nil || *v != *v {
		return unknown
	}
	return truthOf(*v > limit)
}

func atLeast(v *float64, limit float64) truth {
	if v == nil || *v != *v {
		return unknown
	}
	return truthOf(*v >= limit)
}

// An earthTest is one test of an earth.
type earthTest struct {
	key     string
	groups  earthGroup // those that it can decide
	asked   string     // what to ask for when the earth has no name
	askedOf string     // and when it has one
	known   func(*Earth) bool
	shown   func(*Earth) string
	tells   func(*Earth, earthGroup) bool // whether it alone puts the earth into the group
}

var earthTests = [...]earthTest{
	{"ph", isMildAlkali, "the earth's pH", "%s's pH",
		func(e *Earth) bool { return over(e.PH, 0) != unknown },
		func(e *Earth) string { return figure(*e.PH) },
		func(e *Earth, _ earthGroup) bool { return over(e.PH, limyEarthPH) == yes }},
	{"fizz", isCarbonate | isMildAlkali, "the earth's fizz", "%s's fizz",
		func(e *Earth) bool { return e.Fizz != "" },
		func(e *Earth) string { return e.Fizz },
		func(e *Earth, g earthGroup) bool {
			return e.Fizz == "lively" || g == isCarbonate && e.Fizz == "slow"
		}},
	{"nitrate_mg_kg", isNitrate, "the earth's nitrate", "%s's nitrate",
		func(e *Earth) bool { return atLeast(e.NitrateMgKg, 0) != unknown },
		func(e *Earth) string { return figure(*e.NitrateMgKg) },
		func(e *Earth, _ earthGroup) bool { return atLeast(e.NitrateMgKg, nitrousEarthMgKg) == yes }},
	{"smell", isSulfide, "the earth's smell", "%s's smell",
		func(e *Earth) bool { return e.Smell != "" },
		func(e *Earth) string { return e.Smell },
		func(e *Earth, _ earthGroup) bool { return e.Smell == "rotten" }},
}
