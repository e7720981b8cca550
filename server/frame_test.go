package server

import (
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath/input"
	"blackbath/server/store"
	"blackbath/server/view"
	"blackbath/server/web"
)

func TestHeaders(t *testing.T) {
	c := newShop(t)
	for _, path := range []string{"/settings", "/nothing", "/static/none", "/salts.csv"} {
		h := c.get(path).header
		for name, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
			"X-Content-Type-Options":  "nosniff",
			"Referrer-Policy":         "same-origin",
		} {
			if got := h.Get(name); got != want {
				t.Errorf("%s: got %s %q, want %q", path, name, got, want)
			}
		}
	}
}

func TestErrorPages(t *testing.T) {
	c := newShop(t)
	c.get("/nothing").want(http.StatusNotFound).says("There is nothing here")
	a := c.do(httptest.NewRequest(http.MethodDelete, "/settings", nil)).want(http.StatusMethodNotAllowed).says("That can't be done here")
	if got := a.header.Get("Allow"); !strings.Contains(got, "GET") || !strings.Contains(got, "POST") {
		t.Errorf("got Allow %q, want GET and POST in it", got)
	}
	huge := url.Values{"name": {strings.Repeat("x", 2<<20)}}
	c.post("/settings", huge).want(http.StatusRequestEntityTooLarge).says("At most 1048576 bytes")
	r := httptest.NewRequest(http.MethodPost, "/settings", strings.NewReader("a=%zz"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	c.do(r).want(http.StatusBadRequest).says("That could not be read")
}

func TestEveryErrorHasOneStatus(t *testing.T) {
	c := newShop(t)
	var problem input.Problems
	problem.Add("depth_cm", "-1", input.Say("a length above 0 cm"))
	var next error
	c.server.handler = withRoute(t, c.server, func(*visit) error { return next })
	for _, tt := range []struct {
		err    error
		status int
		says   string
	}{
		{store.ErrNotFound, http.StatusNotFound, "There is nothing here"},
		{store.ErrConflict, http.StatusConflict, "Somebody else changed this"},
		{store.ErrDuplicate, http.StatusConflict, "There is one like this already"},
		{store.ErrVersionUsed, http.StatusConflict, "Make a new version"},
		{store.ErrBusy, http.StatusServiceUnavailable, "Busy just now"},
		{context.DeadlineExceeded, http.StatusServiceUnavailable, "Busy just now"},
		{problem, http.StatusUnprocessableEntity, "depth_cm: write a length above 0 cm."},
		{net.ErrClosed, http.StatusInternalServerError, "Something went wrong in here"},
	} {
		next = badlyWrapped{tt.err}
		a := c.get("/").want(tt.status).says(tt.says)
		if got := a.header.Get("Retry-After"); (got == "2") != (tt.status == http.StatusServiceUnavailable) {
			t.Errorf("%v: got Retry-After %q", tt.err, got)
		}
		a.saysNot(net.ErrClosed.Error()) // the inside of a fault is for the log
	}
}

// badlyWrapped stands for the layers that an error comes through.
type badlyWrapped struct{ error }

func (b badlyWrapped) Unwrap() error { return b.error }

func TestPanicIsAFault(t *testing.T) {
	c := newShop(t)
	c.server.handler = withRoute(t, c.server, func(*visit) error { panic("slip") })
	c.get("/").want(http.StatusInternalServerError).says("It is not your doing").saysNot("slip")
}

// withRoute is the service with one handler for everything.
func withRoute(t *testing.T, s *Server, do func(*visit) error) http.Handler {
	t.Helper()
	e, err := s.engine()
	if err != nil {
		t.Fatal(err)
	}
	e.GET("/test", s.adapt(anyone, do))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.URL.Path = "/test"
		e.ServeHTTP(w, r)
	})
}

func TestOtherSitesCannotPost(t *testing.T) {
	c := newShop(t)
	for _, tt := range []struct {
		header, value string
		status        int
	}{
		{"Sec-Fetch-Site", "cross-site", http.StatusForbidden},
		{"Sec-Fetch-Site", "same-site", http.StatusForbidden},
		{"Origin", "https://elsewhere.example", http.StatusForbidden},
		{"Sec-Fetch-Site", "same-origin", http.StatusSeeOther},
		{"X-Program", "curl", http.StatusSeeOther},
	} {
		r := httptest.NewRequest(http.MethodPost, "/light", strings.NewReader("light=night"))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set(tt.header, tt.value)
		c.do(r).want(tt.status)
	}
}

