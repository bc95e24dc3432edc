package job

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"tubewright/fonts/nearest"

	"github.com/pelletier/go-toml/v2"
)

// Value is one setting as written.
type Value struct {
	Text  string // lines joined by "\n"
	Rows  []Row  // of a list of tables, as [[letter]]
	Place Place
}

// Values are settings as written, by key.
type Values map[string]Value

// Over returns the settings of v, and those of base that v leaves open.
func (v Values) Over(base Values) Values {
	out := Values{}
	for _, k := range keys() {
		if x, ok := v[k]; ok {
			out[k] = x
		} else if x, ok := base[k]; ok {
			out[k] = x
		}
	}
	return out
}

// MaxFile is the most bytes of a job file. The longest text allowed takes a few kB.
const MaxFile = 1 << 20

// Parse reads a job file in TOML. The name says in errors which file it is and
// gives the folder that relative paths in it are meant from. Every error names
// line and column; an unknown key, the nearest right one.
func Parse(name string, data []byte) (Values, error) {
	if len(data) > MaxFile {
		return nil, Errors{{Place: Place{File: name}, Message: fmt.Sprintf("the file has %d bytes, a job file at most %d", len(data), MaxFile)}}
	}
	var tree map[string]any
	if err := toml.Unmarshal(data, &tree); err != nil {
		return nil, Errors{syntaxError(name, err)}
	}
	vs := Values{}
	var wrong Errors
	for _, k := range keyPlaces(name, data) {
		if slices.Contains(tableKeys(), k.key[0]) {
			if _, again := vs[k.key[0]]; again {
				continue
			}
			rows, err := readRows(name, data, k.key[0], tree)
			if err != nil {
				err.Place = k.place
				wrong = append(wrong, *err)
			}
			vs[k.key[0]] = Value{Rows: rows, Place: k.place}
			continue
		}
		v, err := read(k.key, tree)
		if err != nil {
			err.Place = k.place
			wrong = append(wrong, *err)
			continue
		}
		vs[k.key[0]] = Value{Text: v, Place: k.place}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return vs, nil
}

func syntaxError(name string, err error) Error {
	e := Error{Place: Place{File: name}, Message: strings.TrimPrefix(err.Error(), "toml: ")}
	var de *toml.DecodeError
	if errors.As(err, &de) {
		e.Place.Line, e.Place.Column = de.Position()
	}
	e.Message = "this is not TOML: " + e.Message
	e.Remedy = `write one setting a line, as in height = "150mm"`
	return e
}

type placedKey struct {
	key   toml.Key
	place Place
}

// keyPlaces lists the keys of a document that parses, in its order. Decoding
// strictly into nothing makes the library report every key as missing, each
// with its position: the one way its stable interface tells positions.
func keyPlaces(name string, data []byte) []placedKey {
	var missing *toml.StrictMissingError
	if !errors.As(toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields().Decode(&struct{}{}), &missing) {
		return nil
	}
	var out []placedKey
	for _, e := range missing.Errors {
		k := placedKey{key: e.Key(), place: Place{File: name}}
		k.place.Line, k.place.Column = e.Position()
		out = append(out, k)
	}
	slices.SortStableFunc(out, func(a, b placedKey) int {
		return cmp.Or(cmp.Compare(a.place.Line, b.place.Line), cmp.Compare(a.place.Column, b.place.Column))
	})
	return out
}

// read returns the value of a key as text, or what is wrong with it.
func read(key toml.Key, tree map[string]any) (string, *Error) {
	i := slices.IndexFunc(Settings(), func(s Setting) bool { return s.Key == key[0] })
	if i < 0 {
		return "", unknownKey(strings.Join(key, "."))
	}
	s := Settings()[i]
	switch v := tree[s.Key].(type) {
	case string:
		return v, nil
	case []any:
		if s.Kind == Text {
			return readLines(v)
		}
	}
	return "", s.wrongKind(tree[s.Key])
}

func unknownKey(key string) *Error {
	e := &Error{Message: fmt.Sprintf("unknown key %q", clip(key))}
	if near := nearest.Word(key, keys()); near != "" {
		e.Remedy = fmt.Sprintf("did you mean %q?", near)
	} else {
		e.Remedy = "the keys are " + strings.Join(keys(), ", ")
	}
	return e
}

func readLines(array []any) (string, *Error) {
	var lines []string
	for i, v := range array {
		line, ok := v.(string)
		if !ok {
			return "", &Error{Message: fmt.Sprintf("text: line %d is %s", i+1, describe(v)), Remedy: `write each line in quotes, as in text = ["RYE", "SALT"]`}
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n"), nil
}

func (s Setting) wrongKind(v any) *Error {
	e := &Error{Message: fmt.Sprintf("%s is %s", s.Key, describe(v))}
	switch n := v.(type) {
	case int64, float64:
		if s.Kind == Length {
			e.Message = fmt.Sprintf("%s is the bare number %v, without a unit", s.Key, n)
			e.Remedy = fmt.Sprintf(`write %s = "%vmm" or "%vin"`, s.Key, n, n)
			return e
		}
	}
	switch s.Kind {
	case Text:
		e.Remedy = `write text = "RYE", or text = ["RYE", "SALT"] for two lines`
	case Length:
		e.Remedy = fmt.Sprintf(`write a length in quotes, as in %s = "12mm"`, s.Key)
	default:
		e.Remedy = "write it in quotes"
	}
	return e
}

// describe names the kind of a TOML value in plain words.
func describe(v any) string {
	switch v := v.(type) {
	case bool:
		return fmt.Sprintf("the truth value %t", v)
	case int64, float64:
		return fmt.Sprintf("the number %v", v)
	case string:
		return fmt.Sprintf("the text %q", clip(v))
	case []any:
		return "a list"
	case map[string]any:
		return "a table"
	}
	return "a date or time"
}

// clip shortens what a user wrote for a message of one line.
func clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}
