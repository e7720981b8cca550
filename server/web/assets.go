package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strconv"
	"strings"
)

// Assets are the static files under one path that changes when any of them does, so that a browser may keep them for ever
// and the style sheet finds its fonts by relative address.
type Assets struct {
	prefix string // "/static/<hash>/"
	files  map[string]asset
}

type asset struct {
	contentType string
	plain       []byte
	gzipped     []byte // nil where it saves nothing
}

// LoadAssets reads the static files of the program.
func LoadAssets() (*Assets, error) {
	a := &Assets{files: map[string]asset{}}
	hash := sha256.New()
	root := sub("static")
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		fmt.Fprintf(hash, "%s %d\n", name, len(body))
		hash.Write(body)
		a.files[name], err = newAsset(name, body)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("load static files: %w", err)
	}
	a.prefix = "/static/" + hex.EncodeToString(hash.Sum(nil))[:16] + "/"
	return a, nil
}

// types are the kinds of file that are served; the type never depends on the machine's own list.
var types = map[string]string{
	".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml",
	".txt": "text/plain; charset=utf-8", ".woff2": "font/woff2",
}

func newAsset(name string, body []byte) (asset, error) {
	t, known := types[path.Ext(name)]
	if !known {
		t = mime.TypeByExtension(path.Ext(name))
	}
	if t == "" {
		t = "application/octet-stream"
	}
	a := asset{contentType: t, plain: body}
	if path.Ext(name) == ".woff2" { // packed already
		return a, nil
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return asset{}, err
	}
	if _, err := z.Write(body); err != nil {
		return asset{}, err
	}
	if err := z.Close(); err != nil {
		return asset{}, err
	}
	if b.Len() < len(body) {
		a.gzipped = b.Bytes()
	}
	return a, nil
}

// Path returns the address of one file, such as "css/look.css". An unknown name is an error, so that a template with a slip
// in it fails when it is first run.
func (a *Assets) Path(name string) (string, error) {
	if _, ok := a.files[name]; !ok {
		return "", fmt.Errorf("no static file %q", name)
	}
	return a.prefix + name, nil
}

// ServeHTTP serves the files. An address of an older program is not found.
func (a *Assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name, current := strings.CutPrefix(r.URL.Path, a.prefix)
	f, ok := a.files[name]
	if !current || !ok {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", f.contentType)
	h.Set("Cache-Control", "public, max-age=31536000, immutable")
	body := f.plain
	if f.gzipped != nil {
		h.Set("Vary", "Accept-Encoding")
		if acceptsGzip(r) {
			h.Set("Content-Encoding", "gzip")
			body = f.gzipped
		}
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	if r.Method != http.MethodHead {
		_, _ = w.Write(body) // a reader who went away is nobody's fault
	}
}

func acceptsGzip(r *http.Request) bool {
	for part := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		name, params, _ := strings.Cut(strings.TrimSpace(part), ";")
		if name == "gzip" {
			return strings.ReplaceAll(params, " ", "") != "q=0"
		}
	}
	return false
}
