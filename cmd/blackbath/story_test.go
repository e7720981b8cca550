package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A story is one run of the real program, in testdata/*.story:
//
//	# what it shows
//	$ blackbath scale --recipe r.json ...
//	status 2
//	-- r.json --
//	files that stand beside it
//	-- stdout -- what must come out, to the letter (absent: nothing, unless stdout-has is used)
//	-- stdout-has -- lines that must each stand somewhere in it
//	-- stderr-has -- the same for stderr (absent: stderr must be empty)
type story struct {
	args   []string
	status int
	stdin  string
	files  map[string]string
}

func readStory(t *testing.T, path string) story {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s := story{files: map[string]string{}}
	name := ""
	for line := range strings.Lines(string(data)) {
		text := strings.TrimSuffix(line, "\n")
		inner, opens := strings.CutPrefix(text, "-- ")
		inner, closes := strings.CutSuffix(inner, " --")
		switch {
		case opens && closes:
			name = inner
			s.files[name] = ""
		case name != "":
			s.files[name] += line
		case strings.HasPrefix(text, "$ blackbath "):
			s.args = strings.Fields(strings.TrimPrefix(text, "$ blackbath "))
		case strings.HasPrefix(text, "status "):
			if s.status, err = strconv.Atoi(strings.TrimPrefix(text, "status ")); err != nil {
				t.Fatalf("%s: %v", path, err)
			}
		}
	}
	if len(s.args) == 0 {
		t.Fatalf("%s: no command", path)
	}
	s.stdin = s.files["stdin"]
	return s
}

func TestStories(t *testing.T) {
	program := filepath.Join(t.TempDir(), "blackbath")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	paths, err := filepath.Glob("testdata/*.story")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no stories found: %v", err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) { tell(t, program, path) })
	}
}

func tell(t *testing.T, program, path string) {
	s := readStory(t, path)
	dir := t.TempDir()
	for name, text := range s.files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var stdout, stderr bytes.Buffer
	cmd := exec.CommandContext(context.Background(), program, s.args...)
	cmd.Dir, cmd.Stdout, cmd.Stderr, cmd.Stdin = dir, &stdout, &stderr, strings.NewReader(s.stdin)
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	if got := cmd.ProcessState.ExitCode(); got != s.status {
		t.Errorf("status %d, want %d; stderr: %s", got, s.status, stderr.String())
	}
	want, exact := s.files["stdout"]
	if _, some := s.files["stdout-has"]; (exact || !some) && stdout.String() != want {
		t.Errorf("stdout (-want +got):\n%s", cmp.Diff(want, stdout.String()))
	}
	hasEach(t, "stdout", stdout.String(), s.files["stdout-has"])
	hasEach(t, "stderr", stderr.String(), s.files["stderr-has"])
	if s.files["stderr-has"] == "" && stderr.Len() > 0 {
		t.Errorf("stderr: %s; want nothing", stderr.String())
	}
}

func hasEach(t *testing.T, stream, got, lines string) {
	t.Helper()
	for line := range strings.Lines(lines) {
		if want := strings.TrimSpace(line); want != "" && !strings.Contains(got, want) {
			t.Errorf("%s has no %q; it is:\n%s", stream, want, got)
		}
	}
}
