package caution

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"blackbath/bath/input"
)

// ParseFacts reads the facts of one step from JSON:
//
//	{"purpose": "plan", "step": "heat", "bath": {"temp_c": 92, "substances": ["ammonium-chloride"]}}
//
// It is strict: one object in UTF-8, no unknown or doubled key, no unknown word, no number as text, none out of its range.
// null is the same as absent, but not inside a list. The error is an [input.Problems] with every problem found: the field,
// the value and what is allowed.
func ParseFacts(data []byte) (Facts, error) {
	var problems input.Problems
	if _, ok := input.ParseObject("facts", data, &problems); !ok {
		return Facts{}, problems
	}
	// ParseObject has seen to the encoding, the syntax, its depth and doubled keys; what is left is plain decoding.
	dec := json.NewDecoder(bytes.NewReader(bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))))
	dec.UseNumber()
	var top map[string]any
	if err := dec.Decode(&top); err != nil {
		return Facts{}, fmt.Errorf("read facts: %w", err)
	}
	r := reader{problems: &problems}
	r.facts(top)
	r.out.check(&problems)
	if err := problems.Err(); err != nil {
		return Facts{}, err
	}
	return r.out, nil
}

// A reader takes values out of decoded JSON and reports those of the wrong type. Whether they are allowed is left to Check.
type reader struct {
	problems *input.Problems
	out      Facts
}

// parentKeys has the keys of the whole file, childKeys those of each object in it.
var parentKeys, childKeys = func() (parents []string, children map[string][]string) {
	children = map[string][]string{}
	for _, def := range factList {
		parent, child, isChild := strings.Cut(def.name, ".")
		if !slices.Contains(parents, parent) {
			parents = append(parents, parent)
		}
		if isChild {
			children[parent] = append(children[parent], child)
		}
	}
	return parents, children
}()

func (r *reader) facts(top map[string]any) {
	r.knownKeys("", top, parentKeys)
	objects := map[string]map[string]any{}
	for _, parent := range parentKeys {
		if v := top[parent]; v != nil && childKeys[parent] != nil {
			object, isObject := v.(map[string]any)
			if !isObject {
				r.problems.Add(parent, show(v), input.Say("an object with any of %s", strings.Join(childKeys[parent], ", ")))
				continue
			}
			r.knownKeys(parent+".", object, childKeys[parent])
			objects[parent] = object
		}
	}
	for id := range factCount {
		def := &factList[id]
		parent, child, isChild := strings.Cut(def.name, ".")
		v := top[parent]
		if isChild {
			v = objects[parent][child]
		}
		if v != nil {
			r.fact(def, v, r.out.field(id))
		}
	}
}

// knownKeys reports the keys that nobody asks for.
func (r *reader) knownKeys(path string, object map[string]any, known []string) {
	var strange []string
	for key := range object {
		if !slices.Contains(known, key) {
			strange = append(strange, key)
		}
	}
	slices.Sort(strange)
	for _, key := range strange {
		*r.problems = append(*r.problems, input.Problem{Field: path + key, Got: "an unknown key", Allowed: oneOf(known)})
	}
}

// fact puts a value into its field.
func (r *reader) fact(def *factDef, v any, field any) {
	switch p := field.(type) {
	case **float64:
		*p = r.number(def.name, v, def)
	case **bool:
		b, isBool := v.(bool)
		if !isBool {
			r.problems.Add(def.name, show(v), def.allowed())
			return
		}
		*p = &b
	case *string:
		*p = r.word(def.name, v, def)
	case *[]string:
		*p = r.substances(def, v)
	case *[]Earth:
		*p = r.earths(def, v)
	}
}

func (r *reader) number(field string, v any, def *factDef) *float64 {
	n, isNumber := v.(json.Number)
	if !isNumber {
		r.problems.Add(field, show(v), def.allowed())
		return nil
	}
	x, err := strconv.ParseFloat(n.String(), 64)
	if err != nil || math.IsInf(x, 0) {
		r.problems.Add(field, n.String(), def.allowed())
		return nil
	}
	x += 0 // -0 is 0
	return &x
}

func (r *reader) word(field string, v any, def *factDef) string {
	s, isText := v.(string)
	if !isText || s == "" && def.words != nil {
		r.problems.Add(field, show(v), def.allowed())
		return ""
	}
	return s
}

func (r *reader) substances(def *factDef, v any) []string {
	list, isList := v.([]any)
	if !isList {
		r.problems.Add(def.name, show(v), def.allowed())
		return nil
	}
	names := make([]string, 0, len(list))
	for i, x := range list {
		s, isText := x.(string)
		if !isText {
			r.problems.Add(item(def.name, i), show(x), oneOf(substances))
			s = Unidentified // holds the place, so that later problems name theirs
		}
		names = append(names, s)
	}
	return names
}

var earthKeys = []string{earthName.name, earthPH.name, earthFizz.name, earthNitrate.name, earthSmell.name}

func (r *reader) earths(def *factDef, v any) []Earth {
	list, isList := v.([]any)
	if !isList {
		r.problems.Add(def.name, show(v), def.allowed())
		return nil
	}
	earths := make([]Earth, len(list))
	for i, x := range list {
		path := item(def.name, i)
		object, isObject := x.(map[string]any)
		if !isObject {
			r.problems.Add(path, show(x), input.Say("an object with any of %s", strings.Join(earthKeys, ", ")))
			continue
		}
		r.knownKeys(path+".", object, earthKeys)
		earths[i] = r.earth(path+".", object)
	}
	return earths
}

func (r *reader) earth(path string, object map[string]any) Earth {
	var e Earth
	for _, part := range []struct {
		def    *factDef
		number **float64
		word   *string
	}{
		{def: &earthName, word: &e.Name}, {def: &earthPH, number: &e.PH}, {def: &earthFizz, word: &e.Fizz},
		{def: &earthNitrate, number: &e.NitrateMgKg}, {def: &earthSmell, word: &e.Smell},
	} {
		v := object[part.def.name]
		switch {
		case v == nil:
		case part.number != nil:
			*part.number = r.number(path+part.def.name, v, part.def)
		default:
			*part.word = r.word(path+part.def.name, v, part.def)
		}
	}
	return e
}

// show writes a JSON value as its writer would know it again.
func show(v any) string {
	switch v := v.(type) {
	case nil:
		return "null"
	case []any:
		return "a list"
	case map[string]any:
		return "an object"
	case string:
		return strconv.Quote(v)
	}
	return fmt.Sprint(v)
}
