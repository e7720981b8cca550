package input

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// LargestFileBytes is the most that ParseObject reads: a recipe or a tank has a few hundred bytes, a long dip-stick table
// some ten thousand.
const LargestFileBytes = 1 << 20

// deepest bounds the nesting of arrays and objects.
const deepest = 16

// An Object is one JSON object, read strictly: valid UTF-8, no key twice, null as absent, numbers finite. Its methods take
// fields out and add a problem for each that is missing or of the wrong kind; Done reports the keys that nobody asked for.
type Object struct {
	path     string
	keys     []string
	values   map[string]any // json.Number, string, bool, []any or *Object
	asked    map[string]bool
	problems *Problems
}

// ParseObject reads exactly one JSON object. name is what problems of the file as a whole are reported under.
// The error is a [Problems].
func ParseObject(name string, data []byte, problems *Problems) (*Object, bool) {
	return ParseObjectUpTo(LargestFileBytes, name, data, problems)
}

// ParseObjectUpTo is ParseObject for a file of up to so many bytes.
func ParseObjectUpTo(largestBytes int, name string, data []byte, problems *Problems) (*Object, bool) {
	bad := func(got string, allowed Text) (*Object, bool) {
		problems.Add(name, got, allowed)
		return nil, false
	}
	switch {
	case len(data) > largestBytes:
		return bad(fmt.Sprintf("a file of %d bytes", len(data)), Say("at most %d bytes", largestBytes))
	case len(bytes.TrimSpace(data)) == 0:
		return bad("an empty file", Say("one JSON object"))
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return bad("text in UTF-16", Say("text in UTF-8: save the file again with that encoding"))
	case !utf8.Valid(data):
		return bad("text that is not UTF-8", Say("text in UTF-8: save the file again with that encoding"))
	}
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF")) // the mark that some editors put before UTF-8
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	first, err := dec.Token()
	if err != nil {
		return bad(syntax(data, dec, err), Say("one JSON object"))
	}
	if first != json.Delim('{') {
		return bad("JSON that is no object", Say("one JSON object, between { and }"))
	}
	obj, err := readObject(dec, "", problems, 1)
	if err != nil {
		return bad(syntax(data, dec, err), Say("one whole JSON object"))
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return bad(fmt.Sprintf("more text after the object, on line %d", lineAt(data, dec.InputOffset())), Say("one JSON object and nothing after it"))
	}
	return obj, true
}

func syntax(data []byte, dec *json.Decoder, err error) string {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return "a file that ends in the middle"
	}
	return fmt.Sprintf("line %d: %v", lineAt(data, dec.InputOffset()), err)
}

func lineAt(data []byte, offset int64) int {
	return 1 + bytes.Count(data[:min(int(offset), len(data))], []byte("\n"))
}

func readObject(dec *json.Decoder, path string, problems *Problems, depth int) (*Object, error) {
	if depth > deepest {
		return nil, fmt.Errorf("nested more than %d deep", deepest)
	}
	o := &Object{path: path, values: map[string]any{}, asked: map[string]bool{}, problems: problems}
	for {
		tok, err := dec.Token()
		if err != nil {
			return nil, err
		}
		if tok == json.Delim('}') {
			return o, nil
		}
		key := tok.(string) // the decoder gives nothing else before a value
		val, err := readValue(dec, o.at(key), problems, depth)
		if err != nil {
			return nil, err
		}
		if _, twice := o.values[key]; twice {
			problems.Add(o.at(key), "the same key twice", Say("each key once"))
			continue
		}
		o.keys = append(o.keys, key)
		o.values[key] = val
	}
}

func readValue(dec *json.Decoder, path string, problems *Problems, depth int) (any, error) {
	tok, err := dec.Token()
	if err != nil {
		return nil, err
	}
	switch tok {
	case json.Delim('{'):
		return readObject(dec, path, problems, depth+1)
	case json.Delim('['):
		if depth >= deepest {
			return nil, fmt.Errorf("nested more than %d deep", deepest)
		}
		list := []any{}
		for {
			if !dec.More() {
				_, err := dec.Token()
				return list, err
			}
			v, err := readValue(dec, fmt.Sprintf("%s[%d]", path, len(list)), problems, depth+1)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
	}
	return tok, nil
}

func (o *Object) at(key string) string {
	if o.path == "" {
		return key
	}
	return o.path + "." + key
}

// Path returns the path of a key as problems name it.
func (o *Object) Path(key string) string { return o.at(key) }

// take returns the value of a key, nil when it is absent or null.
func (o *Object) take(key string) any {
	o.asked[key] = true
	return o.values[key]
}

// Number returns a number, or nil when it is absent. A number written as text, or too large to hold, is a problem.
func (o *Object) Number(key string) *float64 {
	v := o.take(key)
	if v == nil {
		return nil
	}
	n, isNumber := v.(json.Number)
	if !isNumber {
		o.problems.Add(o.at(key), describe(v), Say("a number without quotation marks"))
		return nil
	}
	f, err := strconv.ParseFloat(n.String(), 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		o.problems.Add(o.at(key), n.String(), Say("a number that is not larger than a computer can hold"))
		return nil
	}
	return &f
}

// String returns a text, or "" when it is absent.
func (o *Object) String(key string) string {
	v := o.take(key)
	if v == nil {
		return ""
	}
	s, isText := v.(string)
	if !isText {
		o.problems.Add(o.at(key), describe(v), Say("a text in quotation marks"))
		return ""
	}
	return s
}

// Object returns an object, or nil when it is absent.
func (o *Object) Object(key string) *Object {
	v := o.take(key)
	if v == nil {
		return nil
	}
	obj, isObject := v.(*Object)
	if !isObject {
		o.problems.Add(o.at(key), describe(v), Say("an object, between { and }"))
		return nil
	}
	return obj
}

// Objects returns a list of objects; nil when it is absent. An item that is no object is a problem and stands in the list as
// an empty object, so that the others keep their places.
func (o *Object) Objects(key string) []*Object {
	v := o.take(key)
	if v == nil {
		return nil
	}
	list, isList := v.([]any)
	if !isList {
		o.problems.Add(o.at(key), describe(v), Say("a list, between [ and ]"))
		return nil
	}
	out := make([]*Object, 0, len(list))
	for i, item := range list {
		obj, isObject := item.(*Object)
		if !isObject {
			path := fmt.Sprintf("%s[%d]", o.at(key), i)
			o.problems.Add(path, describe(item), Say("an object, between { and }"))
			obj = &Object{path: path, asked: map[string]bool{}, problems: o.problems}
		}
		out = append(out, obj)
	}
	return out
}

// Has says whether a key is there and not null.
func (o *Object) Has(key string) bool { return o.values[key] != nil }

// Done adds a problem for each key that was given but never asked for.
func (o *Object) Done(known ...string) {
	for _, k := range o.keys {
		if !o.asked[k] {
			o.problems.Add(o.at(k), "an unknown key", Say("one of %s", strings.Join(known, ", ")))
		}
	}
}

func describe(v any) string {
	switch v := v.(type) {
	case nil:
		return "null"
	case string:
		return strconv.Quote(v)
	case json.Number:
		return v.String()
	case bool:
		return strconv.FormatBool(v)
	case []any:
		return "a list"
	default:
		return "an object"
	}
}
