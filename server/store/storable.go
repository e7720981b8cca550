package store

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"time"
	"unicode/utf8"
)

// storable refuses what one of the databases would change or refuse: a number that is not finite, text that is not UTF-8 or
// holds a NUL. It looks into structs, pointers, slices and maps, and names the field.
func storable(v any) error { return look(reflect.ValueOf(v), "") }

func look(v reflect.Value, path string) error {
	switch v.Kind() {
	case reflect.Float32, reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Errorf("%s is %v: %w: not a finite number", strings.TrimPrefix(path, "."), f, ErrUnstorable)
		}
	case reflect.String:
		if s := v.String(); !utf8.ValidString(s) || strings.ContainsRune(s, 0) {
			return fmt.Errorf("%s is %.60q: %w: not plain text", strings.TrimPrefix(path, "."), s, ErrUnstorable)
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return look(v.Elem(), path)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			return nil
		}
		for i := range v.NumField() {
			if err := look(v.Field(i), path+"."+v.Type().Field(i).Name); err != nil {
				return err
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if err := look(v.Index(i), fmt.Sprintf("%s[%d]", path, i)); err != nil {
				return err
			}
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			if err := look(v.MapIndex(k), fmt.Sprintf("%s[%v]", path, k)); err != nil {
				return err
			}
		}
	}
	return nil
}

// toJSON writes a column that holds a whole value.
func toJSON(v any) (string, error) {
	if err := storable(v); err != nil {
		return "", err
	}
	text, err := json.Marshal(v)
	return string(text), err
}

// convert copies a quantity that may be unknown, from one type to another.
func convert[To, From ~float64 | ~int64](p *From) *To {
	if p == nil {
		return nil
	}
	v := To(*p)
	return &v
}

// searchText is what a search looks through: folded in Go, since the databases fold letters beyond ASCII differently.
func searchText(parts ...string) string { return strings.ToLower(strings.Join(parts, " ")) }

// like is the pattern that finds word anywhere in a search text. It goes with LIKE ... ESCAPE '\'.
func like(word string) string {
	return "%" + strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(strings.ToLower(word)) + "%"
}
