package caution

import (
	"slices"
	"testing"
)

// ruleCases has, for each rule, facts that meet it, facts that leave it quiet, and facts with something missing. They were
// written from the wording of the rules. An empty open means that the rule cannot be left open; why says so.
var ruleCases = []struct {
	id, fires, quiet, open, why string
}{
	{id: "R-01",
		fires: `{"step": "add", "bath": {"substances": ["ammonium-chloride"]}, "add": {"substances": ["calcium-hydroxide"]}}`,
		quiet: `{"step": "add", "bath": {"substances": ["sodium-chloride"]}, "add": {"substances": ["calcium-hydroxide"]}}`,
		open:  `{"step": "add", "add": {"substances": ["calcium-hydroxide"]}}`},
	{id: "R-02",
		fires: `{"step": "add", "bath": {"substances": ["wood-ash"]}, "add": {"substances": ["ammonium-sulfate"]}}`,
		quiet: `{"step": "add", "bath": {"substances": ["wood-ash"]}, "add": {"substances": ["sodium-chloride"], "earths": []}}`,
		open:  `{"step": "recipe", "recipe": {"substances": ["ammonium-chloride"], "earths": [{"ph": 7.5}]}}`},
	{id: "R-03",
		fires: `{"step": "soak", "bath": {"substances": ["ammonium-chloride"], "temp_c": 95, "ph": 7}}`,
		quiet: `{"step": "soak", "bath": {"substances": ["ammonium-chloride"], "temp_c": 95, "ph": 6}}`,
		open:  `{"step": "soak", "bath": {"substances": ["ammonium-chloride"], "temp_c": 95}}`},
	{id: "R-04",
		fires: `{"step": "heat", "bath": {"substances": ["ammonium-chloride"], "temp_c": 95, "ph": 6}}`,
		quiet: `{"step": "heat", "bath": {"substances": ["ammonium-chloride"], "temp_c": 95, "ph": 5}}`,
		open:  `{"step": "heat", "bath": {"temp_c": 95, "ph": 6}}`},
	{id: "R-05",
		fires: `{"step": "heat", "bath": {"substances": ["ammonium-chloride"], "temp_c": 60}}`,
		quiet: `{"step": "heat", "bath": {"substances": ["ammonium-chloride"], "temp_c": 60, "ph": 5}}`,
		open:  `{"step": "heat", "bath": {"substances": ["ammonium-chloride"]}}`},
	{id: "R-06",
		fires: `{"step": "clean", "add": {"substances": ["sodium-hypochlorite"]}, "near": {"substances": ["ammonium-chloride"]}}`,
		quiet: `{"step": "clean", "add": {"substances": ["none-of-these"]}, "near": {"substances": ["ammonium-chloride"]}}`,
		open:  `{"step": "clean", "add": {"substances": ["sodium-hypochlorite"]}}`},
	{id: "R-07",
		fires: `{"step": "clean", "add": {"substances": ["calcium-hypochlorite"]}, "near": {"substances": ["zinc-chloride"]}}`,
		quiet: `{"step": "clean", "add": {"substances": ["calcium-hypochlorite"]}, "near": {"substances": ["water"]}}`,
		open:  `{"step": "clean", "add": {"substances": ["calcium-hypochlorite"]}, "near": {"substances": ["unidentified"]}}`},
	{id: "R-08",
		fires: `{"step": "store", "add": {"substances": ["sodium-nitrite"]}, "near": {"substances": ["ammonium-chloride"]}}`,
		quiet: `{"step": "store", "add": {"substances": ["sodium-nitrate"]}, "near": {"substances": ["ammonium-chloride"]}}`,
		open:  `{"step": "store", "near": {"substances": ["ammonium-chloride"]}}`},
	{id: "R-09",
		fires: `{"step": "weigh", "add": {"substances": ["potassium-nitrite"]}}`,
		quiet: `{"step": "weigh", "add": {"substances": ["potassium-nitrate"]}}`,
		open:  `{"step": "weigh"}`},
	{id: "R-10",
		fires: `{"step": "recipe", "recipe": {"substances": ["potassium-chlorate", "ammonium-chloride"]}}`,
		quiet: `{"step": "recipe", "recipe": {"substances": ["potassium-chlorate", "copper-sulfate"]}}`,
		open:  `{"step": "recipe", "recipe": {"substances": ["potassium-chlorate", "unidentified"]}}`},
	{id: "R-11",
		fires: `{"step": "store", "add": {"substances": ["sodium-chlorate"]}, "near": {"substances": []}}`,
		quiet: `{"step": "store", "add": {"substances": ["sodium-chloride"]}, "near": {"substances": []}}`,
		// R-10 stands for it where both are open; here nothing that goes in is a chlorate, so R-10 is settled.
		open: `{"step": "store", "add": {"substances": ["sodium-chloride"]}}`},
	{id: "R-12",
		fires: `{"step": "add", "add": {"substances": ["aluminium-chloride"]}}`,
		quiet: `{"step": "weigh", "add": {"substances": ["aluminium-chloride"]}}`,
		open:  `{"step": "add", "add": {"substances": ["unidentified"]}}`},
	{id: "R-13",
		fires: `{"step": "make_up", "recipe": {"substances": ["ammonium-chloride"], "last_chloride": "aluminium-chloride"}}`,
		quiet: `{"step": "make_up", "recipe": {"substances": ["ammonium-chloride"], "last_chloride": "ammonium-chloride"}}`,
		open:  `{"step": "make_up", "recipe": {"substances": ["ammonium-chloride"]}}`},
	{id: "R-14",
		fires: `{"step": "weigh", "add": {"substances": ["unidentified"]}}`,
		quiet: `{"step": "weigh", "add": {"substances": ["none-of-these"]}}`,
		open:  `{"step": "weigh"}`},
	{id: "R-15",
		fires: `{"step": "evaporate", "bath": {"substances": ["aluminium-chloride-hexahydrate"]}}`,
		quiet: `{"step": "heat", "bath": {"substances": ["aluminium-chloride-hexahydrate"]}}`,
		open:  `{"step": "evaporate"}`},
	{id: "R-16",
		fires: `{"step": "recipe", "recipe": {"substances": ["copper-sulfate"], "earths": [{"fizz": "slow"}]}}`,
		quiet: `{"step": "recipe", "recipe": {"substances": ["copper-sulfate"], "earths": [{"fizz": "none"}]}}`,
		open:  `{"step": "recipe", "recipe": {"substances": ["copper-sulfate"], "earths": [{"ph": 7}]}}`},
	{id: "R-17",
		fires: `{"step": "evaporate", "bath": {"substances": ["ammonium-chloride"], "earths": [{"nitrate_mg_kg": 1000}]}}`,
		quiet: `{"step": "evaporate", "bath": {"substances": ["ammonium-chloride"], "earths": [{"nitrate_mg_kg": 999}]}}`,
		open:  `{"step": "evaporate", "bath": {"substances": ["ammonium-chloride"], "earths": [{}]}}`},
	{id: "R-18",
		fires: `{"step": "clean", "near": {"substances": ["zinc-filings", "ammonium-chloride", "potassium-nitrate"]}}`,
		quiet: `{"step": "soak", "bath": {"substances": ["zinc-filings", "ammonium-chloride", "potassium-nitrate"]}}`,
		open:  `{"step": "buff", "near": {"substances": ["zinc-dust", "ammonium-chloride", "unidentified"]}}`},
	{id: "R-19",
		fires: `{"step": "store", "add": {"substances": ["potassium-nitrate"]}, "near": {"substances": ["oily-rags"]}}`,
		quiet: `{"step": "store", "add": {"substances": ["potassium-nitrate"]}, "near": {"substances": ["zinc-ware"]}}`,
		open:  `{"step": "store", "add": {"substances": ["potassium-nitrate"]}}`},
	{id: "R-20",
		fires: `{"step": "clean", "spill": {"substances": ["sodium-nitrate"]}}`,
		quiet: `{"step": "clean", "spill": {"substances": ["sodium-chloride"]}}`,
		open:  `{"step": "clean"}`},
	{id: "R-21",
		fires: `{"step": "make_up", "bath": {"tank_material": "galvanised-steel"}}`,
		quiet: `{"step": "make_up", "bath": {"tank_material": "mild-steel"}}`,
		open:  `{"step": "make_up"}`},
	{id: "R-22",
		fires: `{"step": "make_up", "bath": {"tank_material": "aluminium"}, "recipe": {"substances": ["sodium-chloride"]}}`,
		quiet: `{"step": "make_up", "bath": {"tank_material": "aluminium"}, "recipe": {"substances": ["sodium-nitrate"]}}`,
		open:  `{"step": "make_up", "bath": {"tank_material": "aluminium"}}`},
	{id: "R-23",
		fires: `{"step": "heat", "bath": {"tank_material": "brass", "substances": ["ammonia-water"]}}`,
		quiet: `{"step": "heat", "bath": {"tank_material": "brass", "substances": ["copper-sulfate"]}}`,
		open:  `{"step": "heat", "bath": {"tank_material": "copper"}}`},
	{id: "R-24",
		fires: `{"step": "heat", "bath": {"tank_material": "stainless-steel", "substances": ["zinc-chloride"], "temp_c": 60}}`,
		quiet: `{"step": "heat", "bath": {"tank_material": "stainless-steel", "substances": ["zinc-chloride"], "temp_c": 59.9}}`,
		open:  `{"step": "heat", "bath": {"tank_material": "stainless-steel", "substances": ["zinc-chloride"]}}`},
	{id: "R-25",
		fires: `{"step": "make_up", "bath": {"fill_fraction": 0.7501}}`,
		quiet: `{"step": "make_up", "bath": {"fill_fraction": 0.75}}`,
		open:  `{"step": "make_up"}`},
	{id: "R-26",
		fires: `{"step": "add", "add": {"state": "dry"}, "bath": {"temp_c": 80}}`,
		quiet: `{"step": "add", "add": {"state": "dry"}, "bath": {"temp_c": 79.9}}`,
		open:  `{"step": "add", "bath": {"temp_c": 80}}`},
	{id: "R-27",
		fires: `{"step": "add", "add": {"substances": ["water"]}, "bath": {"temp_c": 90, "earths": [{}]}}`,
		quiet: `{"step": "add", "add": {"substances": ["unidentified"]}, "bath": {"temp_c": 90, "earths": [{}]}}`,
		open:  `{"step": "add", "add": {"substances": ["water"]}, "bath": {"temp_c": 90}}`},
	{id: "R-28",
		fires: `{"step": "soak", "bath": {"lid": "tight", "temp_c": 70}}`,
		quiet: `{"step": "soak", "bath": {"lid": "loose", "temp_c": 70}}`,
		open:  `{"step": "soak", "bath": {"temp_c": 70}}`},
	{id: "R-29",
		fires: `{"step": "lift", "bath": {"temp_c": 60}}`,
		quiet: `{"step": "lift", "bath": {"temp_c": 59.99}}`,
		open:  `{"step": "lift"}`},
	{id: "R-30",
		fires: `{"step": "recipe", "bath": {"temp_c": 45}}`,
		quiet: `{"step": "recipe", "bath": {"temp_c": 44.9}}`,
		why:   "R-29 is open whenever it is, and covers it"},
	{id: "R-31",
		fires: `{"step": "soak", "piece": {"hollow": true, "vented": false}}`,
		quiet: `{"step": "soak", "piece": {"hollow": true, "vented": true}}`,
		open:  `{"step": "soak", "piece": {"hollow": true}}`},
	{id: "R-32",
		fires: `{"step": "paste", "piece": {"surface_temp_c": 100.5}}`,
		quiet: `{"step": "paste", "piece": {"surface_temp_c": 100}}`,
		open:  `{"step": "paste"}`},
	{id: "R-33",
		fires: `{"step": "melt", "melt": {"all_dry": false}}`,
		quiet: `{"step": "melt", "melt": {"all_dry": true}}`,
		open:  `{"step": "melt"}`},
	{id: "R-34",
		fires: `{"step": "lift", "person": {"count": 1}, "piece": {"mass_kg": 5.1}}`,
		quiet: `{"step": "lift", "person": {"count": 2}, "piece": {"mass_kg": 5.1}}`,
		open:  `{"step": "lift", "person": {"count": 1}}`},
	{id: "R-35",
		fires: `{"step": "rinse", "power": {"kind": "mains"}}`,
		quiet: `{"step": "rinse", "power": {"kind": "wood"}}`,
		open:  `{"step": "rinse"}`},
	{id: "R-36",
		fires: `{"step": "soak", "power": {"kind": "mains", "heater_covered": false}}`,
		quiet: `{"step": "soak", "power": {"kind": "mains", "heater_covered": true}}`,
		open:  `{"step": "soak", "power": {"kind": "mains"}}`},
	{id: "R-37",
		fires: `{"purpose": "record", "step": "heat", "power": {"kind": "mains", "cut": true}}`,
		quiet: `{"purpose": "plan", "step": "heat", "power": {"kind": "mains", "cut": true}}`,
		open:  `{"purpose": "record", "step": "heat", "power": {"kind": "mains"}}`},
	{id: "R-38",
		fires: `{"step": "heat", "place": {"enclosed": true}, "bath": {"temp_c": 60}}`,
		quiet: `{"step": "heat", "place": {"enclosed": false}, "bath": {"temp_c": 60}}`,
		open:  `{"step": "heat", "bath": {"temp_c": 60}}`},
	{id: "R-39",
		fires: `{"step": "dump", "place": {"children_near": true}}`,
		quiet: `{"step": "dump", "place": {"children_near": false}}`,
		open:  `{"step": "dump"}`},
	{id: "R-40",
		fires: `{"step": "clean", "person": {"count": 0}, "add": {"substances": ["hydrochloric-acid"]}}`,
		quiet: `{"step": "clean", "person": {"count": 2}, "add": {"substances": ["hydrochloric-acid"]}}`,
		open:  `{"step": "clean", "add": {"substances": ["hydrochloric-acid"]}}`},
	{id: "R-41",
		fires: `{"step": "weigh", "add": {"earths": [{"name": "old wall"}], "state": "dry"}}`,
		quiet: `{"step": "weigh", "add": {"earths": [], "state": "dry"}}`,
		open:  `{"step": "weigh", "add": {"earths": [{"name": "old wall"}]}}`},
	{id: "R-42",
		fires: `{"step": "taste"}`,
		quiet: `{"step": "dig"}`,
		why:   "it hangs on the step alone"},
	{id: "R-43",
		fires: `{"step": "dig", "person": {"open_cut": true}}`,
		quiet: `{"step": "dig", "person": {"open_cut": false}}`,
		open:  `{"step": "dig"}`},
	{id: "R-44",
		fires: `{"step": "buff", "alloy": {"pb_pct": 0.01}}`,
		quiet: `{"step": "buff", "alloy": {"pb_pct": 0}}`,
		open:  `{"step": "buff"}`},
	{id: "R-45",
		fires: `{"step": "file", "near": {"substances": ["zinc-filings"]}}`,
		quiet: `{"step": "file", "near": {"substances": ["zinc-ware"]}}`,
		open:  `{"step": "file"}`},
	{id: "R-46",
		fires: `{"step": "recipe", "recipe": {"substances": ["copper-sulfate-pentahydrate"]}}`,
		quiet: `{"step": "recipe", "recipe": {"substances": ["copper-acetate"]}}`,
		open:  `{"step": "recipe"}`},
	{id: "R-47",
		fires: `{"step": "clean", "add": {"substances": ["scale-remover"]}}`,
		quiet: `{"step": "clean", "add": {"substances": ["none-of-these"]}}`,
		open:  `{"step": "clean"}`},
	{id: "R-48",
		fires: `{"step": "clean", "add": {"substances": ["nitric-acid"]}}`,
		quiet: `{"step": "store", "add": {"substances": ["nitric-acid"]}}`,
		open:  `{"step": "clean"}`},
	{id: "R-49",
		fires: `{"step": "clean", "add": {"substances": ["hydrochloric-acid"]}, "near": {"substances": ["zinc-filings"]}}`,
		quiet: `{"step": "clean", "add": {"substances": ["hydrochloric-acid"]}, "near": {"substances": ["zinc-ware"]}}`,
		open:  `{"step": "clean", "add": {"substances": ["hydrochloric-acid"]}}`},
	{id: "R-50",
		fires: `{"step": "oil", "oil": {"kind": "linseed", "rags": "some"}}`,
		quiet: `{"step": "oil", "oil": {"kind": "linseed", "rags": "none"}}`,
		open:  `{"step": "oil", "oil": {"kind": "linseed"}}`},
	{id: "R-51",
		fires: `{"step": "oil", "oil": {"kind": "coconut", "rags": "heap"}}`,
		quiet: `{"step": "oil", "oil": {"kind": "coconut", "rags": "some"}}`,
		open:  `{"step": "oil", "oil": {"kind": "coconut"}}`},
	{id: "R-52",
		fires: `{"step": "oil", "piece": {"surface_temp_c": 60.5}}`,
		quiet: `{"step": "oil", "piece": {"surface_temp_c": 60}}`,
		open:  `{"step": "oil"}`},
	{id: "R-53",
		fires: `{"step": "dump"}`,
		quiet: `{"step": "store"}`,
		why:   "it hangs on the step alone"},
	{id: "R-54",
		fires: `{"step": "dump", "bath": {"substances": ["ammonium-chloride"]}, "add": {"substances": ["calcium-hydroxide"]}}`,
		quiet: `{"step": "dump", "bath": {"substances": ["sodium-chloride"]}, "add": {"substances": ["calcium-hydroxide"]}}`,
		open:  `{"step": "dump", "bath": {"substances": ["ammonium-chloride"]}}`},
	{id: "R-55",
		fires: `{"step": "store", "container": {"labelled": false}}`,
		quiet: `{"step": "store", "container": {"labelled": true}}`,
		open:  `{"step": "store"}`},
	{id: "R-56",
		fires: `{"step": "mix", "container": {"food_vessel": true}}`,
		quiet: `{"step": "mix", "container": {"food_vessel": false}}`,
		open:  `{"step": "mix"}`},
	{id: "R-57",
		fires: `{"step": "recipe", "recipe": {"substances": ["zinc-chloride"], "earths": [{"smell": "rotten"}]}}`,
		quiet: `{"step": "recipe", "recipe": {"substances": ["zinc-chloride"], "earths": [{"smell": "other"}]}}`,
		open:  `{"step": "recipe", "recipe": {"substances": ["zinc-chloride"], "earths": [{}]}}`},
	{id: "R-58",
		fires: `{"step": "store", "piece": {"inlaid": true}, "near": {"substances": ["liver-of-sulfur"]}}`,
		quiet: `{"step": "store", "piece": {"inlaid": false}, "near": {"substances": ["liver-of-sulfur"]}}`,
		open:  `{"step": "store", "near": {"substances": ["liver-of-sulfur"]}}`},
	{id: "R-59",
		fires: `{"step": "heat", "bath": {"idle_h": 24.5}}`,
		quiet: `{"step": "heat", "bath": {"idle_h": 24}}`,
		open:  `{"step": "heat"}`},
	{id: "R-60",
		fires: `{"step": "soak", "bath": {"temp_c": 105.1}}`,
		quiet: `{"step": "soak", "bath": {"temp_c": 105}}`,
		open:  `{"step": "soak"}`},
	{id: "R-61",
		fires: `{"step": "melt"}`,
		quiet: `{"step": "melt", "melt": {"all_dry": true}}`,
		why:   "it speaks of the other rules' states, which are always known"},
	{id: "R-62",
		fires: `{"step": "melt", "alloy": {"pb_pct": 0.5}}`,
		quiet: `{"step": "melt", "alloy": {"pb_pct": 0}}`,
		open:  `{"step": "melt"}`},
}

