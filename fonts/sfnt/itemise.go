package sfnt

import (
	"fmt"

	"github.com/go-text/typesetting/language"
	"golang.org/x/text/unicode/bidi"
)

// item is a stretch of text in one direction and one script.
type item struct {
	start, end int // in characters
	level      int // embedding level; odd runs read right to left
	script     language.Script
}

// itemise cuts a line of text into items, in visual order from left to right.
func itemise(text []rune) ([]item, error) {
	levels, err := embeddingLevels(text)
	if err != nil {
		return nil, err
	}
	scripts := scriptsOf(text)
	var items []item
	for i := range text {
		if n := len(items); n > 0 && items[n-1].level == levels[i] && items[n-1].script == scripts[i] {
			items[n-1].end = i + 1
			continue
		}
		items = append(items, item{i, i + 1, levels[i], scripts[i]})
	}
	return visualOrder(items), nil
}

// embeddingLevels returns the level of each character by the Unicode
// Bidirectional Algorithm (UAX #9), for a line without explicit formatting
// characters, whose first strong letter sets its direction (P2, P3).
//
// The library gives directions only. Without explicit formatting they fix the
// level, with one exception. A line that reads right to left has levels 1 and
// 2. One that reads left to right has 1, and for even runs 0, except for
// numbers after right-to-left letters, at 2 (rule I1); markNumbers finds them.
func embeddingLevels(text []rune) ([]int, error) {
	levels := make([]int, len(text))
	if len(text) == 0 {
		return levels, nil
	}
	var p bidi.Paragraph
	if _, err := p.SetString(string(text)); err != nil {
		return nil, fmt.Errorf("text direction: %w", err)
	}
	order, err := p.Order()
	if err != nil {
		return nil, fmt.Errorf("text direction: %w", err)
	}
	even := 0
	if startsRightToLeft(text) {
		even = 2
	}
	for i := range order.NumRuns() {
		run := order.Run(i)
		from, last := run.Pos()
		for k := from; k <= last; k++ {
			levels[k] = even
			if run.Direction() == bidi.RightToLeft {
				levels[k] = 1
			}
		}
	}
	if even == 0 {
		markNumbers(text, levels)
	}
	return levels, nil
}

func classOf(r rune) bidi.Class {
	p, _ := bidi.LookupRune(r)
	return p.Class()
}

// startsRightToLeft reports whether the first strong letter is right-to-left.
func startsRightToLeft(text []rune) bool {
	for _, r := range text {
		switch classOf(r) {
		case bidi.L:
			return false
		case bidi.R, bidi.AL:
			return true
		}
	}
	return false
}

// markNumbers sets level 2 for the numbers of a left-to-right line that rules
// W2 and W7 of UAX #9 keep as numbers: Arabic digits, and European digits
// whose nearest letter before is right-to-left; with the signs that belong to
// them (W4, W5). All of these have level 0 so far, being of even level.
func markNumbers(text []rune, levels []int) {
	afterRTL := false
	for i, r := range text {
		switch classOf(r) {
		case bidi.L:
			afterRTL = false
		case bidi.R, bidi.AL:
			afterRTL = true
		case bidi.AN:
			levels[i] = 2
		case bidi.EN:
			if afterRTL {
				levels[i] = 2
			}
		}
	}
	// A sign between or beside numbers has taken their level if the library
	// left it even: had it not, it would read with the letters around it.
	for i := range text {
		if belongs(text[i]) && levels[i] == 0 && i > 0 && levels[i-1] == 2 {
			levels[i] = 2
		}
	}
	for i := len(text) - 2; i >= 0; i-- {
		if belongs(text[i]) && levels[i] == 0 && levels[i+1] == 2 {
			levels[i] = 2
		}
	}
}

// belongs reports whether a character may be part of a number beside it.
func belongs(r rune) bool {
	switch classOf(r) {
	case bidi.ES, bidi.CS, bidi.ET, bidi.NSM, bidi.BN:
		return true
	}
	return false
}

// visualOrder reverses, from the highest level down to 1, each run of items at
// that level or above (UAX #9, rule L2).
func visualOrder(items []item) []item {
	highest := 0
	for _, it := range items {
		highest = max(highest, it.level)
	}
	for level := highest; level >= 1; level-- {
		for i := 0; i < len(items); i++ {
			j := i
			for j < len(items) && items[j].level >= level {
				j++
			}
			for a, b := i, j-1; a < b; a, b = a+1, b-1 {
				items[a], items[b] = items[b], items[a]
			}
			i = max(i, j-1)
		}
	}
	return items
}

// scriptsOf returns the script of each character. Characters of no script of
// their own (digits, signs, spaces, marks) take that of the character before,
// or at the start of the text, of the first that has one (UAX #24, 5.1). A
// closing bracket takes the script of its opening one.
func scriptsOf(text []rune) []language.Script {
	scripts := make([]language.Script, len(text))
	type open struct {
		closing rune
		script  language.Script
	}
	var brackets []open
	current := language.Common
	for i, r := range text {
		if s := language.LookupScript(r); s.Strong() && s != language.Unknown {
			if current == language.Common {
				for k := range i {
					scripts[k] = s
				}
				for k := range brackets {
					brackets[k].script = s
				}
			}
			current = s
		}
		scripts[i] = current
		if closing, ok := closingOf(r); ok {
			brackets = append(brackets, open{closing, current})
			continue
		}
		for k := len(brackets) - 1; k >= 0; k-- {
			if brackets[k].closing == r {
				current = brackets[k].script
				scripts[i] = current
				brackets = brackets[:k]
				break
			}
		}
	}
	return scripts
}

// closingOf returns the partner of an opening bracket or quotation mark.
func closingOf(r rune) (rune, bool) {
	switch r {
	case '(':
		return ')', true
	case '[':
		return ']', true
	case '{':
		return '}', true
	case '«':
		return '»', true
	case '“':
		return '”', true
	case '‘':
		return '’', true
	case '「':
		return '」', true
	case '『':
		return '』', true
	}
	return 0, false
}

// joins reports whether the letters of a script join, so that they may not be
// moved apart: the scripts that HarfBuzz shapes with its Arabic shaper or
// with joining forms in its universal shaper.
func joins(s language.Script) bool {
	switch s {
	case language.Arabic, language.Syriac, language.Mongolian, language.Nko, language.Mandaic,
		language.Manichaean, language.Psalter_Pahlavi, language.Phags_Pa, language.Adlam,
		language.Hanifi_Rohingya, language.Sogdian, language.Chorasmian:
		return true
	}
	return false
}
