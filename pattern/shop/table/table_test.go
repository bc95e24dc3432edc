package table

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tubewright/pattern/shop/quantity"
)

func TestEveryEmbeddedRowHasGradeAndSource(t *testing.T) {
	set := Embedded()
	if err := set.check(Builtin); err != nil {
		t.Fatal(err)
	}
	for _, tab := range set.Tables() {
		if len(tab.Rows) == 0 {
			t.Errorf("%s has no rows", tab.Name)
		}
		for _, r := range tab.Rows {
			if strings.HasPrefix(r.Grade(), "P") && r.Source() == "" {
				t.Errorf("%s line %d: published, but no source", tab.Name, r.Line)
			}
			if r.Grade() == "own" {
				t.Errorf("%s line %d: an embedded row cannot be a shop's own", tab.Name, r.Line)
			}
		}
	}
}

// A file that was written is known again and reads back to its rows; with one byte
// changed, added or taken away, wherever, it is somebody's own.
func TestAFileIsKnownUntilItIsChanged(t *testing.T) {
	set := Embedded()
	for _, tab := range set.Tables() {
		var b bytes.Buffer
		if err := tab.WriteFile(&b); err != nil {
			t.Fatal(err)
		}
		data := b.Bytes()
		if !IsUntouched(data) {
			t.Errorf("%s is not known again", tab.Name)
		}
		got, err := set.Override(tab.Name, "file", data)
		if err != nil || got.Table(tab.Name).SHA256() != tab.SHA256() {
			t.Errorf("%s does not read back to itself: %v", tab.Name, err)
		}
		for i := 0; i < len(data); i += 1 + len(data)/50 {
			for _, other := range [][]byte{
				slices.Concat(data[:i], []byte{data[i] ^ 1}, data[i+1:]),
				slices.Concat(data[:i], data[i+1:]),
				slices.Concat(data[:i], []byte("x"), data[i:]),
			} {
				if IsUntouched(other) {
					t.Errorf("%s changed at byte %d is known", tab.Name, i)
				}
			}
		}
		if IsUntouched(append(slices.Clone(data), "own,1\n"...)) || IsUntouched(bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))) {
			t.Errorf("%s with another line, or other line ends, is known", tab.Name)
		}
	}
	if IsUntouched(nil) || IsUntouched([]byte(sealMark)) {
		t.Error("nothing is known")
	}
}

// Every source key that a row cites is spelt out in the table of sources.
func TestSourcesAreSpeltOut(t *testing.T) {
	set := Embedded()
	known := set.Table("sources").Keys()
	word := regexp.MustCompile(`\bS[0-9]+`)
	cited := 0
	for _, tab := range set.Tables() {
		for _, r := range tab.Rows {
			for _, k := range word.FindAllString(strings.Join(r.cells, " "), -1) {
				cited++
				if !slices.Contains(known, k) {
					t.Errorf("%s line %d cites %s, which the table of sources does not have", tab.Name, r.Line, k)
				}
			}
		}
	}
	if cited < 200 {
		t.Errorf("%d citations only", cited)
	}
}

// Every amount of money in the program is invented, and says so.
func TestMoneyIsMarkedInvented(t *testing.T) {
	for _, r := range Embedded().Table("prices").Rows {
		if strings.Contains(r.Text("unit"), "money") && (r.Grade() != "invented" || !strings.Contains(r.Text("meaning"), "demo")) {
			t.Errorf("line %d: %s is not marked invented", r.Line, r.Text("setting"))
		}
	}
}

// Written out and laid over the embedded tables, each table is the same again.
func TestTablesReadBack(t *testing.T) {
	set := Embedded()
	for _, tab := range set.Tables() {
		var b bytes.Buffer
		if err := tab.WriteCSV(&b); err != nil {
			t.Fatal(err)
		}
		again, err := set.Override(tab.Name, "own.csv", b.Bytes())
		if err != nil {
			t.Errorf("%s: %v", tab.Name, err)
			continue
		}
		if again.Table(tab.Name).SHA256() != tab.SHA256() {
			t.Errorf("%s changed on the way", tab.Name)
		}
		if !again.Table(tab.Name).Rows[0].IsOwn() || set.Table(tab.Name).Rows[0].IsOwn() {
			t.Errorf("%s: the set that was laid over must stay as it was", tab.Name)
		}
	}
}

func TestOverrideReplacesAndAdds(t *testing.T) {
	own := "setting,value,unit,meaning,source,grade\n# the shop's wage\nhour,75,money/h,bench,,own\n"
	set, err := Embedded().Override("prices", "prices.csv", []byte(own))
	if err != nil {
		t.Fatal(err)
	}
	if got := set.Cell("prices", "hour", quantity.MoneyPerHour); got.Cmp(quantity.Of("75", quantity.MoneyPerHour)) != 0 {
		t.Errorf("the hour costs %s", got.Format(quantity.MoneyPerHour, 2))
	}
	n := len(set.Table("prices").Rows)
	if n != len(Embedded().Table("prices").Rows) {
		t.Errorf("%d rows", n)
	}
	set, err = set.Override("tubes", "tubes.csv", []byte("diameter_mm,wall_mm,use,source,grade\n12,1.1,,,own\n7,1,,,own\n"))
	if err != nil {
		t.Fatal(err)
	}
	if r, ok := set.Table("tubes").Find("7"); !ok || r.Line != 3 || r.File != "tubes.csv" {
		t.Errorf("the added row is %+v", r)
	}
}

