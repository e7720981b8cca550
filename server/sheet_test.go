package server

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath"
	"blackbath/server/store"
)

var allSheets = store.SheetFilter{}

// makeSheetOf makes a sheet of the black recipe with what is given, as a program would.
func (c *client) makeSheetOf(s scaleShop, q url.Values) answer {
	c.t.Helper()
	return c.post("/sheets?recipe="+idText(s.black.RecipeID)+"&version=1", q)
}

// The walk without script: look, change, look again, make the sheet, read it, take its files to the command line.
func TestSheetWalk(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	sent := c.get(s.path(s.black)).want(http.StatusOK).filled("scale")
	sent.Set("tank", idText(s.pot.ID))
	sent.Set("load", "4.2 kg")
	sent.Set("pieces", "5 bowls")
	sent.Set("temp_c", "90")
	page := c.get(s.path(s.black) + "?" + sent.Encode()).want(http.StatusOK).says("for round pot")
	if got := page.filled("scale").Get("freeboard_cm"); got != "6" {
		t.Errorf("got free height %q of the other tank, want its 6", got)
	}
	where := c.makeSheet(page, url.Values{"made_by": {"Mira"}}).want(http.StatusSeeOther).header.Get("Location")
	sheet := c.get(where).want(http.StatusOK)
	sheet.says("Bath sheet 1: Everyday black, version 1", "round pot, fill line 26.0 cm. Bath 90 °C, window 85 to 97 °C. Soak 8 min", "5 bowls",
		"Print it with the browser's menu.", "Mira", "Really weighed", "Worked out by blackbath test", "Not into a drain", "--load-cm3 581.06", "--step-g 5", "The height above the sea is not recorded", "whether the room is closed", "Loads")
	for i, want := range []string{"Water", "ammonium chloride, NH 4 Cl", "sodium chloride", "copper sulfate pentahydrate", "potassium nitrate", "Damp earth, north bank"} {
		rows := sheet.all("tr", "", "")
		if got := textOf(rows[i+1]); !strings.Contains(got, want) {
			t.Errorf("line %d: got %q, want %q", i+1, got, want)
		}
	}

	// The two files give the command line the same figures.
	recipe, err := bath.ParseRecipe([]byte(c.get(where + "/recipe.json").want(http.StatusOK).body))
	if err != nil {
		t.Fatal(err)
	}
	tank, err := bath.ParseTank([]byte(c.get(where + "/tank.json").want(http.StatusOK).body))
	if err != nil {
		t.Fatal(err)
	}
	stored, err := c.store.BathSheet(context.Background(), s.workshop, 1)
	if err != nil {
		t.Fatal(err)
	}
	again, err := bath.Scale(recipe, tank, stored.Conditions)
	if err != nil {
		t.Fatal(err)
	}
	var kept struct {
		Answer json.RawMessage `json:"answer"`
	}
	if err := json.Unmarshal(stored.Answer, &kept); err != nil {
		t.Fatal(err)
	}
	got, err := json.Marshal(again)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(kept.Answer), string(got)); diff != "" {
		t.Errorf("the files give other figures (- sheet, + files):\n%s", diff)
	}
	text := c.get(where + ".txt").want(http.StatusOK)
	text.says("BATH SHEET", "WEIGH AND POUR, IN THIS ORDER")
	conditions := stored.Conditions
	conditions.LastChloride = bath.NoChloride // no sheet was made before this one
	var paper strings.Builder
	if err := bath.WriteSheet(&paper, recipe, tank, conditions, again); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(text.body, paper.String()); diff != "" {
		t.Errorf("the plain text is another sheet than the files give (- page, + files):\n%s", diff)
	}
	for _, other := range []string{"/sheets/2", "/sheets/x", "/sheets/2.txt", "/sheets/2/recipe.json", "/sheets/2/tank.json"} {
		c.get(other).want(http.StatusNotFound)
	}
}

