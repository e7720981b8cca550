package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"

	"blackbath/bath/input"
)

// readFile reads and parses a file, or stdin where its name is -. option is what the command line calls it; largest is the most
// bytes that the parser takes. Problems name the file before the field.
func readFile[T any](name, option string, largest int64, stdin io.Reader, parse func([]byte) (T, error)) (T, error) {
	var none T
	data, err := readAll(name, largest, stdin)
	if err != nil {
		return none, badInput{fmt.Errorf("%s: %w", option, err)}
	}
	v, err := parse(data)
	var problems input.Problems
	if !errors.As(err, &problems) {
		return v, err
	}
	if name != "-" {
		for i := range problems {
			problems[i].Field = name + ": " + problems[i].Field
		}
	}
	return none, problems
}

func readAll(name string, largest int64, stdin io.Reader) ([]byte, error) {
	r := stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		r = f
	}
	// One byte more than is allowed, so that the parser sees that it is too long.
	data, err := io.ReadAll(io.LimitReader(r, largest+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return data, nil
}

// gather adds what is wrong with one file to what is wrong elsewhere, so that all of it is told at once.
func gather(problems input.Problems, err error) (input.Problems, error) {
	var more input.Problems
	if errors.As(err, &more) {
		return append(problems, more...), nil
	}
	return problems, err
}

// printJSON writes an answer for a program.
func printJSON(w io.Writer, answer any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(answer); err != nil {
		return fmt.Errorf("write the answer: %w", err)
	}
	return nil
}
