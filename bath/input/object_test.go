package input

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// parse reads an object that must be sound as a file.
func parse(t *testing.T, data string) (*Object, *Problems) {
	t.Helper()
	ps := new(Problems)
	o, ok := ParseObject("file", []byte(data), ps)
	if !ok {
		t.Fatalf("%s: %v", data, ps)
	}
	return o, ps
}

func TestObjectTakesFields(t *testing.T) {
	o, ps := parse(t, `{"a": -1.5e2, "s": "x\u0079", "o": {"b": 0}, "l": [{"c": 1}, {"c": 2}], "empty": [], "n": null}`)
	if x := o.Number("a"); x == nil || *x != -150 {
		t.Errorf("a: %v, want -150", x)
	}
	if s := o.String("s"); s != "xy" {
		t.Errorf("s: %q, want xy", s)
	}
	inner := o.Object("o")
	if x := inner.Number("b"); x == nil || *x != 0 {
		t.Errorf("o.b: %v, want 0, which is not absent", x)
	}
	if l := o.Objects("l"); len(l) != 2 || *l[1].Number("c") != 2 || l[1].Path("c") != "l[1].c" {
		t.Errorf("l: %v", l)
	}
	if l := o.Objects("empty"); l == nil || len(l) != 0 {
		t.Errorf("empty: %v, want a list without items", l)
	}
	if o.Number("n") != nil || o.String("n") != "" || o.Object("n") != nil || o.Objects("n") != nil || o.Has("n") || !o.Has("a") {
		t.Error("null is not read as absent")
	}
	o.Done()
	if err := ps.Err(); err != nil {
		t.Errorf("got %v, want no problems", err)
	}
}

func TestObjectRefusesOtherKinds(t *testing.T) {
	number := func(o *Object) { o.Number("k") }
	text := func(o *Object) { _ = o.String("k") }
	object := func(o *Object) { o.Object("k") }
	objects := func(o *Object) { o.Objects("k") }
	for _, tt := range []struct {
		value string
		take  func(*Object)
		want  string
	}{
		{`"12"`, number, `k: "12" is not allowed; allowed: a number without quotation marks`},
		{`true`, number, `k: true is not allowed; allowed: a number without quotation marks`},
		{`{}`, number, `k: an object is not allowed; allowed: a number without quotation marks`},
		{`1e999`, number, `k: 1e999 is not allowed; allowed: a number that is not larger than a computer can hold`},
		{`-1e400`, number, `k: -1e400 is not allowed; allowed: a number that is not larger than a computer can hold`},
		{`5`, text, `k: 5 is not allowed; allowed: a text in quotation marks`},
		{`[]`, object, `k: a list is not allowed; allowed: an object, between { and }`},
		{`{}`, objects, `k: an object is not allowed; allowed: a list, between [ and ]`},
		{`[null]`, objects, `k[0]: null is not allowed; allowed: an object, between { and }`},
		{`[{}, [1]]`, objects, `k[1]: a list is not allowed; allowed: an object, between { and }`},
		{`5`, func(*Object) {}, `k: an unknown key is not allowed; allowed: one of a, b`},
		{`null`, func(*Object) {}, `k: an unknown key is not allowed; allowed: one of a, b`},
	} {
		o, ps := parse(t, `{"k": `+tt.value+`}`)
		tt.take(o)
		o.Done("a", "b")
		if got := ps.Error(); got != tt.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tt.value, got, tt.want)
		}
	}
}

// A list keeps the places of its items, also after one that is no object.
func TestObjectsKeepTheirPlaces(t *testing.T) {
	o, ps := parse(t, `{"l": [1, {"c": "x"}]}`)
	l := o.Objects("l")
	if len(l) != 2 || l[0].Has("c") || l[0].Number("c") != nil {
		t.Fatalf("got %v, want an empty object and one with c", l)
	}
	l[0].Done()
	l[1].Number("c")
	if len(*ps) != 2 || (*ps)[0].Field != "l[0]" || (*ps)[1].Field != "l[1].c" {
		t.Errorf("got %v, want problems of l[0] and l[1].c", *ps)
	}
}

