package sfnt

import (
	"bufio"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/unicode/bidi"
)

// explicit reports whether a line holds characters that fonts.Shape refuses:
// explicit formatting, line and paragraph ends, tabs.
func explicit(text []rune) bool {
	return slices.ContainsFunc(text, func(r rune) bool {
		c := classOf(r)
		return r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || c == bidi.B || c == bidi.S
	})
}

// TestBidiConformance runs the levels and the order against Unicode's own
// cases: an extract, or the file that TUBEWRIGHT_BIDI names (the outside check
// names the whole of BidiCharacterTest.txt).
func TestBidiConformance(t *testing.T) {
	path, atLeast := "testdata/BidiCharacterTest-extract.txt", 300
	if whole := os.Getenv("TUBEWRIGHT_BIDI"); whole != "" {
		path, atLeast = whole, 45_000
	}
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	run := 0
	for s := bufio.NewScanner(file); s.Scan(); {
		line, _, _ := strings.Cut(s.Text(), "#")
		if strings.TrimSpace(line) == "" {
			continue
		}
		f := strings.Split(line, ";")
		var text []rune
		for _, code := range strings.Fields(f[0]) {
			r, err := strconv.ParseUint(code, 16, 32)
			if err != nil {
				t.Fatal(err)
			}
			text = append(text, rune(r))
		}
		// Only the direction found from the text is offered (field 1 is 2), so
		// of the lines with a stated one those apply that state the same.
		if explicit(text) || f[1] != "2" && f[1] != f[2] || f[1] != "2" && firstStrong(text) != f[2] {
			continue
		}
		run++
		if levels, order := conform(text, strings.Fields(f[3])); levels != f[3] || order != f[4] {
			t.Errorf("%s: levels %s in order %s, want %s in order %s", f[0], levels, order, f[3], f[4])
		}
	}
	if run < atLeast {
		t.Errorf("%d cases of %s apply, expected at least %d", run, path, atLeast)
	}
	t.Logf("%d cases of %s", run, path)
}

func firstStrong(text []rune) string {
	for _, r := range text {
		switch classOf(r) {
		case bidi.L:
			return "0"
		case bidi.R, bidi.AL:
			return "1"
		}
	}
	return "0"
}

// conform writes levels and visual order as the file does, leaving out what
// the file leaves out.
func conform(text []rune, want []string) (levels, order string) {
	var shown, places []string
	var items []item
	for i, v := range embeddingLevels(text) {
		items = append(items, item{start: i, end: i + 1, level: v})
		if want[i] == "x" {
			shown = append(shown, "x")
		} else {
			shown = append(shown, strconv.Itoa(v))
		}
	}
	for _, it := range visualOrder(items) {
		if want[it.start] != "x" {
			places = append(places, strconv.Itoa(it.start))
		}
	}
	return strings.Join(shown, " "), strings.Join(places, " ")
}

// TestItemise has runs cut by hand after UAX #9 and UAX #24. Capitals stand
// for the runs' scripts, < and > for their directions; runs are in visual order.
func TestItemise(t *testing.T) {
	for _, tc := range []struct{ name, text, want string }{
		{"one script", "Rye & Salt", "Latn>Rye & Salt"},
		{"signs before letters", "24 Rye", "Latn>24 Rye"},
		{"no script at all", "24/7", "Zyyy>24/7"},
		{"three scripts", "Rye αλάτι хлеб", "Latn>Rye |Grek>αλάτι |Cyrl>хлеб"},
		{"brackets keep their script", "Rye (хлеб) Salt", "Latn>Rye (|Cyrl>хлеб|Latn>) Salt"},
		{"Arabic", "خبز", "Arab<خبز"},
		{"Arabic with a number", "خبز 24", "Arab>24|Arab<خبز "},
		{"Latin inside Hebrew", "לחם Rye מלח", "Hebr<מלח|Latn< |Latn>Rye|Hebr<לחם "},
		{"Hebrew inside Latin", "Rye לחם Salt", "Latn>Rye |Hebr<לחם|Hebr> |Latn>Salt"},
		{"a number after Hebrew in a Latin line", "Rye לחם 24 מלח", "Latn>Rye |Hebr< מלח|Hebr>24|Hebr<לחם "},
		{"empty", "", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			text := []rune(tc.text)
			var got []string
			for _, it := range itemise(text) {
				direction := ">"
				if it.level%2 == 1 {
					direction = "<"
				}
				got = append(got, fmt.Sprint(it.script, direction, string(text[it.start:it.end])))
			}
			if s := strings.Join(got, "|"); s != tc.want {
				t.Errorf("got %s, want %s", s, tc.want)
			}
		})
	}
}

// FuzzItemise: whatever the text, each character is in one run.
func FuzzItemise(f *testing.F) {
	f.Add("Rye (לחם 24) & خبز٢٤، パン")
	f.Add("((((]\u0301\u200f1-2")
	f.Fuzz(func(t *testing.T, s string) {
		text := []rune(s)
		if len(text) > 500 {
			t.Skip()
		}
		seen := make([]int, len(text))
		for _, it := range itemise(text) {
			for i := it.start; i < it.end; i++ {
				seen[i]++
			}
			if it.level < 0 || it.level > 2 {
				t.Errorf("%q: level %d", s, it.level)
			}
		}
		for i, n := range seen {
			if n != 1 {
				t.Errorf("%q: character %d is in %d runs", s, i, n)
			}
		}
	})
}

func TestParseFeature(t *testing.T) {
	for _, tc := range []struct {
		in    string
		value uint32
		ok    bool
	}{
		{"ss01", 1, true}, {"+liga", 1, true}, {"-liga", 0, true}, {"salt=2", 2, true}, {"kern=0", 0, true},
		{"", 0, false}, {"-", 0, false}, {"lig", 0, false}, {"ligat", 0, false}, {"--liga", 0, false},
		{"salt=", 0, false}, {"salt=-1", 0, false}, {"-salt=1", 0, false}, {"no such", 0, false}, {"äö", 0, false},
	} {
		f, ok := parseFeature(tc.in)
		if ok != tc.ok || f.Value != tc.value {
			t.Errorf("%q: value %d, %v; want %d, %v", tc.in, f.Value, ok, tc.value, tc.ok)
		}
	}
}
