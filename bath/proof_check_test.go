package bath

import (
	"math"
	"testing"
)

func TestProofCheck(t *testing.T) {
	for _, tt := range []struct {
		name  string
		proof Proof
		want  string // field with a problem; empty: none
	}{
		{"no ranges", Proof{Load: 580, LoadArea: 38}, ""},
		{"a range", Proof{Ranges: map[Figure]Range{MudDepth: {15, 28}}}, ""},
		{"a single point", Proof{Ranges: map[Figure]Range{MudDepth: {20, 20}}}, ""},
		{"upside down", Proof{Ranges: map[Figure]Range{MudDepth: {28, 15}}}, "ranges.depth_cm.hi"},
		{"below nothing", Proof{Ranges: map[Figure]Range{HeatUp: {-1, 15}}}, "ranges.heat_up_min.lo"},
		{"not a number", Proof{Ranges: map[Figure]Range{HeatUp: {math.NaN(), 15}}}, "ranges.heat_up_min.lo"},
		{"no end", Proof{Ranges: map[Figure]Range{HeatUp: {1, math.NaN()}}}, "ranges.heat_up_min.hi"},
		{"area below nothing", Proof{LoadArea: -1}, "load_area_dm2"},
	} {
		ps := tt.proof.Check()
		got := ""
		if len(ps) > 0 {
			got = ps[0].Field
		}
		if got != tt.want || len(ps) > 1 {
			t.Errorf("%s: got problems %v, want one on %q", tt.name, ps, tt.want)
		}
	}
}
