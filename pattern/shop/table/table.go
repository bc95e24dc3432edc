package table

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"tubewright/pattern/shop/quantity"
)

//go:embed data/*.csv
var files embed.FS

// Row is one row of a table that has passed its checks.
type Row struct {
	File  string // the file it came from: "builtin" where embedded
	Line  int
	cells []string
	names []string
}

// Text returns the cell of a column; it panics where the table has no such column.
func (r Row) Text(column string) string {
	i := slices.Index(r.names, column)
	if i < 0 {
		panic(fmt.Sprintf("table: no column %q", column))
	}
	return r.cells[i]
}

// Has reports whether the cell of a column is filled.
func (r Row) Has(column string) bool { return r.Text(column) != "" }

// Number returns the cell of a decimal column in a unit; it panics where the
// cell is empty: ask Has first where the column is optional.
func (r Row) Number(column string, u quantity.Unit) quantity.Quantity {
	return quantity.Of(r.Text(column), u)
}

// Source and Grade return where the row comes from and how sure it is.
func (r Row) Source() string { return r.Text("source") }
func (r Row) Grade() string  { return r.Text("grade") }

// IsOwn reports whether the row comes from a shop's file.
func (r Row) IsOwn() bool { return r.File != Builtin }

// Builtin is the file name of embedded rows.
const Builtin = "builtin"

// Table is one table, its rows in order.
type Table struct {
	Name, Title string
	Rows        []Row
	schema      schema
}

// Find returns the row with the given key cells.
func (t Table) Find(key ...string) (Row, bool) {
	for _, r := range t.Rows {
		if slices.Equal(r.cells[:t.schema.keys], key) {
			return r, true
		}
	}
	return Row{}, false
}

// Keys returns the first key cell of every row, each once, in order.
func (t Table) Keys() []string {
	var out []string
	for _, r := range t.Rows {
		if !slices.Contains(out, r.cells[0]) {
			out = append(out, r.cells[0])
		}
	}
	return out
}

// header returns the names of the columns.
func (s schema) header() []string {
	var out []string
	for _, c := range s.columns {
		out = append(out, c.name)
	}
	return out
}

// WriteCSV writes the table as a file that Override reads back to the same table.
func (t Table) WriteCSV(w io.Writer) error {
	c := csv.NewWriter(w)
	if err := c.Write(t.schema.header()); err != nil {
		return err
	}
	for _, r := range t.Rows {
		if err := c.Write(r.cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// WriteText writes the table in aligned columns for people.
func (t Table) WriteText(w io.Writer) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	line := func(cells []string) {
		for i, c := range cells {
			if i > 0 {
				fmt.Fprint(tw, "\t")
			}
			if c == "" {
				c = "-"
			}
			fmt.Fprint(tw, c)
		}
		fmt.Fprintln(tw)
	}
	line(t.schema.header())
	for _, r := range t.Rows {
		line(r.cells)
	}
	return tw.Flush()
}

// SHA256 returns the hash of the table as WriteCSV writes it, in hexadecimal.
func (t Table) SHA256() string {
	var b bytes.Buffer
	if err := t.WriteCSV(&b); err != nil {
		panic(err) // a bytes.Buffer takes everything
	}
	sum := sha256.Sum256(b.Bytes())
	return hex.EncodeToString(sum[:])
}

// Set is all tables. It is a value: Override returns another one.
type Set struct{ tables []Table }

// Embedded returns the tables of the program. It panics where an embedded file
// is wrong; a test reads them all.
func Embedded() Set {
	var s Set
	for _, sc := range schemas() {
		data, err := files.ReadFile("data/" + sc.name + ".csv")
		if err != nil {
			panic(err)
		}
		rows, err := sc.read(Builtin, data)
		if err != nil {
			panic(err)
		}
		s.tables = append(s.tables, Table{sc.name, sc.title, rows, sc})
	}
	return s
}

// Tables lists all tables in the order they are shown.
func (s Set) Tables() []Table { return slices.Clone(s.tables) }

// Table returns a table by name; it panics where there is none: names from
// users are checked by Lookup.
func (s Set) Table(name string) Table {
	t, err := s.Lookup(name)
	if err != nil {
		panic(err)
	}
	return t
}

// Lookup returns a table by name.
func (s Set) Lookup(name string) (Table, error) {
	for _, t := range s.tables {
		if t.Name == name {
			return t, nil
		}
	}
	return Table{}, fmt.Errorf("no table %q; the tables are %v", name, Names())
}

// Override lays a shop's file over a table: rows with a known key replace, others
// are added after. The file's name is for errors.
func (s Set) Override(name, file string, data []byte) (Set, error) {
	t, err := s.Lookup(name)
	if err != nil {
		return s, Errors{{File: file, Message: err.Error()}}
	}
	own, err := t.schema.read(file, data)
	if err != nil {
		return s, err
	}
	t.Rows = slices.Clone(t.Rows)
	for _, r := range own {
		i := slices.IndexFunc(t.Rows, func(o Row) bool { return slices.Equal(o.cells[:t.schema.keys], r.cells[:t.schema.keys]) })
		if i >= 0 {
			t.Rows[i] = r
		} else {
			t.Rows = append(t.Rows, r)
		}
	}
	out := Set{slices.Clone(s.tables)}
	out.tables[slices.IndexFunc(s.tables, func(o Table) bool { return o.Name == name })] = t
	return out, out.check(file)
}

// Cell returns the value of a setting in tables of settings (supports, settings,
// prices) in a unit; it panics where there is no such row.
func (s Set) Cell(table, setting string, u quantity.Unit) quantity.Quantity {
	return s.Row(table, setting).Number("value", u)
}

// Row returns the row of a setting; it panics where there is none.
func (s Set) Row(table, setting string) Row {
	r, ok := s.Table(table).Find(setting)
	if !ok {
		panic(fmt.Sprintf("table: no row %q in %s", setting, table))
	}
	return r
}

// Restore returns the set whose tables are the given CSV files and no others: the
// tables of a recorded job, whatever the program's own are by now.
func Restore(files map[string][]byte) (Set, error) {
	var s Set
	for _, sc := range schemas() {
		data, ok := files[sc.name]
		if !ok {
			return Set{}, Errors{{File: sc.name, Message: "the table is missing"}}
		}
		rows, err := sc.read(sc.name, data)
		if err != nil {
			return Set{}, err
		}
		s.tables = append(s.tables, Table{sc.name, sc.title, rows, sc})
	}
	return s, nil
}
