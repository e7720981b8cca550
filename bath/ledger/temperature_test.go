package ledger

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// tempAt replays a pot of plain water with a roof over it, so that nothing evaporates, up to a time of the first day.
func tempAt(t *testing.T, facts, clock string) float64 {
	t.Helper()
	b := parsed(t, plainFile(25, `"lid_factor": 0, "room": {"rh_pct": 100},`, facts))
	until := moment(t, "2026-01-05T"+clock+":00Z")
	s, err := Replay(b, &until)
	if err != nil {
		t.Fatal(err)
	}
	return float64(s.TempC)
}

func day(clock, rest string) string {
	id := strings.NewReplacer(`"`, "", `kind: `, "").Replace(clock + rest)
	return fmt.Sprintf(`{"id": %q, "at": "2026-01-05T%s:00Z", %s}`, id, clock, rest)
}

const (
	kindOn  = `"kind": "heat_on"`
	kindOff = `"kind": "heat_off"`
)

func kindReading(tempC float64) string {
	return fmt.Sprintf(`"kind": "reading", "temp_c": %g`, tempC)
}

func TestTemperatureBetweenFacts(t *testing.T) {
	join := func(facts ...string) string { return strings.Join(facts, ",") }
	cooled := func(from, hours, constant float64) float64 { return 25 + (from-25)*math.Exp(-hours/constant) }
	for _, tt := range []struct {
		name, facts, clock string
		want               float64
	}{
		{"unheated, to a point within 4 h: a straight line", join(day("12:00", kindReading(45))), "12:00", 45},
		{"unheated, made up warm and nothing read: it cools", join(day("09:00", kindReading(65))), "11:00", cooled(65, 2, 2.5)},
		{"heat on: straight to the next point", join(day("09:00", kindOn), day("11:00", kindReading(85))), "11:00", 85},
		{"after the last point held", join(day("09:00", kindOn), day("11:00", kindReading(85))), "20:00", 85},
		{"no point in the spell: the target", join(day("09:00", kindOn)), "09:01", 92},
		{"at the moment itself it is still cold", join(day("09:00", kindOn)), "09:00", 25},
		{"a point at the moment of heat_on belongs to the time before", join(day("09:00", kindOn), day("09:00", kindReading(40))), "09:01", 92},
		{"heat off: it cools", join(day("09:00", kindOn), day("11:00", kindReading(85)), day("12:00", kindOff)), "14:30", cooled(85, 2.5, 2.5)},
		{"from the target when nothing was read", join(day("09:00", kindOn), day("12:00", kindOff)), "14:30", cooled(92, 2.5, 2.5)},
		{"cooling starts anew at each point", join(day("09:00", kindOn), day("11:00", kindReading(85)), day("12:00", kindOff), day("13:00", kindReading(50))), "15:00", cooled(50, 2, 2.5)},
		{"a point later than heat_off is not aimed at", join(day("09:00", kindOn), day("11:00", kindOff), day("12:00", kindReading(60))), "11:00", 92},
		{"a heat_on while on changes nothing", join(day("09:00", kindOn), day("10:00", kindReading(60)), day("11:00", kindOn), day("12:00", kindReading(90))), "12:00", 90},
		{"held through a heat_on while on", join(day("09:00", kindOn), day("10:00", kindReading(60)), day("11:00", kindOn)), "15:00", 60},
		{"a soak's temperatures count", join(day("09:00", kindOn), day("10:00", `"kind": "soak", "temp_in_c": 90, "temp_out_c": 86, "out_at": "2026-01-05T10:10:00Z"`)), "12:00", 86},
		{"a heat_off that was never on: it cools", join(day("09:00", kindReading(65)), day("10:00", kindOff)), "12:30", cooled(cooled(65, 1, 2.5), 2.5, 2.5)},
		{"held at the boiling point", join(day("09:00", kindOn), day("11:00", kindReading(101))), "12:00", 99.974},
		{"cooling goes on from the uncut figure", join(day("09:00", kindOn), day("11:00", kindReading(101)), day("11:00", kindOff)), "12:00", cooled(101, 1, 2.5)},
	} {
		if got := tempAt(t, tt.facts, tt.clock); math.Abs(got-tt.want) > 1e-3 {
			t.Errorf("%s: %.4f °C, want %.4f", tt.name, got, tt.want)
		}
	}
}

// Temperatures on the way are seen by a soak that takes them, since a later point then is known.
func TestTemperatureOnTheWay(t *testing.T) {
	soak := `{"id": "s", "at": "2026-01-05T10:00:00Z", "kind": "soak"},`
	for _, tt := range []struct {
		name, facts string
		want        float64
	}{
		{"heating from 25 to 85 in two hours", day("09:00", kindOn) + "," + soak + day("11:00", kindReading(85)), 55},
		{"unheated, from 25 to 45 in four hours", soak + day("12:00", kindReading(45)), 35},
		{"unheated, the next point more than four hours away: it stays in the room", soak + day("12:01", kindReading(45)), 25},
		{"the next point comes after heat_on: not aimed at", soak + day("11:00", kindOn) + "," + day("11:30", kindReading(80)), 25},
	} {
		s := replayed(t, plainFile(25, `"lid_factor": 0, "room": {"rh_pct": 100},`, tt.facts))
		if got := float64(s.AtSoaks[0].TempC); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%s: %.4f °C, want %.4f", tt.name, got, tt.want)
		}
	}
}

func TestMakeUpStartsAtTheRoom(t *testing.T) {
	text := strings.Replace(plainFile(25, `"room": {"temp_c": 31},`, ""), `"temp_c": 25, "parts"`, `"parts"`, 1)
	if s := replayed(t, text); s.TempC != 31 {
		t.Errorf("made up at %g °C, want the room's 31", s.TempC)
	}
}

func TestHotHours(t *testing.T) {
	// From 25 to 95 °C in seven hours it is at 60 °C after three and a half.
	s := replayed(t, plainFile(25, "", day("09:00", kindOn)+","+day("16:00", kindReading(95))))
	if math.Abs(s.HotH-3.5) > 0.126 || s.AgeH != 8 {
		t.Errorf("hot %.3f h of %.3f, want 3.5 within half a step of 8", s.HotH, s.AgeH)
	}
}
