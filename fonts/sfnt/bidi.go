package sfnt

import "golang.org/x/text/unicode/bidi"

// This file puts a line of text in visual order by the Unicode Bidirectional
// Algorithm, UAX #9 (https://www.unicode.org/reports/tr9/); rule names are
// those of its text. A line has no explicit formatting characters, since
// fonts.Shape refuses them, so rules X1 to X8 do not arise and the whole line
// is one isolating run sequence.
//
// The character classes and brackets come from x/text/unicode/bidi. Its own
// Paragraph is not used: it gives directions without levels, which cannot tell
// a number after Hebrew from a Latin word, and it pairs no brackets. On the
// lines of Unicode's BidiCharacterTest.txt without explicit formatting it
// orders 3,830 of 45,790 wrongly; TestBidiConformance demands 0 of this file.

// embeddingLevels returns the level of each character. The first strong
// letter gives the level of the line (P2, P3): 0, or 1 for right to left.
func embeddingLevels(text []rune) []int {
	l := bidiLine{base: bidi.L}
	for i, r := range text {
		if c := classOf(r); c != bidi.BN { // X9: as if they were not there
			l.place = append(l.place, i)
			l.original = append(l.original, c)
			l.runes = append(l.runes, r)
		}
	}
	baseLevel := 0
	for _, c := range l.original {
		if c == bidi.L {
			break
		}
		if c == bidi.R || c == bidi.AL {
			l.base, baseLevel = bidi.R, 1
			break
		}
	}
	l.class = append(l.class, l.original...)
	l.resolveWeak()
	l.resolveBrackets()
	l.resolveNeutral()
	levels := make([]int, len(text))
	for i := range levels {
		levels[i] = -1
	}
	for k, i := range l.place {
		levels[i] = implicitLevel(l.class[k], baseLevel)
	}
	for k := len(l.place) - 1; k >= 0 && l.original[k] == bidi.WS; k-- { // L1
		levels[l.place[k]] = baseLevel
	}
	before := baseLevel
	for i, v := range levels { // characters taken out go with what is before them
		if v < 0 {
			levels[i] = before
		}
		before = levels[i]
	}
	return levels
}

func classOf(r rune) bidi.Class {
	p, _ := bidi.LookupRune(r)
	return p.Class()
}

// implicitLevel is rules I1 and I2.
func implicitLevel(c bidi.Class, base int) int {
	switch {
	case base == 0 && c == bidi.R, base == 1 && c != bidi.R:
		return base + 1
	case c == bidi.AN, c == bidi.EN:
		return 2
	}
	return base
}

// bidiLine is a line while its classes are being resolved.
type bidiLine struct {
	base     bidi.Class // L or R: sos, eos and the embedding direction
	place    []int      // in the text
	runes    []rune
	original []bidi.Class
	class    []bidi.Class
}

// resolveWeak is rules W1 to W7.
func (l *bidiLine) resolveWeak() {
	c := l.class
	previous, strong := l.base, l.base
	for i := range c { // W1, W2
		switch c[i] {
		case bidi.NSM:
			c[i] = previous
		case bidi.L, bidi.R, bidi.AL:
			strong = c[i]
		}
		if c[i] == bidi.EN && strong == bidi.AL {
			c[i] = bidi.AN
		}
		previous = c[i]
	}
	for i := range c { // W3
		if c[i] == bidi.AL {
			c[i] = bidi.R
		}
	}
	for i := 1; i+1 < len(c); i++ { // W4
		between := c[i-1] == c[i+1]
		if between && (c[i] == bidi.CS && (c[i-1] == bidi.EN || c[i-1] == bidi.AN) || c[i] == bidi.ES && c[i-1] == bidi.EN) {
			c[i] = c[i-1]
		}
	}
	for i := 0; i < len(c); i++ { // W5
		j := i
		for j < len(c) && c[j] == bidi.ET {
			j++
		}
		if j > i && (i > 0 && c[i-1] == bidi.EN || j < len(c) && c[j] == bidi.EN) {
			for ; i < j; i++ {
				c[i] = bidi.EN
			}
		}
		i = max(i, j-1)
	}
	strong = l.base
	for i := range c { // W6, W7
		switch c[i] {
		case bidi.ET, bidi.ES, bidi.CS:
			c[i] = bidi.ON
		case bidi.L, bidi.R:
			strong = c[i]
		case bidi.EN:
			if strong == bidi.L {
				c[i] = bidi.L
			}
		}
	}
}

