package caution

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const safetyFile = "../../SAFETY.md"

// TestSafetyTables compares the marked tables of SAFETY.md with those of this package. On a mismatch it writes
// SAFETY.md.got with the tables of the package, for a person to look at and copy.
func TestSafetyTables(t *testing.T) {
	file := readSafety(t)
	got := file
	for name, render := range map[string]func() string{"salts": renderSalts, "groups": renderGroups, "facts": renderFacts, "rules": renderRules} {
		start := "<!-- table: " + name + " -->\n"
		before, rest, found := strings.Cut(got, start)
		_, after, ended := strings.Cut(rest, "<!-- end -->")
		if !found || !ended {
			t.Fatalf("SAFETY.md has no block %q with an end", name)
		}
		got = before + start + "\n" + render() + "\n<!-- end -->" + after
	}
	if got == file {
		return
	}
	if err := os.WriteFile(safetyFile+".got", []byte(got), 0o666); err != nil {
		t.Error(err)
	}
	t.Errorf("SAFETY.md differs from the tables of the package, see SAFETY.md.got (-file +package):\n%s", cmp.Diff(strings.Split(file, "\n"), strings.Split(got, "\n")))
}

func readSafety(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(safetyFile)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// table renders rows of cells; the first is the head.
func table(rows ...[]string) string {
	var b strings.Builder
	for i, cells := range rows {
		b.WriteString("| " + strings.Join(cells, " | ") + " |\n")
		if i == 0 {
			b.WriteString(strings.Repeat("|---", len(cells)) + "|\n")
		}
	}
	return b.String()
}

func code(s string) string { return "`" + s + "`" }

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

func renderSalts() string {
	rows := [][]string{{"id", "salt", "formula", "CAS", "signal word", "codes", "basis", "source", "date of the source"}}
	for _, h := range Hazards() {
		signal := "none"
		if h.Signal != "" {
			signal = h.Signal.Label()
		}
		rows = append(rows, []string{code(h.ID), h.Name, h.Formula, h.CAS, signal, orDash(strings.Join(h.Codes, ", ")), h.Basis, h.Source, orDash(h.Taken)})
	}
	return table(rows...)
}

func renderGroups() string {
	rows := [][]string{{"group", "members"}}
	for _, g := range groups {
		members := strings.Join(g.members, ", ")
		if _, alsoEarth := earthGroupNamed[g.name]; alsoEarth {
			members += "; an earth by its tests"
		}
		rows = append(rows, []string{code(g.name), members})
	}
	return table(append(rows, []string{code("earth"), "every earth of a list"})...)
}

func renderFacts() string {
	rows := [][]string{{"fact", "allowed", "asked at", "asked as"}}
	for _, def := range factList {
		var asked []string
		for i, w := range stepWords {
			if def.asked&(1<<i) != 0 {
				asked = append(asked, w)
			}
		}
		if def.asked == allSteps {
			asked = []string{"every step"}
		}
		rows = append(rows, []string{code(def.name), def.allowed().String(), orDash(strings.Join(asked, ", ")), orDash(def.askedAs)})
	}
	return table(rows...)
}

func renderRules() string {
	rows := [][]string{{"id", "severity", "condition", "text", "covers", "pages", "source"}}
	for _, r := range Rules() {
		severity := r.Severity.Label()
		if r.Refuses {
			severity += ", refuses"
		}
		if r.RecordOnly {
			severity += ", record only"
		}
		condition := code(r.Condition)
		if r.DangerWhen != "" {
			condition += ", danger when " + code(r.DangerWhen)
		}
		rows = append(rows, []string{r.ID, severity, condition, r.Text, orDash(strings.Join(r.Covers, ", ")), r.Pages, r.Source})
	}
	return table(rows...)
}

var (
	ruleID    = regexp.MustCompile(`\bR-\d+\b`)
	pairID    = regexp.MustCompile(`\bP-\d+\b`)
	sourceKey = regexp.MustCompile(`\[([KC]\d+[ab]?)\]`)
	sourceRow = regexp.MustCompile(`(?m)^\| ([KC]\d+[ab]?) \|`)
	sections  = regexp.MustCompile(`\bsection (\d+(?:\.\d+)?)`)
)

// TestSafetyReferences checks that SAFETY.md resolves every key, pair, section and rule that it or the tables name, and has
// no source that nothing names.
func TestSafetyReferences(t *testing.T) {
	file := readSafety(t)
	listed := firsts(sourceRow.FindAllStringSubmatch(file, -1))
	used := firsts(sourceKey.FindAllStringSubmatch(file, -1))
	// A row may rest on another: "IDLH 50 from K51".
	for _, m := range regexp.MustCompile(`from (K\d+)\b`).FindAllStringSubmatch(file, -1) {
		used = append(used, m[1])
	}
	if len(listed) < 50 || len(used) < 50 {
		t.Fatalf("found %d sources and %d keys: the patterns miss them", len(listed), len(used))
	}
	for _, k := range used {
		if !slices.Contains(listed, k) {
			t.Errorf("[%s] is not in section 14", k)
		}
	}
	for i, k := range listed {
		if !slices.Contains(used, k) {
			t.Errorf("section 14 lists %s, which nothing names", k)
		}
		if slices.Contains(listed[:i], k) {
			t.Errorf("section 14 lists %s twice", k)
		}
	}
	for _, id := range pairID.FindAllString(file, -1) {
		if !strings.Contains(file, "\n| "+id+" |") {
			t.Errorf("%s has no row in section 4", id)
		}
	}
	for _, id := range ruleID.FindAllString(file, -1) {
		if !slices.ContainsFunc(ruleTable[:], func(r Rule) bool { return r.ID == id }) {
			t.Errorf("SAFETY.md names %s, which is no rule", id)
		}
	}
	for _, r := range Rules() {
		for _, m := range sections.FindAllStringSubmatch(r.Source, -1) {
			if !hasSection(file, m[1]) {
				t.Errorf("%s: SAFETY.md has no section %s", r.ID, m[1])
			}
		}
	}
	for code, wording := range hazardStatements {
		if !strings.Contains(file, fmt.Sprintf("\n| %s | %s |", code, wording)) {
			t.Errorf("section 2 has no row %s with %q", code, wording)
		}
	}
}

func firsts(matches [][]string) []string {
	out := make([]string, len(matches))
	for i, m := range matches {
		out[i] = m[1]
	}
	return out
}

// hasSection finds "## 5. ", "### 3.2 ", "3. **" within section 9, or "**15.1 ".
func hasSection(file, number string) bool {
	for _, head := range []string{"\n## " + number + ". ", "\n### " + number + " ", "\n**" + number + " "} {
		if strings.Contains(file, head) {
			return true
		}
	}
	chapter, item, _ := strings.Cut(number, ".")
	_, rest, found := strings.Cut(file, "\n## "+chapter+". ")
	body, _, _ := strings.Cut(rest, "\n## ")
	return found && item != "" && strings.Contains(body, "\n"+item+". **")
}