// A key twice is found wherever it is, and the first value stands.
func TestKeysTwice(t *testing.T) {
	o, ps := parse(t, `{"a": 1, "a": 2, "o": {"b": {"c": 1, "c": 1}}, "l": [{"d": 1}, {"d": 1, "d": null}], "u": [[{"e": 1, "e": 2}]]}`)
	var fields []string
	for _, p := range *ps {
		fields = append(fields, p.Field)
	}
	slices.Sort(fields)
	if want := []string{"a", "l[1].d", "o.b.c", "u[0][0].e"}; !slices.Equal(fields, want) {
		t.Errorf("got %v, want %v", fields, want)
	}
	if x := o.Number("a"); x == nil || *x != 1 {
		t.Errorf("a: %v, want 1", x)
	}
}

func TestNestingIsBounded(t *testing.T) {
	for _, tt := range []struct {
		open, end string
	}{{`{"a":`, `}`}, {`[`, `]`}} {
		for _, depth := range []int{deepest, deepest + 1} {
			data := `{"a":` + strings.Repeat(tt.open, depth-1) + "1" + strings.Repeat(tt.end, depth-1) + "}"
			var ps Problems
			if _, ok := ParseObject("file", []byte(data), &ps); ok != (depth <= deepest) {
				t.Errorf("%d deep with %s: read %v, %v", depth, tt.open, ok, ps)
			}
		}
	}
}

func TestLineOfSyntaxErrors(t *testing.T) {
	for _, tt := range []struct{ data, want string }{
		{"{\n \"a\": 1,\n \"b\" 2}", "line 3"}, {"{\n\n}\n\nx", "line 5"}, {"nope", "line 1"}, {"{\"a\": \"b\nc\"}", "line 1"},
	} {
		var ps Problems
		if _, ok := ParseObject("file", []byte(tt.data), &ps); ok || !strings.Contains(ps.Error(), tt.want) {
			t.Errorf("%q: got %v, want %s", tt.data, ps, tt.want)
		}
	}
}

func TestProblemText(t *testing.T) {
	for _, tt := range []struct {
		p    Problem
		want string
	}{
		{Problem{Field: "a", Got: "-1", Allowed: Say("0 to %g %%", 100.0)}, "a: -1 is not allowed; allowed: 0 to 100 %"},
		{Problem{Field: "a", Allowed: Say("100 % of it")}, "a: nothing was given; allowed: 100 % of it"},
		{Problem{Got: "x", Allowed: Say("y"), Hint: Say("Do z")}, "x is not allowed; allowed: y. Do z"},
		{Problem{Field: "a", Got: strings.Repeat("é", 200), Allowed: Say("y")}, "a: " + strings.Repeat("é", 80) + "… is not allowed; allowed: y"},
		{Problem{Field: strings.Repeat("k", 200), Got: "x", Allowed: Say("y")}, strings.Repeat("k", 80) + "…: x is not allowed; allowed: y"},
		// What was read may hold signs that a terminal acts on; one problem is one line.
		{Problem{Field: "a\nb", Got: "x\x1b[31m\ny", Allowed: Say("y")}, `"a\nb": "x\x1b[31m\ny" is not allowed; allowed: y`},
	} {
		if got := tt.p.Error(); got != tt.want {
			t.Errorf("got  %s\nwant %s", got, tt.want)
		}
	}
}

func TestProblems(t *testing.T) {
	var ps Problems
	if ps.Err() != nil {
		t.Error("no problems are an error")
	}
	ps.Add("a", "1", Say("x"))
	ps = append(ps, Problem{Field: "b", Got: "2", Allowed: Say("y"), Unsafe: true})
	ps.Add("a", "3", Say("z"))
	if got := ps.On("a"); len(got) != 2 || got[1].Got != "3" {
		t.Errorf("On(a) = %v", got)
	}
	if !errors.Is(ps.Err(), ErrUnsafe) || errors.Is(ps[:1].Err(), ErrUnsafe) {
		t.Error("ErrUnsafe is not found where it is, or found where it is not")
	}
	var p Problem
	if !errors.As(ps.Err(), &p) || p.Field != "a" {
		t.Errorf("errors.As gives %v", p)
	}
	if lines := strings.Split(ps.Error(), "\n"); len(lines) != 3 {
		t.Errorf("got %d lines, want one a problem", len(lines))
	}
}
