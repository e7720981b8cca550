package server

import (
	"context"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"

	"blackbath/bath"
	"blackbath/server/store"
	"blackbath/server/web"
)

// A client is a browser without script: it keeps cookies, and follows nothing by itself.
type client struct {
	t       *testing.T
	server  *Server
	store   *store.Store
	cookies map[string]string
}

// newClient starts a service on an empty database.
func newClient(t *testing.T) *client { return newClientWith(t, web.Locales()) }

func newClientWith(t *testing.T, locales fs.FS) *client {
	t.Helper()
	s := newServer(t, locales)
	return &client{t: t, server: s, store: s.store, cookies: map[string]string{}}
}

func newServer(t testing.TB, locales fs.FS) *Server {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(emptyDatabase(t))); err != nil {
		t.Fatal(err)
	}
	st, err := store.Open(context.Background(), store.Config{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	})
	s, err := build(Config{Store: st, Version: "test", Logger: slog.New(slog.NewTextHandler(t.Output(), nil))}, locales)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// newShop starts a service whose workshop is set up.
func newShop(t *testing.T) *client {
	t.Helper()
	c := newClient(t)
	c.setUp(someShop)
	return c
}

var someShop = bath.Workshop{Name: "Lantern Quay", Currency: "EUR", TimeZone: "UTC", Language: "en", BalanceStep: 5}

// emptyDatabase is the folder of a database that is made once: bringing up the schema is most of the time of a small test.
func emptyDatabase(t testing.TB) string {
	t.Helper()
	masterOnce.Do(func() {
		if masterDir, masterErr = os.MkdirTemp("", "blackbath-test-"); masterErr != nil {
			return
		}
		var st *store.Store
		if st, masterErr = store.Open(context.Background(), store.Config{Dir: masterDir}); masterErr == nil {
			masterErr = st.Close()
		}
	})
	if masterErr != nil {
		t.Fatal(masterErr)
	}
	return masterDir
}

var (
	masterOnce sync.Once
	masterDir  string
	masterErr  error
)

func (c *client) setUp(w bath.Workshop) {
	c.t.Helper()
	setUp(c.t, c.store, w)
}

func setUp(t testing.TB, st *store.Store, w bath.Workshop) {
	t.Helper()
	if _, err := st.SaveWorkshop(t.Context(), "0198c0de-0000-7000-8000-000000000001", w); err != nil {
		t.Fatal(err)
	}
}

// An answer is what came back.
type answer struct {
	t      *testing.T
	status int
	header http.Header
	body   string
	doc    *html.Node
}

func (c *client) do(r *http.Request) answer {
	c.t.Helper()
	for name, value := range c.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w := httptest.NewRecorder()
	c.server.Handler().ServeHTTP(w, r)
	res := w.Result()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		c.t.Fatal(err)
	}
	for _, k := range res.Cookies() {
		if k.MaxAge < 0 {
			delete(c.cookies, k.Name)
		} else {
			c.cookies[k.Name] = k.Value
		}
	}
	a := answer{t: c.t, status: res.StatusCode, header: res.Header, body: string(body)}
	if strings.HasPrefix(res.Header.Get("Content-Type"), "text/html") {
		if a.doc, err = html.Parse(strings.NewReader(a.body)); err != nil {
			c.t.Fatal(err)
		}
	}
	return a
}

func (c *client) get(path string) answer {
	c.t.Helper()
	return c.do(httptest.NewRequest(http.MethodGet, path, nil))
}

// post sends a form as a browser on the page itself does.
func (c *client) post(path string, sent url.Values) answer {
	c.t.Helper()
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(sent.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return c.do(r)
}

// want fails the test unless the answer has that status.
func (a answer) want(status int) answer {
	a.t.Helper()
	if a.status != status {
		a.t.Fatalf("got status %d, want %d; page says:\n%s", a.status, status, a.text())
	}
	return a
}

// text is what a person reads, spaces single and plain.
func (a answer) text() string {
	if a.doc == nil {
		return a.body
	}
	return textOf(a.doc)
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.Data != "title" {
			b.WriteString(d.Data)
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(b.String(), "\u00a0", " ")), " ")
}

// says fails the test unless the page holds each text.
func (a answer) says(texts ...string) answer {
	a.t.Helper()
	whole := a.text()
	for _, text := range texts {
		if !strings.Contains(whole, text) {
			a.t.Errorf("the page does not say %q; it says:\n%s", text, whole)
		}
	}
	return a
}

// saysNot fails the test if the page holds one of the texts.
func (a answer) saysNot(texts ...string) answer {
	a.t.Helper()
	for _, text := range texts {
		if strings.Contains(a.text(), text) {
			a.t.Errorf("the page says %q", text)
		}
	}
	return a
}

// all returns the elements of a kind ("*" for any) whose attribute has (among others) that word; attribute "" takes all of the kind.
func (a answer) all(element, attribute, word string) []*html.Node {
	a.t.Helper()
	if a.doc == nil {
		a.t.Fatalf("no page but %q", a.body)
	}
	var found []*html.Node
	for n := range a.doc.Descendants() {
		if n.Type != html.ElementNode || (n.Data != element && element != "*") {
			continue
		}
		value, has := attr(n, attribute)
		if attribute == "" || (has && (value == word || strings.Contains(" "+value+" ", " "+word+" "))) {
			found = append(found, n)
		}
	}
	return found
}

// one is all, where there must be exactly one.
func (a answer) one(element, attribute, word string) *html.Node {
	a.t.Helper()
	found := a.all(element, attribute, word)
	if len(found) != 1 {
		a.t.Fatalf("got %d of <%s %s=%q>, want 1", len(found), element, attribute, word)
	}
	return found[0]
}

func attr(n *html.Node, name string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val, true
		}
	}
	return "", false
}

// filled reads a form of the page as a browser would send it back unchanged.
func (a answer) filled(id string) url.Values {
	a.t.Helper()
	sent := url.Values{}
	for n := range a.one("form", "id", id).Descendants() {
		name, _ := attr(n, "name")
		value, _ := attr(n, "value")
		if n.Type != html.ElementNode || name == "" {
			continue
		}
		switch n.Data {
		case "input":
			kind, _ := attr(n, "type")
			if _, on := attr(n, "checked"); on || (kind != "checkbox" && kind != "radio") {
				sent.Add(name, value)
			}
		case "textarea":
			sent.Add(name, textOf(n))
		case "select":
			sent.Add(name, chosen(n))
		}
	}
	return sent
}

func chosen(sel *html.Node) string {
	first, seen := "", false
	for o := range sel.Descendants() {
		if o.Type != html.ElementNode || o.Data != "option" {
			continue
		}
		value, _ := attr(o, "value")
		if _, on := attr(o, "selected"); on {
			return value
		}
		if !seen {
			first, seen = value, true
		}
	}
	return first
}
