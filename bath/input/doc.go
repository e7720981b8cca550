// Package input holds what can be wrong with what a person gives: problems that name the field, the value and what is
// allowed, and a strict reader for JSON files.
//
// It never decides what a recipe or a tank may be; the packages above it do, and report through [Problems].
package input
