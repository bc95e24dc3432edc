package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"tubewright/pattern/shop/quantity"
)

// Bounds of a table file: the largest embedded one has some 5 kB and 80 rows.
const (
	maxBytes = 1 << 20
	maxRows  = 5000
	maxCell  = 400 // bytes
)

// read parses and checks a file of the schema. Lines that start with # are
// comments. It returns all that is wrong, by line.
func (s schema) read(file string, data []byte) ([]Row, error) {
	whole := func(msg, remedy string) error { return Errors{{File: file, Message: msg, Remedy: remedy}} }
	switch {
	case len(data) > maxBytes:
		return nil, whole(fmt.Sprintf("the file has %d bytes, a table at most %d", len(data), maxBytes), "split it")
	case !utf8.Valid(data):
		return nil, whole("the file is not UTF-8 text", "save it as CSV in UTF-8")
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord, r.Comment = -1, '#'
	var rows []Row
	var wrong Errors
	header := false
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var pe *csv.ParseError
		if errors.As(err, &pe) {
			return nil, append(wrong, Error{file, pe.Line, "this is not CSV: " + pe.Err.Error(), "put a cell with a comma or a quote in quotes"})
		}
		if err != nil {
			return nil, whole(err.Error(), "")
		}
		line, _ := r.FieldPos(0)
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if !header {
			header = true
			if !slices.Equal(cells, s.header()) {
				return nil, Errors{{file, line, fmt.Sprintf("the header is %s", clip(strings.Join(cells, ","))), "it must be " + strings.Join(s.header(), ",")}}
			}
			continue
		}
		if len(rows) == maxRows {
			return nil, append(wrong, Error{file, line, fmt.Sprintf("more than %d rows", maxRows), "split it"})
		}
		if e := s.row(cells, rows); e != nil {
			e.File, e.Line = file, line
			wrong = append(wrong, *e)
			continue
		}
		rows = append(rows, Row{file, line, cells, s.header()})
	}
	if !header {
		return nil, whole("the file is empty", "its first line must be "+strings.Join(s.header(), ","))
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return rows, nil
}

// row checks one row against its columns and the rows before it.
func (s schema) row(cells []string, before []Row) *Error {
	if len(cells) != len(s.columns) {
		return &Error{Message: fmt.Sprintf("%d cells where the header has %d", len(cells), len(s.columns)), Remedy: "put a cell with a comma in quotes, and leave no cell out"}
	}
	for i, c := range s.columns {
		if e := c.check(cells[i]); e != nil {
			return e
		}
	}
	for _, r := range before {
		if slices.Equal(r.cells[:s.keys], cells[:s.keys]) {
			return &Error{Message: fmt.Sprintf("%s stands on line %d already", strings.Join(cells[:s.keys], " "), r.Line), Remedy: "take one of the rows out"}
		}
	}
	return nil
}

func (c column) check(cell string) *Error {
	wrong := func(remedy, format string, args ...any) *Error {
		return &Error{Message: c.name + ": " + fmt.Sprintf(format, args...), Remedy: remedy}
	}
	if cell == "" {
		if c.optional {
			return nil
		}
		return wrong("fill it in", "the cell is empty")
	}
	if len(cell) > maxCell || strings.ContainsFunc(cell, unicode.IsControl) {
		return wrong(fmt.Sprintf("write one line of at most %d bytes", maxCell), "%q is too long or holds control characters", clip(cell))
	}
	switch c.kind {
	case decimal:
		q, err := quantity.Parse(cell, quantity.One)
		if err != nil {
			return wrong("", "%v", err)
		}
		if v := q.Float(quantity.One); !(v >= c.low && v <= c.high) {
			return wrong(fmt.Sprintf("it must be from %g to %g", c.low, c.high), "%s is out of range", clip(cell))
		}
	case yesNo:
		if cell != "yes" && cell != "no" {
			return wrong("write yes or no", "%q", clip(cell))
		}
	case choice:
		if !slices.Contains(c.choices, cell) {
			return wrong("write "+strings.Join(c.choices, ", "), "%q is none of the choices", clip(cell))
		}
	}
	return nil
}

// clip shortens what a user wrote for a message of one line.
func clip(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// check holds the tables against each other after an override.
func (s Set) check(file string) error {
	var wrong Errors
	refer := func(table, column, target string) {
		for _, r := range s.Table(table).Rows {
			if r.File == file && r.Has(column) && !slices.Contains(s.Table(target).Keys(), r.Text(column)) {
				wrong = append(wrong, Error{r.File, r.Line, fmt.Sprintf("%s: no %q in the table %s", column, clip(r.Text(column)), target),
					"write one of " + strings.Join(s.Table(target).Keys(), ", ")})
			}
		}
	}
	refer("colours", "gas", "gases")
	refer("colours", "glass", "glasses")
	refer("chart-limits", "chart", "charts")
	refer("chart-factors", "chart", "charts")
	refer("places", "chart", "charts")
	wrong = append(wrong, s.checkUnits(file)...)
	wrong = append(wrong, s.checkLimits(file)...)
	wrong = append(wrong, s.checkRanges(file)...)
	if len(wrong) > 0 {
		return wrong
	}
	return nil
}

// checkUnits refuses a setting whose unit was changed or that nothing reads: its
// number would be read in another unit than the shop meant.
func (s Set) checkUnits(file string) Errors {
	var wrong Errors
	base := Embedded()
	for _, name := range []string{"supports", "settings", "prices"} {
		for _, r := range s.Table(name).Rows {
			if r.File != file {
				continue
			}
			was, ok := base.Table(name).Find(r.cells[0])
			switch {
			case !ok:
				wrong = append(wrong, Error{r.File, r.Line, fmt.Sprintf("no setting %q in the table %s", clip(r.cells[0]), name),
					"the settings are " + strings.Join(base.Table(name).Keys(), ", ")})
			case was.Text("unit") != r.Text("unit"):
				wrong = append(wrong, Error{r.File, r.Line, fmt.Sprintf("%s is in %q", r.cells[0], clip(r.Text("unit"))),
					fmt.Sprintf("write the figure in %q", was.Text("unit"))})
			}
		}
	}
	return wrong
}

// checkLimits refuses a chart that cannot be: more volts must carry more glass,
// and a wider tube at least as much as a narrow one.
func (s Set) checkLimits(file string) Errors {
	var wrong Errors
	rows := s.Table("chart-limits").Rows
	num := func(r Row, c string) float64 { return r.Number(c, quantity.One).Float(quantity.One) }
	for _, r := range rows {
		if r.File != file {
			continue
		}
		if r.Has("least") && num(r, "least") >= num(r, "most") {
			wrong = append(wrong, Error{r.File, r.Line, "the least length is not under the most", "look at the chart again"})
		}
		for _, o := range rows {
			if o.Text("chart") != r.Text("chart") || o.Text("gas") != r.Text("gas") {
				continue
			}
			dk, dd, dl := num(r, "kv")-num(o, "kv"), num(r, "diameter_mm")-num(o, "diameter_mm"), num(r, "most")-num(o, "most")
			if dd == 0 && dk > 0 && dl <= 0 || dk == 0 && dd > 0 && dl < 0 {
				wrong = append(wrong, Error{r.File, r.Line, fmt.Sprintf("%s kV at %s mm carries %s, no more than %s kV at %s mm (%s:%d) with %s",
					r.Text("kv"), r.Text("diameter_mm"), r.Text("most"), o.Text("kv"), o.Text("diameter_mm"), o.File, o.Line, o.Text("most")),
					"more volts or a wider tube carry more: look for the misprint"})
				break
			}
		}
	}
	return wrong
}
