package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// LetterWish is what the bender asks for one letter: a table [[letter]].
type LetterWish struct {
	Line   int // of the text, from 1
	Letter int // in the line, from 1, spaces not counted
	// Order names strokes in the order they are to be bent, from 1 as the letter
	// has them; a negative number is bent from its end to its start. Strokes left
	// out come where they fit best.
	Order    []int
	Before   string   // "break": starts a new unit; "join": goes on from the letter before
	Double   []int    // strokes that a hidden run must double
	NoDouble []int    // strokes behind which none may run
	Ends     []string // where electrodes stand: "1 start", "2 end"
	Open     string   // where a ring is opened: "top", "bottom", "left" or "right"
}

// Words of the tables.
const (
	Break = "break"
	Join  = "join"
	Start = "start"
	End   = "end"
)

// maxStrokes bounds the numbers of strokes: no letter has as many.
const maxStrokes = 999

// setLetters reads the tables [[letter]].
func (j *Job) setLetters(rows []Row) Errors {
	var wrong Errors
	seen := map[[2]int]Place{}
	for _, r := range rows {
		e := &entries{table: letterTable, row: r}
		w := LetterWish{
			Line:     e.number("line", 1, len(j.Text), 1),
			Letter:   e.number("letter", 1, maxText, 0),
			Order:    e.numbers("order", "order = [2, -1], a negative number for a stroke bent from its end"),
			Before:   e.word("before", Break, Join),
			Double:   e.numbers("double", "double = [2]"),
			NoDouble: e.numbers("no-double", "no-double = [1, 3]"),
			Ends:     e.words("electrode", `electrode = ["1 start", "3 end"]`),
			Open:     e.word("open", "top", "bottom", "left", "right"),
		}
		e.unknown()
		e.checkLetter(j, &w)
		if p, twice := seen[[2]int{w.Line, w.Letter}]; twice && len(e.wrong) == 0 {
			e.fault("letter", fmt.Sprintf("letter %d of line %d has a table already, in line %d of the file", w.Letter, w.Line, p.Line), "put all that is asked of it into one")
		}
		seen[[2]int{w.Line, w.Letter}] = r.Place
		wrong = append(wrong, e.wrong...)
		j.Letters = append(j.Letters, w)
	}
	return wrong
}

// checkLetter holds a wish against the text and against itself.
func (e *entries) checkLetter(j *Job, w *LetterWish) {
	if len(e.wrong) > 0 {
		return
	}
	n := countLetters(j.Text[w.Line-1])
	switch {
	case w.Letter == 0:
		e.fault("letter", "the table does not say which letter it is about", "write its place in the line, spaces not counted, as in letter = 3")
	case w.Letter > n:
		e.fault("letter", fmt.Sprintf("letter %d: line %d of the text, %q, has %d", w.Letter, w.Line, clip(j.Text[w.Line-1]), n), "count from 1, spaces not counted")
	}
	for i, s := range w.Ends {
		number, side, _ := strings.Cut(strings.TrimSpace(s), " ")
		side = strings.TrimSpace(side)
		k, err := strconv.Atoi(number)
		if err != nil || k < 1 || k > maxStrokes || side != Start && side != End {
			e.fault("electrode", fmt.Sprintf("electrode %q", clip(s)), `write the stroke and which end of it, as in "1 start" or "2 end"`)
			continue
		}
		w.Ends[i] = strconv.Itoa(k) + " " + side
	}
	e.positive("double", w.Double)
	e.positive("no-double", w.NoDouble)
	for _, k := range w.Double {
		if slices.Contains(w.NoDouble, k) {
			e.fault("no-double", fmt.Sprintf("stroke %d is under double and under no-double", k), "take it out of one of them")
		}
	}
}

func (e *entries) positive(key string, strokes []int) {
	for _, k := range strokes {
		if k < 0 {
			e.fault(key, fmt.Sprintf("%s names stroke %d", key, k), "only order takes a direction: write the number without its sign")
		}
	}
}

// countLetters counts the characters of a line that are no spaces.
func countLetters(line string) int {
	n := 0
	for _, r := range line {
		if !unicode.IsSpace(r) {
			n++
		}
	}
	return n
}

// CharacterOf returns the index in a line of its k-th letter, from 1, spaces
// not counted; -1 where it has fewer.
func CharacterOf(line string, k int) int {
	for i, r := range []rune(line) {
		if !unicode.IsSpace(r) {
			if k--; k == 0 {
				return i
			}
		}
	}
	return -1
}

// writeLetters writes the tables, or what they could say.
func writeLetters(b *strings.Builder, letters []LetterWish) {
	b.WriteString(`
# The bender's word for one letter: as many tables as wanted, at the end of the file.
# Strokes are numbered from 1 as result.json lists them for the letter.
# [[letter]]
# line = 1                  # of the text
# letter = 2                # in the line, spaces not counted
# order = [2, -1]           # strokes in the order of bending; -1 from its end to its start
# before = "break"          # starts a new unit; "join" goes on from the letter before
# double = [2]              # a hidden run must double this stroke
# no-double = [1]           # and none may run behind this one
# electrode = ["1 start"]   # an electrode stands at this end of the stroke
# open = "top"              # where a ring is opened: top, bottom, left or right
`)
	for _, w := range letters {
		fmt.Fprintf(b, "\n[[letter]]\nline = %d\nletter = %d\n", w.Line, w.Letter)
		writeNumbers(b, "order", w.Order)
		writeWord(b, "before", w.Before)
		writeNumbers(b, "double", w.Double)
		writeNumbers(b, "no-double", w.NoDouble)
		writeWords(b, "electrode", w.Ends)
		writeWord(b, "open", w.Open)
	}
}

func writeNumbers(b *strings.Builder, key string, list []int) {
	if len(list) == 0 {
		return
	}
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n)
	}
	fmt.Fprintf(b, "%s = [%s]\n", key, strings.Join(words, ", "))
}

func writeWord(b *strings.Builder, key, word string) {
	if word != "" {
		fmt.Fprintf(b, "%s = %s\n", key, quoted(word))
	}
}

func writeWords(b *strings.Builder, key string, list []string) {
	if len(list) == 0 {
		return
	}
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = quoted(s)
	}
	fmt.Fprintf(b, "%s = [%s]\n", key, strings.Join(words, ", "))
}
