package preview

import (
	"encoding/csv"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tubewright/pattern/words"
)

// Every label is there in every language of the sheets, with the same places for
// words and figures, and every label that the page's script asks for is there.
func TestLabels(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(labelsFile)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rows[0][1:], words.Languages()) {
		t.Errorf("languages %v, the sheets have %v", rows[0][1:], words.Languages())
	}
	place := regexp.MustCompile(`%(\[\d\])?s`)
	for _, r := range rows[1:] {
		for i, say := range r[1:] {
			if strings.TrimSpace(say) == "" || len(place.FindAllString(say, -1)) != len(place.FindAllString(r[1], -1)) {
				t.Errorf("%s in %s: %q", r[0], rows[0][i+1], say)
			}
		}
	}
	asked := regexp.MustCompile(`\b[a-zA-Z]{1,2}\("([a-z0-9]+(?:-[a-z0-9]+)+)"`)
	labels, n := labelsIn("ja"), 0
	for _, m := range asked.FindAllStringSubmatch(script, -1) {
		if strings.HasPrefix(m[1], "k-") || strings.HasPrefix(m[1], "s-") || strings.HasPrefix(m[1], "t-") {
			n++
			if labels[m[1]] == "" {
				t.Errorf("no label %s", m[1])
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d labels found in the script", n)
	}
	if labelsIn("xx")["view"] != "View" {
		t.Error("an unknown language is not English")
	}
}
