package fonts

import "unicode"

// plainLetters are what a face is looked at in.
const plainLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"

// mostLetters bounds the letters of a face without Latin ones: a Chinese face
// has tens of thousands.
const mostLetters = 100

// Has reports whether the face has a shape of its own for a character.
func (f *Face) Has(r rune) bool {
	if f.strokes != nil {
		_, ok := f.strokes.Glyph(r)
		return ok
	}
	return f.font.Has(r)
}

// Letters returns what to look at to judge the face: of the Latin letters and
// digits, those that it has; if it has no Latin letters, its first hundred
// letters and digits in the order of Unicode.
func (f *Face) Letters() []string {
	var out []string
	latin := false
	for _, r := range plainLetters {
		if f.Has(r) {
			out = append(out, string(r))
			latin = latin || unicode.IsLetter(r)
		}
	}
	if latin {
		return out
	}
	out = nil
	for _, t := range []*unicode.RangeTable{unicode.L, unicode.Nd} {
		for _, r := range unicodeRange(t) {
			for c := r[0]; c <= r[1] && len(out) < mostLetters; c += r[2] {
				if f.Has(c) {
					out = append(out, string(c))
				}
			}
		}
	}
	return out
}

// unicodeRange lists the ranges of a table: first, last, step.
func unicodeRange(t *unicode.RangeTable) [][3]rune {
	var out [][3]rune
	for _, r := range t.R16 {
		out = append(out, [3]rune{rune(r.Lo), rune(r.Hi), rune(r.Stride)})
	}
	for _, r := range t.R32 {
		out = append(out, [3]rune{rune(r.Lo), rune(r.Hi), rune(r.Stride)})
	}
	return out
}
