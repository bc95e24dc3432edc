package sfnt

import "github.com/go-text/typesetting/language"

// item is a stretch of text in one direction and one script.
type item struct {
	start, end int // in characters
	level      int // embedding level; odd runs read right to left
	script     language.Script
}

// itemise cuts a line of text into items, in visual order from left to right.
func itemise(text []rune) []item {
	levels, scripts := embeddingLevels(text), scriptsOf(text)
	var items []item
	for i := range text {
		if n := len(items); n > 0 && items[n-1].level == levels[i] && items[n-1].script == scripts[i] {
			items[n-1].end = i + 1
			continue
		}
		items = append(items, item{i, i + 1, levels[i], scripts[i]})
	}
	return visualOrder(items)
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
