package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"tubewright/fonts/nearest"
	"tubewright/pattern/shop/table"

	"github.com/spf13/pflag"
)

// maxTable is the most bytes of a table file.
const maxTable = 1 << 20

// tables lists the shop's reference tables, prints one, or writes them all as
// files for the shop to change.
func (c *console) tables(args []string) (int, error) {
	out, shop := "", ""
	o, err := parse("tables", args, nil, func(fs *pflag.FlagSet, o *options) {
		fs.StringVar(&o.format, "format", "text", "")
		fs.StringVar(&out, "out", "", "")
		fs.StringVar(&shop, "shop-tables", "", "")
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	if err := oneOf("format", o.format, "text", "csv"); err != nil {
		return 0, err
	}
	if len(o.args) > 1 {
		return 0, usagef("tables takes one name, not %d (%s)", len(o.args), strings.Join(o.args, ", "))
	}
	set, err := readTables(shop)
	if err != nil {
		return 0, err
	}
	list := set.Tables()
	if len(o.args) == 1 {
		t, err := findTable(set, o.args[0])
		if err != nil {
			return 0, err
		}
		list = []table.Table{t}
	}
	switch {
	case out != "":
		return statusClean, c.writeTables(out, list, o.force)
	case len(o.args) == 1 && o.format == "csv":
		return statusClean, list[0].WriteCSV(c.out)
	case len(o.args) == 1:
		return statusClean, list[0].WriteText(c.out)
	}
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "NAME\tROWS\tWHAT")
	for _, t := range list {
		fmt.Fprintf(w, "%s\t%d\t%s\n", t.Name, len(t.Rows), t.Title)
	}
	return statusClean, w.Flush()
}

func findTable(set table.Set, name string) (table.Table, error) {
	t, err := set.Lookup(name)
	if err == nil {
		return t, nil
	}
	if near := nearest.Word(name, table.Names()); near != "" {
		return t, usagef("no table %q; did you mean %q?", name, near)
	}
	return t, usagef("no table %q; the tables are %s", name, strings.Join(table.Names(), ", "))
}

// writeTables writes each table as NAME.csv into a folder, all or none. A table that
// stands there as tubewright wrote it is replaced; one that the shop changed is not.
func (c *console) writeTables(dir string, list []table.Table, force bool) error {
	var out []file
	for _, t := range list {
		var b bytes.Buffer
		if err := t.WriteFile(&b); err != nil {
			return err
		}
		name := t.Name + ".csv"
		out = append(out, file{name, b.Bytes(), untouched(filepath.Join(dir, name))})
	}
	if err := writeFiles(dir, out, force); err != nil {
		return err
	}
	for _, f := range out {
		c.say("wrote %s", filepath.Join(dir, f.name))
	}
	return nil
}

// untouched returns the whole of a table file that nobody changed, as the mark by which
// it is known, else "".
func untouched(path string) string {
	f, err := os.Open(path)
	if err != nil {
		return "" // what stands there is told by writeFiles
	}
	defer f.Close()
	data, err := readBounded(f, path, maxTable)
	if err != nil || !table.IsUntouched(data) {
		return ""
	}
	return string(data)
}

// readTables returns the embedded tables with the shop's own rows over them: the
// files of the folder that are named after a table. "" is no folder.
func readTables(dir string) (table.Set, error) {
	set := table.Embedded()
	if dir == "" {
		return set, nil
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return set, fmt.Errorf("shop tables: %w; tubewright tables --out %s writes a set to start from", err, dir)
	}
	if err := onlyTables(dir, entries); err != nil {
		return set, err
	}
	for _, name := range table.Names() {
		path := filepath.Join(dir, name+".csv")
		f, err := os.Open(path)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return set, fmt.Errorf("shop tables: %w", err)
		}
		data, err := readBounded(f, path, maxTable)
		f.Close()
		if err != nil {
			return set, err
		}
		if set, err = set.Override(name, path, data); err != nil {
			return set, err
		}
	}
	return set, nil
}

// onlyTables refuses a CSV file that no table is read from: most likely its name
// is misspelt, and its rows would be missed without a word.
func onlyTables(dir string, entries []fs.DirEntry) error {
	for _, e := range entries {
		name, isCSV := strings.CutSuffix(e.Name(), ".csv")
		if !isCSV || e.IsDir() {
			continue
		}
		if _, err := findTable(table.Embedded(), name); err != nil {
			return fmt.Errorf("%s: %w", filepath.Join(dir, e.Name()), err)
		}
	}
	return nil
}