func TestStaticFiles(t *testing.T) {
	c := newClient(t)
	sheet, _ := attr(c.get("/start").one("link", "rel", "stylesheet"), "href")
	a := c.get(sheet).want(http.StatusOK)
	if got := a.header.Get("Cache-Control"); got != "public, max-age=31536000, immutable" {
		t.Errorf("got Cache-Control %q", got)
	}
	// What the style sheet asks for by relative address is there.
	found := 0
	for part := range strings.SplitSeq(a.body, "url(../") {
		name, _, ok := strings.Cut(part, ")")
		if found++; found == 1 || !ok {
			continue
		}
		c.get(strings.TrimSuffix(sheet, "css/look.css") + name).want(http.StatusOK)
	}
	if found < 6 {
		t.Errorf("got %d files in the style sheet, want 4 fonts and a picture", found-1)
	}
	r := httptest.NewRequest(http.MethodGet, sheet, nil)
	r.Header.Set("Accept-Encoding", "br, gzip;q=0.8")
	packed := c.do(r).want(http.StatusOK)
	if got := packed.header.Get("Content-Encoding"); got != "gzip" || len(packed.body) >= len(a.body) {
		t.Errorf("got encoding %q with %d bytes, want gzip with fewer than %d", got, len(packed.body), len(a.body))
	}
	c.get(strings.Replace(sheet, "/static/", "/static/0", 1)).want(http.StatusNotFound)
}

func TestServeStopsGracefully(t *testing.T) {
	c := newShop(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- c.server.Serve(ctx, l) }()
	res, err := http.Get("http://" + l.Addr().String() + "/salts")
	if err != nil {
		t.Fatal(err)
	}
	_ = res.Body.Close()
	if res.StatusCode != http.StatusOK {
		t.Errorf("got status %d", res.StatusCode)
	}
	stop()
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("stopped with %v", err)
		}
	case <-time.After(5 * time.Second):
		t.Fatal("did not stop")
	}
}

func TestMenuHoldsOnlyWhatExists(t *testing.T) {
	c := newShop(t)
	page := c.get("/settings")
	links := 0
	for n := range page.one("nav", "id", "places").Descendants() {
		href, is := attr(n, "href")
		if !is || strings.HasPrefix(href, "#") {
			continue
		}
		links++
		c.get(href).want(http.StatusOK)
	}
	if links < 2 {
		t.Errorf("got %d places, want the salts and the settings at least", links)
	}
	if here := page.one("a", "aria-current", "page"); textOf(here) != "Settings" {
		t.Errorf("got %q marked as the place, want Settings", textOf(here))
	}
}

func BenchmarkSettingsPage(b *testing.B) {
	s := newServer(b, web.Locales())
	setUp(b, s.store, someShop)
	r := httptest.NewRequest(http.MethodGet, "/settings", nil)
	b.ReportAllocs()
	for b.Loop() {
		w := httptest.NewRecorder()
		s.Handler().ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}

// Rows without drawings are drawn by Go, rows with one by the template: both must be the same.
func TestRowsLookTheSameEitherWay(t *testing.T) {
	s := newServer(t, web.Locales())
	for _, c := range []view.Cell{
		{Value: "a & b"}, {Value: view.Formula("NH4Cl"), Href: "/x?a=1&b=2"}, {Value: "x", State: "out", Small: "it's"},
		{Value: view.Quantity{Number: "2", Unit: "kg"}},
	} {
		columns := []view.Column{{Label: "A"}, {Label: "B & C", Figure: true}, {Label: "D", Whole: true}}
		var fast, slow strings.Builder
		for _, tt := range []struct {
			to      *strings.Builder
			drawing *view.TankDrawing
		}{{&fast, nil}, {&slow, new(view.TankDrawing)}} {
			first := c
			first.Drawing = tt.drawing
			table := view.Table{Columns: columns, Rows: []view.Row{{Cells: []view.Cell{first, c, c}}}}
			if err := s.pages.sets["en"]["salt_list"].ExecuteTemplate(tt.to, "table", table); err != nil {
				t.Fatal(err)
			}
		}
		if d := cmp.Diff(fast.String(), slow.String()); d != "" {
			t.Error("by Go (-) and by template (+):", d)
		}
	}
}
