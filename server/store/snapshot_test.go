package store

import (
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath"
)

// fill gives every field of v another value that is not zero, so that a field which is not kept shows.
func fill(v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(float64(*n) + 0.1)
	case reflect.String:
		v.SetString(string(rune('a' + *n%26)))
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), n)
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), n)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fill(v.Index(i), n)
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(key, n)
		fill(value, n)
		v.SetMapIndex(key, value)
	default:
		panic("fill: " + v.Type().String())
	}
}

func filled[T any]() (v T) {
	n := 0
	fill(reflect.ValueOf(&v).Elem(), &n)
	return v
}

// A field that bath adds later must be kept too.
func TestEveryFieldIsKept(t *testing.T) {
	recipe, tank, proof, conditions := filled[bath.Recipe](), filled[bath.Tank](), filled[bath.Proof](), filled[bath.Conditions]()
	kept := must[string](t)(toJSON(fromRecipe(recipe)))
	if diff := cmp.Diff(recipe, must[recipeJSON](t)(fromJSON[recipeJSON](kept, "")).value(recipe.Name)); diff != "" {
		t.Errorf("recipe (- given, + kept):\n%s", diff)
	}
	kept = must[string](t)(toJSON(fromTank(tank)))
	if diff := cmp.Diff(tank, must[tankJSON](t)(fromJSON[tankJSON](kept, "")).value(tank.Name)); diff != "" {
		t.Errorf("tank (- given, + kept):\n%s", diff)
	}
	kept = must[string](t)(toJSON(fromProof(proof)))
	if diff := cmp.Diff(proof, must[proofJSON](t)(fromJSON[proofJSON](kept, "")).value()); diff != "" {
		t.Errorf("proof (- given, + kept):\n%s", diff)
	}
	kept = must[string](t)(toJSON(fromConditions(conditions)))
	if diff := cmp.Diff(conditions, must[conditionsJSON](t)(fromJSON[conditionsJSON](kept, "")).value()); diff != "" {
		t.Errorf("conditions (- given, + kept):\n%s", diff)
	}
}
