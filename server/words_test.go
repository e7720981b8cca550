package server

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"text/template/parse"

	"golang.org/x/net/html"

	"blackbath/bath"
	"blackbath/bath/caution"
	"blackbath/bath/salt"
	"blackbath/server/web"
	"blackbath/server/words"
)

// Where sentences come from besides templates: calls of T, Say and seeOther with a literal, and the texts of the tables.
var sentenceFolders = []string{".", "form", "view", "words", "../bath", "../bath/input", "../bath/unit"}

// sentences collects every English sentence of the program.
func sentences(t *testing.T) map[string]bool {
	t.Helper()
	all := map[string]bool{"English": true}
	for _, folder := range sentenceFolders {
		files, err := filepath.Glob(filepath.Join(folder, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if !strings.HasSuffix(file, "_test.go") {
				sentencesOf(t, file, all)
			}
		}
	}
	for _, tree := range templateTrees(t) {
		walkTemplate(tree.Root, func(n parse.Node) {
			if c, ok := n.(*parse.CommandNode); ok && len(c.Args) > 1 {
				id, isID := c.Args[0].(*parse.IdentifierNode)
				s, isText := c.Args[1].(*parse.StringNode)
				if isID && isText && id.Ident == "T" {
					all[s.Text] = true
				}
			}
		})
	}
	for _, s := range salt.All() {
		all[s.Name], all[s.TradeName] = true, true
	}
	for _, s := range caution.Texts() {
		all[s] = true
	}
	for _, h := range caution.Hazards() {
		all[h.Basis], all[h.Signal.Label()] = true, true
		for _, code := range h.Codes {
			all[caution.HazardStatement(code)] = true
		}
	}
	delete(all, "")
	return all
}

func sentencesOf(t *testing.T, file string, all map[string]bool) {
	t.Helper()
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		name := ""
		switch f := call.Fun.(type) {
		case *ast.Ident:
			name = f.Name
		case *ast.SelectorExpr:
			name = f.Sel.Name
		}
		place, known := map[string]int{"T": 0, "Say": 0, "seeOther": 1}[name]
		if !known || len(call.Args) <= place {
			return true
		}
		if s, ok := literal(call.Args[place]); ok {
			all[s] = true
		}
		return true
	})
}

// literal is the text of "a" or "a" + "b".
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		s, err := strconv.Unquote(e.Value)
		return s, e.Kind == token.STRING && err == nil
	case *ast.BinaryExpr:
		left, okLeft := literal(e.X)
		right, okRight := literal(e.Y)
		return left + right, okLeft && okRight
	}
	return "", false
}

