// Package words turns the program's English sentences into the reader's language. The English sentence is the key.
package words

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"blackbath/bath/input"
)

// English is the language of the program itself.
const English = "en"

// ownName is the key under which a catalogue gives its language's own name.
const ownName = "English"

// A Book holds all languages that the program speaks.
type Book struct {
	languages []Language
	words     map[string]*Words
}

// A Language is one that a person can choose.
type Language struct {
	Tag  string // BCP 47
	Name string // in the language itself
}

// Words are the sentences of one language.
type Words struct {
	tag       string
	sentences map[string]string
}

// Load reads the catalogues <tag>.json of a folder. English needs none.
func Load(dir fs.FS) (*Book, error) {
	b := &Book{
		languages: []Language{{English, ownName}},
		words:     map[string]*Words{English: {tag: English}},
	}
	names, err := fs.Glob(dir, "*.json")
	if err != nil {
		return nil, fmt.Errorf("list catalogues: %w", err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(dir, name)
		if err != nil {
			return nil, fmt.Errorf("read catalogue: %w", err)
		}
		w := &Words{tag: strings.TrimSuffix(name, ".json")}
		if err := json.Unmarshal(data, &w.sentences); err != nil {
			return nil, fmt.Errorf("read catalogue %s: %w", name, err)
		}
		b.words[w.tag] = w
		b.languages = append(b.languages, Language{w.tag, w.T(ownName)})
	}
	slices.SortFunc(b.languages[1:], func(x, y Language) int { return strings.Compare(x.Name, y.Name) })
	return b, nil
}

// Languages lists the languages, English first.
func (b *Book) Languages() []Language { return b.languages }

// In returns the words of a language, English where there is no catalogue.
func (b *Book) In(tag string) *Words {
	if w, ok := b.words[tag]; ok {
		return w
	}
	return b.words[English]
}

// Match returns the first language that a browser's Accept-Language header asks for and that the book has, else English.
func (b *Book) Match(accept string) *Words {
	for part := range strings.SplitSeq(accept, ",") {
		tag, _, _ := strings.Cut(strings.TrimSpace(part), ";")
		for _, l := range b.languages {
			short, _, _ := strings.Cut(tag, "-")
			if strings.EqualFold(l.Tag, tag) || strings.EqualFold(l.Tag, short) {
				return b.words[l.Tag]
			}
		}
	}
	return b.words[English]
}

// Tag returns the language's BCP 47 tag.
func (w *Words) Tag() string { return w.tag }

// T returns the sentence with its figures set in, as fmt.Sprintf does. Figures that are an [input.Text] are translated
// first. Without figures the sentence is returned as it is, so "100 %" needs no doubling.
func (w *Words) T(format string, args ...any) string {
	if s, ok := w.sentences[format]; ok {
		format = s
	}
	if len(args) == 0 {
		return format
	}
	for i, a := range args {
		if t, ok := a.(input.Text); ok {
			args = slices.Clone(args)
			args[i] = w.Text(t)
		}
	}
	return fmt.Sprintf(format, args...)
}

// Text returns a kept sentence.
func (w *Words) Text(t input.Text) string { return w.T(t.Format, t.Args...) }

// As makes a Text of something that has no translation: a name that somebody typed.
func As(name string) input.Text { return input.Text{Format: "%s", Args: []any{name}} }
