package main

import (
	"os/exec"
	"strings"
	"testing"
)

// The import rule of the house: cmd → server → {store, charts} → qc → bath. What computes knows no web and no database.
var importRules = []struct{ packages, banned string }{
	{"blackbath/bath/...", "net/http html/template database/sql gorm.io log log/slog blackbath/qc blackbath/charts blackbath/server github.com golang.org modernc.org"},
	{"blackbath/server/store/...", "net/http html/template github.com/gin-gonic blackbath/charts blackbath/server/view blackbath/server/form"},
	{"blackbath/server/view/...", "gorm.io blackbath/server/store"},
	{"blackbath/server/form/...", "gorm.io blackbath/server/store"},
	{"blackbath/migrations/...", "net/http html/template gorm.io blackbath/bath blackbath/server"},
}

func TestImportRules(t *testing.T) {
	for _, rule := range importRules {
		out, err := exec.Command("go", "list", "-deps", rule.packages).Output()
		if err != nil {
			t.Fatalf("go list -deps %s: %v", rule.packages, err)
		}
		deps := strings.Fields(string(out))
		if len(deps) < 5 {
			t.Fatalf("go list -deps %s found %d packages; nothing was looked at", rule.packages, len(deps))
		}
		for _, dep := range deps {
			for banned := range strings.FieldsSeq(rule.banned) {
				if dep == banned || strings.HasPrefix(dep, banned+"/") {
					t.Errorf("%s reaches %s, which it must not know", rule.packages, dep)
				}
			}
		}
	}
}

// Leaves never import the package they hang on.
func TestLeavesDoNotKnowTheirRoot(t *testing.T) {
	for _, leaf := range []string{"unit", "input", "salt", "water", "caution"} {
		out, err := exec.Command("go", "list", "-deps", "blackbath/bath/"+leaf).Output()
		if err != nil {
			t.Fatalf("go list -deps blackbath/bath/%s: %v", leaf, err)
		}
		for dep := range strings.FieldsSeq(string(out)) {
			if dep == "blackbath/bath" {
				t.Errorf("blackbath/bath/%s imports blackbath/bath", leaf)
			}
		}
	}
}
