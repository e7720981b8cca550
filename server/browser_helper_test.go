package server

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/audits"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

const (
	phone = 390 // widths in CSS pixels
	desk  = 1280

	windowHeight = 844

	shotsVariable = "BLACKBATH_TEST_SHOTS" // folder for pictures; empty: none are taken
	allVariable   = "BLACKBATH_TEST_ALL"   // "1": a missing browser is a failure
)

// A tab is one browser tab on a service. It fails its test on any request to another host, on anything that the
// Content-Security-Policy refused, and on any error in a script.
type tab struct {
	t     *testing.T
	ctx   context.Context
	base  string
	name  string // of its pictures
	width int

	mu     sync.Mutex
	faults []string
}

var (
	chromiumOnce sync.Once
	chromiumCtx  context.Context // one browser for all tests
	chromiumErr  error
	closeBrowser = func() {}
)

func TestMain(m *testing.M) {
	code := m.Run()
	closeBrowser()
	if masterDir != "" {
		_ = os.RemoveAll(masterDir)
	}
	os.Exit(code)
}

func startChromium(path string) {
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stop := chromedp.NewContext(alloc)
	closeBrowser = func() { stop(); stopAlloc() }
	chromiumCtx, chromiumErr = ctx, chromedp.Do(ctx)
}

// open starts a tab of that width on the client's service. The tab has its own cookies.
func (c *client) open(width int, script bool) *tab {
	c.t.Helper()
	path, err := findChromium()
	if err != nil {
		if os.Getenv(allVariable) == "1" {
			c.t.Fatal(err)
		}
		c.t.Skip("not tested in a browser:", err)
	}
	chromiumOnce.Do(func() { startChromium(path) })
	if chromiumErr != nil {
		c.t.Fatal(chromiumErr)
	}
	site := httptest.NewServer(c.server.Handler())
	c.t.Cleanup(site.Close)
	return openTab(c.t, site.URL, width, script)
}

func findChromium() (string, error) {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("no Chromium on this computer")
}

func openTab(t *testing.T, base string, width int, script bool) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(chromiumCtx, chromedp.WithNewBrowserContext())
	b := &tab{t: t, base: base, width: width, name: strings.NewReplacer("/", "-", " ", "-").Replace(t.Name())}
	t.Cleanup(stop)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	var cancel context.CancelFunc
	b.ctx, cancel = context.WithTimeout(ctx, time.Minute)
	t.Cleanup(cancel)
	t.Cleanup(b.check)
	if err := chromedp.Listen(b.ctx, b.hear); err != nil {
		t.Fatal(err)
	}
	_, err := chromedp.Call(b.ctx, network.Enable, network.EnableParams{})
	if err == nil {
		_, err = chromedp.Call(b.ctx, audits.Enable, cdp.Empty{})
	}
	if err == nil {
		_, err = chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !script})
	}
	if err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.EmulateViewport(int64(width), windowHeight))
	return b
}

// hear notes what must not happen. It runs between messages of the browser and must be quick.
func (b *tab) hear(event any) {
	fault := ""
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		if u, err := url.Parse(e.Request.URL); err != nil || (u.Scheme != "data" && u.Scheme+"://"+u.Host != b.base) {
			fault = "request to another host: " + e.Request.URL
		}
	case *audits.EventIssueAdded:
		if d := e.Issue.Details; d != nil && d.ContentSecurityPolicyIssueDetails != nil {
			p := d.ContentSecurityPolicyIssueDetails
			fault = fmt.Sprintf("refused by the policy: %s %s (%s)", p.ViolatedDirective, p.BlockedURL, p.ContentSecurityPolicyViolationType)
		}
	case *runtime.EventExceptionThrown:
		fault = "error in a script: " + e.ExceptionDetails.Text
	}
	if fault != "" {
		b.mu.Lock()
		b.faults = append(b.faults, fault)
		b.mu.Unlock()
	}
}

// heard takes what was noted so far.
func (b *tab) heard() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	faults := b.faults
	b.faults = nil
	return faults
}

func (b *tab) check() {
	for _, fault := range b.heard() {
		b.t.Error(fault)
	}
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// visit opens a path and waits for the page.
func (b *tab) visit(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.base + path))
}

// press clicks what a CSS selector finds, as a finger does, and waits for the page that this leads to.
func (b *tab) press(selector string) {
	b.t.Helper()
	if _, err := chromedp.RunResponse(b.ctx, chromedp.Click(chromedp.CSS(selector))); err != nil {
		b.t.Fatalf("press %s: %v", selector, err)
	}
}