func TestEachRule(t *testing.T) {
	var tested []string
	for _, tt := range ruleCases {
		t.Run(tt.id, func(t *testing.T) {
			tested = append(tested, tt.id)
			if got := stateOf(t, tt.fires, tt.id); got != Fires {
				t.Errorf("facts that meet it: got %q, want %q", got, Fires)
			}
			if got := stateOf(t, tt.quiet, tt.id); got != "" {
				t.Errorf("facts that do not meet it: got %q, want it left out", got)
			}
			if (tt.open == "") == (tt.why == "") {
				t.Fatal("the case needs either facts with a gap or a reason why there are none")
			}
			if tt.open != "" {
				if got := stateOf(t, tt.open, tt.id); got != NotKnown {
					t.Errorf("facts with a gap: got %q, want %q", got, NotKnown)
				}
			}
		})
	}
	for _, r := range Rules() {
		if !slices.Contains(tested, r.ID) {
			t.Errorf("%s has no case", r.ID)
		}
	}
}

// stateOf returns a rule's state in the answer to some facts, "" when it is left out.
func stateOf(t *testing.T, facts, id string) State {
	t.Helper()
	c, _ := find(judge(t, facts), id)
	return c.State
}

func judge(t *testing.T, facts string) Answer {
	t.Helper()
	f, err := ParseFacts([]byte(facts))
	if err != nil {
		t.Fatalf("ParseFacts(%s): %v", facts, err)
	}
	return Judge(f)
}

func find(a Answer, id string) (Caution, bool) {
	i := slices.IndexFunc(a.Cautions, func(c Caution) bool { return c.ID == id })
	if i < 0 {
		return Caution{}, false
	}
	return a.Cautions[i], true
}
