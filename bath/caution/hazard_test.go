package caution

import (
	"strings"
	"testing"
)

// TestCAS checks the check digit of each number: the last digit is the sum of the others, each times its place from the
// right, modulo 10 (Chemical Abstracts Service, check digit of a registry number (from memory)).
func TestCAS(t *testing.T) {
	for _, h := range Hazards() {
		digits := strings.ReplaceAll(h.CAS, "-", "")
		sum := 0
		for i, d := range digits[:len(digits)-1] {
			sum += int(d-'0') * (len(digits) - 1 - i)
		}
		if got, want := sum%10, int(digits[len(digits)-1]-'0'); got != want {
			t.Errorf("%s: CAS %s has check digit %d, want %d", h.ID, h.CAS, want, got)
		}
	}
}

func TestHazards(t *testing.T) {
	for _, h := range Hazards() {
		if _, known := substanceIndex[h.ID]; !known {
			t.Errorf("%s is no substance of the rules", h.ID)
		}
		if (h.Signal == "") != (len(h.Codes) == 0) {
			t.Errorf("%s: signal word %q with codes %v", h.ID, h.Signal, h.Codes)
		}
		if h.Source == "" || h.Basis == "" {
			t.Errorf("%s: no source or no basis", h.ID)
		}
		for _, c := range h.Codes {
			if HazardStatement(c) == "" {
				t.Errorf("%s: no wording for %s", h.ID, c)
			}
		}
	}
	// Signal words of the cards: ICSC 1416 (Nov 2023), copper(II) sulfate pentahydrate, prints "Danger".
	if h, ok := HazardOf("copper-sulfate-pentahydrate"); !ok || h.Signal != Danger {
		t.Errorf("copper-sulfate-pentahydrate: got %+v", h)
	}
	if h, ok := HazardOf("aluminium-chloride"); !ok || !h.FromMemory() {
		t.Errorf("aluminium-chloride: got %+v, want it marked as from memory", h)
	}
	if _, ok := HazardOf("chloride"); ok {
		t.Error("there is no salt called just chloride")
	}
}
