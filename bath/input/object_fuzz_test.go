package input

import (
	"encoding/json"
	"math"
	"testing"
)

// FuzzParseObject holds the strict reader to the standard library's: what it reads is JSON, and what it finds is there.
func FuzzParseObject(f *testing.F) {
	for _, s := range []string{
		`{}`, `{"k": 1}`, `{"k": "1"}`, `{"k": {"k": null}}`, `{"k": [{"k": 1e999}, 2]}`, `{"k": 1, "k": 2}`, "\xEF\xBB\xBF{}", `{"k": "\ud800"}`, `{"k":1,}`,
		`{} {}`, `[`, `{"a":[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]}`, `{"k": -0, "\u006b": 1}`, "{\"k\": \"\xff\"}", `{"k" 1}`, `{1: 2}`, `{"k": 1}}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var ps Problems
		o, ok := ParseObject("file", data, &ps)
		if ok != (o != nil) || (!ok && len(ps) == 0) {
			t.Fatalf("read %v, object %v, problems %v", ok, o, ps)
		}
		if !ok {
			return
		}
		if len(data) >= 3 && string(data[:3]) == "\xEF\xBB\xBF" {
			data = data[3:]
		}
		var want map[string]any
		if err := json.Unmarshal(data, &want); err != nil {
			if _, tooLarge := err.(*json.UnmarshalTypeError); !tooLarge { // 1e999: left to Number
				t.Fatalf("read what is no JSON: %v", err)
			}
		}
		before := len(ps)
		if x := o.Number("k"); x != nil && (math.IsNaN(*x) || math.IsInf(*x, 0)) {
			t.Fatalf("k is %v", *x)
		}
		_ = o.String("k")
		o.Object("k")
		for _, item := range o.Objects("k") {
			item.Number("k")
			item.Done()
		}
		if want["k"] != nil && len(ps) < before+3 { // it is at most one of four kinds
			t.Fatalf("k is %v and yet of several kinds: %v", want["k"], ps)
		}
		o.Done("k")
		for _, p := range ps {
			if p.Got == "" || p.Error() == "" {
				t.Fatalf("%+v says nothing", p)
			}
		}
	})
}
