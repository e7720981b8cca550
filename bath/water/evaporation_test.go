package water_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"blackbath/bath/internal/published"
	"blackbath/bath/water"
)

// Published evaporation from still water, every row. The look-up table of Shah's
// correlation must come out as printed; three tables for hot open tanks, measured
// or reckoned by others, must lie within the uncertainty that is shown.
func TestEvaporationPublished(t *testing.T) {
	lookUp, hot, worst := 0, 0, 0.0
	for _, row := range published.Table(t, "evaporation_checks.csv", 20) {
		bathC, roomC, want := row.Number(t, "t_water_C"), row.Number(t, "t_air_C"), row.Number(t, "value")
		roomRH := water.DefaultRoomRH // where the source does not say
		if row["relative_humidity"] != "n/a" {
			roomRH = row.Number(t, "relative_humidity")
		}
		got, ok := water.EvaporationKgPerM2H(bathC, 1, water.SeaLevelPa, roomC, roomRH, 0)
		if !ok {
			t.Errorf("%v C bath, %v C room: not ok", bathC, roomC)
			continue
		}
		deviation := got/want - 1
		if strings.Contains(row["source"], "Shah") {
			lookUp++
			if math.Abs(deviation) > 0.002 {
				t.Errorf("%v C bath, %v C room: got %v, want %v (Shah's table)", bathC, roomC, got, want)
			}
			continue
		}
		hot++
		worst = max(worst, math.Abs(deviation))
		if math.Abs(deviation) > 0.23 {
			t.Errorf("%v C bath, %v C room: got %v, want %v: %+.0f %%", bathC, roomC, got, want, 100*deviation)
		}
	}
	if lookUp != 8 || hot != 12 {
		t.Errorf("got %d rows of Shah's table and %d of hot tanks, want 8 and 12", lookUp, hot)
	}
	t.Logf("hot tanks: largest deviation %.1f %%", 100*worst)
	if worst > water.EvaporationUncertainty {
		t.Errorf("largest deviation %v is more than the uncertainty shown, %v", worst, water.EvaporationUncertainty)
	}
}

// Plain water at sea level in the default room, worked by another implementation
// of the same correlation.
func TestEvaporationDefaultRoom(t *testing.T) {
	for _, tt := range []struct{ bathC, want, tolerance float64 }{
		{40, 0.71, 0.006}, {50, 1.52, 0.006}, {60, 2.9, 0.06}, {70, 5.1, 0.06},
		{80, 8.6, 0.06}, {90, 13.9, 0.06}, {95, 17.4, 0.06},
	} {
		got, ok := water.EvaporationKgPerM2H(tt.bathC, 1, water.SeaLevelPa, water.DefaultRoomC, water.DefaultRoomRH, 0)
		if !ok || math.Abs(got-tt.want) > tt.tolerance {
			t.Errorf("at %v C: got %v %v, want %v", tt.bathC, got, ok, tt.want)
		}
	}
}

// The pool equation of the ASHRAE handbook, W = (95 + 37.4 V)(pw - pa)/hfg with V
// in mph: a draught of 3 mph raises the loss by (95 + 3 x 37.4)/95.
func TestEvaporationDraught(t *testing.T) {
	const mph = 0.44704
	still, _ := water.EvaporationKgPerM2H(60, 1, water.SeaLevelPa, 25, 0.5, 0)
	draught, ok := water.EvaporationKgPerM2H(60, 1, water.SeaLevelPa, 25, 0.5, 3*mph)
	if got, want := draught/still, (95+3*37.4)/95; !ok || math.Abs(got-want) > 0.005 {
		t.Errorf("draught of 3 mph: got a factor of %v %v, want %v", got, ok, want)
	}
}

