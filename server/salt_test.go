package server

import (
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"blackbath/bath/salt"
)

func TestSaltList(t *testing.T) {
	c := newClient(t) // the catalogue needs no workshop
	a := c.get("/salts").want(http.StatusOK)
	if got, want := len(a.all("th", "scope", "row")), len(salt.All()); got != want {
		t.Errorf("got %d salts, want %d", got, want)
	}
	// CAS numbers and the solubility of NaCl at 20 °C: CRC Handbook of Chemistry and Physics, 98th ed. 2017.
	a.says("12125-02-9", "7784-13-6", "35.9 ± 1.4 g per 100 g water", "Danger: H290, H314", "sal ammoniac")
	a = c.get("/salts?q=aluminium").want(http.StatusOK)
	if got := len(a.all("th", "scope", "row")); got != 1 {
		t.Errorf("got %d salts with aluminium, want 1", got)
	}
	c.get("/salts?q=unobtainium").want(http.StatusOK).says("No salt has these words.")
}

func TestSaltListSorts(t *testing.T) {
	c := newClient(t)
	for _, tt := range []struct{ sort, first, last string }{
		{"mass", "ammonium chloride", "zinc sulfate heptahydrate"},
		{"-mass", "zinc sulfate heptahydrate", "ammonium chloride"},
		{"name", "aluminium chloride hexahydrate", "zinc sulfate heptahydrate"},
	} {
		rows := c.get("/salts?sort="+tt.sort).want(http.StatusOK).all("th", "scope", "row")
		first, last := textOf(rows[0]), textOf(rows[len(rows)-1])
		if first != tt.first || last != tt.last {
			t.Errorf("sort %s: got %q to %q, want %q to %q", tt.sort, first, last, tt.first, tt.last)
		}
	}
	head := c.get("/salts?sort=mass").one("th", "aria-sort", "ascending")
	if got := textOf(head); got != "Molar mass" {
		t.Errorf("got %q marked as sorted, want the molar mass", got)
	}
}

func TestSaltFile(t *testing.T) {
	a := newClient(t).get("/salts.csv?q=NH4").want(http.StatusOK)
	body, marked := strings.CutPrefix(a.body, "\uFEFF")
	if !marked {
		t.Error("the file has no UTF-8 mark")
	}
	rows, err := csv.NewReader(strings.NewReader(body)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 4 {
		t.Fatalf("got %d lines, want the head and 3 ammonium salts", len(rows))
	}
	if got := rows[1][2]; got != "NH4Cl" {
		t.Errorf("got formula %q, want NH4Cl", got)
	}
	if got := a.header.Get("Content-Type"); got != "text/csv; charset=utf-8" {
		t.Errorf("got type %q", got)
	}
}

func TestSaltShow(t *testing.T) {
	c := newClient(t)
	for _, s := range salt.All() {
		c.get("/salts/"+string(s.ID)).want(http.StatusOK).says(s.CAS, "How much dissolves", "On the label")
	}
	c.get("/salts/copper-sulfate-pentahydrate").says("36.1 %", "H318", "Causes serious eye damage", "Danger")
	// The table of zinc chloride begins at 10 °C: no row may claim to know 0 °C.
	if got := len(c.get("/salts/zinc-chloride").all("th", "scope", "row")); got != 10 {
		t.Errorf("got %d rows for zinc chloride, want 10", got)
	}
	c.get("/salts/chloride").want(http.StatusNotFound).says("There is nothing here")
}