// Sent twice it is one sheet; the same page with other figures makes no second one behind anybody's back.
func TestSheetSentTwice(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	page := c.get(s.path(s.black))
	first := c.makeSheet(page, nil).want(http.StatusSeeOther).header.Get("Location")
	if second := c.makeSheet(page, nil).want(http.StatusSeeOther).header.Get("Location"); second != first {
		t.Errorf("the second press led to %s, the first to %s", second, first)
	}
	changed := c.makeSheet(page, url.Values{"load": {"1 L"}}).want(http.StatusConflict).says("A sheet was made from this page already")
	if _, n, err := c.store.ListBathSheets(context.Background(), s.workshop, allSheets); err != nil || n != 1 {
		t.Errorf("got %d sheets (%v), want 1", n, err)
	}
	c.makeSheet(changed, nil).want(http.StatusSeeOther)
	if _, n, err := c.store.ListBathSheets(context.Background(), s.workshop, allSheets); err != nil || n != 2 {
		t.Errorf("got %d sheets (%v), want 2 after a new page was sent", n, err)
	}
}

func TestSheetFromElsewhere(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	r := httptest.NewRequest(http.MethodPost, "/sheets?recipe="+idText(s.black.RecipeID)+"&version=1", strings.NewReader("load="))
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	c.do(r).want(http.StatusForbidden)
	c.post("/sheets?recipe=99&version=1", nil).want(http.StatusNotFound)
}

// What stands on a sheet is what was stored, whatever the program works out today.
func TestSheetKeepsItsFigures(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	c.makeSheet(c.get(s.path(s.black)), nil).want(http.StatusSeeOther)
	stored, err := c.store.BathSheet(context.Background(), s.workshop, 1)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := readKept(&stored)
	if err != nil {
		t.Fatal(err)
	}
	kept.Answer.PourWater.Rounded, kept.Answer.Weigh[1].Rounded, kept.Text = 76543, 65432, "an old sheet\n"
	kept.Fires[0].Text, kept.Answer.Warnings[0].Text = "An old rule.", "An old assumption."
	if stored.Answer, err = json.Marshal(kept); err != nil {
		t.Fatal(err)
	}
	stored.EntryKey, stored.Program = "0198c0de-0000-7000-8000-0000000000ff", "0.0.1"
	id, err := c.store.SaveBathSheet(context.Background(), s.workshop, stored)
	if err != nil {
		t.Fatal(err)
	}
	// A lot and a formula that change later rewrite nothing.
	lot := s.lots["lot 14"]
	lot.MoisturePct, lot.Edit = new(44.0), 1
	if _, err := c.store.SaveLot(context.Background(), s.workshop, "", lot); err != nil {
		t.Fatal(err)
	}
	c.get("/sheets/"+idText(id)).want(http.StatusOK).says("76.543 kg", "65.432 kg", "An old rule.", "An old assumption.", "blackbath 0.0.1", "moisture 12 % of dry").saysNot("44 %")
	if got := c.get("/sheets/" + idText(id) + ".txt").body; got != "an old sheet\n" {
		t.Errorf("got text %q", got)
	}
}

func TestSheetPaper(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	where := c.makeSheet(c.get(s.path(s.black)), nil).header.Get("Location")
	for _, tt := range []struct{ query, class string }{{"", "p-on-a4"}, {"?paper=letter", "p-on-letter"}, {"?paper=a5", "p-on-a5"}, {"?paper=%22%3E", "p-on-a4"}} {
		c.get(where+tt.query).want(http.StatusOK).one("body", "class", tt.class)
	}
}

func TestSheetList(t *testing.T) {
	c := newShop(t)
	s := furnishScale(t, c.store)
	c.get("/sheets").want(http.StatusOK).says("No sheet yet.")
	for i, who := range []string{"Mira", "Tobin", "=1+1"} {
		tank := []bath.KeptTank{s.pot, s.box, s.box}[i]
		c.makeSheet(c.get(s.path(s.black)+"?tank="+idText(tank.ID)), url.Values{"made_by": {who}}).want(http.StatusSeeOther)
	}
	for _, tt := range []struct{ query, first string }{{"", "Sheet 3"}, {"?sort=number", "Sheet 1"}, {"?sort=-by", "Sheet 2"}, {"?q=pot", "Sheet 1"}, {"?q=tobin+box", "Sheet 2"}} {
		if got := textOf(c.get("/sheets"+tt.query).want(http.StatusOK).all("th", "scope", "row")[0]); got != tt.first {
			t.Errorf("%q: got %q first, want %q", tt.query, got, tt.first)
		}
	}
	c.get("/sheets?q=nothing").says("No sheet has these words.")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(c.get("/sheets.csv?sort=number").want(http.StatusOK).body, "\uFEFF"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 4 || rows[1][0] != "1" || rows[1][3] != "round pot" || rows[3][5] != "'=1+1" {
		t.Errorf("got file %q", rows)
	}
}
