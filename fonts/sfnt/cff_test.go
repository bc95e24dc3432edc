package sfnt

import (
	"slices"
	"strings"
	"testing"
)

// TestMeterCountsAsDrawn: in the CFF faces every glyph is metered to its end,
// and takes at least one operator for each contour and one to end.
func TestMeterCountsAsDrawn(t *testing.T) {
	for _, path := range outlineFaces {
		data := read(t, path)
		dir, err := readDirectory(data)
		if err != nil {
			t.Fatal(err)
		}
		table := dir.find("CFF ")
		if table == nil {
			continue
		}
		c, err := readCFF(table)
		if err != nil {
			t.Fatal(err)
		}
		f := mustParse(t, data)
		if len(c.glyphs) != f.NumGlyphs() {
			t.Fatalf("%s: %d charstrings, %d glyphs", path, len(c.glyphs), f.NumGlyphs())
		}
		for i := range c.glyphs {
			n, err := c.operators(i)
			if err != nil {
				t.Errorf("%s glyph %d: %v", path, i, err)
			}
			o, err := f.Outline(uint32(i))
			if err != nil {
				t.Fatal(err)
			}
			if n < len(o)+1 {
				t.Errorf("%s glyph %d: %d contours in %d operators", path, i, len(o), n)
			}
		}
	}
}

// TestReadIndex has INDEXes written by hand after note 5176, section 5.
func TestReadIndex(t *testing.T) {
	for _, tc := range []struct {
		name string
		data string
		want []string // nil for an error
		end  int
	}{
		{"empty", "\x00\x00rest", []string{}, 2},
		{"two items", "\x00\x02\x01\x01\x03\x04abcrest", []string{"ab", "c"}, 9},
		{"two-byte offsets", "\x00\x01\x02\x00\x01\x00\x03xy", []string{"xy"}, 9},
		{"cut off", "\x00", nil, 0},
		{"no offsets", "\x00\x02\x01\x01", nil, 0},
		{"offset size 5", "\x00\x01\x05\x01\x02\x00\x00\x00\x00\x00\x00\x00\x00", nil, 0},
		{"backwards", "\x00\x02\x01\x03\x01\x04abc", nil, 0},
		{"offset 0", "\x00\x01\x01\x00\x02a", nil, 0},
		{"past the end", "\x00\x01\x01\x01\x09a", nil, 0},
	} {
		items, end, err := readIndex([]byte(tc.data), 0)
		var got []string
		for _, item := range items {
			got = append(got, string(item))
		}
		if err == nil != (tc.want != nil) || err == nil && (!slices.Equal(got, tc.want) || end != tc.end) {
			t.Errorf("%s: %q to byte %d, %v; want %q to %d", tc.name, got, end, err, tc.want, tc.end)
		}
	}
}

// TestReadSelect has both formats of FDSelect by hand after section 19.
func TestReadSelect(t *testing.T) {
	list := "\xFF\x00" + "\x02\x00\x01"                                         // format 0
	ranges := "\xFF\x03\x00\x02" + "\x00\x00\x05" + "\x00\x02\x07" + "\x00\x03" // format 3
	for _, tc := range []struct {
		name, data string
		want       []int
	}{{"list", list, []int{2, 0, 1}}, {"ranges", ranges, []int{5, 5, 7}}} {
		dictOf, err := readSelect([]byte(tc.data), 1)
		if err != nil {
			t.Fatal(err)
		}
		for glyph, want := range tc.want {
			if got := dictOf(glyph); got != want {
				t.Errorf("%s: glyph %d has dict %d, want %d", tc.name, glyph, got, want)
			}
		}
	}
	if _, err := readSelect([]byte("\xFF\x09\x00\x00\x00"), 1); err == nil || !strings.Contains(err.Error(), "unknown format 9") {
		t.Errorf("format 9: %v", err)
	}
	if _, err := readSelect([]byte("\xFF\x03\x00\x09\x00"), 1); err == nil {
		t.Error("nine ranges in no bytes were read")
	}
}