// strongAs returns the direction a class counts as for neutrals beside it: L,
// R, or ON for none (N0 and N1: numbers count as R).
func strongAs(c bidi.Class) bidi.Class {
	switch c {
	case bidi.L:
		return bidi.L
	case bidi.R, bidi.EN, bidi.AN:
		return bidi.R
	}
	return bidi.ON
}

// resolveBrackets is rule N0.
func (l *bidiLine) resolveBrackets() {
	for _, p := range l.bracketPairs() {
		same, opposite := false, false
		for i := p.open + 1; i < p.close; i++ {
			switch strongAs(l.class[i]) {
			case l.base:
				same = true
			case bidi.ON:
			default:
				opposite = true
			}
		}
		switch {
		case same: // N0b
			l.setBracket(p, l.base)
		case opposite: // N0c
			before := l.base
			for i := p.open - 1; i >= 0; i-- {
				if s := strongAs(l.class[i]); s != bidi.ON {
					before = s
					break
				}
			}
			l.setBracket(p, before)
		}
	}
}

// setBracket gives both brackets a direction, and marks on them follow.
func (l *bidiLine) setBracket(p bracketPair, to bidi.Class) {
	for _, i := range []int{p.open, p.close} {
		l.class[i] = to
		for i++; i < len(l.class) && l.original[i] == bidi.NSM; i++ {
			l.class[i] = to
		}
	}
}

type bracketPair struct{ open, close int }

// bracketPairs is definition BD16; the pairs come in order of their opening.
func (l *bidiLine) bracketPairs() []bracketPair {
	const deepest = 63
	closedBy := make([]int, len(l.runes))
	var stack []int
scan:
	for i, r := range l.runes {
		p, _ := bidi.LookupRune(r)
		switch {
		case !p.IsBracket() || l.class[i] != bidi.ON:
		case p.IsOpeningBracket():
			if len(stack) == deepest {
				break scan
			}
			stack = append(stack, i)
		default:
			for k := len(stack) - 1; k >= 0; k-- {
				if canonicalBracket(bidi.ReverseString(string(l.runes[stack[k]]))) == canonicalBracket(string(r)) {
					closedBy[stack[k]] = i
					stack = stack[:k]
					break
				}
			}
		}
	}
	var pairs []bracketPair
	for open, end := range closedBy {
		if end > 0 {
			pairs = append(pairs, bracketPair{open, end})
		}
	}
	return pairs
}

// canonicalBracket maps the one closing bracket that has a canonical
// equivalent, U+232A, to it.
func canonicalBracket(s string) string {
	if s == "\u232A" {
		return "\u3009"
	}
	return s
}

// resolveNeutral is rules N1 and N2.
func (l *bidiLine) resolveNeutral() {
	c := l.class
	before := l.base
	for i := 0; i < len(c); i++ {
		if s := strongAs(c[i]); s != bidi.ON {
			before = s
			continue
		}
		j, after := i, l.base
		for j < len(c) && strongAs(c[j]) == bidi.ON {
			j++
		}
		if j < len(c) {
			after = strongAs(c[j])
		}
		to := l.base
		if before == after {
			to = before
		}
		for ; i < j; i++ {
			c[i] = to
		}
		i--
	}
}

// visualOrder reverses, from the highest level down to 1, each stretch of
// items at that level or above (L2).
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
