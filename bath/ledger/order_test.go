package ledger

import (
	"strings"
	"testing"
)

// life is a bath with facts written as "id kind at [out]".
func orderOf(t *testing.T, text string) (ids string, l life) {
	t.Helper()
	b := parsed(t, text)
	facts, ps := b.resolve(nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	l, err := b.live(facts, nil)
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, e := range l.events {
		if e.end {
			words = append(words, e.id+"!")
		} else {
			words = append(words, e.id)
		}
	}
	return strings.Join(words, " "), l
}

func TestOrderOfEvents(t *testing.T) {
	for _, tt := range []struct{ name, facts, want string }{
		{"by time, not by the file", day2("a", "10:00", kindOn) + day2("b", "09:00", kindOff), "m b a"},
		{"at equal time the order of the file", day2("a", "09:00", kindOn) + day2("b", "09:00", kindOff), "m a b"},
		{"at equal time soaks end first", day2("a", "10:00", kindOn) + day2("s", "09:00", `"kind": "soak", "out_at": "2026-01-05T10:00:00Z"`), "m s s! a"},
		{"a soak of no length ends right after it began", day2("a", "10:00", kindOn) + day2("s", "10:00", `"kind": "soak", "out_at": "2026-01-05T10:00:00Z"`) + day2("b", "10:00", kindOff), "m a s s! b"},
		{"two soaks: one ends as the other begins", day2("s", "10:00", `"kind": "soak", "out_at": "2026-01-05T11:00:00Z"`) + day2("u", "09:00", `"kind": "soak", "out_at": "2026-01-05T10:00:00Z"`), "m u u! s s!"},
		{"other offsets", day2("a", "10:00", kindOn) + `,{"id": "b", "at": "2026-01-05T11:30:00+02:00", "kind": "heat_off"}`, "m b a"},
		{"before the make-up", day2("a", "07:00", kindOn) + day2("b", "09:00", kindOff), "m b"},
		{"a soak that began before the make-up", day2("s", "07:00", `"kind": "soak", "out_at": "2026-01-05T09:00:00Z"`), "m"},
		{"after the retirement", day2("r", "09:00", `"kind": "retire"`) + day2("b", "10:00", kindOff), "m r"},
		{"written after the retirement at the same time", day2("r", "09:00", `"kind": "retire"`) + day2("b", "09:00", kindOff), "m r"},
		{"clock in doubt: right after the one before it in the file", day2("a", "10:00", kindOn) + day2("b", "07:00", `"clock_in_doubt": true, "kind": "heat_off"`) + day2("c", "11:00", kindOn), "m a b c"},
		{"a doubt after a doubt", day2("a", "10:00", kindOn) + day2("b", "07:00", `"clock_in_doubt": true, "kind": "heat_off"`) + day2("c", "23:00", `"clock_in_doubt": true, "kind": "lid_on"`) + day2("d", "10:01", kindOn), "m a b c d"},
		{"struck out", day2("a", "10:00", kindOn) + day2("b", "11:00", kindOff) + day2("c", "12:00", `"kind": "correction", "replaces": "a"`), "m b"},
		{"corrected: it keeps its time", day2("a", "10:00", kindOn) + day2("b", "11:00", kindOff) + day2("c", "12:00", `"kind": "correction", "replaces": "a", "fact": {"kind": "lid_on"}`), "m a b"},
		{"corrected with a time of its own", day2("a", "10:00", kindOn) + day2("b", "11:00", kindOff) + day2("c", "12:00", `"kind": "correction", "replaces": "a", "fact": {"kind": "lid_on", "at": "2026-01-05T12:30:00Z"}`), "m b a"},
		{"corrected twice", day2("a", "10:00", kindOn) + day2("b", "11:00", kindOff) + day2("c", "12:00", `"kind": "correction", "replaces": "a", "fact": {"kind": "lid_on", "at": "2026-01-05T12:30:00Z"}`) + day2("d", "12:05", `"kind": "correction", "replaces": "a", "fact": {"kind": "lid_on", "at": "2026-01-05T09:30:00Z"}`), "m a b"},
	} {
		got, _ := orderOf(t, plainFile(25, "", strings.TrimPrefix(tt.facts, ",")))
		if got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// day2 is a further fact, with a comma before it.
func day2(id, clock, rest string) string {
	return `,{"id": "` + id + `", "at": "2026-01-05T` + clock + `:00Z", ` + rest + `}`
}

func TestADoubtfulSoakKeepsItsLength(t *testing.T) {
	_, l := orderOf(t, plainFile(25, "", strings.TrimPrefix(day2("a", "10:00", kindOn)+day2("s", "03:00", `"clock_in_doubt": true, "kind": "soak", "out_at": "2026-01-05T03:10:00Z"`), ",")))
	last := l.events[len(l.events)-1]
	if got := second(last.at).String(); !last.end || got != "2026-01-05T10:10:00Z" {
		t.Errorf("the soak ended at %s", got)
	}
}

func TestAsOf(t *testing.T) {
	for _, tt := range []struct{ name, facts, until, want string }{
		{"the last fact", day2("a", "10:00", kindOn), "", "10:00:00"},
		{"the end of a soak", day2("s", "10:00", `"kind": "soak", "out_at": "2026-01-05T11:00:00Z"`), "", "11:00:00"},
		{"a running soak", day2("s", "10:00", `"kind": "soak"`), "", "10:00:00"},
		{"until", day2("a", "10:00", kindOn), "15:30", "15:30:00"},
		{"retired", day2("r", "10:00", `"kind": "retire"`) + day2("a", "11:00", kindOn), "15:30", "10:00:00"},
		{"retired, without until", day2("r", "10:00", `"kind": "retire"`) + day2("a", "11:00", kindOn), "", "10:00:00"},
		{"a correction is no moment of the bath", day2("a", "10:00", kindOn) + day2("c", "12:00", `"kind": "correction", "replaces": "a", "fact": {"kind": "lid_on"}`), "", "10:00:00"},
	} {
		b := parsed(t, plainFile(25, "", strings.TrimPrefix(tt.facts, ",")))
		s, err := Replay(b, nil)
		if tt.until != "" {
			until := moment(t, "2026-01-05T"+tt.until+":00Z")
			s, err = Replay(b, &until)
		}
		if err != nil || s.AsOf.String() != "2026-01-05T"+tt.want+"Z" {
			t.Errorf("%s: as of %s, %v; want %s", tt.name, s.AsOf, err, tt.want)
		}
	}
}

// A correction that was written after the moment asked for is not applied, and a fact that it moves is looked at where it then
// stood.
func TestCorrectionsWrittenLater(t *testing.T) {
	b := parsed(t, plainFile(25, "", strings.TrimPrefix(day2("a", "10:00", `"kind": "addition", "parts": [{"kind": "water", "mass_g": 1000}]`)+
		day2("c", "12:00", `"kind": "correction", "replaces": "a", "fact": {"kind": "addition", "parts": [{"kind": "water", "mass_g": 500}]}`), ",")))
	b.LidFactor, b.Room.RHPercent = 0, 100
	for clock, want := range map[string]float64{"11:59": 11_000, "12:00": 10_500} {
		until := moment(t, "2026-01-05T"+clock+":00Z")
		s, err := Replay(b, &until)
		if err != nil || float64(s.Balance.Water.In) != want {
			t.Errorf("until %s: %g g came in, %v; want %g", clock, s.Balance.Water.In, err, want)
		}
	}
}
