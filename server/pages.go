package server

import (
	"bytes"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"path"
	"strings"
	"sync"

	"blackbath/bath/input"
	"blackbath/server/view"
	"blackbath/server/web"
	"blackbath/server/words"
)

// pages are the parsed templates: by language, then by name.
type pages struct {
	sets map[string]map[string]*template.Template
}

// parsePages parses every page once per language, each with the layout and the parts. What is broken in a template is found
// here, not when somebody opens the page.
func parsePages(dir fs.FS, assets *web.Assets, book *words.Book) (*pages, error) {
	icons, err := readIcons(web.Icons())
	if err != nil {
		return nil, fmt.Errorf("read icons: %w", err)
	}
	files, err := fs.Glob(dir, "pages/*.tmpl")
	if err != nil {
		return nil, fmt.Errorf("list templates: %w", err)
	}
	p := &pages{sets: map[string]map[string]*template.Template{}}
	for _, l := range book.Languages() {
		w := book.In(l.Tag)
		frame, err := template.New("").Funcs(functions(assets, icons, w)).ParseFS(dir, "layout/*.tmpl", "parts/*.tmpl")
		if err != nil {
			return nil, fmt.Errorf("parse templates: %w", err)
		}
		p.sets[l.Tag] = make(map[string]*template.Template, len(files))
		for _, file := range files {
			t, err := parsePage(frame, dir, file, fold{w, icons})
			if err != nil {
				return nil, fmt.Errorf("parse %s: %w", file, err)
			}
			p.sets[l.Tag][strings.TrimSuffix(path.Base(file), ".tmpl")] = t
		}
	}
	return p, nil
}

func parsePage(frame *template.Template, dir fs.FS, file string, f fold) (*template.Template, error) {
	t, err := frame.Clone()
	if err != nil {
		return nil, err
	}
	if t, err = t.ParseFS(dir, file); err != nil {
		return nil, err
	}
	for _, part := range t.Templates() {
		if part.Tree != nil {
			f.list(part.Tree.Root)
		}
	}
	// The first run escapes the template, and only that can fail in this way; without data the run itself ends early.
	var broken *template.Error
	if err := t.ExecuteTemplate(io.Discard, "layout", nil); errors.As(err, &broken) {
		return nil, err
	}
	return t, nil
}

// readIcons reads the drawings, by name.
func readIcons(dir fs.FS) (map[string]template.HTML, error) {
	files, err := fs.Glob(dir, "*.svg")
	if err != nil {
		return nil, err
	}
	icons := make(map[string]template.HTML, len(files))
	for _, file := range files {
		body, err := fs.ReadFile(dir, file)
		if err != nil {
			return nil, err
		}
		icons[strings.TrimSuffix(file, ".svg")] = template.HTML(strings.TrimSpace(string(body)))
	}
	return icons, nil
}

// functions are what templates may call besides the methods of their data.
func functions(assets *web.Assets, icons map[string]template.HTML, w *words.Words) template.FuncMap {
	parts := view.Parts{Words: w, Icons: icons}
	return template.FuncMap{
		"field": parts.Field,
		"lines": parts.Lines,
		"row":   parts.Row,
		"T": func(sentence any, args ...any) (string, error) {
			switch s := sentence.(type) {
			case string:
				return w.T(s, args...), nil
			case input.Text:
				return w.Text(s), nil
			}
			return "", fmt.Errorf("T of a %T", sentence)
		},
		"asset":   assets.Path,
		"formula": view.Formula,
		"icon": func(name string) (template.HTML, error) {
			drawing, ok := icons[name]
			if !ok {
				return "", fmt.Errorf("no icon %q", name)
			}
			return drawing, nil
		},
	}
}

// render writes a page. What it wrote before an error is of no use.
func (p *pages) render(w io.Writer, language, name string, data any) error {
	t, ok := p.sets[language][name]
	if !ok {
		return fmt.Errorf("render: no page %q in %q", name, language)
	}
	if err := t.ExecuteTemplate(w, "layout", data); err != nil {
		return fmt.Errorf("render %s: %w", name, err)
	}
	return nil
}

// A bufferPool lends out buffers. One that grew large is not kept: a single long list must not hold memory for ever.
type bufferPool struct{ pool sync.Pool }

var buffers = bufferPool{sync.Pool{New: func() any { return new(bytes.Buffer) }}}

const largestKept = 512 << 10

func (p *bufferPool) get() *bytes.Buffer { return p.pool.Get().(*bytes.Buffer) }

func (p *bufferPool) put(b *bytes.Buffer) {
	if b.Cap() <= largestKept {
		b.Reset()
		p.pool.Put(b)
	}
}
