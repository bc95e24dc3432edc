package job

import (
	"fmt"
	"path/filepath"
	"strings"
)

// Place is where a setting stands: a line and column of a job file, counted
// from 1 (columns in bytes), or a flag. The zero Place is nowhere.
type Place struct {
	File         string
	Line, Column int
	Flag         string
}

// IsFlag reports whether the place is on the command line.
func (p Place) IsFlag() bool { return p.Flag != "" }

// dir returns the folder that relative paths are meant from.
func (p Place) dir() string {
	if p.IsFlag() || p.File == "" {
		return ""
	}
	return filepath.Dir(p.File)
}

func (p Place) String() string {
	switch {
	case p.IsFlag():
		return "--" + p.Flag
	case p.Line > 0:
		return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	}
	return p.File
}

// Error is one thing wrong with a job: where it stands, what it is, and what
// to write instead. Remedy is empty where the message says it.
type Error struct {
	Place   Place
	Message string
	Remedy  string
}

func (e Error) Error() string {
	s := e.Message
	if p := e.Place.String(); p != "" {
		s = p + ": " + s
	}
	if e.Remedy != "" {
		s += "; " + e.Remedy
	}
	return s
}

// maxErrors bounds a report: nobody reads more, and a file of rubbish has many.
const maxErrors = 10

// Errors is everything found wrong with a job, in the order of the file.
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

// AllFlags reports whether everything wrong stands on the command line.
func (es Errors) AllFlags() bool {
	for _, e := range es {
		if !e.Place.IsFlag() {
			return false
		}
	}
	return len(es) > 0
}