func TestEvaporationCases(t *testing.T) {
	const sea = water.SeaLevelPa
	nan, inf := math.NaN(), math.Inf(1)
	boundaryC := water.BoilingC(0.97 * sea)
	tests := []struct {
		name                                             string
		bathC, activity, pressurePa, roomC, rh, airMPerS float64
		wantOK, wantZero                                 bool
	}{
		{"hot bath", 90, 1, sea, 25, 0.5, 0, true, false},
		{"just below the boiling share", boundaryC - 0.001, 1, sea, 25, 0.5, 0, true, false},
		{"just above the boiling share", boundaryC + 0.001, 1, sea, 25, 0.5, 0, false, true},
		{"salt lowers it below the boiling share", boundaryC + 0.001, 0.9, sea, 25, 0.5, 0, true, false},
		{"boils at altitude", 90, 1, 70121, 25, 0.5, 0, false, true},
		{"cold bath in a damp room takes water up", 5, 1, sea, 30, 0.9, 0, true, true},
		{"bath colder than the room still dries", 20, 1, sea, 25, 0.5, 0, true, false},
		{"no water left to leave", 80, 0, sea, 25, 0, 0, true, true},
		{"bath not a number", nan, 1, sea, 25, 0.5, 0, false, true},
		{"activity not a number", 80, nan, sea, 25, 0.5, 0, false, true},
		{"activity above 1", 80, 1.1, sea, 25, 0.5, 0, false, true},
		{"pressure not a number", 80, 1, nan, 25, 0.5, 0, false, true},
		{"pressure without end", 80, 1, inf, 25, 0.5, 0, false, true},
		{"no pressure", 80, 1, 0, 25, 0.5, 0, false, true},
		{"room not a number", 80, 1, sea, nan, 0.5, 0, false, true},
		{"room steam-filled", 80, 1, sea, 120, 1, 0, false, true},
		{"humidity in per cent", 80, 1, sea, 25, 50, 0, false, true},
		{"air not a number", 80, 1, sea, 25, 0.5, nan, false, true},
		{"air without end", 80, 1, sea, 25, 0.5, inf, false, true},
		{"air backwards", 80, 1, sea, 25, 0.5, -1, false, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := water.EvaporationKgPerM2H(tt.bathC, tt.activity, tt.pressurePa, tt.roomC, tt.rh, tt.airMPerS)
			if ok != tt.wantOK || (got == 0) != tt.wantZero || math.IsNaN(got) || got < 0 {
				t.Errorf("got %v %v, want ok %v, zero %v", got, ok, tt.wantOK, tt.wantZero)
			}
		})
	}
}

// The branch for a surface that does not make the air rise (Shah 2014, constant
// from memory): 5e-5 kg/(m2 h Pa).
func TestEvaporationColdSurface(t *testing.T) {
	got, ok := water.EvaporationKgPerM2H(20, 1, water.SeaLevelPa, 30, 0.4, 0)
	// Vapour pressures at 20 and 30 C from IAPWS-95: 2339.32 and 4246.97 Pa.
	want := 5e-5 * (2339.32 - 0.4*4246.97)
	if !ok || math.Abs(got-want) > 1e-3*want {
		t.Errorf("got %v %v, want %v", got, ok, want)
	}
}

// Less salt or a drier room never slow a hot bath down.
func TestEvaporationMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bathC := rapid.Float64Range(45, 85).Draw(t, "bathC")
		activity := rapid.Float64Range(0.7, 0.95).Draw(t, "activity")
		rh := rapid.Float64Range(0.1, 0.9).Draw(t, "rh")
		rate := func(activity, rh float64) float64 {
			got, ok := water.EvaporationKgPerM2H(bathC, activity, water.SeaLevelPa, 25, rh, 0)
			if !ok {
				t.Fatalf("not ok at %v C", bathC)
			}
			return got
		}
		base := rate(activity, rh)
		if got := rate(activity+0.05, rh); got <= base {
			t.Fatalf("less salt: got %v, want more than %v", got, base)
		}
		if got := rate(activity, rh-0.1); got <= base {
			t.Fatalf("drier room: got %v, want more than %v", got, base)
		}
	})
}

func TestBoilOffKgPerH(t *testing.T) {
	// CRC Handbook: 40.65 kJ/mol at the boiling point, so 1 kW takes off
	// 3600 x 18.015e-3 / 40.65 = 1.595 kg/h.
	if got, want := water.BoilOffKgPerH(1, 99.97), 3600*18.015e-3/40.65; math.Abs(got-want) > 1e-3*want {
		t.Errorf("BoilOffKgPerH(1, 99.97): got %v, want %v", got, want)
	}
	for _, kW := range []float64{0, -3} {
		if got := water.BoilOffKgPerH(kW, 100); got != 0 {
			t.Errorf("BoilOffKgPerH(%v, 100): got %v, want 0", kW, got)
		}
	}
}

func BenchmarkEvaporationKgPerM2H(b *testing.B) {
	for b.Loop() {
		water.EvaporationKgPerM2H(92, 0.9, water.SeaLevelPa, 25, 0.5, 0)
	}
}
