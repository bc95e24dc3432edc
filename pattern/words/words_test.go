package words_test

import (
	"encoding/csv"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tubewright/pattern/sheet"
	"tubewright/pattern/words"
)

func rows(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open("messages.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// places returns the figures a message takes, by their order in the call.
func places(message string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`%(?:\[(\d)\])?([sd%])`).FindAllStringSubmatch(message, -1) {
		if m[2] == "%" {
			continue
		}
		out = append(out, m[1]+m[2])
	}
	slices.Sort(out)
	return out
}

// Every message is there in every language, takes the same figures and is written in
// letters that the sheets' fonts have.
func TestEveryLanguageSaysEverything(t *testing.T) {
	all := rows(t)
	seen := map[string]bool{}
	for _, row := range all[1:] {
		if seen[row[0]] {
			t.Errorf("%s stands twice", row[0])
		}
		seen[row[0]] = true
		for i, say := range row[1:] {
			if strings.TrimSpace(say) == "" {
				t.Errorf("%s says nothing in %s", row[0], all[0][i+1])
			}
			if got, want := places(say), places(row[1]); !slices.Equal(got, want) {
				t.Errorf("%s in %s takes %v, in English %v", row[0], all[0][i+1], got, want)
			}
			if sheet.Printable(say) != say {
				t.Errorf("%s in %s has letters no font has: %s", row[0], all[0][i+1], sheet.Printable(say))
			}
		}
	}
}

func TestLanguages(t *testing.T) {
	if got := words.Languages(); !slices.Equal(got, []string{"en", "de", "es", "ja"}) {
		t.Errorf("languages %v", got)
	}
	for _, tc := range []struct{ language, want string }{{"", "Legend"}, {"de", "Zeichenerklärung"}, {"ES", "Leyenda"}, {"ja", "凡例"}} {
		w, err := words.In(tc.language)
		if err != nil {
			t.Fatal(err)
		}
		if got := w.Say("legend"); got != tc.want {
			t.Errorf("in %q: %q, want %q", tc.language, got, tc.want)
		}
	}
	if _, err := words.In("xx"); err == nil || !strings.Contains(err.Error(), "en, de, es, ja") {
		t.Errorf("an unknown language: %v", err)
	}
	if got := (words.Words{}).Say("stick", 3, "120"); got != "Stick 3: cut 120 mm" {
		t.Errorf("the zero value says %q", got)
	}
}

// German and Spanish write a decimal comma (DIN 1333; Ortografía de la RAE allows both
// and Spain writes the comma), in figures of their own and in findings told from
// English; only what is wholly a figure is touched.
func TestDecimalSign(t *testing.T) {
	for _, tc := range []struct{ language, sign string }{{"en", "."}, {"de", ","}, {"es", ","}, {"ja", "."}} {
		w, err := words.In(tc.language)
		if err != nil {
			t.Fatal(err)
		}
		for got, want := range map[string]string{
			w.Number(12.50, 2): "12.5", w.Number(-0.001, 1): "0", w.Number(1204, 1): "1204",
			w.Fixed(12.5, 2): "12.50", w.Fixed(-0.001, 1): "0.0", w.Fixed(-3.04, 1): "-3.0",
		} {
			if want = strings.Replace(want, ".", tc.sign, 1); got != want {
				t.Errorf("%s: %s, want %s", tc.language, got, want)
			}
		}
		if got, want := w.Tell("the stroke is 12.5 mm longer than drawn: shorter glass cannot turn back at both ends"), strings.Replace("12.5 mm", ".", tc.sign, 1); !strings.Contains(got, want) {
			t.Errorf("%s: %q lacks %s", tc.language, got, want)
		}
		if _, figures, ok := w.Sentence("a gap of v1.2 mm in the light, away from the ends and crossings of the stroke"); !ok || figures[0] != "v1.2" {
			t.Errorf("%s: what is no figure became %q", tc.language, figures)
		}
	}
}
