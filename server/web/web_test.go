package web

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"regexp"
	"strings"
	"testing"
)

// What comes from others is listed with its version, its licence and its checksum, so that a changed file is noticed.
func TestVendoredFilesAreWhatTheySay(t *testing.T) {
	list, err := fs.ReadFile(sub("static"), "vendored.txt")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for line := range strings.Lines(string(list)) {
		fields := strings.Fields(line)
		if len(fields) == 0 || fields[0] == "#" {
			continue
		}
		if len(fields) != 4 {
			t.Fatalf("line %q: want checksum, file, version, licence file", line)
		}
		body, err := fs.ReadFile(sub("static"), fields[1])
		if err != nil {
			t.Error(err)
			continue
		}
		listed[fields[1]] = true
		sum := sha256.Sum256(body)
		if got := hex.EncodeToString(sum[:]); got != fields[0] {
			t.Errorf("%s: got checksum %s, want %s", fields[1], got, fields[0])
		}
		if _, err := fs.Stat(sub("static"), fields[3]); err != nil {
			t.Errorf("%s has no licence: %v", fields[1], err)
		}
	}
	for _, dir := range []string{"fonts", "vendor"} {
		err := fs.WalkDir(sub("static"), dir, func(name string, d fs.DirEntry, err error) error {
			if dir == "vendor" && name == dir && err != nil {
				return fs.SkipAll // nothing vendored there yet
			}
			if err == nil && !d.IsDir() && !listed[name] && !strings.Contains(name, "LICENSE") {
				t.Errorf("%s is not in vendored.txt", name)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
	if len(listed) < 4 {
		t.Errorf("got %d vendored files, want the four fonts at least", len(listed))
	}
}

// Nothing in the program's pages may ask another computer for anything, or need a policy less strict.
func TestNothingFromOutsideAndNothingInline(t *testing.T) {
	outside := regexp.MustCompile(`(?:src|href|action)="(?:https?:)?//|url\(["']?(?:https?:)?//|@import`)
	inline := regexp.MustCompile(`\sstyle=|\son[a-z]+=|<style|javascript:|<script(?:>|\s+[^s])`)
	looked := 0
	for _, dir := range []fs.FS{Templates(), sub("static")} {
		err := fs.WalkDir(dir, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !regexp.MustCompile(`\.(tmpl|css|svg)$`).MatchString(name) {
				return err
			}
			body, err := fs.ReadFile(dir, name)
			if err != nil {
				return err
			}
			looked++
			for _, bad := range append(outside.FindAllString(string(body), -1), inline.FindAllString(string(body), -1)...) {
				t.Errorf("%s: %q", name, bad)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if looked < 15 {
		t.Errorf("looked at %d files only", looked)
	}
}
