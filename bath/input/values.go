package input

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// Bool returns a truth value, false when it is absent.
func (o *Object) Bool(key string) bool {
	v := o.take(key)
	if v == nil {
		return false
	}
	b, isBool := v.(bool)
	if !isBool {
		o.problems.Add(o.at(key), describe(v), Say("true or false, without quotation marks"))
	}
	return b
}

// Numbers returns a list of numbers, nil when it is absent. An item that is no number is a problem and left out.
func (o *Object) Numbers(key string) []float64 {
	v := o.take(key)
	if v == nil {
		return nil
	}
	list, isList := v.([]any)
	if !isList {
		o.problems.Add(o.at(key), describe(v), Say("a list of numbers, between [ and ]"))
		return nil
	}
	out := make([]float64, 0, len(list))
	for i, item := range list {
		n, isNumber := item.(json.Number)
		x, err := strconv.ParseFloat(n.String(), 64)
		if !isNumber || err != nil || math.IsInf(x, 0) {
			o.problems.Add(fmt.Sprintf("%s[%d]", o.at(key), i), describe(item), Say("a number without quotation marks that a computer can hold"))
			continue
		}
		out = append(out, x)
	}
	return out
}

// Keys returns the keys that are there, in the order of the file, and counts them as asked for.
func (o *Object) Keys() []string {
	for _, k := range o.keys {
		o.asked[k] = true
	}
	return o.keys
}
