package server

import (
	"time"
	_ "time/tzdata" // the program must know time zones on a computer that has no list of them
)

// zone finds a time zone by name; one that is not known is UTC.
func zone(name string) *time.Location {
	l, err := time.LoadLocation(name)
	if err != nil {
		return time.UTC
	}
	return l
}

// currency says whether a text has the form of an ISO 4217 code.
func currency(s string) bool {
	if len(s) != 3 {
		return false
	}
	for _, r := range s {
		if r < 'A' || r > 'Z' {
			return false
		}
	}
	return true
}
