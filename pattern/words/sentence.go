package words

import (
	"regexp"
	"strings"
)

// template is an English message with places for figures, as a pattern that finds
// those figures in a finished sentence.
type template struct {
	key string
	is  *regexp.Regexp
}

// The findings of a pattern and their remedies are made in English, deep in the
// geometry. Their messages and those of the words that stand in them have these
// keys.
var sentenceKeys, wordKeys = []string{"f.", "r."}, []string{"kind.", "reason.", "t."}

func hasPrefix(key string, of []string) bool {
	for _, p := range of {
		if strings.HasPrefix(key, p) {
			return true
		}
	}
	return false
}

// index lists the English sentences by which messages can be found.
func (w *Words) index(rows [][]string) {
	w.sentences, w.terms = map[string]string{}, map[string]string{}
	for _, row := range rows {
		switch key, english := row[0], row[1]; {
		case hasPrefix(key, wordKeys):
			w.terms[english] = key
		case !hasPrefix(key, sentenceKeys):
		case strings.Contains(english, "%s"):
			parts := strings.Split(english, "%s")
			for i := range parts {
				parts[i] = regexp.QuoteMeta(parts[i])
			}
			w.templates = append(w.templates, template{key, regexp.MustCompile("^" + strings.Join(parts, "(.+?)") + "$")})
		default:
			w.sentences[english] = key
		}
	}
}

// Sentence finds the message of an English finding or remedy, and its figures in the
// order in which Say takes them, as the language of w writes them, and those that are
// words of their own in it. It is false where the file has none.
func (w Words) Sentence(english string) (key string, figures []string, ok bool) {
	w = w.OrEnglish()
	if key, ok = w.sentences[english]; ok {
		return key, nil, true
	}
	for _, t := range w.templates {
		m := t.is.FindStringSubmatch(english)
		if m == nil {
			continue
		}
		for _, f := range m[1:] {
			if term, ok := w.terms[f]; ok {
				f = w.messages[term]
			}
			figures = append(figures, w.figure(f))
		}
		return t.key, figures, true
	}
	return "", nil, false
}

// Term returns an English word of a finding or of the shop's tables in the language of
// w, as it is where the file has none: a shop's own tables speak its own language.
func (w Words) Term(english string) string {
	w = w.OrEnglish()
	if key, ok := w.terms[english]; ok {
		return w.messages[key]
	}
	return english
}

// Tell returns an English finding or remedy in the language of w, as it is where the
// file has no message for it.
func (w Words) Tell(english string) string {
	key, figures, ok := w.Sentence(english)
	if !ok {
		return english
	}
	return w.SayStrings(key, figures)
}

// SayStrings is Say for figures that are texts already.
func (w Words) SayStrings(key string, figures []string) string {
	any := make([]any, len(figures))
	for i, f := range figures {
		any[i] = f
	}
	return w.Say(key, any...)
}