// write replaces what stands in a field.
func (b *tab) write(selector, text string) {
	b.t.Helper()
	b.do(chromedp.Clear(chromedp.CSS(selector)), chromedp.SendKeys(chromedp.CSS(selector), text))
}

// read returns the words of an element, spaces single and plain.
func (b *tab) read(selector string) string {
	b.t.Helper()
	s, err := chromedp.Run(b.ctx, chromedp.TextContent(chromedp.CSS(selector)))
	if err != nil {
		b.t.Fatalf("read %s: %v", selector, err)
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), " ")
}

// count says how many elements a selector finds.
func (b *tab) count(selector string) int {
	b.t.Helper()
	nodes, err := chromedp.Run(b.ctx, chromedp.Nodes(chromedp.CSSAll(selector), chromedp.AtLeast(0)))
	if err != nil {
		b.t.Fatalf("count %s: %v", selector, err)
	}
	return len(nodes)
}

// path is where the tab is.
func (b *tab) path() string {
	b.t.Helper()
	s, err := chromedp.Run(b.ctx, chromedp.Location())
	if err != nil {
		b.t.Fatal(err)
	}
	return strings.TrimPrefix(s, b.base)
}

// fits fails the test when the page is wider than its window: nobody scrolls sideways on a phone.
func (b *tab) fits() {
	b.t.Helper()
	over, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64]("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
	if err != nil {
		b.t.Fatal(err)
	}
	if over > 0 {
		b.t.Errorf("%s is %v px wider than its window", b.path(), over)
	}
}

// shot takes a picture of the whole page if pictures are wanted.
func (b *tab) shot(name string) {
	b.t.Helper()
	if os.Getenv(shotsVariable) == "" {
		return
	}
	// The window is made as high as the page, or the ledge would hide the middle of it.
	high, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64]("document.documentElement.scrollHeight"))
	if err != nil {
		b.t.Fatal(err)
	}
	b.do(chromedp.EmulateViewport(int64(b.width), int64(high)))
	png, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	b.keep(name+".png", png, err)
	b.do(chromedp.EmulateViewport(int64(b.width), windowHeight))
}

// print prints the page to A4 and returns the file.
func (b *tab) print(name string) []byte {
	b.t.Helper()
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if os.Getenv(shotsVariable) != "" || err != nil {
		b.keep(name+".pdf", pdf, err)
	}
	return pdf
}

func (b *tab) keep(file string, data []byte, err error) {
	b.t.Helper()
	if err == nil {
		err = os.WriteFile(filepath.Join(os.Getenv(shotsVariable), b.name+"-"+file), data, 0o644)
	}
	if err != nil {
		b.t.Fatal(err)
	}
}

// sizes runs a walk at phone and desk width, with script and without.
func sizes(t *testing.T, walk func(t *testing.T, open func(*client) *tab)) {
	for _, tt := range []struct {
		name   string
		width  int
		script bool
	}{
		{"phone", phone, true}, {"phone without script", phone, false}, {"desk", desk, true}, {"desk without script", desk, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			walk(t, func(c *client) *tab { return c.open(tt.width, tt.script) })
		})
	}
}

// The watch itself is watched: a page that breaks every rule must be noticed, with script and without.
func TestBrowserNotices(t *testing.T) {
	bad := httptest.NewServer(withHeaders(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		fmt.Fprint(w, `<!doctype html><title>bad</title><p style="color:red">x</p><script>throw 1</script><img src="http://127.0.0.2:9/x.png">`)
	})))
	t.Cleanup(bad.Close)
	newClient(t).open(phone, true) // starts the browser, or skips
	for _, script := range []bool{true, false} {
		b := openTab(t, bad.URL, phone, script)
		b.visit("/")
		b.do(chromedp.Sleep(300 * time.Millisecond))
		faults := b.heard()
		if !slices.ContainsFunc(faults, func(s string) bool { return strings.Contains(s, "style-src") }) {
			t.Errorf("script %v: an inline style was not noticed; noticed: %q", script, faults)
		}
		if !slices.ContainsFunc(faults, func(s string) bool {
			return strings.Contains(s, "another host") || strings.Contains(s, "img-src")
		}) {
			t.Errorf("script %v: a picture from elsewhere was not noticed; noticed: %q", script, faults)
		}
	}
}
