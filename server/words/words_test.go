package words

import (
	"testing"
	"testing/fstest"

	"blackbath/bath/input"
)

func book(t *testing.T) *Book {
	t.Helper()
	b, err := Load(fstest.MapFS{
		"de.json":   {Data: []byte(`{"English":"Deutsch","%d to %d of %d":"%[3]d, davon %[1]d bis %[2]d","a mass":"eine Masse","Write %s.":"Schreib %s."}`)},
		"README.md": {Data: []byte("no catalogue")},
	})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestT(t *testing.T) {
	w := book(t).In("de")
	for _, tt := range []struct{ got, want string }{
		{w.T("%d to %d of %d", 1, 50, 133), "133, davon 1 bis 50"},
		{w.T("no such sentence, 100 %"), "no such sentence, 100 %"},
		{w.Text(input.Say("Write %s.", input.Say("a mass"))), "Schreib eine Masse."},
		{w.Text(As("100 %s")), "100 %s"},
		{w.Tag(), "de"},
		{book(t).In("fr").Tag(), English},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
	args := []any{input.Say("a mass")}
	w.T("Write %s.", args...)
	if _, kept := args[0].(input.Text); !kept {
		t.Error("the caller's own list was changed")
	}
}
