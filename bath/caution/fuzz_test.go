package caution

import (
	"slices"
	"testing"
)

func FuzzFacts(f *testing.F) {
	for _, tt := range ruleCases {
		f.Add([]byte(tt.fires))
		f.Add([]byte(tt.quiet))
		f.Add([]byte(tt.open))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		facts, err := ParseFacts(data)
		if err != nil {
			return
		}
		if err := facts.Check(); err != nil {
			t.Errorf("parsed facts fail their check: %v", err)
		}
		a := Judge(facts)
		checkAnswer(t, facts, a)
	})
}

// checkAnswer checks what must hold of every answer.
func checkAnswer(t interface{ Errorf(string, ...any) }, f Facts, a Answer) {
	rank := func(c Caution) []int {
		refuse := 1
		if c.Refuse {
			refuse = 0
		}
		return []int{refuse, slices.Index(severities[:], c.Severity), slices.Index(states[:], c.State), int(c.ID[2])*256 + int(c.ID[3])}
	}
	if a.Cautions == nil || a.Closing == "" || (len(a.Cautions) == 0) != (a.Closing == closingNone) {
		t.Errorf("closing %q under %d cautions", a.Closing, len(a.Cautions))
	}
	for i, c := range a.Cautions {
		if i > 0 && slices.Compare(rank(a.Cautions[i-1]), rank(c)) >= 0 {
			t.Errorf("%s stands before %s", a.Cautions[i-1].ID, c.ID)
		}
		if len(c.Why) == 0 || slices.Contains(c.Why, "") || c.Text == "" || c.Source == "" {
			t.Errorf("%s has gaps: %+v", c.ID, c)
		}
		if (c.State == NotKnown) != (len(c.Missing) > 0) {
			t.Errorf("%s is %s and misses %v", c.ID, c.State, c.Missing)
		}
		if c.Refuse && (c.Acknowledge || f.Purpose == Record) {
			t.Errorf("%s refuses and is acknowledged, or refuses a record", c.ID)
		}
		if c.Acknowledge != (c.Severity == Danger && !c.Refuse) {
			t.Errorf("%s: severity %s, refuse %v, acknowledge %v", c.ID, c.Severity, c.Refuse, c.Acknowledge)
		}
	}
}
