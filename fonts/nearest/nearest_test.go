package nearest

import (
	"strings"
	"testing"
)

func TestWord(t *testing.T) {
	keys := []string{"name", "text", "font", "height", "tube", "colour", "letter-spacing", "line-spacing"}
	for _, tc := range []struct{ word, want string }{
		{"heigth", "height"}, {"HEIGHT", "height"}, {"linespacing", "line-spacing"}, {"color", "colour"}, {"weather", ""}, {"", ""}, {"x", ""},
		{strings.Repeat("height", 100), ""},
		{"col", "colour"}, {"lette", "letter-spacing"}, {"Line", "line-spacing"}, {"l", ""},
	} {
		if got := Word(tc.word, keys); got != tc.want {
			t.Errorf("Word(%q) = %q, want %q", tc.word, got, tc.want)
		}
	}
}

// A word cut short is what it begins, before another word of two changes; not where it
// begins two.
func TestWordCutShort(t *testing.T) {
	keys := []string{"leg", "language", "max-unit", "max-piece"}
	for _, tc := range []struct{ word, want string }{{"lang", "language"}, {"lan", "language"}, {"lag", "leg"}, {"max", ""}, {"max-", ""}, {"max-u", "max-unit"}} {
		if got := Word(tc.word, keys); got != tc.want {
			t.Errorf("Word(%q) = %q, want %q", tc.word, got, tc.want)
		}
	}
}

// The textbook pair, and the laws of a metric.
func TestChanges(t *testing.T) {
	if d := Changes("kitten", "sitting"); d != 3 {
		t.Errorf("kitten to sitting: %d, want 3", d)
	}
	words := []string{"", "a", "jura", "jura-light", "vibur", "rowmans", "romans"}
	for _, a := range words {
		for _, b := range words {
			if d := Changes(a, b); d != Changes(b, a) || d == 0 != (a == b) {
				t.Errorf("%q to %q: %d one way, %d the other", a, b, d, Changes(b, a))
			}
		}
	}
}