func TestBadFilesAreToldByLine(t *testing.T) {
	const h = "setting,value,unit,meaning,source,grade\n"
	const c = "chart,gas,diameter_mm,kv,most,least,source,grade\n"
	for _, tc := range []struct{ name, table, data, want string }{
		{"no number", "prices", h + "hour,many,money/h,,,own\n", `f.csv:2: value: "many" is not a plain decimal number`},
		{"second of three", "prices", h + "hour,1,money/h,,,own\ncorner,-2,min each,,,own\nweld,1,min each,,,own\n", "f.csv:3: value: -2 is out of range"},
		{"grade", "prices", h + "hour,1,money/h,,,sure\n", `f.csv:2: grade: "sure" is none of the choices`},
		{"empty cell", "prices", h + "hour,,money/h,,,own\n", "f.csv:2: value: the cell is empty"},
		{"too few", "prices", h + "hour,1,money/h\n", "f.csv:2: 3 cells where the header has 6"},
		{"twice", "prices", h + "hour,1,money/h,,,own\nhour,2,money/h,,,own\n", "f.csv:3: hour stands on line 2 already"},
		{"other unit", "prices", h + "hour,1,min,,,own\n", `f.csv:2: hour is in "min"; write the figure in "money/h"`},
		{"unknown setting", "prices", h + "hower,1,money/h,,,own\n", `f.csv:2: no setting "hower"`},
		{"header", "prices", "a,b\n1,2\n", "f.csv:1: the header is a,b; it must be setting,value"},
		{"empty", "prices", "", "f.csv: the file is empty"},
		{"share over 100 %", "settings", h + "running-share,183,%,,,own\n", "f.csv:2: running-share: 183 % is out of range; it must be from 1 to 100"},
		{"no density", "settings", h + "mercury-density,0,g/cm³,,,own\n", "f.csv:2: mercury-density: 0 g/cm³ is out of range"},
		{"a cut as long as a stick", "settings", h + "cut-waste,1219,mm,,,own\n", "f.csv:2: cut-waste: 1219 mm is out of range; it must be from 0 to 50"},
		{"band upside down", "settings", h + "pass-low,95,%,,,own\n", "f.csv:2: pass-low of 95 is over pass-high of 90"},
		{"no bore", "tubes", "diameter_mm,wall_mm,use,source,grade\n8,4,,,own\n", "f.csv:2: a wall of 4 mm leaves no bore in a tube of 8 mm"},
		{"electrode", "electrodes", "electrode,name,jacket_mm,least_ma,most_ma,length_least_mm,length_most_mm,source,grade\nx,x,14,60,30,75,90,,own\n", "f.csv:2: electrode x: a least figure is over the most"},
		{"header only of another table", "gases", h, "f.csv:1: the header is setting,value"},
		{"quote", "prices", h + "\"hour,1\n", "f.csv:2: this is not CSV"},
		{"not text", "prices", "\xff\xfe", "f.csv: the file is not UTF-8"},
		{"no gas", "colours", "colour,seen,gas,tint,coating,glass,lumens_per_metre,source,grade\nmauve,mauve,xenon,,,,,,own\n", `f.csv:2: gas: no "xenon" in the table gases`},
		{"misprint", "chart-limits", c + "A,neon,12,6,4.5,,,own\n", "f.csv:2: 6 kV at 12 mm carries 4.5, no more than 6 kV at 10 mm (builtin:17)"},
		{"more volts, less glass", "chart-limits", c + "A,neon,8,6,1.9,,,own\n", "f.csv:2: 6 kV at 8 mm carries 1.9, no more than 5 kV at 8 mm (builtin:6) with 2.0"},
		{"no chart", "chart-limits", c + "mine,neon,12,6,4.5,,,own\n", `f.csv:2: chart: no "mine" in the table charts`},
		{"least over most", "chart-limits", c + "US,neon,12,6,4,5,,own\n", "f.csv:2: the least length is not under the most"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := Embedded().Override(tc.table, "f.csv", []byte(tc.data))
			if err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("got %v, want …%s…", err, tc.want)
			}
			var one Error
			if !errors.As(err, &one) {
				t.Errorf("%T is no table error", err)
			}
		})
	}
}

// The three misprinted cells of chart A are marked as repaired (trade sheet S21,
// second-difference test); all others are as printed.
func TestRepairedCellsAreMarked(t *testing.T) {
	var repaired []string
	for _, r := range Embedded().Table("chart-limits").Rows {
		if r.Grade() == "D" {
			repaired = append(repaired, r.Text("gas")+" "+r.Text("diameter_mm")+" "+r.Text("kv"))
		}
	}
	if want := []string{"neon 8 4", "neon 10 7", "argon 8 6"}; !slices.Equal(repaired, want) {
		t.Errorf("repaired cells %q, want %q", repaired, want)
	}
}

// What a file adds to a table is what is in it: an accepted file read back by
// WriteCSV is accepted again and changes nothing.
func FuzzOverride(f *testing.F) {
	f.Add("prices", []byte("setting,value,unit,meaning,source,grade\nhour,75,money/h,bench,,own\n"))
	f.Add("tubes", []byte("diameter_mm,wall_mm,use,source,grade\n7,1,\"a, b\",,own\n"))
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		set, err := Embedded().Override(name, "f.csv", data)
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := set.Table(name).WriteCSV(&b); err != nil {
			t.Fatal(err)
		}
		again, err := set.Override(name, "g.csv", b.Bytes())
		if err != nil {
			t.Fatalf("accepted, written, refused: %v\n%s", err, b.Bytes())
		}
		if again.Table(name).SHA256() != set.Table(name).SHA256() {
			t.Error("changed on the way")
		}
	})
}
