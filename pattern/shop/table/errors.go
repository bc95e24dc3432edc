package table

import (
	"fmt"
	"strings"
)

// Error is one thing wrong with a table file.
type Error struct {
	File    string
	Line    int // from 1; 0 for the file as a whole
	Message string
	Remedy  string
}

func (e Error) Error() string {
	s := e.File
	if e.Line > 0 {
		s = fmt.Sprintf("%s:%d", e.File, e.Line)
	}
	s += ": " + e.Message
	if e.Remedy != "" {
		s += "; " + e.Remedy
	}
	return s
}

// maxErrors bounds a report: nobody reads more.
const maxErrors = 10

// Errors is everything found wrong with one file, by line.
type Errors []Error

func (es Errors) Error() string {
	var lines []string
	for i, e := range es {
		if i == maxErrors {
			lines = append(lines, fmt.Sprintf("and %d more", len(es)-maxErrors))
			break
		}
		lines = append(lines, e.Error())
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the single errors to errors.As.
func (es Errors) Unwrap() []error {
	out := make([]error, len(es))
	for i, e := range es {
		out[i] = e
	}
	return out
}
