package job

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"tubewright/fonts/nearest"

	"github.com/pelletier/go-toml/v2"
)

// Row is one table of a list in a job file, as written under [[letter]].
type Row struct {
	Place Place
	Cells map[string]Cell
}

// Cell is one entry of a row.
type Cell struct {
	Value any
	Place Place
}

// The lists of tables a job file may hold, beside its settings.
const (
	letterTable  = "letter"
	keepOutTable = "keep-out"
)

func tableKeys() []string { return []string{letterTable, keepOutTable} }

// maxRows bounds a list: twice as many tables as there can be letters.
const maxRows = 2 * maxText

// readRows returns the rows of a list of tables, with the places of their
// entries.
func readRows(name string, data []byte, key string, tree map[string]any) ([]Row, *Error) {
	list, ok := tree[key].([]any)
	wrong := &Error{Message: fmt.Sprintf("%s is %s", key, describe(tree[key])),
		Remedy: fmt.Sprintf("write [[%s]] on a line of its own, and under it what is asked", key)}
	if !ok {
		return nil, wrong
	}
	if len(list) > maxRows {
		return nil, &Error{Message: fmt.Sprintf("%d tables [[%s]], at most %d are served", len(list), key, maxRows)}
	}
	heads, cells := tablePlaces(name, data, key)
	var rows []Row
	for i, item := range list {
		table, ok := item.(map[string]any)
		if !ok {
			return nil, wrong
		}
		r := Row{Place: heads[0], Cells: map[string]Cell{}}
		last := 0 // line from which the next table's entries stand; 0 is the end
		if len(heads) == len(list) {
			r.Place = heads[i]
			if i+1 < len(heads) {
				last = heads[i+1].Line
			}
		}
		for k, v := range table {
			r.Cells[k] = Cell{v, placeIn(cells, k, r.Place, last)}
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// tablePlaces returns where the tables of a list begin, at least one place, and
// where their entries stand, in the order of the file.
func tablePlaces(name string, data []byte, key string) (heads []Place, cells []placedKey) {
	for _, k := range keyPlaces(name, data) {
		if k.key[0] == key {
			heads = append(heads, k.place)
		}
	}
	if len(heads) == 0 {
		heads = []Place{{File: name}}
	}
	// Decoding strictly into empty tables reports every entry of them.
	var empty struct {
		Letter  []struct{} `toml:"letter"`
		KeepOut []struct{} `toml:"keep-out"`
	}
	var missing *toml.StrictMissingError
	if errors.As(toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields().Decode(&empty), &missing) {
		for _, e := range missing.Errors {
			k := placedKey{key: e.Key(), place: Place{File: name}}
			k.place.Line, k.place.Column = e.Position()
			cells = append(cells, k)
		}
	}
	return heads, cells
}

// placeIn finds the entry of a table that begins at head and ends before line
// last; the table's own place where it is not told.
func placeIn(cells []placedKey, key string, head Place, last int) Place {
	for _, c := range cells {
		if c.key[len(c.key)-1] == key && c.place.Line >= head.Line && (last == 0 || c.place.Line < last) {
			return c.place
		}
	}
	return head
}

// entries reads the cells of a row and gathers what is wrong with them.
type entries struct {
	table string
	row   Row
	known []string
	wrong Errors
}

func (e *entries) fault(key, message, remedy string) {
	p := e.row.Place
	if c, ok := e.row.Cells[key]; ok {
		p = c.Place
	}
	e.wrong = append(e.wrong, Error{Place: p, Message: message, Remedy: remedy})
}

// unknown faults the cells that no reader asked for.
func (e *entries) unknown() {
	var strange []string
	for k := range e.row.Cells {
		if !slices.Contains(e.known, k) {
			strange = append(strange, k)
		}
	}
	slices.Sort(strange)
	for _, k := range strange {
		remedy := "it takes " + strings.Join(e.known, ", ")
		if near := nearest.Word(k, e.known); near != "" {
			remedy = fmt.Sprintf("did you mean %q?", near)
		}
		e.fault(k, fmt.Sprintf("[[%s]] has no entry %q", e.table, clip(k)), remedy)
	}
}

func (e *entries) cell(key string) (any, bool) {
	e.known = append(e.known, key)
	c, ok := e.row.Cells[key]
	return c.Value, ok
}

// number reads a whole number from low to high; preset where there is none.
func (e *entries) number(key string, low, high, preset int) int {
	v, ok := e.cell(key)
	if !ok {
		return preset
	}
	n, ok := v.(int64)
	if !ok || n < int64(low) || n > int64(high) {
		e.fault(key, fmt.Sprintf("%s is %s", key, describe(v)), fmt.Sprintf("write a whole number from %d to %d, as in %s = %d", low, high, key, low))
		return preset
	}
	return int(n)
}

// numbers reads a list of whole numbers, none of them 0.
func (e *entries) numbers(key, example string) []int {
	v, ok := e.cell(key)
	if !ok {
		return nil
	}
	list, isList := v.([]any)
	var out []int
	for _, item := range list {
		n, ok := item.(int64)
		if !ok || n == 0 || n > maxStrokes || n < -maxStrokes {
			isList = false
			break
		}
		out = append(out, int(n))
	}
	if !isList || len(out) == 0 {
		e.fault(key, fmt.Sprintf("%s is %s", key, describe(v)), "write the numbers of strokes, as in "+example)
		return nil
	}
	return out
}

// word reads one of a list of words; "" where there is none.
func (e *entries) word(key string, choices ...string) string {
	v, ok := e.cell(key)
	if !ok {
		return ""
	}
	s, ok := v.(string)
	if !ok || !slices.Contains(choices, s) {
		remedy := fmt.Sprintf("write %s", strings.Join(choices, " or "))
		if near := nearest.Word(s, choices); ok && near != "" {
			remedy = fmt.Sprintf("did you mean %q?", near)
		}
		e.fault(key, fmt.Sprintf("%s is %s", key, describe(v)), remedy)
		return ""
	}
	return s
}

// words reads a list of texts, or one text for a list of one.
func (e *entries) words(key, example string) []string {
	v, ok := e.cell(key)
	if !ok {
		return nil
	}
	var out []string
	switch v := v.(type) {
	case string:
		out = []string{v}
	case []any:
		for _, item := range v {
			s, ok := item.(string)
			if !ok {
				out = nil
				break
			}
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		e.fault(key, fmt.Sprintf("%s is %s", key, describe(v)), "write it in quotes, as in "+example)
	}
	return out
}
