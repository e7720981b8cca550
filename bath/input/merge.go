package input

import (
	"slices"
	"strings"
)

// Merge appends the problems on fields that have none yet, nor has what holds them: a mass that is no number is not also too
// small, and a part that is no object does not also lack its kind.
func (ps Problems) Merge(more Problems) Problems {
	seen := ps[:len(ps):len(ps)]
	for _, p := range more {
		if !slices.ContainsFunc(seen, func(q Problem) bool { return q.Field == p.Field || holds(q.Field, p.Field) }) {
			ps = append(ps, p)
		}
	}
	return ps
}

// holds says whether the path of a field leads through another: "parts[1].mass_g" through "parts[1]" and "parts".
func holds(outer, field string) bool {
	rest, under := strings.CutPrefix(field, outer)
	return under && (strings.HasPrefix(rest, ".") || strings.HasPrefix(rest, "["))
}
