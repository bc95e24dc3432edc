// Package words holds what the sheets say, in several languages: one embedded file
// with a message a line and a column a language.
//
// A message may have places for figures, written as fmt has them; a language that
// needs them in another order numbers them: %[2]s. The tests hold that every message
// is there in every language, with the same places, in letters that the sheets'
// fonts have.
package words

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
)

//go:embed messages.csv
var files embed.FS

// Words says messages in one language. The zero value says them in English.
type Words struct {
	language  string
	messages  map[string]string
	sentences map[string]string // keys of findings and remedies by their English
	terms     map[string]string // keys of the words that stand in them
	templates []template        // of findings and remedies with figures
}

// table reads the file. It is part of the program and checked by its tests: an
// error in it is a panic.
func table() [][]string {
	f, err := files.Open("messages.csv")
	if err != nil {
		panic(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	rows, err := r.ReadAll()
	if err != nil {
		panic(err)
	}
	return rows
}

// Languages returns the codes of the languages, English first.
func Languages() []string { return table()[0][1:] }

// In returns the words of a language, by its code.
func In(language string) (Words, error) {
	rows := table()
	if language == "" {
		language = rows[0][1]
	}
	c := slices.Index(rows[0][1:], strings.ToLower(language)) + 1
	if c == 0 {
		return Words{}, fmt.Errorf("unknown language %q; write %s", language, strings.Join(rows[0][1:], ", "))
	}
	w := Words{language: rows[0][c], messages: map[string]string{}}
	for _, row := range rows[1:] {
		w.messages[row[0]] = row[c]
	}
	w.index(rows[1:])
	return w, nil
}

// OrEnglish returns w, the words in English for the zero value: to be called once
// where much is to be said.
func (w Words) OrEnglish() Words {
	if w.messages == nil {
		return English()
	}
	return w
}

// English returns the words in English.
func English() Words {
	w, err := In("")
	if err != nil {
		panic(err)
	}
	return w
}

// Language returns the code of the language.
func (w Words) Language() string {
	if w.messages == nil {
		return "en"
	}
	return w.language
}

// Say returns a message with its figures. It panics for a key that the file does not
// have: a mistake in the program.
func (w Words) Say(key string, figures ...any) string {
	w = w.OrEnglish()
	m, ok := w.messages[key]
	if !ok {
		panic("words: no message " + key)
	}
	if len(figures) == 0 {
		return m
	}
	return fmt.Sprintf(m, figures...)
}

// Has reports whether there is a message.
func (w Words) Has(key string) bool {
	w = w.OrEnglish()
	_, ok := w.messages[key]
	return ok
}