// templateTrees parses all templates.
func templateTrees(t *testing.T) map[string]*parse.Tree {
	t.Helper()
	trees := map[string]*parse.Tree{}
	known := map[string]any{"eq": 0, "ne": 0, "not": 0, "and": 0, "or": 0, "index": 0, "len": 0, "printf": 0, "lt": 0, "gt": 0, "le": 0, "ge": 0, "slice": 0}
	for name := range functions(nil, nil, nil) {
		known[name] = 0
	}
	err := fs.WalkDir(web.Templates(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(web.Templates(), name)
		if err != nil {
			return err
		}
		sets, err := parse.Parse(name, string(text), "", "", known)
		for part, tree := range sets {
			trees[name+" "+part] = tree
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(trees) < 20 {
		t.Fatalf("got %d templates: the search looked in the wrong place", len(trees))
	}
	return trees
}

func walkTemplate(n parse.Node, visit func(parse.Node)) {
	if n == nil {
		return
	}
	visit(n)
	branch := func(b *parse.BranchNode) {
		walkTemplate(b.Pipe, visit)
		walkTemplate(b.List, visit)
		if b.ElseList != nil {
			walkTemplate(b.ElseList, visit)
		}
	}
	switch n := n.(type) {
	case *parse.ListNode:
		for _, c := range n.Nodes {
			walkTemplate(c, visit)
		}
	case *parse.ActionNode:
		walkTemplate(n.Pipe, visit)
	case *parse.PipeNode:
		for _, c := range n.Cmds {
			walkTemplate(c, visit)
		}
	case *parse.CommandNode:
		for _, a := range n.Args {
			walkTemplate(a, visit)
		}
	case *parse.IfNode:
		branch(&n.BranchNode)
	case *parse.RangeNode:
		branch(&n.BranchNode)
	case *parse.WithNode:
		branch(&n.BranchNode)
	case *parse.TemplateNode:
		if n.Pipe != nil {
			walkTemplate(n.Pipe, visit)
		}
	}
}

// untranslatable finds words of a template that no translation reaches: text between tags, and the attributes that are read out.
func untranslatable(tree *parse.Tree) []string {
	var b strings.Builder
	walkTemplate(tree.Root, func(n parse.Node) {
		if text, ok := n.(*parse.TextNode); ok {
			b.Write(text.Text)
		}
		if _, ok := n.(*parse.ActionNode); ok {
			b.WriteString("\u2022") // something stands here
		}
	})
	var bare []string
	z := html.NewTokenizer(strings.NewReader(b.String()))
	for {
		switch z.Next() {
		case html.ErrorToken:
			return bare
		case html.TextToken:
			text := attributes.ReplaceAllString(string(z.Text()), "") // a part that stands inside a tag
			if s := strings.TrimSpace(text); letters.MatchString(s) {
				bare = append(bare, s)
			}
		case html.StartTagToken, html.SelfClosingTagToken:
			for _, a := range z.Token().Attr {
				if slices.Contains([]string{"title", "aria-label", "placeholder", "alt", "data-l"}, a.Key) && letters.MatchString(a.Val) {
					bare = append(bare, a.Key+"="+a.Val)
				}
			}
		}
	}
}

var attributes = regexp.MustCompile(`\s[a-z-]+="[^"]*"`)

var letters = regexp.MustCompile(`\pL{2,}`)

// The program's own name is no word.
const programName = "blackbath"

func TestNoBareWordsInTemplates(t *testing.T) {
	for name, tree := range templateTrees(t) {
		for _, words := range untranslatable(tree) {
			if strings.Trim(words, "\u2022 ·") != programName {
				t.Errorf("%s: %q stands there in English only: put it through T", name, words)
			}
		}
	}
	trees, err := parse.Parse("x", `<p title="{{T "a"}} of it">{{T "b"}}<b>bare</b> {{.}}</p>`, "", "", map[string]any{"T": 0})
	if err != nil {
		t.Fatal(err)
	}
	if got := untranslatable(trees["x"]); len(got) != 2 {
		t.Errorf("the search found %q, want the title and the bold word", got)
	}
}

func TestCataloguesHoldOnlyWhatIsUsed(t *testing.T) {
	check := func(dir fs.FS) (wrong []string) {
		used := sentences(t)
		files, err := fs.Glob(dir, "*.json")
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			data, err := fs.ReadFile(dir, file)
			if err != nil {
				t.Fatal(err)
			}
			var catalogue map[string]string
			if err := json.Unmarshal(data, &catalogue); err != nil {
				t.Fatal(file, err)
			}
			for english, own := range catalogue {
				if !used[english] {
					wrong = append(wrong, file+": nothing says "+english)
				}
				if !slices.Equal(verbs(english), verbs(own)) {
					wrong = append(wrong, file+": other figures than in "+english)
				}
			}
		}
		return wrong
	}
	for _, w := range check(web.Locales()) {
		t.Error(w)
	}
	bad := fstest.MapFS{"xx.json": {Data: []byte(`{"Settings":"S","Nobody says this":"x","Read by %s":"von"}`)}}
	if got := check(bad); len(got) != 2 {
		t.Errorf("the search found %q, want two faults", got)
	}
}

var verb = regexp.MustCompile(`%(\[\d+\])?[sdvqf]`)

// verbs lists the figures of a sentence, in any order.
func verbs(s string) []string {
	found := verb.FindAllString(s, -1)
	for i, f := range found {
		found[i] = f[len(f)-1:]
	}
	slices.Sort(found)
	return found
}

// pseudo is a language in which every sentence of the program stands in brackets.
func pseudo(t *testing.T) fs.FS {
	t.Helper()
	catalogue := map[string]string{}
	for s := range sentences(t) {
		catalogue[s] = "⟦" + s + "⟧"
	}
	data, err := json.Marshal(catalogue)
	if err != nil {
		t.Fatal(err)
	}
	return fstest.MapFS{"qps.json": {Data: data}}
}

// untranslated finds what a page says outside brackets, apart from what is no language: the names of data, numbers with
// units, formulas.
func untranslated(page answer) []string {
	var out []string
	for n := range page.doc.Descendants() {
		if n.Type == html.TextNode && letters.MatchString(n.Data) {
			whole := n.Parent
			for slices.Contains([]string{"b", "sub", "a", "span"}, whole.Data) && whole.Parent.Data != "body" {
				whole = whole.Parent
			}
			if s := unbracketed(textOf(whole)); letters.MatchString(s) && !noLanguage.MatchString(s) {
				out = append(out, s)
			}
		}
		for _, key := range []string{"title", "aria-label", "placeholder", "alt", "data-l"} {
			if s, has := attr(n, key); has && letters.MatchString(unbracketed(s)) {
				out = append(out, key+"="+s)
			}
		}
	}
	return out
}

// unbracketed is what stands outside all brackets, spaces single and plain.
func unbracketed(s string) string {
	for inner.MatchString(s) {
		s = inner.ReplaceAllString(s, "")
	}
	return strings.Join(strings.Fields(s), " ")
}

var (
	inner      = regexp.MustCompile(`⟦[^⟦⟧]*⟧`)
	noLanguage = regexp.MustCompile(`^(°C|m|g|L|min|(blackbath )?(Xyz)?|English|· blackbath|[−0-9.,± ]+(g|kg|L|cm|m|min|kW|°C|%|g/mol)|([()·, \d]|[A-Z][a-z]?)+|: ((EU)?H\d+(, )?)+|(EU)?H\d+)$`)
)

func TestEverySentenceIsTranslated(t *testing.T) {
	c := newClientWith(t, pseudo(t))
	r := func(path string) answer {
		c.cookies[saidCookie] = "Saved."
		return c.get(path)
	}
	paths := []string{"/settings", "/salts?q=none", "/salts/zinc-chloride", "/salts/ammonium-chloride", "/nothing"}
	for path := range c.server.exists { // every page that needs nothing to be there
		if !strings.ContainsAny(path, ":.") && path != "/" {
			paths = append(paths, path)
		}
	}
	c.setUp(bath.Workshop{Name: "Xyz", Invented: true, Currency: "EUR", TimeZone: "UTC", Language: "qps", BalanceStep: 5})
	for _, path := range paths {
		page := r(path)
		if !strings.Contains(page.text(), "⟦") {
			t.Fatalf("%s: not shown in the test language", path)
		}
		for _, s := range untranslated(page) {
			t.Errorf("%s: %q is not translated", path, s)
		}
	}
	sent := r("/settings").filled("settings")
	for _, name := range []string{"name", "water_boils_at_c", "balance_step_g", "currency", "time_zone", "bucket_l"} {
		sent.Set(name, "")
	}
	sent.Set("water_boils_at_c", "1020")
	sent.Set("bucket_l", "1,234")
	for _, s := range untranslated(c.post("/settings", sent).want(422)) {
		t.Errorf("settings put right: %q is not translated", s)
	}
}

func TestLanguages(t *testing.T) {
	book, err := words.Load(fstest.MapFS{"pt-BR.json": {Data: []byte(`{"English":"Português","Settings":"Ajustes"}`)}})
	if err != nil {
		t.Fatal(err)
	}
	if got := book.Languages(); len(got) != 2 || got[1].Name != "Português" {
		t.Errorf("got languages %v", got)
	}
	for _, tt := range []struct{ accept, want string }{
		{"pt-BR,en;q=0.5", "Ajustes"}, {"de, pt-br;q=0.8", "Ajustes"}, {"de", "Settings"}, {"", "Settings"}, {"en-GB, pt-BR", "Settings"},
	} {
		if got := book.Match(tt.accept).T("Settings"); got != tt.want {
			t.Errorf("Match(%q): got %q, want %q", tt.accept, got, tt.want)
		}
	}
	if _, err := words.Load(fstest.MapFS{"xx.json": {Data: []byte(`{"a":`)}}); err == nil {
		t.Error("a broken catalogue was taken")
	}
}
