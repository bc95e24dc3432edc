package preview

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strings"
)

// labels.csv holds what the page says of itself: a label a line, a language a column.
// A place for a word or figure is %s, numbered where a language turns them round.
//
//go:embed labels.csv
var labelsFile string

// labelsIn returns the labels of a language by their keys, English for one that the
// file does not have.
func labelsIn(language string) map[string]string {
	rows, err := csv.NewReader(strings.NewReader(labelsFile)).ReadAll()
	if err != nil {
		panic(err) // embedded: a test reads it
	}
	column := max(1, slices.Index(rows[0], language))
	out := map[string]string{}
	for _, r := range rows[1:] {
		out[r[0]] = r[column]
	}
	return out
}
