package caution

import (
	"slices"
	"strings"
	"testing"
)

func TestTable(t *testing.T) {
	for i, r := range Rules() {
		if i > 0 && r.ID <= ruleTable[i-1].ID {
			t.Errorf("%s stands after %s", r.ID, ruleTable[i-1].ID)
		}
		// 30 words is the house limit for a text that is read aloud.
		if n := len(strings.Fields(r.Text)); n == 0 || n > 30 {
			t.Errorf("%s: text of %d words", r.ID, n)
		}
		if r.Source == "" || r.Pages == "" {
			t.Errorf("%s: no source or no page", r.ID)
		}
		if !slices.Contains(severities[:], r.Severity) {
			t.Errorf("%s: severity %q", r.ID, r.Severity)
		}
		for _, p := range strings.Fields(r.Pages) {
			if !slices.Contains([]string{"Re", "Sc", "Lo", "Ba", "So", "Ca", "all"}, p) {
				t.Errorf("%s: page %q", r.ID, p)
			}
		}
	}
	if len(substances) > 128 {
		t.Errorf("%d substances do not fit a substanceSet", len(substances))
	}
	for _, def := range factList {
		if len(def.words) > 64 {
			t.Errorf("%s: %d words do not fit a wordSet", def.name, len(def.words))
		}
	}
}

func TestFromMemory(t *testing.T) {
	for _, tt := range []struct {
		id   string
		want bool
	}{{"R-06", true}, {"R-29", false}, {"R-57", true}} {
		i := slices.IndexFunc(ruleTable[:], func(r Rule) bool { return r.ID == tt.id })
		if got := ruleTable[i].FromMemory(); got != tt.want {
			t.Errorf("%s: FromMemory() = %v, want %v", tt.id, got, tt.want)
		}
	}
}

func TestCompileRefuses(t *testing.T) {
	for _, tt := range []struct{ condition, want string }{
		{"", "no fact and no set"},
		{"bath.heat > 3", "no fact and no set"},
		{"purpose = plan", "no fact and no set"},
		{"bath.temp_c > hot", "is no number"},
		{"bath.temp_c has water", "after the number"},
		{"bath.lid > 3", "after the word"},
		{"bath.lid = shut", "can't be"},
		{"bath.lid in {loose tight}", "in a list"},
		{"bath.lid in {", "in a list"},
		{"step in heat", "where"},
		{"step in {heat, boil}", "can't be"},
		{"place.enclosed = true", "can't be"},
		{"bath.substances = water", "name its set"},
		{"liquor has chloride and", "no fact and no set"},
		{"liquor has salt", "no group and no substance"},
		{"liquor has {water, salt}", "no group and no substance"},
		{"liquor contains water", "where"},
		{"(step = heat", "where"},
		{"step = heat)", "after its end"},
		{"step = heat step = soak", "after its end"},
		{"unknown(bath)", "is no fact"},
		{"unknown bath.ph", "where"},
		{"nh3_pct > 2", "where"},
		{"nh3_pct >= much", "is no number"},
	} {
		_, err := compile(tt.condition)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("compile(%q) = %v, want an error with %q", tt.condition, err, tt.want)
		}
	}
}

func TestMustCompilePanics(t *testing.T) {
	for _, tt := range []struct {
		name string
		rule Rule
	}{
		{"condition", Rule{ID: "R-99", Condition: "bath.temp_c above 60"}},
		{"danger when", Rule{ID: "R-99", Condition: "step = heat", DangerWhen: "hot"}},
		{"covers", Rule{ID: "R-99", Condition: "step = heat", Covers: []string{"R-98"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			defer func() {
				if msg, _ := recover().(string); !strings.Contains(msg, "R-99") {
					t.Errorf("panic %q, want one that names R-99", msg)
				}
			}()
			mustCompile([]Rule{tt.rule})
		})
	}
}

// TestBinding checks that "not" binds before "and", and "and" before "or".
func TestBinding(t *testing.T) {
	facts := Facts{Step: StepHeat, Place: Place{Enclosed: new(true), ChildrenNear: new(false)}}
	for _, tt := range []struct {
		condition string
		want      truth
	}{
		{"step = heat or step = heat and step = soak", yes},
		{"(step = heat or step = heat) and step = soak", no},
		{"step = soak and step = heat or step = heat", yes},
		{"not step = heat and step = heat", no},
		{"not (step = heat and step = soak)", yes},
		{"not not step = heat", yes},
		{"not step = soak or step = soak", yes},
		{"place.enclosed = yes and not place.children_near = yes", yes},
		{"not bath.ph > 7", unknown},
		{"bath.ph > 7 and step = soak", no},
		{"bath.ph > 7 or step = heat", yes},
		{"bath.fill_fraction > 0.5 or step = soak", no}, // beside the point at heat
		{"not bath.fill_fraction > 0.5", yes},
		{"unknown(bath.ph)", yes},
		{"unknown(bath.fill_fraction)", no},
		{"unknown(place.enclosed)", no},
	} {
		n, err := compile(tt.condition)
		if err != nil {
			t.Fatal(err)
		}
		var v view
		v.look(&facts)
		if got := v.eval(&n); got != tt.want {
			t.Errorf("%s: got %d, want %d", tt.condition, got, tt.want)
		}
	}
}

// The tables of strong three-valued logic: S. C. Kleene, Introduction to Metamathematics (1952), section 64 (from memory).
func TestKleene(t *testing.T) {
	// Three facts at the step "heat": one that makes its comparison true, one false, one unknown.
	facts := Facts{Step: StepHeat, Bath: Bath{Lid: "tight", IdleH: new(1.0)}}
	names := map[truth]string{yes: "bath.lid = tight", no: "bath.idle_h > 24", unknown: "bath.ph > 7"}
	var v view
	v.look(&facts)
	value := func(condition string) truth {
		n, err := compile(condition)
		if err != nil {
			t.Fatal(err)
		}
		return v.eval(&n)
	}
	for _, tt := range []struct{ a, b, and, or truth }{
		{yes, yes, yes, yes}, {yes, no, no, yes}, {yes, unknown, unknown, yes},
		{no, yes, no, yes}, {no, no, no, no}, {no, unknown, no, unknown},
		{unknown, yes, unknown, yes}, {unknown, no, no, unknown}, {unknown, unknown, unknown, unknown},
	} {
		if got := value(names[tt.a] + " and " + names[tt.b]); got != tt.and {
			t.Errorf("%d and %d: got %d, want %d", tt.a, tt.b, got, tt.and)
		}
		if got := value(names[tt.a] + " or " + names[tt.b]); got != tt.or {
			t.Errorf("%d or %d: got %d, want %d", tt.a, tt.b, got, tt.or)
		}
	}
	for _, tt := range []struct{ a, want truth }{{yes, no}, {no, yes}, {unknown, unknown}} {
		if got := value("not " + names[tt.a]); got != tt.want {
			t.Errorf("not %d: got %d, want %d", tt.a, got, tt.want)
		}
	}
}
